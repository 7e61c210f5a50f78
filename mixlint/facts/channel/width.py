"""What is wide and goes out into a bus of one leg, which folds it to mono."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mixlint.analysis.audibility import is_heard
from mixlint.analysis.automation_range import position_of
from mixlint.analysis.channel_purpose import is_source, is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, is_known
from mixlint.units import few_text

FACTS: Facts[Channel] = Facts()

LEAST_PANNED: Final = Setting(
    "width.least_panned",
    20.0,
    "pan distance",
    "Parts that stand so far to the left and so far to the right spread what they go into over both of its legs.",
    lowest=1.0,
)

NARROW: Final = frozenset({"bass", "drums"})
"""Families of which a stereo recording often holds one thing in the middle, as a sampled kick does."""


@FACTS.fact(
    "text",
    "What is spread or stereo and goes out into it, where it is a heard bus of one leg beside others of two; or none.",
    how="derived",
    settings=(LEAST_PANNED,),
)
def folds(row: Row[Channel]) -> FactValue:
    wide = _folded(row.context).get(row.subject.id, "")
    return FactValue(wide or "none", "derived", row.subject.where)


@per_session
def _folded(context: SessionContext) -> dict[str, str]:
    """Channel id → what loses its width in it. Empty for a release in mono, and where no bus has two legs."""
    buses = [c for c in context.session.channels if c.kind in ("group", "return", "master")]
    if "mono" in context.house.intents or not any(bus.legs == 2 for bus in buses):
        return {}
    found: dict[str, str] = {}
    for bus in buses:
        if bus.kind != "return" and bus.legs == 1 and is_heard(context, bus) and not is_utility(context, bus):
            text = _wide_text(context, list(_going_out_to(context, bus)))
            if text:
                found[bus.id] = text
    return found


def _going_out_to(context: SessionContext, bus: Channel) -> Iterator[Channel]:
    """The heard channels whose output is a bus, nearest in desk order."""
    for edge in context.routing.wiring.arriving.get(bus.id, ()):
        channel = context.channels[edge.source]
        if edge.kind == "output" and is_heard(context, channel) and not is_utility(context, channel):
            yield channel


def _wide_text(context: SessionContext, feeds: list[Channel]) -> str:
    """What of the feeds of a bus is wide: two that stand apart, else what is stereo by itself; empty for none."""
    far = context.setting(LEAST_PANNED)
    places = {one.id: place for one in feeds if is_known(place := position_of(context, one))}
    left = min(places, key=lambda one: places[one], default=None)
    right = max(places, key=lambda one: places[one], default=None)
    if left is not None and right is not None and places[left] <= -far and places[right] >= far:
        return f"{context.name(left)} and {context.name(right)} go into it panned apart"
    wide = [context.name(one.id) for one in feeds if _is_wide(context, one)]
    return f"{few_text(wide)} {'goes' if len(wide) == 1 else 'go'} into it in stereo" if wide else ""


def _is_wide(context: SessionContext, channel: Channel) -> bool:
    """True for a bus or a return of two legs, and for a stereo part of a family that is spread."""
    if not is_source(context, channel):
        return channel.legs == 2 and channel.kind in ("group", "return")
    return context.routing.legs[channel.id] == 2 and context.family(channel.id) not in NARROW
