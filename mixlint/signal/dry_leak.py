"""The dry signal in a printed return, where the print lies, and when and how long its ambience sounds.

A dry leak is a spike of the response from the dry signal to the print, at the lag at which the print lies. It is taken
for one only where it stands out from what is left around it once the spike itself is taken away. A plain correlation
cannot do this: a reverb correlates with its source by itself.

A print may lie late or early, and nothing in a response tells the beginning of a late reverb from the pre-delay of one
in place, nor the first reflection from a dry copy. So a lag counts as known only where something proves it:

- a spike at lag 0 itself: no reflection comes that soon;
- one tap, alike on all legs, four times as high as everything else: reflections come in flocks;
- a response that begins before lag 0: an effect cannot answer before it is asked, so the print lies early;
- a pre-delay that is known from elsewhere: a dry copy lies ahead of the ambience by as much;
- repeats whose first comes after as long as the second does after it.

An ambience that begins with its source, or at the pre-delay that is known, lies no later than in place; that it lies
early by just the time of its first reflection is not ruled out, and so unlikely that it counts as in place. The bound
on what may hide is read over all lags at which a print may lie, up to the beginning of the ambience; of repeats that
count back to the source, about lag 0.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mixlint.signal.decay import reverberation_time_s
from mixlint.signal.decibel import FLOOR_DB, power_to_db
from mixlint.signal.deconvolution import QUIET_S, SHARPLY, Response, deconvolve, quiet_lags, rows

Floats = NDArray[np.float64]

REACH_S: Final = 0.1
EARLIER_S: Final = 0.005
LATER_S: Final = 0.002
SHORTEST_S: Final = 0.5
LONGEST_S: Final = 45.0
NARROWEST_HZ: Final = 400.0
STANDS_OUT: Final = 2.0
ALONE: Final = 4.0
ONSET: Final = 0.1
"""A return begins where its response first comes within 20 dB of its highest point, as a response in ISO 3382-1."""

ONSET_BANDWIDTH_HZ: Final = 2000.0
"""A narrower dry signal spreads every tap over half a millisecond or more: too blunt for a pre-delay."""

OVER_NOISE: Final = 4.0
"""What rises so much over the highest of the error at lags where nothing can be is a part of the response."""

BLURRED: Final = 0.25
"""A leg whose response rises over its error by 12 dB less than another's: the dry signal is faint there, or unlike."""

MOST_REPEATS: Final = 24
AT_ONCE_S: Final = 0.001
TAIL_S: Final = 3.0
EDGES_S: Final = 1.0
LeakFault = Literal["too-short", "dry-silent", "print-silent", "narrow-band", "no-common-leg"]
"""Why a leak cannot be told: the two share less than ``SHORTEST_S``; the dry signal, or the print, is silent; the dry
signal fills less than ``NARROWEST_HZ`` of the spectrum; no leg holds sound in both."""

LagBy = Literal["", "dry-in-place", "dry-copy", "before-its-source", "pre-delay", "at-once", "repeats"]
"""What proves the lag: a dry spike in place; a dry copy elsewhere; an answer before the source; the pre-delay that is
known; an ambience that begins at once; repeats that count back to 0. Empty where nothing does."""


@dataclass(frozen=True, slots=True)
class LeakEstimate:
    """The dry signal found in a printed return.

    Args:
        gain: amplitude and polarity at which the dry signal is in the print; None when no spike stands out.
        dry_db: the dry part relative to the rest of the print in dB; None when no spike stands out.
        at_most_db: no more than this, relative to the rest of the print, in dB; None when it cannot be told at all.
        onset_s: how long after the dry signal the wet part begins, as the print lies, in seconds; negative where it
            begins before it; None when no beginning is found.
        lag_s: how late the print lies, in seconds, negative where it lies early; None where nothing proves it. Of a
            print proved early by its beginning alone it is the least that it can be.
        lag_by: what proves it.
        copy_s: where a tap stands out that may be a dry copy or the first reflection, in seconds; None where none does.
        copy_db: its level relative to the rest of the print, in dB.
        decay_s: the reverberation time of the response (T20, ISO 3382-1), seconds; None where its decay cannot be read.
        fault: why it cannot be told; None when it can.
    """

    gain: float | None
    dry_db: float | None
    at_most_db: float | None
    onset_s: float | None
    lag_s: float | None = None
    lag_by: LagBy = ""
    copy_s: float | None = None
    copy_db: float | None = None
    decay_s: float | None = None
    fault: LeakFault | None = None


@dataclass(frozen=True, slots=True)
class _Tap:
    """A tap that stands out of one leg's response.

    Args:
        gain: its amplitude, with its sign.
        left_over: the highest amplitude around it once it is taken away.
        lag: where it lies, samples.
        rest: the response without it, by lag as ``Response.taps``.
    """

    gain: float
    left_over: float
    lag: int
    rest: Floats

    @property
    def stands_out(self) -> bool:
        return abs(self.gain) >= STANDS_OUT * self.left_over and abs(self.gain) > 10.0 ** (FLOOR_DB / 40.0)


@dataclass(frozen=True, slots=True)
class _Leg:
    """One leg's response and what is read from it.

    Args:
        response: from the dry signal to the print.
        error: the highest amplitude at lags where nothing can be.
        over_error: how far its highest point rises over that, as a ratio.
        begins: the lag at which it begins; None where it does not rise over the error.
    """

    response: Response
    error: float
    over_error: float
    begins: int | None


def estimate_leak(
    dry: ArrayLike,
    printed: ArrayLike,
    fs: float,
    *,
    pre_delay_s: float | None = None,
    repeats: bool = False,
    reach_s: float = REACH_S,
) -> LeakEstimate:
    """How much of the dry signal is in a printed return, where it lies, and when the wet part begins.

    Leg by leg where the dry signal has as many legs as the print, else a mono dry signal against every leg; the leg
    with the most certain spike speaks for the gain, and the levels count all legs. A print may hold other signals too:
    they count as the rest. Of long signals the 45 s with most dry energy are taken.

    Args:
        dry: what feeds the return, (n,) or (legs, n), full scale 1.0. Several sources: their sum as the sends make it.
        printed: the return's output, (n,) or (legs, n), beginning at the same instant; the shorter of the two counts.
        fs: sample rate of both in Hz.
        pre_delay_s: the pre-delay of the reverb, or the time of the delay, where it is known from elsewhere.
        repeats: the effect repeats the sound as a delay does, so that a lone tap is one of its repeats.
        reach_s: how far from lag 0 the print may lie.

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
    legs: list[_Leg] = []
    window = _window(x.shape[1], fs)
    for leg_dry, leg_print in zip(x, y, strict=True):
        if not leg_dry.any() or not leg_print.any():
            continue
        response = deconvolve(leg_dry * window, leg_print * window, fs, SHARPLY)
        if response.bandwidth_hz < NARROWEST_HZ:
            return _cannot_tell("narrow-band")
        legs.append(_leg(_cleaned(response, fs) if repeats else response, fs, reach_s))
    if not legs:
        return _cannot_tell("no-common-leg")
    return _Reading(x, y, legs, fs, round(reach_s * fs)).judged(pre_delay_s, repeats)


@dataclass(frozen=True, slots=True, eq=False)
class _Reading:
    """The legs of one print, read together.

    Args:
        x, y: the dry signal and the print, (legs, n).
        legs: the responses of the legs on which both sound.
        fs: sample rate, Hz.
        reach: how far from lag 0 the print may lie, samples.
    """

    x: Floats
    y: Floats
    legs: Sequence[_Leg]
    fs: float
    reach: int

    def judged(self, pre_delay_s: float | None, repeats: bool) -> LeakEstimate:
        """What the responses show."""
        begun = [leg.begins for leg in self._clear_legs() if leg.begins is not None]
        begins = min(begun, default=None)
        near = round(AT_ONCE_S * self.fs)
        early = begins is not None and begins < -near
        in_place = [] if early else [self._tap(leg, -1, 1) for leg in self.legs]
        if in_place and self._best(in_place).stands_out:
            return self._with_dry(in_place, "dry-in-place")
        last = self.reach if begins is None else min(self.reach, begins + near // 2)
        ahead = [self._tap(leg, -self.reach, max(last, 1 - self.reach)) for leg in self.legs]
        # A tap that does not rise over the error stands out of it by chance alone, among so many lags.
        spike = self._best(ahead)
        error = max(leg.error for leg in self.legs)
        stands = spike.stands_out and abs(spike.gain) > 2.0 * error
        wet_begins = self._begins_after(ahead, spike.lag) if stands else begins
        pre_delay = None if pre_delay_s is None or pre_delay_s * self.fs < 2 * near else round(pre_delay_s * self.fs)
        first = pre_delay is not None and abs(spike.lag - pre_delay) <= near
        if stands and not first and self._is_dry(ahead, spike, wet_begins, None if repeats else pre_delay, repeats):
            return self._with_dry(ahead, "dry-copy")
        found = self._bounded(begins, None if stands else pre_delay, repeats)
        if not stands or found.lag_s == 0.0:
            return found
        copy_db, hidden = self._levels(ahead, spike)
        at_most = max(hidden, found.at_most_db if found.at_most_db is not None else hidden)
        return replace(found, at_most_db=at_most, copy_s=spike.lag / self.fs, copy_db=copy_db)

    def _clear_legs(self) -> list[_Leg]:
        """The legs that show where the response begins: one that is far more blurred than another shows nothing."""
        best = max(leg.over_error for leg in self.legs)
        return [leg for leg in self.legs if leg.over_error >= BLURRED * best]

    def _is_dry(
        self, taps: Sequence[_Tap], spike: _Tap, wet_begins: int | None, pre_delay: int | None, repeats: bool
    ) -> bool:
        """True where a tap away from lag 0 has to be the dry signal: by the pre-delay after it, or by its height."""
        alike = all(abs(tap.lag - spike.lag) <= 1 and tap.gain * spike.gain > 0.0 for tap in taps)
        near = round(AT_ONCE_S * self.fs)
        if pre_delay is not None and alike:
            return wet_begins is not None and wet_begins - spike.lag >= pre_delay - near
        span = np.arange(-self.reach, min(round(TAIL_S * self.fs), spike.rest.size // 2))
        highest = max(float(np.abs(tap.rest[span]).max()) for tap in taps)
        return alike and not repeats and abs(spike.gain) >= ALONE * highest

    def _with_dry(self, taps: Sequence[_Tap], by: LagBy) -> LeakEstimate:
        best = self._best(taps)
        dry_db, at_most = self._levels(taps, best)
        begins = self._begins_after(taps, best.lag)
        lag_s = 0.0 if by == "dry-in-place" else best.lag / self.fs
        rests = [tap.rest for tap in taps]
        return LeakEstimate(
            best.gain,
            dry_db,
            at_most,
            None if begins is None else begins / self.fs,
            lag_s,
            by,
            decay_s=self._decay_s(rests, begins),
        )

    def _bounded(self, begins: int | None, pre_delay: int | None, repeats: bool) -> LeakEstimate:
        """No dry signal stands out: how much may hide, and where the print lies as far as anything proves it."""
        near = round(AT_ONCE_S * self.fs)
        lag, by = self._proved_lag(begins, pre_delay, repeats)
        if begins is None:
            first, last = -self.reach, self.reach
        elif by == "repeats":
            first, last = -round(EARLIER_S * self.fs), round(LATER_S * self.fs)
        else:
            # A print that lies early by just the time of its first reflection begins where one in place does.
            first, last = -self.reach, min(self.reach, begins - max(0, (pre_delay or 0) - near) + near // 2)
        lags = np.arange(first, max(last, first + 1) + 1)
        highest = max(float(np.abs(leg.response.taps[lags]).max()) for leg in self.legs)
        at_most = _relative(highest**2 * float((self.x**2).mean()), float((self.y**2).mean()))
        responses = [leg.response.taps for leg in self.legs]
        return LeakEstimate(
            None,
            None,
            at_most,
            None if begins is None else begins / self.fs,
            None if lag is None else lag / self.fs,
            by,
            decay_s=None if repeats else self._decay_s(responses, begins),
        )

    def _proved_lag(self, begins: int | None, pre_delay: int | None, repeats: bool) -> tuple[int | None, LagBy]:
        near = round(AT_ONCE_S * self.fs)
        if begins is None:
            return None, ""
        if begins < -near:
            return begins - (pre_delay or 0), "before-its-source"
        if pre_delay is not None and begins < pre_delay - 2 * near:
            return begins - pre_delay, "before-its-source"
        if pre_delay is not None and abs(begins - pre_delay) <= near:
            return 0, "pre-delay"
        if begins <= near:
            return 0, "at-once"
        if repeats and self._counts_back(begins):
            return 0, "repeats"
        return None, ""

    def _counts_back(self, begins: int) -> bool:
        """True where a second repeat comes as long after the first as the first after the dry signal."""
        near = round(AT_ONCE_S * self.fs)
        leg = max(self.legs, key=lambda one: float(np.abs(one.response.taps[begins - 2 : begins + near]).max()))
        first = begins + int(np.argmax(np.abs(leg.response.taps[begins : begins + near])))
        apart = round(0.02 * self.fs)
        after = np.abs(leg.response.taps[first + apart : min(3 * first + apart, leg.response.taps.size // 2)])
        return after.size > 0 and abs(int(np.argmax(after)) + apart - first) <= near

    def _tap(self, leg: _Leg, first: int, last: int) -> _Tap:
        """The strongest tap between two lags, and what is left around it."""
        lags = np.arange(first, last + 1)
        lag = int(lags[np.argmax(np.abs(leg.response.taps[lags]))])
        gain = float(leg.response.taps[lag])
        rest = leg.response.taps - gain * np.roll(leg.response.spread, lag)
        around = np.arange(-round(EARLIER_S * self.fs), round(LATER_S * self.fs) + 1)
        return _Tap(gain, float(np.abs(rest[around + lag]).max()), lag, rest)

    @staticmethod
    def _best(taps: Sequence[_Tap]) -> _Tap:
        return max(taps, key=lambda tap: abs(tap.gain) / (tap.left_over + 1e-30))

    def _levels(self, taps: Sequence[_Tap], best: _Tap) -> tuple[float, float]:
        """The level of the dry part at the lag of ``best``, and the most it may be, re the rest of the print, dB."""
        legs = self.y.shape[0]
        gains = np.array([t.gain for t in taps]) if len(taps) == legs else np.full(legs, best.gain)
        dry_part = float((self.x * self.x).mean())
        wet = self.y - gains[:, None] * np.roll(self.x, best.lag, axis=1)
        wet_part = float((wet**2).mean())
        bound = max(abs(tap.gain) + tap.left_over for tap in taps)
        return _relative(float((gains**2).mean()) * dry_part, wet_part), _relative(bound**2 * dry_part, wet_part)

    def _begins_after(self, taps: Sequence[_Tap], lag: int) -> int | None:
        """Where the wet part begins once the dry spike is taken away; None when it does not rise over the error."""
        found = [
            begins
            for tap, leg in zip(taps, self.legs, strict=True)
            if leg.response.bandwidth_hz >= ONSET_BANDWIDTH_HZ
            and (begins := _begins(tap.rest, lag + max(1, round(0.0005 * self.fs)), leg.error, self.fs)) is not None
        ]
        return min(found, default=None)

    def _decay_s(self, responses: Sequence[Floats], begins: int | None) -> float | None:
        if begins is None:
            return None
        squares = np.zeros(0)
        quiet = 0.0
        for taps in responses:
            last = min(begins + round(6.0 * self.fs), taps.size - round(QUIET_S[0] * self.fs) - 1)
            if last <= begins:
                return None
            part = taps[np.arange(begins, last)] ** 2
            squares = part if not squares.size else squares + part
            quiet += float((taps[quiet_lags(taps.size, self.fs)] ** 2).mean())
        return reverberation_time_s(squares, quiet, self.fs)


def _window(n: int, fs: float) -> Floats:
    """One, faded at both ends: the tail of what sounded before, and what the print lacks at its end, weigh less."""
    fade = min(round(EDGES_S * fs), n // 6)
    ramp = 0.5 - 0.5 * np.cos(np.pi * np.arange(fade) / max(fade, 1))
    return np.concatenate([ramp, np.ones(n - 2 * fade), ramp[::-1]])


def _leg(response: Response, fs: float, reach_s: float) -> _Leg:
    quiet = response.taps[quiet_lags(response.taps.size, fs)]
    error = float(np.abs(quiet).max(initial=0.0))
    highest = float(np.abs(response.taps).max(initial=0.0))
    begins = None
    if response.bandwidth_hz >= ONSET_BANDWIDTH_HZ:
        begins = _begins(response.taps, -round(reach_s * fs), error, fs)
    return _Leg(response, error, highest / max(error, 1e-12), begins)


def _begins(taps: Floats, first: int, error: float, fs: float) -> int | None:
    """The lag from ``first`` on at which a response first comes within 20 dB of its highest point.

    None where that highest point does not rise over the error.
    """
    lags = np.arange(first, min(round(TAIL_S * fs), taps.size // 2))
    after = np.abs(taps[lags])
    highest = float(after.max(initial=0.0))
    if highest <= OVER_NOISE * error or highest == 0.0:
        return None
    return int(lags[int(np.argmax(after >= max(ONSET * highest, 1.5 * error)))])


def _cleaned(response: Response, fs: float) -> Response:
    """The response of repeats with each put back into one tap: what a tap is spread over hides a dry spike.

    The strongest taps are taken away one after the other and put back as single ones (matching pursuit).
    """
    lags = np.arange(-round(REACH_S * 2 * fs), min(round(TAIL_S * fs), response.taps.size // 2))
    left = response.taps.copy()
    single = np.zeros_like(left)
    for _ in range(MOST_REPEATS):
        lag = int(lags[int(np.argmax(np.abs(left[lags])))])
        gain = float(left[lag])
        single[lag] += gain
        left = left - gain * np.roll(response.spread, lag)
    unit = np.zeros_like(left)
    unit[0] = 1.0
    return Response(left + single, unit, response.bandwidth_hz)


def _cannot_tell(fault: LeakFault) -> LeakEstimate:
    return LeakEstimate(None, None, None, None, fault=fault)


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
