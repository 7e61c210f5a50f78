"""Mutes that keep gaps silent, and the one that takes away what plays: it was lifted too late."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, NamedTuple

from mixlint.analysis.activity import has_arrangement, span_text, within_s
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import ChannelLane
from mixlint.facts.lane.settling import spans_of
from mixlint.session import MUTE, Automation, Channel
from mixlint.session.control import ON

FACTS: Facts[ChannelLane] = Facts()

LEAST_MUTES: Final = Setting(
    "mutes.least_others", 2.0, "", "So many other mutes of a lane show what they are for.", lowest=1.0
)
SHORT_MUTE: Final = Setting("mutes.short", 2.0, "s", "A mute of no more than this is for a word or a beat.", lowest=0.1)
SWALLOWS: Final = Setting(
    "mutes.swallows",
    1.0,
    "s",
    "So much of what plays a mute takes that was to keep a gap silent.",
    lowest=0.2,
)
MUTE_SETTINGS: Final = (LEAST_MUTES, SHORT_MUTE, SWALLOWS)

TIMES_AS_LONG: Final = 2.5
"""A mute so many times as long as all others of its lane was lifted too late: no setting, a bar is twice a half."""

IN_A_GAP_S: Final = 0.3
"""A mute that takes no more than this of what plays lies in a gap: no setting, edges of clips lie so near."""


class Muted(NamedTuple):
    """From when to when a lane mutes, seconds, and how much of what plays it takes."""

    on_s: float
    off_s: float
    takes_s: float


@per_session
def mutes_of(context: SessionContext, channel: Channel, lane: Automation) -> tuple[Muted, ...]:
    """The mutes of a lane that are lifted again, in order of time."""
    spans = spans_of(context, channel, lane)
    found: list[Muted] = []
    on: float | None = None
    for at, value in zip(lane.t, lane.v, strict=True):
        if value >= ON:
            on = at if on is None else on
        elif on is not None:
            found.append(Muted(on, at, within_s(spans, on, at)))
            on = None
    return tuple(found)


@per_session
def too_long(context: SessionContext, channel: Channel, lane: Automation) -> Muted | None:
    """The one mute of a lane that takes what plays, where its others lie in gaps, or are all as short; else None."""
    if lane.target != MUTE or not has_arrangement(context):
        return None
    made = mutes_of(context, channel, lane)
    if len(made) <= context.setting(LEAST_MUTES):
        return None
    return _odd(context, channel, made, lambda one: one.takes_s, IN_A_GAP_S) or _odd(
        context, channel, made, lambda one: one.off_s - one.on_s, context.setting(SHORT_MUTE)
    )


def _odd(
    context: SessionContext, channel: Channel, made: tuple[Muted, ...], size: Callable[[Muted], float], most: float
) -> Muted | None:
    """The largest mute, where all others are within a size and it takes music by that much more."""
    *others, odd = sorted(made, key=size)
    usual = max(map(size, others))
    takes = odd.takes_s - max(one.takes_s for one in others)
    if usual > most or size(odd) < TIMES_AS_LONG * usual or takes < context.setting(SWALLOWS):
        return None
    return None if _with_others(context, channel, odd) else odd


TOGETHER_S: Final = 0.1
"""Mutes of several channels that are lifted this near to each other are one: no setting, late ones are seconds off."""


def _with_others(context: SessionContext, channel: Channel, odd: Muted) -> bool:
    """True where another channel is muted until the same moment: that was meant."""
    return any(
        abs(theirs.off_s - odd.off_s) <= TOGETHER_S
        for other in context.session.channels
        if other.id != channel.id
        for lane in other.automation
        if lane.target == MUTE
        for theirs in mutes_of(context, other, lane)
    )


@FACTS.fact(
    "number",
    "How much of what plays one of its mutes takes away, where its others lie in gaps or are short; 0 where none does.",
    unit="s",
    how="derived",
    settings=MUTE_SETTINGS,
)
def mute_takes_s(row: Row[ChannelLane]) -> FactValue:
    found = too_long(row.context, row.item.channel, row.item.lane)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    where = span_text(row.context, found.on_s, found.off_s)
    return FactValue(found.takes_s, "derived", where, where)
