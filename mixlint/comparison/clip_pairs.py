"""Which clip of one channel is which in another revision: by what they play, then by where they stand."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from mixlint.comparison.matching import Revision
from mixlint.comparison.model import Tolerances
from mixlint.comparison.quantities import TIME
from mixlint.naming import fold_name
from mixlint.session import Clip, is_known

MOST_PAIRED = 1000
"""With more clips than this left on either side, they are taken in order of time instead of each against each."""

Fit = Callable[[Clip, Clip], bool]


@dataclass(frozen=True, slots=True)
class PairedClips:
    """Which clips are which, and which were added or removed."""

    pairs: tuple[tuple[Clip, Clip], ...]
    removed: tuple[Clip, ...]
    added: tuple[Clip, ...]


class ClipPairing:
    """Tells clips of two revisions apart.

    Args:
        old: the older revision.
        new: the newer one.
        tolerances: by how much a time may move.
    """

    def __init__(self, old: Revision, new: Revision, tolerances: Tolerances) -> None:
        self.old = old
        self.new = new
        self.tolerances = tolerances
        assert TIME.least is not None
        self._allowed_s = TIME.least(0.0, 0.0, tolerances)  # asked for each pair of clips, so worked out once

    def near(self, one: float, other: float) -> bool:
        """Two times in seconds are one and the same."""
        return abs(one - other) <= self._allowed_s

    def offset_moved(self, was: Clip, now: Clip) -> float:
        """How far the place in the file moved, seconds; 0 where it cannot be told."""
        return now.offset_s - was.offset_s if is_known(was.offset_s) and is_known(now.offset_s) else 0.0

    def same_sound(self, was: Clip, now: Clip) -> bool:
        """Both play the same: by content where both were heard, else by the file's name."""
        before, after = self.old.sound(was), self.new.sound(now)
        if before and after:
            return before == after
        return was.plays == now.plays and fold_name(self.old.file_name(was)) == fold_name(self.new.file_name(now))

    def paired(self, was: Iterable[Clip], now: Iterable[Clip]) -> PairedClips:
        """The clips of both, paired: those that did not move first, so that a few moved ones stand out.

        Args:
            was, now: the clips of one channel in the older and in the newer revision.
        """
        pairs: list[tuple[Clip, Clip]] = []
        left, here = self._in_place(_in_time(was), _in_time(now), pairs)
        fits: tuple[Fit, ...] = (
            lambda a, b: self.same_sound(a, b) and self._same_length(a, b) and self.near(self.offset_moved(a, b), 0.0),
            lambda a, b: self.same_sound(a, b) and self._one_edge(a, b),
            self.same_sound,
            lambda a, b: self.near(a.start_s, b.start_s) and self.near(a.end_s, b.end_s),
        )
        for fit in fits:
            left, here = self._nearest(left, here, fit, pairs)
        return PairedClips(tuple(pairs), tuple(left), tuple(here))

    def _same_length(self, a: Clip, b: Clip) -> bool:
        return self.near(a.end_s - a.start_s, b.end_s - b.start_s)

    def _one_edge(self, a: Clip, b: Clip) -> bool:
        return self.near(a.start_s, b.start_s) or self.near(a.end_s, b.end_s)

    def _in_place(
        self, was: list[Clip], now: list[Clip], pairs: list[tuple[Clip, Clip]]
    ) -> tuple[list[Clip], list[Clip]]:
        """Pair the clips that did not move at all, through a table of hundredths of a second."""
        table: dict[int, list[Clip]] = {}
        for clip in now:
            table.setdefault(round(clip.start_s * 100.0), []).append(clip)
        left = []
        taken: set[int] = set()
        for clip in was:
            slot = round(clip.start_s * 100.0)
            at_hand = [c for n in (slot, slot - 1, slot + 1) for c in table.get(n, ()) if id(c) not in taken]
            fit = [
                c
                for c in at_hand
                if self.near(clip.start_s, c.start_s) and self.near(clip.end_s, c.end_s) and self.same_sound(clip, c)
            ]
            fit.sort(key=lambda c: (abs(self.offset_moved(clip, c)), c.on != clip.on))
            if fit:
                taken.add(id(fit[0]))
                pairs.append((clip, fit[0]))
            else:
                left.append(clip)
        return left, [c for c in now if id(c) not in taken]

    def _nearest(
        self, was: list[Clip], now: list[Clip], fit: Fit, pairs: list[tuple[Clip, Clip]]
    ) -> tuple[list[Clip], list[Clip]]:
        """Pair what fits, the nearest in time first come."""
        if not was or not now:
            return was, now
        if max(len(was), len(now)) > MOST_PAIRED:
            return self._in_order(was, now, pairs)
        left_new = list(now)
        left_old = []
        for clip in was:
            fitting = [c for c in left_new if fit(clip, c)]
            if fitting:
                best = min(fitting, key=lambda c: abs(c.start_s - clip.start_s))
                left_new.remove(best)
                pairs.append((clip, best))
            else:
                left_old.append(clip)
        return left_old, left_new

    def _in_order(
        self, was: list[Clip], now: list[Clip], pairs: list[tuple[Clip, Clip]]
    ) -> tuple[list[Clip], list[Clip]]:
        """Pair very many clips by what they play, in order of time."""
        table: dict[str, list[Clip]] = {}
        for clip in now:
            table.setdefault(self._playing(self.new, clip), []).append(clip)
        left = []
        for clip in was:
            fitting = table.get(self._playing(self.old, clip))
            if fitting:
                pairs.append((clip, fitting.pop(0)))
            else:
                left.append(clip)
        return left, [clip for clips in table.values() for clip in clips]

    def _playing(self, revision: Revision, clip: Clip) -> str:
        return f"{clip.plays}: {fold_name(revision.file_name(clip))}"


def _in_time(clips: Iterable[Clip]) -> list[Clip]:
    return sorted(clips, key=lambda clip: clip.start_s)
