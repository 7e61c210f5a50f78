"""What several tables share: subjects and facts made of channels, words, and what is meant."""

from __future__ import annotations

from typing import Any, Final

from mixlint.analysis.context import SessionContext
from mixlint.facts.declare import FactValue, Row, Subject
from mixlint.session import Channel

UNREAD: Final = "unread"
"""What a word fact says where a name does not tell, for rules that have to go on without it."""

INTENTS: Final = "What the house or the engineer has laid down as meant: mono, single-instrument, hard-panned."


def intents(row: Row[Any]) -> FactValue:
    """The intents in force, so that a rule can stay idle where something is meant."""
    return FactValue(tuple(sorted(row.context.house.intents)), "declared")


def channel_subject(context: SessionContext, channel: Channel, table: str) -> Subject:
    """The subject of a row that is one channel."""
    return Subject(table, channel.id, context.name(channel.id), channel.where, context.order[channel.id], (channel.id,))
