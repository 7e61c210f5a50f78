"""How notes lie against equal temperament on A4 = 440 Hz (ISO 16:1975): by spectral lines, in one octave."""

from __future__ import annotations

from functools import lru_cache
from math import log2
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

WINDOW_S: Final = 0.37
"""Long enough to part the lines of neighbouring semitones from 80 Hz up; a power of two of samples near it is taken."""

BINS: Final = 120
"""An octave in steps of 10 cents."""

LOWEST_HZ: Final = 80.0
HIGHEST_HZ: Final = 1500.0
"""Above, partials of strings run sharp, and the fifth and seventh harmonic belong to no note of the scale."""

UNDER_THE_HIGHEST: Final = 0.03
"""A line counts down to 30 dB under the highest of its window."""


class Tuning(NamedTuple):
    """Where the notes of a sound lie.

    Args:
        cents: how far its notes lie over (or, negative, under) those of equal temperament on 440 Hz, −50 to 50.
        agreement: how well they agree on that, 0 to 1: the length of the mean of unit vectors, one turn a semitone.
        notes: how many of the twelve notes hold 5 % of the weight or more.
    """

    cents: float
    agreement: float
    notes: int


def window_size(fs: float) -> int:
    """Samples of the window at a rate: the power of two nearest to :data:`WINDOW_S`, and no more than a block holds."""
    return min(32_768, 1 << round(log2(WINDOW_S * fs)))


@lru_cache(maxsize=4)
def _hann(n: int) -> Floats:
    return np.hanning(n)


def note_weights(samples: Floats, fs: float) -> Floats:
    """The weight of each tenth of a semitone in one window.

    Args:
        samples: (:func:`window_size`,) samples.
        fs: sample rate, Hz.

    Returns:
        (120,) sums of the roots of the heights of spectral lines re the highest, by their place above an A.
        A line's frequency comes from a parabola through the logarithms of three bins of a Hann window.
    """
    n = samples.size
    size = np.abs(np.fft.rfft(samples * _hann(n)))
    log = np.log(size + 1e-20)
    low, high = max(4, int(LOWEST_HZ * n / fs)), min(size.size - 4, int(HIGHEST_HZ * n / fs))
    at = np.arange(low, high)
    here = log[at]
    top = (here > log[at - 1]) & (here >= log[at + 1]) & (here > log[at - 3] + 1.0) & (here > log[at + 3] + 1.0)
    at = at[top]
    if not at.size:
        return np.zeros(BINS)
    highest = float(size[at].max())
    at = at[size[at] > UNDER_THE_HIGHEST * highest]
    left, middle, right = log[at - 1], log[at], log[at + 1]
    hz = (at + 0.5 * (left - right) / (left - 2.0 * middle + right)) * fs / n
    place = np.log2(hz / 440.0) * BINS % BINS
    weight = np.sqrt(size[at] / highest)
    # Shared between two bins, so that the mean over bins is that over lines.
    lower = place.astype(np.int64)
    share = place - lower
    weights = np.bincount(lower % BINS, weight * (1.0 - share), BINS)
    return np.asarray(weights + np.bincount((lower + 1) % BINS, weight * share, BINS))


def tuning(weights: Floats) -> Tuning:
    """The tuning that sums of :func:`note_weights` (120,) tell; agreement 0 where there are none."""
    total = float(weights.sum())
    if total <= 0.0:
        return Tuning(0.0, 0.0, 0)
    turn = np.exp(2j * np.pi * np.arange(BINS) / 10.0)
    mean = complex((weights * turn).sum()) / total
    cents = float(np.angle(mean)) / (2.0 * np.pi) * 100.0
    notes = np.roll(weights, 5 - round(cents / 10.0)).reshape(12, 10).sum(axis=1)
    return Tuning(cents, abs(mean), int(np.count_nonzero(notes >= 0.05 * total)))


def apart_cents(one: float, other: float) -> float:
    """How far a tuning lies over another, −50 to 50 cents: a whole semitone more or less cannot be told."""
    return (one - other + 50.0) % 100.0 - 50.0


LEAST_STRETCHES: Final = 2
"""So many stretches before, and after, tell a tuning each; the one between may hold both."""


class Retuned(NamedTuple):
    """A tuning that changes.

    Args:
        before: the tuning up to there, and ``after`` from there on.
        stretch: the stretch in which it changes.
    """

    before: Tuning
    after: Tuning
    stretch: int


def retuned(stretches: Floats) -> Retuned | None:
    """Where the tuning of successive stretches (n, 120) most likely changes; None where there are too few of them.

    The place is the one at which both sides agree best on a tuning of their own.
    """
    best: Retuned | None = None
    worth = 0.0
    for at in range(LEAST_STRETCHES, stretches.shape[0] - LEAST_STRETCHES):
        before, after = tuning(stretches[:at].sum(axis=0)), tuning(stretches[at + 1 :].sum(axis=0))
        if before.agreement * after.agreement > worth:
            best, worth = Retuned(before, after, at), before.agreement * after.agreement
    return best
