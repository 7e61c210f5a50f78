"""What is heard in the mix and what never belongs there: clicks, keys, prints. Common practice, no source."""

from __future__ import annotations

from typing import Any

import pytest

from mixlint.session import Automation, Channel, Clip, Unknown
from tests.facts.small_sessions import ask, bus, context, mix, send, track, value

DOWN = -200.0


def fader(*points: tuple[float, float]) -> Automation:
    times, levels = zip(*points, strict=True)
    return Automation.model_validate({"target": "fader", "scale": "dB", "t": times, "v": levels})


@pytest.mark.parametrize(
    ("click", "others", "heard"),
    [
        ({}, (), True),
        ({"mute": True}, (), False),
        ({"fader_db": DOWN}, (), False),
        ({"fader_db": DOWN, "automation": (fader((0.0, DOWN), (4.0, -6.0)),)}, (), True),
        ({"output": "Perc"}, (bus("Perc"),), True),
        ({"output": "Perc"}, (bus("Perc", mute=True),), False),
        ({"output": "Perc"}, (bus("Perc", fader_db=DOWN),), False),
        ({"output": None, "sends": (send("Perc"),), "fader_db": DOWN}, (bus("Perc"),), False),
        ({"output": None, "sends": (send("Perc", tap="pre"),), "fader_db": DOWN}, (bus("Perc"),), True),
        ({"output": "Outs"}, (bus("Outs", output=None),), False),
        ({"fader_db": Unknown(unknown="not in the export")}, (), True),
    ],
)
def test_a_click_is_heard_where_no_mute_and_no_fader_stops_it(
    click: dict[str, Any], others: tuple[Channel, ...], heard: bool
) -> None:
    at = context(track("Click", **click), track("Vox"), *others, mix())
    assert value(at, "channel", "Click", "heard") is heard


def test_it_is_open_whether_a_click_of_unknown_output_is_heard() -> None:
    at = context(track("Click", output=Unknown(unknown="the export gives no output")), mix())
    assert isinstance(ask(at, "channel", "Click", "heard"), Unknown)


def test_what_a_click_or_a_cue_mix_alone_feeds_is_not_of_the_song() -> None:
    at = context(
        track("Click", output="Outs 3-4"),
        track("Vox", sends=(send("Cue Mix"),)),
        track("Bass", output="Outs 5-6"),
        bus("Cue Mix", output="Outs 3-4"),
        bus("Outs 3-4", output=None),
        bus("Outs 5-6", output=None),
        Channel(id="Mix", name="Mix Bus", kind="master", output="Recorder"),
        Channel(id="Recorder", name="Recorder", kind="track", output=None),
    )
    of_the_song = {c: value(at, "channel", c, "of_the_song") for c in ("Outs 3-4", "Outs 5-6", "Recorder", "Mix Bus")}
    assert of_the_song == {"Outs 3-4": False, "Outs 5-6": True, "Recorder": False, "Mix Bus": True}


NOTES = (Clip(start_s=0.0, end_s=60.0, plays="notes"),)


@pytest.mark.parametrize(
    ("source", "print_name", "of"),
    [
        (track("Pad"), "Pad print", "Pad"),
        (track("Pad"), "Pad (bounce) 2", "Pad"),
        (track("Pad"), "Frozen Pad", "Pad"),
        (track("Pad"), "Pad audio", "none"),  # audio beside audio says nothing
        (track("Pad", clips=NOTES), "Pad audio", "Pad"),
        (track("Pad MIDI", clips=NOTES), "Pad audio", "Pad MIDI"),
        (bus("Pads"), "Pads stem", "Pads"),
        (bus("Drum Bus"), "Drums Bounce", "Drum Bus"),
        (track("Lead Vox"), "Lead Vox tuned print", "Lead Vox"),
        (track("Electric Gtr 1"), "Electric Gtr 2 print", "none"),
        (track("Electric Gtr"), "Electric Gtr R print", "none"),
        (track("Backing Vox"), "Lead Vox print", "none"),
        (track("Bass"), "Pad print", "none"),
        (track("Click"), "Click print", "none"),
    ],
)
def test_a_print_is_of_the_channel_whose_name_it_bears(source: Channel, print_name: str, of: str) -> None:
    at = context(source, track("Vox", output="Pads" if source.id == "Pads" else "Mix"), track(print_name), mix())
    assert value(at, "track", print_name, "print_of") == of


def test_a_print_heard_through_the_group_it_was_taken_from_is_no_second_sound() -> None:
    drums = (bus("Drums"), track("Drums print", output="Drums"))
    muted = context(track("Kick", output="Drums", mute=True), *drums, mix())
    assert value(muted, "track", "Drums print", "beside_its_source") is False
    open_ = context(track("Kick", output="Drums"), *drums, mix())
    assert value(open_, "track", "Drums print", "beside_its_source") is True


@pytest.mark.parametrize(
    ("muted", "other", "spare"),
    [
        ("Pad print", track("Pad"), True),
        ("Pad", track("Pad print"), True),
        ("Pad", track("Pad print", mute=True), False),
        ("Gtr DI", track("Gtr Amp"), True),
        ("Bass DI", track("Bass Amp"), False),
        ("Bass Amp", track("Bass DI"), False),
        ("Gtr DI", track("Gtr Amp", mute=True), False),
        ("Bass DI", track("Gtr Amp"), False),
    ],
)
def test_a_mute_is_meant_where_the_same_sound_plays_from_elsewhere(muted: str, other: Channel, spare: bool) -> None:
    assert value(context(track(muted, mute=True), other, mix()), "channel", muted, "spare") is spare
