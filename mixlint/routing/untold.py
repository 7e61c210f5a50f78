"""What the export does not tell of a channel's ways to the mix bus, so that a gain or an ambience stays open."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Protocol

from mixlint.routing.wiring import Edge, Wiring, lane_on
from mixlint.session import Channel, Send, Session, Unknown, is_known
from mixlint.units import SILENCE_DB


class Ways(Protocol):
    """What is asked of a routing graph here; :class:`mixlint.routing.network.Routing` is one."""

    session: Session
    wiring: Wiring
    legs: dict[str, int]

    @property
    def upstream_order(self) -> tuple[str, ...]:
        """Channel ids, each after everything it feeds."""

    @property
    def leaving(self) -> Mapping[str, tuple[Edge, ...]]:
        """Channel id → the audible edges that leave it."""


Reasons = dict[str, tuple[str, ...]]


def unknown_gains(routing: Ways) -> Reasons:
    """Channel id → what is not known on its ways to the mix bus, so that its gain cannot be told."""

    heard = routing.wiring.reaching - routing.wiring.muted

    def own(channel: Channel) -> Iterator[str]:
        for what, value in (("fader", channel.fader_db), ("pan", channel.pan), ("mute", channel.mute)):
            if isinstance(value, Unknown) and lane_on(channel, what) is None:
                yield f"the {what} of {called(channel)}: {value.unknown}"
        if isinstance(channel.output, Unknown):
            yield f"the output of {called(channel)}: {channel.output.unknown}"
        for number, send in enumerate(channel.sends):
            if isinstance(send.to, str) and send.to in heard:
                yield from _of_send(routing, channel, number, send)

    return _gathered(routing, own)


def lost_sends(routing: Ways) -> Reasons:
    """Channel id → sends on its ways of which the export does not say where they lead: they may lead to an effect."""

    def own(channel: Channel) -> Iterator[str]:
        for number, send in enumerate(channel.sends):
            if isinstance(send.to, Unknown) and not _is_closed(channel, number, send):
                yield f"where a send of {called(channel)} leads: {send.to.unknown}"

    if not any(isinstance(send.to, Unknown) for channel in routing.session.channels for send in channel.sends):
        return {}
    return _gathered(routing, own)


def _of_send(routing: Ways, channel: Channel, number: int, send: Send) -> Iterator[str]:
    """What is not known of an open send; into a mono strip its pan does not matter."""
    told = is_known(send.level_db) and is_known(send.on) and is_known(send.pan) and is_known(send.tap)
    if told or _is_closed(channel, number, send):
        return
    to = routing.wiring.by_id[str(send.to)]
    name = f"the send from {called(channel)} to {called(to)}"
    asked = [("", "level", send.level_db), ("the switch of ", "on", send.on)]
    if routing.legs[to.id] == 2:
        asked.append(("the pan of ", "pan", send.pan))
    for what, target, value in asked:
        if isinstance(value, Unknown) and lane_on(channel, f"send:{number}:{target}") is None:
            yield f"{what}{name}: {value.unknown}"
    if isinstance(send.tap, Unknown):
        yield f"the tap of {name}: {send.tap.unknown}"


def _is_closed(channel: Channel, number: int, send: Send) -> bool:
    """True for a send that is off or fully down, with no automation that could open it."""
    if send.on is False and lane_on(channel, f"send:{number}:on") is None:
        return True
    down = is_known(send.level_db) and send.level_db <= SILENCE_DB
    return down and lane_on(channel, f"send:{number}:level") is None


def _gathered(routing: Ways, own: Callable[[Channel], Iterator[str]]) -> Reasons:
    """The reasons of each channel and of every channel it feeds."""
    found: Reasons = {}
    for channel_id in routing.upstream_order:
        reasons = tuple(own(routing.wiring.by_id[channel_id]))
        onward = {edge.to for edge in routing.leaving.get(channel_id, ()) if found.get(edge.to)}
        if onward:  # in edge order, each reason once
            edges = [edge for edge in routing.leaving[channel_id] if edge.to in onward]
            reasons = tuple(dict.fromkeys([*reasons, *(one for edge in edges for one in found[edge.to])]))
        found[channel_id] = reasons
    return found


def called(channel: Channel) -> str:
    """The channel's name for a reader."""
    return channel.name or "a channel without a name"
