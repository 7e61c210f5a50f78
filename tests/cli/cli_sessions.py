"""Small invented sessions on disk, for the tests of the command line."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

Run = Callable[..., "subprocess.CompletedProcess[bytes]"]


def session_body(**changes: Any) -> dict[str, Any]:
    """A session in the neutral form that nothing holds: one voice, one wholly wet hall, a mix bus."""
    return {
        "format": "mixlint-session/1",
        "title": "Lamp Song",
        "timeline": {"tempos": [{"bpm": 96.0}]},
        "channels": [
            {
                "id": "voice",
                "name": "Lead Vocal",
                "kind": "track",
                "legs": 1,
                "plays": ["audio"],
                "output": "mix",
                "clips": [{"start_s": 0.0, "end_s": 60.0, "plays": "audio"}],
                "sends": [{"to": "hall", "level_db": -12.0}],
            },
            {
                "id": "hall",
                "name": "Hall",
                "kind": "return",
                "legs": 2,
                "output": "mix",
                "inserts": [
                    {
                        "name": "Tide EQ",
                        "kind": "equalizer",
                        "opaque": False,
                        "equalizer": {"bands": [{"kind": "high-pass", "freq_hz": 200.0, "slope_db_per_oct": 12.0}]},
                    },
                    {"name": "Stair Well", "kind": "reverb", "wet": 100.0},
                ],
            },
            {"id": "mix", "name": "Mix Bus", "kind": "master", "legs": 2, "output": None},
        ],
        **changes,
    }


def write_session(path: Path, **changes: Any) -> Path:
    """Write that session, changed, to ``path``."""
    path.write_text(json.dumps(session_body(**changes)), encoding="utf-8")
    return path


def half_wet(body: dict[str, Any]) -> dict[str, Any]:
    """The same session with its hall half wet, which the shipped checklist holds."""
    body["channels"][1]["inserts"][1]["wet"] = 50.0
    return body


RULE = """
id = "voice-named"
title = "A voice has a name"
area = "prep"
grade = "note"
over = "channel"
must = { name = { is_not = "" } }
says = "{channel} has no name."
remedy = "Name it."
why = "A name is found."
basis = { kind = "common practice" }

[[example]]
name = "a name"
expect = "clear"
channels = [{ id = "v", name = "Voice", kind = "track" }]
"""
"""A rule of a house, in a file called ``voice-named.toml``."""
