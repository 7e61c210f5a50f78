"""Two microphones on one performance: the delay between them and whether their polarities agree.

Generalised cross-correlation with a phase transform (Knapp & Carter, IEEE Trans. ASSP 24(4), 1976): every frequency
that both signals share counts alike, so that a deep drum does not smear the peak. The delay is read between samples.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mixlint.signal.deconvolution import fast_length

Floats = NDArray[np.float64]

SHORTEST_S: Final = 0.25
LONGEST_S: Final = 30.0
_AROUND: Final = 16
_FINE: Final = 32
_AGREED_HZ: Final = 500.0
"""The two must agree over at least this much of the spectrum: a few partials, or a deep drum, fit at many delays."""
_IN_STEP: Final = 0.3
_OPPOSITE: Final = 0.8

AlignmentFault = Literal["too-short", "silent", "unlike", "no-clear-delay", "ambiguous"]
"""Why two signals cannot be aligned: they share too short a stretch; one is silent; they have too little in common; no
delay within reach stands out; a delay of the other polarity fits nearly as well."""


@dataclass(frozen=True, slots=True)
class Alignment:
    """How the second signal lies against the first.

    Args:
        delay_s: how much later the second is, in seconds (negative: earlier); None when it cannot be told.
        polarity: +1 the same, −1 inverted; None exactly when the delay is.
        correlation: normalised correlation −1 … +1 with the delay taken out; None exactly when the delay is.
        at_zero: normalised correlation as the signals lie, which adds or cancels in the mix now; None when silent.
        fault: why something cannot be told; None when all is.
    """

    delay_s: float | None
    polarity: Literal[1, -1] | None
    correlation: float | None
    at_zero: float | None
    fault: AlignmentFault | None = None


def align(first: ArrayLike, second: ArrayLike, fs: float, max_delay_s: float = 0.03) -> Alignment:
    """Find the delay and the polarity of ``second`` against ``first``.

    Of long signals the 30 s with most energy in common are taken. A filter in one of the two moves the delay by its
    own, and where another instrument bleeds into both over a wider range of frequencies, the delay found may be that
    of the bleed.

    Args:
        first: samples (n,), full scale 1.0.
        second: samples (n,), beginning at the same instant; the shorter of the two counts.
        fs: sample rate of both in Hz.
        max_delay_s: the longest delay either way: 0.03 s is ten metres of air.

    Returns:
        the alignment; ``fault`` says why it could not be told.

    Raises:
        ValueError: samples that are not finite or not of one leg.
    """
    a, b = np.asarray(first, dtype=np.float64), np.asarray(second, dtype=np.float64)
    if a.ndim != 1 or b.ndim != 1 or not np.isfinite(a).all() or not np.isfinite(b).all():
        raise ValueError("both signals must be finite samples of one leg")
    n = min(a.size, b.size)
    if n < max(SHORTEST_S, 4.0 * max_delay_s) * fs:
        return Alignment(None, None, None, None, "too-short")
    a, b = _cut(a[:n], b[:n], fs)
    scale = float(np.sqrt(_product(a, a) * _product(b, b)))
    if scale < a.size * 1e-10:
        return Alignment(None, None, None, None, "silent")
    at_zero = max(-1.0, min(1.0, _product(a, b) / scale))
    reach = max(1, round(max_delay_s * fs))
    weighted, agreed_hz = _generalised(a, b, fs, reach)
    if agreed_hz < _AGREED_HZ:
        return Alignment(None, None, None, at_zero, "unlike")
    lags = np.arange(-reach, reach + 1)
    seen = weighted[lags]
    peak = int(np.argmax(np.abs(seen)))
    if abs(lags[peak]) == reach or abs(seen[peak]) < _IN_STEP:
        return Alignment(None, None, None, at_zero, "no-clear-delay")
    delay, top = _between(weighted, int(lags[peak]))
    correlation = max(-1.0, min(1.0, _product_at(a, b, delay) / scale))
    opposite = float((-np.sign(top) * seen).max())
    if opposite > _OPPOSITE * abs(top):
        return Alignment(None, None, None, at_zero, "ambiguous")
    return Alignment(delay / fs, 1 if top > 0.0 else -1, correlation, at_zero)


def _generalised(a: Floats, b: Floats, fs: float, reach: int) -> tuple[Floats, float]:
    """The cross-correlation in which every frequency counts by its coherence, and the bandwidth of that in Hz.

    Spectra are averaged over segments twelve times as long as the longest delay (Welch). The correlation is circular,
    indexed by lag, and 1.0 where all frequencies that count are in step.
    """
    size = fast_length(min(max(12 * reach, round(0.2 * fs)), a.size // 4))
    window = np.hanning(size)
    bins = size + 1
    cross = np.zeros(bins, dtype=np.complex128)
    power_a, power_b = np.zeros(bins), np.zeros(bins)
    starts = range(0, a.size - size + 1, size // 2)
    for start in starts:
        spectrum_a = np.fft.rfft(a[start : start + size] * window, 2 * size)
        spectrum_b = np.fft.rfft(b[start : start + size] * window, 2 * size)
        cross += np.conj(spectrum_a) * spectrum_b
        power_a += np.abs(spectrum_a) ** 2
        power_b += np.abs(spectrum_b) ** 2
    # Bins 80 dB under the strongest hold the window's skirts and rounding, not the instrument.
    heard = (power_a > 1e-8 * power_a.max()) & (power_b > 1e-8 * power_b.max())
    both = np.where(heard, power_a * power_b, 1.0)
    coherence = np.where(heard, np.abs(cross) ** 2 / both, 0.0)
    # Unrelated signals have a coherence of one over the number of segments, and some bins several times that.
    weight = np.maximum(coherence - min(4.0 / len(starts), 0.9), 0.0)
    total = float(weight.sum())
    if total == 0.0:
        return np.zeros(2 * size), 0.0
    phase = np.where(weight > 0.0, cross / np.maximum(np.abs(cross), 1e-300), 0.0)
    return np.fft.irfft(weight * phase, 2 * size) * size / total, total * fs / (2.0 * size)


def _cut(a: Floats, b: Floats, fs: float) -> tuple[Floats, Floats]:
    most, step = round(LONGEST_S * fs), max(1, round(fs))
    if a.size <= most:
        return a, b
    at = np.arange(0, a.size, step)
    both = np.sqrt(np.add.reduceat(a * a, at) * np.add.reduceat(b * b, at))
    total = np.concatenate([[0.0], np.cumsum(both)])
    count = most // step
    start = int(np.argmax(total[count:] - total[:-count])) * step
    return a[start : start + most], b[start : start + most]


def _value(series: Floats, at: float) -> float:
    """The value of a band-limited circular series between its samples, by a windowed sine cardinal."""
    nearest = round(at)
    index = np.arange(nearest - _AROUND, nearest + _AROUND + 1)
    away = index - at
    window = np.cos(np.pi * away / (2.0 * (_AROUND + 1))) ** 2
    return float((series[index % series.size] * np.sinc(away) * window).sum())


def _product(a: Floats, b: Floats) -> float:
    """Σ a b. Not ``a @ b``: that wakes a thread for every core, which costs more than it gives on shared cores."""
    return float(np.einsum("i,i->", a, b))


def _product_at(a: Floats, b: Floats, delay: float) -> float:
    """Σ a[n] b[n + delay] for a delay between the samples."""
    nearest = round(delay)
    lags = range(nearest - _AROUND, nearest + _AROUND + 1)
    products = np.zeros(2 * _AROUND + 1)
    for place, lag in enumerate(lags):
        products[place] = _product(a[max(0, -lag) : a.size - max(0, lag)], b[max(0, lag) : b.size - max(0, -lag)])
    return _value(products, delay - nearest + _AROUND)


def _between(series: Floats, lag: int) -> tuple[float, float]:
    """The highest point, by size, within a sample of ``lag``: where, and its value."""
    fine = lag + np.arange(-_FINE, _FINE + 1) / _FINE
    values = np.array([_value(series, at) for at in fine])
    best = min(max(int(np.argmax(np.abs(values))), 1), values.size - 2)
    left, middle, right = values[best - 1 : best + 2]
    bend = left - 2.0 * middle + right
    shift = 0.5 * (left - right) / bend if bend != 0.0 else 0.0
    return float(fine[best] + min(max(shift, -1.0), 1.0) / _FINE), float(middle)
