"""A compressor: how much its gain computer takes away at a steady level, and how its times even that out.

Source: Giannoulis, Massberg & Reiss, "Digital Dynamic Range Compressor Design: A Tutorial and Analysis", JAES 60(6),
399-408, 2012 (gain computer with hard and soft knee; smooth, branching detector in the log domain, behind it). Levels
are dB re full scale, gain changes dB (0 or negative).
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


def _levels(level_db: ArrayLike) -> Floats:
    levels = np.asarray(level_db, dtype=np.float64)
    if not np.isfinite(levels).all():
        raise ValueError("levels must be finite numbers")
    return levels


def _check(ratio: float, knee_db: float) -> None:
    if not ratio >= 1.0:
        raise ValueError("a ratio is 1 or more (n in n:1)")
    if not 0.0 <= knee_db < math.inf:
        raise ValueError("a knee or a range is 0 dB or more")


def gain_change_db(level_db: ArrayLike, threshold_db: float, ratio: float, knee_db: float = 0.0) -> Floats:
    """What a compressor's gain computer does at a steady level.

    With the threshold T, the ratio R and the knee W: 0 for 2(x − T) ≤ −W, (1/R − 1)(x − T + W/2)²/(2W) inside the
    knee, (1/R − 1)(x − T) above it.

    Args:
        level_db: input level x in dBFS, shape (…).
        threshold_db: T in dBFS.
        ratio: R as n in n:1, 1 or more; ``math.inf`` limits.
        knee_db: W in dB; 0 is a hard knee.

    Returns:
        gain change in dB, 0 or negative, shape (…).

    Raises:
        ValueError: a ratio under 1, a negative knee, or a level that is not a number.
    """
    _check(ratio, knee_db)
    over = _levels(level_db) - threshold_db
    slope = 1.0 / ratio - 1.0
    change = np.where(over > 0.0, slope * over, 0.0)
    if knee_db > 0.0:
        half = knee_db / 2.0
        bend = slope * (np.clip(over, -half, half) + half) ** 2 / (2.0 * knee_db)
        change = np.where(np.abs(over) <= half, bend, change)
    return change[()]


def expansion_db(level_db: ArrayLike, threshold_db: float, ratio: float, most_db: float) -> Floats:
    """What a downward expander or a gate takes away at a steady level: (R − 1)(T − x) under the threshold, to a range.

    Args:
        level_db: input level x in dBFS, shape (…).
        threshold_db: T in dBFS.
        ratio: R as 1:n, 1 or more; ``math.inf`` is a gate, which takes its whole range at once.
        most_db: the range, dB, 0 or more.

    Returns:
        dB, 0 or more, shape (…).

    Raises:
        ValueError: a ratio under 1, a negative range, or a level that is not a number.
    """
    _check(ratio, most_db)
    under = np.maximum(threshold_db - _levels(level_db), 0.0)
    if math.isinf(ratio):
        return np.asarray(np.where(under > 0.0, most_db, 0.0))
    return np.asarray(np.minimum((ratio - 1.0) * under, most_db))


def smoothed(taken_db: ArrayLike, attack_s: float, release_s: float, step_s: float) -> Floats:
    """What a compressor takes away over time: what its gain computer asks for, evened out by attack and release.

    The smooth, branching detector: y = α y + (1 − α) x, with α = exp(−step/attack) where x rises over y, else
    exp(−step/release); it begins at 0.

    Args:
        taken_db: what the gain computer takes away, dB, 0 or more, shape (n,).
        attack_s: time constant while more is asked for, seconds; 0 follows at once.
        release_s: time constant while less is.
        step_s: from value to value.

    Returns:
        dB, 0 or more, shape (n,).

    Raises:
        ValueError: a time is negative, or the step is none.
    """
    if not (attack_s >= 0.0 and release_s >= 0.0 and step_s > 0.0):
        raise ValueError("times must be 0 or more, and the step over 0")
    rise, fall = (-math.expm1(-step_s / time) if time > 0.0 else 1.0 for time in (attack_s, release_s))
    held, out = 0.0, []
    for asked in np.asarray(taken_db, dtype=np.float64).tolist():
        held += (rise if asked > held else fall) * (asked - held)
        out.append(held)
    return np.array(out)
