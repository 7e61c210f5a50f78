"""What feeds itself: a tone that grows evenly on one frequency, and repeats that do not die away."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

NEAR: Final = 0.0025
NEAR_HZ: Final = 2.5
"""A howl stays where it is: a quarter of a percent, 4 cents, which no voice and no bow keeps; at least a bin's part."""

MISSED: Final = 2
"""So many places in a row a louder note may hide it."""

FALLS_DB: Final = -1.5
EVEN_DB: Final = 6.0
"""It grows at one rate: in decibels a straight line, but for its ends."""

ALONE_DB: Final = 3.0
"""It is nearly all that its octave holds at its loudest."""

PARTIAL_DB: Final = 10.0
"""A note that swells has partials no weaker than this beside it."""

PARTIAL_NEAR: Final = 0.006

PARTIALS: Final = (0.25, 1 / 3, 0.5, 2 / 3, 1.5, 2.0, 3.0, 4.0)


class Ring(NamedTuple):
    """A tone that grows on one frequency.

    Args:
        start, end: its first place and its loudest.
        hz: its frequency.
        grows_db: by how much.
        level_db: how loud it gets, dBFS.
    """

    start: int
    end: int
    hz: float
    grows_db: float
    level_db: float


def rings(hz: Floats, level: Floats, bands: Floats, least: int, grows_db: float, loud_db: float) -> list[Ring]:
    """Tones that grow evenly on one frequency.

    Args:
        hz, level: (rows, n) the strongest line of some octaves at each place, Hz and dB.
        bands: (rows, n) what those octaves hold, dB.
        least: how many places it has to last.
        grows_db: by how much it has to grow.
        loud_db: how loud it has to become.
    """
    found = []
    for row in range(len(hz)):
        for run in _runs(hz[row], least):
            peak = int(run[level[row, run].argmax()])
            if level[row, peak] < loud_db or level[row, peak] < bands[row, peak] - ALONE_DB:
                continue
            rise = run[run <= peak]
            grown = _rise(rise, level[row, rise], least, grows_db)
            if grown is None or _has_partials(hz, level, row, grown, peak):
                continue
            start, by = grown
            found.append(Ring(start, peak, float(np.median(hz[row, rise])), by, float(level[row, peak])))
    return sorted(found, key=lambda one: one.start)


def _runs(hz: Floats, least: int) -> list[NDArray[np.int64]]:
    """Places at which the strongest line stays on one frequency, with few left out."""
    found: list[NDArray[np.int64]] = []
    first = 0
    while first < hz.size - least:
        last, middle = first, float(hz[first])
        run = [first]
        while last + 1 < hz.size:
            near = [
                at
                for at in range(last + 1, min(hz.size, last + 2 + MISSED))
                if abs(float(hz[at]) - middle) <= max(NEAR_HZ, NEAR * middle)
            ]
            if not near:
                break
            last = near[0]
            run.append(last)
        if len(run) >= least:
            found.append(np.array(run))
            first = last
        first += 1
    return found


def _rise(places: NDArray[np.int64], level: Floats, least: int, grows_db: float) -> tuple[int, float] | None:
    """From which place on it grows evenly to its last, and by how much; None where it does not."""
    for start in range(places.size - least + 1):
        x, y = places[start:].astype(np.float64), level[start:]
        slope, base = np.polyfit(x, y, 1)
        by = float(slope * (x[-1] - x[0]))
        if by < grows_db:
            continue
        even = float(np.abs(y - slope * x - base).max()) <= EVEN_DB
        steps = [after - before for before, after in pairwise(y.tolist())]
        # A string that is plucked again comes up in one step.
        if even and min(steps) >= FALLS_DB and max(steps) <= by / 2.0:
            return int(places[start]), by
    return None


def _has_partials(hz: Floats, level: Floats, row: int, grown: tuple[int, float], at: int) -> bool:
    """True where another octave's line is a partial of the same note, nearly as strong, and grew with it."""
    start, by = grown
    for other in range(len(hz)):
        if other == row or level[other, at] < level[row, at] - PARTIAL_DB:
            continue
        ratio = hz[other, at] / hz[row, at]
        grew = level[other, at] - level[other, start] >= by / 2.0
        if grew and any(abs(ratio / one - 1.0) <= PARTIAL_NEAR for one in PARTIALS):
            return True
    return False


WINDOW_S: Final = 6.0
COARSE_HZ: Final = 6000.0
SHORTEST_S: Final = 0.15
LONGEST_S: Final = 2.0
ALIKE: Final = 0.9
QUIETEST: Final = 1e-3


class Repeats(NamedTuple):
    """How a stretch repeats itself: where it begins, at what distance, how alike, and with what gain each time."""

    at_s: float
    every_s: float
    like: float
    gain: float


def coarse(blocks: Iterable[NDArray[np.floating]], fs: float) -> tuple[Floats, float]:
    """The mean of all legs of blocks (legs, n) at a rate that tells repeats, some 6 kHz; and that rate, Hz."""
    every = _every(fs)
    left, found = np.zeros(0), []
    for block in blocks:
        mono = np.concatenate((left, block.astype(np.float64).mean(axis=0)))
        whole = mono.size // every * every
        found.append(mono[:whole].reshape(-1, every).mean(axis=1))
        left = mono[whole:]
    return (np.concatenate(found) if found else left), fs / every


def _every(fs: float) -> int:
    return max(1, int(fs // COARSE_HZ))


def repeats(samples: Floats, fs: float) -> list[Repeats]:
    """How a sound repeats itself, in stretches of six seconds that overlap by half; silent ones are left out.

    The distance is that of the best correlation between 0.15 and 2 seconds; the gain that of least squares.
    """
    samples, rate = coarse([samples[None]], fs)
    size = int(WINDOW_S * rate)
    found = []
    for start in range(0, samples.size - size + 1, size // 2):
        piece = samples[start : start + size] - samples[start : start + size].mean()
        if float(np.sqrt(np.mean(piece * piece))) < QUIETEST:
            continue
        spectrum = np.fft.rfft(piece, 2 * size)
        product = np.fft.irfft(np.abs(spectrum) ** 2)[:size]
        energy = np.concatenate(([0.0], np.cumsum(piece * piece)))
        lags = np.arange(int(SHORTEST_S * rate), int(LONGEST_S * rate))
        earlier, later = energy[size - lags], energy[size] - energy[lags]
        like = product[lags] / np.sqrt(np.maximum(earlier * later, 1e-20))
        best = int(like.argmax())
        gain = float(product[lags[best]] / max(float(earlier[best]), 1e-20))
        found.append(Repeats(start / rate, float(lags[best]) / rate, float(like[best]), gain))
    return found
