"""Pairs of parts: counterparts on either side, and two microphones on one performance, by name."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING, Literal, NamedTuple, get_args

from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.counterparts import LARGE_GROUP, MATCHING, NEAREST_FEW, alike_by_name, counterparts
from mixlint.analysis.partners import partners
from mixlint.facts.declare import Facts, Row
from mixlint.facts.shared import INTENTS, UNREAD, intents
from mixlint.naming import FAMILIES, ROLES, mid_or_side, pair_kind, stand_opposite
from mixlint.session import Channel

if TYPE_CHECKING:
    from collections.abc import Iterator

PairKind = Literal["counterparts", "microphones"]


class PartPair(NamedTuple):
    """Two parts that belong together.

    Args:
        kind: counterparts on either side, or two microphones on one performance.
        one: the first of them in desk order.
        other: the second.
    """

    kind: PairKind
    one: Channel
    other: Channel


@per_session
def pairs(context: SessionContext) -> tuple[PartPair, ...]:
    """Every pair, in desk order of its first part; two microphones are no counterparts beside that."""
    found = [PartPair("microphones", one, other) for one, other in _microphones(context)]
    close = {frozenset((pair.one.id, pair.other.id)) for pair in found}
    for near in {id(near): near for near in counterparts(context).values()}.values():
        ids = frozenset((near.one, near.other))
        if ids not in close:
            one, other = sorted((context.channels[i] for i in ids), key=lambda c: context.order[c.id])
            found.append(PartPair("counterparts", one, other))
    return tuple(sorted(found, key=lambda pair: (context.order[pair.one.id], context.order[pair.other.id])))


def _microphones(context: SessionContext) -> list[tuple[Channel, Channel]]:
    """Pairs of like parts whose names are those of two microphones on one performance."""
    families: dict[str, list[Channel]] = {}
    for channel in context.session.channels:
        if is_source(context, channel) and is_audible(context, channel):
            families.setdefault(context.family(channel.id) or "", []).append(channel)
    return [
        (one, other)
        for members in families.values()
        for one, other in _neighbours(members)
        if pair_kind(one.name, other.name, context.house.vocabulary) == "microphones"
    ]


def _neighbours(members: list[Channel]) -> Iterator[tuple[Channel, Channel]]:
    """Pairs of like parts, all of them; in a crowd each with the few that follow it on the desk."""
    if len(members) <= LARGE_GROUP:
        yield from combinations(members, 2)
        return
    for at, one in enumerate(members):
        for other in members[at + 1 : at + 1 + NEAREST_FEW]:
            yield one, other


FACTS: Facts[PartPair] = Facts()

FACTS.fact("list", INTENTS)(intents)


@FACTS.fact("text", "The names of both.")
def name(row: Row[PartPair]) -> str:
    return row.subject.name


@FACTS.fact("word", "What kind of pair it is.", how="derived", words=get_args(PairKind), settings=MATCHING)
def kind(row: Row[PartPair]) -> str:
    return row.item.kind


@FACTS.fact("word", "The family of its first part, or unread.", how="derived", words=(*FAMILIES, UNREAD))
def part_family(row: Row[PartPair]) -> str:
    return row.context.family(row.item.one.id) or UNREAD


@FACTS.fact(
    "word",
    "The part its first one plays, or unread where its name does not tell.",
    how="derived",
    words=(*ROLES, UNREAD),
)
def part(row: Row[PartPair]) -> str:
    return row.context.role_word(row.item.one.id) or UNREAD


@FACTS.fact(
    "switch",
    "Their names are one but for side or number, or one is called the other's double.",
    how="derived",
)
def named_alike(row: Row[PartPair]) -> bool:
    return alike_by_name(row.context, row.item.one, row.item.other)


@FACTS.fact("switch", "They are named the left and the right of one part.", how="derived")
def named_by_side(row: Row[PartPair]) -> bool:
    return partners(row.context).get(row.item.one.id) is row.item.other


@FACTS.fact("switch", "Both play the same part.", how="derived")
def same_part(row: Row[PartPair]) -> bool:
    return row.context.role(row.item.one.id) == row.context.role(row.item.other.id)


@FACTS.fact(
    "switch",
    "They are the two halves of a side signal, or its mid and side: one of them turned over decodes to left and right.",
    how="derived",
)
def mid_side(row: Row[PartPair]) -> bool:
    context, words = row.context, row.context.house.vocabulary
    one, other = (mid_or_side(part.name, words) for part in (row.item.one, row.item.other))
    if one is None or other is None:
        return False
    if {one, other} == {"mid", "side"}:
        return True
    return one == "side" and any(
        mid_or_side(part.name, words) == "mid" and context.family(part.id) == part_family(row)
        for part in context.session.channels
        if is_source(context, part)
    )


@FACTS.fact("text", "The first of the two in desk order.")
def one(row: Row[PartPair]) -> str:
    return row.context.name(row.item.one.id)


@FACTS.fact("text", "The second of the two.")
def other(row: Row[PartPair]) -> str:
    return row.context.name(row.item.other.id)


@FACTS.fact("switch", "Their polarities differ by where they stand: top and bottom, front and back, mid and side.")
def opposed_by_place(row: Row[PartPair]) -> bool:
    one, other = row.item.one, row.item.other
    return stand_opposite(one.name, other.name, row.context.house.vocabulary)
