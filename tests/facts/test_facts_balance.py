"""The stereo balance at the mix bus: over the song, in stretches, and who causes it."""

from __future__ import annotations

import pytest

from mixlint.session import Automation, Unknown
from tests.facts.small_sessions import ask, bus, context, mix, reverb, send, track, value

SONG = "Harrow Gate"


def test_like_guitars_on_both_sides_balance():
    at = context(track("Gtr L", pan=-50.0), track("Gtr R", pan=50.0), mix())
    assert value(at, "session", SONG, "imbalance_db") == pytest.approx(0.0, abs=1e-9)


def test_a_hard_left_part_beside_a_centred_one():
    """By hand: left 1 + 0.5, right 0.5: 10 log10 3 = 4.77 dB (equal power, two equal parts)."""
    at = context(track("Gtr", pan=-100.0), track("Vox"), mix())
    assert value(at, "session", SONG, "imbalance_db") == pytest.approx(4.771, abs=1e-3)
    assert value(at, "session", SONG, "heavier_side") == "left"
    assert value(at, "session", SONG, "imbalance_causes") == ("Gtr",)
    assert "pulled by Gtr (4.77 dB)" in value(at, "session", SONG, "imbalance_text")


def test_faders_carry_into_the_balance():
    """By hand: left power 1, right power 10^(−6/10): 6 dB."""
    at = context(track("Gtr L", pan=-100.0), track("Gtr R", pan=100.0, fader_db=-6.0), mix())
    assert value(at, "session", SONG, "imbalance_db") == pytest.approx(6.0, abs=1e-9)


def test_a_stretch_on_one_leg_is_found_with_its_bars():
    at = context(
        track("Gtr L", pan=-100.0, at=(0.0, 60.0)),
        track("Gtr R", pan=100.0, at=(0.0, 40.0)),
        track("Vox", at=(0.0, 40.0)),
        mix(),
    )
    assert value(at, "session", SONG, "stretch_imbalance_db") == pytest.approx(60.0)
    # 40 s at 120 bpm in four is the first beat of bar 21.
    assert "most in bars 21 to 30, 0:40.0 to 1:00.0, to the left by 60 dB" in value(
        at, "session", SONG, "imbalance_text"
    )
    assert ask(at, "session", SONG, "stretch_imbalance_db").where == "bars 21 to 30, 0:40.0 to 1:00.0"


def test_a_quiet_tail_is_not_judged():
    """A tail 40 dB down on one side leans without harm."""
    ride = Automation(target="fader", scale="dB", t=(0.0, 60.0), v=(0.0, -40.0))
    at = context(
        track("Gtr L", pan=-100.0, at=(0.0, 80.0), automation=(ride,)), track("Gtr R", pan=100.0, at=(0.0, 60.0)), mix()
    )
    assert value(at, "session", SONG, "stretch_imbalance_db") == pytest.approx(0.0, abs=1.5)


def test_ambience_on_the_other_side_counts():
    """A hard-left part with as much ambience, all of it on the right: balanced but for nothing."""
    plate = bus("Plate", kind="return", pan=100.0, inserts=(reverb(),), fader_db=3.0103)
    at = context(track("Gtr", pan=-100.0, sends=(send("Plate"),)), plate, mix())
    assert value(at, "session", SONG, "imbalance_db") == pytest.approx(0.0, abs=1e-3)


def test_mute_automation_takes_a_part_out():
    mute = Automation(target="mute", scale="switch", t=(0.0, 30.0), v=(0.0, 1.0))
    at = context(track("Gtr L", pan=-100.0, automation=(mute,)), track("Gtr R", pan=100.0), mix())
    assert value(at, "session", SONG, "imbalance_db") == pytest.approx(3.0103, abs=0.01)
    assert value(at, "session", SONG, "heavier_side") == "right"


def test_an_unknown_fader_leaves_the_balance_open():
    at = context(track("Gtr", fader_db=Unknown(unknown="no unit")), mix())
    said = ask(at, "session", SONG, "imbalance_db")
    assert isinstance(said, Unknown)
    assert "the fader of Gtr: no unit" in said.unknown


def test_an_estimate_says_that_it_is_one():
    at = context(track("Gtr L", pan=-50.0), track("Gtr R", pan=50.0), mix())
    said = ask(at, "session", SONG, "imbalance_db")
    assert said.how == "assumed"
    assert "same loudness" in said.note
