"""Returns that serve one part by their names: ``Gtr L Verb`` is there for ``Gtr L``, microphone and direct signal."""

from __future__ import annotations

from typing import NamedTuple

from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_return, is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.naming import drums_named, families_named, name_without_side, owner_words, side_of
from mixlint.session import Channel

GUITARS = frozenset({"acoustic-guitar", "electric-guitar"})
"""Roles of parts that a return named for a guitar may serve: ``Gtr L Verb`` for ``Acoustic Gtr L``."""


@per_session
def owners(context: SessionContext) -> dict[str, frozenset[str]]:
    """Id of a return → ids of the parts that it is named for; returns that are named for nobody are left out.

    A part owns a return whose name, without the words for effects, stands whole in its own; a return that many parts
    would own is one for a section, and nobody's.
    """
    parts = [(c.id, _said_of_part(context, c)) for c in context.session.channels if is_source(context, c)]
    found: dict[str, frozenset[str]] = {}
    for channel in context.session.channels:
        if not is_return(context, channel):
            continue
        called = _said(context, channel)
        own = frozenset(one for one, said in parts if called - SIDES and called <= said)
        if own and len(own) <= MOST_OWNERS:
            found[channel.id] = own
    return found


SIDES = frozenset({"left", "right"})
"""A return that is named for a side alone may lie there, and answer the part on the other side."""


def _said(context: SessionContext, channel: Channel, *, of_return: bool = True) -> frozenset[str]:
    """What a name says of its part, with the side as one word however it is written."""
    words = context.house.vocabulary
    side = side_of(channel.name, words)
    name = name_without_side(channel.name, words).replace("*", " ") if side else channel.name
    return owner_words(name, words, of_return=of_return) | ({side} if side else frozenset())


def _said_of_part(context: SessionContext, channel: Channel) -> frozenset[str]:
    """What the name of a part says, and that a guitar of a kind is a guitar."""
    said = _said(context, channel, of_return=False)
    return said | {"guitar"} if context.role(channel.id) in GUITARS else said


MOST_OWNERS = 2
"""A part has a microphone and a direct signal; a return that more parts could own is for all of them: a definition."""


@per_session
def wrongly_sent(context: SessionContext, channel: Channel, to: Channel) -> Channel | None:
    """The return of its own that a part is not sent to, where it is sent to one that is named for another part."""
    named = owners(context)
    if to.id not in named or channel.id in named[to.id]:
        return None
    sent = context.routing.wiring.sent_to(channel.id)
    for own, by in named.items():
        if channel.id in by and own not in sent:
            return context.channels[own]
    return None


class Missed(NamedTuple):
    """Whom a return is named for that is not sent to it.

    Args:
        named: the drum or the family that its name speaks of.
        parts: the parts of it that sound, in desk order.
        of_drum: it is a drum.
        unread: a part that is sent there tells no family, and may be what it is named for.
    """

    named: str
    parts: tuple[Channel, ...]
    of_drum: bool
    unread: bool


@per_session
def _misses(context: SessionContext, to: Channel) -> Missed | None:
    """Whom a return is named for, where parts of it sound and none of them is sent there."""
    words = context.house.vocabulary
    drums, families = drums_named(to.name, words), families_named(to.name, words)
    if not is_return(context, to) or len(drums or families) != 1:
        return None
    (named,) = drums or families
    kind_of = context.role if drums else context.family
    wiring = context.routing.wiring
    behind = wiring.upstream([to.id], wiring.audible)
    parts = [c for c in context.session.channels if is_source(context, c) and is_audible(context, c)]
    own = tuple(part for part in parts if kind_of(part.id) == named)
    if not own or any(part.id in behind for part in own):
        return None
    return Missed(named, own, bool(drums), any(context.family(part.id) is None for part in parts if part.id in behind))


@per_session
def missed_by_return(context: SessionContext, channel: Channel, to: Channel) -> Missed | None:
    """Whom a return is named for, where a part is sent to it that is none of these, and none of these is.

    A snare hall is fed by a snare, and a vocal plate by a voice, whatever else is sent there.
    """
    missed = _misses(context, to) if is_source(context, channel) else None
    if missed is None:
        return None
    if missed.of_drum:
        stranger = context.role(channel.id) not in (None, "drums", missed.named)
    else:
        stranger = context.family(channel.id) not in (None, missed.named) and not missed.unread
    return missed if stranger else None
