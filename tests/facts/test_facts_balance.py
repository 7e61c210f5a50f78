"""The stereo balance at the mix bus: over the song, in stretches, and who causes it."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import signal

from mixlint.session import Automation, Equalizer, EqualizerBand, Insert, Unknown
from mixlint.signal.k_weighting import TABLES_AT_48K
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


def low_pass(hz: float) -> Insert:
    band = EqualizerBand(kind="low-pass", freq_hz=hz, slope_db_per_oct=12.0)
    return Insert(name="Ledger Filter", kind="filter", opaque=False, equalizer=Equalizer(bands=(band,)))


def test_a_low_passed_sub_on_one_side_is_seen():
    """By hand: a bass of equal energy from 40 to 160 Hz loses about 1 dB K-weighted behind 120 Hz, 12 dB per octave.

    At 1 kHz the filter takes 37 dB, so that the gain there would hide it. The band edges are worked out by scipy:
    octaves, 12 dB per octave below 40 Hz and 6 above 160.
    """
    octaves = 1000.0 * 10.0 ** (0.3 * np.arange(-5, 5))
    usual = np.minimum(octaves / 40.0, 1.0) ** 4 * np.minimum(160.0 / octaves, 1.0) ** 2
    usual *= np.abs(signal.sosfreqz(TABLES_AT_48K, octaves, fs=48_000.0)[1]) ** 2
    cut = signal.butter(2, 120.0, fs=48_000.0, output="sos")
    kept = (usual * np.abs(signal.sosfreqz(cut, octaves, fs=48_000.0)[1]) ** 2).sum() / usual.sum()
    bass = 10.0**0.5 * kept  # +5 dB
    at = context(
        track("Gtr L", pan=-100.0),
        track("Gtr R", pan=100.0),
        track("Sub Bass", pan=-100.0, fader_db=5.0, inserts=(low_pass(120.0),)),
        mix(),
    )
    assert value(at, "session", SONG, "imbalance_db") == pytest.approx(10.0 * np.log10(1.0 + bass), abs=1e-6)
    assert bass > 1.5  # far more than a limit of 1.5 dB lets pass
    assert value(at, "session", SONG, "imbalance_causes") == ("Sub Bass",)


def test_the_stronger_one_of_a_pair_is_blamed_though_its_removal_would_tip_the_mix_over():
    """Main L against Main R, 6 dB down: by hand, left 1, right 10^(−0.6) beside a flute of little on the left."""
    at = context(
        track("Main L", pan=-100.0),
        track("Main R", pan=100.0, fader_db=-6.0),
        track("Flute", pan=-100.0, fader_db=-30.0),
        mix(),
    )
    song = 10.0 * np.log10((1.0 + 1e-3) / 10.0**-0.6)
    even = 10.0 * np.log10((10.0**-0.6 + 1e-3) / 10.0**-0.6)  # Main L brought down to Main R: the flute is left
    text = str(value(at, "session", SONG, "imbalance_text"))
    assert f"pulled by Main L ({song - even:.3g} dB, against Main R)" in text


def test_a_part_of_a_pair_is_not_blamed_for_what_its_answer_has_too():
    at = context(
        track("Gtr L", pan=-100.0), track("Gtr R", pan=100.0), track("Organ", pan=-100.0, fader_db=-3.0), mix()
    )
    assert value(at, "session", SONG, "imbalance_causes") == ("Organ",)
