"""The strokes of two signals held against each other under a map of time: one performance at another speed, or another.

A copy that is tuned by its speed keeps its strokes to a fraction of a millisecond once the map is found, whatever was
done to its sound. A second take has strokes of its own, milliseconds off and each by another amount.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from mixlint.signal.common_sound import Look, common
from mixlint.signal.deconvolution import fast_length

Floats = NDArray[np.float64]

HOP_S: Final = 1e-3
MOST_SPEED: Final = 0.0118
"""The most that one signal may run faster or slower: twenty cents and a little."""

REACH_S: Final = 0.1
_BANDS_HZ: Final = ((200.0, 900.0), (900.0, 3000.0), (3000.0, 12_000.0))
_RISE: Final = 6
_HIGHEST: Final = 3.0
"""A rise counts up to this, in natural logarithm of power: one hard stroke shall not outweigh all others."""


class Strokes(NamedTuple):
    """How the strokes of two signals lie upon each other.

    Args:
        alike: correlation of their rises under the best map, 0 to 1.
        speed: by how much the second runs faster, as a share.
        lag_s: how much later it is in the middle, seconds.
    """

    alike: float
    speed: float
    lag_s: float


def rises(samples: Floats, fs: float) -> Floats:
    """How steeply the level rises at each millisecond in three bands: (3, n), each of mean 0 and mean square 1."""
    hop = max(1, round(HOP_S * fs))
    width = 4 * hop
    count = (samples.size - width) // hop
    at = np.arange(count)[:, None] * hop + np.arange(width)
    power = np.abs(np.fft.rfft(samples[at] * np.hanning(width), axis=1)) ** 2
    hz = np.fft.rfftfreq(width, 1.0 / fs)
    out = np.zeros((len(_BANDS_HZ), count))
    for row, (low, high) in enumerate(_BANDS_HZ):
        level = power[:, (hz >= low) & (hz < high)].sum(axis=1)
        level = np.log(level + 1e-4 * level.max(initial=0.0) + 1e-15)
        out[row, _RISE:] = np.clip(level[_RISE:] - level[:-_RISE], 0.0, _HIGHEST)
        out[row] -= out[row].mean()
        spread = float(np.sqrt((out[row] ** 2).mean()))
        if spread > 0.0:
            out[row] /= spread
    return out


def strokes(one: Floats, other: Floats, fs: float) -> Strokes:
    """The map of time under which the strokes of two signals agree best, and how well they do.

    Args:
        one, other: samples (n,) from one instant, some seconds of them.
        fs: sample rate in Hz.
    """
    first, second = rises(one, fs), rises(other, fs)
    count = min(first.shape[1], second.shape[1])
    reach = round(REACH_S / HOP_S)
    size = fast_length(count + 2 * reach)
    turned = np.conj(np.fft.rfft(first[:, :count], size, axis=1))
    at = np.arange(count, dtype=np.float64)
    middle = count / 2.0
    best = Strokes(0.0, 0.0, 0.0)
    steps = int(MOST_SPEED * count)
    for step in sorted(range(-steps, steps + 1), key=abs):
        speed = step / count
        places = middle + (at - middle) / (1.0 + speed)
        moved = np.stack([np.interp(places, at, row[:count]) for row in second])
        curve = np.fft.irfft((turned * np.fft.rfft(moved, size, axis=1)).sum(axis=0), size) / (len(first) * count)
        curve = np.concatenate((curve[-reach:], curve[: reach + 1]))
        curve = np.convolve(curve, (0.25, 0.5, 0.25), "same")
        top = int(np.argmax(curve))
        if curve[top] > best.alike + 1e-3:
            best = Strokes(float(curve[top]), speed, (top - reach) * HOP_S)
    return best


def at_own_speed(samples: Floats, speed: float) -> Floats:
    """Samples that run ``speed`` faster, played as much slower about their middle: (n,)."""
    size = samples.size
    spectrum = np.fft.rfft(samples)
    finer = np.fft.irfft(spectrum, 4 * size) * 4.0
    at = np.arange(size, dtype=np.float64)
    middle = size / 2.0
    return np.interp((middle + (at - middle) / (1.0 + speed)) * 4.0, np.arange(4 * size), finer)


def same_at_another_speed(one: Floats, other: Floats, fs: float, found: Strokes) -> tuple[float, float]:
    """How well two signals agree once the second is brought to the speed of the first.

    Args:
        one, other: samples (n,) from one instant.
        fs: sample rate in Hz.
        found: the map of time that their strokes show; it is refined by the waves themselves.

    Returns:
        their agreement (mean coherence), 0 to 1, and the speed in cents.
    """
    speed, agreement = found.speed, 0.0
    length = round(0.5 * fs)
    for _ in range(3):
        slowed = at_own_speed(other, speed)
        starts = range(0, min(one.size, slowed.size) - length + 1, length)
        looks = [Look(at / fs, one[at : at + length], slowed[at : at + length]) for at in starts]
        shared = common(looks, fs, REACH_S)
        if shared is None:
            break
        if shared.share >= 0.5:
            agreement = max(agreement, shared.agreement)
        near = [seen for seen in shared.seen if abs(seen.lag_s - found.lag_s) < 0.012]
        if len(near) < 4:
            break
        times, lags = np.array([seen.at_s for seen in near]), np.array([seen.lag_s for seen in near])
        slopes = [
            (lags[b] - lags[a]) / (times[b] - times[a]) for a in range(len(near)) for b in range(a + 1, len(near))
        ]
        drift = float(np.median(slopes))
        if abs(drift) < 2e-6:
            break
        speed = (1.0 + speed) * (1.0 - drift) - 1.0
    return agreement, float(1200.0 * np.log2(1.0 + speed))
