"""The table ``lane``: what a control kept before its last move, and how far from that it ends.

Every expected number is arithmetic on the points of the lane and the clips beside it.
"""

from __future__ import annotations

from math import log2

import pytest

from mixlint.facts import House
from mixlint.session import Automation, Channel, Clip, Equalizer, EqualizerBand, Insert, Unknown
from tests.facts.small_sessions import ask, bus, context, mix, send, track, value


def lane(target: str, scale: str, *points: tuple[float, float], shape: str = "hold") -> Automation:
    times, values = zip(*points, strict=True)
    return Automation(target=target, scale=scale, shape=shape, t=times, v=values)


def equalizer(kind: str, hz: float) -> Insert:
    band = EqualizerBand(kind=kind, freq_hz=hz)
    return Insert(name="Desk EQ", kind="equalizer", opaque=False, equalizer=Equalizer(bands=(band,)))


def asked(channel: Channel, of: str, fact: str, *more: Channel, house: House | None = None):
    return value(context(channel, *more, mix(), house=house), "lane", f"{channel.name}: {of}", fact)


@pytest.mark.parametrize(
    ("points", "off"),
    [
        ([(0.0, -40.0), (40.0, 10.0)], 50.0),
        ([(0.0, -40.0), (40.0, 10.0), (60.0, -40.0)], 0.0),  # it comes back
        ([(0.0, -40.0), (20.0, 10.0), (40.0, -40.0), (60.0, 10.0)], 0.0),  # it recurs
        ([(0.0, -40.0), (20.0, 10.0), (24.0, -40.0), (60.0, 10.0)], 50.0),  # 4 s before were no stay
        ([(0.0, -40.0), (20.0, 30.0), (40.0, -10.0)], 30.0),  # from the nearest of two
    ],
)
def test_a_pan_is_off_what_it_kept(points, off):
    channel = track("Gtr", at=(0.0, 100.0), automation=(lane("pan", "pan", *points),))
    assert asked(channel, "pan", "ends_off_pan") == pytest.approx(off)
    assert asked(channel, "pan", "kept_before") is (off == 0.0)


def test_only_time_that_sounds_makes_a_stay():
    """It stands at −40 for 40 s, of which clips sound for 7 s: too little to be kept, and no middle either."""
    clips = (Clip(start_s=33.0, end_s=100.0),)
    channel = track("Gtr", clips=clips, automation=(lane("pan", "pan", (0.0, -40.0), (40.0, 10.0)),))
    assert asked(channel, "pan", "ends_off_pan") == 0.0
    assert asked(channel, "pan", "before_percent") == pytest.approx(700.0 / 67.0)
    shorter = House(settings={"automation.least_stay": 6.0})
    assert asked(channel, "pan", "ends_off_pan", house=shorter) == pytest.approx(50.0)


def test_what_never_rests_is_measured_from_the_middle_of_its_moves():
    """A sweep from −60 to +60 and back every 8 s lies around 0."""
    points = [(4.0 * n, 60.0 if n % 2 else -60.0) for n in range(11)]
    channel = track("Synth", at=(0.0, 100.0), automation=(lane("pan", "pan", *points, (44.0, 60.0), shape="linear"),))
    assert asked(channel, "pan", "ends_off_pan") == pytest.approx(60.0, abs=2.0)


def test_a_throw_left_open_early_is_over_what_it_kept_however_long_it_stays_open():
    """−30 dB for 20 of 100 s, then −8 dB for 80 s: the middle of the song's time would be −8 dB."""
    opened = lane("send:0:level", "dB", (0.0, -30.0), (20.0, -8.0))
    channel = track("Vocal", at=(0.0, 100.0), sends=(send("Echo", -30.0),), automation=(opened,))
    echo = bus("Echo", kind="return")
    assert asked(channel, "send to Echo, level", "ends_over_db", echo) == pytest.approx(22.0)
    assert asked(channel, "send to Echo, level", "ends_under_db", echo) == 0.0


def test_levels_written_as_amplitudes_are_compared_in_decibels():
    """From 0.5 to 0.1 is 20 log10 5 = 13.98 dB down."""
    closed = lane("send:0:level", "amplitude", (0.0, 0.5), (40.0, 0.1))
    channel = track("Vocal", at=(0.0, 100.0), sends=(send("Echo"),), automation=(closed,))
    found = asked(channel, "send to Echo, level", "ends_under_db", bus("Echo", kind="return"))
    assert found == pytest.approx(13.979, abs=0.001)


def test_filters_are_compared_in_octaves():
    cut = lane("insert:0:band:1:freq", "plain", (0.0, 80.0), (40.0, 20.0))
    channel = track("Vocal", at=(0.0, 100.0), inserts=(equalizer("high-pass", 80.0),), automation=(cut,))
    of = "Desk EQ, low cut frequency"
    assert asked(channel, of, "moves_a") == "low-cut"
    assert asked(channel, of, "ends_octaves_under") == pytest.approx(2.0)
    assert asked(channel, of, "ends_octaves_over") == 0.0
    assert (asked(channel, of, "kept_hz"), asked(channel, of, "ends_at_hz")) == (80.0, 20.0)
    high = track("Pad", at=(0.0, 100.0), inserts=(equalizer("low-pass", 9000.0),), automation=(
        lane("insert:0:band:1:freq", "plain", (0.0, 9000.0), (40.0, 400.0)),))  # fmt: skip
    of = "Desk EQ, high cut frequency"
    assert asked(high, of, "moves_a") == "high-cut"
    assert asked(high, of, "ends_octaves_under") == pytest.approx(log2(9000.0 / 400.0))


def test_a_filter_that_nearly_comes_back_has_come_back():
    """82 Hz against 80 Hz is 0.036 octaves."""
    cut = lane("insert:0:band:1:freq", "plain", (0.0, 80.0), (40.0, 300.0), (60.0, 82.0))
    channel = track("Vocal", at=(0.0, 100.0), inserts=(equalizer("high-pass", 80.0),), automation=(cut,))
    assert asked(channel, "Desk EQ, low cut frequency", "kept_before") is True


@pytest.mark.parametrize(
    ("target", "name", "kind"),
    [
        ("fader", "fader", "fader"),
        ("mute", "mute", "mute"),
        ("send:0:on", "send to Echo, switch", "send-switch"),
        ("send:0:pan", "send to Echo, pan", "pan"),
        ("insert:0:on", "Desk EQ, switch", "processor-switch"),
        ("insert:0:wet", "Desk EQ, wet share", "wet"),
        ("insert:0:band:1:on", "Desk EQ, band 1 switch", "filter-switch"),
        ("insert:0:band:1:gain", "Desk EQ, band 1 gain", "equalizer-gain"),
        ("insert:0:band:1:q", "Desk EQ, band 1 Q", "other"),
        ("insert:0:outputgain", "Desk EQ, outputgain", "gain"),
        ("insert:0:4711", "Desk EQ, 4711", "other"),
        ("knob", "knob", "other"),
    ],
)
def test_what_a_control_does(target, name, kind):
    channel = track(
        "Vocal",
        sends=(send("Echo"),),
        inserts=(equalizer("bell", 900.0),),
        automation=(lane(target, "plain", (0.0, 0.0), (30.0, 1.0)),),
    )
    assert asked(channel, name, "moves_a", bus("Echo", kind="return")) == kind


def test_the_last_move_in_words():
    inserts = (equalizer("high-pass", 80.0), Insert(name="Tidewater Delay", wet=10.0))
    lanes = (
        lane("insert:0:band:1:on", "switch", (0.0, 1.0), (40.0, 0.0)),
        lane("insert:1:wet", "plain", (0.0, 10.0), (40.0, 60.0)),
        lane("send:0:level", "dB", (0.0, -200.0), (40.0, -6.0)),
        lane("mute", "switch", (0.0, 0.0), (40.0, 1.0)),
    )
    channel = track("Vocal", at=(0.0, 100.0), sends=(send("Echo"),), inserts=inserts, automation=lanes)
    echo = bus("Echo", kind="return")
    said = {
        "Desk EQ, low cut switch": "goes off",
        "Tidewater Delay, wet share": "goes from 10 % to 60 %",
        "send to Echo, level": "goes from −∞ dB to −6 dB",
        "mute": "goes on",
    }
    assert {of: asked(channel, of, "last_move_text", echo) for of in said} == said


def test_a_like_part_that_begins_there_is_named():
    moved = lane("pan", "pan", (0.0, 0.0), (40.0, -40.0))
    first = track("Gtr 1", at=(0.0, 100.0), automation=(moved,))
    second, voice = track("Gtr 2", at=(41.0, 100.0)), track("Lead Vocal", at=(40.0, 100.0))
    at = context(first, second, voice, mix())
    assert value(at, "lane", "Gtr 1: pan", "like_part_turns") is True
    assert ask(at, "lane", "Gtr 1: pan", "like_part_turns").note == "Gtr 2"
    assert value(context(first, voice, mix()), "lane", "Gtr 1: pan", "like_part_turns") is False
    nearer = House(settings={"automation.with_part": 0.5})
    assert value(context(first, second, mix(), house=nearer), "lane", "Gtr 1: pan", "like_part_turns") is False


def test_figures_of_no_known_unit_leave_it_open():
    channel = track("Gtr", automation=(lane("pan", "unknown", (0.0, 0.0), (30.0, 1.0)),))
    found = ask(context(channel, mix()), "lane", "Gtr: pan", "ends_off_pan")
    assert isinstance(found, Unknown)
    assert "unit" in found.unknown


def test_clips_that_begin_after_the_last_move_of_the_mix_bus():
    clips = (Clip(start_s=0.0, end_s=60.0), Clip(start_s=80.0, end_s=100.0), Clip(start_s=90.0, end_s=95.0, on=False))
    faded = lane("fader", "dB", (0.0, 0.0), (50.0, 0.0), (60.0, -200.0), shape="linear")
    at = context(track("Vocal", clips=clips), mix(automation=(faded,)))
    assert value(at, "lane", "Mix Bus: fader", "clips_begin_after") == 1
    assert value(at, "lane", "Mix Bus: fader", "strip") == "mix-bus"
