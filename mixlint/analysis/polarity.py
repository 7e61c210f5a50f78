"""The polarity switches that an export lists, and whether they turn a channel over."""

from __future__ import annotations

from mixlint.analysis.context import SessionContext
from mixlint.analysis.inserts import active_inserts
from mixlint.naming import is_polarity
from mixlint.session import Channel, Insert


def polarity_switches(insert: Insert, context: SessionContext) -> list[bool]:
    """The polarity switches that an insert lists, each true where it turns the signal over."""
    return [
        bool(parameter.value)
        for parameter in insert.parameters
        if parameter.value in (0, 1) and not parameter.unit and is_polarity(parameter.name, context.house.vocabulary)
    ]


def is_turned(context: SessionContext, channel: Channel) -> bool:
    """True when the polarity switches that act on a channel turn it over, as far as the export shows them."""
    switches = [on for insert, _ in active_inserts(context, channel) for on in polarity_switches(insert, context)]
    return sum(switches) % 2 == 1
