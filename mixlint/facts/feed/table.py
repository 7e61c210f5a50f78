"""The table ``feed``: what comes to a group, a return or a parallel bus that serves one family of parts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple, get_args

from mixlint.analysis.bus_purpose import PURPOSE, FeedKind, Purpose, carried, feed_kind, feeding, purpose_of, strange_to
from mixlint.analysis.context import SessionContext
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.naming import FAMILIES, is_stem, stem_of
from mixlint.routing import Edge
from mixlint.session import Channel, Unknown

KINDS: Final = get_args(FeedKind)


class Feed(NamedTuple):
    """One output or send into a bus that serves a family.

    Args:
        edge: the output or send.
        channel: where it comes from.
        bus: where it leads.
        purpose: whom that bus serves.
    """

    edge: Edge
    channel: Channel
    bus: Channel
    purpose: Purpose


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Feed]]:
    for bus in context.session.channels:
        purpose = purpose_of(context, bus)
        for edge in feeding(context, bus) if purpose.families else ():
            channel = context.channels[edge.source]
            name = f"{context.name(channel.id)} → {context.name(bus.id)}"
            ident = f"{channel.id}:{'out' if edge.send is None else edge.send}"
            where = edge.where or channel.where
            subject = Subject("feed", ident, name, where, context.order[channel.id], (channel.id, bus.id))
            yield subject, Feed(edge, channel, bus, purpose)


FEED: Table[Feed] = Table(
    "feed",
    "What comes to each group, return and parallel bus that serves one family of parts by its name and by what else "
    "comes to it; mixed buses are left out.",
    _rows,
    settings=PURPOSE,
)


@FEED.fact("text", "From where to where.", how="derived")
def name(row: Row[Feed]) -> str:
    return row.subject.name


@FEED.fact("text", "The channel it comes from.")
def source(row: Row[Feed]) -> str:
    return row.context.name(row.item.channel.id)


@FEED.fact("text", "The bus it leads to.")
def to(row: Row[Feed]) -> str:
    return row.context.name(row.item.bus.id)


@FEED.fact("word", "By its output or by a send.", words=("output", "send"))
def by(row: Row[Feed]) -> str:
    return row.item.edge.kind


@FEED.fact("text", "How it gets there, for a sentence: is sent to, or goes out to.")
def led(row: Row[Feed]) -> str:
    return "is sent to" if row.item.edge.kind == "send" else "goes out to"


@FEED.fact("word", "What it comes from.", how="derived", words=KINDS)
def source_kind(row: Row[Feed]) -> str:
    return feed_kind(row.context, row.item.channel) or "part"


@FEED.fact("word", "What it leads to.", how="derived", words=KINDS[1:])
def to_kind(row: Row[Feed]) -> str:
    return feed_kind(row.context, row.item.bus) or "group"


@FEED.fact("switch", "The bus it leads to is a stem by its name.")
def into_stem(row: Row[Feed]) -> bool:
    return is_stem(row.item.bus.name, row.context.house.vocabulary)


@FEED.fact("list", "The families that the bus serves.", how="derived", words=FAMILIES)
def serves(row: Row[Feed]) -> tuple[str, ...]:
    return tuple(sorted(row.item.purpose.families))


@FEED.fact("list", "The families whose sound comes.", how="derived", words=FAMILIES)
def carries(row: Row[Feed]) -> tuple[str, ...] | Unknown:
    brought = carried(row.context, row.item.channel)
    return tuple(sorted(brought)) if brought is not None else _untold(row)


def _untold(row: Row[Feed]) -> Unknown:
    who = row.context.name(row.item.channel.id)
    return Unknown(unknown=f"which parts {who} carries cannot be told", settle="name its role in the house's table")


@FEED.fact("switch", "Something of what comes belongs to a family that the bus serves, or commonly goes with it.",
           how="derived")  # fmt: skip
def fits(row: Row[Feed]) -> bool | FactValue | Unknown:
    strange = strange_to(row.context, row.item.channel, row.item.bus, row.item.purpose.families)
    return _untold(row) if strange is None else not strange


@FEED.fact("text", "Where another part of its name or family is sent that is not sent here, or none.", how="derived")
def alike_elsewhere(row: Row[Feed]) -> str:
    """The return, by its name, that a like part of the song is sent to and this one is not."""
    context, item = row.context, row.item
    family, words = context.family(item.channel.id), context.house.vocabulary
    own = context.routing.wiring.sent_to(item.channel.id)
    for other in context.session.channels:
        if other.id == item.channel.id or family is None or context.family(other.id) != family:
            continue
        sent = context.routing.wiring.sent_to(other.id)
        alike = stem_of(other.name, words) == stem_of(item.channel.name, words)
        if alike and sent and item.bus.id not in sent and not sent & own:
            return context.name(min(sent, key=context.order.__getitem__))
    return "none"


@FEED.fact("number", "How many channels of the bus's own families come to it; behind a group each part counts.",
           how="derived")  # fmt: skip
def own_count(row: Row[Feed]) -> int:
    return row.item.purpose.own
