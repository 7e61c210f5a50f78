"""Levels in bands: identities of sines and noise, and filters made with scipy."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import signal as oracle

from mixlint.signal.band_levels import band_levels_db

FS = 48000


@pytest.mark.parametrize("fs", [44100, 48000])
def test_band_levels_of_sines_and_noise(fs: int) -> None:
    """A sine of amplitude a holds a²/2; white noise of power p holds p · width/(fs/2) in a band (identities)."""
    t = np.arange(4 * fs) / fs
    sines = 0.5 * np.sin(2 * np.pi * 60 * t) + 0.1 * np.sin(2 * np.pi * 1000 * t)
    expected = [20 * math.log10(0.5) - 3.0103, -20 - 3.0103]
    assert band_levels_db(sines, fs, [60.0, 1000.0]) == pytest.approx(expected, abs=0.1)
    assert band_levels_db(np.stack([sines, sines]), fs, [60.0, 1000.0]) == pytest.approx(expected, abs=0.1)
    noise = np.random.default_rng(6).normal(size=10 * fs)
    width = 1000 * (2 ** (1 / 6) - 2 ** (-1 / 6))
    assert band_levels_db(noise, fs, 1000.0)[0] == pytest.approx(10 * math.log10(width / (fs / 2)), abs=0.3)
    assert band_levels_db(noise, fs, [fs]).tolist() == [-200.0]
    assert band_levels_db(np.zeros((2, 0)), fs, [60.0]).tolist() == [-200.0]


@given(st.sampled_from([1, 2, 4]), st.floats(80.0, 400.0))
@settings(max_examples=10, deadline=None)
def test_a_low_cut_on_the_path_is_measured(order: int, corner: float) -> None:
    """60 Hz relative to 1 kHz through scipy.signal.butter, read from the print and its dry signal."""
    noise = np.random.default_rng(7).normal(size=8 * FS)
    sos = oracle.butter(order, corner, "highpass", fs=FS, output="sos")
    change = band_levels_db(oracle.sosfilt(sos, noise), FS, [60.0, 1000.0]) - band_levels_db(noise, FS, [60.0, 1000.0])
    _, response = oracle.freqz_sos(sos, worN=[60.0, 1000.0], fs=FS)
    expected = 20 * np.log10(np.abs(response))
    assert change[0] - change[1] == pytest.approx(expected[0] - expected[1], abs=1.5)
