"""Which processors act on a channel, and what each does."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.context import SessionContext
from mixlint.naming import Reading
from mixlint.routing import acts
from mixlint.session import Channel, Insert

FILTERS: Final = frozenset({"equalizer", "filter", "multi-effect"})
"""Processors that may hold a low cut."""


def acting(context: SessionContext, channel: Channel) -> list[tuple[Insert, Reading]]:
    """The channel's inserts that are loaded and switched on now, in signal order, each with what it does."""
    readings = context.processors[channel.id]
    return [(insert, readings[place]) for place, insert in enumerate(channel.inserts) if acts(channel, place)]
