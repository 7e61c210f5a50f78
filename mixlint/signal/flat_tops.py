"""Flat tops: waves cut off at a level, at full scale or, when they were turned down afterwards, at one of their own.

A top is flat where four samples or more stand within a hair of each other while the wave comes up to them and leaves
them steeply. A natural top is round: the steps on either side of its flattest samples are hardly larger than those
within. What tells a ceiling from chance is that the flat tops of a leg stand at one level.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

HAIR: Final = 2e-4
"""Samples of one top differ by no more: four steps of a 16-bit word and dither on them."""

STEEP: Final = 6.0
"""How many hairs the wave has to come up in the two steps before a top, and to fall in the two behind it. A round top
of any pitch comes up by five at most: the steps of a parabola grow evenly."""

JUMP: Final = 0.7
LEAST_RUN: Final = 4
FULL_DB: Final = -0.3
"""At this level or above a top is cut off at full scale (common practice, no source); three equal samples do there."""

FULL: Final = 10.0 ** (FULL_DB / 20.0)
LOWEST: Final = 0.02
"""Under −34 dBFS the hair would be as large as the wave."""

BINS_A_DB: Final = 20.0
LOWEST_DB: Final = -36.0
BINS: Final = 900
KEPT_FROM: Final = 0.2
"""Tops down to 14 dB under the highest sample: one take of several may be the only one that was cut off."""

MOST_KEPT: Final = 4000
REACH: Final = 2048


class FlatTops:
    """The flat tops of one leg, over successive windows.

    Attributes:
        counts: (2, BINS) how many stand at each level, upward and downward, a twentieth of a decibel to a bin.
        lasting: (2, BINS) how many samples they take.
        squares: (2, BINS) the squares of their lengths, added up.
        flanks: (2, BINS) how large the steps next to a top are against those before, 0 to 1, added up.
        kept: place in the file, samples, level in full scale (negative downward); of very many every
            other one, over and over, so that they stand for the whole file.
    """

    def __init__(self) -> None:
        self.counts = np.zeros((2, BINS), np.int64)
        self.lasting = np.zeros((2, BINS), np.int64)
        self.squares = np.zeros((2, BINS), np.int64)
        self.flanks = np.zeros((2, BINS))
        self.kept: list[tuple[int, int, float]] = []
        self._highest, self._stride = 0.0, 1

    def feed(self, window: NDArray[np.float32], start: int, end: int, offset: int) -> None:
        """Take the flat tops that end in a part of a window (n,), ``offset`` being the window's place in the file."""
        first = max(0, start - REACH)
        part = window[first : min(window.size, end + 2)]
        size = np.abs(part)
        if part.size < LEAST_RUN + 2 or float(size.max()) < LOWEST:
            return
        step = np.diff(part)
        level = np.abs(step)
        still = level <= HAIR
        still &= size[1:] >= LOWEST
        turns = np.flatnonzero(still[1:] != still[:-1]) + 1
        if still[0]:
            turns = turns[1:]
        starts, ends = turns[::2], turns[1::2]
        starts = starts[: ends.size]
        equal = (ends - starts == 2) & (size[ends] >= FULL) & (level[starts] == 0.0) & (level[ends - 1] == 0.0)
        fits = (
            ((ends - starts >= LEAST_RUN - 1) | equal) & (starts > 0) & (first + ends >= start) & (first + ends < end)
        )
        starts, ends = starts[fits], ends[fits]
        if not starts.size:
            return
        middle = part[(starts + ends) // 2]
        sign = np.sign(middle)
        near = np.minimum(step[starts - 1] * sign, -step[ends] * sign)
        before, behind = step[np.maximum(starts - 2, 0)], step[np.minimum(ends + 1, step.size - 1)]
        flank = np.minimum((step[starts - 1] + before) * sign, -(step[ends] + behind) * sign)
        # A pulse jumps to its top in a single step: that is how it was made.
        steep = (near > 0.0) & (flank >= STEEP * HAIR) & (near < JUMP * np.abs(middle))
        starts, ends, middle = starts[steep], ends[steep], middle[steep]
        if not starts.size:
            return
        outer = level[np.maximum(starts - 2, 0)] + level[np.minimum(ends + 1, level.size - 1)]
        flanks = np.minimum(1.0, (level[starts - 1] + level[ends]) / np.maximum(outer, 1e-9))
        down, places = (middle < 0.0).astype(np.int64), bins_of(np.abs(middle))
        lasting = ends - starts + 1
        for table, amount in (
            (self.counts, 1),
            (self.lasting, lasting),
            (self.squares, lasting * lasting),
            (self.flanks, flanks),
        ):
            np.add.at(table, (down, places), amount)
        self._highest = max(self._highest, float(size.max()))
        high = np.flatnonzero(np.abs(middle) >= KEPT_FROM * self._highest)[:: self._stride]
        at = offset + first + starts[high]
        self.kept += list(zip(at.tolist(), lasting[high].tolist(), middle[high].tolist(), strict=True))
        while len(self.kept) > MOST_KEPT:
            self.kept, self._stride = self.kept[::2], 2 * self._stride

    def full(self) -> Ceiling | None:
        """All tops at full scale; None where there are none."""
        return self._ceiling((0, 1), slice(FULL_BIN, BINS), FULL_DB)

    def ceilings(self) -> list[Ceiling]:
        """The levels under full scale at which the leg is cut off, upward and downward."""
        found = []
        for down in (0, 1):
            place = _crowded(self.counts[down, :FULL_BIN])
            if place is None:
                continue
            near = slice(max(0, place - 1), place + 2)
            if float(self.flanks[down, near].sum()) < ROUND * int(self.counts[down, near].sum()):
                continue  # the tops are round after all, as those of a driven amplifier
            one = self._ceiling((down,), near, (place + 0.5) / BINS_A_DB + LOWEST_DB)
            if one is not None:
                found.append(one)
        return found

    def _ceiling(self, ways: tuple[int, ...], bins: slice, level_db: float) -> Ceiling | None:
        count = sum(int(self.counts[way, bins].sum()) for way in ways)
        if not count:
            return None
        lasting = sum(int(self.lasting[way, bins].sum()) for way in ways)
        mean = lasting / count
        square = sum(float(self.squares[way, bins].sum()) for way in ways) / count
        varies = float(np.sqrt(max(0.0, square - mean * mean))) / mean
        here = range(*bins.indices(BINS))
        tops = [one for one in self.kept if int(one[2] < 0.0) in ways and _bin(one[2]) in here]
        return Ceiling(level_db, count, lasting, varies, tops)


class Ceiling(NamedTuple):
    """A level at which a leg is cut off.

    Args:
        level_db: dBFS.
        tally: how many tops stand there.
        lasting: how many samples they take together.
        varies: the standard deviation of their lengths over their mean: near 0 for a made wave.
        tops: place in the file, samples and level of the first of them.
    """

    level_db: float
    tally: int
    lasting: int
    varies: float
    tops: list[tuple[int, int, float]]


def bins_of(levels: NDArray[np.float32]) -> NDArray[np.int64]:
    """The bins of levels (n,) in full scale."""
    db = 20.0 * np.log10(np.maximum(levels.astype(np.float64), 1e-9))
    return np.clip((db - LOWEST_DB) * BINS_A_DB, 0, BINS - 1).astype(np.int64)


def _bin(level: float) -> int:
    return int(bins_of(np.array([abs(level)], np.float32))[0])


def _crowded(counts: NDArray[np.int64]) -> int | None:
    """The bin around which flat tops (BINS,) stand on one level; None where they are few or spread out."""
    three = np.convolve(counts, np.ones(3, np.int64), "same")
    best = int(three.argmax())
    found = int(three[best])
    near = int(counts[max(0, best - NEAR) : best + NEAR + 1].sum()) - found
    below = int(counts[max(0, best - BELOW) :].sum())
    return best if found >= FEWEST and found >= near and found >= 0.4 * below else None


FULL_BIN: Final = _bin(FULL)
FEWEST: Final = 10
NEAR: Final = 30
BELOW: Final = 120
"""A decibel and a half to either side, and six below: a coarse word has flat tops at all of its steps."""

ROUND: Final = 0.4
"""A wave that is cut off comes up to its top in full steps, of which the last is cut off anywhere, half of one on the
mean; one that is bent comes up in ever smaller ones. From a sweep over 17 sounds: 0.43 to 0.99 cut off, 0.04 to 0.37
bent, but for drums driven by 20 dB and more into a bend, which are as good as cut off."""
