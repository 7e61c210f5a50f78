"""Howls and runaway repeats of known frequency, growth, distance and gain. Common practice, no source: planted."""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.signal.octave_bands import LINES, OctaveMeter
from mixlint.signal.rings import Ring, repeats, rings

FS = 48_000.0


def found_in(samples: np.ndarray) -> list[Ring]:
    meter = OctaveMeter(1, FS, 4800)
    meter.feed(samples[None].astype(np.float32))
    meter.finish()
    hz, power = meter.lines()
    level, bands = (10.0 * np.log10(part + 1e-20) for part in (power, meter.course()[LINES]))
    return rings(hz, level, bands, 8, 15.0, -50.0)


def tone(hz: float, seconds: float, start_db: float, end_db: float) -> np.ndarray:
    t = np.arange(int(seconds * FS)) / FS
    return 10.0 ** (np.interp(t, [0.0, seconds], [start_db, end_db]) / 20.0) * np.sin(2.0 * np.pi * hz * t)


@pytest.mark.parametrize("hz", [315.0, 1234.5, 2467.0, 3900.0])
def test_a_howl_is_found_with_its_frequency(hz: float) -> None:
    noise = 1e-4 * np.random.default_rng(1).standard_normal(int(3 * FS))
    (found,) = found_in(tone(hz, 3.0, -70.0, -14.0) + noise)
    assert found.hz == pytest.approx(hz, abs=0.5)
    assert found.level_db == pytest.approx(
        -18.5, abs=1.0
    )  # RMS, and the mean of a tenth of a second that grows by 2 dB
    assert found.grows_db >= 35.0


def test_a_note_that_swells_has_partials() -> None:
    assert found_in(sum(tone(440.0 * number, 3.0, -70.0, -14.0 - 2.0 * number) for number in (1, 2, 3))) == []


def test_a_tone_that_stands_does_not_grow() -> None:
    assert found_in(tone(1000.0, 3.0, -14.0, -14.0)) == []


def test_a_tone_that_wavers_is_a_voice() -> None:
    t = np.arange(int(3 * FS)) / FS
    phase = 2.0 * np.pi * 1000.0 * t + 1000.0 * 0.008 / 5.5 * np.sin(2.0 * np.pi * 5.5 * t) * 2.0 * np.pi
    glide = phase + 2.0 * np.pi * 15.0 * t * t  # and it slides up by 90 Hz
    assert found_in(10.0 ** (np.interp(t, [0.0, 3.0], [-70.0, -14.0]) / 20.0) * np.sin(glide)) == []


@pytest.mark.parametrize("gain", [0.5, 0.95, 1.05])
def test_repeats_tell_their_distance_and_their_gain(gain: float) -> None:
    late = int(0.4 * FS)
    samples = np.zeros(int(8 * FS))
    samples[:late] = 0.02 * np.random.default_rng(2).standard_normal(late)
    samples[late // 2 : late] = 0.0
    for start in range(late, samples.size, late):
        end = min(samples.size, start + late)
        samples[start:end] = gain * samples[start - late : end - late]
    found = repeats(samples, FS)[0]
    assert found.every_s == pytest.approx(0.4, abs=0.001)
    assert found.gain == pytest.approx(gain, rel=0.02)
    assert found.like >= 0.99


def test_noise_does_not_repeat_itself() -> None:
    assert max(one.like for one in repeats(0.1 * np.random.default_rng(3).standard_normal(int(8 * FS)), FS)) < 0.2
