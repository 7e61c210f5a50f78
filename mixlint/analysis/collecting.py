"""Groups that collect groups: which group goes past the one that all others of its like go through.

A bus for all voices, or for the whole band, has nothing but groups on it. Common practice, no source.
"""

from __future__ import annotations

from mixlint.analysis.channel_purpose import is_parallel, is_return, is_source, is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.naming import families_named, stem_of
from mixlint.session import Channel

_SUNG = frozenset({"vocals", "speech"})
_KEPT_APART = frozenset({"drums", "percussion", "bass", "strings", "winds", "sound-effects", "backing-tracks"})
"""Families whose group often stands beside that of the band."""


@per_session
def passed_collector(context: SessionContext, group: Channel) -> tuple[Channel, tuple[Channel, ...]] | None:
    """The group that collects all other groups like one that goes past it, and these; None where there is none.

    It collects nothing but groups, and goes where the other one goes. Where its name tells a family, that of the group
    is the same; else all other groups that carry no voices go through it, two at least, and of what is called a mix bus
    all but the one. Of two groups of one name and family both belong where one goes.
    """
    if not _is_group(context, group) or not isinstance(group.output, str):
        return None
    groups = [one for one in context.session.channels if _is_group(context, one)]
    own = _carried(context, group)
    for collector in groups:
        if collector.id == group.id or collector.output != group.output:
            continue
        fed = _fed(context, collector)
        inside = tuple(one for one in fed if _is_group(context, one))
        words = context.house.vocabulary
        stem = stem_of(group.name, words)
        if any(stem and stem_of(one.name, words) == stem and _carried(context, one) == own for one in inside):
            return collector, inside
        if not inside or any(is_source(context, one) for one in fed):
            continue
        if context.role(collector.id) == "mix-bus" and len(inside) > 1 and _only_one(context, group, collector):
            return collector, inside
        named = families_named(collector.name, words)
        if len(named) == 1:
            if own == named and all(_carried(context, one) == named for one in inside):
                return collector, inside
        elif not named and len(inside) > 1 and own and not own & _SUNG and _all_but(context, group, collector, groups):
            theirs = frozenset[str]().union(*(_carried(context, one) for one in inside))
            if own <= theirs or not own & _KEPT_APART or _is_solo(context, group):
                return collector, inside
    return None


def _only_one(context: SessionContext, group: Channel, collector: Channel) -> bool:
    """True where nothing but one group goes past a collecting group to where it goes."""
    beside = {one.id for one in _fed(context, group_output(context, collector)) if not is_utility(context, one)}
    return beside == {group.id, collector.id}


def _all_but(context: SessionContext, group: Channel, collector: Channel, groups: list[Channel]) -> bool:
    """True where nothing but voices, returns and one group go past a collecting group to where it goes."""
    beside = [one for one in _fed(context, group_output(context, collector)) if one.id not in (group.id, collector.id)]
    return all(
        is_return(context, one) or is_parallel(context, one) or _carried(context, one) <= _SUNG for one in beside
    ) and any(one.output == collector.id for one in groups)


def group_output(context: SessionContext, channel: Channel) -> Channel:
    """The channel that a channel goes out to."""
    return context.channels[str(channel.output)]


def _is_group(context: SessionContext, channel: Channel) -> bool:
    return channel.kind == "group" and not is_parallel(context, channel) and bool(_parts(context, channel))


def _is_solo(context: SessionContext, group: Channel) -> bool:
    """True for the group of one instrument: it is one of a band, and no section beside it."""
    return len(_parts(context, group)) < SECTION


SECTION = 3
"""So many parts are a section: a definition."""


def _fed(context: SessionContext, channel: Channel) -> list[Channel]:
    """The channels that go out to a channel."""
    arriving = context.routing.wiring.arriving.get(channel.id, ())
    return [context.channels[edge.source] for edge in arriving if edge.kind == "output"]


@per_session
def _parts(context: SessionContext, channel: Channel) -> tuple[Channel, ...]:
    """The parts that come to a channel by outputs; itself where it is one."""
    found = context.routing.wiring.upstream([channel.id], lambda edge: edge.kind == "output")
    return tuple(context.channels[one] for one in found if is_source(context, context.channels[one]))


def _carried(context: SessionContext, channel: Channel) -> frozenset[str]:
    """The families of the parts that come to a channel; empty where one of them is not told."""
    families = {context.family(part.id) for part in _parts(context, channel)}
    return frozenset() if None in families else frozenset(family for family in families if family)
