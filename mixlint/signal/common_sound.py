"""What two signals have in common: whether one performance is in both, how much later in one, and which way round.

Two microphones, a direct signal and its amplifier, a recording and its copy carry one and the same course of pressure,
however filtered: laid over each other at the right delay they agree in every second of the song. Two takes never do, be
they ever so tight, since no stroke falls on the same tenth of a millisecond twice.

The delay is found by the generalised cross-correlation (Knapp & Carter, IEEE Trans. ASSP 24(4), 1976), first with the
spectral envelope of both taken out, then with every frequency weighted by the coherence of the two.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from mixlint.signal.deconvolution import fast_length
from mixlint.signal.shared_spectra import Shared, shared_spectra

Floats = NDArray[np.float64]

LOOK_S: Final = 1.0
"""How long a look is: a few strokes, and little enough that a drifting clock does not smear it."""

LOWEST_HZ: Final = 50.0
HIGHEST_HZ: Final = 12_000.0
NEAR_S: Final = 3e-4
"""Delays within this are one: a few samples, or the hand's breadth by which a player moves."""

_SILENT: Final = 1e-12
_AMBIGUOUS: Final = 0.8


class Look(NamedTuple):
    """A second of both signals.

    Args:
        at_s: when it begins, in any time that its looks share.
        one: samples (n,).
        other: samples (n,) from the same instant.
    """

    at_s: float
    one: Floats
    other: Floats


class Seen(NamedTuple):
    """What one look shows by itself.

    Args:
        at_s: when it begins.
        lag_s: how much later the second signal is at the look's own best delay, seconds.
        strength: how well the two agree there with their spectral envelopes taken out, 0 to 1.
        stands_out: how far that agreement stands over the usual one at other delays, in times its root mean square.
    """

    at_s: float
    lag_s: float
    strength: float
    stands_out: float


@dataclass(frozen=True, slots=True)
class Common:
    """What two signals have in common.

    Args:
        lag_s: how much later the second is, seconds, at the delay in which the looks agree most.
        polarity: +1 the same, −1 turned over; None where delays of both polarities fit nearly alike.
        strength: how well the two agree there with their spectral envelopes taken out, 0 to 1, all looks together.
        share: the share of the looks whose own best delay is that one.
        agreement: mean coherence over the octaves that both fill, in the looks that share the delay, 0 to 1.
        bandwidth_hz: the width of spectrum over which they are coherent.
        low_db: how much more the low end of their sum has as they lie than with one turned over, dB; at equal level.
        level_db: how much louder the second is where they agree, dB.
        seen: each look by itself, in order of time.
        together: for each look, that its own best delay is the common one.
    """

    lag_s: float
    polarity: Literal[1, -1] | None
    strength: float
    share: float
    agreement: float
    bandwidth_hz: float
    low_db: float
    level_db: float
    seen: tuple[Seen, ...]
    together: tuple[bool, ...]


def common(looks: Sequence[Look], fs: float, reach_s: float) -> Common | None:
    """What two signals have in common over a number of looks.

    Args:
        looks: seconds of both, all of one length.
        fs: sample rate of both in Hz.
        reach_s: the longest delay either way.

    Returns:
        None where no look has sound in both.
    """
    sounding = [look for look in looks if min(_power(look.one), _power(look.other)) > _SILENT]
    if not sounding:
        return None
    curves, rate = _curves(sounding, fs, reach_s)
    reach = curves.shape[1] // 2
    weights = np.array([(_power(look.one) * _power(look.other)) ** 0.25 for look in sounding])
    total = (curves * (weights / weights.sum())[:, None]).sum(axis=0)
    best = int(np.argmax(np.abs(total)))
    own = np.abs(curves).argmax(axis=1)
    spread = np.sqrt((curves * curves).mean(axis=1)) + 1e-12
    peaks = np.abs(curves[np.arange(own.size), own])
    seen = tuple(
        Seen(look.at_s, (int(at) - reach) / rate, float(peak), float(peak / rms))
        for look, at, peak, rms in zip(sounding, own, peaks, spread, strict=True)
    )
    together = np.abs(own - best) <= NEAR_S * rate
    typical = float(np.median(peaks[together])) if together.any() else 0.0
    good = together & (peaks >= 0.75 * typical)  # a look in which the two part company halfway tells less
    used = [look for look, in_step in zip(sounding, good, strict=True) if in_step] or sounding
    lag = round((best - reach) / rate * fs)
    shared = shared_spectra([(look.one, look.other) for look in used], fs, lag)
    delay, polarity = _refined(shared, fs)
    return Common(
        lag_s=(lag + delay) / fs,
        polarity=polarity,
        strength=float(abs(total[best])),
        share=float(together.mean()),
        agreement=shared.agreement(),
        bandwidth_hz=shared.bandwidth_hz(),
        low_db=shared.low_end_db(lag),
        level_db=shared.level_db(),
        seen=seen,
        together=tuple(bool(one) for one in together),
    )


def _power(samples: Floats) -> float:
    return float(np.einsum("n,n->", samples, samples)) / samples.size


def _curves(looks: Sequence[Look], fs: float, reach_s: float) -> tuple[Floats, float]:
    """The cross-correlation of each look at the lags either way with both spectral envelopes taken out.

    Nothing over the highest frequency that counts is kept, so that the curves have a lower rate than the samples.

    Returns:
        (looks, lags) of odd length, 1.0 for a copy; and their rate in Hz.
    """
    length = max(look.one.size for look in looks)
    size = fast_length(length + 2 * round(reach_s * fs))
    bins = min(size // 2 + 1, int(HIGHEST_HZ * size / fs) + 1)
    small = min(size, fast_length(2 * bins))
    rate = fs * small / size
    reach = max(2, round(reach_s * rate))
    out = np.zeros((len(looks), 2 * reach + 1))
    for row, look in zip(out, looks, strict=True):
        first, second = _flat(look.one, fs, size, bins), _flat(look.other, fs, size, bins)
        both = (first != 0.0) & (second != 0.0)
        first, second = first * both, second * both
        scale = float(np.sqrt((np.abs(first) ** 2).sum() * (np.abs(second) ** 2).sum()))
        if scale > 0.0:
            curve = np.fft.irfft(np.conj(first) * second, small) * (small / 2.0 / scale)
            row[:] = np.concatenate((curve[-reach:], curve[: reach + 1]))
    return out, rate


def _flat(samples: Floats, fs: float, size: int, bins: int) -> NDArray[np.complex128]:
    """The spectrum with its envelope over a third of an octave taken out; zero where there is next to nothing."""
    spectrum = np.fft.rfft(samples, size)[:bins]
    power = spectrum.real**2 + spectrum.imag**2
    running = np.concatenate(([0.0], np.cumsum(power)))
    low, high = _thirds(bins, fs / size)
    envelope = (running[high] - running[low]) / (high - low)
    heard = (np.arange(bins) >= LOWEST_HZ * size / fs) & (envelope > 1e-6 * envelope.max())
    return np.where(heard, spectrum / np.sqrt(np.maximum(envelope, 1e-300)), 0.0)


@lru_cache(maxsize=8)
def _thirds(bins: int, step_hz: float) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """For each bin of a spectrum the first bin of a third of an octave about it, and the one behind its last."""
    at = np.arange(bins)
    half = np.maximum(at * 0.115, 25.0 / step_hz).astype(np.int64) + 1
    return np.maximum(0, at - half), np.minimum(bins, at + half + 1)


def _refined(shared: Shared, fs: float) -> tuple[float, Literal[1, -1] | None]:
    """The delay that is left, in samples and between them, and the polarity: each frequency by its coherence."""
    curve = shared.weighted_correlation()
    reach = max(8, round(2e-3 * fs))
    lags = np.arange(-reach, reach + 1)
    values = curve[lags]
    at = int(np.argmax(np.abs(values)))
    sign = 1 if values[at] > 0.0 else -1
    opposite = float((-sign * values).max())
    if opposite > _AMBIGUOUS * abs(values[at]):
        return 0.0, None
    if not 0 < at < values.size - 1:
        return float(lags[at]), 1 if sign > 0 else -1
    left, middle, right = sign * values[at - 1 : at + 2]
    bend = left - 2.0 * middle + right
    shift = 0.5 * (left - right) / bend if bend < 0.0 else 0.0
    return float(lags[at]) + min(max(shift, -0.5), 0.5), 1 if sign > 0 else -1
