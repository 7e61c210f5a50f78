"""True peak: the highest the signal goes between its samples, by oversampling.

Source: ITU-R BS.1770-5, Annex 2: oversample (four times at 48 kHz, twice at 96 kHz is enough), absolute value, dB.
The interpolator is a Kaiser-windowed sine cardinal of 48 taps a phase: flat within 0.02 dB up to 0.45 of the sample
rate, where the example of the Annex, of 12 taps, is 2 dB low. What remains between the oversampled points is the
under-read of Annex 2, Attachment 1: at most 0.55 dB at 0.45 of the sample rate with four points, 0.17 dB at a quarter.
"""

from __future__ import annotations

from functools import cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

TAPS: Final = 48
_HALF: Final = TAPS // 2
_BETA: Final = 6.0
_TWICE_FROM_HZ: Final = 88_000.0


def factor(fs: float) -> int:
    """How often the signal is oversampled at a sample rate: 4, or 2 from 88.2 kHz."""
    return 2 if fs >= _TWICE_FROM_HZ else 4


@cache
def interpolator(times: int) -> Floats:
    """The taps of the points between two samples, (times − 1, TAPS).

    Row p−1 gives the value at p/times of the way from sample n to n + 1 as Σ taps[j] x[n − 23 + j]. Each row passes
    DC without change.
    """
    phase = np.arange(1, times)[:, None] / times
    away = np.arange(TAPS)[None, :] - (_HALF - 1) - phase
    window = np.i0(_BETA * np.sqrt(1.0 - (away / _HALF) ** 2)) / np.i0(_BETA)
    taps = np.sinc(away) * window
    return np.asarray(taps / taps.sum(axis=1, keepdims=True))


def true_peak(samples: ArrayLike, fs: float) -> float:
    """The highest absolute value of all legs of a stretch, between the samples and on them, 1.0 for full scale.

    Silence is taken before and after it, so that a stretch that is cut out wants 24 samples of its surroundings.

    Args:
        samples: (legs, n).
        fs: sample rate in Hz.
    """
    rows = np.asarray(samples, dtype=np.float64)
    highest = float(np.abs(rows).max(initial=0.0))
    taps = interpolator(factor(fs))
    most = float(np.abs(taps).sum(axis=1).max())
    for row in rows:
        # What cannot be lifted over the highest sample is passed over; that changes no result.
        if row.size and float(np.abs(row).max()) * most > highest:
            for one in taps:
                highest = max(highest, float(np.abs(np.convolve(row, one[::-1])).max()))
    return highest
