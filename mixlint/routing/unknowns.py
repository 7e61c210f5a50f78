"""What is not known on a channel's paths to the mix bus, so that its gain or its ambience stays open."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Protocol

from mixlint.routing.wiring import Edge, Wiring
from mixlint.session import FADER, MUTE, PAN, Channel, Send, Session, Unknown, control_of, controls_of_send


class AudibleGraph(Protocol):
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


def unknown_gains(routing: AudibleGraph) -> Reasons:
    """Channel id → what is not known on its paths to the mix bus, so that its gain cannot be told."""

    sounding = routing.wiring.reaching - routing.wiring.muted

    def own(channel: Channel) -> Iterator[str]:
        for target in (FADER, PAN, MUTE):
            why = control_of(channel, target).unknown
            if why is not None:
                yield f"the {target} of {called(channel)}: {why.unknown}"
        if (
            isinstance(channel.output, Unknown) and channel.id != routing.wiring.mix_bus
        ):  # what lies behind is no matter
            yield f"the output of {called(channel)}: {channel.output.unknown}"
        for edge in routing.wiring.leaving.get(channel.id, ()):
            if edge.send is not None and edge.to in sounding:
                yield from _of_send(routing, channel, edge, channel.sends[edge.send])

    return _gathered(routing, own)


def lost_sends(routing: AudibleGraph) -> Reasons:
    """Channel id → sends on its paths of which the export does not say where they lead: they may lead to an effect."""

    def own(channel: Channel) -> Iterator[str]:
        for number, send in enumerate(channel.sends):
            if isinstance(send.to, Unknown) and controls_of_send(channel, number).can_be_open is not False:
                yield f"where a send of {called(channel)} leads: {send.to.unknown}"

    if not any(isinstance(send.to, Unknown) for channel in routing.session.channels for send in channel.sends):
        return {}
    return _gathered(routing, own)


def _of_send(routing: AudibleGraph, channel: Channel, edge: Edge, send: Send) -> Iterator[str]:
    """What is not known of an open send; into a mono strip its pan does not matter."""
    name = f"the send from {called(channel)} to {called(routing.wiring.by_id[edge.to])}"
    asked = [("", edge.level_db), ("the switch of ", edge.on), ("the tap of ", send.tap)]
    if routing.legs[edge.to] == 2:
        asked.insert(2, ("the pan of ", edge.pan))
    for what, value in asked:
        if isinstance(value, Unknown):
            yield f"{what}{name}: {value.unknown}"


def _gathered(routing: AudibleGraph, own: Callable[[Channel], Iterator[str]]) -> Reasons:
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
