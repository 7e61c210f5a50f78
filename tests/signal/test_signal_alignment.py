"""Delay and polarity between two microphones: known answers."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import signal as oracle

from mixlint.signal.alignment import align

FS = 48000


def hits(seconds: float = 3.0, seed: int = 1) -> np.ndarray:
    rng = np.random.default_rng(seed)
    made = np.zeros(round(seconds * FS))
    t = np.arange(FS // 4) / FS
    for start in range(0, made.size - t.size, t.size):
        made[start : start + t.size] += rng.uniform(0.4, 1) * rng.normal(size=t.size) * np.exp(-t / 0.03)
        made[start : start + t.size] += np.sin(2 * np.pi * 180 * t) * np.exp(-t / 0.08)
    return made


def later(signal: np.ndarray, samples: float) -> np.ndarray:
    """Delayed by any number of samples, by a turn of phase."""
    spectrum = np.fft.rfft(signal, 2 * signal.size)
    turn = np.exp(-2j * np.pi * np.fft.rfftfreq(2 * signal.size) * samples)
    return np.fft.irfft(spectrum * turn)[: signal.size]


@pytest.mark.slow
@given(st.floats(-1300.0, 1300.0), st.sampled_from([1, -1]), st.floats(0.01, 3.0))
@settings(max_examples=15, deadline=None)
def test_delay_between_the_samples_and_polarity(samples: float, polarity: int, gain: float) -> None:
    signal = hits()
    found = align(signal, polarity * gain * later(signal, samples), FS)
    assert found.polarity == polarity
    assert found.delay_s is not None
    assert found.delay_s * FS == pytest.approx(samples, abs=0.05)
    assert found.correlation == pytest.approx(polarity, abs=0.1)


@pytest.mark.slow
@given(st.floats(-500.0, 500.0))
@settings(max_examples=6, deadline=None)
def test_swapping_the_signals_turns_the_delay_round(samples: float) -> None:
    signal = hits()
    there, back = align(signal, later(signal, samples), FS), align(later(signal, samples), signal, FS)
    assert there.delay_s is not None
    assert back.delay_s is not None
    assert there.delay_s == pytest.approx(-back.delay_s, abs=1e-6)


@pytest.mark.parametrize("polarity", [1, -1])
def test_two_metres_of_air_room_and_noise(polarity: int) -> None:
    """5.831 ms at 343 m/s; the far microphone is duller, hears the room and hisses."""
    signal = hits(6.0)
    rng = np.random.default_rng(3)
    t = np.arange(FS // 2) / FS
    room = oracle.fftconvolve(signal, 0.02 * rng.normal(size=t.size) * 10 ** (-3 * t / 0.4))[: signal.size]
    dull = oracle.sosfilt(oracle.butter(1, 9000, fs=FS, output="sos"), later(signal, 2.0 / 343 * FS))
    far = polarity * dull + later(room, 500.0) + 0.02 * signal.std() * rng.normal(size=signal.size)
    found = align(signal, far, FS)
    assert found.polarity == polarity
    assert found.delay_s == pytest.approx(2.0 / 343, abs=5e-5)


def test_correlation_as_the_signals_lie() -> None:
    """At lag 0 it is the plain normalised correlation (numpy)."""
    signal = hits()
    other = later(signal, 30.0)
    expected = (signal @ other) / np.sqrt((signal @ signal) * (other @ other))
    assert align(signal, other, FS).at_zero == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(
    ("first", "second", "why"),
    [
        (hits(), hits(seed=9), "unlike"),
        (hits(), np.zeros(3 * FS), "silent"),
        (hits(0.3)[: FS // 8], hits(0.3), "too-short"),
        (np.sin(np.arange(3 * FS) * 0.05), np.sin(np.arange(3 * FS) * 0.05 + 1), "unlike"),
        (hits(), later(hits(), 2500.0), "no-clear-delay"),
    ],
)
def test_what_cannot_be_told_says_why(first: np.ndarray, second: np.ndarray, why: str) -> None:
    found = align(first, second, FS)
    assert found.fault == why
    assert found.delay_s is None
    assert found.polarity is None


def test_two_copies_of_either_polarity_are_not_told_apart() -> None:
    signal = hits()
    found = align(signal, later(signal, 100.0) - later(signal, 220.0), FS)
    assert found.fault == "ambiguous"
    assert found.polarity is None


def test_long_signals_are_cut_to_where_both_play() -> None:
    signal = np.concatenate([np.zeros(40 * FS), hits(5.0), np.zeros(20 * FS)])
    found = align(signal, -np.roll(signal, 200), FS)
    assert found.delay_s is not None
    assert found.delay_s * FS == pytest.approx(200.0, abs=0.05)
    assert found.polarity == -1


def test_unusable_samples_are_refused() -> None:
    with pytest.raises(ValueError, match="finite"):
        align(np.full(FS, np.inf), np.zeros(FS), FS)
    with pytest.raises(ValueError, match="one leg"):
        align(np.zeros((2, FS)), np.zeros(FS), FS)
