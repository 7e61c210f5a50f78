"""What several tables share: subjects made of channels."""

from __future__ import annotations

from mixlint.facts.declare import Row, Subject
from mixlint.session import Channel
from mixlint.study.desk import Desk


def channel_subject(desk: Desk, channel: Channel, table: str) -> Subject:
    """The subject of a row that is one channel."""
    return Subject(table, channel.id, desk.name(channel.id), channel.where, desk.order[channel.id], (channel.id,))


def channel_row(desk: Desk, channel: Channel, table: str) -> Row:
    """A row that is one channel."""
    return Row(desk, channel_subject(desk, channel, table), channel)
