"""Moves that take many times as long as the others of their lane, and points that change nothing: a point was lost.

A fader that is written in steps goes from one section's level to the next at once. Where a point in between is deleted,
the step becomes a slide over a whole verse; in a lane of a switch two points of one state follow each other.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final, NamedTuple

from mixlint.analysis.activity import span_text, within_s
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import ChannelLane
from mixlint.facts.lane.settling import point_values, spans_of
from mixlint.session import FADER, MUTE, Automation, Channel
from mixlint.session.control import ON
from mixlint.signal.median import median

FACTS: Facts[ChannelLane] = Facts()

SHORT_MOVE: Final = Setting("slides.short", 4.0, "s", "The other moves of a lane take no longer than this.", lowest=0.1)
LEAST_SLIDE: Final = Setting(
    "slides.least", 20.0, "s", "A slide that lasts so long may be a point that was lost.", lowest=1.0
)
BRISK_MOVE: Final = Setting(
    "slides.brisk", 1.5, "s", "Where all other moves of a lane take no longer, a shorter slide stands out.", lowest=0.05
)
LEAST_AMONG_BRISK: Final = Setting(
    "slides.least_among_brisk", 8.0, "s", "A slide that lasts so long stands out among them.", lowest=1.0
)
LEAST_FALL: Final = Setting("slides.least_fall", 2.5, "dB", "It has to go up or down by so much.", lowest=0.1)
SLIDE_SETTINGS: Final = (SHORT_MOVE, LEAST_SLIDE, BRISK_MOVE, LEAST_AMONG_BRISK, LEAST_FALL)

BRISK_MOVES: Final = 3
"""So many other moves show that a hand is brisk: no setting, two may be a chance."""

CLOSED_DB: Final = -35.0
"""A move that begins or ends under this opens or shuts the part: a fade, however long."""


OPENING_S: Final = 1.0
"""A move that begins this soon after the song is how the part is opened, and no ride: a definition."""


class Slide(NamedTuple):
    """The longest move of a lane whose other moves are short.

    Args:
        seconds: how long it takes; 0 where there is none.
        db: by how much it goes up (positive) or down.
        start_s, end_s: from when to when.
    """

    seconds: float
    db: float
    start_s: float
    end_s: float


NO_SLIDE: Final = Slide(0.0, 0.0, 0.0, 0.0)


@per_session
def slide(context: SessionContext, channel: Channel, lane: Automation) -> Slide:
    """The slide of a level lane that is drawn in straight lines; none where no short moves are there to compare."""
    if lane.scale not in ("dB", "amplitude") or lane.shape != "linear" or len(lane.t) < 3:
        return NO_SLIDE
    moves, in_the_open = [], []
    for (start, before), (end, after) in pairwise(zip(lane.t, point_values(lane).tolist(), strict=True)):
        if abs(after - before) > 0.25:
            moves.append(Slide(end - start, after - before, start, end))
            # A part that settles from the first moment on was opened like that.
            if min(before, after) > CLOSED_DB and start > OPENING_S:
                in_the_open.append(moves[-1])
    if moves and _creeps_in(context, channel, lane, moves):
        return moves[0]
    if not in_the_open:
        return NO_SLIDE
    longest = max(in_the_open, key=lambda move: move.seconds)
    others = [move.seconds for move in moves if move is not longest]
    spans = spans_of(context, channel, lane)
    sounds = within_s(spans, longest.start_s, longest.end_s)
    # A lane fades in and out as slowly as the song wants it.
    inside = longest not in (moves[0], moves[-1])
    brisk = inside and len(others) >= BRISK_MOVES and max(others) <= context.setting(BRISK_MOVE)
    odd = (
        bool(others)
        and median(others) <= context.setting(SHORT_MOVE)
        and longest.seconds >= context.setting(LEAST_AMONG_BRISK if brisk else LEAST_SLIDE)
        and abs(longest.db) >= context.setting(LEAST_FALL)
        and 2.0 * sounds >= longest.seconds
    )
    return longest if odd else NO_SLIDE


def _creeps_in(context: SessionContext, channel: Channel, lane: Automation, made: list[Slide]) -> bool:
    """True where a fader comes up from nothing over the whole first section, and makes all other moves at once.

    The first point of a lane that fell to the bottom turns the level of the first section into a climb.
    """
    first, *others = made
    shut = float(point_values(lane)[0]) <= CLOSED_DB
    brisk = bool(others) and max(move.seconds for move in others) <= context.setting(SHORT_MOVE)
    if lane.target != FADER or not shut or first.db <= 0.0 or first.start_s > OPENING_S or not brisk:
        return False
    sounds = within_s(spans_of(context, channel, lane), first.start_s, first.end_s)
    return first.seconds >= context.setting(LEAST_SLIDE) and 2.0 * sounds >= first.seconds


@FACTS.fact(
    "number",
    "How long its longest move takes, where its other moves are short; 0 where none is many times as long.",
    unit="s",
    how="derived",
    settings=SLIDE_SETTINGS,
)
def slides_for_s(row: Row[ChannelLane]) -> FactValue:
    found = slide(row.context, row.item.channel, row.item.lane)
    where = span_text(row.context, found.start_s, found.end_s) if found.seconds else ""
    return FactValue(found.seconds, "derived", where, where)


@FACTS.fact(
    "number",
    "By how much it goes up or down over that.",
    unit="dB",
    how="derived",
    settings=SLIDE_SETTINGS,
)
def slides_by_db(row: Row[ChannelLane]) -> FactValue:
    found = slide(row.context, row.item.channel, row.item.lane)
    return FactValue(abs(found.db), "derived", row.subject.where, "up" if found.db > 0.0 else "down")


LEAST_TURNS: Final = Setting(
    "switches.least_turns", 2.0, "", "A switch that turns so often is written in pairs.", lowest=1.0
)


@FACTS.fact(
    "text",
    "Where two points of a switch lane have one state, though the lane turns at all its others; or nowhere.",
    how="derived",
    settings=(LEAST_TURNS,),
)
def switched_to_the_same(row: Row[ChannelLane]) -> FactValue:
    nowhere = FactValue("nowhere", "derived", row.subject.where)
    same = _same_state(row)
    if same is None:
        return nowhere
    where = span_text(row.context, *same)
    return FactValue(where, "derived", where, where)


def _same_state(row: Row[ChannelLane]) -> tuple[float, float] | None:
    """From when to when a switch lane has two points of one state, where it turns at all its others."""
    lane = row.item.lane
    if lane.scale != "switch":
        return None
    states = [(at, value >= ON) for at, value in zip(lane.t, lane.v, strict=True)]
    same = [(a, b) for (a, before), (b, after) in pairwise(states) if before is after and b > a]
    turns = sum(before is not after for (_, before), (_, after) in pairwise(states))
    return same[0] if len(same) == 1 and turns >= row.context.setting(LEAST_TURNS) else None


@FACTS.fact(
    "number",
    "For how long its channel plays between two points at which its mute is on; 0 where there are no such points.",
    unit="s",
    how="derived",
    settings=(LEAST_TURNS,),
)
def muted_between_s(row: Row[ChannelLane]) -> float:
    same, lane = _same_state(row), row.item.lane
    if same is None or lane.target != MUTE or lane.v[lane.t.index(same[0])] < ON:
        return 0.0
    return within_s(spans_of(row.context, row.item.channel, lane), *same)
