"""Reverberation time from the decay of energy.

Source: ISO 3382-1:2009: the decay curve is the backward integral of the squared response (Schroeder 1965); a line is
fitted to a part of it and carried on to 60 dB: T20 from −5 to −25 dB, T30 from −5 to −35 dB, EDT from 0 to −10 dB.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


def decay_curve_db(response: ArrayLike, noise_power: float = 0.0) -> Floats:
    """The decay curve of an impulse response: 10 log10 of the energy still to come, 0 dB at its beginning.

    Args:
        response: samples (n,), beginning at the onset.
        noise_power: mean square of the noise in it, taken out before the sum (Chu 1978).

    Returns:
        dB, shape (m,), m ≤ n: as far as energy is left.

    Raises:
        ValueError: samples that are not finite, or no energy.
    """
    h = np.asarray(response, dtype=np.float64)
    if h.ndim != 1 or not np.isfinite(h).all():
        raise ValueError("a response is finite samples of one leg")
    left = np.cumsum((h * h - noise_power)[::-1])[::-1]
    spent = np.flatnonzero(left <= 0.0)
    left = left[: spent[0]] if spent.size else left
    if left.size == 0:
        raise ValueError("the response holds no energy")
    return np.asarray(10.0 * np.log10(left / left[0]))


def decay_time_s(curve_db: ArrayLike, step_s: float, from_db: float = -5.0, to_db: float = -25.0) -> float | None:
    """The time for a decay of 60 dB: the line through the curve between two levels, carried on.

    Args:
        curve_db: levels in dB, shape (n,), falling; 0 dB is the first. A decay curve, or the levels of successive
            blocks after a source has stopped.
        step_s: seconds from one level to the next.
        from_db: where the fit begins, −5 for T20 and T30.
        to_db: where it ends, −25 for T20, −35 for T30.

    Returns:
        seconds; None when the curve does not reach ``to_db`` or does not fall.

    Raises:
        ValueError: a step or levels that make no sense.
    """
    if not step_s > 0.0 or not to_db < from_db <= 0.0:
        raise ValueError("a decay needs a step over 0 s and falls from a level of 0 dB or less")
    curve = np.asarray(curve_db, dtype=np.float64)
    if curve.size == 0:
        return None
    curve = curve - curve[0]
    begun, ended = np.flatnonzero(curve <= from_db), np.flatnonzero(curve <= to_db)
    if ended.size == 0:
        return None
    part = curve[begun[0] : ended[0] + 1]
    if part.size < 3:
        return None
    times = np.arange(part.size) * step_s
    times -= times.mean()
    slope = float(times @ (part - part.mean()) / (times @ times))
    return -60.0 / slope if slope < 0.0 and math.isfinite(slope) else None


def reverberation_time_s(response: ArrayLike, fs: float, noise_power: float = 0.0) -> float | None:
    """T20 of an impulse response in seconds (ISO 3382-1); None when it does not fall by 25 dB.

    Args:
        response: samples (n,), beginning at the onset.
        fs: sample rate in Hz.
        noise_power: mean square of the noise in it.
    """
    return decay_time_s(decay_curve_db(response, noise_power), 1.0 / fs)
