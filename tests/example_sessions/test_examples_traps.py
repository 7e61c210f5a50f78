"""Each small session shows what its name says, and is clean in every other respect."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest

from mixlint.rulebook.house_file import StandardFile

FOLDER = Path(__file__).resolve().parents[2] / "example_sessions"
TRAPS = ("voice-and-one-guitar", "left-centre-right", "mono-release", "cue-sends", "parallel-compression", "drum-kit")


def _channels(stem: str) -> dict[str, dict[str, Any]]:
    text = (FOLDER / f"{stem}.session.json").read_text(encoding="utf-8")
    return {channel["id"]: channel for channel in json.loads(text)["channels"]}


@pytest.mark.parametrize("stem", TRAPS)
def test_nothing_else_is_amiss(stem: str) -> None:
    """No mute, no solo, wet returns with a low cut, one mix bus that everything but a cue mix puts out to."""
    channels = _channels(stem)
    assert not any(c.get("mute") or c.get("solo") for c in channels.values())
    assert [c["id"] for c in channels.values() if c["kind"] == "master"] == ["mix-bus"]
    nowhere = {c["id"] for c in channels.values() if c.get("output", "missing") is None}
    assert nowhere == {"mix-bus"} | ({"phones"} if stem == "cue-sends" else set())
    effects = [c for c in channels.values() if any(i["kind"] == "reverb" for i in c.get("inserts", []))]
    assert effects
    for channel in effects:
        reverb, cut = channel["inserts"]
        assert reverb["wet"] == 100.0
        assert cut["equalizer"]["bands"][0]["freq_hz"] == 150.0


def test_one_guitar_is_panned_and_alone() -> None:
    channels = _channels("voice-and-one-guitar")
    assert [c["name"] for c in channels.values() if c.get("clips")] == ["Lead Vocal", "Acoustic Gtr"]
    assert channels["guitar"]["pan"] == -35.0
    assert channels["hall"]["pan"] == 35.0


def test_left_centre_right_uses_three_places_only() -> None:
    channels = _channels("left-centre-right")
    assert {c.get("pan", 0.0) for c in channels.values()} == {-100.0, 0.0, 100.0}
    assert channels["gtr"]["fader_db"] == channels["organ"]["fader_db"]


def test_the_mono_release_has_one_place_and_parts_with_one_leg() -> None:
    channels = _channels("mono-release")
    assert {c.get("pan", 0.0) for c in channels.values()} == {0.0}
    assert {c["legs"] for c in channels.values() if c["id"] != "mix-bus"} == {1}
    assert {"Acoustic Gtr L", "Acoustic Gtr R"} <= {c["name"] for c in channels.values()}


def test_cue_sends_are_pre_fader_and_the_effects_sends_are_not() -> None:
    channels = _channels("cue-sends")
    taps = {(s["to"], s.get("tap", "post")) for c in channels.values() for s in c.get("sends", [])}
    assert taps == {("phones", "pre"), ("hall", "post")}


def test_the_kit_reaches_the_mix_bus_twice() -> None:
    channels = _channels("parallel-compression")
    assert channels["drums"]["output"] == channels["crush"]["output"] == "mix-bus"
    assert [s["to"] for s in channels["drums"]["sends"]] == ["crush"]
    assert [i["kind"] for i in channels["crush"]["inserts"]] == ["compressor"]


@pytest.mark.parametrize("stem", TRAPS)
def test_the_standard_beside_it_states_one_intent(stem: str) -> None:
    """It is a valid standard file with the session's name, and names only channels that are there."""
    written = tomllib.loads((FOLDER / f"{stem}.standard.toml").read_text(encoding="utf-8"))
    file = StandardFile.model_validate(written)
    assert file.name == stem
    assert file.intent.note
    meant = {key: value for key, value in written["intent"].items() if key != "note"}
    assert meant in (
        {},
        {"single_instrument": True},
        {"hard_panned": True},
        {"mono": True},
        {"cue": ["Singer Phones"]},
        {"parallel": ["Drum Crush"]},
    )
    names = {channel["name"] for channel in _channels(stem).values()}
    assert names >= {*file.intent.cue, *file.intent.parallel}
