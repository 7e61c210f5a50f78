"""The channels that processors list as their key inputs, by name or by id."""

from __future__ import annotations

from mixlint.analysis.context import SessionContext, per_session
from mixlint.naming import fold_name
from mixlint.session import Channel


@per_session
def channels_by_key(context: SessionContext) -> dict[str, Channel]:
    """What a key input may be listed as, folded → the channel; an id goes before a name."""
    named = {fold_name(channel.name, separators=True): channel for channel in context.session.channels}
    return named | {fold_name(channel.id, separators=True): channel for channel in context.session.channels}
