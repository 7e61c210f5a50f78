"""Decibels: amplitude to dB and back, and power to dB.

Silence is a floor of −200 dB, never minus infinity: an amplitude of zero reads −200.0, and a level at or below
−200.0 is an amplitude of exactly zero. Every function takes a number and gives a ``float``, or takes an array
of any shape and gives a ``float64`` array of that shape.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

FLOOR_DB: Final = -200.0
"""Silence in dB. At or below it there is no signal."""


def _numbers(values: ArrayLike, what: str) -> Floats:
    array = np.asarray(values, dtype=np.float64)
    if not np.isfinite(array).all():
        raise ValueError(f"{what} must be finite numbers")
    return array


def _like(values: Floats) -> float | Floats:
    return float(values) if values.ndim == 0 else values


def _to_db(magnitude: Floats, factor: float) -> Floats:
    floor = 10.0 ** (FLOOR_DB / factor)
    return np.asarray(np.maximum(factor * np.log10(np.maximum(magnitude, floor)), FLOOR_DB))


@overload
def to_db(amplitude: float) -> float: ...
@overload
def to_db(amplitude: Floats | Sequence[float]) -> Floats: ...
def to_db(amplitude: ArrayLike) -> float | Floats:
    """Level of an amplitude: ``20 log10 |a|`` dB, no lower than −200.

    Args:
        amplitude: linear amplitude (1.0 = 0 dB), any shape; the sign is the polarity and does not count.

    Returns:
        dB, shaped like ``amplitude``.

    Raises:
        ValueError: a value is infinite or not a number.
    """
    return _like(_to_db(np.abs(_numbers(amplitude, "amplitudes")), 20.0))


@overload
def to_amplitude(db: float) -> float: ...
@overload
def to_amplitude(db: Floats | Sequence[float]) -> Floats: ...
def to_amplitude(db: ArrayLike) -> float | Floats:
    """Amplitude of a level: ``10^(dB/20)``; exactly 0.0 at or below −200 dB.

    Args:
        db: level or gain in dB, any shape.

    Returns:
        linear amplitude (1.0 = 0 dB), shaped like ``db``.

    Raises:
        ValueError: a value is infinite or not a number.
    """
    levels = _numbers(db, "levels")
    return _like(np.where(levels <= FLOOR_DB, 0.0, 10.0 ** (levels / 20.0)))


@overload
def power_to_db(power: float) -> float: ...
@overload
def power_to_db(power: Floats | Sequence[float]) -> Floats: ...
def power_to_db(power: ArrayLike) -> float | Floats:
    """Level of a power or a mean square: ``10 log10 p`` dB, no lower than −200.

    Args:
        power: power, energy or mean square (1.0 = 0 dB), any shape. A negative rest of rounding counts as zero.

    Returns:
        dB, shaped like ``power``.

    Raises:
        ValueError: a value is infinite or not a number.
    """
    return _like(_to_db(_numbers(power, "powers"), 10.0))
