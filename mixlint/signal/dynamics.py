"""Static curves of compressor, limiter, expander and gate, and the gain reduction along a level envelope.

Source: Giannoulis, Massberg & Reiss, "Digital Dynamic Range Compressor Design: A Tutorial and Analysis", JAES 60(6),
399-408, 2012 (gain computer with hard and soft knee; smooth branching detector). Levels are dB re full scale, gain
changes dB (0 or negative), times seconds. All curves broadcast over an array of levels.
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
        raise ValueError("a knee is 0 dB wide or more")


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


def static_curve_db(level_db: ArrayLike, threshold_db: float, ratio: float, knee_db: float = 0.0) -> Floats:
    """Output level of a compressor at a steady input level, without make-up: the level plus ``gain_change_db``."""
    return np.asarray(_levels(level_db) + gain_change_db(level_db, threshold_db, ratio, knee_db))[()]


def limiter_curve_db(level_db: ArrayLike, threshold_db: float, knee_db: float = 0.0) -> Floats:
    """Output level of a limiter (ratio ∞:1) at a steady input level; never over T with a hard knee."""
    return static_curve_db(level_db, threshold_db, math.inf, knee_db)


def expander_change_db(
    level_db: ArrayLike, threshold_db: float, ratio: float, range_db: float = -200.0, knee_db: float = 0.0
) -> Floats:
    """What a downward expander does at a steady level, the compressor's curve mirrored at its threshold.

    0 for 2(x − T) ≥ W, (1 − R)(x − T − W/2)²/(2W) inside the knee, (R − 1)(x − T) below it; never under the range.

    Args:
        level_db: input level x in dBFS, shape (…).
        threshold_db: T in dBFS.
        ratio: R as 1:n, 1 or more; ``math.inf`` is a gate: the whole range at once below the threshold.
        range_db: the most that is taken away, as a negative number (−200: closed is silent). A positive number is
            read as the same amount taken away.
        knee_db: W in dB; a gate has none.

    Returns:
        gain change in dB, 0 or negative, shape (…).

    Raises:
        ValueError: as ``gain_change_db``.
    """
    _check(ratio, knee_db)
    lowest = -abs(range_db)
    over = _levels(level_db) - threshold_db
    if math.isinf(ratio):
        return np.where(over < 0.0, lowest, 0.0)[()]
    change = np.where(over < 0.0, (ratio - 1.0) * over, 0.0)
    if knee_db > 0.0:
        half = knee_db / 2.0
        bend = (1.0 - ratio) * (np.clip(over, -half, half) - half) ** 2 / (2.0 * knee_db)
        change = np.where(np.abs(over) <= half, bend, change)
    return np.maximum(change, lowest)[()]


def gate_change_db(level_db: ArrayLike, threshold_db: float, range_db: float = -200.0) -> Floats:
    """What a gate does at a steady level: 0 dB at or over the threshold, the range under it."""
    return expander_change_db(level_db, threshold_db, math.inf, range_db)


def smooth(change_db: ArrayLike, step_s: float, attack_s: float, release_s: float) -> Floats:
    """Run a gain change through attack and release: one pole in dB, α = exp(−step/τ), branching.

    Growing reduction follows the attack, shrinking reduction the release, so that a time constant τ covers 63 % of
    the way (Giannoulis et al. 2012, smooth branching detector in the log domain). It starts from no reduction.

    Args:
        change_db: gain changes in dB, 0 or negative, shape (n,).
        step_s: time between two of them in seconds.
        attack_s: attack time constant in seconds; 0 is at once.
        release_s: release time constant in seconds; 0 is at once.

    Returns:
        smoothed gain changes in dB, shape (n,).

    Raises:
        ValueError: a step that is not over 0, or a negative time.
    """
    if not step_s > 0.0 or not attack_s >= 0.0 or not release_s >= 0.0:
        raise ValueError("the step must be over 0 s and the times 0 s or more")
    attack = math.exp(-step_s / attack_s) if attack_s > 0.0 else 0.0
    release = math.exp(-step_s / release_s) if release_s > 0.0 else 0.0
    targets = np.atleast_1d(_levels(change_db)).tolist()
    state, smoothed = 0.0, []
    for target in targets:
        hold = attack if target < state else release
        state = hold * state + (1.0 - hold) * target
        smoothed.append(state)
    return np.array(smoothed, dtype=np.float64)


def gain_reduction_db(
    envelope_db: ArrayLike,
    step_s: float,
    threshold_db: float,
    ratio: float,
    knee_db: float = 0.0,
    attack_s: float = 0.0,
    release_s: float = 0.0,
) -> Floats:
    """How much a compressor takes away along a level envelope.

    Args:
        envelope_db: levels in dBFS, shape (n,), one every ``step_s`` seconds (block levels, say).
        step_s: seconds between two levels.
        threshold_db: in dBFS.
        ratio: n in n:1.
        knee_db: width of the knee in dB.
        attack_s: attack time constant in seconds.
        release_s: release time constant in seconds.

    Returns:
        gain reduction in dB, 0 or positive, shape (n,).
    """
    change = gain_change_db(envelope_db, threshold_db, ratio, knee_db)
    return np.abs(smooth(change, step_s, attack_s, release_s))


def percentile(values: ArrayLike, percent: float) -> float:
    """The value that ``percent`` of the values do not exceed: nearest rank, as in the note of EBU Tech 3342.

    The sorted values are read at position round((n − 1) · percent/100).

    Args:
        values: at least one number, any shape.
        percent: 0 … 100.

    Raises:
        ValueError: no value, or a percentage out of range.
    """
    ordered = np.sort(np.asarray(values, dtype=np.float64), axis=None)
    if ordered.size == 0 or not 0.0 <= percent <= 100.0:
        raise ValueError("a percentile needs values and a percentage from 0 to 100")
    return float(ordered[math.floor((ordered.size - 1) * percent / 100.0 + 0.5)])


def limiting_needed_db(true_peak_dbtp: float, integrated_lufs: float, target_lufs: float, ceiling_dbtp: float) -> float:
    """How far peaks must come down at another loudness: peak + (target − integrated) − ceiling, at least 0."""
    return max(0.0, true_peak_dbtp + (target_lufs - integrated_lufs) - ceiling_dbtp)
