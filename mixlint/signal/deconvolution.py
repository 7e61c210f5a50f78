"""The impulse response between a dry signal and what a path made of it, by regularised deconvolution.

H = Y X* / (|X|² + ε max|X|²): where the dry signal holds next to nothing, the quotient would be noise and is held down.
The less it is held down, the sharper a tap; how far that can go depends on what else is in the print, so that several
are tried, and the one is taken whose error is least at lags where nothing can be.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

EPSILON: Final = 1e-6
SHARPLY: Final = (EPSILON, 1e-8, 1e-10)
RESPONSE_S: Final = 6.0

QUIET_S: Final = (1.5, 0.25)
"""Lags so far before 0 hold nothing but the error of an estimate."""


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
    """The next length of 2^a, 3 · 2^a or 5 · 2^a that is at least ``n``: transforms of these take the least time."""
    power = 1 << max(n - 1, 1).bit_length()
    return next((power * eighths // 8 for eighths in (5, 6) if power >= 8 and n <= power * eighths // 8), power)


def rows(samples: ArrayLike) -> Floats:
    """Samples (n,) or (legs, n) as (legs, n); a ``ValueError`` for any other shape, or what is not finite."""
    table = np.atleast_2d(np.asarray(samples, dtype=np.float64))
    if table.ndim != 2 or not np.isfinite(table).all():
        raise ValueError("samples must be finite numbers of the shape (n,) or (legs, n)")
    return table


def quiet_lags(size: int, fs: float) -> NDArray[np.int64]:
    """The lags of a response of ``size`` taps that hold nothing but the error of the estimate."""
    far, near = round(QUIET_S[0] * fs), round(QUIET_S[1] * fs)
    return np.arange(-min(far, size // 4), -min(near, size // 8))


def deconvolve(dry: ArrayLike, printed: ArrayLike, fs: float, epsilons: Sequence[float] = (EPSILON,)) -> Response:
    """Estimate the impulse response that turns ``dry`` into ``printed``.

    Args:
        dry: samples (n,), not silent.
        printed: samples (n,), lying on ``dry`` sample by sample.
        fs: sample rate of both in Hz.
        epsilons: regularisations relative to the highest power in the spectrum of ``dry``; of several the one with the
            least error counts, and ``bandwidth_hz`` is that of the first.

    Returns:
        the response; lags past the length of the signals wrap around and mean nothing.

    Raises:
        ValueError: different lengths, a silent dry signal, or samples that are not finite.
    """
    plain, *sharper = _tried(dry, printed, fs, epsilons)
    if not sharper:
        return plain

    def error(response: Response) -> float:
        quiet = response.taps[quiet_lags(response.taps.size, fs)]
        heard = response.taps[: response.taps.size // 2]
        return float(np.abs(quiet).max(initial=0.0)) / (float(np.abs(heard).max(initial=0.0)) + 1e-300)

    best = min((plain, *sharper), key=error)
    return Response(best.taps, best.spread, plain.bandwidth_hz)


def _tried(dry: ArrayLike, printed: ArrayLike, fs: float, epsilons: Sequence[float]) -> Iterator[Response]:
    """The response at each regularisation."""
    x, y = rows(dry), rows(printed)
    if x.shape != y.shape or x.shape[0] != 1:
        raise ValueError("the dry signal and the print must be of one length and one leg each")
    size = fast_length(x.shape[1] + min(x.shape[1], round(RESPONSE_S * fs)))
    spectrum = np.fft.rfft(x[0], size)
    power = np.abs(spectrum) ** 2
    highest = float(power.max(initial=0.0))
    if highest == 0.0:
        raise ValueError("a silent signal excites nothing")
    product = np.fft.rfft(y[0], size) * np.conj(spectrum)
    for epsilon in epsilons:
        floor = power + epsilon * highest
        spread = np.fft.irfft(power / floor, size)
        excited = float(spread[0])
        yield Response(np.fft.irfft(product / floor, size) / excited, spread / excited, excited * fs / 2.0)
