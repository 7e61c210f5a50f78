"""What the two sides of a pair are sent to: the same returns at like levels, or each to the one on its own side."""

from __future__ import annotations

from operator import itemgetter
from typing import Final, TypeAlias

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


Levels: TypeAlias = dict[str, tuple[str, float]]
"""The return that each open send leads to, its side left open → its name and the level of the send, dB."""


def _levels(context: SessionContext, channel: Channel) -> Levels | None:
    """What a channel is sent to; None where the export does not tell."""
    found: Levels = {}
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
def _both(context: SessionContext, one: Channel, other: Channel) -> tuple[Levels, Levels] | None:
    """What either side is sent to, where both are told and neither is thrown."""
    here, there = _levels(context, one), _levels(context, other)
    return None if here is None or there is None or _thrown(one) or _thrown(other) else (here, there)


@FACTS.fact("text", "The one side that is sent to a return to which the other is not, nor to another instead; or none.")
def sent_alone(row: Row[PartPair]) -> FactValue:
    both = _both(row.context, row.item.one, row.item.other)
    nobody = FactValue("none", "declared", row.subject.where)
    if both is None:
        return nobody
    here, there = both
    extra, missing = here.keys() - there.keys(), there.keys() - here.keys()
    if bool(extra) is bool(missing):
        return nobody
    side, sends, only = (row.item.one, here, extra) if extra else (row.item.other, there, missing)
    to, _ = max((sends[key] for key in only), key=itemgetter(1))
    return FactValue(row.context.name(side.id), "declared", row.subject.where, to)


@FACTS.fact("number", "How far apart their sends to one return, or to the two of a pair, lie at the most.", unit="dB")
def sends_apart_db(row: Row[PartPair]) -> FactValue:
    here, there = _both(row.context, row.item.one, row.item.other) or ({}, {})
    shared = [(abs(here[key][1] - there[key][1]), key) for key in here if key in there]
    if not shared:
        return FactValue(0.0, "declared", row.subject.where, "no return")
    apart, key = max(shared)
    (to, one), (_, other) = here[key], there[key]
    return FactValue(apart, "declared", row.subject.where, f"{to}, {number_text(one)} and {number_text(other)} dB")


@FACTS.fact("text", "In what the two are sent otherwise, for a reader.")
def sent_otherwise(row: Row[PartPair]) -> str:
    alone, apart = row.need("sent_alone"), row.need("sends_apart_db")
    if alone.value != "none":
        return f"{alone.value} alone goes to {alone.note}"
    return f"their sends lie {number_text(apart.number, 'dB')} apart ({apart.note})"
