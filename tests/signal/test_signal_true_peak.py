"""True peak against EBU Tech 3341 cases 15 to 23, ITU-R BS.1770-5 Annex 2, scipy and libebur128."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import signal as oracle

from mixlint.signal.true_peak import TAPS, TruePeakMeter, factor, interpolator, true_peak

FS = 48000


def true_peak_db(samples: np.ndarray, fs: float) -> tuple[float, ...]:
    """The true peak of each leg of samples (legs, n), dBTP."""
    meter = TruePeakMeter(samples.shape[0], fs)
    meter.feed(samples)
    return meter.true_peak_db()


def faded(samples: np.ndarray, fs: int = FS) -> np.ndarray:
    ramp = np.ones(samples.size)
    length = fs // 100
    ramp[:length] = np.linspace(0, 1, length)
    ramp[-length:] = np.linspace(1, 0, length)
    return (samples * ramp)[None]


@pytest.mark.parametrize("fs", [44100, 48000, 96000])
@pytest.mark.parametrize(
    ("divisor", "amplitude", "degrees", "expected"),
    [(4, 0.50, 0.0, -6.0), (4, 0.50, 45.0, -6.0), (6, 0.50, 60.0, -6.0), (8, 0.50, 67.5, -6.0), (4, 1.41, 45.0, 3.0)],
)
def test_tech_3341_cases_15_to_19(divisor: int, amplitude: float, degrees: float, expected: float, fs: int) -> None:
    """EBU Tech 3341, Table 1: +0.2/−0.4 dB; fades of 10 ms. A mathematical sine must come within 0.05 dB."""
    phase = 2 * np.pi * np.arange(fs) / divisor + math.radians(degrees)
    got = true_peak_db(faded(amplitude * np.sin(phase), fs), fs)[0]
    assert expected - 0.4 <= got <= expected + 0.2
    assert got == pytest.approx(20 * math.log10(amplitude), abs=0.05)


@pytest.mark.parametrize("offset", range(4))
def test_tech_3341_cases_20_to_23(offset: int) -> None:
    """A tone at fs/6 and 0.5 with one period of fs/4 at 1.0, made at 4 fs, low-passed, decimated: 0.0 +0.2/−0.4 dB."""
    high = 4 * FS
    slow, fast = high // (FS // 6), high // (FS // 4)
    lead = 0.5 * np.sin(2 * np.pi * np.arange(slow * 1000) / slow)
    burst = np.sin(2 * np.pi * np.arange(fast) / fast)
    made = np.concatenate([lead, burst, lead])
    low = oracle.firwin(1025, 0.45 * FS, fs=high)
    limited = oracle.fftconvolve(made, low, mode="same")
    got = true_peak_db(faded(limited[offset::4]), FS)[0]
    assert -0.4 <= got <= 0.2


def test_interpolator_is_flat_where_music_is() -> None:
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


def test_scipy_resampling_finds_the_same_peak() -> None:
    """scipy.signal.resample (the whole spectrum, four times) of band-limited noise, within 0.02 dB."""
    rng = np.random.default_rng(11)
    low = oracle.firwin(401, 0.4 * FS, fs=FS)
    noise = faded(oracle.fftconvolve(rng.normal(size=60_000), low, mode="same"))
    dense = oracle.resample(noise[0], noise.size * 4)
    expected = 20 * math.log10(np.abs(dense).max())
    assert true_peak_db(noise, FS)[0] == pytest.approx(expected, abs=0.02)


def test_libebur128_agrees() -> None:
    """libebur128 1.2.6 through pyebur128, whose interpolator is shorter: within 0.1 dB on noise below 0.35 fs."""
    ebur = pytest.importorskip("pyebur128")
    low = oracle.firwin(401, 0.35 * FS, fs=FS)
    noise = faded(oracle.fftconvolve(np.random.default_rng(12).normal(size=FS) * 0.1, low, mode="same"))
    state = ebur.R128State(1, FS, ebur.MeasurementMode.MODE_TRUE_PEAK)
    state.add_frames(noise[0].copy(), FS)
    expected = 20 * math.log10(ebur.get_true_peak(state, 0))
    assert true_peak_db(noise, FS)[0] == pytest.approx(expected, abs=0.1)


@given(st.lists(st.integers(0, 40_000), max_size=8), st.integers(0, 2**32 - 1))
@settings(max_examples=25, deadline=None)
def test_cutting_and_skipping_change_nothing(cuts: list[int], seed: int) -> None:
    """Fed in pieces, quiet stretches passed over, it reads the maximum of the plain convolution."""
    rng = np.random.default_rng(seed)
    noise = rng.normal(size=(2, 40_000)) * np.repeat(rng.uniform(0.0, 1.0, 40), 1000)
    meter = TruePeakMeter(2, FS)
    for piece in np.split(noise, sorted(cuts), axis=1):
        meter.feed(piece)
    for leg, got in zip(noise, meter.true_peak_db(), strict=True):
        between = [np.abs(np.convolve(leg, taps[::-1])).max() for taps in interpolator(4)]
        assert got == pytest.approx(20 * math.log10(max(*between, np.abs(leg).max())), abs=1e-9)


def test_a_stretch_with_lower_samples_but_a_higher_peak_is_not_passed_over() -> None:
    """A single sample of 0.98, then a sine of 1.0 whose samples stay at 0.707 (fs/4, 45 degrees)."""
    sine = np.sin(np.pi / 2 * np.arange(FS) + np.pi / 4) * np.hanning(FS) ** 0.25
    pulse = np.zeros(FS)
    pulse[100] = 0.98
    assert np.abs(sine).max() < 0.71
    got = true_peak_db(np.concatenate([pulse, sine])[None], FS)[0]
    assert got == pytest.approx(0.0, abs=0.02)


def test_edges_and_refusals() -> None:
    assert true_peak_db(np.zeros((2, 100)), FS) == (-200.0, -200.0)
    assert true_peak_db(np.zeros((1, 0)), FS) == (-200.0,)
    assert true_peak_db(np.array([[0.0, 1.0, 0.0]]), FS)[0] == pytest.approx(0.0, abs=1e-9)
    meter = TruePeakMeter(1, FS)
    with pytest.raises(ValueError, match="finite"):
        meter.feed(np.array([[np.nan]]))
    with pytest.raises(ValueError, match="shape"):
        meter.feed(np.zeros(4))
    meter.true_peak_db()
    with pytest.raises(ValueError, match="finished"):
        meter.feed(np.zeros((1, 4)))


def test_a_stretch_by_itself() -> None:
    """A sine at a quarter of the rate, a third of a sample off its crests: 3 dB between the samples (closed form)."""
    tone = np.sin(2.0 * np.pi * np.arange(4800) / 4.0 + math.pi / 4.0)
    assert float(np.abs(tone).max()) == pytest.approx(math.sqrt(0.5), abs=1e-9)
    assert true_peak(faded(tone, FS), FS) == pytest.approx(1.0, abs=0.01)


@pytest.mark.parametrize("phase", [0.0, 0.7, 1.5, 2.9])
def test_a_stretch_cut_out_of_a_tone_makes_no_peak_of_its_own(phase: float) -> None:
    """A tone of 997 Hz has a true peak of 1, wherever it is cut: a sine's crest by its definition."""
    tone = np.cos(2.0 * np.pi * 997.0 * np.arange(4800) / FS + phase)
    assert true_peak(tone, FS, cut_before=True, cut_behind=True) == pytest.approx(1.0, abs=0.001)


def test_an_end_that_is_not_cut_keeps_its_peak() -> None:
    """A click on the first sample counts in full where the signal itself begins there."""
    click = np.zeros(4800)
    click[0] = 1.0
    assert true_peak(click, FS, cut_behind=True) == pytest.approx(1.0, abs=1e-6)
