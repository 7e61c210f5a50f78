"""The order of a chain against those of all other parts: a gate or a de-esser on the other side of the compressor."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.inserts import active_inserts
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, Row
from mixlint.facts.insert.processing import ChannelInsert
from mixlint.routing import acting_inserts
from mixlint.units import few_text

FACTS: Facts[ChannelInsert] = Facts()

LEAST_IN_ORDER: Final = Setting(
    "likes.least_in_order",
    2.0,
    "",
    "So many other parts with one order of two processors show the usual one.",
    lowest=1.0,
)

_PLACED: Final = ("gate", "expander", "de-esser")
"""Kinds of which it counts on which side of the compressor they stand: what they hear is another signal there."""


@per_session
def _orders(context: SessionContext) -> dict[str, dict[str, bool]]:
    """Kind of processor → channel id → that it stands before the compressor, of parts that have one of each."""
    found: dict[str, dict[str, bool]] = {kind: {} for kind in _PLACED}
    for channel in context.session.channels:
        if not is_source(context, channel):
            continue
        kinds = [reading.word for _, reading in active_inserts(context, channel)]
        for kind in _PLACED:
            if kinds.count(kind) == 1 and kinds.count("compressor") == 1:
                found[kind][channel.id] = kinds.index(kind) < kinds.index("compressor")
    return found


@FACTS.fact(
    "text",
    "On which side of the compressor a gate or de-esser stands, where on all other parts with both it is the other; or "
    "none.",
    how="derived",
    settings=(LEAST_IN_ORDER,),
)
def order_apart(row: Row[ChannelInsert]) -> str:
    context, item = row.context, row.item
    kind = str(row.need("kind").value)
    orders = _orders(context).get(kind, {})
    if item.channel.id not in orders or item.place not in acting_inserts(item.channel):
        return "none"
    own = orders[item.channel.id]
    others = [one for one, before in orders.items() if one != item.channel.id and before is not own]
    if len(others) + 1 < len(orders) or len(others) < context.setting(LEAST_IN_ORDER):
        return "none"
    side, usual = ("before", "behind") if own else ("behind", "before")
    return f"{side} the compressor, on {few_text([context.name(one) for one in others])} {usual} it"


_OF_SOUND: Final = frozenset(
    {
        "equalizer", "filter", "compressor", "limiter", "gate", "expander", "de-esser", "reverb", "delay", "modulation",
        "distortion", "restoration", "spatial",
    }
)  # fmt: skip
"""Kinds that work on sound alone: before an instrument, which takes notes, they have nothing to work on."""


@FACTS.fact(
    "text",
    "The processors that stand before the first instrument of a chain, which makes the sound they should work on; or "
    "none.",
    how="derived",
)
def before_the_instrument(row: Row[ChannelInsert]) -> str:
    context, item = row.context, row.item
    readings = active_inserts(context, item.channel)
    first = next((insert for insert, reading in readings if reading.word == "instrument"), None)
    if first is not item.insert:
        return "none"
    before = []
    for insert, reading in readings:
        if insert is first:
            break
        if reading.word in _OF_SOUND:
            before.append(insert.name or str(reading.word))
    return few_text(before) if before else "none"
