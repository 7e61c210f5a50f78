"""The path between a dry signal and its printed return: its impulse response, the dry signal that leaks, the pre-delay.

The response comes from regularised deconvolution, H = Y X* / (|X|² + ε max|X|²). A dry leak is a spike at lag 0. It is
taken for one only where it stands out from what is left around it once the spike itself is taken away: up to 2 ms
later, where a return with pre-delay is still quiet, and up to 5 ms earlier, where nothing but estimation error can be.
A plain correlation cannot do this: a reverb correlates with its source by itself.

The gain found is right to within what is left around the spike, half of it at worst: ``at_most_db`` has that added.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mixlint.signal.decibel import FLOOR_DB, power_to_db

Floats = NDArray[np.float64]

EPSILON: Final = 1e-6
EARLIER_S: Final = 0.005
LATER_S: Final = 0.002
SHORTEST_S: Final = 0.5
LONGEST_S: Final = 45.0
RESPONSE_S: Final = 6.0
NARROWEST_HZ: Final = 400.0
STANDS_OUT: Final = 2.0
ONSET: Final = 0.1
"""A return begins where its response first comes within 20 dB of its highest point, as a response in ISO 3382-1."""

ONSET_BANDWIDTH_HZ: Final = 2000.0
"""A narrower dry signal spreads every tap over half a millisecond or more: too blunt for a pre-delay."""


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


@dataclass(frozen=True, slots=True)
class DryLeak:
    """The dry signal found in a printed return.

    Args:
        gain: amplitude and polarity at which the dry signal is in the print; None when no spike stands out.
        dry_db: the dry part relative to the rest of the print in dB; None when no spike stands out.
        at_most_db: no more than this, relative to the rest of the print, in dB; None when it cannot be told at all.
        onset_s: the pre-delay, from the dry signal to the beginning of the wet part, in seconds; 0 when under half a
            millisecond; None when none is found.
        why: why it cannot be told; empty when it can.
    """

    gain: float | None
    dry_db: float | None
    at_most_db: float | None
    onset_s: float | None
    why: str = ""


def fast_length(n: int) -> int:
    """The next length of 2^a or 3 · 2^a that is at least ``n``."""
    power = 1 << max(n - 1, 1).bit_length()
    return power * 3 // 4 if n <= power * 3 // 4 and power >= 4 else power


def _rows(samples: ArrayLike) -> Floats:
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
    x, y = _rows(dry), _rows(printed)
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


def _cut(dry: Floats, printed: Floats, fs: float) -> tuple[Floats, Floats]:
    """The same stretch of both, no longer than ``LONGEST_S``, where the dry signal has most energy."""
    n, most = dry.shape[1], round(LONGEST_S * fs)
    if n <= most:
        return dry, printed
    step = max(1, round(fs))
    energy = np.add.reduceat((dry * dry).sum(axis=0), np.arange(0, n, step))
    total = np.concatenate([[0.0], np.cumsum(energy)])
    count = most // step
    start = int(np.argmax(total[count:] - total[:-count])) * step
    return dry[:, start : start + most], printed[:, start : start + most]


def dry_leak(dry: ArrayLike, printed: ArrayLike, fs: float, *, slack_s: float = 0.0) -> DryLeak:
    """How much of the dry signal is in a printed return, and when the wet part begins.

    Leg by leg where the dry signal has as many legs as the print, else a mono dry signal against every leg; the leg
    with the most certain spike speaks for the gain, and the levels count all legs. A print may hold other signals too:
    they count as the rest. Of long signals the 45 s with most dry energy are taken.

    Args:
        dry: what feeds the return, (n,) or (legs, n), full scale 1.0. Several sources: their sum as the sends make it.
        printed: the return's output, (n,) or (legs, n), beginning at the same instant; the shorter of the two counts.
        fs: sample rate of both in Hz.
        slack_s: how far from lag 0 the dry signal may lie, for prints that are not aligned to the sample.

    Returns:
        the leak; ``why`` says why when it cannot be told: too short, silent, too narrow a spectrum.

    Raises:
        ValueError: samples that are not finite, or numbers of legs that do not go together.
    """
    x, y = _rows(dry), _rows(printed)
    n = min(x.shape[1], y.shape[1])
    if x.shape[0] not in (1, y.shape[0]):
        raise ValueError("the dry signal is mono or has as many legs as the print")
    if n < SHORTEST_S * fs:
        return _cannot_tell(f"the signals share less than {SHORTEST_S:g} s")
    x, y = _cut(np.broadcast_to(x[:, :n], (y.shape[0], n)), y[:, :n], fs)
    if power_to_db(float((x * x).mean())) < -100.0:
        return _cannot_tell("the dry signal is silent")
    if power_to_db(float((y * y).mean())) < -120.0:
        return _cannot_tell("the printed return is silent")
    slack = round(slack_s * fs)
    around = np.arange(-round(EARLIER_S * fs), round(LATER_S * fs) + 1)
    found: list[tuple[float, float, int]] = []  # gain, what is left around it, lag
    onsets: list[float] = []
    for leg_dry, leg_print in zip(x, y, strict=True):
        if not leg_dry.any() or not leg_print.any():
            continue
        response = deconvolve(leg_dry, leg_print, fs)
        if response.bandwidth_hz < NARROWEST_HZ:
            return _cannot_tell("the dry signal fills too little of the spectrum")
        lags = np.arange(-slack, slack + 1)
        lag = int(lags[np.argmax(np.abs(response.taps[lags]))])
        gain = float(response.taps[lag])
        rest = np.abs(response.taps - gain * np.roll(response.spread, lag))
        found.append((gain, float(rest[around + lag].max()), lag))
        onset = _onset(rest, lag, fs) if response.bandwidth_hz >= ONSET_BANDWIDTH_HZ else None
        if onset is not None:
            onsets.append(onset)
    if not found:
        return _cannot_tell("no leg has both a dry signal and a print")
    gain, left_over, lag = max(found, key=lambda spike: abs(spike[0]) / (spike[1] + 1e-30))
    stands_out = abs(gain) >= STANDS_OUT * left_over and abs(gain) > 10.0 ** (FLOOR_DB / 40.0)
    dry_part = float((x * x).mean())
    shifted = np.roll(x, lag, axis=1)
    gains = np.array([spike[0] for spike in found]) if len(found) == y.shape[0] else np.full(y.shape[0], gain)
    wet_part = float(((y - gains[:, None] * shifted) ** 2).mean()) if stands_out else float((y * y).mean())
    bound = max(abs(spike[0]) + spike[1] for spike in found)
    at_most = _relative(bound**2 * dry_part, wet_part)
    onset_s = min(onsets) if onsets else None
    if not stands_out:
        return DryLeak(None, None, at_most, onset_s)
    return DryLeak(gain, _relative(float((gains**2).mean()) * dry_part, wet_part), at_most, onset_s)


def _relative(part: float, rest: float) -> float:
    return max(FLOOR_DB, min(-FLOOR_DB, power_to_db(part) - power_to_db(rest)))


def _cannot_tell(why: str) -> DryLeak:
    return DryLeak(None, None, None, None, why)


def _onset(rest: Floats, lag: int, fs: float) -> float | None:
    """Where the wet part begins after the dry spike, in seconds; None when it does not rise over the error before."""
    first, last = lag + max(1, round(0.0005 * fs)), min(lag + round(3.0 * fs), rest.size // 2)
    after = rest[first:last]
    before = rest[np.arange(lag - round(0.2 * fs), lag - round(EARLIER_S * fs))]
    highest = float(after.max(initial=0.0))
    if highest <= 4.0 * float(before.max(initial=0.0)) or highest == 0.0:
        return None
    begin = int(np.argmax(after >= ONSET * highest))
    return float(first - lag + begin) / fs if begin else 0.0


def band_levels_db(samples: ArrayLike, fs: float, centres_hz: ArrayLike, octaves: float = 1.0 / 3.0) -> Floats:
    """The level in bands: the power of the samples between centre · 2^(∓octaves/2), all legs together.

    The difference between a printed return and its dry signal, band by band, is what the path did to the tone:
    with it a low cut is measured as 60 Hz relative to 1 kHz.

    Args:
        samples: (n,) or (legs, n), full scale 1.0.
        fs: sample rate in Hz.
        centres_hz: middles of the bands in Hz, shape (bands,).
        octaves: width of a band.

    Returns:
        mean square per leg in dB, −200 for silence and for a band beyond fs/2, shape (bands,).
    """
    table = _rows(samples)
    n = table.shape[1]
    centres = np.atleast_1d(np.asarray(centres_hz, dtype=np.float64))
    if n == 0:
        return np.full(centres.shape, FLOOR_DB)
    # Welch's averaged periodograms, Hann, half overlapping; bins of 3 Hz at most, so that a third of 60 Hz has several.
    size = min(fast_length(math.ceil(fs / 3.0)), n)
    window = np.hanning(size + 1)[:-1] if size > 1 else np.ones(1)
    power = np.zeros(size // 2 + 1)
    starts = range(0, n - size + 1, max(1, size // 2))
    for start in starts:
        power += (np.abs(np.fft.rfft(table[:, start : start + size] * window, axis=1)) ** 2).mean(axis=0)
    # Twice, for the half of the spectrum that rfft leaves out; 0 Hz is in no band.
    power *= 2.0 / (len(starts) * size * float((window * window).sum()))
    bins = np.fft.rfftfreq(size, 1.0 / fs)
    half = 2.0 ** (octaves / 2.0)
    inside = (bins >= centres[:, None] / half) & (bins < centres[:, None] * half)
    return power_to_db(np.asarray(inside @ power))
