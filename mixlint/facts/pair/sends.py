"""What the two sides of a pair are sent to: the same returns at like levels, or each to the one on its own side."""

from __future__ import annotations

from typing import Final, NamedTuple

from mixlint.analysis.channel_purpose import is_return
from mixlint.analysis.context import SessionContext, per_session
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.pair.pairs import PartPair
from mixlint.naming import name_without_side
from mixlint.session import Channel, channel_now, is_known
from mixlint.session.control import moves
from mixlint.units import number_text

FACTS: Facts[PartPair] = Facts()

THROWN: Final = frozenset({"send-level", "send-switch"})
"""Sends that are automated are thrown: what stands in the sheet is where they happen to rest."""


class OddSend(NamedTuple):
    """The send by which the two sides differ most.

    Args:
        channel: the side that it leaves; empty where both are sent alike.
        to: the return.
    """

    channel: str
    to: str


ALIKE: Final = OddSend("", "")


def _levels(context: SessionContext, channel: Channel) -> dict[str, tuple[str, float]] | None:
    """The return that each open send leads to, its side left open → its name and the level, dB; None where not told."""
    found: dict[str, tuple[str, float]] = {}
    for send in channel_now(channel).sends:
        if not isinstance(send.to, str) or not is_known(send.on) or not is_known(send.level_db):
            return None
        to = context.channels.get(send.to)
        if to is not None and send.on and is_return(context, to):
            found[name_without_side(to.name, context.house.vocabulary)] = (context.name(to.id), send.level_db)
    return found


def _thrown(channel: Channel) -> bool:
    return any(lane.target.kind in THROWN and moves(lane) for lane in channel.automation)


@per_session
def odd_send(context: SessionContext, one: Channel, other: Channel) -> OddSend:
    """The send that one side has and the other lacks, where the other has none of its own instead."""
    levels = {side.id: _levels(context, side) for side in (one, other)}
    here, there = levels[one.id], levels[other.id]
    if here is None or there is None or _thrown(one) or _thrown(other):
        return ALIKE
    extra, missing = here.keys() - there.keys(), there.keys() - here.keys()
    if bool(extra) is bool(missing):
        return ALIKE
    side, sends, only = (one, here, extra) if extra else (other, there, missing)
    name, _ = max((sends[key] for key in only), key=lambda found: found[1])
    return OddSend(context.name(side.id), name)


@FACTS.fact("text", "The one side that is sent to a return to which the other is not, nor to another instead; or none.")
def sent_alone(row: Row[PartPair]) -> FactValue:
    found = odd_send(row.context, row.item.one, row.item.other)
    return FactValue(found.channel or "none", "declared", row.subject.where, found.to)


@FACTS.fact("number", "How far apart their sends to one return, or to the two of a pair, lie at the most.", unit="dB")
def sends_apart_db(row: Row[PartPair]) -> FactValue:
    here, there = _levels(row.context, row.item.one), _levels(row.context, row.item.other)
    nowhere = FactValue(0.0, "declared", row.subject.where, "no return")
    if here is None or there is None or _thrown(row.item.one) or _thrown(row.item.other):
        return nowhere
    both = [(abs(here[key][1] - there[key][1]), key) for key in here if key in there]
    if not both:
        return nowhere
    apart, key = max(both)
    (to, one), (_, other) = here[key], there[key]
    return FactValue(apart, "declared", row.subject.where, f"{to}, {number_text(one)} and {number_text(other)} dB")
