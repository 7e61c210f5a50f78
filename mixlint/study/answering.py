"""Parts that may be the answer to another one, for all the export tells: a hidden pan, or a name that tells nothing."""

from __future__ import annotations

from mixlint.session import Channel, is_known
from mixlint.study.counterparts import UNLIKE, closeness, likeness, panned_parts
from mixlint.study.desk import Desk
from mixlint.study.parts import is_audible, is_source


def hidden_like(desk: Desk, channel: Channel) -> Channel | None:
    """A like part whose pan the export does not show, and which may so be the answer to ``channel``."""

    def make() -> list[Channel]:
        return [c for c in desk.session.channels if is_source(desk, c) and is_audible(desk, c) and not is_known(c.pan)]

    unseen = desk.remembered("parts of unknown pan", make)
    return next((c for c in unseen if c.id != channel.id and likeness(desk, channel, c) > 0.0), None)


def unread_opposite(desk: Desk, channel: Channel) -> Channel | None:
    """A part on the other side that would answer ``channel`` if its name told that it is a like part."""

    def make() -> list[Channel]:
        return [c for c in panned_parts(desk) if desk.role(c.id) is None]

    unread = desk.remembered("panned parts whose names tell nothing", make)
    fits = (c for c in unread if c.id != channel.id and closeness(desk, channel, c).lacks == (UNLIKE,))
    return next(fits, None)
