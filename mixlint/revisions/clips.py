"""Clips of one channel in two revisions: paired by what they play, then by where they stand."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from mixlint.revisions.matching import Revision, folded
from mixlint.revisions.notes import Notebook, level_moved
from mixlint.session import Clip, Unknown, is_known
from mixlint.units import clock_text, number_text

MOST_PAIRED = 1000
"""With more clips than this left on either side, they are taken in order of time instead of each against each."""

SPEED = 1e-4
"""The least change of speed that counts, as a share: a sixth of a cent."""

Fit = Callable[[Clip, Clip], bool]


@dataclass(frozen=True, slots=True)
class Told:
    """What clips pair up to, and which were added or removed."""

    pairs: tuple[tuple[Clip, Clip], ...]
    removed: tuple[Clip, ...]
    added: tuple[Clip, ...]


def compare_clips(book: Notebook, old: Revision, new: Revision, was: Iterable[Clip], now: Iterable[Clip]) -> None:
    """Write down what changed among the clips of one channel: one change per kind of change."""
    tell = _Clips(old, new, book.tolerances.time_s)
    told = tell.paired(list(was), list(now))
    moved, cut, slipped, faded, speeds = [], [], [], [], []
    replaced: list[tuple[Clip, Clip]] = []
    gained: list[tuple[Clip, float]] = []
    switched: list[Clip] = []
    near = tell.near
    for before, after in told.pairs:
        starts, ends = after.start_s - before.start_s, after.end_s - before.end_s
        if not tell.same_sound(before, after):
            replaced.append((before, after))
        elif near(starts, ends) and not near(starts, 0.0):
            moved.append((after, abs(starts)))
        elif not near(starts, 0.0) or not near(ends, 0.0):
            cut.append((after, max(abs(starts), abs(ends))))
        if not replaced or replaced[-1][1] is not after:
            slip = tell.offset_moved(before, after)
            # A clip cut at its start begins later in its file by as much: that is one change, not two.
            if not near(slip, 0.0) and not near(slip, starts):
                slipped.append((after, abs(slip)))
        fades = max(tell.moved(before.fade_in_s, after.fade_in_s), tell.moved(before.fade_out_s, after.fade_out_s))
        if not near(fades, 0.0):
            faded.append((after, fades))
        if is_known(before.gain_db) and is_known(after.gain_db):
            by = level_moved(before.gain_db, after.gain_db)
            if by > book.tolerances.level_db:
                gained.append((after, by))
        if is_known(before.speed) and is_known(after.speed) and abs(before.speed - after.speed) > SPEED * before.speed:
            speeds.append((after, 0.0))
        if is_known(before.on) and is_known(after.on) and before.on != after.on:
            switched.append(after)
    if told.added:
        book.put("clip", f"{_count(told.added)} added{_at(told.added)}", did="added", switched=True)
    if told.removed:
        book.put("clip", f"{_count(told.removed)} removed{_at(told.removed)}", did="removed", switched=True)
    for by_time, word in ((moved, "moved"), (cut, "cut anew"), (slipped, "slipped"), (faded, "faded otherwise")):
        if by_time:
            most = max(by for _, by in by_time)
            size = f"{number_text(most * 1000.0)} ms"
            says = f"{_count(by_time)} {word}, by {'' if len(by_time) == 1 else 'up to '}{size}"
            book.put("clip", f"{says}{_at([c for c, _ in by_time])}", by_ms=most * 1000.0)
    if gained:
        most = max(by for _, by in gained)
        says = f"{_count(gained)} with another gain, by {'' if len(gained) == 1 else 'up to '}{number_text(most)} dB"
        book.put("clip", f"{says}{_at([c for c, _ in gained])}", by_db=most)
    if speeds:
        book.put("clip", f"{_count(speeds)} played at another speed{_at([c for c, _ in speeds])}", switched=True)
    for on in (True, False):
        clips = tuple(c for c in switched if c.on is on)
        if clips:
            book.put("clip", f"{_count(clips)} switched {'on' if on else 'off'}{_at(clips)}", switched=True)
    if replaced:
        _put_replaced(book, old, new, replaced)


def _put_replaced(book: Notebook, old: Revision, new: Revision, replaced: list[tuple[Clip, Clip]]) -> None:
    names = dict.fromkeys((old.file_name(before), new.file_name(after)) for before, after in replaced)
    said = []
    for was, now in list(names)[:3]:
        if folded(was) == folded(now):
            said.append(f"{now or 'what plays'} sounds otherwise")
        else:
            said.append(f"{now or 'notes'} in place of {was or 'notes'}")
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    book.put("audio", f"audio replaced: {', '.join(said)}{more}{_at([c for _, c in replaced])}", switched=True)


def _count(clips: Iterable[object]) -> str:
    count = len(list(clips))
    return "a clip" if count == 1 else f"{count} clips"


def _at(clips: Iterable[Clip]) -> str:
    starts = sorted(c.start_s for c in clips)
    first = f" at {clock_text(starts[0])}"
    return first if len(starts) == 1 else f", the first{first}"


class _Clips:
    """Tells clips of two revisions apart."""

    def __init__(self, old: Revision, new: Revision, tolerance_s: float) -> None:
        self.old = old
        self.new = new
        self.tolerance_s = tolerance_s

    def near(self, one: float, other: float) -> bool:
        """Two times in seconds are one and the same; a millionth is what rounding takes."""
        return abs(one - other) <= self.tolerance_s + 1e-6

    def moved(self, was: float | Unknown, now: float | Unknown) -> float:
        """How far a time moved, seconds; 0 where it cannot be told."""
        return abs(now - was) if is_known(was) and is_known(now) else 0.0

    def offset_moved(self, was: Clip, now: Clip) -> float:
        """How far the place in the file moved, seconds; 0 where it cannot be told."""
        return now.offset_s - was.offset_s if is_known(was.offset_s) and is_known(now.offset_s) else 0.0

    def same_sound(self, was: Clip, now: Clip) -> bool:
        """Both play the same: by content where both were heard, else by the file's name."""
        before, after = self.old.sound(was), self.new.sound(now)
        if before and after:
            return before == after
        return was.plays == now.plays and folded(self.old.file_name(was)) == folded(self.new.file_name(now))

    def paired(self, was: list[Clip], now: list[Clip]) -> Told:
        """The clips of both, paired: those that did not move first, so that a few moved ones stand out."""
        pairs: list[tuple[Clip, Clip]] = []
        was, now = sorted(was, key=lambda c: c.start_s), sorted(now, key=lambda c: c.start_s)
        was, now = self._in_place(was, now, pairs)
        fits: tuple[Fit, ...] = (
            lambda a, b: self.same_sound(a, b) and self._same_length(a, b) and self.near(self.offset_moved(a, b), 0.0),
            lambda a, b: self.same_sound(a, b) and self._one_edge(a, b),
            self.same_sound,
            lambda a, b: self.near(a.start_s, b.start_s) and self.near(a.end_s, b.end_s),
        )
        for fit in fits:
            was, now = self._nearest(was, now, fit, pairs)
        return Told(tuple(pairs), tuple(was), tuple(now))

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
        return f"{clip.plays}: {folded(revision.file_name(clip))}"
