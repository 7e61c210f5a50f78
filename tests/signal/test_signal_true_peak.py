"""True peak against EBU Tech 3341 cases 15 to 23, ITU-R BS.1770-5 Annex 2, scipy and libebur128."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import signal as oracle

from mixlint.signal.true_peak import TAPS, factor, interpolator, true_peak

FS = 48_000


def faded(samples: np.ndarray, fs: int = FS) -> np.ndarray:
    ramp = np.ones(samples.size)
    length = fs // 100
    ramp[:length] = np.linspace(0, 1, length)
    ramp[-length:] = np.linspace(1, 0, length)
    return (samples * ramp)[None]


def db(samples: np.ndarray, fs: int = FS) -> float:
    return 20 * math.log10(true_peak(samples, fs))


@pytest.mark.parametrize("fs", [44100, 48000, 96000])
@pytest.mark.parametrize(
    ("divisor", "amplitude", "degrees", "expected"),
    [(4, 0.50, 0.0, -6.0), (4, 0.50, 45.0, -6.0), (6, 0.50, 60.0, -6.0), (8, 0.50, 67.5, -6.0), (4, 1.41, 45.0, 3.0)],
)
def test_tech_3341_cases_15_to_19(divisor: int, amplitude: float, degrees: float, expected: float, fs: int) -> None:
    """EBU Tech 3341, Table 1: +0.2/−0.4 dB; fades of 10 ms. A mathematical sine must come within 0.05 dB."""
    phase = 2 * np.pi * np.arange(fs // 4) / divisor + math.radians(degrees)
    got = db(faded(amplitude * np.sin(phase), fs), fs)
    assert expected - 0.4 <= got <= expected + 0.2
    assert got == pytest.approx(20 * math.log10(amplitude), abs=0.05)


@pytest.mark.parametrize("offset", range(4))
def test_tech_3341_cases_20_to_23(offset: int) -> None:
    """A tone at fs/6 and 0.5 with one period of fs/4 at 1.0, made at 4 fs, low-passed, decimated: 0.0 +0.2/−0.4 dB."""
    high = 4 * FS
    slow, fast = high // (FS // 6), high // (FS // 4)
    lead = 0.5 * np.sin(2 * np.pi * np.arange(slow * 1000) / slow)
    burst = np.sin(2 * np.pi * np.arange(fast) / fast)
    low = oracle.firwin(1025, 0.45 * FS, fs=high)
    limited = oracle.fftconvolve(np.concatenate([lead, burst, lead]), low, mode="same")
    assert -0.4 <= db(faded(limited[offset::4])) <= 0.2


def test_the_interpolator_is_flat_where_music_is() -> None:
    """Within 0.02 dB of unity gain, and with the delay of its point, up to 0.45 of the sample rate."""
    freqs = np.linspace(0.0, 0.45, 200)
    for times in (2, 4):
        for row, taps in enumerate(interpolator(times)):
            away = np.arange(TAPS) - (TAPS // 2 - 1) - (row + 1) / times
            response = np.exp(2j * np.pi * freqs[:, None] * away) @ taps
            assert 20 * np.log10(np.abs(response)) == pytest.approx(np.zeros(200), abs=0.02)
            assert np.abs(np.angle(response)).max() < 0.01


def test_oversampling_factor() -> None:
    """ITU-R BS.1770-5, Annex 2: four times at 48 kHz, twice at 96 kHz."""
    assert [factor(fs) for fs in (8000, 44100, 48000, 88200, 96000, 192000)] == [4, 4, 4, 2, 2, 2]


def test_scipy_and_libebur128_find_the_same_peak() -> None:
    """Band-limited noise: scipy.signal.resample, four times, within 0.02 dB; libebur128's shorter filter within 0.1."""
    low = oracle.firwin(401, 0.35 * FS, fs=FS)
    noise = faded(oracle.fftconvolve(np.random.default_rng(12).normal(size=FS // 2) * 0.1, low, mode="same"))
    dense = oracle.resample(noise[0], noise.size * 4)
    assert db(noise) == pytest.approx(20 * math.log10(np.abs(dense).max()), abs=0.02)
    ebur = pytest.importorskip("pyebur128")
    state = ebur.R128State(1, FS, ebur.MeasurementMode.MODE_TRUE_PEAK)
    state.add_frames(noise[0].copy(), noise.size)
    assert db(noise) == pytest.approx(20 * math.log10(ebur.get_true_peak(state, 0)), abs=0.1)


def test_lower_samples_with_a_higher_peak_are_not_passed_over() -> None:
    """A single sample of 0.98, and on the other leg a sine of 1.0 whose samples stay at 0.707 (fs/4, 45 degrees)."""
    sine = np.sin(np.pi / 2 * np.arange(FS // 4) + np.pi / 4) * np.hanning(FS // 4) ** 0.25
    pulse = np.zeros(sine.size)
    pulse[100] = 0.98
    assert db(np.stack([pulse, sine])) == pytest.approx(0.0, abs=0.02)


def test_silence_and_nothing() -> None:
    assert true_peak(np.zeros((2, 100)), FS) == true_peak(np.zeros((1, 0)), FS) == 0.0
