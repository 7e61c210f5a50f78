"""Runs of equal samples, found block by block as if the file lay in one piece."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

CLIP_LEVEL: Final = 10.0 ** (-0.3 / 20.0)
"""Runs at or above this amplitude count as clipped (common practice, no source)."""

CLIP_RUN: Final = 3
FLAT_RUN: Final = 4
ZERO_RUN: Final = 32
FLAT_FLOOR: Final = 1e-3
"""A leg whose extreme lies under −60 dBFS has no flat tops: there the steps of the word length show."""

MOST_KEPT: Final = 1000
MOST_ZERO_RUNS: Final = 50_000


class RunFinder:
    """Finds stretches where a mask holds, over successive blocks."""

    def __init__(self) -> None:
        self._open: int | None = None

    @property
    def idle(self) -> bool:
        """True when no stretch reaches the end of the last block."""
        return self._open is None

    def reset(self) -> None:
        """Forget a stretch that is still open."""
        self._open = None

    def feed(self, mask: NDArray[np.bool_], offset: int) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Take the next block.

        Args:
            mask: (n,).
            offset: the position of its first sample in the file.

        Returns:
            Starts and ends (one past the last) in the file of the stretches that closed in this block.
        """
        import numpy as np

        steps = np.diff(mask.view(np.int8), prepend=np.int8(0), append=np.int8(0))
        starts = np.flatnonzero(steps == 1).astype(np.int64) + offset
        ends = np.flatnonzero(steps == -1).astype(np.int64) + offset
        if self._open is not None:
            if starts.size and starts[0] == offset:
                starts[0] = self._open
            else:
                starts = np.concatenate((np.array([self._open], np.int64), starts))
                ends = np.concatenate((np.array([offset], np.int64), ends))
            self._open = None
        if ends.size and ends[-1] == offset + mask.size:
            self._open = int(starts[-1])
            starts, ends = starts[:-1], ends[:-1]
        return starts, ends

    def finish(self, end: int) -> tuple[int, int] | None:
        """The stretch that the end of the file closes, if there is one."""
        start, self._open = self._open, None
        return None if start is None else (start, end)


class LegRuns:
    """Clipped runs, flat tops and zero runs of one leg.

    Attributes:
        clipped: (start, length, amplitude), the first :data:`MOST_KEPT`.
        clipped_count: all of them.
        zeros: (start, end), the first :data:`MOST_ZERO_RUNS`.
    """

    def __init__(self) -> None:
        self.clipped: list[tuple[int, int, float]] = []
        self.clipped_count = 0
        self.zeros: list[tuple[int, int]] = []
        self._before = float("nan")  # the last sample of the block before; equal to nothing at first
        self._same = RunFinder()
        self._zero = RunFinder()
        self._tops = [_Extreme(1.0), _Extreme(-1.0)]

    @property
    def flat_tops(self) -> int:
        """Runs of :data:`FLAT_RUN` or more at the highest or the lowest value so far."""
        return sum(top.count for top in self._tops)

    def feed(self, samples: NDArray[np.float32], offset: int) -> None:
        """Take the next block (n,) of the leg; ``offset`` is its place in the file."""
        high, low = float(samples.max()), float(samples.min())
        if max(high, -low) >= CLIP_LEVEL or not self._same.idle:
            self._clips(samples, offset)
        for top, value in zip(self._tops, (high, low), strict=True):
            top.feed(samples, offset, value)
        mask = samples == 0.0
        if not self._zero.idle or mask.any():
            self._take_zeros(*self._zero.feed(mask, offset))
        self._before = float(samples[-1])

    def _clips(self, samples: NDArray[np.float32], offset: int) -> None:
        import numpy as np

        mask = np.empty(samples.size, dtype=np.bool_)
        mask[0] = samples[0] == self._before
        np.equal(samples[1:], samples[:-1], out=mask[1:])
        mask &= np.abs(samples) >= CLIP_LEVEL
        starts, ends = self._same.feed(mask, offset)
        # The mask holds from a run's second sample on.
        for start, end in zip(starts.tolist(), ends.tolist(), strict=True):
            level = self._before if end == offset else float(samples[end - 1 - offset])
            self._clip(start - 1, end, level)

    def _clip(self, start: int, end: int, level: float) -> None:
        if end - start >= CLIP_RUN:
            self.clipped_count += 1
            if len(self.clipped) < MOST_KEPT:
                self.clipped.append((start, end - start, abs(level)))

    def _take_zeros(self, starts: NDArray[np.int64], ends: NDArray[np.int64]) -> None:
        long = ends - starts >= ZERO_RUN
        room = max(0, MOST_ZERO_RUNS - len(self.zeros))
        self.zeros += list(zip(starts[long][:room].tolist(), ends[long][:room].tolist(), strict=True))

    def finish(self, end: int) -> None:
        """The file ends at ``end``. Zeros up to there are its end, not a hole."""
        last = self._same.finish(end)
        if last is not None:
            self._clip(last[0] - 1, last[1], self._before)
        self._zero.reset()
        for top in self._tops:
            top.finish(end)


class _Extreme:
    """Counts flat runs at the highest (``sign`` 1) or lowest (−1) value, starting again when it is passed."""

    def __init__(self, sign: float) -> None:
        self.count = 0
        self._sign = sign
        self._value = FLAT_FLOOR
        self._finder = RunFinder()

    def feed(self, samples: NDArray[np.float32], offset: int, extreme: float) -> None:
        here = extreme * self._sign
        if here > self._value:
            self._value, self.count = here, 0
            self._finder.reset()
        if here == self._value or not self._finder.idle:
            starts, ends = self._finder.feed(samples == self._sign * self._value, offset)
            self.count += int((ends - starts >= FLAT_RUN).sum())

    def finish(self, end: int) -> None:
        last = self._finder.finish(end)
        if last is not None and last[1] - last[0] >= FLAT_RUN:
            self.count += 1
