"""Loudness against ITU-R BS.1770-5, the minimum requirements of EBU Tech 3341, and libebur128."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import ArrayLike
from scipy import signal as oracle

from mixlint.signal import k_weighting, loudness
from mixlint.signal.k_weighting import KWeighting
from mixlint.signal.loudness import EnergyMeter, channel_weights, integrated, loudness_range, sliding_mean, weighted_sum

FS = 48000


def tone(parts: list[tuple[float, float | None]], fs: int = FS, freq: float = 1000.0) -> np.ndarray:
    """One leg of a sine that goes on through parts of (seconds, peak dBFS or None for silence)."""
    gains = [np.full(round(seconds * fs), 0.0 if level is None else 10 ** (level / 20)) for seconds, level in parts]
    gain = np.concatenate(gains)
    return gain * np.sin(2 * np.pi * freq * np.arange(gain.size) / fs)


def energies(legs: np.ndarray, fs: int = FS) -> np.ndarray:
    """K-weighted mean squares of 100 ms each, fed in pieces."""
    meter = EnergyMeter(legs.shape[0], fs, 0.1)
    for start in range(0, legs.shape[1], 50_000):
        meter.feed(legs[:, start : start + 50_000])
    return meter.finish() / (0.1 * fs)


def measured(legs: np.ndarray, fs: int = FS) -> float | None:
    """Integrated loudness, from blocks of 400 ms every 100 ms."""
    return integrated(weighted_sum(sliding_mean(energies(legs, fs), 4)))


def k_gain_db(freqs: ArrayLike, fs: float = FS) -> np.ndarray:
    """The gain of the two sections, by scipy."""
    _, response = oracle.freqz_sos(k_weighting.sections(fs), worN=np.atleast_1d(freqs), fs=fs)
    return 20 * np.log10(np.abs(response))


def stereo(parts: list[tuple[float, float | None]], fs: int = FS, freq: float = 1000.0) -> np.ndarray:
    return np.stack([tone(parts, fs, freq)] * 2)


def test_k_weighting_at_48k() -> None:
    """Gains computed from Tables 1 and 2 of ITU-R BS.1770-5, Annex 1."""
    table = {
        20: -13.275, 25: -10.393, 50: -3.934, 63: -2.664, 100: -1.133, 200: -0.265, 500: 0.042, 997: 0.691,
        1000: 0.698, 2000: 3.071, 4000: 3.968, 8000: 4.039, 10000: 4.042, 16000: 4.043,
    }  # fmt: skip
    assert k_gain_db(list(table)) == pytest.approx(list(table.values()), abs=0.001)


@pytest.mark.parametrize("fs", [32000, 44100, 88200, 96000, 176400, 192000])
def test_other_rates_keep_the_response_of_48k(fs: int) -> None:
    """ITU-R BS.1770-5, Annex 1: coefficients are derived again so that the response stays; here within 0.02 dB."""
    freqs = np.geomspace(20.0, min(20000.0, 0.4 * fs), 300)
    assert k_gain_db(freqs, fs) == pytest.approx(k_gain_db(freqs), abs=0.02)


def test_the_analogue_sections_give_the_tables_back() -> None:
    """Derived for a rate beside 48 kHz, they approach Tables 1 and 2 as the rate does."""
    assert k_weighting.sections(48000.0001) == pytest.approx(k_weighting.TABLES_AT_48K, abs=1e-8)


@pytest.mark.parametrize("dtype", [np.float32, np.float64])
@pytest.mark.parametrize("fs", [44100, 48000])
def test_block_filter_equals_scipy_sosfilt(fs: int, dtype: type) -> None:
    """scipy.signal.sosfilt, sample by sample, over several blocks."""
    noise = np.random.default_rng(4).normal(size=(2, 400_000)).astype(dtype)
    filter_ = KWeighting(2, fs)
    pieces = [filter_.feed(piece) for piece in np.array_split(noise, 7, axis=1)] + [filter_.finish()]
    weighted = np.concatenate(pieces, axis=1)
    expected = oracle.sosfilt(k_weighting.sections(fs), noise.astype(np.float64), axis=1)
    assert weighted.dtype == dtype
    assert np.abs(weighted - expected).max() < (2e-5 if dtype == np.float32 else 1e-11)


def test_anchor_of_the_recommendation() -> None:
    """ITU-R BS.1770-5, Annex 1: a 0 dB FS sine of 997 Hz on one of L, C, R reads −3.01; on two, 0.0."""
    leg = tone([(20.0, 0.0)], freq=997.0)
    assert measured(leg[None]) == pytest.approx(-3.01, abs=0.005)
    assert measured(np.stack([leg, leg])) == pytest.approx(0.0, abs=0.005)
    assert measured(np.stack([leg, 0 * leg])) == pytest.approx(-3.01, abs=0.005)


@pytest.mark.slow
@pytest.mark.parametrize("fs", [44100, 48000, 96000, 192000])
def test_tech_3341_case_1_at_every_rate(fs: int) -> None:
    """EBU Tech 3341, Table 1, case 1, ±0.1 LU; and every block of 400 ms reads the same."""
    legs = stereo([(20.0, -23.0)], fs)
    assert measured(legs, fs) == pytest.approx(-23.0, abs=0.1)
    blocks = loudness.loudness(weighted_sum(sliding_mean(energies(legs, fs), 4)))
    assert blocks == pytest.approx(np.full(197, -23.0), abs=0.1)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("case", "parts", "expected"),
    [
        (2, [(20.0, -33.0)], -33.0),
        (3, [(10.0, -36.0), (60.0, -23.0), (10.0, -36.0)], -23.0),
        (4, [(10.0, -72.0), (10.0, -36.0), (60.0, -23.0), (10.0, -36.0), (10.0, -72.0)], -23.0),
        (5, [(20.0, -26.0), (20.1, -20.0), (20.0, -26.0)], -23.0),
    ],
)
def test_tech_3341_integrated(case: int, parts: list[tuple[float, float | None]], expected: float) -> None:
    """EBU Tech 3341, Table 1, cases 2 to 5, ±0.1 LU."""
    assert measured(stereo(parts).astype(np.float32)) == pytest.approx(expected, abs=0.1), case


@pytest.mark.slow
def test_tech_3341_case_6_five_legs() -> None:
    """L, R −28; C −24; Ls, Rs −30: −23.0 LUFS. As six legs with a loud LFE it reads the same."""
    left, centre, surround = (tone([(20.0, level)]) for level in (-28.0, -24.0, -30.0))
    five = measured(np.stack([left, left, centre, surround, surround]))
    assert five == pytest.approx(-23.0, abs=0.1)
    six = measured(np.stack([left, left, centre, tone([(20.0, 0.0)]), surround, surround]))
    assert six == pytest.approx(five, abs=1e-9)


@pytest.mark.parametrize("freq", [25.0, 100.0, 500.0, 2000.0, 10000.0])
def test_tones_read_by_the_k_curve(freq: float) -> None:
    """Report ITU-R BS.2217: tones set to X + 0.691 − K(f) dBFS peak on both legs read X, ±0.1."""
    level = -23.0 + 0.691 - float(k_gain_db(freq)[0])
    assert measured(stereo([(10.0, level)], freq=freq)) == pytest.approx(-23.0, abs=0.1)


def test_gates_are_strict_and_at_their_places() -> None:
    """ITU-R BS.1770-5, eq. 6 and 7, on block energies whose loudness is known exactly."""
    energy = 10 ** ((np.array([-20.0, -20.0, -29.0, -35.0, -69.0, -71.0]) + 0.691) / 10)
    above = energy[:5]
    gate = -0.691 + 10 * math.log10(above.mean()) - 10
    assert -35.0 < gate < -29.0
    assert integrated(energy) == pytest.approx(-0.691 + 10 * math.log10(energy[:3].mean()))
    assert integrated(energy[5:]) is None
    assert integrated([]) is None


def test_what_has_no_loudness() -> None:
    assert measured(np.zeros((2, FS))) is None
    assert loudness.loudness(0.0) == -200.0
    assert measured(stereo([(0.399, -20.0)])) is None
    assert measured(np.zeros((1, 0))) is None
    with pytest.raises(ValueError, match="finite"):
        measured(np.full((1, 10), np.inf))
    with pytest.raises(ValueError, match="shape"):
        EnergyMeter(2, FS, 0.1).feed(np.zeros(10))
    with pytest.raises(ValueError, match="1000 Hz"):
        EnergyMeter(1, 500, 0.1)


def test_channel_weights() -> None:
    """ITU-R BS.1770-5, Table 3."""
    assert channel_weights(2) == (1.0, 1.0)
    assert channel_weights(5) == (1.0, 1.0, 1.0, 1.41, 1.41)
    assert channel_weights(6) == (1.0, 1.0, 1.0, 0.0, 1.41, 1.41)
    assert channel_weights(3) == (1.0, 1.0, 1.0)
    with pytest.raises(ValueError, match="weight"):
        weighted_sum(np.ones((2, 3)), weights=[1.0])


@pytest.mark.parametrize("fs", [22050, 44100, 48000])
def test_energies_of_cells_are_those_of_scipy(fs: int) -> None:
    """Squares of the scipy-filtered signal, summed between the nearest samples."""
    noise = np.random.default_rng(5).normal(size=(2, 3 * fs + 77))
    weighted = oracle.sosfilt(k_weighting.sections(fs), noise, axis=1)
    for cell_s in (0.4, 0.15, 0.1, 0.01):
        meter = EnergyMeter(2, fs, cell_s)
        meter.feed(noise)
        got = meter.finish()
        bounds = [math.floor(i * (fs * cell_s) + 0.5) for i in range(400)]
        full = [(a, b) for a, b in pairwise(bounds) if b <= noise.shape[1]]
        expected = np.array([(weighted[:, a:b] ** 2).sum(axis=1) for a, b in full]).T
        assert got.shape == expected.shape
        assert got == pytest.approx(expected, rel=1e-9)


@given(st.lists(st.integers(0, 30_000), max_size=6))
@settings(max_examples=20, deadline=None)
def test_how_the_signal_is_cut_does_not_matter(cuts: list[int]) -> None:
    noise = np.random.default_rng(6).normal(size=(1, 30_000))
    whole, pieces = EnergyMeter(1, 11025, 0.01), EnergyMeter(1, 11025, 0.01)
    whole.feed(noise)
    for piece in np.split(noise, sorted(cuts), axis=1):
        pieces.feed(piece)
    assert pieces.finish() == pytest.approx(whole.finish(), rel=1e-9)
    assert whole.finish().shape == (1, math.floor(30_000 / 110.25))


def test_a_gain_changes_loudness_by_itself() -> None:
    noise = np.random.default_rng(7).normal(size=(2, 5 * FS)) * 0.1
    before, after = measured(noise), measured(noise * 10 ** (-7.5 / 20))
    assert before is not None
    assert after is not None
    assert after - before == pytest.approx(-7.5, abs=1e-9)


def test_sliding_mean_joins_hops_to_blocks() -> None:
    hops = np.random.default_rng(8).uniform(size=(2, 20))
    expected = np.array([hops[:, at : at + 4].mean(axis=1) for at in range(17)]).T
    assert sliding_mean(hops, 4) == pytest.approx(expected, rel=1e-9)
    assert sliding_mean(np.ones((2, 3)), 4).shape == (2, 0)


def test_libebur128_agrees_on_a_lively_programme() -> None:
    """libebur128 1.2.6 through pyebur128: integrated loudness of noise in changing levels."""
    ebur = pytest.importorskip("pyebur128")
    rng = np.random.default_rng(9)
    levels = np.repeat(10 ** (rng.uniform(-45, -15, 30) / 20), FS)
    noise = np.stack([levels, levels * 0.7]) * rng.normal(size=(2, levels.size))
    state = ebur.R128State(2, FS, ebur.MeasurementMode.MODE_I)
    state.add_frames(np.ascontiguousarray(noise.T.ravel()), noise.shape[1])
    assert measured(noise) == pytest.approx(ebur.get_loudness_global(state), abs=1e-3)


@pytest.mark.parametrize(
    ("levels", "due"),
    [
        ((-20.0, -30.0), 10.0),
        ((-20.0, -15.0), 5.0),
        ((-40.0, -20.0), 20.0),
        ((-50.0, -35.0, -20.0, -35.0, -50.0), 15.0),
    ],
)
def test_tech_3342_cases_1_to_4(levels, due):
    """EBU Tech 3342, Table 1: tones of 20 s at each level; the range within 1 LU. Here as energies of 3 s windows."""
    hops = np.concatenate([np.full(200, 10.0 ** ((level + 0.691) / 10.0)) for level in levels])
    assert loudness_range(sliding_mean(hops, 30)) == pytest.approx(due, abs=1.0)


def test_silence_has_no_range():
    assert loudness_range(np.zeros(100)) is None
