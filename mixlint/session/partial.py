"""Channels of which not everything is shown: asked for what is not, they say why instead of answering "none".

Whoever judges a channel reads its lists as they stand (``channel.inserts``). Where the export does not show them this
raises, and the fact that asked is unknown for that reason, without a hand in between. Whoever only takes what there is
(names, routing, the sheet) says so with :func:`seen_inserts` and :func:`seen_clips`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar, TypeVar

from mixlint.session.maybe import NotKnown, Unknown
from mixlint.session.model import Channel, Clip, Session
from mixlint.session.processor import Insert

T = TypeVar("T")


class NotShown(NotKnown):
    """The export does not show a list of a channel. It travels through kept work up to the fact that asked."""


class PartialChannel(Channel):
    """A channel that does not answer for a list in ``missing``."""

    withheld: ClassVar[frozenset[str]] = frozenset({"inserts", "clips"})

    def __getattribute__(self, name: str) -> Any:
        if name in type(self).withheld and (why := super().__getattribute__("missing").get(name)) is not None:
            raise NotShown(why)
        return super().__getattribute__(name)


class WithoutClips(PartialChannel):
    """The same in an export without a single clip: none can be set against another, so that nothing is said of any."""

    withheld: ClassVar[frozenset[str]] = frozenset({"inserts"})


def guarded(session: Session) -> Session:
    """The session with a :class:`PartialChannel` for each channel of which a list is missing; itself without any."""
    if not any(channel.missing for channel in session.channels):
        return session
    kind = PartialChannel if any(seen_clips(channel) for channel in session.channels) else WithoutClips
    channels = tuple(
        kind.model_construct(_fields_set=set(c.model_fields_set), **c.__dict__) if c.missing else c
        for c in session.channels
    )
    return session.model_copy(update={"channels": channels})


def seen_inserts(channel: Channel) -> tuple[Insert, ...]:
    """The inserts of a channel as far as the export shows them; none where it shows none."""
    found: tuple[Insert, ...] = channel.__dict__["inserts"]
    return found


def seen_clips(channel: Channel) -> tuple[Clip, ...]:
    """The clips of a channel as far as the export shows them; none where it shows none."""
    found: tuple[Clip, ...] = channel.__dict__["clips"]
    return found


def as_shown(work: Callable[[], T]) -> T | Unknown:
    """What some work comes to; why it is not known where it asks for what the export does not show.

    For whoever shows what there is, and is no fact: a fact lets it travel on.
    """
    try:
        return work()
    except NotKnown as missing:
        return missing.unknown
