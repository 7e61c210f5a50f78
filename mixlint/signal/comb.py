"""Comb filtering: what a delayed copy does to the signal it is added to.

A copy with the amplitude g, delayed by t seconds, gives |1 + g exp(−j2πft)|: peaks of 1 + g at k/t, notches of 1 − g at
(2k + 1)/(2t), the other way round when the copy's polarity is inverted (Everest & Pohlmann, Master Handbook of
Acoustics, chapter on comb filters).
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mixlint.signal.decibel import to_amplitude, to_db

Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]


def notches_hz(delay_s: float, up_to_hz: float = 20000.0, *, inverted: bool = False) -> Floats:
    """The frequencies of the notches: (2k + 1)/(2t), or k/t with the copy's polarity inverted (0 Hz included).

    Args:
        delay_s: delay t of the copy in seconds; its sign does not count. No delay has no notches.
        up_to_hz: the highest frequency of interest.
        inverted: true when the copy's polarity is inverted.

    Returns:
        frequencies in Hz, ascending, shape (notches,).
    """
    delay = abs(delay_s)
    if delay == 0.0 or up_to_hz < 0.0:
        return np.zeros(0)
    first = 0.0 if inverted else 0.5
    return np.asarray((np.arange(math.floor(up_to_hz * delay - first) + 1) + first) / delay)


def ripple_db(copy_db: float) -> tuple[float, float]:
    """The highest peak and the deepest notch for a copy at ``copy_db`` relative to the signal.

    20 log10(1 + g) and 20 log10 |1 − g|: for −20 dB, +0.83 and −0.92 dB. Equal copies cancel: −200.

    Args:
        copy_db: level of the copy relative to the signal in dB.

    Returns:
        peak and notch in dB.
    """
    copy = to_amplitude(copy_db)
    return to_db(1.0 + copy), to_db(1.0 - copy)


def response(at_hz: ArrayLike, delay_s: float, copy_db: float, *, inverted: bool = False) -> Complexes:
    """The complex response of the signal with its copy, 1 ± g exp(−j2πft).

    Args:
        at_hz: frequencies in Hz, any shape.
        delay_s: delay of the copy in seconds.
        copy_db: level of the copy relative to the signal in dB.
        inverted: true when the copy's polarity is inverted.

    Returns:
        complex amplitudes shaped like ``at_hz``.
    """
    copy = -to_amplitude(copy_db) if inverted else to_amplitude(copy_db)
    return np.asarray(1.0 + copy * np.exp(-2j * np.pi * np.asarray(at_hz, dtype=np.float64) * delay_s))
