"""The polarity switches that an export lists, and whether they turn a channel over."""

from __future__ import annotations

from mixlint.analysis.context import SessionContext
from mixlint.analysis.inserts import active_inserts
from mixlint.naming import is_polarity, leg_of_polarity
from mixlint.naming.fold import as_read
from mixlint.naming.vocabulary import Side
from mixlint.session import Channel, Insert


def polarity_switches(insert: Insert, context: SessionContext) -> list[bool]:
    """The polarity switches that an insert lists, each true where it turns the signal over.

    Those of its two legs are one switch where they agree; where they do not, no whole signal is turned over by them.
    """
    whole = [
        bool(parameter.value)
        for parameter in insert.parameters
        if parameter.value in (0, 1) and not parameter.unit and is_polarity(parameter.name, context.house.vocabulary)
    ]
    legs = leg_switches(insert, context)
    return [*whole, legs["left"]] if len(legs) == 2 and legs["left"] == legs["right"] else whole


def leg_switches(insert: Insert, context: SessionContext) -> dict[Side, bool]:
    """The side of each leg for which an insert lists a polarity switch → whether it turns that leg over.

    One control that names the leg it turns over is read as the switch of that leg alone.
    """
    words = context.house.vocabulary
    found: dict[Side, bool] = {}
    for parameter in insert.parameters:
        side = leg_of_polarity(parameter.name, words)
        if side is not None and parameter.value in (0, 1) and not parameter.unit:
            found[side] = bool(parameter.value)
        elif isinstance(parameter.value, str) and is_polarity(parameter.name, words):
            named = words.sides.sides.get(as_read(parameter.value))
            if named is not None:
                found[named] = True
    return found


def turned_leg(context: SessionContext, channel: Channel) -> Side | None:
    """The one leg of a channel that the polarity switches of its legs turn over; None where none, or both."""
    odd: set[Side] = set()
    for insert, _ in active_inserts(context, channel):
        odd ^= {side for side, on in leg_switches(insert, context).items() if on}
    return odd.pop() if len(odd) == 1 else None


def is_turned(context: SessionContext, channel: Channel) -> bool:
    """True when the polarity switches that act on a channel turn it over, as far as the export shows them."""
    switches = [on for insert, _ in active_inserts(context, channel) for on in polarity_switches(insert, context)]
    return sum(switches) % 2 == 1
