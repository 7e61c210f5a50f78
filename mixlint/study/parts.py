"""Which channels are parts of the song: what holds content, what sounds, what is an effect return."""

from __future__ import annotations

from collections.abc import Callable, Collection

from mixlint.routing import TIME_EFFECTS
from mixlint.routing.wiring import lane_on
from mixlint.session import Channel, Unknown, is_known
from mixlint.study.activity import has_arrangement, sounding_clips
from mixlint.study.curves import never_open
from mixlint.study.desk import Desk
from mixlint.study.gaps import open_by_gap

ASIDE = frozenset({"cue", "click", "guide", "reference", "utility"})
"""Roles that serve the session and are not part of the song."""


def feeds_content(desk: Desk, channel_id: str) -> bool:
    """True when the channel plays something itself, or is fed by a channel that does (mutes aside)."""

    def make() -> frozenset[str]:
        wiring = desk.routing.wiring
        found = {c.id for c in desk.session.channels if holds_clips(desk, c)}
        todo = list(found)
        while todo:
            for edge in wiring.leaving.get(todo.pop(), ()):
                if edge.to not in found:
                    found.add(edge.to)
                    todo.append(edge.to)
        return frozenset(found)

    return channel_id in desk.remembered("channels with content", make)


def holds_clips(desk: Desk, channel: Channel) -> bool:
    """True when clips sound on the channel itself.

    Without any arrangement in the export, a track that nothing feeds counts as playing.
    """
    if sounding_clips(channel):
        return True
    return (
        not has_arrangement(desk)
        and channel.kind == "track"
        and not desk.routing.wiring.arriving.get(channel.id)
        and channel.loaded is not False
    )


def is_cue(desk: Desk, channel: Channel) -> bool:
    """True for a cue or headphone mix: named as one, or laid down as one by the house."""
    return _among(desk, channel, "cue mixes", _is_cue)


def _is_cue(desk: Desk, channel: Channel) -> bool:
    from fnmatch import fnmatchcase

    if any(fnmatchcase(channel.name.casefold(), pattern.casefold()) for pattern in desk.house.cue):
        return True
    return desk.role(channel.id) == "cue"


def is_aside(desk: Desk, channel: Channel) -> bool:
    """True when the channel is not part of the song: a cue mix, click, guide, reference or utility channel."""
    return _among(desk, channel, "aside", lambda at, c: is_cue(at, c) or at.role(c.id) in ASIDE)


def is_source(desk: Desk, channel: Channel) -> bool:
    """True for a channel that plays a part itself: content, no bus, no return, not aside."""
    return _among(
        desk, channel, "sources", lambda at, c: c.kind == "track" and holds_clips(at, c) and not is_aside(at, c)
    )


def _among(desk: Desk, channel: Channel, name: str, test: Callable[[Desk, Channel], bool]) -> bool:
    """Whether the channel passes ``test``, which is put to every channel once."""
    found = desk.remembered(name, lambda: frozenset(c.id for c in desk.session.channels if test(desk, c)))
    return channel.id in found


def is_audible(desk: Desk, channel: Channel) -> bool:
    """True when the channel is not muted, nor anything it has to pass to the mix bus."""

    def make() -> frozenset[str]:
        wiring = desk.routing.wiring
        if not isinstance(wiring.mix_bus, str):
            return frozenset()
        silent = {c.id for c in desk.session.channels if never_open(desk, c)}
        return _upstream(desk, wiring.mix_bus, silent)

    return channel.id in desk.remembered("audible channels", make)


def _upstream(desk: Desk, mix_bus: str, silent: Collection[str]) -> frozenset[str]:
    """The channels with a wired way to the mix bus on which none is ``silent``, the mix bus among them."""
    found = {mix_bus}.difference(silent)
    todo = list(found)
    while todo:
        for edge in desk.routing.wiring.arriving.get(todo.pop(), ()):
            if edge.source not in found and edge.source not in silent:
                found.add(edge.source)
                todo.append(edge.source)
    return frozenset(found)


def sounds(desk: Desk, channel: Channel) -> bool | Unknown:
    """Whether the channel is audible, or why that cannot be told: a mute, an output or the mix bus is not known."""
    wiring = desk.routing.wiring
    if channel.id in wiring.muted:
        return False
    if isinstance(wiring.mix_bus, Unknown):
        return wiring.mix_bus
    if not is_audible(desk, channel):
        return False if never_open(desk, channel) else untold_way(desk, channel) or False
    unsure = desk.remembered(
        "channels of unknown mute",
        lambda: {c.id for c in desk.session.channels if not is_known(c.mute) and lane_on(c, "mute") is None},
    )
    return (_unsure_mute(desk, channel, wiring.mix_bus, unsure) if unsure else None) or True


def _unsure_mute(desk: Desk, channel: Channel, mix_bus: str, unsure: set[str]) -> Unknown | None:
    """The mute of unknown state that a channel has to pass on each of its ways, or None where it gets past."""
    silent = {c.id for c in desk.session.channels if never_open(desk, c)}
    if channel.id in desk.remembered("surely audible", lambda: _upstream(desk, mix_bus, silent | unsure)):
        return None
    todo, seen = [channel.id], {channel.id}
    for here in todo:
        mute = desk.channels[here].mute
        if here in unsure and isinstance(mute, Unknown):
            who = desk.name(here)
            return Unknown(unknown=f"the mute of {who}: {mute.unknown}", settle=f"look whether {who} is muted")
        for edge in desk.routing.wiring.leaving.get(here, ()):
            if edge.to not in seen and edge.to not in silent:
                seen.add(edge.to)
                todo.append(edge.to)
    return None


def untold_way(desk: Desk, channel: Channel) -> Unknown | None:
    """Why it cannot be told whether a channel that is not muted sounds: its way is not in the export."""
    wiring = desk.routing.wiring
    if channel.id in wiring.muted:
        return None
    gap = open_by_gap(desk, "outputs", "groups")
    if gap is not None:
        return gap
    todo, seen = [channel], {channel.id}
    while todo:
        here = todo.pop()
        if isinstance(here.output, Unknown):
            return Unknown(
                unknown=f"the output of {desk.name(here.id)}: {here.output.unknown}", settle="look at its output"
            )
        for edge in wiring.leaving.get(here.id, ()):
            if edge.to not in seen and edge.to not in wiring.muted:
                seen.add(edge.to)
                todo.append(desk.channels[edge.to])
    return None


def is_return(desk: Desk, channel: Channel) -> bool:
    """True for an effect return: declared as one, or fed by a send and holding a reverb or delay; no cue mix is one."""
    return _among(desk, channel, "returns", _is_return)


def _is_return(desk: Desk, channel: Channel) -> bool:
    if channel.kind in ("master", "vca") or is_aside(desk, channel):
        return False
    if channel.kind == "return":
        return True
    sent = any(edge.kind == "send" for edge in desk.routing.wiring.arriving.get(channel.id, ()))
    return sent and any(word in TIME_EFFECTS for word in desk.kinds[channel.id].values())
