"""What two microphones on one part, or the two sides of a pair, do together: place, rides, and clips one by one."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import moment_text, playing, song_end_s, span_text, steps_through, time_grid
from mixlint.analysis.automation_range import position_of
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import origin_s, plain_clips
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.turns import turns
from mixlint.facts.pair.pairs import PartPair
from mixlint.naming import is_direct
from mixlint.session import FADER, Automation, Channel, Clip, control_of, known
from mixlint.signal.median import median
from mixlint.signal.runs import runs

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FACTS: Facts[PartPair] = Facts()

RIDES_ALIKE: Final = share_setting(
    "rides_of_pairs.alike", 55.0, "Two faders that keep their distance for this share of the time are ridden as one."
)
RIDES_APART: Final = Setting(
    "rides_of_pairs.apart", 2.0, "dB", "So far off their usual distance they have come apart.", lowest=0.1
)
LEAST_APART: Final = Setting("rides_of_pairs.least_apart", 4.0, "s", "A stretch has to last so long.", lowest=0.5)
RIDE_SETTINGS: Final = (RIDES_ALIKE, RIDES_APART, LEAST_APART)

FARTHEST_CLIP: Final = Setting(
    "pairs.farthest_clip", 100.0, "ms", "A clip that lies further off its partner's is another take of it."
)

LEAST_ALIKE: Final = Setting(
    "pairs.least_alike", 3.0, "", "So many clips of a pair that lie off each other by one amount were moved so.",
    lowest=2.0,
)  # fmt: skip

KEPT_DB: Final = 1.0
"""A distance of two faders within this of the usual one is kept: no setting, the limits are many times as large."""

STEP_S: Final = 0.25
"""How finely the two faders are read: a bound of work."""


@FACTS.fact("switch", "One of them is the direct signal of what the other hears.", how="derived")
def with_direct(row: Row[PartPair]) -> bool:
    words = row.context.house.vocabulary
    return row.item.kind == "microphones" and (
        is_direct(row.item.one.name, words) is not is_direct(row.item.other.name, words)
    )


@FACTS.fact("number", "How far apart the two are panned.", unit="pan distance")
def panned_apart(row: Row[PartPair]) -> float:
    one, other = (known(position_of(row.context, part)) for part in (row.item.one, row.item.other))
    return abs(one - other)


class RidesApart(NamedTuple):
    """The longest stretch in which two faders that are ridden as one come apart.

    Args:
        db: how far at most, dB; 0 where they stay together.
        start_s, end_s: from when to when, seconds.
    """

    db: float
    start_s: float
    end_s: float


TOGETHER: Final = RidesApart(0.0, 0.0, 0.0)


@per_session
def rides_apart(context: SessionContext, one: Channel, other: Channel) -> RidesApart:
    """Where the faders of two parts that are ridden as one come apart; together where one of them is not ridden."""
    import numpy as np

    faders = [control_of(part, FADER) for part in (one, other)]
    if not all(fader.moves and fader.lane is not None and fader.lane.scale in ("dB", "amplitude") for fader in faders):
        return TOGETHER
    if not _move_together(faders[0].lane, faders[1].lane):
        return TOGETHER
    times = steps_through(max(song_end_s(context), STEP_S), STEP_S)
    edges = time_grid(context)
    at = np.clip(np.searchsorted(edges, times, side="right") - 1, 0, edges.size - 2)
    both = (playing(context, one.id) > 0.5)[at] & (playing(context, other.id) > 0.5)[at]
    if not both.any():
        return TOGETHER
    levels = [np.maximum(fader.at(times), -60.0) for fader in faders]
    apart = levels[0] - levels[1]
    apart = apart - median(apart[both])
    kept = both & (np.abs(apart) <= KEPT_DB)
    if 100.0 * kept.sum() < context.setting(RIDES_ALIKE) * both.sum():
        return TOGETHER
    off = runs(both & (np.abs(apart) >= context.setting(RIDES_APART)))
    first, last = max(off, key=lambda run: run[1] - run[0], default=(0, -1))
    step_s = 2.0 * times[0]  # the first of the times lies in the middle of its step
    if last < first or (last - first + 1) * step_s < context.setting(LEAST_APART):
        return TOGETHER
    return RidesApart(float(np.abs(apart[first : last + 1]).max()), float(times[first]), float(times[last]))


AT_ONCE_S: Final = 0.5
"""Moves this near to each other are one: no setting, a hand on two faders is nearer."""


def _move_together(one: Automation | None, other: Automation | None) -> bool:
    """True where two lanes make one move in common at least; two parts that take turns as soloists make none."""
    if one is None or other is None:
        return False
    theirs = {up: [turn.at_s for turn in turns(other) if turn.up is up] for up in (True, False)}
    for at, up in turns(one):
        near = bisect_left(theirs[up], at - AT_ONCE_S)
        if near < len(theirs[up]) and theirs[up][near] <= at + AT_ONCE_S:
            return True
    return False


@FACTS.fact(
    "number",
    "How far their faders come apart in the longest stretch in which they do, where they are ridden as one; 0 where "
    "they stay together.",
    unit="dB",
    how="derived",
    settings=RIDE_SETTINGS,
)
def rides_apart_db(row: Row[PartPair]) -> FactValue:
    found = rides_apart(row.context, row.item.one, row.item.other)
    where = span_text(row.context, found.start_s, found.end_s) if found.db else ""
    return FactValue(found.db, "derived", where, where)


class ClipShift(NamedTuple):
    """The clip of one part that lies furthest off its partner's, where others of them lie together.

    Args:
        seconds: by how much the first part's is late; 0 where all lie together, or none does.
        at_s: where, seconds.
    """

    seconds: float
    at_s: float


@per_session
def one_clip_shift(context: SessionContext, one: Channel, other: Channel) -> ClipShift:
    """The one pair of clips that was moved apart; a clip is set against the other's that plays at its middle."""
    farthest = context.setting(FARTHEST_CLIP) / 1000.0
    shifts: list[tuple[ClipShift, frozenset[str]]] = []
    theirs = sorted(plain_clips(other), key=_start)
    for clip in plain_clips(one):
        middle = (clip.start_s + clip.end_s) / 2.0
        at = bisect_right(theirs, middle, key=_start)
        if at and middle < theirs[at - 1].end_s:
            # A cut part lies beside an uncut one: what counts is where the two were recorded, not where they begin.
            late = origin_s(clip) - origin_s(theirs[at - 1])
            files = frozenset(file for file in (clip.file, theirs[at - 1].file) if file is not None)
            shifts.append((ClipShift(late, clip.start_s), files))
    usual = _usual_shift(context, [shift.seconds for shift, _ in shifts])
    if usual is None:
        return ClipShift(0.0, 0.0)
    in_place = {file for shift, files in shifts for file in files if abs(shift.seconds - usual) < TOGETHER_S}
    moved = [
        ClipShift(shift.seconds - usual, shift.at_s)
        for shift, files in shifts
        if abs(shift.seconds - usual) >= TOGETHER_S
        and (abs(shift.seconds - usual) <= farthest or (files <= in_place and len(shifts) > LEAST_FAR))
    ]
    return max(moved, key=lambda shift: abs(shift.seconds), default=ClipShift(0.0, 0.0))


LEAST_FAR: Final = 3
"""Where more clips than this lie together, one of the same recordings that lies far off was moved: a definition."""


def _usual_shift(context: SessionContext, shifts: list[float]) -> float | None:
    """By how much the clips of a pair lie off each other as a rule, seconds; None where there is no rule.

    Two microphones may have been moved together, all clips by one amount: the one that was left is out of line then.
    """
    together = sum(abs(shift) < TOGETHER_S for shift in shifts)
    if together and 2 * together >= len(shifts):
        return 0.0
    for shift in shifts:
        alike = sum(abs(other - shift) <= SAME_SHIFT_S for other in shifts)
        if alike >= context.setting(LEAST_ALIKE) and 2 * alike > len(shifts):
            return shift
    return None


SAME_SHIFT_S: Final = 1e-4
"""Clips that were moved by one amount agree within this: a few samples."""


def _start(clip: Clip) -> float:
    return clip.start_s


TOGETHER_S: Final = 7e-4
"""Clips within this lie together: rounding of the export."""


@FACTS.fact(
    "number",
    "By how much one clip of the one lies off that of the other, where others of their clips lie together or are "
    "moved by one amount; 0 where none does.",
    unit="ms",
    how="derived",
    settings=(FARTHEST_CLIP, LEAST_ALIKE),
)
def one_clip_moved_ms(row: Row[PartPair]) -> FactValue:
    found = one_clip_shift(row.context, row.item.one, row.item.other)
    late = row.item.one if found.seconds > 0.0 else row.item.other
    where = moment_text(row.context, found.at_s) if found.seconds else ""
    return FactValue(1000.0 * abs(found.seconds), "derived", where, row.context.name(late.id))
