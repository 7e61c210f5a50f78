"""The comb of two signals, against scipy and against summed noise."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import signal

from mixlint.signal.comb import DEEPEST_DB, comb_db, depth_db, first_notch_hz

RATE = 48_000


@pytest.mark.parametrize("polarity", [1, -1])
@pytest.mark.parametrize(("samples", "level_db"), [(48, 0.0), (48, -6.0), (111, 3.0), (7, -12.0)])
def test_the_curve_is_that_of_a_feed_forward_comb_filter(samples: int, level_db: float, polarity: int) -> None:
    """scipy.signal.freqz of 1 + g z^-k, against the sum of the two powers."""
    gain = 10.0 ** (level_db / 20.0)
    taps = np.zeros(samples + 1)
    taps[0], taps[-1] = 1.0, polarity * gain
    hz, response = signal.freqz(taps, worN=np.linspace(30.0, 16_000.0, 700), fs=RATE)
    expected = np.maximum(20.0 * np.log10(np.abs(response) + 1e-12) - 10.0 * np.log10(1.0 + gain * gain), DEEPEST_DB)
    assert comb_db(hz, samples / RATE, level_db, polarity) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("polarity", [1, -1])
def test_the_first_notch_is_the_lowest_point(polarity: int) -> None:
    hz = np.linspace(20.0, 1500.0, 4000)
    lag_s = 0.001
    curve = comb_db(hz, lag_s, 0.0, polarity)
    lowest = hz[200:][int(np.argmin(curve[200:]))] if polarity < 0 else hz[int(np.argmin(curve))]
    assert first_notch_hz(lag_s, polarity) == pytest.approx(lowest, rel=0.01)


def test_the_depth_follows_the_level_and_the_coherence() -> None:
    """A copy 9 dB down: 20 log10(1 − 10^(−9/20)) against its own power (arithmetic), and half a coherence of noise."""
    gain = 10.0 ** (-9.0 / 20.0)
    assert depth_db(-9.0) == pytest.approx(20.0 * np.log10(1.0 - gain) - 10.0 * np.log10(1.0 + gain * gain))
    assert depth_db(float("inf")) == pytest.approx(0.0, abs=1e-6)
    assert depth_db(0.0) == DEEPEST_DB
    rng = np.random.default_rng(4)
    shared, own = rng.standard_normal(400_000), rng.standard_normal(400_000)
    other = (shared + own) / np.sqrt(2.0)  # coherence ½ with the shared one, equal power
    against = 10.0 * np.log10(np.mean((shared - other) ** 2) / 2.0)
    assert depth_db(0.0, 0.5) == pytest.approx(against, abs=0.05)
