"""Throws: sends that are opened for a moment, and the one that was not closed again."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.activity import span_text, steps_through
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import ChannelLane
from mixlint.facts.lane.settling import SHUT_DB, control_class, spans_of
from mixlint.session import Automation, Channel
from mixlint.session.control import shown_values
from mixlint.signal.runs import runs

FACTS: Facts[ChannelLane] = Facts()

STEP_S: Final = 0.25
"""How often a send is looked at, seconds. No setting: it is the resolution of a computation."""


@per_session
def open_spans(context: SessionContext, channel: Channel, lane: Automation) -> tuple[tuple[float, float], ...]:
    """From when to when a send is open while sound passes its channel, seconds; to its end at the latest."""
    if control_class(channel, lane.target) not in ("send-level", "send-switch"):
        return ()
    end = max((b for _, b in spans_of(context, channel, lane)), default=lane.t[-1])
    times = steps_through(max(end, STEP_S), STEP_S)
    values = shown_values(lane, times)
    shut = SHUT_DB / 2.0 if lane.scale in ("dB", "amplitude") else 0.5
    return tuple((float(times[a]), float(times[min(b + 1, times.size - 1)])) for a, b in runs(values > shut))


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
    where = span_text(context, *max(spans, key=lambda span: span[1] - span[0]))
    return FactValue(longest, "derived", where, where)
