"""Moves of a lane against the borders that the markers draw: a lane whose moves all lie at them, but for one.

A lane that is written for sections moves where they begin: a little before the marker, on it, or just behind. Each
hand has its own habit, and keeps it throughout. One move that lies seconds away from its marker was dragged: the
section begins without what it was made for, or ends too early. Words and breaths are ridden inside of a section; a move
that goes and comes back there belongs to no border.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from itertools import pairwise
from typing import Final, NamedTuple

from mixlint.analysis.activity import moment_text, within_s
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import ChannelLane
from mixlint.facts.lane.rides import CLOSED
from mixlint.facts.lane.settling import ControlClass, control_class, point_values, spans_of
from mixlint.naming import section_kind, turns_tempo
from mixlint.session import Automation, Channel
from mixlint.session.control import is_readable, moves

FACTS: Facts[ChannelLane] = Facts()

AT_BORDER: Final = Setting(
    "borders.at", 1.2, "s", "A move that ends or begins this near to a marker is made for it.", lowest=0.05
)
OFF_BORDER: Final = Setting(
    "borders.off", 1.8, "s", "A move so far from the marker that it was made for was dragged.", lowest=0.1
)
MOST_OFF: Final = Setting(
    "borders.most_off", 9.0, "s", "A move further away from a marker than this was made for something else.", lowest=1.0
)
LEAST_AT: Final = Setting(
    "borders.least_at", 2.0, "", "So many moves of a lane at its borders make a habit.", lowest=2.0
)
LEAST_OF_OTHERS: Final = Setting(
    "borders.least_of_others",
    8.0,
    "",
    "So many moves of other channels at borders make a habit for the session.",
    lowest=2.0,
)
NEARLY_ALL: Final = Setting(
    "borders.nearly_all",
    80.0,
    "%",
    "Least share of what the other channels move that lies at borders, for the habit to be the session's.",
    lowest=50.0,
    highest=100.0,
)
BORDER_SETTINGS: Final = (AT_BORDER, OFF_BORDER, MOST_OFF, LEAST_AT, LEAST_OF_OTHERS, NEARLY_ALL, CLOSED)

LEAST_MOVES: Final[dict[ControlClass, float]] = {
    "fader": 0.7, "send-level": 1.0, "pan": 5.0, "mute": 0.5, "send-switch": 0.5, "filter-switch": 0.5,
    "processor-switch": 0.5, "wet": 5.0, "equalizer-gain": 1.0, "gain": 1.0, "threshold": 1.0,
}  # fmt: skip
"""Less is no move: what a hand or a rounding exporter leaves. No setting: moves of sections are many times as large."""


class Move(NamedTuple):
    """A move of a lane in one direction.

    Args:
        start_s, end_s: from when to when, seconds; the same for a step.
        before, after: from which value to which, in the reader's unit.
    """

    start_s: float
    end_s: float
    before: float
    after: float


@per_session
def moves_of(_: SessionContext, channel: Channel, lane: Automation) -> tuple[Move, ...]:
    """The moves of a lane, each as long as it goes one way without a stop."""
    values = point_values(lane).tolist()
    least = LEAST_MOVES.get(control_class(channel, lane.target), 0.0)
    found: list[Move] = []
    for (start, before), (end, after) in pairwise(zip(lane.t, values, strict=True)):
        if after == before:
            continue
        last = found[-1] if found else None
        begins = start if lane.shape == "linear" else end
        if last is not None and last.end_s == begins and (last.after > last.before) == (after > before):
            found[-1] = last._replace(end_s=end, after=after)
        else:
            found.append(Move(begins, end, before, after))
    return tuple(move for move in found if abs(move.after - move.before) >= least)


class Dragged(NamedTuple):
    """The one move of a lane that does not lie at its border.

    Args:
        move: the move.
        marker_s, marker: the border that it was made for.
        late_s: how far behind it the move begins; negative where it ends before it.
        others: how many moves lie at borders.
        opens: it opens a fader or a send that was shut, or a mute.
        like: the marker of a like section where it makes the very same move; empty where all its moves tell.
    """

    move: Move
    marker_s: float
    marker: str
    late_s: float
    others: int
    opens: bool
    like: str = ""


@per_session
def dragged(context: SessionContext, channel: Channel, lane: Automation) -> Dragged | None:
    """The one move of a lane that lies away from its border; None where there is none, or several."""
    markers = sorted((marker.time_s, marker.name) for marker in context.session.markers)
    if len(markers) < LEAST_MARKERS or not is_readable(lane) or not moves(lane):
        return None
    times = [time for time, _ in markers]
    near = context.setting(AT_BORDER)
    every = moves_of(context, channel, lane)
    made = _without_rides(every, times, near)
    if len(every) - len(made) > 2 * MOST_RIDES:
        return None  # a lane that follows phrases has moves anywhere
    ups = [move for move in made if move.after > move.before]
    downs = [move for move in made if move.after < move.before]
    found = _odd_of(context, channel, lane, made, markers, made)
    if found is not None:
        return found
    # A throw opens before a border and shuts at it: one direction may have a habit where the other has none.
    for several in (ups, downs):
        one = _odd_of(context, channel, lane, several, markers, made)
        if one is not None and one.late_s > 0.0 and one.others > context.setting(LEAST_AT):
            return one
    return _beside_its_like(context, channel, lane, markers)


def _beside_its_like(
    context: SessionContext, channel: Channel, lane: Automation, markers: list[tuple[float, str]]
) -> Dragged | None:
    """The one move inside of a section which the lane makes at the beginning of each section that is named like it."""
    words, near = context.house.vocabulary, context.setting(AT_BORDER)
    times = [time for time, _ in markers]
    kinds = [section_kind(name, words)[0] for _, name in markers]
    every = moves_of(context, channel, lane)
    by_values: dict[tuple[float, float], list[Move]] = {}
    for move in every:
        by_values.setdefault((move.before, move.after), []).append(move)
    found: list[Dragged] = []
    for move in every:
        same = by_values[move.before, move.after]
        at = bisect_right(times, move.end_s) - 1
        if len(same) < LEAST_LIKE or at < 0 or not kinds[at] or at >= len(times) - 1:
            continue
        # What ends at a marker was made for that one.
        late = move.end_s - times[at]
        if late < context.setting(OFF_BORDER) or times[at + 1] - move.end_s < context.setting(OFF_BORDER):
            continue
        # A slide through the section begins in it, or with it.
        if move.start_s >= times[at] - near and move.end_s - move.start_s > BRISK_S:
            continue
        like = [place for place, kind in enumerate(kinds) if kind == kinds[at] and place != at]
        if not like or len(same) != len(like) + 1:
            continue
        if not all(any(abs(one.end_s - times[place]) <= near for one in same) for place in like):
            continue
        if _made_by_others(context, channel, lane, move) or not _plays(context, channel, lane, times[at], move.end_s):
            continue
        found.append(Dragged(move, times[at], markers[at][1], late, len(like), False, markers[like[0]][1]))
    return found[0] if len(found) == 1 else None


LEAST_LIKE: Final = 2
"""A move that is made but once is like none: no setting."""


def _odd_of(
    context: SessionContext,
    channel: Channel,
    lane: Automation,
    made: list[Move],
    markers: list[tuple[float, str]],
    all_of_it: list[Move],
) -> Dragged | None:
    """The one of some moves of a lane that lies away from its border."""
    times = [time for time, _ in markers]
    near = context.setting(AT_BORDER)
    offsets = [(move, _nearest(move, times)) for move in made]
    off = [move for move, at in offsets if abs(_away(move, times[at])) > near]
    at_border = len(offsets) - len(off)
    if len(off) != 1 or at_border < 1:
        return None
    (move,) = off
    taken = {at for other, at in offsets if other is not move}
    free = [at for at in range(len(times)) if at not in taken]
    if not free:
        return None
    at = min(free, key=lambda place: abs(_away(move, times[place])))
    if turns_tempo(markers[at][1], context.house.vocabulary):
        return None  # the tempo turns there, and no section begins
    away = _away(move, times[at])
    if not context.setting(OFF_BORDER) <= abs(away) <= context.setting(MOST_OFF):
        return None
    if at >= len(times) - LAST_MARKERS and move is all_of_it[-1]:
        return None  # behind the last markers the song ends, at its own pace
    long_s = move.end_s - move.start_s
    if long_s > SLIDES_S or _made_by_others(context, channel, lane, move):
        return None
    # Without a habit of its own, a lane may open a breath early and close behind the last word.
    own = at_border >= context.setting(LEAST_AT)
    if not own and (away < 0.0 or long_s > BRISK_S or not _written_so(context, channel)):
        return None
    if not _plays(context, channel, lane, *sorted((times[at], times[at] + away))):
        return None
    kind = control_class(channel, lane.target)
    shut = kind in ("fader", "send-level") and move.before <= context.setting(CLOSED) < move.after
    opens = shut or (kind == "mute" and move.after < move.before)
    return Dragged(move, times[at], markers[at][1], away, at_border, opens)


LEAST_MARKERS: Final = 3
"""Fewer draw no sections: no setting."""

MOST_RIDES: Final = 1
"""More rides inside of sections, and the lane is ridden by phrases: no setting, a single one may be a word."""

SLIDES_S: Final = 5.0
"""What takes longer is a slide, and begins where it will: no setting, :mod:`slides` tells of those that slipped."""

LAST_MARKERS: Final = 2
"""The last chord and the end: no setting."""

BRISK_S: Final = 2.0
"""A move that takes no longer is made for a moment. No setting: sections are many times as long."""

TOGETHER_S: Final = 0.3
"""Moves of several channels this near to each other are one: no setting, a dragged one lies seconds away."""


def _made_by_others(context: SessionContext, channel: Channel, lane: Automation, move: Move) -> bool:
    """True where another channel moves such a control at the same time: it was meant for all of them."""
    kind = control_class(channel, lane.target)
    ends = _ends_of_moves(context).get(kind, ())
    first = bisect_left(ends, (move.end_s - TOGETHER_S, ""))
    for at, name in ends[first:]:
        if at > move.end_s + TOGETHER_S:
            break
        if name != channel.id:
            return True
    return False


@per_session
def _at_borders(context: SessionContext) -> dict[str, tuple[int, int]]:
    """Channel → how many of its moves lie at borders, and how many it makes, rides inside of sections left out."""
    times = sorted(marker.time_s for marker in context.session.markers)
    near = context.setting(AT_BORDER)
    found: dict[str, tuple[int, int]] = {}
    for channel in context.session.channels:
        at = made = 0
        for lane in channel.automation:
            if lane.t and moves(lane) and is_readable(lane):
                own = _without_rides(moves_of(context, channel, lane), times, near)
                at += sum(abs(_away(move, times[_nearest(move, times)])) <= near for move in own)
                made += len(own)
        found[channel.id] = at, made
    return found


def _written_so(context: SessionContext, channel: Channel) -> bool:
    """True where nearly all that the other channels of the session move lies at borders."""
    counted = [one for name, one in _at_borders(context).items() if name != channel.id]
    at, made = sum(at for at, _ in counted), sum(made for _, made in counted)
    return at >= context.setting(LEAST_OF_OTHERS) and 100.0 * at >= context.setting(NEARLY_ALL) * made


@per_session
def _ends_of_moves(context: SessionContext) -> dict[ControlClass, tuple[tuple[float, str], ...]]:
    """Class of control → when its moves come to their ends, each with its channel, in order of time."""
    found: dict[ControlClass, list[tuple[float, str]]] = {}
    for channel in context.session.channels:
        for lane in channel.automation:
            if lane.t and moves(lane) and is_readable(lane):
                own = found.setdefault(control_class(channel, lane.target), [])
                own += [(move.end_s, channel.id) for move in moves_of(context, channel, lane)]
    return {kind: tuple(sorted(several)) for kind, several in found.items()}


def _away(move: Move, marker_s: float) -> float:
    """How far behind a marker a move begins; how far before it ends, negative; 0 where it lies over it."""
    if move.start_s > marker_s:
        return move.start_s - marker_s
    return min(0.0, move.end_s - marker_s)


def _nearest(move: Move, times: list[float]) -> int:
    """The place of the marker that lies nearest to a move."""
    at = bisect_left(times, move.start_s)
    return min(range(max(0, at - 1), min(len(times), at + 2)), key=lambda place: abs(_away(move, times[place])))


def _without_rides(made: tuple[Move, ...], times: list[float], near_s: float) -> list[Move]:
    """The moves without those that go away and come back between two markers."""
    found = list(made)
    at = 0
    while at + 1 < len(found):
        there, back = found[at], found[at + 1]
        returns = abs(back.after - there.before) <= 0.5 * abs(there.after - there.before)
        inside = bisect_left(times, there.start_s) == bisect_left(times, back.end_s)
        borders = any(abs(_away(move, times[_nearest(move, times)])) <= near_s for move in (there, back))
        if returns and inside and not borders:
            del found[at : at + 2]
            at = max(0, at - 1)
        else:
            at += 1
    return found


def _plays(context: SessionContext, channel: Channel, lane: Automation, start_s: float, end_s: float) -> bool:
    """True where sound passes the channel for half of a stretch."""
    spans = spans_of(context, channel, lane)
    return 2.0 * within_s(spans, start_s, end_s) >= end_s - start_s


@FACTS.fact(
    "number",
    "How far one of its moves lies from the marker that it was made for, where its others lie at theirs; 0 where none "
    "lies off.",
    unit="s",
    how="derived",
    settings=BORDER_SETTINGS,
)
def off_border_s(row: Row[ChannelLane]) -> FactValue:
    found = _dragged_of(row)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    side = "behind" if found.late_s > 0.0 else "before"
    begins = found.late_s > 0.0 and not found.like
    where = moment_text(row.context, found.move.start_s if begins else found.move.end_s)
    others = f"in {found.like} it moves so at the marker" if found.like else "its other moves lie at markers"
    return FactValue(abs(found.late_s), "derived", where, f"{side} the marker {found.marker}; {others}")


@FACTS.fact("switch", "It lies behind it, and opens what was shut.", how="derived", settings=BORDER_SETTINGS)
def opens_behind_border(row: Row[ChannelLane]) -> bool:
    found = _dragged_of(row)
    return found is not None and found.opens and found.late_s > 0.0


def _dragged_of(row: Row[ChannelLane]) -> Dragged | None:
    return dragged(row.context, row.item.channel, row.item.lane)


# --- a whole lane that lies off the sections that it was written for


class OffSections(NamedTuple):
    """A lane all of whose moves lie at one distance from markers.

    Args:
        late_s: how far behind them; negative before.
        first_s: where the first of its moves lies.
        marker: the marker that it was made for.
    """

    late_s: float
    first_s: float
    marker: str


@per_session
def off_sections(context: SessionContext, channel: Channel, lane: Automation) -> OffSections | None:
    """By how much a whole lane lies off the sections that it was written for; None where it does not, or who knows."""
    markers = sorted((marker.time_s, marker.name) for marker in context.session.markers)
    if len(markers) < LEAST_MARKERS or not is_readable(lane) or not moves(lane):
        return None
    times = [time for time, _ in markers]
    made = [move for move in moves_of(context, channel, lane) if move.start_s > OPENING_S]
    # What lies before its section on purpose, as a pick-up does, opens early and shuts on the border.
    both = any(move.after > move.before for move in made) and any(move.after < move.before for move in made)
    if len(made) < LEAST_DRAGGED or not both:
        return None
    near = context.setting(AT_BORDER)
    at_border = sum(abs(_away(move, times[_nearest(move, times)])) <= near for move in made)
    if at_border > BY_CHANCE * len(made) or (len(made) == LEAST_DRAGGED and not _written_so(context, channel)):
        return None
    distances = _distances(made, times)
    for first in made[: 1 + int(BY_CHANCE * len(made))]:
        found = _off_by(context, first, made, markers, distances)
        if found is not None and _plays_on(context, channel, lane, first):
            return found
    return None


def _distances(made: list[Move], times: list[float]) -> list[float]:
    """How far the moves of a lane begin and end behind the markers around them, in order."""
    reach = MOST_DRAGGED_S + 2.0 * EXACT_S
    return sorted(
        at - time
        for move in made
        for at in {move.start_s, move.end_s}
        for time in times[bisect_left(times, at - reach) : bisect_right(times, at + reach)]
    )


def _off_by(
    context: SessionContext, first: Move, made: list[Move], markers: list[tuple[float, str]], distances: list[float]
) -> OffSections | None:
    """The distance by which nearly all moves lie off markers, the first of them among them; the shortest there is."""
    times = [time for time, _ in markers]
    needed = (1.0 - BY_CHANCE) * len(made)
    for time, name in sorted(markers, key=lambda marker: abs(marker[0] - first.start_s)):
        for late in (first.start_s - time, first.end_s - time):
            if not context.setting(OFF_BORDER) <= abs(late) <= MOST_DRAGGED_S:
                continue
            # Most distances are those of few moves: they are told without looking at every move again.
            first_at, last_at = (late + side * 2.0 * EXACT_S for side in (-1.0, 1.0))
            if bisect_right(distances, last_at) - bisect_left(distances, first_at) < needed:
                continue
            places = [place for place in (_lies_at(move, late, times) for move in made) if place is not None]
            if len(places) >= needed and len(set(places)) >= LEAST_DRAGGED:
                return OffSections(late, first.start_s, name)
    return None


BY_CHANCE: Final = 0.25
"""So many moves of a dragged lane may lie at a marker or off its distance, as one made for a word does: no setting."""

LEAST_DRAGGED: Final = 2
"""A lane of one move tells no distance: no setting."""

OPENING_S: Final = 0.5
"""What moves as the song begins sets the lane up: no setting."""

MOST_DRAGGED_S: Final = 15.0
"""Further off, a lane fits other sections by chance: no setting, sections are as long."""

EXACT_S: Final = 0.12
"""All moves of a dragged lane lie at one distance: no setting, exporters round to hundredths."""


def _lies_at(move: Move, late_s: float, times: list[float]) -> int | None:
    """The place of the marker from which a move begins or ends at a distance; None where none is."""
    for at in (move.start_s - late_s, move.end_s - late_s):
        place = bisect_left(times, at - EXACT_S)
        if place < len(times) and times[place] <= at + EXACT_S:
            return place
    return None


def _plays_on(context: SessionContext, channel: Channel, lane: Automation, move: Move) -> bool:
    """True where sound passes the channel at some time behind a move."""
    return any(end > move.end_s for _, end in spans_of(context, channel, lane))


@FACTS.fact(
    "number",
    "How far the whole lane lies from the sections that it fits when moved; 0 where it lies on them, or fits none.",
    unit="s",
    how="derived",
    settings=BORDER_SETTINGS,
)
def off_sections_s(row: Row[ChannelLane]) -> FactValue:
    found = off_sections(row.context, row.item.channel, row.item.lane)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    side = "behind" if found.late_s > 0.0 else "before"
    where = moment_text(row.context, found.first_s)
    return FactValue(abs(found.late_s), "derived", where, f"{side} the markers, the first at {where} ({found.marker})")
