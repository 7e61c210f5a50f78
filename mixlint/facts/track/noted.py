"""What the comment of a channel notes of it, against what the export shows: here, that it is turned over, or is not."""

from __future__ import annotations

from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.named_pairs import paired_by_name
from mixlint.analysis.polarity import is_turned, polarity_switches
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import says_straight, says_turned_over
from mixlint.session import Channel, Unknown, inserts_now

FACTS: Facts[Channel] = Facts()


@FACTS.fact("switch", "Its comment says that its polarity is turned over.")
def noted_turned(row: Row[Channel]) -> FactValue:
    said = says_turned_over(row.item.comment, row.context.house.vocabulary)
    return FactValue(bool(said), "declared", row.subject.where, said)


@FACTS.fact("switch", "Its comment says that its polarity is straight: not turned over.")
def noted_straight(row: Row[Channel]) -> FactValue:
    said = says_straight(row.item.comment, row.context.house.vocabulary)
    return FactValue(bool(said), "declared", row.subject.where, said)


@FACTS.fact("text", "The words by which its comment tells its polarity, or none.")
def noted_polarity(row: Row[Channel]) -> str:
    comment, words = row.item.comment, row.context.house.vocabulary
    return says_straight(comment, words) or says_turned_over(comment, words) or "none"


@FACTS.fact("text", "Whether the polarity switches that act on it turn it over: on or off.")
def switched(row: Row[Channel]) -> str:
    return "on" if is_turned(row.context, row.item) else "off"


@FACTS.fact("switch", "Another microphone or pick-up of the same performance sounds with it.", how="derived")
def sounds_with_another(row: Row[Channel]) -> bool:
    context, channel = row.context, row.item
    return any(
        kind == "microphones"
        and is_source(context, other)
        and context.family(other.id) == context.family(channel.id)
        and is_audible(context, other)
        for other, kind in paired_by_name(context, channel)
    )


@FACTS.fact("switch", "The polarity switches that act on it, as far as the export lists any, turn it over.")
def turned(row: Row[Channel]) -> bool | Unknown:
    context, channel = row.context, row.item
    if not any(polarity_switches(insert, context) for insert in inserts_now(channel)):
        return Unknown(
            unknown="the export lists no polarity switch on it", settle="look for the switch, or listen in mono"
        )
    return is_turned(context, channel)
