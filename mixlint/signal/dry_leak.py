"""The dry signal in a printed return: how much of it, and how much later the wet part begins.

A dry leak is a spike at lag 0 of the response from the dry signal to the print. It is taken for one only where it
stands out from what is left around it once the spike itself is taken away: up to 2 ms later, where a return with
pre-delay is still quiet, and up to 5 ms earlier, where nothing but estimation error can be. A plain correlation cannot
do this: a reverb correlates with its source by itself.

The gain found is right to within what is left around the spike, half of it at worst: ``at_most_db`` has that added.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mixlint.signal.decibel import FLOOR_DB, power_to_db
from mixlint.signal.deconvolution import Response, deconvolve, rows

Floats = NDArray[np.float64]

EARLIER_S: Final = 0.005
LATER_S: Final = 0.002
SHORTEST_S: Final = 0.5
LONGEST_S: Final = 45.0
NARROWEST_HZ: Final = 400.0
STANDS_OUT: Final = 2.0
ONSET: Final = 0.1
"""A return begins where its response first comes within 20 dB of its highest point, as a response in ISO 3382-1."""

ONSET_BANDWIDTH_HZ: Final = 2000.0
"""A narrower dry signal spreads every tap over half a millisecond or more: too blunt for a pre-delay."""

LeakFault = Literal["too-short", "dry-silent", "print-silent", "narrow-band", "no-common-leg"]
"""Why a leak cannot be told: the two share less than ``SHORTEST_S``; the dry signal, or the print, is silent; the dry
signal fills less than ``NARROWEST_HZ`` of the spectrum; no leg holds sound in both."""


@dataclass(frozen=True, slots=True)
class LeakEstimate:
    """The dry signal found in a printed return.

    Args:
        gain: amplitude and polarity at which the dry signal is in the print; None when no spike stands out.
        dry_db: the dry part relative to the rest of the print in dB; None when no spike stands out.
        at_most_db: no more than this, relative to the rest of the print, in dB; None when it cannot be told at all.
        onset_s: the pre-delay, from the dry signal to the beginning of the wet part, in seconds; 0 when under half a
            millisecond; None when none is found.
        fault: why it cannot be told; None when it can.
    """

    gain: float | None
    dry_db: float | None
    at_most_db: float | None
    onset_s: float | None
    fault: LeakFault | None = None


@dataclass(frozen=True, slots=True)
class _Spike:
    """The strongest tap about lag 0 of one leg's response.

    Args:
        gain: its amplitude, with its sign.
        left_over: the highest amplitude around it once it is taken away.
        lag: where it lies, samples.
        onset_s: how much later the wet part begins; None when that is not found.
    """

    gain: float
    left_over: float
    lag: int
    onset_s: float | None


def estimate_leak(dry: ArrayLike, printed: ArrayLike, fs: float, *, slack_s: float = 0.0) -> LeakEstimate:
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
        the estimate; ``fault`` says why when it cannot be told.

    Raises:
        ValueError: samples that are not finite, or numbers of legs that do not go together.
    """
    x, y = rows(dry), rows(printed)
    n = min(x.shape[1], y.shape[1])
    if x.shape[0] not in (1, y.shape[0]):
        raise ValueError("the dry signal is mono or has as many legs as the print")
    if n < SHORTEST_S * fs:
        return _cannot_tell("too-short")
    x, y = _busiest(np.broadcast_to(x[:, :n], (y.shape[0], n)), y[:, :n], fs)
    if power_to_db(float((x * x).mean())) < -100.0:
        return _cannot_tell("dry-silent")
    if power_to_db(float((y * y).mean())) < -120.0:
        return _cannot_tell("print-silent")
    spikes: list[_Spike] = []
    for leg_dry, leg_print in zip(x, y, strict=True):
        if not leg_dry.any() or not leg_print.any():
            continue
        response = deconvolve(leg_dry, leg_print, fs)
        if response.bandwidth_hz < NARROWEST_HZ:
            return _cannot_tell("narrow-band")
        spikes.append(_spike(response, round(slack_s * fs), fs))
    return _judged(x, y, spikes) if spikes else _cannot_tell("no-common-leg")


def _spike(response: Response, slack: int, fs: float) -> _Spike:
    """The strongest tap within ``slack`` samples of lag 0, and what is left around it."""
    lags = np.arange(-slack, slack + 1)
    lag = int(lags[np.argmax(np.abs(response.taps[lags]))])
    gain = float(response.taps[lag])
    rest = np.abs(response.taps - gain * np.roll(response.spread, lag))
    around = np.arange(-round(EARLIER_S * fs), round(LATER_S * fs) + 1)
    onset = _onset(rest, lag, fs) if response.bandwidth_hz >= ONSET_BANDWIDTH_HZ else None
    return _Spike(gain, float(rest[around + lag].max()), lag, onset)


def _judged(x: Floats, y: Floats, spikes: Sequence[_Spike]) -> LeakEstimate:
    """Whether the most certain spike stands out, and the levels that follow from it."""
    best = max(spikes, key=lambda spike: abs(spike.gain) / (spike.left_over + 1e-30))
    stands_out = abs(best.gain) >= STANDS_OUT * best.left_over and abs(best.gain) > 10.0 ** (FLOOR_DB / 40.0)
    gains = np.array([s.gain for s in spikes]) if len(spikes) == y.shape[0] else np.full(y.shape[0], best.gain)
    dry_part = float((x * x).mean())
    wet = y - gains[:, None] * np.roll(x, best.lag, axis=1) if stands_out else y
    wet_part = float((wet**2).mean())
    bound = max(abs(spike.gain) + spike.left_over for spike in spikes)
    at_most = _relative(bound**2 * dry_part, wet_part)
    onset_s = min((spike.onset_s for spike in spikes if spike.onset_s is not None), default=None)
    if not stands_out:
        return LeakEstimate(None, None, at_most, onset_s)
    return LeakEstimate(best.gain, _relative(float((gains**2).mean()) * dry_part, wet_part), at_most, onset_s)


def _cannot_tell(fault: LeakFault) -> LeakEstimate:
    return LeakEstimate(None, None, None, None, fault)


def _relative(part: float, rest: float) -> float:
    return max(FLOOR_DB, min(-FLOOR_DB, power_to_db(part) - power_to_db(rest)))


def _busiest(dry: Floats, printed: Floats, fs: float) -> tuple[Floats, Floats]:
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
