"""How notes lie against equal temperament, on sounds whose tuning is known.

Source: ISO 16:1975 (A4 = 440 Hz) and the definition of the cent, 1200 · log2 of a ratio of frequencies.
"""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.signal.tuning import BINS, apart_cents, note_weights, retuned, tuning, window_size

FS = 48_000.0
CHORD = (-21, -9, -5, -2, 3, 7)
"""Semitones from A4: C3, C4, E4, G4, C5, E5."""


def chord(cents: float, fs: float = FS, partials: int = 3) -> np.ndarray:
    n = window_size(fs)
    t = np.arange(n) / fs
    out = np.zeros(n)
    for semitones in CHORD:
        hz = 440.0 * 2.0 ** ((semitones + cents / 100.0) / 12.0)
        for partial in range(1, partials + 1):
            out += np.sin(2.0 * np.pi * partial * hz * t + semitones) / partial**2
    return out


@pytest.mark.parametrize("fs", [44_100.0, 48_000.0, 96_000.0])
@pytest.mark.parametrize("cents", [-45.0, -20.0, 0.0, 7.0, 31.0, 48.0])
def test_a_chord_is_told_within_two_cents(cents: float, fs: float) -> None:
    found = tuning(note_weights(chord(cents, fs), fs))
    assert abs(apart_cents(found.cents, cents)) < 2.0
    assert found.agreement > 0.9
    assert found.notes >= 3


def test_a_file_at_another_rate_is_told_by_what_is_left_over_a_semitone() -> None:
    """44.1 kHz that plays at 48: 1200 · log2(48 / 44.1) = 146.7 cents, a semitone and 46.7."""
    fast = tuning(note_weights(chord(1200.0 * np.log2(48.0 / 44.1)), FS))
    assert fast.cents == pytest.approx(46.7, abs=2.0)


def test_noise_agrees_on_nothing() -> None:
    weights = sum(note_weights(np.random.default_rng(seed).standard_normal(window_size(FS)), FS) for seed in range(8))
    assert tuning(np.asarray(weights)).agreement < 0.2


def test_one_pitch_is_no_scale() -> None:
    t = np.arange(window_size(FS)) / FS
    assert tuning(note_weights(np.sin(2.0 * np.pi * 311.0 * t), FS)).notes == 1


def test_silence_has_no_tuning() -> None:
    assert not note_weights(np.zeros(window_size(FS)), FS).any()
    assert tuning(np.zeros(BINS)).agreement == 0.0


@pytest.mark.parametrize(("one", "other", "apart"), [(48.0, -48.0, -4.0), (10.0, -10.0, 20.0), (0.0, 0.0, 0.0)])
def test_tunings_lie_round_a_semitone(one: float, other: float, apart: float) -> None:
    assert apart_cents(one, other) == pytest.approx(apart)


@pytest.mark.parametrize("place", [2, 4])
def test_a_tuning_that_changes_is_told_where_it_does(place: int) -> None:
    rows = np.stack([note_weights(chord(-3.0 if at < place else 31.0), FS) for at in range(8)])
    found = retuned(rows)
    assert found is not None
    assert abs(apart_cents(found.after.cents, found.before.cents) - 34.0) < 2.0
    assert found.stretch in (place - 1, place)
    assert retuned(rows[:4]) is None
