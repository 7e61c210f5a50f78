"""Figures at the ends of what a double holds: each is refused with its key, or goes through every command."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from mixlint.cli.app import app
from mixlint.errors import MixlintError
from mixlint.facts import SessionContext
from mixlint.facts.channel_sheet import sheet
from mixlint.importers.native import parse
from mixlint.review import review
from mixlint.routing.trace import trace
from mixlint.rulebook import load_standard
from mixlint.session import Session

pytestmark = pytest.mark.slow

EXTREMES = (1e308, -1e308, 1e-308, 1e15, 1e6, 0, -1)


def everything_known() -> dict[str, Any]:
    """A session in which every number of the form is given."""
    lane = {"scale": "dB", "shape": "linear", "t": [0.0, 9.0], "v": [-3.0, -6.0]}
    equalizer = {
        "bands": [
            {"kind": "high-pass", "freq_hz": 120.0, "q": 0.7, "slope_db_per_oct": 12.0},
            {"kind": "bell", "freq_hz": 900.0, "gain_db": 3.0, "q": 1.4},
        ],
        "input_gain_db": 1.0,
        "output_gain_db": -1.0,
    }
    times = {"attack_ms": 5.0, "release_ms": 90.0, "knee_db": 6.0, "range_db": -20.0}
    dynamics = {"threshold_db": -18.0, "ratio": 3.0, **times, "input_gain_db": 1.0, "output_gain_db": 2.0}
    clip = {"start_s": 0.0, "end_s": 30.0, "file": "v.wav", "offset_s": 0.5, "speed": 1.1}
    hall = [
        {"name": "Tide EQ", "kind": "equalizer", "opaque": False, "equalizer": equalizer},
        {"name": "Stair Well", "kind": "reverb", "wet": 100.0, "pre_delay_ms": 20.0},
    ]
    return {
        "format": "mixlint-session/1",
        "sample_rate_hz": 48000.0,
        "timeline": {
            "tempos": [{"bpm": 96.0, "ramp": True}, {"beat": 16.0, "bpm": 120.0}],
            "meters": [{"beats": 4, "unit": 4}, {"beat": 16.0, "beats": 3, "unit": 4}],
        },
        "markers": [{"time_s": 4.0, "name": "Verse"}],
        "channels": [
            {
                "id": "voice",
                "name": "Lead Vocal",
                "kind": "track",
                "legs": 1,
                "fader_db": -3.0,
                "pan": -40.0,
                "output": "mix",
                "clips": [{**clip, "fade_in_s": 0.1, "fade_out_s": 0.1, "gain_db": -2.0}],
                "sends": [{"to": "hall", "level_db": -12.0, "pan": 10.0}],
                "inserts": [{"name": "Weir", "kind": "compressor", "opaque": False, "dynamics": dynamics}],
                "automation": [
                    {"target": "fader", **lane},
                    {"target": "pan", "scale": "pan", "t": [1.0], "v": [30.0]},
                    {"target": "send:0:level", "scale": "amplitude", "t": [1.0, 2.0], "v": [0.5, 0.25]},
                ],
            },
            {"id": "hall", "name": "Hall", "kind": "return", "legs": 2, "output": "mix", "inserts": hall},
            {"id": "mix", "name": "Mix Bus", "kind": "master", "legs": 2, "output": None},
        ],
        "media": [{"id": "v.wav", "path": "v.wav", "legs": 1, "sample_rate_hz": 44100.0, "duration_s": 40.0}],
    }


def numbers(part: Any, way: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The way to every number in a document."""
    inner = part.items() if isinstance(part, dict) else enumerate(part) if isinstance(part, list) else ()
    for key, value in inner:
        if isinstance(value, int | float):
            yield (*way, key)
        else:
            yield from numbers(value, (*way, key))


def read_or_refused(body: dict[str, Any]) -> Session | str:
    """The session, or what is said against it."""
    try:
        return parse(json.dumps(body), "song.json")
    except MixlintError as refusal:
        return refusal.what


WAYS = list(numbers(everything_known()))


@pytest.mark.parametrize("way", WAYS, ids=lambda way: ".".join(map(str, way)))
def test_an_extreme_figure_is_refused_or_goes_through(way: tuple[Any, ...]) -> None:
    standard = load_standard()
    for extreme in EXTREMES:
        body = copy.deepcopy(everything_known())
        place: Any = body
        for key in way[:-1]:
            place = place[key]
        place[way[-1]] = extreme
        session = read_or_refused(body)
        if isinstance(session, str):
            key = str(way[-2] if isinstance(way[-1], int) else way[-1])
            assert key in session or any(
                word in session for word in ("must", "ends at", "times", "values", "a time of")
            )
            continue
        context = SessionContext(session, standard.house)
        review(context, standard, source="song.json", digest="").model_dump_json()
        sheet(context).model_dump_json()
        trace(context.routing, "voice", 1000.0).model_dump_json()


@pytest.mark.parametrize(
    ("key", "value"), [("fader_db", 1e308), ("pan", 300), ("mute", "false"), ("fader_db", "-3"), ("legs", True)]
)
def test_what_the_schema_refuses_is_refused(key: str, value: object, tmp_path: Path) -> None:
    """As a validator of JSON Schema would (2020-12, 6.1.1 ``type``, 6.2 ``minimum`` and ``maximum``)."""
    body = everything_known()
    body["channels"][0][key] = value
    path = tmp_path / "song.json"
    path.write_text(json.dumps(body), encoding="utf-8")
    result = CliRunner().invoke(app, ["review", str(path)])
    assert result.exit_code == 2
    assert f"channels[0].{key}: " in result.stderr
