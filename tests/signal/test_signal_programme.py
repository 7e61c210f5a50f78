"""Momentary, short-term and integrated loudness, range and true peak of a programme, against EBU Tech 3341 and 3342."""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.signal.programme import Programme, ProgrammeMeter

FS = 48000
RATES = [44100, 48000, 96000]
Parts = list[tuple[float, float | None]]


def stereo(parts: Parts, fs: int = FS, freq: float = 1000.0) -> np.ndarray:
    """A sine on both legs: parts of (seconds, dBFS peak); None is silence."""
    levels = [(round(seconds * fs), 0.0 if db is None else 10 ** (db / 20)) for seconds, db in parts]
    gain = np.repeat([amplitude for _, amplitude in levels], [n for n, _ in levels])
    leg = gain * np.sin(2 * np.pi * freq * np.arange(gain.size) / fs)
    return np.stack([leg, leg]).astype(np.float32)


def measured(legs: np.ndarray, fs: int = FS) -> Programme:
    meter = ProgrammeMeter(legs.shape[0], fs)
    for start in range(0, legs.shape[1], 65_536):
        meter.feed(legs[:, start : start + 65_536])
    return meter.result()


@pytest.mark.parametrize("fs", RATES)
@pytest.mark.parametrize("level", [-23.0, -33.0])
def test_tech_3341_cases_1_and_2(level: float, fs: int) -> None:
    """EBU Tech 3341, Table 1: M, S and I all read the level, ±0.1 LU."""
    got = measured(stereo([(20.0, level)], fs), fs)
    for one in (got.integrated_lufs, got.momentary_lufs, got.short_term_lufs):
        assert one == pytest.approx(level, abs=0.1)


INTEGRATED: list[tuple[int, Parts]] = [
    (3, [(10.0, -36.0), (60.0, -23.0), (10.0, -36.0)]),
    (4, [(10.0, -72.0), (10.0, -36.0), (60.0, -23.0), (10.0, -36.0), (10.0, -72.0)]),
    (5, [(20.0, -26.0), (20.1, -20.0), (20.0, -26.0)]),
]


LONG_AT: list[tuple[int, int]] = [(3, 44100), (4, 48000), (5, 48000), (5, 96000)]
"""Which long case runs at which rate: each once, and one at a high rate."""


@pytest.mark.parametrize(
    ("case", "fs"),
    [pytest.param(*one, marks=() if one == (5, 48000) else pytest.mark.slow) for one in LONG_AT],
)
def test_tech_3341_cases_3_to_5(case: int, fs: int) -> None:
    """EBU Tech 3341, Table 1: I = −23.0 ±0.1 LUFS."""
    parts = dict(INTEGRATED)[case]
    assert measured(stereo(parts, fs), fs).integrated_lufs == pytest.approx(-23.0, abs=0.1)


@pytest.mark.parametrize("fs", RATES)
def test_tech_3341_case_6_five_legs(fs: int) -> None:
    """L, R −28; C −24; Ls, Rs −30 dBFS: I = −23.0 ±0.1 LUFS."""
    legs = [stereo([(20.0, level)], fs)[0] for level in (-28.0, -28.0, -24.0, -30.0, -30.0)]
    assert measured(np.stack(legs), fs).integrated_lufs == pytest.approx(-23.0, abs=0.1)


@pytest.mark.parametrize("fs", RATES)
def test_tech_3341_cases_9_and_12_constant_windows(fs: int) -> None:
    """Bursts that fill each window alike: the highest short-term, and momentary, is −23.0 ±0.1 LUFS."""
    assert measured(stereo([(1.34, -20.0), (1.66, -30.0)] * 5, fs), fs).short_term_lufs == pytest.approx(-23.0, abs=0.1)
    assert measured(stereo([(0.18, -20.0), (0.22, -30.0)] * 25, fs), fs).momentary_lufs == pytest.approx(-23.0, abs=0.1)


@pytest.mark.parametrize("fs", RATES)
@pytest.mark.parametrize("i", [0, 1, 7, 13, 19])
def test_tech_3341_cases_10_and_13_wherever_the_sound_begins(i: int, fs: int) -> None:
    """A tone as long as the window after i · 150 ms (20 ms) of silence: at most −23.0 ±0.1 LUFS, and there."""
    short = measured(stereo([(i * 0.15, None), (3.0, -23.0), (1.0, None)], fs), fs)
    assert short.short_term_lufs == pytest.approx(-23.0, abs=0.1)
    assert short.short_term_s == pytest.approx(i * 0.15, abs=0.02)
    moment = measured(stereo([(i * 0.02, None), (0.4, -23.0), (1.0, None)], fs), fs)
    assert moment.momentary_lufs == pytest.approx(-23.0, abs=0.1)
    assert moment.momentary_s == pytest.approx(i * 0.02, abs=0.02)


@pytest.mark.parametrize("i", [0, 9, 19])
def test_tech_3341_cases_11_and_14_successive_maxima(i: int) -> None:
    """Bursts of 3 s (0.4 s) at −38 … −19 dBFS: cut after each, the maximum is that of the last."""
    short: Parts = []
    moment: Parts = []
    for n in range(i + 1):
        short += [(n * 0.15, None), (3.0, -38.0 + n), (3.0 - n * 0.15, None)]
        moment += [(n * 0.02, None), (0.4, -38.0 + n), (0.4 - n * 0.02, None)]
    # The last bursts tell, and two before them stand for the lower ones that went before.
    assert measured(stereo(short[-9:])).short_term_lufs == pytest.approx(-38.0 + i, abs=0.1)
    assert measured(stereo(moment)).momentary_lufs == pytest.approx(-38.0 + i, abs=0.1)


RANGES: list[tuple[Parts, float, int]] = [
    ([(20.0, -20.0), (20.0, -30.0)], 10.0, 48000),
    ([(20.0, -20.0), (20.0, -15.0)], 5.0, 44100),
    ([(20.0, -40.0), (20.0, -20.0)], 20.0, 96000),
    ([(20.0, -50.0), (20.0, -35.0), (20.0, -20.0), (20.0, -35.0), (20.0, -50.0)], 15.0, 48000),
]


@pytest.mark.parametrize(
    ("parts", "expected", "fs"),
    [pytest.param(*case, marks=() if number == 0 else pytest.mark.slow) for number, case in enumerate(RANGES)],
)
def test_tech_3342_cases_1_to_4(parts: Parts, expected: float, fs: int) -> None:
    """EBU Tech 3342, Table 1, ±1 LU."""
    assert measured(stereo(parts, fs), fs).range_lu == pytest.approx(expected, abs=1.0)


def test_libebur128_agrees_on_noise() -> None:
    """libebur128 1.2.6 through pyebur128 on noise: I ±0.02 LU, true peak ±0.3 dB (its interpolator is short)."""
    ebur = pytest.importorskip("pyebur128")
    steps = np.repeat([0.02, 0.2, 0.05, 0.1], FS * 3)
    noise = (np.random.default_rng(4).normal(size=(2, steps.size)) * steps).astype(np.float32)
    mode = ebur.MeasurementMode.MODE_I | ebur.MeasurementMode.MODE_TRUE_PEAK
    state = ebur.R128State(2, FS, mode)
    state.add_frames(np.ascontiguousarray(noise.T, dtype=np.float64).reshape(-1), noise.shape[1])
    got = measured(noise)
    assert got.integrated_lufs == pytest.approx(ebur.get_loudness_global(state), abs=0.02)
    expected = [20 * np.log10(ebur.get_true_peak(state, leg)) for leg in (0, 1)]
    assert got.true_peak_dbtp == pytest.approx(expected, abs=0.3)


def test_what_has_no_figure() -> None:
    short = measured(stereo([(0.3, -20.0)]))
    assert (short.integrated_lufs, short.momentary_lufs, short.short_term_lufs, short.range_lu) == (None,) * 4
    silent = measured(np.zeros((2, FS * 4), dtype=np.float32))
    assert silent.integrated_lufs is None
    assert silent.range_lu is None
    assert silent.momentary_lufs == -200.0
    assert silent.true_peak_dbtp == (-200.0, -200.0)
