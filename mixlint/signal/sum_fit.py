"""Whether some signals add up to another one: the gain, time and polarity at which each of them is in it.

The gains come of least squares over all signals at once, from their products in blocks. A delay is found beforehand,
for each signal alone, by the cross-correlation in which only phases count (Knapp & Carter, IEEE Trans. ASSP 24(4),
1976): the other signals are noise to it, and where a copy of the signal is in the sum, every frequency in which it
stands out is in step at one delay.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from mixlint.signal.deconvolution import fast_length

Floats = NDArray[np.float64]
Samples = NDArray[np.floating]

_STRONGEST: Final = 1e-7
"""Bins 70 dB under the strongest hold the rounding of a file, not its sound."""

_BESIDE: Final = 8
"""So many samples beside the highest point belong to it."""

_ALIKE: Final = 0.999
"""Signals that correlate more than this are copies, whose shares in a sum cannot be told apart."""


@dataclass(frozen=True, slots=True)
class Lag:
    """Where one signal lies in a sum.

    Args:
        samples: how much later it is in its own file than in the sum; negative is earlier.
        polarity: +1, or −1 where it is in the sum turned over.
        height: the mean cosine of the phases at this lag, 0 … 1.
        clear: how many times as high it is as anything else within reach.
    """

    samples: int
    polarity: int
    height: float
    clear: float


def find_lag(total: Samples, part: Samples, reach: int) -> Lag | None:
    """Where ``part`` lies in ``total``.

    Args:
        total: samples (legs, n) of the sum.
        part: samples (legs, n) of the signal, beginning at the same instant, with as many legs.
        reach: the longest lag either way, in samples.

    Returns:
        The lag that stands out most; None where either is silent or too short.
    """
    n = total.shape[1]
    if n < 4 * reach:
        return None
    size = fast_length(n + reach)
    series, weight = np.zeros(size), 0.0
    for leg, other in zip(part, total, strict=True):
        x, y = np.fft.rfft(leg, size), np.fft.rfft(other, size)
        power = np.abs(x) ** 2
        highest = float(power.max())
        if highest <= 0.0:
            continue
        product = x * np.conj(y)
        length = np.abs(product)
        counts = (power > _STRONGEST * highest) & (length > 0.0)
        phases = np.where(counts, product / np.where(counts, length, 1.0), 0.0)
        used = int(counts.sum())
        # A leg counts by its energy, so that a leg of hiss does not hide the other one.
        energy = float(power.sum())
        series += np.fft.irfft(phases, size) * (size / 2.0 / max(used, 1)) * energy
        weight += energy
    if weight <= 0.0 or not series.any():
        return None
    lags = np.arange(-reach, reach + 1)
    seen = series[lags] / weight
    at = int(np.argmax(np.abs(seen)))
    elsewhere = np.abs(seen[np.abs(lags - lags[at]) > _BESIDE])
    rival = float(elsewhere.max(initial=0.0))
    return Lag(
        int(lags[at]), 1 if seen[at] > 0.0 else -1, float(abs(seen[at])), float(abs(seen[at]) / (rival or 1e-300))
    )


@dataclass(frozen=True, slots=True, eq=False)
class Products:
    """Products of all signals with each other and with the sum, in blocks of time.

    Args:
        own: (blocks, parts, parts) Σ over legs and samples of part times part.
        shared: (blocks, parts) the same of each part with the sum.
        whole: (blocks,) of the sum with itself.
        block_s: the length of a block.
    """

    own: Floats
    shared: Floats
    whole: Floats
    block_s: float


def products_of(total: Samples, parts: list[Samples]) -> tuple[Floats, Floats, float]:
    """The products of one block: those among the parts, with the sum, and of the sum with itself.

    Args:
        total: samples (legs, n).
        parts: the same of each part.
    """
    table = np.empty((len(parts) + 1, total.size))
    for row, samples in zip(table, [*parts, total], strict=True):
        row[:] = samples.reshape(-1)
    found = table @ table.T
    return found[:-1, :-1], found[:-1, -1], float(found[-1, -1])


@dataclass(frozen=True, slots=True, eq=False)
class SumFit:
    """How signals add up to a sum.

    Args:
        gains: (parts,) the gain at which each is in the sum; 0.0 for a silent one.
        spread: (parts,) the standard error of each gain, from what is left over.
        left: (blocks,) what is left over of the sum in each block, as energy.
        copies: parts that cannot be told apart from another one, by the place of each and the other's.
    """

    gains: Floats
    spread: Floats
    left: Floats
    copies: dict[int, int]


def fit(products: Products) -> SumFit:
    """Gains for all parts at once by least squares over the whole length."""
    own, shared = products.own.sum(axis=0), products.shared.sum(axis=0)
    energy = np.diag(own).copy()
    copies = _copies(own, energy)
    floor = 1e-14 * float(energy.max(initial=0.0))
    kept = [one for one in range(energy.size) if energy[one] > floor and one not in copies]
    gains, spread = np.zeros(energy.size), np.full(energy.size, np.inf)
    if kept:
        part = own[np.ix_(kept, kept)]
        scale = np.sqrt(np.diag(part))
        even = part / np.outer(scale, scale)
        inverse = np.linalg.pinv(even, rcond=1e-10)
        gains[kept] = (inverse @ (shared[kept] / scale)) / scale
        left = left_over(products, gains)
        # What is left over is music, of which neighbouring samples are alike: some hundreds of values a second tell.
        count = max(1.0, 400.0 * products.block_s * left.size)
        spread[kept] = np.sqrt(np.maximum(np.diag(inverse), 0.0) * float(left.sum()) / count) / scale
    return SumFit(gains, spread, left_over(products, gains), copies)


def left_over(products: Products, gains: Floats) -> Floats:
    """(blocks,) the energy that is left of the sum when the parts are taken away at ``gains`` (parts,)."""
    summed = np.einsum("bij,i,j->b", products.own, gains, gains, optimize=True)
    return np.asarray(np.maximum(products.whole - 2.0 * products.shared @ gains + summed, 0.0))


def _copies(own: Floats, energy: Floats) -> dict[int, int]:
    """Each part that is a copy of an earlier one, to that one."""
    length = np.sqrt(np.maximum(energy, 1e-300))
    alike = np.abs(own) / np.outer(length, length)
    found: dict[int, int] = {}
    for one in range(energy.size):
        for earlier in range(one):
            if earlier not in found and alike[one, earlier] > _ALIKE:
                found[one] = earlier
                break
    return found


def gain_and_rest(total: Samples, part: Samples) -> tuple[float, float]:
    """The gain at which ``part`` (legs, n) is in ``total``, and the share of its energy that is left over."""
    y, x = total.astype(np.float64), part.astype(np.float64)
    own, both, whole = float((x * x).sum()), float((x * y).sum()), float((y * y).sum())
    if own <= 0.0 or whole <= 0.0:
        return 0.0, 1.0
    return both / own, max(0.0, 1.0 - both * both / (own * whole))


@dataclass(frozen=True, slots=True)
class Processing:
    """What a common treatment explains of the difference between a sum and what was made of it.

    Args:
        plain_db: what is left over of the print when the sum is taken away at its best gain, dB relative to the print.
        treated_db: the same when the sum goes through the filter and the moves of gain that fit best.
        over: how far the sum's highest sample stands over the print's, dB, at the same gain.
    """

    plain_db: float
    treated_db: float
    over_db: float


_FRAME: Final = 2048
_GAIN_S: Final = 0.01


def processing(total: Samples, summed: Samples, fs: float) -> Processing | None:
    """Whether a print is the sum behind a filter and a moving gain, as a mix bus makes it.

    Args:
        total: samples (legs, n) of the print.
        summed: the same of the sum of its parts.
        fs: sample rate in Hz.

    Returns:
        None where either is silent.
    """
    y, x = total.astype(np.float64), summed.astype(np.float64)
    whole, own = float((y * y).sum()), float((x * x).sum())
    if whole <= 0.0 or own <= 0.0:
        return None
    gain = float((x * y).sum()) / own
    plain = float(((y - gain * x) ** 2).sum()) / whole
    filtered = np.stack([_filtered(one, other) for one, other in zip(x, y, strict=True)])
    moved = _ridden(filtered, y, max(1, round(_GAIN_S * fs)))
    treated = float(((y - moved) ** 2).sum()) / whole
    peak = float(np.abs(gain * x).max()) / float(np.abs(y).max())
    return Processing(_db(plain), _db(treated), 2.0 * _db(peak))


def _filtered(x: Floats, y: Floats) -> Floats:
    """x behind the short filter that makes it most like y."""
    window = np.hanning(_FRAME)
    starts = range(0, max(1, x.size - _FRAME + 1), _FRAME // 2)
    cross, power = np.zeros(_FRAME // 2 + 1, dtype=np.complex128), np.zeros(_FRAME // 2 + 1)
    for start in starts:
        piece = x[start : start + _FRAME]
        if piece.size < _FRAME:
            break
        one = np.fft.rfft(piece * window)
        cross += np.conj(one) * np.fft.rfft(y[start : start + _FRAME] * window)
        power += np.abs(one) ** 2
    if not power.any():
        return x
    response = np.fft.irfft(cross / (power + 1e-9 * power.max()), _FRAME)
    taps = np.roll(response, _FRAME // 2) * np.hanning(_FRAME)
    size = fast_length(x.size + _FRAME)
    made = np.fft.irfft(np.fft.rfft(x, size) * np.fft.rfft(taps, size), size)
    return np.asarray(made[_FRAME // 2 : _FRAME // 2 + x.size])


def _ridden(x: Floats, y: Floats, step: int) -> Floats:
    """x (legs, n) at the gain that makes it most like y, anew every ``step`` samples, drawn straight between."""
    n = x.shape[1]
    at = np.arange(0, n, step)
    both, own = (np.add.reduceat((x * other).sum(axis=0), at) for other in (y, x))
    gain = both / np.maximum(own, 1e-12 * float(own.max(initial=1e-12)))
    return np.asarray(x * np.interp(np.arange(n), at + step / 2.0, gain))


def _db(power: float) -> float:
    return float(10.0 * np.log10(max(power, 1e-20)))
