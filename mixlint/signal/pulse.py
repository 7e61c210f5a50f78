"""At which tempo strokes come, from the times of the strokes alone."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

DIVISIONS: Final = (2.0, 4.0)
"""Eighths and sixteenths of a beat of a quarter: what most parts move in."""

PLACES: Final = 128
"""Strokes are counted in so many places a beat, so that one transform tells all tempos."""

FINER: Final = 8
"""The transform is filled up to so many times its length, so that no peak falls between two of its lines."""

AROUND: Final = 0.1
"""Tempos within 10 % are tried: 44.1 kHz that plays at 48 kHz is 8.8 % fast."""


def ratios(beats: float) -> Floats:
    """The tempos that are tried, as ratios to the one expected: fine enough for strokes over so many beats."""
    step = min(0.002, 0.25 / max(DIVISIONS) / max(beats, 1.0))
    return 1.0 + np.arange(-AROUND, AROUND + step / 2.0, step)


def pulse(beats: Floats, weights: Floats, tried: Floats) -> Floats:
    """How well strokes lie on a grid, for each tempo tried.

    Args:
        beats: (n,) when the strokes come, in beats of the tempo expected.
        weights: (n,) how strong they are.
        tried: (m,) ratios to that tempo.

    Returns:
        (m,) from 0, anywhere, to 1, each on the grid: the length of the mean of unit vectors that turn once an eighth,
        or once a sixteenth, whichever is longer (vector strength; Goldberg & Brown, J. Neurophysiol. 32, 1969).
    """
    total = float(weights.sum())
    if total <= 0.0:
        return np.zeros(tried.size)
    first = float(beats.min())
    places = np.rint((beats - first) * PLACES).astype(np.int64)
    rows = np.bincount(places, weights)
    size = 1 << (FINER * rows.size).bit_length()
    lengths = np.abs(np.fft.rfft(rows, size)) / total
    turns = np.arange(lengths.size) * (PLACES / size)
    return np.asarray(np.max([np.interp(tried * division, turns, lengths) for division in DIVISIONS], axis=0))
