"""Butterworth high-pass and low-pass cascades of any order, made digital by the bilinear transform.

An order n falls by 6.02 n dB per octave and is −3.01 dB at its corner. Its second-order sections have
Q = 1/(2 sin((2k − 1) π/2n)); an odd order adds a first-order section (Butterworth 1930; any text on filters).
The corner is pre-warped, so that it sits exactly where it is set.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from mixlint.signal import biquad

Floats = NDArray[np.float64]

STEEPEST_ORDER: Final = 16
"""96 dB per octave."""


def order_of(slope_db_per_oct: float) -> int:
    """The order that a slope means: one for every 6 dB per octave, rounded to the nearest, 1 … 16.

    Args:
        slope_db_per_oct: dB per octave as written on the processor: 6, 12, 18 … 96; its sign does not count.

    Raises:
        ValueError: the slope is not a finite number.
    """
    if not math.isfinite(slope_db_per_oct):
        raise ValueError("a slope must be a finite number")
    return min(max(math.floor(abs(slope_db_per_oct) / 6.0 + 0.5), 1), STEEPEST_ORDER)


def pole_qs(order: int) -> tuple[float, ...]:
    """The Q of each second-order section of ``order``, lowest first: 0.5412 and 1.3066 for order 4."""
    return tuple(sorted(1.0 / (2.0 * math.sin((2 * k - 1) * math.pi / (2 * order))) for k in range(1, order // 2 + 1)))


def _first_order(freq_hz: float, fs: float, *, high: bool) -> Floats:
    if not 0.0 < freq_hz < fs / 2.0:
        raise ValueError("a section needs a frequency between 0 and half the sample rate")
    k = math.tan(math.pi * freq_hz / fs)
    b = (1.0, -1.0) if high else (k, k)
    return np.array([[*b, 0.0, 1.0 + k, k - 1.0, 0.0]], dtype=np.float64) / (1.0 + k)


def low_pass(freq_hz: float, order: int, fs: float) -> Floats:
    """Sections (rows, 6) of a Butterworth low-pass of ``order`` with its corner at ``freq_hz`` < fs/2."""
    rows = [biquad.low_pass(freq_hz, q, fs) for q in pole_qs(order)]
    if order % 2:
        rows.append(_first_order(freq_hz, fs, high=False))
    return np.concatenate(rows)


def high_pass(freq_hz: float, order: int, fs: float) -> Floats:
    """Sections (rows, 6) of a Butterworth high-pass of ``order`` with its corner at ``freq_hz`` < fs/2."""
    rows = [biquad.high_pass(freq_hz, q, fs) for q in pole_qs(order)]
    if order % 2:
        rows.append(_first_order(freq_hz, fs, high=True))
    return np.concatenate(rows)
