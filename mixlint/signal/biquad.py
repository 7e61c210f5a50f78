"""Second-order sections after the W3C Audio EQ Cookbook, and the response of a chain of sections.

Source: W3C Working Group Note "Audio EQ Cookbook", 8 June 2021, section "Biquad Filter Formulae". With
A = 10^(dB/40), w0 = 2π f0/fs, c = cos w0 and α = sin w0/(2Q). A section is a row (b0, b1, b2, 1, a1, a2), already
divided by a0; a chain is an array of rows (sections, 6). Frequencies are Hz with 0 < f0 < fs/2, gains dB.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]

BUTTERWORTH_Q = math.sqrt(0.5)
"""Q of a maximally flat second-order filter; also the Q of the steepest monotonic shelf (S = 1)."""


def _angle(freq_hz: float, fs: float) -> float:
    if not 0.0 < freq_hz < fs / 2.0:
        raise ValueError("a section needs a frequency between 0 and half the sample rate")
    return 2.0 * math.pi * freq_hz / fs


def _turn(freq_hz: float, q: float, fs: float) -> tuple[float, float]:
    """(cos w0, alpha)."""
    if not q > 0.0:
        raise ValueError("Q must be over 0")
    w0 = _angle(freq_hz, fs)
    return math.cos(w0), math.sin(w0) / (2.0 * q)


def _section(b: tuple[float, float, float], a: tuple[float, float, float]) -> Floats:
    return np.array([[*b, *a]], dtype=np.float64) / a[0]


def low_pass(freq_hz: float, q: float, fs: float) -> Floats:
    """LPF: b = (1−c)/2, 1−c, (1−c)/2; a = 1+α, −2c, 1−α. −3.01 dB at ``freq_hz`` for Q = 0.7071."""
    _, alpha = _turn(freq_hz, q, fs)
    # 1 − cos w0 written as 2 sin²(w0/2): the difference loses its digits at low frequencies.
    less = 2.0 * math.sin(_angle(freq_hz, fs) / 2.0) ** 2
    return _section((less / 2.0, less, less / 2.0), (1.0 + alpha, 2.0 * less - 2.0, 1.0 - alpha))


def high_pass(freq_hz: float, q: float, fs: float) -> Floats:
    """HPF: b = (1+c)/2, −(1+c), (1+c)/2; a = 1+α, −2c, 1−α. −3.01 dB at ``freq_hz`` for Q = 0.7071."""
    c, alpha = _turn(freq_hz, q, fs)
    half = (1.0 + c) / 2.0
    return _section((half, -2.0 * half, half), (1.0 + alpha, -2.0 * c, 1.0 - alpha))


def band_pass(freq_hz: float, q: float, fs: float) -> Floats:
    """BPF with 0 dB at its peak: b = α, 0, −α; a = 1+α, −2c, 1−α."""
    c, alpha = _turn(freq_hz, q, fs)
    return _section((alpha, 0.0, -alpha), (1.0 + alpha, -2.0 * c, 1.0 - alpha))


def notch(freq_hz: float, q: float, fs: float) -> Floats:
    """Notch: b = 1, −2c, 1; a = 1+α, −2c, 1−α. Nothing passes at ``freq_hz``."""
    c, alpha = _turn(freq_hz, q, fs)
    return _section((1.0, -2.0 * c, 1.0), (1.0 + alpha, -2.0 * c, 1.0 - alpha))


def bell(freq_hz: float, gain_db: float, q: float, fs: float) -> Floats:
    """Peaking EQ: b = 1+αA, −2c, 1−αA; a = 1+α/A, −2c, 1−α/A. ``gain_db`` at ``freq_hz``.

    A · Q is the classic Q, so that +N dB and −N dB at one Q are exactly flat together.
    """
    c, alpha = _turn(freq_hz, q, fs)
    a = 10.0 ** (gain_db / 40.0)
    return _section((1.0 + alpha * a, -2.0 * c, 1.0 - alpha * a), (1.0 + alpha / a, -2.0 * c, 1.0 - alpha / a))


def low_shelf(freq_hz: float, gain_db: float, q: float, fs: float) -> Floats:
    """Low shelf: ``gain_db`` far below, half of it at ``freq_hz``, 0 dB far above.

    With k = 2 √A α: b = A[(A+1)−(A−1)c+k], 2A[(A−1)−(A+1)c], A[(A+1)−(A−1)c−k];
    a = (A+1)+(A−1)c+k, −2[(A−1)+(A+1)c], (A+1)+(A−1)c−k.
    """
    c, alpha = _turn(freq_hz, q, fs)
    a = 10.0 ** (gain_db / 40.0)
    k = 2.0 * math.sqrt(a) * alpha
    up, down = a + 1.0, a - 1.0
    return _section(
        (a * (up - down * c + k), 2.0 * a * (down - up * c), a * (up - down * c - k)),
        (up + down * c + k, -2.0 * (down + up * c), up + down * c - k),
    )


def high_shelf(freq_hz: float, gain_db: float, q: float, fs: float) -> Floats:
    """High shelf: 0 dB far below, half of ``gain_db`` at ``freq_hz``, all of it towards fs/2.

    With k = 2 √A α: b = A[(A+1)+(A−1)c+k], −2A[(A−1)+(A+1)c], A[(A+1)+(A−1)c−k];
    a = (A+1)−(A−1)c+k, 2[(A−1)−(A+1)c], (A+1)−(A−1)c−k.
    """
    c, alpha = _turn(freq_hz, q, fs)
    a = 10.0 ** (gain_db / 40.0)
    k = 2.0 * math.sqrt(a) * alpha
    up, down = a + 1.0, a - 1.0
    return _section(
        (a * (up + down * c + k), -2.0 * a * (down + up * c), a * (up + down * c - k)),
        (up - down * c + k, 2.0 * (down - up * c), up - down * c - k),
    )


def response(sections: Floats, at_hz: ArrayLike, fs: float) -> Complexes:
    """The complex response of a chain of sections: the product of B(z)/A(z) at z = exp(j 2π f/fs).

    Args:
        sections: rows (sections, 6); no row at all is a plain wire.
        at_hz: frequencies in Hz, any shape; above fs/2 the value at fs/2 is given.
        fs: sample rate in Hz.

    Returns:
        complex amplitudes shaped like ``at_hz``.
    """
    w = 2.0 * np.pi * np.clip(np.asarray(at_hz, dtype=np.float64), 0.0, fs / 2.0) / fs
    back = np.exp(-1j * w)
    total = np.ones(w.shape, dtype=np.complex128)
    for b0, b1, b2, a0, a1, a2 in np.asarray(sections, dtype=np.float64):
        total *= (b0 + back * (b1 + back * b2)) / (a0 + back * (a1 + back * a2))
    return total
