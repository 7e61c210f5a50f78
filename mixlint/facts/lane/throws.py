"""Throws: sends and effects that are opened for a moment, and the one that was not closed again; held feedback."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import any_within, moment_text, span_text, steps_through
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import ChannelLane
from mixlint.facts.lane.settling import SHUT_DB, control_class, point_values, spans_of
from mixlint.naming.setting_reading import says
from mixlint.session import Automation, Channel
from mixlint.session.control import ON, is_readable, moves, shown_values
from mixlint.signal.median import median
from mixlint.signal.runs import runs
from mixlint.units import number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FACTS: Facts[ChannelLane] = Facts()

STEP_S: Final = 0.25
"""How often a send is looked at, seconds. No setting: it is the resolution of a computation."""


@per_session
def open_spans(context: SessionContext, channel: Channel, lane: Automation) -> tuple[tuple[float, float], ...]:
    """From when to when a send or an effect is open while sound passes its channel, seconds; to its end at the latest.

    A share or another parameter of an effect is open where it is nearer to its greatest value than to its usual one.
    """
    kind = control_class(channel, lane.target)
    if kind not in THROWN or not is_readable(lane) or not moves(lane):
        return ()
    times = _times(context, channel, lane)
    values = shown_values(lane, times)
    if kind in ("wet", "other"):
        shut = (median(values) + max(lane.v)) / 2.0
    else:
        shut = SHUT_DB / 2.0 if lane.scale in ("dB", "amplitude") else ON
    return tuple((float(times[a]), float(times[min(b + 1, times.size - 1)])) for a, b in runs(values > shut))


def _times(context: SessionContext, channel: Channel, lane: Automation) -> Floats:
    """When a lane is looked at, seconds: as long as sound passes its channel."""
    end = max((b for _, b in spans_of(context, channel, lane)), default=lane.t[-1])
    return steps_through(max(end, STEP_S), STEP_S)


THROWN: Final = ("send-level", "send-switch", "wet", "other")
"""What is opened for a moment and shut again."""

THROW: Final = Setting(
    "throws.longest", 6.0, "s", "A send that is opened for no longer than this is thrown.", lowest=0.0
)
TIMES_AS_LONG: Final = Setting(
    "throws.times_as_long", 4.0, "", "A throw so many times as long as the others was not closed.", lowest=1.5
)
LIFTED: Final = Setting(
    "throws.lifted",
    4.0,
    "dB",
    "A send that is never shut is thrown where it goes so far over all that it has elsewhere, to one level each time.",
    lowest=1.0,
)


@FACTS.fact(
    "number",
    "How long its longest throw lasts, where the others are short and it is many times as long; 0 where none is.",
    unit="s",
    how="derived",
    settings=(THROW, TIMES_AS_LONG, LIFTED),
)
def throw_left_open_s(row: Row[ChannelLane]) -> FactValue:
    context, item = row.context, row.item
    left = _left_open(context, open_spans(context, item.channel, item.lane))
    if left is None:
        left = next(
            (
                one
                for one in (_left_open(context, up) for up in _lifted(context, item.channel, item.lane))
                if one is not None
            ),
            None,
        )
    if left is None or _opened_by_others(context, item.channel, item.lane, left) >= MEANT:
        return FactValue(0.0, "derived", row.subject.where)
    where = span_text(context, *left)
    return FactValue(left[1] - left[0], "derived", where, where)


def _left_open(context: SessionContext, spans: tuple[tuple[float, float], ...]) -> tuple[float, float] | None:
    """The longest of some spans, where the others are short and it is many times as long; None where none is."""
    lengths = sorted(end - start for start, end in spans)
    if len(lengths) < 2:
        return None
    usual, longest = lengths[:-1][len(lengths[:-1]) // 2], lengths[-1]
    odd = usual <= context.setting(THROW) and longest >= context.setting(TIMES_AS_LONG) * max(usual, 0.5)
    if not odd or longest <= context.setting(THROW):
        return None
    return max(spans, key=lambda span: span[1] - span[0])


@per_session
def _lifted(context: SessionContext, channel: Channel, lane: Automation) -> tuple[tuple[tuple[float, float], ...], ...]:
    """When a send is lifted to its highest level, for each step over its lower ones by which it may be told.

    Empty where it does not go to one and the same level each time, or only once.
    """
    if control_class(channel, lane.target) != "send-level" or not is_readable(lane) or not moves(lane):
        return ()
    times = _times(context, channel, lane)
    values = shown_values(lane, times)
    # Levels under which nobody hears the send are one.
    levels = sorted({max(value, SHUT_DB / 2.0) for value in point_values(lane).tolist()}, reverse=True)
    found: list[tuple[tuple[float, float], ...]] = []
    for upper, lower in pairwise(levels):
        if upper - lower < context.setting(LIFTED):
            continue
        spans = runs(values > (upper + lower) / 2.0)
        tops = [float(values[a : b + 1].max()) for a, b in spans]
        if len(tops) > LEAST_THROWS and max(tops) - min(tops) <= SAME_DB:
            found.append(tuple((float(times[a]), float(times[min(b + 1, times.size - 1)])) for a, b in spans))
    return tuple(found)


def _all_spans(context: SessionContext, channel: Channel, lane: Automation) -> tuple[tuple[float, float], ...]:
    """When a send or an effect is open, or lifted over what it has elsewhere."""
    lifted = (span for spans in _lifted(context, channel, lane) for span in spans)
    return (*open_spans(context, channel, lane), *lifted)


MEANT: Final = 2
"""What so many other channels do at the same time is a scene: no setting, one more would be a coincidence."""

SAME_SPAN_S: Final = 1.0
"""Spans that begin and end this near to each other are one: no setting, they are looked at four times a second."""


def _opened_by_others(context: SessionContext, channel: Channel, lane: Automation, span: tuple[float, float]) -> int:
    """How many other channels open such a control for the same time."""
    kind = control_class(channel, lane.target)
    return sum(
        any(
            control_class(other, theirs.target) == kind
            and any(
                abs(start - span[0]) <= SAME_SPAN_S and abs(end - span[1]) <= SAME_SPAN_S
                for start, end in _all_spans(context, other, theirs)
            )
            for theirs in other.automation
            if theirs.t
        )
        for other in context.session.channels
        if other.id != channel.id
    )


HELD: Final = Setting(
    "feedback.held", 85.0, "%", "Feedback from here on builds up or hardly dies away.", lowest=10.0, highest=100.0
)


@FACTS.fact(
    "number",
    "For how long at a stretch a feedback that is moved stands so high that it hardly dies away.",
    unit="s",
    how="derived",
    settings=(HELD,),
)
def feedback_held_s(row: Row[ChannelLane]) -> FactValue:
    context, channel, lane = row.context, row.item.channel, row.item.lane
    if not _is_feedback(context, channel, lane) or not moves(lane):
        return FactValue(0.0, "derived", row.subject.where)
    times = _times(context, channel, lane)
    # A share is written up to 1 or up to 100.
    percent = shown_values(lane, times) * (100.0 if max(lane.v) <= 1.5 else 1.0)
    held = runs(percent >= context.setting(HELD))
    if not held:
        return FactValue(0.0, "derived", row.subject.where)
    first, last = max(held, key=lambda run: run[1] - run[0])
    start_s, end_s = float(times[first]), float(times[min(last + 1, times.size - 1)])
    where = span_text(context, start_s, end_s)
    return FactValue(end_s - start_s, "derived", where, where)


def _is_feedback(context: SessionContext, channel: Channel, lane: Automation) -> bool:
    """True for a lane of a parameter that is named a feedback, in figures that can be shares."""
    target = lane.target
    if target.kind != "insert-parameter" or target.place is None or target.place >= len(channel.inserts):
        return False
    parameters = channel.inserts[target.place].parameters
    listed = next((one for one in parameters if one.id == target.name), None)
    name = (listed.name if listed is not None else "") or target.name
    unit = listed.unit if listed is not None else ""
    return unit in ("", "%") and lane.scale == "plain" and says(name, "feedback", context.house.vocabulary)


# --- throws of a level: one that is far louder than all others, and those that creep open


class ThrownTo(NamedTuple):
    """A throw of a send's level.

    Args:
        opens_s, open_s: from when to when it is opened, seconds; the same for a step.
        shut_s: when it is shut again.
        level_db: the highest level that it reaches.
    """

    opens_s: float
    open_s: float
    shut_s: float
    level_db: float


@per_session
def throws_of(_: SessionContext, lane: Automation) -> tuple[ThrownTo, ...]:
    """The throws of a send's level lane, each from shut to shut."""
    if lane.target.kind != "send-level" or not is_readable(lane) or not moves(lane):
        return ()
    values = point_values(lane).tolist()
    found: list[ThrownTo] = []
    at = 1
    while at < len(values):
        if values[at - 1] <= SHUT_DB < values[at]:
            last = at
            while last + 1 < len(values) and values[last] > SHUT_DB:
                last += 1
            if values[last] <= SHUT_DB:
                opens = lane.t[at - 1] if lane.shape == "linear" else lane.t[at]
                found.append(ThrownTo(opens, lane.t[at], lane.t[last], max(values[at:last])))
            at = last
        at += 1
    return tuple(found)


LEAST_OVER: Final = Setting(
    "throws.least_over", 6.0, "dB", "A throw that goes so far over all others of its lane slipped.", lowest=1.0
)
LEAST_THROWS: Final = 2
"""One throw alone tells nothing: no setting. More than two make a habit."""

SAME_DB: Final = 0.3
"""Throws that differ by no more go to one level: no setting, they are copied."""


LOST_TIMES: Final = 2.0
"""A throw has to lie so many times as far under the others before it is lost: no setting, less is a softer word."""


@FACTS.fact(
    "number",
    "How far one of its throws goes over all others, or far under them, which go to one level; 0 where none does.",
    unit="dB",
    how="derived",
    settings=(LEAST_OVER,),
)
def thrown_off_db(row: Row[ChannelLane]) -> FactValue:
    thrown = throws_of(row.context, row.item.lane)
    ordered = sorted(thrown, key=lambda one: one.level_db)
    if len(ordered) < LEAST_THROWS:
        return FactValue(0.0, "derived", row.subject.where)
    soft = ordered[-1].level_db - ordered[1].level_db <= SAME_DB and len(ordered) > LEAST_THROWS
    odd, others = (ordered[0], ordered[1:]) if soft else (ordered[-1], ordered[:-1])
    usual = others[-1].level_db
    off = abs(odd.level_db - usual)
    # Two throws make no habit, but nobody opens the one at -5 and the other at +5 dB.
    slipped = abs(odd.level_db + usual) <= SAME_DB if len(ordered) == LEAST_THROWS else True
    least = LOST_TIMES * row.context.setting(LEAST_OVER) if soft else row.context.setting(LEAST_OVER)
    if usual - others[0].level_db > SAME_DB or off < least or not slipped:
        return FactValue(0.0, "derived", row.subject.where)
    where = moment_text(row.context, odd.open_s)
    times = f"all other {len(others)} times" if len(others) > 1 else "the other time"
    to, from_ = number_text(odd.level_db, "dB"), number_text(usual, "dB")
    return FactValue(off, "derived", where, f"goes to {to} at {where}, and to {from_} {times}")


CREEPS: Final = Setting(
    "throws.creeps", 5.0, "s", "A send that takes so long to open for a moment creeps open.", lowest=1.0
)


@FACTS.fact(
    "number",
    "How long its send creeps open at the longest before it is open for a moment; 0 where throws open at once.",
    unit="s",
    how="derived",
    settings=(CREEPS, THROW),
)
def throw_creeps_s(row: Row[ChannelLane]) -> FactValue:
    context = row.context
    creeping = [
        one
        for one in throws_of(context, row.item.lane)
        if one.open_s - one.opens_s >= context.setting(CREEPS)
        and one.shut_s - one.open_s <= context.setting(THROW)
        and CREEPS_TIMES * (one.shut_s - one.open_s) <= one.open_s - one.opens_s
    ]
    if not creeping:
        return FactValue(0.0, "derived", row.subject.where)
    longest = max(creeping, key=lambda one: one.open_s - one.opens_s)
    where = span_text(context, longest.opens_s, longest.open_s)
    return FactValue(longest.open_s - longest.opens_s, "derived", where, where)


CREEPS_TIMES: Final = 2.0
"""It takes so many times as long to open as it is open: no setting, a swell of a hall falls as it rose."""


# --- throws that fall beside the ends of lines


OFF_LINES: Final = Setting(
    "throws.off_lines", 3.0, "s", "Throws that open so far from the ends of lines fall beside them.", lowest=1.0
)
LEAST_BESIDE: Final = Setting("throws.least_beside", 3.0, "", "So many throws show what they are for.", lowest=2.0)
MOST_BESIDE_S: Final = 15.0
"""Further off, throws fit other lines by chance: no setting."""

NEARLY_ALL: Final = 0.75
"""A throw for a word within a line lies among those for the ends: no setting."""

EXACT_S: Final = 0.25
EXACTER_S: Final = 0.12
"""Throws that were dragged as one keep one distance from the ends of their lines, and few keep it more nearly. No
settings: a throw opens on the last word, which a hand meets within tenths."""


@per_session
def beside_lines(context: SessionContext, channel: Channel, lane: Automation) -> float | None:
    """How far all throws of a lane fall behind the ends of lines, negative before; None where they fall on them."""
    if control_class(channel, lane.target) not in ("send-level", "send-switch"):
        return None
    thrown = [span for span in _opened(lane) if span[1] - span[0] <= context.setting(THROW)]
    ends = [end for _, end in spans_of(context, channel, lane)]
    few, off = context.setting(LEAST_BESIDE), context.setting(OFF_LINES)
    if len(thrown) < few or any(any_within(ends, start - 1.0, shut + 1.5) for start, shut in thrown):
        return None
    first = thrown[0][0]
    exact = EXACTER_S if len(thrown) <= few else EXACT_S
    for end in sorted(ends, key=lambda end: abs(end - first)):
        away = first - end
        if not off <= abs(away) <= MOST_BESIDE_S:
            continue
        on_lines = sum(any_within(ends, start - away - exact, start - away + exact) for start, _ in thrown)
        if on_lines >= few and on_lines >= NEARLY_ALL * len(thrown):
            return away
    return None


def _opened(lane: Automation) -> list[tuple[float, float]]:
    """From when to when a send is open by the points of its lane, seconds."""
    shut = SHUT_DB if lane.scale in ("dB", "amplitude") else ON / 2.0
    found: list[tuple[float, float]] = []
    since: float | None = None
    for at, value in zip(lane.t, point_values(lane).tolist(), strict=True):
        if value > shut:
            since = at if since is None else since
        elif since is not None:
            found.append((since, at))
            since = None
    return found


@FACTS.fact(
    "number",
    "How far all its throws fall from the ends of the lines that they fit when moved; 0 where they fall on them.",
    unit="s",
    how="derived",
    settings=(THROW, OFF_LINES, LEAST_BESIDE),
)
def throws_beside_s(row: Row[ChannelLane]) -> FactValue:
    away = beside_lines(row.context, row.item.channel, row.item.lane)
    side = "behind" if (away or 0.0) > 0.0 else "before"
    return FactValue(abs(away or 0.0), "derived", row.subject.where, side)
