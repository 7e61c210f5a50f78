"""Sends of parts that were made as copies of each other: the return that all copies but one are sent to.

Copies go out to one channel, hold the same processors in one order, and are sent alike: to the same returns, at levels
that hardly differ. Where one of them lacks one of these sends, or has it to another channel, it was lost or put on a
wrong line. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Hashable
from typing import NamedTuple

from mixlint.analysis.ambience import effect_of
from mixlint.analysis.channel_purpose import is_return, is_source, is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.copied_chains import named_chain
from mixlint.analysis.copies import Kin, copies_of
from mixlint.analysis.peers import DOWN_DB, Shared, leads, plays_low
from mixlint.naming import name_without_side, stem_of
from mixlint.session import Channel, Target, control_of, controls_of_send, is_known

SAME_DB = 1.1
"""Levels of copies lie within this: they were set once, or trimmed by a decibel. A definition."""


class StillSends(NamedTuple):
    """What a part is sent to.

    Args:
        levels: id of what an open send that nothing moves leads to → its level, dB.
        led: ids of all that its sends lead to, but for those that stand fully down for good.
    """

    levels: dict[str, float]
    led: frozenset[str]


def _still(part: Channel) -> StillSends | None:
    """What a part is sent to; None where the export does not tell."""
    levels: dict[str, float] = {}
    led: set[str] = set()
    for number, send in enumerate(part.sends):
        level, on = (control_of(part, Target.send(number, what)) for what in ("level", "on"))
        if not isinstance(send.to, str) or not is_known(level.now) or not is_known(on.now):
            return None
        moved = level.moves or on.moves
        if moved or level.now > DOWN_DB:
            led.add(send.to)
        if not moved and level.now > DOWN_DB and controls_of_send(part, number).can_be_open is True:
            levels[send.to] = level.now
    return StillSends(levels, frozenset(led))


@per_session
def return_of_copies(context: SessionContext, channel: Channel) -> Shared | None:
    """The return that all copies of a part are sent to, and it is not; None where it has no copies, or is as they are.

    One copy is enough where the names differ in nothing but side or number, else several have to agree.
    """
    own = _still(channel)
    if own is None or not is_source(context, channel):
        return None
    of_family = context.family(channel.id) in ("vocals", "winds", "strings")
    for twins, others, many in copies_of(context, channel, ("word", "part", *(("family",) if of_family else ()))):
        by_habit = twins is None and (plays_low(context, channel) or context.family(channel.id) == "drums")
        several = many and not by_habit and not leads(context, channel)
        for kin in (twins, others if several else None):
            if kin is not None and _lacks_alone(channel, own, kin):
                found = _missed(context, own, kin.without(channel))
                if found is not None:
                    return Shared(found, tuple(context.name(part.id) for part in kin.without(channel)))
    return None


def _lacks_alone(channel: Channel, own: StillSends, kin: Kin) -> bool:
    """True where all others of a kin have a part's processors and are sent alike, and it lacks one of the sends."""
    if not channel.inserts or kin.agreed_without(channel, _stored_chain) != _stored_chain(channel):
        return False
    led = kin.agreed_without(channel, _sent_to)
    return isinstance(led, frozenset) and not led <= own.led


def _stored_chain(part: Channel) -> Hashable:
    return tuple(named_chain(part.inserts))


def _sent_to(part: Channel) -> Hashable:
    """Where the sends of a part lead that nothing moves."""
    still = _still(part)
    return "not told" if still is None else frozenset(still.levels)


def _missed(context: SessionContext, own: StillSends, kin: list[Channel]) -> Channel | None:
    """The one return that all of several copies are sent to alike, and one part is not, where all else agrees."""
    theirs = [_still(part) for part in kin]
    first = theirs[0]
    if first is None or any(one is None or not _alike(one.levels, first.levels) for one in theirs):
        return None
    returns = {to: level for to, level in first.levels.items() if _is_return(context, to)}
    missing = [to for to in returns if to not in own.led]
    if len(missing) != 1:
        return None
    (to,) = missing
    left = {one: level for one, level in returns.items() if one != to}
    extra = [one for one in own.levels if one not in first.levels and one not in _utilities(context)]
    others_led = frozenset[str]().union(*(one.led for one in theirs if one is not None))
    if any(one not in own.levels or abs(own.levels[one] - level) > SAME_DB for one, level in left.items()):
        return None
    if not extra:
        return context.channels[to]
    if len(extra) > 1 or extra[0] in others_led or abs(own.levels[extra[0]] - returns[to]) > SAME_DB:
        return None
    return context.channels[to] if _wrong_line(context, extra[0], to, kin) else None


def _wrong_line(context: SessionContext, taken: str, meant: str, kin: list[Channel]) -> bool:
    """True where a send to one channel was meant for another: a group, or a return that is none of a pair of rooms.

    A part may have a room or an echo of its own where its copy has another: then nobody else is sent to that of the
    copies.
    """
    if not _is_return(context, taken):
        return context.channels[taken].kind in ("group", "track")
    words = context.house.vocabulary
    names = {name_without_side(context.channels[one].name, words) for one in (taken, meant)}
    stems = {stem_of(context.channels[one].name, words) for one in (taken, meant)}
    if len(names) == 1 or len(stems) == 1:
        return False
    if len(kin) > 1:
        return True
    fed = context.routing.wiring.arriving.get(meant, ())
    shared = any(edge.kind == "send" and edge.source != kin[0].id for edge in fed)
    effects = {effect_of(context, context.channels[one]) for one in (taken, meant)}
    return shared and effects != {"delay"}


def _alike(one: dict[str, float], other: dict[str, float]) -> bool:
    return one.keys() == other.keys() and all(abs(one[to] - other[to]) <= SAME_DB for to in one)


def _is_return(context: SessionContext, channel_id: str) -> bool:
    return channel_id in context.channels and is_return(context, context.channels[channel_id])


@per_session
def _utilities(context: SessionContext) -> frozenset[str]:
    """Ids of cue mixes and the like."""
    return frozenset(channel.id for channel in context.session.channels if is_utility(context, channel))
