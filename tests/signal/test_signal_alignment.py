"""Delay and polarity between two microphones, and decay times: known answers."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import signal as oracle

from mixlint.signal.alignment import align
from mixlint.signal.decay import decay_curve_db, decay_time_s, reverberation_time_s

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


@given(st.floats(-1300.0, 1300.0), st.sampled_from([1, -1]), st.floats(0.01, 3.0))
@settings(max_examples=15, deadline=None)
def test_delay_between_the_samples_and_polarity(samples: float, polarity: int, gain: float) -> None:
    signal = hits()
    found = align(signal, polarity * gain * later(signal, samples), FS)
    assert found.polarity == polarity
    assert found.delay_s is not None
    assert found.delay_s * FS == pytest.approx(samples, abs=0.05)
    assert found.correlation == pytest.approx(polarity, abs=0.1)


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
        (hits(), hits(seed=9), "too little in common"),
        (hits(), np.zeros(3 * FS), "silent"),
        (hits(0.3)[: FS // 8], hits(0.3), "too short"),
        (np.sin(np.arange(3 * FS) * 0.05), np.sin(np.arange(3 * FS) * 0.05 + 1), "too little in common"),
        (hits(), later(hits(), 2500.0), "clear delay"),
    ],
)
def test_what_cannot_be_told_says_why(first: np.ndarray, second: np.ndarray, why: str) -> None:
    found = align(first, second, FS)
    assert why in found.why
    assert found.delay_s is None
    assert found.polarity is None


def test_two_copies_of_either_polarity_are_not_told_apart() -> None:
    signal = hits()
    found = align(signal, later(signal, 100.0) - later(signal, 220.0), FS)
    assert found.why == "several delays fit nearly alike"
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


@pytest.mark.parametrize("seconds", [0.4, 1.2, 2.0])
def test_reverberation_time_of_a_known_decay(seconds: float) -> None:
    """ISO 3382-1: an energy that falls by 60 dB in T reads T; a smooth decay exactly, noise within 5 % (the JND)."""
    t = np.arange(round(2 * seconds * FS)) / FS
    envelope = 10 ** (-3 * t / seconds)
    assert reverberation_time_s(envelope, FS) == pytest.approx(seconds, rel=1e-3)
    noise = np.random.default_rng(4).normal(size=t.size)
    assert reverberation_time_s(noise * envelope, FS) == pytest.approx(seconds, rel=0.05)
    hissing = noise * envelope + 1e-3 * np.random.default_rng(5).normal(size=t.size)
    assert reverberation_time_s(hissing, FS, noise_power=1e-6) == pytest.approx(seconds, rel=0.05)
    curve = decay_curve_db(envelope)
    for start, end in ((-5.0, -35.0), (0.0, -10.0)):  # T30, EDT
        assert decay_time_s(curve, 1 / FS, start, end) == pytest.approx(seconds, rel=5e-3)


@given(st.floats(0.05, 20.0), st.floats(-80.0, 0.0))
@settings(deadline=None)
def test_levels_falling_in_a_line(seconds: float, start: float) -> None:
    levels = start - 60.0 / seconds * np.arange(400) * seconds / 200
    assert decay_time_s(levels, seconds / 200) == pytest.approx(seconds, rel=1e-6)


def test_t20_is_read_between_5_and_25_db() -> None:
    """ISO 3382-1: neither a quicker beginning above −5 dB nor a slower end under −25 dB counts."""
    seconds = np.arange(0, 2, 0.001)
    middle = -4.0 - 60.0 * (seconds - 0.01)
    bent = np.where(seconds < 0.01, -400.0 * seconds, np.where(middle > -25.5, middle, -25.5 - 2.0 * seconds))
    assert decay_time_s(bent, 0.001) == pytest.approx(1.0, rel=1e-6)
    assert decay_time_s(bent, 0.001, 0.0, -10.0) < 0.9
    assert decay_time_s(bent, 0.001, -5.0, -27.0) > 1.1


def test_a_decay_that_stops_early_has_no_time() -> None:
    assert decay_time_s([0.0, -5.0, -10.0, -20.0, -20.0], 0.1) is None
    assert decay_time_s([], 0.1) is None
    assert decay_time_s([0.0, -40.0], 0.1) is None
    with pytest.raises(ValueError, match="step"):
        decay_time_s([0.0, -40.0], 0.0)
    with pytest.raises(ValueError, match="energy"):
        decay_curve_db(np.zeros(10))
