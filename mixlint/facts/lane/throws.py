"""Throws: sends and effects that are opened for a moment, and the one that was not closed again; held feedback."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mixlint.analysis.activity import span_text, steps_through
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import ChannelLane
from mixlint.facts.lane.settling import SHUT_DB, control_class, spans_of
from mixlint.naming.setting_reading import says
from mixlint.session import Automation, Channel
from mixlint.session.control import ON, is_readable, moves, shown_values
from mixlint.signal.median import median
from mixlint.signal.runs import runs

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


@FACTS.fact(
    "number",
    "How long its longest throw lasts, where the others are short and it is many times as long; 0 where none is.",
    unit="s",
    how="derived",
    settings=(THROW, TIMES_AS_LONG),
)
def throw_left_open_s(row: Row[ChannelLane]) -> FactValue:
    context, item = row.context, row.item
    spans = open_spans(context, item.channel, item.lane)
    lengths = sorted(end - start for start, end in spans)
    if len(lengths) < 2:
        return FactValue(0.0, "derived", row.subject.where)
    usual, longest = lengths[:-1][len(lengths[:-1]) // 2], lengths[-1]
    odd = usual <= context.setting(THROW) and longest >= context.setting(TIMES_AS_LONG) * max(usual, 0.5)
    if not odd or longest <= context.setting(THROW):
        return FactValue(0.0, "derived", row.subject.where)
    longest_span = max(spans, key=lambda span: span[1] - span[0])
    if _opened_by_others(context, item.channel, item.lane, longest_span) >= MEANT:
        return FactValue(0.0, "derived", row.subject.where)
    where = span_text(context, *longest_span)
    return FactValue(longest, "derived", where, where)


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
                for start, end in open_spans(context, other, theirs)
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
