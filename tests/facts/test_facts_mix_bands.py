"""Balance in bands at the mix bus: against spectra of what is summed, worked out with numpy and scipy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import signal as oracle

from mixlint.facts import FactValue, House, SessionContext
from mixlint.session import Clip, Equalizer, EqualizerBand, Insert, Unknown
from mixlint.signal.k_weighting import TABLES_AT_48K
from tests.facts.audio_sessions import RATE, audio_context, sine, write
from tests.facts.small_sessions import ask, mix, track, value

SECONDS = 24.0
EDGES = {"low": (0.0, 177.8), "mid": (177.8, 2818.4), "high": (2818.4, 24_000.0)}
WHOLE = (0.0, 24_000.0)


def noise(seed: int, low_hz: float, high_hz: float, gain: float = 0.05) -> np.ndarray:
    """Noise between two frequencies (scipy's Butterworth of order 6)."""
    white = np.random.default_rng(seed).standard_normal(round(SECONDS * RATE))
    return gain * oracle.sosfilt(oracle.butter(6, [low_hz, high_hz], "band", fs=RATE, output="sos"), white)


LOW, MID, HIGH = noise(1, 50.0, 110.0, 0.2), noise(2, 300.0, 1500.0), noise(3, 5000.0, 12_000.0, 0.02)


def balance(samples: np.ndarray, band: str) -> float:
    """Left over right of samples (2, n) in a band, K-weighted (tables of ITU-R BS.1770-5), by one long spectrum, dB."""
    power = np.abs(np.fft.rfft(oracle.sosfilt(TABLES_AT_48K, samples))) ** 2
    hz = np.fft.rfftfreq(samples.shape[1], 1.0 / RATE)
    from_hz, to_hz = EDGES.get(band, WHOLE)
    inside = (hz >= from_hz) & (hz < to_hz)
    left, right = power[:, inside].sum(axis=1)
    return float(10.0 * np.log10(left / right))


def put(samples: np.ndarray, pan: float) -> np.ndarray:
    angle = (pan + 100.0) / 200.0 * np.pi / 2.0
    return np.outer([np.cos(angle), np.sin(angle)], samples)


def song(folder, *parts, **more):
    """Parts of (name, samples, pan): a session of them, and what they sum to."""
    media, channels, total = [], [], np.zeros((2, round(SECONDS * RATE)))
    for name, samples, pan in parts:
        media.append(write(folder, f"{name}.wav", samples.T if samples.ndim == 2 else samples, subtype="FLOAT"))
        clips = (Clip(start_s=0.0, end_s=SECONDS, file=f"{name}.wav"),)
        channels.append(track(name, clips=clips, pan=pan, legs=samples.ndim, **more.get(name, {})))
        total += put(samples, pan) if samples.ndim == 1 else samples
    return audio_context(folder, media, *channels, mix()), total


def of(at, fact: str):
    return value(at, "mix-bus", "Mix Bus", fact)


@pytest.mark.slow
def test_highs_that_lean_alone_are_told(tmp_path):
    """Lows and middle in the centre, highs at 50 left: both ways of telling, against the spectrum of the sum."""
    at, total = song(tmp_path, ("Bass", LOW, 0.0), ("Keys", MID, 0.0), ("Hat", HIGH, -50.0))
    for band in EDGES:
        assert of(at, f"{band}_balance_db") == pytest.approx(balance(total, band), abs=0.3)
        assert of(at, f"summed_{band}_balance_db") == pytest.approx(balance(total, band), abs=0.3)
    for fact in ("band_lean_db", "summed_band_lean_db"):
        found = ask(at, "mix-bus", "Mix Bus", fact)
        assert isinstance(found, FactValue)
        assert found.number == pytest.approx(balance(total, "high") - balance(total, "whole"), abs=0.3)
        assert found.number > 3.0
        assert "to the left over 2.8 kHz" in found.note
    assert "by Hat" in ask(at, "mix-bus", "Mix Bus", "band_lean_db").note


@pytest.mark.slow
def test_a_file_whose_legs_differ_in_their_highs(tmp_path):
    """One stereo part: alike in its middle, its highs 14 dB louder on the right leg."""
    wide = np.stack([MID + 0.2 * HIGH, MID + HIGH])
    at, total = song(tmp_path, ("Bass", LOW, 0.0), ("Pad", wide, 0.0))
    for band in EDGES:
        assert of(at, f"{band}_balance_db") == pytest.approx(balance(total, band), abs=0.5)
        assert of(at, f"summed_{band}_balance_db") == pytest.approx(balance(total, band), abs=0.3)


@pytest.mark.slow
def test_a_filter_on_the_way_counts(tmp_path):
    """A part at 60 right loses its highs behind a low-pass; what is left of them stands left."""
    dark = EqualizerBand(kind="low-pass", freq_hz=1000.0, slope_db_per_oct=24.0)
    cut = Insert(name="Dark", kind="equalizer", opaque=False, equalizer=Equalizer(bands=(dark,)))
    both = MID + HIGH
    parts = (("Gtr L", both, -60.0), ("Gtr R", noise(7, 300.0, 1500.0) + noise(8, 5000.0, 12_000.0, 0.02), 60.0))
    even, _ = song(tmp_path, *parts)
    leans, _ = song(tmp_path, *parts, **{"Gtr R": {"inserts": (cut,)}})
    for fact in ("high_balance_db", "summed_high_balance_db"):
        assert of(even, fact) == pytest.approx(0.0, abs=0.4)
        assert of(leans, fact) == pytest.approx(balance(put(both, -60.0), "high"), abs=0.6)


@pytest.mark.slow
def test_what_two_parts_have_in_common_adds_as_samples_only(tmp_path):
    """One sound left and centre: the sum holds left 1 + 0.71, right 0.71, where energies give 1.5 against 0.5."""
    at, total = song(tmp_path, ("Top", HIGH, -100.0), ("Copy", HIGH, 0.0), ("Bass", LOW, 0.0), ("Keys", MID, 0.0))
    due = 20.0 * np.log10((1.0 + np.sqrt(0.5)) / np.sqrt(0.5))
    assert of(at, "summed_high_balance_db") == pytest.approx(due, abs=0.1)
    assert balance(total, "high") == pytest.approx(due, abs=0.1)
    assert of(at, "high_balance_db") == pytest.approx(10.0 * np.log10(1.5 / 0.5), abs=0.3)


@pytest.mark.slow
def test_where_in_the_song_it_leans(tmp_path):
    """Highs left for the first half and right for the second: even over the song, and 4 dB in either stretch."""
    half = HIGH.size // 2
    first, second = HIGH.copy(), HIGH.copy()
    first[half:], second[:half] = 0.0, 0.0
    parts = (("Bass", LOW, 0.0), ("Keys", MID, 0.0))
    at, total = song(tmp_path, *parts, ("Shaker", first, -50.0), ("Tambourine", second, 50.0))
    early = total[:, :half]
    assert of(at, "band_lean_db") < 0.5
    found = ask(at, "mix-bus", "Mix Bus", "worst_band_lean_db")
    assert isinstance(found, FactValue)
    assert found.number == pytest.approx(balance(early, "high") - balance(early, "whole"), abs=0.5)
    assert "over 2.8 kHz in bar" in found.note


@pytest.mark.slow
def test_a_mix_that_leans_as_a_whole_is_no_band(tmp_path):
    at, _ = song(tmp_path, ("Bass", LOW, -40.0), ("Keys", MID, -40.0), ("Hat", HIGH, -40.0))
    assert of(at, "band_lean_db") == pytest.approx(0.0, abs=0.3)
    assert of(at, "high_balance_db") == pytest.approx(balance(put(HIGH, -40.0), "high"), abs=0.3)


@pytest.mark.slow
def test_next_to_nothing_is_not_judged(tmp_path):
    """Highs 40 dB under the mix, hard left."""
    at, _ = song(tmp_path, ("Bass", LOW, 0.0), ("Keys", MID, 0.0), ("Hiss", HIGH * 0.02, -100.0))
    assert of(at, "band_lean_db") == pytest.approx(0.0, abs=0.3)
    assert of(at, "summed_band_lean_db") == pytest.approx(0.0, abs=0.3)
    nearer = SessionContext(at.session, House(settings={"bands.least": -60.0}), at.audio)
    assert of(nearer, "band_lean_db") > 10.0
    assert of(nearer, "summed_band_lean_db") > 10.0


def test_what_is_hidden_leaves_the_sum_unknown(tmp_path):
    at, _ = song(tmp_path, ("Keys", sine(440.0, SECONDS), 0.0), Keys={"inserts": (Insert(name="Velvet"),)})
    found = ask(at, "mix-bus", "Mix Bus", "summed_high_balance_db")
    assert isinstance(found, Unknown)
    assert "Velvet" in found.unknown
