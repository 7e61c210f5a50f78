"""Inserts one by one: moves of equalizers, processors at rest, delay times, and gain reduction measured on audio."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile

from mixlint.facts import SessionContext
from mixlint.media import Library
from mixlint.session import (
    Automation,
    Clip,
    Dynamics,
    Equalizer,
    EqualizerBand,
    Insert,
    MediaFile,
    Parameter,
    Session,
    Tempo,
    Timeline,
    Unknown,
)
from mixlint.signal import synthesis
from tests.facts.audio_sessions import audio_context, write
from tests.facts.small_sessions import ask, bus, context, mix, reverb, send, track, value

RATE = 48_000


def bell(gain_db: float, freq_hz: float = 250.0, q: float = 1.0, **more: object) -> EqualizerBand:
    return EqualizerBand(kind="bell", freq_hz=freq_hz, gain_db=gain_db, q=q, **more)


def eq(*bands: EqualizerBand, **more: object) -> Insert:
    return Insert(name="Desk EQ", kind="equalizer", opaque=False, equalizer=Equalizer(bands=bands), **more)


def comp(threshold_db: float = -20.0, ratio: float = 4.0, **more: object) -> Insert:
    settings = Dynamics(threshold_db=threshold_db, ratio=ratio, **more)
    return Insert(name="Desk Compressor", kind="compressor", opaque=False, dynamics=settings)


def test_the_row_is_named_by_channel_and_processor_in_insert_order():
    at = context(track("Vox", inserts=(eq(bell(1.0)), comp())), mix())
    assert value(at, "insert", "Vox: Desk EQ", "position") == 1
    assert value(at, "insert", "Vox: Desk Compressor", "position") == 2


@pytest.mark.parametrize(
    ("channel", "strip"), [("Vox", "source"), ("Drums", "group"), ("Plate", "return"), ("Mix Bus", "mix-bus")]
)
def test_the_strip_says_what_the_channel_is_to_the_song(channel, strip):
    tool = eq(bell(1.0))
    at = context(
        track("Vox", inserts=(tool,), sends=(send("Plate"),)),
        track("Kick", output="Drums"),
        bus("Drums", inserts=(tool,)),
        bus("Plate", kind="return", inserts=(reverb(), tool)),
        mix(inserts=(tool,)),
    )
    assert value(at, "insert", f"{channel}: Desk EQ", "strip") == strip


def test_the_deepest_cut_and_the_highest_boost_are_those_of_bells_and_low_shelves():
    shelf = EqualizerBand(kind="high-shelf", freq_hz=9000.0, gain_db=7.0)
    low = EqualizerBand(kind="low-shelf", freq_hz=120.0, gain_db=2.5)
    at = context(track("Vox", inserts=(eq(bell(-5.0), bell(1.0, 2000.0), low, shelf),)), mix())
    row = "Vox: Desk EQ"
    assert value(at, "insert", row, "cut_db") == 5.0
    assert value(at, "insert", row, "boost_db") == 2.5
    assert value(at, "insert", row, "shelf_db") == 7.0
    assert value(at, "insert", row, "moves_at") == "−5 dB at 250 Hz and +2.5 dB at 120 Hz"


def test_a_narrow_cut_counts_only_beyond_twelve_decibels():
    """A ring is taken out with Q over 8 (common practice, no source)."""
    deep = context(track("Vox", inserts=(eq(bell(-11.0, q=10.0)),)), mix())
    assert value(deep, "insert", "Vox: Desk EQ", "cut_db") == 0.0
    deeper = context(track("Vox", inserts=(eq(bell(-13.0, q=10.0)),)), mix())
    assert value(deeper, "insert", "Vox: Desk EQ", "cut_db") == 13.0
    wide = context(track("Vox", inserts=(eq(bell(-11.0, q=8.0)),)), mix())
    assert value(wide, "insert", "Vox: Desk EQ", "cut_db") == 11.0


@pytest.mark.parametrize(
    ("insert", "why"),
    [
        (Insert(name="Desk EQ", kind="equalizer", on=False), "is switched off"),
        (eq(bell(0.1)), "is flat"),
        (eq(bell(6.0, on=False)), "is flat"),
        (eq(EqualizerBand(kind="high-pass", freq_hz=80.0)), ""),
        (
            Insert(name="Desk EQ", kind="equalizer", opaque=False, equalizer=Equalizer(bands=(), output_gain_db=3.0)),
            "",
        ),
        (Insert(name="Desk EQ", kind="equalizer"), ""),
        (Insert(name="Desk EQ", kind="equalizer", on=Unknown(unknown="hidden")), ""),
    ],
)
def test_only_what_the_export_shows_to_change_nothing_is_neutral(insert, why):
    at = context(track("Vox", inserts=(insert,)), mix())
    assert value(at, "insert", "Vox: Desk EQ", "neutral") is bool(why)
    if why:
        assert ask(at, "insert", "Vox: Desk EQ", "neutral").note == why


def test_a_compressor_at_one_to_one_is_neutral_unless_it_has_gain():
    assert value(context(track("Vox", inserts=(comp(ratio=1.0),)), mix()), "insert", "Vox: Desk Compressor", "neutral")
    lifted = context(track("Vox", inserts=(comp(ratio=1.0, output_gain_db=4.0),)), mix())
    assert value(lifted, "insert", "Vox: Desk Compressor", "neutral") is False


def test_a_flat_equalizer_with_an_automated_band_is_not_neutral():
    lane = Automation(target="insert:0:12", scale="plain", t=(0.0, 9.0), v=(0.0, 4.0))
    at = context(track("Vox", inserts=(eq(bell(0.0)),), automation=(lane,)), mix())
    assert value(at, "insert", "Vox: Desk EQ", "neutral") is False


def delay(name: str, number: float, unit: str) -> Insert:
    return Insert(name="Echo", kind="delay", parameters=(Parameter(id="1", name=name, value=number, unit=unit),))


@pytest.mark.parametrize(
    ("name", "number", "unit", "ms"),
    [("Time", 0.375, "seconds", 375.0), ("Delay Time", 250.0, "ms", 250.0), ("Delay", 0.5, "s", 500.0)],
)
def test_a_delay_time_is_read_by_its_unit(name, number, unit, ms):
    at = context(track("Vox", inserts=(delay(name, number, unit),)), mix())
    assert value(at, "insert", "Vox: Echo", "delay_ms") == pytest.approx(ms)


@pytest.mark.parametrize(
    ("name", "unit"), [("Pre-Delay", "seconds"), ("Decay Time", "seconds"), ("Time", "normalized"), ("Time", "beats")]
)
def test_what_is_no_delay_time_in_time_units_is_not_read_as_one(name, unit):
    at = context(track("Vox", inserts=(delay(name, 0.4, unit),)), mix())
    assert isinstance(ask(at, "insert", "Vox: Echo", "delay_ms"), Unknown)


@pytest.mark.parametrize("ms", [1000.0, 750.0, 500.0, 375.0, 1000.0 / 3.0, 250.0, 500.0 / 3.0, 187.5])
def test_note_values_at_120_bpm_are_in_time(ms):
    """At 120 bpm a quarter lasts 60/120 s (arithmetic); dotted × 3/2, triplet × 2/3."""
    at = context(track("Vox", inserts=(delay("Time", ms, "ms"),)), mix())
    assert value(at, "insert", "Vox: Echo", "off_tempo") == pytest.approx(0.0, abs=1e-9)


def played(tmp_path: Path, level_dbfs: float, *inserts: Insert, clip_gain_db: float = 0.0) -> SessionContext:
    """A voice that plays a sine at ``level_dbfs`` peak."""
    t = np.arange(4 * RATE) / RATE
    sine = 10.0 ** (level_dbfs / 20.0) * np.sin(2.0 * np.pi * 1000.0 * t)
    soundfile.write(tmp_path / "voice.wav", sine, RATE, subtype="FLOAT")
    clip = Clip(start_s=0.0, end_s=4.0, file="a", gain_db=clip_gain_db)
    session = Session(
        channels=(track("Vox", clips=(clip,), inserts=inserts), mix()),
        media=(MediaFile(id="a", path="voice.wav"),),
        timeline=Timeline(tempos=(Tempo(bpm=120.0),)),
    )
    return SessionContext(session, audio=Library(session, tmp_path))


@pytest.mark.parametrize(
    ("level", "threshold", "ratio", "expected"),
    [(-8.0, -20.0, 4.0, 9.0), (-8.0, -20.0, 2.0, 6.0), (-30.0, -20.0, 4.0, 0.0)],
)
def test_reduction_of_a_sine_is_that_of_the_static_curve(tmp_path, level, threshold, ratio, expected):
    """(1 − 1/R)(x − T) over the threshold: Giannoulis, Massberg & Reiss, JAES 60(6), 2012, hard knee."""
    at = played(tmp_path, level, comp(threshold, ratio))
    assert value(at, "insert", "Vox: Desk Compressor", "reduction_db") == pytest.approx(expected, abs=0.1)


def test_clip_gain_and_a_known_compressor_before_it_change_what_a_compressor_is_fed(tmp_path):
    """A sine at −20 with 12 dB of clip gain stands at −8; 4:1 over −20 leaves −17, and a second one takes 3 · 3/4."""
    at = played(
        tmp_path,
        -20.0,
        comp(),
        Insert(name="Second", kind="compressor", opaque=False, dynamics=comp().dynamics),
        clip_gain_db=12.0,
    )
    assert value(at, "insert", "Vox: Desk Compressor", "reduction_db") == pytest.approx(9.0, abs=0.1)
    assert value(at, "insert", "Vox: Second", "reduction_db") == pytest.approx(2.25, abs=0.1)


def test_a_hidden_processor_before_it_leaves_the_reduction_unknown(tmp_path):
    at = played(tmp_path, -8.0, Insert(name="Iron Preamp", kind="distortion"), comp())
    said = ask(at, "insert", "Vox: Desk Compressor", "reduction_db")
    assert isinstance(said, Unknown)
    assert "Iron Preamp" in said.unknown


def test_without_audio_the_reduction_is_unknown_and_says_what_settles_it():
    said = ask(context(track("Vox", inserts=(comp(),)), mix()), "insert", "Vox: Desk Compressor", "reduction_db")
    assert isinstance(said, Unknown)
    assert said.settle


def test_the_reduction_by_peaks_is_the_most_a_compressor_can_take(tmp_path):
    """Plucked strings through 4:1 over −20 dBFS: a gain smoothed by 5 and 100 ms sample by sample, as in Giannoulis and
    others 2012 (branching, log domain), lies within 3 dB of the figure by mean power, and under that by peaks."""
    samples = 0.5 * synthesis.pluck(196.0, 1, 2.0, RATE)
    media = [write(tmp_path, "a.wav", samples)]
    squeeze = Insert(name="Squeeze", kind="compressor", opaque=False, dynamics=Dynamics(threshold_db=-20.0, ratio=4.0))
    clips = (Clip(start_s=0.0, end_s=2.0, file="a.wav"),)
    at = audio_context(tmp_path, media, track("Gtr", output="mix", inserts=(squeeze,), clips=clips), bus("mix"))
    mean = value(at, "insert", "Gtr: Squeeze", "reduction_db")
    most = value(at, "insert", "Gtr: Squeeze", "reduction_by_peaks_db")
    due = np.minimum(-0.75 * (20.0 * np.log10(np.abs(samples) + 1e-9) + 20.0), 0.0)
    attack, release = np.exp(-1.0 / (0.005 * RATE)), np.exp(-1.0 / (0.1 * RATE))
    gain, gains = 0.0, []
    for one in due.tolist():
        slow = attack if one < gain else release
        gain = slow * gain + (1.0 - slow) * one
        gains.append(gain)
    truth = -np.percentile(gains, 5.0)
    assert mean - 3.0 <= truth <= mean + 3.0
    assert mean <= most
    assert truth <= most
