"""What a send is set to, as it stands, for rules of a house."""

from __future__ import annotations

from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.send.channel_send import ChannelSend
from mixlint.facts.shared import stands_at
from mixlint.session import Target, Unknown, control_of

FACTS: Facts[ChannelSend] = Facts()


@FACTS.fact("number", "Its place among the sends of its channel, counted from 1.")
def position(row: Row[ChannelSend]) -> int:
    return row.item.number + 1


@FACTS.fact("switch", "It is switched on, at whatever level.")
def on(row: Row[ChannelSend]) -> bool | FactValue | Unknown:
    found = stands_at(row, control_of(row.item.channel, Target.send(row.item.number, "on")))
    return found if isinstance(found, Unknown) else FactValue(found.number >= 0.5, found.how, found.where, found.note)


@FACTS.fact("number", "Its pan position, −100 left to +100 right.", unit="pan")
def pan(row: Row[ChannelSend]) -> FactValue | Unknown:
    return stands_at(row, control_of(row.item.channel, Target.send(row.item.number, "pan")))
