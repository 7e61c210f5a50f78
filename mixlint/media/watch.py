"""What is wrong with single samples of a leg, found in the one pass: clicks, holes, repeated blocks, flat tops."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mixlint.media.measure import MARKS, Mark, decibels
from mixlint.media.runs import RunFinder

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.signal.holes import Beside

HISTORY: Final = 12_288
"""Samples kept of what came before: three of the longest blocks that may come twice."""

AHEAD_S: Final = 0.01
MOST: Final = 20_000
"""How many marks of a kind are gathered before the crowded ones are taken out."""

CROWD_S: Final = 1.0
CROWDED: Final = 8
"""More clicks than so many within a second are what the sound is made of: square waves, crackling shakers."""

FEW_HOLES: Final = 2
HOLE_EVERY_S: Final = 5.0
LONG_HOLE_S: Final = 0.02
"""More long holes than these, more often than that, are a rhythm: gated drums, steps, a row of tones."""


class LegWatch:
    """Takes one leg in chunks and gathers its marks.

    Args:
        leg: counted from 0.
        rate_hz: samples per second.
    """

    def __init__(self, leg: int, rate_hz: int) -> None:
        import numpy as np

        from mixlint.signal.flat_tops import FlatTops

        self._leg, self._rate = leg, rate_hz
        self._ahead = round(AHEAD_S * rate_hz)
        self._before = np.zeros(0, np.float32)
        self._at = 0  # place in the file of the first sample that has not been judged
        self._offset = 0  # and of the first that is kept
        self._still = RunFinder()
        self._opened: tuple[int, Beside | None] | None = None
        self.flat = FlatTops()
        self._clicks: list[tuple[int, float]] = []
        self._holes: list[tuple[int, int, float, float]] = []
        self._repeats: list[tuple[int, int]] = []

    def feed(self, samples: NDArray[np.float32], *, last: bool = False) -> None:
        """Take the next samples (n,); the last of them are judged with those that follow, or where none will."""
        import numpy as np

        window = np.concatenate((self._before, samples))
        start = self._at - self._offset
        end = window.size if last else max(start, window.size - self._ahead)
        if end > start:
            self._judge(window, start, end, self._offset)
        self._at = self._offset + end
        kept = max(0, end - HISTORY)
        self._before = window[kept:].copy()
        self._offset += kept

    def _judge(self, window: NDArray[np.float32], start: int, end: int, offset: int) -> None:
        import numpy as np

        from mixlint.signal.clicks import clicks
        from mixlint.signal.holes import repeats

        here = window[start:end]
        if not self._still.idle or float(np.abs(here).max()) > 0.0:
            self.flat.feed(window, start, end, offset)
            if len(self._clicks) < MOST:
                self._clicks += [(offset + at, size) for at, size in clicks(window, start, end)]
            if len(self._repeats) < MOST:
                self._repeats += [(offset + at, long) for at, long in repeats(window, start, end)]
        self._stand_still(window, start, end, offset)

    def _stand_still(self, window: NDArray[np.float32], start: int, end: int, offset: int) -> None:
        """Runs of equal samples: what lies before each is remembered until it ends."""
        import numpy as np

        from mixlint.signal.holes import LEAST_S, beside, is_hole

        first = max(1, start)
        if end <= first:
            return
        same = np.empty(end - first, np.bool_)
        np.equal(window[first:end], window[first - 1 : end - 1], out=same)
        if self._still.idle and not same.any():
            return
        least = max(8, round(LEAST_S * self._rate))
        starts, ends = self._still.feed(same, offset + first)
        # The mask holds from a run's second sample on.
        long = ends - starts + 1 >= least
        for begin, stop in zip((starts[long] - 1).tolist(), ends[long].tolist(), strict=True):
            known = self._opened[1] if self._opened and self._opened[0] == begin else None
            before = known or (beside(window, begin - offset, self._rate, before=True) if begin > offset else None)
            after = beside(window, stop - offset, self._rate, before=False)
            value = float(window[stop - 1 - offset])
            if before and after and is_hole(before, after, value, stop - begin, self._rate) and len(self._holes) < MOST:
                self._holes.append((begin, stop - begin, value, min(before.peak, after.peak)))
        opened = self._still.opened
        if opened is None:
            self._opened = None
        elif self._opened is None or self._opened[0] != opened - 1:
            at = opened - 1 - offset
            self._opened = (opened - 1, beside(window, at, self._rate, before=True) if at > 0 else None)

    def marks(self) -> dict[str, tuple[int, list[Mark]]]:
        """How many marks of each kind there are, and :data:`MARKS` of them at most, from all over the file."""
        found = {
            "click": [self._mark("click", at, 1, size) for at, size in self._alone()],
            "hole": [self._mark("hole", at, long, peak) for at, long, value, peak in self._gaps() if value == 0.0],
            "held": [self._mark("held", at, long, peak) for at, long, value, peak in self._gaps() if value != 0.0],
            "repeat": [self._mark("repeat", at, long, 1.0) for at, long in self._repeats],
        }
        return {kind: (len(marks), _spread(marks)) for kind, marks in found.items()}

    def tops(self, peak: NDArray[np.float32], cell_s: float) -> dict[str, tuple[int, list[Mark]]]:
        """The same for flat tops: at full scale, and at a level of their own; none in a square wave."""
        highest = float(peak.max(initial=0.0))
        sounding = float((peak >= 0.5 * highest).sum()) * cell_s * self._rate
        found: dict[str, tuple[int, list[Mark]]] = {}
        full = self.flat.full()
        for kind, ceilings in (("clipped", [full] if full else []), ("flat", self.flat.ceilings())):
            lasting = sum(one.lasting for one in ceilings)
            made = [one for one in ceilings if one.varies <= SPARED_VARIES]
            if not ceilings or (len(made) == len(ceilings) and lasting >= SPARED_SHARE * sounding):
                continue
            tops = sorted(top for one in ceilings for top in one.tops)
            marks = [self._mark(kind, at, long, abs(level)) for at, long, level in tops]
            found[kind] = (sum(one.tally for one in ceilings), _spread(marks))
        return found

    def _mark(self, kind: str, at: int, long: int, level: float) -> Mark:
        return Mark(kind, self._leg, at / self._rate, long / self._rate, decibels(level))

    def _gaps(self) -> list[tuple[int, int, float, float]]:
        """The holes that are neither a rhythm nor a crowd."""
        import numpy as np

        if not self._holes:
            return []
        at, long = np.array([one[0] for one in self._holes]), np.array([one[1] for one in self._holes])
        stepped = long >= LONG_HOLE_S * self._rate
        fine = self._crowd(at) <= CROWDED
        if stepped.sum() > max(FEW_HOLES, self._at / self._rate / HOLE_EVERY_S):
            fine &= ~stepped
        return [one for one, keep in zip(self._holes, fine, strict=True) if keep]

    def _crowd(self, at: NDArray[np.int64]) -> NDArray[np.int64]:
        """How many of the places (n,), which rise, lie within a second around each."""
        import numpy as np

        half = CROWD_S * self._rate / 2.0
        return np.searchsorted(at, at + half) - np.searchsorted(at, at - half)

    def _alone(self) -> list[tuple[int, float]]:
        """The clicks that do not stand in a crowd, nor at the edge of a hole, which is told as one."""
        import numpy as np

        if not self._clicks:
            return []
        at = np.array([one[0] for one in self._clicks])
        size = np.array([one[1] for one in self._clicks])
        fine = self._crowd(at) <= CROWDED
        for begin, long, _, _ in self._holes:
            fine &= (at < begin - 2) | (at > begin + long + 2)
        for begin, long in self._repeats:
            fine &= (at < begin - 2) | (at > begin + long + 2)
        return [(int(a), float(s)) for a, s, keep in zip(at, size, fine, strict=True) if keep]


COARSE_BITS: Final = 12
SPARED_VARIES: Final = 0.15
SPARED_SHARE: Final = 0.75
"""Tops of one length that fill most of the sound are a square wave: that is how it was made."""


def marked(
    watches: list[LegWatch], peak: NDArray[np.float32], cell_s: float, others: list[Mark], used_bits: int
) -> tuple[dict[str, int], tuple[Mark, ...]]:
    """All marks of a file, and how many there are of each kind.

    Args:
        watches: one per leg, with all samples taken.
        peak: (legs, cells) largest absolute samples.
        cell_s: the length of a cell.
        others: marks that were found elsewhere, all of their kinds.
        used_bits: how many bits of the word are used; in a coarse word every top is flat.
    """
    counts: dict[str, int] = {}
    marks: list[Mark] = list(others)
    for one in others:
        counts[one.kind] = counts.get(one.kind, 0) + 1
    for leg, watch in enumerate(watches):
        found = {**watch.marks(), **watch.tops(peak[leg], cell_s)}
        for kind, (count, ones) in found.items():
            if count and not (kind == "flat" and 0 < used_bits <= COARSE_BITS):
                counts[kind] = counts.get(kind, 0) + count
                marks += ones
    return counts, tuple(sorted(marks, key=lambda one: (one.leg, one.start_s)))


def _spread(marks: list[Mark]) -> list[Mark]:
    """Up to :data:`MARKS` of them, from the first to the last."""
    if len(marks) <= MARKS:
        return marks
    return [marks[number * (len(marks) - 1) // (MARKS - 1)] for number in range(MARKS)]
