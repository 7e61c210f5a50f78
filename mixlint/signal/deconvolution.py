"""The impulse response between a dry signal and what a path made of it, by regularised deconvolution.

H = Y X* / (|X|² + ε max|X|²): where the dry signal holds next to nothing, the quotient would be noise and is held down.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

EPSILON: Final = 1e-6
RESPONSE_S: Final = 6.0


@dataclass(frozen=True, slots=True)
class Response:
    """An estimated impulse response.

    Args:
        taps: amplitude at each lag 0, 1, 2 … samples and, from the end backwards, −1, −2 …: use ``taps[lag]``.
            Scaled so that a plain wire is 1.0 at lag 0.
        spread: what a single tap of 1.0 at lag 0 looks like at each lag, in the same order: the dry signal does not
            excite every frequency, so a tap is spread.
        bandwidth_hz: how much of the spectrum the dry signal excites.
    """

    taps: Floats
    spread: Floats
    bandwidth_hz: float


def fast_length(n: int) -> int:
    """The next length of 2^a or 3 · 2^a that is at least ``n``."""
    power = 1 << max(n - 1, 1).bit_length()
    return power * 3 // 4 if n <= power * 3 // 4 and power >= 4 else power


def rows(samples: ArrayLike) -> Floats:
    """Samples (n,) or (legs, n) as (legs, n); a ``ValueError`` for any other shape, or what is not finite."""
    table = np.atleast_2d(np.asarray(samples, dtype=np.float64))
    if table.ndim != 2 or not np.isfinite(table).all():
        raise ValueError("samples must be finite numbers of the shape (n,) or (legs, n)")
    return table


def deconvolve(dry: ArrayLike, printed: ArrayLike, fs: float, epsilon: float = EPSILON) -> Response:
    """Estimate the impulse response that turns ``dry`` into ``printed``.

    Args:
        dry: samples (n,), not silent.
        printed: samples (n,), lying on ``dry`` sample by sample.
        fs: sample rate of both in Hz.
        epsilon: regularisation relative to the highest power in the spectrum of ``dry``.

    Returns:
        the response; lags past the length of the signals wrap around and mean nothing.

    Raises:
        ValueError: different lengths, a silent dry signal, or samples that are not finite.
    """
    x, y = rows(dry), rows(printed)
    if x.shape != y.shape or x.shape[0] != 1:
        raise ValueError("the dry signal and the print must be of one length and one leg each")
    size = fast_length(x.shape[1] + min(x.shape[1], round(RESPONSE_S * fs)))
    spectrum = np.fft.rfft(x[0], size)
    power = np.abs(spectrum) ** 2
    highest = float(power.max(initial=0.0))
    if highest == 0.0:
        raise ValueError("a silent signal excites nothing")
    floor = power + epsilon * highest
    taps = np.fft.irfft(np.fft.rfft(y[0], size) * np.conj(spectrum) / floor, size)
    spread = np.fft.irfft(power / floor, size)
    excited = float(spread[0])
    return Response(taps / excited, spread / excited, excited * fs / 2.0)
