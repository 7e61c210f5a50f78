"""Reverberation time from the decay of energy.

Source: ISO 3382-1:2009: the decay curve is the backward integral of the squared response (Schroeder 1965); a line is
fitted to it from −5 to −25 dB and carried on to 60 dB (T20). The noise is taken out before the sum (Chu 1978), the sum
begins where the decay meets it, and what would have come after is added as the decay went on before (5.3.3).
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

BLOCK_S: Final = 0.01
MEETS: Final = 3.0
"""The decay ends where a block of 50 ms comes within this factor of the noise, in power."""


def reverberation_time_s(squares: Floats, noise_power: float, fs: float) -> float | None:
    """T20 of an impulse response, seconds; None where it does not fall by 25 dB over its noise.

    Args:
        squares: the squared response (n,), beginning at its onset; of several legs their sum.
        noise_power: mean square of the noise in it, likewise.
        fs: sample rate in Hz.
    """
    step = max(1, round(BLOCK_S * fs))
    count = squares.size // step
    if count < 3:
        return None
    blocks = squares[: count * step].reshape(count, step).mean(axis=1)
    wide = np.convolve(blocks, np.ones(5) / 5.0, mode="same")
    sunk = np.flatnonzero(wide <= MEETS * noise_power)
    end = int(sunk[0]) if sunk.size else count
    kept = np.maximum(blocks[:end] - noise_power, 0.0)
    if end < 3 or not kept.any():
        return None
    left = np.cumsum(kept[::-1])[::-1]
    first = _slope(_decibels(left), -5.0, -20.0)
    if first is None:
        return None
    # What the noise hides after the end, as the line up to there goes on.
    rate = -first / 10.0 * math.log(10.0)
    left = left + float(kept[-5:].mean()) / max(rate, 1e-9) if sunk.size else left
    slope = _slope(_decibels(left), -5.0, -25.0)
    return None if slope is None else -60.0 / slope * step / fs


def _decibels(left: Floats) -> Floats:
    floor = float(left[0]) * 1e-12
    return np.asarray(10.0 * np.log10(np.maximum(left, floor) / left[0]))


def _slope(curve_db: Floats, from_db: float, to_db: float) -> float | None:
    """The fall of a decay curve between two levels, dB a block; None where it does not reach the lower one."""
    begun, ended = np.flatnonzero(curve_db <= from_db), np.flatnonzero(curve_db <= to_db)
    if not ended.size or ended[0] - begun[0] < 2:
        return None
    part = curve_db[begun[0] : ended[0] + 1]
    times = np.arange(part.size) - (part.size - 1) / 2.0
    slope = float((times * (part - part.mean())).sum() / (times * times).sum())
    return slope if slope < 0.0 else None
