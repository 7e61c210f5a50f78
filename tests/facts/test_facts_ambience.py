"""Ambience per part: how wet, from which side, and what low end it keeps."""

from __future__ import annotations

import pytest

from mixlint.session import Automation, Equalizer, EqualizerBand, Insert
from tests.facts.small_sessions import ask, bus, context, mix, reverb, send, track, value


def test_wetness_is_the_send_level_under_unity_gains():
    """A part on both legs with a wholly wet return at the same gains: ambience stands at the send level."""
    at = context(
        track("Keys", legs=2, sends=(send("Plate", -12.0),)), bus("Plate", kind="return", inserts=(reverb(),)), mix()
    )
    assert value(at, "source", "Keys", "wet_db") == pytest.approx(-12.0, abs=1e-6)


def test_ambience_panned_to_the_other_side_comes_from_there():
    at = context(
        track("Gtr L", pan=-50.0, sends=(send("Verb"),)),
        bus("Verb", kind="return", pan=60.0, inserts=(reverb(),)),
        mix(),
    )
    # Balance at 60 right leaves the left leg at 0.4: 20 log10 0.4 = −7.96 dB.
    assert value(at, "source", "Gtr L", "ambience_imbalance_db") == pytest.approx(-7.959, abs=1e-3)


def test_a_filter_on_the_part_is_no_low_cut_of_its_ambience():
    cut = Insert(
        name="Filter",
        kind="equalizer",
        equalizer=Equalizer(bands=(EqualizerBand(kind="high-pass", freq_hz=150.0, slope_db_per_oct=12.0),)),
    )
    plate = bus("Plate", kind="return", inserts=(reverb(),))
    on_part = context(track("Vox", inserts=(cut,), sends=(send("Plate"),)), plate, mix())
    assert value(on_part, "source", "Vox", "ambience_low_cut_db") == pytest.approx(0.0, abs=1e-6)
    on_return = context(
        track("Vox", sends=(send("Plate"),)), plate.model_copy(update={"inserts": (cut, reverb())}), mix()
    )
    assert value(on_return, "source", "Vox", "ambience_low_cut_db") == pytest.approx(16.03, abs=0.05)


def test_a_part_without_ambience_says_so():
    at = context(track("Vox"), mix())
    assert value(at, "source", "Vox", "has_ambience") is False


def test_the_extremes_of_an_automated_fader_are_given():
    ride = Automation(target="fader", scale="dB", shape="linear", t=(0.0, 20.0, 30.0, 60.0), v=(0.0, 0.0, 9.5, 0.0))
    at = context(track("Vox", automation=(ride,)), mix())
    said = ask(at, "channel", "Vox", "fader_highest_db")
    assert said.value == pytest.approx(9.5, abs=1e-6)
    assert said.where.startswith("bar")  # the peak at 30 s is bar 16 at 120 bpm
    assert value(at, "channel", "Vox", "fader_lowest_db") == pytest.approx(0.0, abs=1e-6)


def test_automation_while_nothing_plays_does_not_count():
    ride = Automation(target="fader", scale="dB", t=(0.0, 30.0), v=(0.0, 12.0))
    at = context(track("Vox", at=(0.0, 20.0), automation=(ride,)), track("Gtr"), mix())
    assert value(at, "channel", "Vox", "fader_highest_db") == pytest.approx(0.0, abs=1e-6)


def test_a_mute_that_automation_never_opens_while_the_part_plays_is_a_mute():
    late = Automation(target="mute", scale="switch", t=(0.0, 60.0), v=(1.0, 0.0))
    at = context(track("Vox", at=(0.0, 50.0), mute=True, automation=(late,)), track("Gtr", at=(0.0, 90.0)), mix())
    assert value(at, "channel", "Vox", "muted") is True
    assert "0 % of its playing time" in ask(at, "channel", "Vox", "muted").note


def test_the_extremes_of_an_automated_pan_are_given():
    sweep = Automation(target="pan", scale="pan", shape="linear", t=(0.0, 60.0), v=(-80.0, 40.0))
    at = context(track("Pad", at=(0.0, 60.0), automation=(sweep,)), mix())
    assert value(at, "channel", "Pad", "pan_leftmost") == pytest.approx(-80.0, abs=1.0)
    assert value(at, "channel", "Pad", "pan_rightmost") == pytest.approx(40.0, abs=1.0)


def test_gains_are_followed_through_every_stage_of_the_song():
    """A ride of −6 dB on the group and −3 dB on the part meet in the second half: −9 dB there."""
    own = Automation(target="fader", scale="dB", t=(0.0, 30.0), v=(0.0, -3.0))
    group = Automation(target="fader", scale="dB", t=(0.0, 30.0), v=(0.0, -6.0))
    at = context(track("Keys", output="Music", legs=2, automation=(own,)), bus("Music", automation=(group,)), mix())
    high, low = ask(at, "source", "Keys", "gain_highest_db"), ask(at, "source", "Keys", "gain_lowest_db")
    assert high.value - low.value == pytest.approx(9.0, abs=1e-9)
    assert high.where == "bars 1 to 15, 0:00.0 to 0:30.0"  # 30 s at 120 bpm are fifteen bars of four
    assert low.where == "bars 16 to 30, 0:30.0 to 1:00.0"


def test_a_throw_is_the_wettest_stretch():
    throw = Automation(target="send:0:level", scale="dB", t=(0.0, 40.0, 44.0), v=(-30.0, 0.0, -30.0))
    keys = track("Keys", legs=2, sends=(send("Plate", -30.0),), automation=(throw,))
    at = context(keys, bus("Plate", kind="return", inserts=(reverb(),)), mix())
    wettest = ask(at, "source", "Keys", "wettest_db")
    assert wettest.value == pytest.approx(0.0, abs=1e-9)
    assert wettest.where.endswith("0:40.0 to 0:44.0")
    assert value(at, "source", "Keys", "driest_db") == pytest.approx(-30.0, abs=1e-9)
