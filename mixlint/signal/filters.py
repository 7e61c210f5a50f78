"""The frequency response of an equalizer band.

Bands follow the W3C Audio EQ Cookbook (``biquad``); high-pass and low-pass bands steeper or flatter than 12 dB per
octave are Butterworth cascades (``butterworth``). What an equalizer of unknown make does may differ, above all
near fs/2 and in what its Q means; the cookbook is the public reading.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mixlint.signal import biquad, butterworth

Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]

KINDS: Final = ("high-pass", "low-pass", "band-pass", "high-shelf", "low-shelf", "bell", "notch")

LOWEST_Q: Final = 0.001
"""A Q of zero or below cannot be built; it is read as this."""


def sections(
    kind: str,
    freq_hz: float,
    gain_db: float = 0.0,
    q: float = biquad.BUTTERWORTH_Q,
    slope_db_per_oct: float = 12.0,
    fs: float = 48000.0,
) -> Floats:
    """The second-order sections of a band.

    A frequency outside 0 … fs/2 takes the filter at its limit, as the W3C Web Audio API defines it for a
    BiquadFilterNode there: at or below 0 Hz a high-pass, bell, notch and low shelf are a plain wire, a low-pass and a
    band-pass let nothing through, a high shelf is its whole gain; at or above fs/2 a low-pass, bell, notch and high
    shelf are a plain wire, a high-pass and a band-pass let nothing through, a low shelf is its whole gain.

    Args:
        kind: one of ``KINDS``.
        freq_hz: corner or middle in Hz.
        gain_db: of a bell or shelf; the others have none.
        q: linear Q (0.7071 is maximally flat); of a high-pass or low-pass at 12 dB per octave, or any other kind.
        slope_db_per_oct: of a high-pass or low-pass: 6, 12, 18 … 96, else the nearest of them.
        fs: sample rate in Hz.

    Returns:
        rows (sections, 6): b0, b1, b2, 1, a1, a2.

    Raises:
        ValueError: the kind is not known, or a number is not finite.
    """
    if kind not in KINDS:
        raise ValueError(f"no band is called {kind!r}; the kinds are {', '.join(KINDS)}")
    if not all(map(math.isfinite, (freq_hz, gain_db, q, slope_db_per_oct))) or not 0.0 < fs < math.inf:
        raise ValueError("a band needs finite numbers and a sample rate over 0")
    if not 0.0 < freq_hz < fs / 2.0:
        return _at_the_limit(kind, gain_db, below=freq_hz <= 0.0)
    q = max(q, LOWEST_Q)
    order = butterworth.order_of(slope_db_per_oct)
    match kind:
        case "high-pass":
            if order == 2:
                return biquad.high_pass(freq_hz, q, fs)
            return butterworth.high_pass(freq_hz, order, fs)
        case "low-pass":
            return biquad.low_pass(freq_hz, q, fs) if order == 2 else butterworth.low_pass(freq_hz, order, fs)
        case "band-pass":
            return biquad.band_pass(freq_hz, q, fs)
        case "notch":
            return biquad.notch(freq_hz, q, fs)
        case "bell":
            return biquad.bell(freq_hz, gain_db, q, fs)
        case "low-shelf":
            return biquad.low_shelf(freq_hz, gain_db, q, fs)
        case _:
            return biquad.high_shelf(freq_hz, gain_db, q, fs)


def _at_the_limit(kind: str, gain_db: float, *, below: bool) -> Floats:
    gain = 1.0
    if kind == "band-pass" or kind == ("low-pass" if below else "high-pass"):
        gain = 0.0
    elif kind == ("high-shelf" if below else "low-shelf"):
        gain = 10.0 ** (gain_db / 20.0)
    return np.array([[gain, 0.0, 0.0, 1.0, 0.0, 0.0]])


def band_response(
    kind: str,
    freq_hz: float,
    gain_db: float,
    q: float,
    slope_db_per_oct: float,
    at_hz: ArrayLike,
    fs: float = 48000.0,
) -> Complexes:
    """The complex response of one band; arguments as in ``sections``.

    Args:
        kind: one of ``KINDS``.
        freq_hz: corner or middle in Hz.
        gain_db: of a bell or shelf.
        q: linear Q.
        slope_db_per_oct: of a high-pass or low-pass.
        at_hz: where to look, Hz, any shape; above fs/2 the value at fs/2 is given.
        fs: sample rate in Hz.

    Returns:
        complex amplitudes shaped like ``at_hz``.

    Raises:
        ValueError: as ``sections``.
    """
    return biquad.response(sections(kind, freq_hz, gain_db, q, slope_db_per_oct, fs), at_hz, fs)
