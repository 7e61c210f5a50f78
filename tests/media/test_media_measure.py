"""One pass over a file gives the levels that the published standards and numpy give."""

from __future__ import annotations

import io
import math
import tracemalloc
from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest
import soundfile
from hypothesis import given, settings
from hypothesis import strategies as st

from mixlint.media.audio import AudioFile
from mixlint.media.header import Header
from mixlint.media.measure import Measure
from mixlint.media.meter import measure_source, meter
from mixlint.session import Unknown
from mixlint.units import SILENCE_DB

RATE = 48_000


def tone(level_db: float, seconds: float, freq_hz: float = 1000.0, rate: int = RATE) -> np.ndarray:
    time = np.arange(round(seconds * rate)) / rate
    return 10.0 ** (level_db / 20.0) * np.sin(2.0 * np.pi * freq_hz * time)


def stereo(*parts: np.ndarray) -> np.ndarray:
    whole = np.concatenate(parts)
    return np.stack([whole, whole], axis=1)


def measured(samples: np.ndarray, form: str = "WAV", subtype: str = "FLOAT", rate: int = RATE) -> Measure:
    file = io.BytesIO()
    soundfile.write(file, samples, rate, format=form, subtype=subtype)
    return measure_source(file, name="take")


def head(legs: int = 2, rate: int = RATE, is_float: bool = True) -> Header:
    no = Unknown(unknown="made up here")
    return Header("WAV", "FLOAT", legs, rate, 0, no, 32, is_float, False, no, False)


# EBU Tech 3341 (v4.0), Table 1, minimum requirements 1 to 5: 1 kHz stereo tones, per-channel peak level and seconds;
# each must read −23.0 ±0.1 LUFS (−33.0 for the second).
EBU = [
    ([(-23.0, 20.0)], -23.0),
    ([(-33.0, 20.0)], -33.0),
    ([(-36.0, 10.0), (-23.0, 60.0), (-36.0, 10.0)], -23.0),
    ([(-72.0, 10.0), (-36.0, 10.0), (-23.0, 60.0), (-36.0, 10.0), (-72.0, 10.0)], -23.0),
    ([(-26.0, 20.0), (-20.0, 20.1), (-26.0, 20.0)], -23.0),
]


@pytest.mark.slow
@pytest.mark.parametrize(("tones", "expected"), EBU)
def test_integrated_loudness_of_a_file_reads_as_the_standard_demands(
    tones: list[tuple[float, float]], expected: float
) -> None:
    found = measured(stereo(*(tone(level, seconds) for level, seconds in tones)), subtype="PCM_24")
    assert found.integrated_lufs == pytest.approx(expected, abs=0.1)


@pytest.mark.slow
@pytest.mark.parametrize("rate", [44_100, 48_000, 88_200, 96_000])
def test_the_anchor_of_the_loudness_scale(rate: int) -> None:
    """ITU-R BS.1770-5, Annex 1: a 0 dBFS sine at 997 Hz on one of two legs reads −3.01 LKFS; on both, 0.0."""
    sine = tone(0.0, 3.0, 997.0, rate)
    one = measured(np.stack([sine, np.zeros_like(sine)], axis=1), rate=rate)
    both = measured(np.stack([sine, sine], axis=1), rate=rate)
    assert one.integrated_lufs == pytest.approx(-3.01, abs=0.03)
    assert both.integrated_lufs == pytest.approx(0.0, abs=0.03)
    assert one.block_s == pytest.approx(0.1)


def test_loudness_agrees_with_an_open_reference_meter() -> None:
    """libebur128, through pyebur128, on noise with a loud and a quiet half."""
    pyebur128 = pytest.importorskip("pyebur128")
    noise = np.random.default_rng(3).standard_normal((RATE * 8, 2)) * 0.1
    noise[RATE * 4 :] *= 0.2
    state = pyebur128.R128State(2, RATE, pyebur128.MeasurementMode.MODE_I)
    state.add_frames(noise.ravel(), len(noise))
    assert measured(noise).integrated_lufs == pytest.approx(pyebur128.get_loudness_global(state), abs=0.01)


def correlation(found: Measure) -> float:
    """Of the two legs over the whole file, from the mean squares and the mean product of its blocks."""
    left, right = found.power.sum(axis=1)
    return float(found.product.sum() / math.sqrt(left * right))


def test_block_energies_and_products_equal_those_of_scipy() -> None:
    """scipy.signal.sosfilt with the coefficients of BS.1770-5, Tables 1 and 2, over the file in one piece."""
    from scipy.signal import sosfilt

    sections = [
        [1.53512485958697, -2.69169618940638, 1.19839281085285, 1.0, -1.69065929318241, 0.73248077421585],
        [1.0, -2.0, 1.0, 1.0, -1.99004745483398, 0.99007225036621],
    ]
    samples = np.random.default_rng(5).standard_normal((RATE * 5 + 1234, 2)) * 0.1
    samples[:, 1] = 0.6 * samples[:, 0] - 0.4 * samples[:, 1]
    samples = samples.astype(np.float32)
    found = measured(samples)
    padded = np.pad(samples.astype(float), ((0, 4800 - 1234), (0, 0)))
    left, right = sosfilt(sections, padded, axis=0).T.reshape(2, -1, 4800)
    assert found.energy.shape == (2, 51)
    np.testing.assert_allclose(found.energy, [(left**2).mean(1), (right**2).mean(1)], rtol=2e-4)
    np.testing.assert_allclose(found.cross, (left * right).mean(1), rtol=2e-3, atol=2e-6)
    left, right = padded.T.reshape(2, -1, 4800)
    np.testing.assert_allclose(found.power, [(left**2).mean(1), (right**2).mean(1)], rtol=1e-5)
    np.testing.assert_allclose(found.product, (left * right).mean(1), rtol=1e-4, atol=1e-8)
    assert correlation(found) == pytest.approx(np.corrcoef(*samples.T)[0, 1], abs=1e-4)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(1, 30_000), min_size=1, max_size=6), st.sampled_from([1, 2, 3]), st.integers(1, 200_000))
def test_the_result_is_the_same_however_blocks_fall(cuts: list[int], legs: int, frames: int) -> None:
    samples = (np.random.default_rng(frames).standard_normal((legs, frames)) * 0.4).clip(-1, 1).astype(np.float32)
    samples[:, frames // 3 : frames // 3 + 50] = 0.0

    def blocks() -> list[np.ndarray]:
        out, at, turn = [], 0, 0
        while at < frames:
            out.append(samples[:, at : at + cuts[turn % len(cuts)]])
            at, turn = at + cuts[turn % len(cuts)], turn + 1
        return out

    one, other = meter(head(legs, 8000), [samples]), meter(head(legs, 8000), blocks())
    for name in ("energy", "cross", "power", "product", "mean", "apart", "peak", "lags", "spectrum"):
        assert np.array_equal(getattr(one, name), getattr(other, name)), name
    for name in (
        "frames", "sample_peak_db", "integrated_lufs", "head_peak_db", "tail_peak_db", "first", "last", "marks",
        "mark_counts", "rests", "used_bits",
    ):  # fmt: skip
        assert getattr(one, name) == getattr(other, name), name
    assert one.sample_peak_db == pytest.approx(20 * np.log10(np.abs(samples).max(axis=1) + 1e-10), abs=1e-3)
    assert one.first == tuple(samples[:, 0].tolist())
    assert one.last == tuple(samples[:, -1].tolist())
    edge = min(frames, 400)
    assert one.head_peak_db == pytest.approx(20 * np.log10(np.abs(samples[:, :edge]).max(axis=1) + 1e-10), abs=1e-3)
    assert one.tail_peak_db == pytest.approx(20 * np.log10(np.abs(samples[:, -edge:]).max(axis=1) + 1e-10), abs=1e-3)


def test_clipping_is_marked_with_its_times() -> None:
    sine = (tone(6.0, 1.0, 100.0)).clip(-1.0, 1.0)
    found = measured(np.stack([sine, tone(-1.0, 1.0, 100.0)], axis=1), subtype="PCM_24")
    assert found.mark_counts == {"clipped": 200}
    marks = found.marks
    assert {(mark.kind, mark.leg) for mark in marks} == {("clipped", 0)}
    # 2 sin(x) reaches 1 at x = π/6: sample 40 of the 480 in a period, and stays there for 2/3 of the half wave.
    assert marks[0].start_s == pytest.approx(40 / RATE, abs=1.5 / RATE)
    assert marks[0].length_s == pytest.approx(160 / RATE, abs=2 / RATE)
    assert marks[1].start_s - marks[0].start_s == pytest.approx(0.005, abs=2 / RATE)
    assert marks[0].level_db == pytest.approx(0.0, abs=0.001)


def test_a_clipped_take_that_was_turned_down_shows_flat_tops() -> None:
    quiet = tone(6.0, 1.0, 101.3).clip(-1.0, 1.0) * 0.3
    found = measured(np.stack([quiet, tone(-10.0, 1.0, 101.3)], axis=1), subtype="PCM_24")
    assert set(found.mark_counts) == {"flat"}
    assert found.mark_counts["flat"] == pytest.approx(202, abs=3)
    assert found.marks[0].level_db == pytest.approx(20.0 * np.log10(0.3), abs=0.01)


def test_a_hole_in_the_sound_is_found_and_an_ending_is_not() -> None:
    sine = tone(-6.0, 2.0, 440.0)
    sine[RATE + 20 : RATE + 500] = 0.0  # ten milliseconds at one second
    faded = np.concatenate([sine, np.zeros(RATE // 2), tone(-80.0, 1.0)])
    found = measured(np.stack([faded, tone(-6.0, 3.5, 441.3)], axis=1))
    assert found.mark_counts == {"hole": 1}
    (hole,) = found.marks
    assert (hole.leg, hole.start_s) == (0, pytest.approx(1.0 + 20 / RATE, abs=2 / RATE))
    assert hole.length_s == pytest.approx(0.01, abs=2 / RATE)
    assert hole.level_db == pytest.approx(-6.0, abs=0.3)


def test_an_offset_is_the_mean() -> None:
    found = measured(np.stack([tone(-20.0, 1.05) + 0.01, tone(-20.0, 1.05)], axis=1))
    assert found.mean[:, :10].mean(axis=1) == pytest.approx((0.01, 0.0), abs=1e-5)
    assert found.mean[0, :10] == pytest.approx(np.full(10, 0.01), abs=1e-5)


def test_equal_inverted_dead_and_silent_legs_measure_apart() -> None:
    noise = np.random.default_rng(1).standard_normal((2, RATE)) * 0.1
    same = measured(np.stack([noise[0], noise[0]], axis=1), subtype="PCM_24")
    nearly = measured(np.stack([noise[0], noise[0] + noise[1] * 1e-3], axis=1))
    flipped = measured(np.stack([noise[0], -noise[0]], axis=1))
    one_sided = measured(np.stack([noise[0], noise[1] * 1e-5], axis=1))
    silent = measured(np.zeros((RATE, 2)))
    mono = measured(noise[0])
    assert not same.apart.any()
    # Left − right is 1/1000 of the noise, whose legs have twice its power together: −60 − 3.01 dB.
    assert 10.0 * np.log10(nearly.apart.sum() / nearly.power.sum()) == pytest.approx(-63.01, abs=0.1)
    assert correlation(same) == pytest.approx(1.0)
    assert flipped.apart.sum() == pytest.approx(2.0 * flipped.power.sum(), rel=1e-6)
    assert correlation(flipped) == pytest.approx(-1.0)
    # 1e-5 of noise of RMS 0.1 peaks around −108 dBFS; the other leg's own peaks lie near −8.
    assert one_sided.sample_peak_db[0] > -40.0
    assert one_sided.sample_peak_db[1] < -100.0
    assert silent.sample_peak_db == (SILENCE_DB, SILENCE_DB)
    assert silent.integrated_lufs == SILENCE_DB
    assert not mono.apart.any()
    assert [round(float(lag)) for lag in flipped.lags[0][1:]] == [0, -1]


@lru_cache(maxsize=1)
def four_seconds_of_noise() -> Measure:
    return measured(np.random.default_rng(0).standard_normal((RATE * 4, 2)) * 0.1)


@settings(deadline=None)
@given(start=st.floats(-2.0, 6.0), length=st.floats(0.001, 8.0), count=st.integers(1, 60), seed=st.integers(0, 1000))
def test_energy_at_neither_loses_nor_makes_energy(start: float, length: float, count: int, seed: int) -> None:
    """The steps' energies times their length add up to the whole's; a stretch off the file holds none."""
    found = four_seconds_of_noise()
    steps = found.energy_at(np.linspace(start, start + length, count + 1))
    whole = found.energy_at([start, start + length])
    assert steps.shape == (2, count)
    np.testing.assert_allclose(steps.mean(axis=1), whole[:, 0], rtol=1e-9, atol=1e-15)
    assert np.all(found.energy_at(np.linspace(4.0, 9.0, count + 1)) == 0.0)
    assert np.all(found.energy_at(np.linspace(-5.0, 0.0, count + 1)) == 0.0)
    np.testing.assert_allclose(found.energy_at(np.linspace(0.5, 2.5, 21)), found.energy[:, 5:25], rtol=1e-9)
    np.testing.assert_allclose(found.cross_at(np.linspace(0.5, 2.5, 21)), found.cross[5:25], rtol=1e-6, atol=1e-12)


def test_peaks_between_two_times() -> None:
    found = measured(np.concatenate([tone(-30.0, 1.0), tone(-6.0, 1.0), np.zeros(RATE)]))
    assert found.peak_db_between(0.0, 1.0) == pytest.approx(-30.0, abs=0.1)
    assert found.peak_db_between(0.99, 1.02) == pytest.approx(-6.0, abs=0.1)
    assert found.peak_db_between(2.0, 3.0) == SILENCE_DB
    assert found.peak_db_between(7.0, 8.0) == SILENCE_DB
    assert found.peak.shape == (1, 300)


def test_samples_that_are_no_number_are_counted_and_measured_as_silence() -> None:
    samples = tone(-12.0, 1.0).astype(np.float32)
    samples[[5, 700, 4000]] = [np.nan, np.inf, -3e38]
    found = measured(samples)
    assert found.bad_samples == found.mark_counts["bad"] == 3
    assert [round(mark.start_s * RATE) for mark in found.marks if mark.kind == "bad"] == [5, 700, 4000]
    assert np.isfinite(found.energy).all()
    assert found.sample_peak_db[0] == pytest.approx(-12.0, abs=0.01)


def test_floating_point_over_full_scale_is_measured() -> None:
    found = measured(tone(9.0, 1.0))
    assert found.sample_peak_db[0] == pytest.approx(9.0, abs=0.01)
    assert found.mark_counts == {}


@pytest.mark.parametrize("frames", [0, 1, 10, 4799, 4801])
def test_very_short_files_are_measured(frames: int) -> None:
    found = measured(np.full((frames, 2), 0.5))
    assert found.frames == frames
    assert isinstance(found.integrated_lufs, Unknown)
    assert found.energy.shape == (2, -(-frames // 4800))
    assert found.sample_peak_db == pytest.approx((-6.02,) * 2 if frames else (SILENCE_DB,) * 2, abs=0.01)


def test_loudness_of_many_legs_is_unknown() -> None:
    found = measured(np.random.default_rng(0).standard_normal((RATE, 6)) * 0.1)
    assert isinstance(found.integrated_lufs, Unknown)
    assert found.energy.shape == (6, 10)


def test_a_cut_file_is_measured_and_says_what_is_missing() -> None:
    file = io.BytesIO()
    soundfile.write(file, stereo(tone(-20.0, 4.0)), RATE, format="WAV", subtype="PCM_24")
    found = measure_source(io.BytesIO(file.getvalue()[: len(file.getvalue()) // 2]))
    assert found.header.truncated
    assert found.header.missing_frames == pytest.approx(96_000, abs=30)
    assert found.frames / RATE == pytest.approx(2.0, abs=0.001)


def test_an_awkward_rate_keeps_blocks_close_to_a_tenth_of_a_second() -> None:
    found = measured(stereo(tone(-23.0, 5.0, rate=11_025)), rate=11_025)
    assert found.block_s == pytest.approx(0.1, abs=1e-4)
    assert found.peak.shape[1] == 10 * found.energy.shape[1]
    assert found.integrated_lufs == pytest.approx(-23.0, abs=0.1)


@pytest.mark.slow
def test_a_long_file_is_measured_in_little_memory(tmp_path: Path) -> None:
    """Five minutes of 24-bit stereo, 86 MB on disk and 115 MB as float32: Python holds under 30 MB at any time."""
    path = tmp_path / "long.wav"
    block = (np.random.default_rng(0).standard_normal((RATE * 10, 2)) * 0.1).astype(np.float32)
    with soundfile.SoundFile(path, "w", RATE, 2, subtype="PCM_24") as file:
        for _ in range(30):
            file.write(block)
    tracemalloc.start()
    try:
        found = measure_source(path)
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert found.frames == 300 * RATE
    assert peak < 30e6
    assert math.isclose(found.power.mean(), 0.01, rel_tol=0.01)


def test_a_file_is_measured_the_same_from_a_path_and_an_open_file(tmp_path: Path) -> None:
    samples = np.random.default_rng(0).standard_normal((RATE, 2)) * 0.1
    soundfile.write(tmp_path / "a.flac", samples, RATE)
    one = measure_source(tmp_path / "a.flac")
    with open(tmp_path / "a.flac", "rb") as file, AudioFile(file) as audio:
        other = meter(audio.header, audio.blocks(1000))
    assert np.array_equal(one.energy, other.energy)
    assert one.header == other.header
