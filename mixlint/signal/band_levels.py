"""The level of a signal in bands of frequency, such as third octaves."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mixlint.signal.decibel import FLOOR_DB, power_to_db
from mixlint.signal.deconvolution import fast_length, rows

Floats = NDArray[np.float64]


def band_levels_db(samples: ArrayLike, fs: float, centres_hz: ArrayLike, octaves: float = 1.0 / 3.0) -> Floats:
    """The level in bands: the power of the samples between centre · 2^(∓octaves/2), all legs together.

    The difference between a printed return and its dry signal, band by band, is what the path did to the tone:
    with it a low cut is measured as 60 Hz relative to 1 kHz.

    Args:
        samples: (n,) or (legs, n), full scale 1.0.
        fs: sample rate in Hz.
        centres_hz: middles of the bands in Hz, shape (bands,).
        octaves: width of a band.

    Returns:
        mean square per leg in dB, −200 for silence and for a band beyond fs/2, shape (bands,).
    """
    table = rows(samples)
    n = table.shape[1]
    centres = np.atleast_1d(np.asarray(centres_hz, dtype=np.float64))
    if n == 0:
        return np.full(centres.shape, FLOOR_DB)
    # Welch's averaged periodograms, Hann, half overlapping; bins of 3 Hz at most, so that a third of 60 Hz has several.
    size = min(fast_length(math.ceil(fs / 3.0)), n)
    window = np.hanning(size + 1)[:-1] if size > 1 else np.ones(1)
    power = np.zeros(size // 2 + 1)
    starts = range(0, n - size + 1, max(1, size // 2))
    for start in starts:
        power += (np.abs(np.fft.rfft(table[:, start : start + size] * window, axis=1)) ** 2).mean(axis=0)
    # Twice, for the half of the spectrum that rfft leaves out; 0 Hz is in no band.
    power *= 2.0 / (len(starts) * size * float((window * window).sum()))
    bins = np.fft.rfftfreq(size, 1.0 / fs)
    half = 2.0 ** (octaves / 2.0)
    inside = (bins >= centres[:, None] / half) & (bins < centres[:, None] * half)
    return power_to_db(np.asarray(inside @ power))
