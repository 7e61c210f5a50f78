"""Parts that may be the answer to another one, for all the export tells: a hidden pan, or a name that tells nothing."""

from __future__ import annotations

from mixlint.analysis.audibility import is_audible, is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.counterparts import UNLIKE, closeness, likeness, panned_parts
from mixlint.session import Channel, is_known


def hidden_like(context: SessionContext, channel: Channel) -> Channel | None:
    """A like part whose pan the export does not show, and which may so be the answer to ``channel``."""

    unseen = _of_unknown_pan(context)
    return next((c for c in unseen if c.id != channel.id and likeness(context, channel, c) > 0.0), None)


def unread_opposite(context: SessionContext, channel: Channel) -> Channel | None:
    """A part on the other side that would answer ``channel`` if its name told that it is a like part."""

    unread = _of_unread_name(context)
    fits = (c for c in unread if c.id != channel.id and closeness(context, channel, c).lacks == (UNLIKE,))
    return next(fits, None)


@per_session
def _of_unknown_pan(context: SessionContext) -> list[Channel]:
    """Audible parts whose pan the export does not show."""
    return [
        c for c in context.session.channels if is_source(context, c) and is_audible(context, c) and not is_known(c.pan)
    ]


@per_session
def _of_unread_name(context: SessionContext) -> list[Channel]:
    """Panned parts whose names tell nothing."""
    return [c for c in panned_parts(context) if context.role(c.id) is None]
