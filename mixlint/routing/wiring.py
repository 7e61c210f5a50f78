"""Who feeds whom: the edges of a session, the mix bus, and what keeps an edge from sounding.

An edge is *wired* when it leads to a channel that exists, is switched on and is not turned fully down, as stored or at
some time by automation. It is *audible* when, besides, neither end is muted. Solo is left out on purpose: a solo is a
finding of its own, and the rest of the session is judged as if nothing were soloed. VCA channels carry no audio.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal, NamedTuple

from mixlint.session import MUTE, Channel, Send, SendControls, Session, Unknown, control_of, controls_of_send


@dataclass(frozen=True, slots=True)
class Edge:
    """Audio from one channel to another.

    Args:
        number: position in :attr:`Wiring.edges`.
        source, to: channel ids.
        kind: the channel's main output, or a send.
        tap: ``pre`` is taken after the inserts and before fader and pan; ``post`` is what the channel puts out.
        send: which send of the source, counted from 0; None for the main output.
        level_db, pan, on: what those controls of the send stand at now, or why that is not known; those of an output
            are 0, 0 and 1.
    """

    number: int
    source: str
    to: str
    kind: Literal["output", "send"]
    tap: Literal["pre", "post"]
    send: int | None = None
    level_db: float | Unknown = 0.0
    pan: float | Unknown = 0.0
    on: float | Unknown = 1.0
    where: str = ""


class LooseSend(NamedTuple):
    """A send that leads nowhere or is switched off, and why."""

    source: str
    send: int
    why: Literal["off", "fully down", "no such channel", "unknown target"]


class Reached(Set[str]):
    """Channel ids that a search along the edges found: a set that keeps the order, the nearest first."""

    def __init__(self, ids: Iterable[str] = ()) -> None:
        self._ids = dict.fromkeys(ids)

    def __contains__(self, channel_id: object) -> bool:
        return channel_id in self._ids

    def __iter__(self) -> Iterator[str]:
        return iter(self._ids)

    def __len__(self) -> int:
        return len(self._ids)


@dataclass
class Wiring:
    """The edges of one session.

    Args:
        session: the session.
        mix_bus: id of the channel that is the mix bus, or why there is none.
        edges: wired edges, in desk order.
        loose: sends that are no edge.
    """

    session: Session
    mix_bus: str | Unknown
    edges: tuple[Edge, ...]
    loose: tuple[LooseSend, ...]
    by_id: dict[str, Channel] = field(default_factory=dict)

    @cached_property
    def order(self) -> dict[str, int]:
        """Desk order: channel id to position."""
        return {channel.id: place for place, channel in enumerate(self.session.channels)}

    @cached_property
    def leaving(self) -> dict[str, list[Edge]]:
        """Wired edges by source id."""
        return _grouped(self.edges, "source")

    @cached_property
    def arriving(self) -> dict[str, list[Edge]]:
        """Wired edges by target id."""
        return _grouped(self.edges, "to")

    @cached_property
    def muted(self) -> frozenset[str]:
        """Channels that nothing opens: muted by automation throughout, or muted and without automation."""
        return frozenset(c.id for c in self.session.channels if control_of(c, MUTE).can_be_off is False)

    def sent_to(self, channel_id: str) -> frozenset[str]:
        """Ids of the channels that the sends of a channel lead to."""
        return frozenset(edge.to for edge in self.leaving.get(channel_id, ()) if edge.kind == "send")

    def audible(self, edge: Edge) -> bool:
        """True when nothing keeps this edge from sounding."""
        return edge.source not in self.muted and edge.to not in self.muted

    @cached_property
    def reaching(self) -> Reached:
        """Channels with a wired path to the mix bus, mutes aside (the mix bus among them)."""
        if isinstance(self.mix_bus, Unknown):
            return Reached()
        return self.upstream([self.mix_bus])

    def upstream(self, start: Iterable[str], through: Callable[[Edge], bool] | None = None) -> Reached:
        """The channels that feed ``start`` by wired edges, ``start`` among them.

        Args:
            start: channel ids.
            through: whether an edge is followed against the signal; all of them without it.

        Returns:
            Channel ids, the nearest first, each once.
        """
        return reached(start, self.arriving, "source", through)

    def downstream(self, start: Iterable[str], through: Callable[[Edge], bool] | None = None) -> Reached:
        """The channels that ``start`` feeds by wired edges, ``start`` among them; as :meth:`upstream`."""
        return reached(start, self.leaving, "to", through)


def reached(
    start: Iterable[str],
    edges: Mapping[str, Sequence[Edge]],
    end: Literal["source", "to"],
    through: Callable[[Edge], bool] | None,
) -> Reached:
    """What a search along edges finds.

    Args:
        start: channel ids.
        edges: channel id → the edges to follow from there.
        end: the end of an edge at which the search goes on.
        through: whether an edge is followed; all of them without it.

    Returns:
        The channels found, ``start`` among them, the nearest first.
    """
    found = dict.fromkeys(start)
    todo = list(found)
    for here in todo:
        for edge in edges.get(here, ()):
            there = edge.source if end == "source" else edge.to
            if there not in found and (through is None or through(edge)):
                found[there] = None
                todo.append(there)
    return Reached(found)


def wire(session: Session) -> Wiring:
    """Find the edges of ``session``."""
    by_id = {channel.id: channel for channel in session.channels}
    edges: list[Edge] = []
    loose: list[LooseSend] = []
    for channel in session.channels:
        if channel.kind == "vca":
            continue
        if isinstance(channel.output, str) and _carries(by_id, channel.output):
            edges.append(Edge(len(edges), channel.id, channel.output, "output", "post", where=channel.where))
        for number, send in enumerate(channel.sends):
            controls = controls_of_send(channel, number)
            why = _why_loose(send, by_id, controls)
            if why is not None:
                loose.append(LooseSend(channel.id, number, why))
                continue
            assert isinstance(send.to, str)
            edges.append(
                Edge(
                    len(edges),
                    channel.id,
                    send.to,
                    "send",
                    "post" if isinstance(send.tap, Unknown) else send.tap,
                    number,
                    controls.level.now,
                    controls.pan.now,
                    controls.on.now,
                    send.where or channel.where,
                )
            )
    return Wiring(session, _mix_bus(session), tuple(edges), tuple(loose), by_id)


def _carries(by_id: dict[str, Channel], target: str) -> bool:
    return target in by_id and by_id[target].kind != "vca"


def _why_loose(
    send: Send, by_id: dict[str, Channel], controls: SendControls
) -> Literal["off", "fully down", "no such channel", "unknown target"] | None:
    if not isinstance(send.to, str):
        return "unknown target"
    if not _carries(by_id, send.to):
        return "no such channel"
    if controls.can_be_open is not False:
        return None
    return "off" if controls.on.can_be_on is False else "fully down"


def _mix_bus(session: Session) -> str | Unknown:
    """The mix bus: the one master; of several, the first that the most channels put out to."""
    masters = [c for c in session.channels if c.kind == "master"]
    if not masters:
        return Unknown(
            unknown="the export shows no mix bus",
            settle="export again with the master channel, or mark it in the file",
        )
    fed = {m.id: 0 for m in masters}
    for channel in session.channels:
        if isinstance(channel.output, str) and channel.output in fed:
            fed[channel.output] += 1
    return max(masters, key=lambda m: fed[m.id]).id


def _grouped(edges: Iterable[Edge], key: Literal["source", "to"]) -> dict[str, list[Edge]]:
    groups: dict[str, list[Edge]] = {}
    for edge in edges:
        groups.setdefault(edge.source if key == "source" else edge.to, []).append(edge)
    return groups
