"""What two signals of one source make where they are summed: a comb, whose notches their delay places.

A sound of power 1 and its copy of power g², later by τ and with the coherence γ² of the two, add up to
1 + g² + 2 g γ cos 2πfτ (interference of two partially coherent waves: Born & Wolf, *Principles of Optics*, 10.3). With
γ = 1 that is the feed-forward comb filter of signal processing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

DEEPEST_DB = -40.0
"""A notch deeper than this is told as this: no room and no converter leaves more."""


def comb_db(hz: Floats, lag_s: float, level_db: float, polarity: int, agreement: float = 1.0) -> Floats:
    """How the sum stands to the sum of the two powers, dB, at frequencies ``hz`` (F,).

    Args:
        hz: frequencies.
        lag_s: how much later the second is, seconds.
        level_db: how much louder the second is, dB.
        polarity: 1 the same, −1 turned over.
        agreement: magnitude-squared coherence of the two, 0 to 1.
    """
    swing = polarity * _swing(level_db, agreement)
    summed = 1.0 + swing * np.cos(2.0 * np.pi * hz * lag_s)
    return np.asarray(10.0 * np.log10(np.maximum(summed, 10.0 ** (DEEPEST_DB / 10.0))))


def depth_db(level_db: float, agreement: float = 1.0) -> float:
    """The deepest point of that curve, dB, 0 or less; the arguments are those of :func:`comb_db`."""
    return float(10.0 * np.log10(max(1.0 - _swing(level_db, agreement), 10.0 ** (DEEPEST_DB / 10.0))))


def first_notch_hz(lag_s: float, polarity: int) -> float:
    """Where the lowest notch above 0 Hz lies: half a period of the delay, or a whole one where one is turned over."""
    return (0.5 if polarity > 0 else 1.0) / max(abs(lag_s), 1e-9)


def _swing(level_db: float, agreement: float) -> float:
    ratio = 10.0 ** (float(np.clip(level_db, -200.0, 200.0)) / 20.0)
    return float(2.0 * ratio / (1.0 + ratio * ratio) * np.sqrt(np.clip(agreement, 0.0, 1.0)))
