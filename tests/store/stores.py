"""Stores for the tests: small sessions reviewed in this process and kept, as the command does."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from mixlint.rulebook import load_standard
from mixlint.runs.check import Review, check
from mixlint.runs.storing import Asked, Storing
from mixlint.store.kept import Kept

TOP = Path(__file__).resolve().parents[2]
EXAMPLES = TOP / "example_sessions"
FLAWED = EXAMPLES / "sixpenny-weathervane-flawed.session.json"

HOUSE = """\
name = "lamp-house"
takes = ["return-fully-wet", "return-low-cut", "nothing-soloed", "reaches-mix-bus", "no-feedback-loop"]
"""


def body(title: str = "Lamp Song", *, wet: float = 100.0, solo: bool = False, **more: Any) -> dict[str, Any]:
    """One voice, one hall and a mix bus; held where the hall is not wholly wet or the voice is soloed."""
    voice = {
        "id": "voice", "name": "Lead Vocal", "kind": "track", "legs": 1, "plays": ["audio"], "output": "mix",
        "solo": solo, "clips": [{"start_s": 0.0, "end_s": 60.0, "plays": "audio"}],
        "sends": [{"to": "hall", "level_db": -12.0}],
    }  # fmt: skip
    low_cut = {"bands": [{"kind": "high-pass", "freq_hz": 200.0, "slope_db_per_oct": 12.0}]}
    hall = {
        "id": "hall", "name": "Hall", "kind": "return", "legs": 2, "output": "mix",
        "inserts": [
            {"name": "Tide EQ", "kind": "equalizer", "opaque": False, "equalizer": low_cut},
            {"name": "Stair Well", "kind": "reverb", "wet": wet},
        ],
    }  # fmt: skip
    mix = {"id": "mix", "name": "Mix Bus", "kind": "master", "legs": 2, "output": None}
    return {"format": "mixlint-session/1", "title": title, "channels": [voice, hall, mix], **more}


def write(path: Path, made: dict[str, Any]) -> Path:
    """A session file."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(json.dumps(made), encoding="utf-8")
    return path


def keep(store: Path, *paths: Path, asked: Asked | None = None, standard: Any = None, **arguments: Any) -> list[Review]:
    """Review sessions without their audio in one run and keep them."""
    storing = Storing(store, asked or Asked(audio=False))
    made = []
    for path in paths:
        rules = standard or load_standard(None, path)
        made.append(check(path, standard=rules, audio=False, keep=True, **arguments))
        storing.add(path, made[-1].result, kept_of(made[-1]), rules)
    storing.write()
    assert storing.fault is None
    return made


def kept_of(made: Review) -> Kept:
    """What is kept beside a review."""
    assert made.kept is not None
    return made.kept


def files(store: Path, kind: str) -> list[Path]:
    """The Parquet files of one kind."""
    return sorted((store / kind).glob("*/*.parquet"))
