"""Energy in octave bands: against IEC 61260-1, Parseval, and scipy's filters and periodograms."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from scipy import signal

from mixlint.signal.k_weighting import TABLES_AT_48K
from mixlint.signal.octave_bands import CENTRES_HZ, EDGES_HZ, OctaveMeter, k_weights

FS = 48_000


def bands_of(samples: np.ndarray, fs: int = FS, size: int = 4800) -> np.ndarray:
    meter = OctaveMeter(1, fs, size)
    meter.feed(samples[None])
    return meter.finish()[0]


def test_the_bands_are_those_of_the_standard():
    """IEC 61260-1:2014, octave ratio 10^(3/10): nominal 31.5 Hz is 31.623 exactly, its upper edge 44.668."""
    assert CENTRES_HZ[[0, 1, 5, 9]] == pytest.approx([31.623, 63.096, 1000.0, 15848.9], rel=1e-4)
    assert EDGES_HZ[[0, 5]] == pytest.approx([44.668, 1412.54], rel=1e-4)


def test_k_weights_are_the_filter_of_the_recommendation():
    at = [31.6, 100.0, 1000.0, 10_000.0]
    _, response = signal.sosfreqz(TABLES_AT_48K, at, fs=FS)
    assert k_weights(at) == pytest.approx(np.abs(response) ** 2, rel=1e-9)


@pytest.mark.parametrize(("hz", "band"), [(31.6, 0), (63.7, 1), (125.0, 2), (1003.0, 5), (8000.0, 8), (20_000.0, 9)])
def test_a_sine_stands_in_its_own_band(hz, band):
    """A sine of amplitude 1 has 0.5, times the weight of K at its frequency (scipy); little leaks at the edges."""
    found = bands_of(np.sin(2.0 * np.pi * hz * np.arange(20 * FS) / FS))
    _, response = signal.sosfreqz(TABLES_AT_48K, [hz], fs=FS)
    assert found[band] == pytest.approx(0.5 * abs(response[0]) ** 2, rel=0.03)
    assert found.sum() == pytest.approx(found[band], rel=0.02)


def test_noise_agrees_with_the_filter():
    """scipy: K-weighted by sosfilt; the energy between the same edges by one transform of the whole.

    Frames of a tenth of a second have bins of 10 Hz, so that the lowest bands are good to half a decibel.
    """
    noise = signal.lfilter([1.0], [1.0, -0.9], np.random.default_rng(3).standard_normal(60 * FS))
    weighted = signal.sosfilt(TABLES_AT_48K, noise)
    power = 2.0 * np.abs(np.fft.rfft(weighted)) ** 2 / noise.size**2
    at = np.fft.rfftfreq(noise.size, 1.0 / FS)
    limits = [0.0, *EDGES_HZ, FS]
    expected = np.array([power[(at >= a) & (at < b)].sum() for a, b in itertools.pairwise(limits)])
    assert 10.0 * np.log10(bands_of(noise) / expected) == pytest.approx(np.zeros(10), abs=0.6)


def test_the_bands_add_up_to_the_loudness_energy():
    """At 44.1 kHz, an odd frame, two legs, fed in odd pieces: the sum is the mean square behind scipy's filter."""
    noise = np.random.default_rng(4).standard_normal((2, 44_100 * 20))
    meter = OctaveMeter(2, 44_100, 4411)
    for start in range(0, noise.shape[1], 7001):
        meter.feed(noise[:, start : start + 7001])
    weighted = signal.sosfilt(TABLES_AT_48K, noise)  # the tables hold at 48 kHz; at 44.1 they differ by little
    assert meter.finish().sum(axis=1) == pytest.approx((weighted**2).mean(axis=1), rel=0.05)


def test_a_click_at_the_very_beginning_counts():
    """An impulse has a flat spectrum: energies in proportion to the widths of the bands, 1 to 2."""
    click = np.zeros(FS)
    click[0] = 1.0
    found = bands_of(click) / k_weights(CENTRES_HZ)
    assert found[6] / found[5] == pytest.approx(2.0, rel=0.1)


def test_nothing_gives_nothing():
    assert OctaveMeter(2, FS, 4800).finish().tolist() == [[0.0] * 10] * 2


def test_the_course_adds_up_to_the_bands():
    """Unweighted, tenth by tenth; their mean in each band is scipy's Welch estimate without overlap (Hann)."""
    samples = np.random.default_rng(5).standard_normal(40 * FS)
    meter = OctaveMeter(1, FS, 4800)
    meter.feed(samples[None])
    meter.finish()
    course = meter.course()
    hz, density = signal.welch(samples, FS, window="hann", nperseg=4800, noverlap=0, detrend=False)
    power = density * (hz[1] - hz[0])
    edges = [0, *np.searchsorted(hz, EDGES_HZ), hz.size]
    expected = [power[a:b].sum() for a, b in itertools.pairwise(edges)]
    assert course[3:, 1:-2].mean(axis=1) == pytest.approx(expected[3:], rel=0.04)


@pytest.mark.parametrize(("hz", "row"), [(333.3, 0), (1000.0, 2), (2467.2, 3), (4321.0, 4)])
def test_the_strongest_line_is_told_with_its_frequency(hz, row):
    """Known tones: the frequency to a fortieth of a bin of 10 Hz, the level of a sine of amplitude 1."""
    meter = OctaveMeter(1, FS, 4800)
    meter.feed(np.sin(2.0 * np.pi * hz * np.arange(2 * FS) / FS)[None])
    meter.finish()
    at, power = meter.lines()[:, row, 2:-2]
    assert at == pytest.approx(hz, abs=0.25)
    assert power == pytest.approx(0.5, rel=0.02)
