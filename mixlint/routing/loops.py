"""Feedback: the loops among audible edges, and the acyclic rest once each loop is cut at its weakest edge."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import partial
from graphlib import CycleError, TopologicalSorter
from itertools import pairwise
from typing import NamedTuple

from mixlint.routing.growing_parts import Joined, joining_times
from mixlint.routing.strips import fader_db
from mixlint.routing.wiring import Edge, Wiring
from mixlint.session import is_known


class Loop(NamedTuple):
    """Channels that feed each other in a ring.

    Args:
        channels: ids in the order the signal runs; the first one stands first in desk order.
        edges: one edge per step, the strongest where two channels share several.
        cut: the weakest of them, left out when gains are computed.
        gain_db: the sum of the edges' levels and the faders passed: how much one turn round adds or takes.
    """

    channels: tuple[str, ...]
    edges: tuple[Edge, ...]
    cut: Edge
    gain_db: float


def level_of(edge: Edge) -> float:
    """The level of an edge in dB; a level that is not known counts as unity."""
    return edge.level_db if is_known(edge.level_db) else 0.0


def find_loops(wiring: Wiring) -> tuple[tuple[Loop, ...], frozenset[int], tuple[str, ...]]:
    """All loops needed to make the audible graph acyclic, and the numbers of the edges cut.

    One loop is named per cut: the one that the cut edge closes with the fewest steps. Cut is, again and again, the
    weakest of the edges that lie in a loop: that is each which closes one of edges that are all stronger.

    Returns:
        The loops in desk order, the numbers of the edges that are left out, and the channel ids in the order in
        which the signal then runs.
    """
    audible = [edge for edge in wiring.edges if wiring.audible(edge)]
    try:
        return (), frozenset(), _order(wiring, audible)
    except CycleError:
        pass
    strongest_first = sorted(audible, key=lambda e: (level_of(e), wiring.order[e.source], e.number), reverse=True)
    ends = [(wiring.order[edge.source], wiring.order[edge.to]) for edge in strongest_first]
    joined: dict[int, list[int]] = {}
    for number, time in joining_times(len(wiring.order), ends).items():
        joined.setdefault(time, []).append(number)
    parts, arcs = Joined(len(wiring.order)), _Arcs(audible)
    loops: list[Loop] = []
    for time, edge in enumerate(strongest_first):
        arcs.open(edge)
        for number in joined.get(time, ()):
            parts.join(*ends[number])
        part = parts.of(ends[time][0])
        if part == parts.of(ends[time][1]):
            back = arcs.shortest(edge.to, edge.source, partial(_lies_in, wiring, parts, part))
            loops.append(_loop(wiring, edge, back))
    cut = frozenset(loop.cut.number for loop in loops)
    loops.sort(key=lambda loop: [wiring.order[c] for c in loop.channels])
    return tuple(loops), cut, _order(wiring, [edge for edge in audible if edge.number not in cut])


def _lies_in(wiring: Wiring, parts: Joined, part: int, channel_id: str) -> bool:
    return parts.of(wiring.order[channel_id]) == part


def _order(wiring: Wiring, edges: list[Edge]) -> tuple[str, ...]:
    """Channel ids so that each stands before everything it feeds.

    Raises:
        CycleError: the edges run in a ring.
    """
    sorter: TopologicalSorter[str] = TopologicalSorter({c.id: () for c in wiring.session.channels})
    for edge in edges:
        sorter.add(edge.to, edge.source)
    return tuple(sorter.static_order())


def _loop(wiring: Wiring, weakest: Edge, back: list[str]) -> Loop:
    """The loop closed by ``weakest``: it leads to ``back[0]``, and ``back`` leads on to its source."""
    edges = [weakest]
    for here, there in pairwise(back):
        between = [e for e in wiring.leaving[here] if e.to == there and wiring.audible(e)]
        edges.append(max(between, key=level_of))
    first = min(range(len(edges)), key=lambda k: wiring.order[edges[k].source])
    turned = edges[first:] + edges[:first]
    gain = sum(level_of(e) for e in turned)
    for edge in turned:
        fader = fader_db(wiring.by_id[edge.source])
        if edge.tap == "post" and is_known(fader):
            gain += fader
    return Loop(tuple(e.source for e in turned), tuple(turned), weakest, gain)


class _Arcs:
    """The arcs between channels, opened one by one; each in the order of the edges, whenever it is opened.

    Args:
        edges: the edges that there will be; several between two channels are one arc.
    """

    def __init__(self, edges: Iterable[Edge]) -> None:
        self._opened: set[tuple[str, str]] = set()
        self._to: dict[str, dict[str, None]] = {}
        self._from: dict[str, dict[str, None]] = {}
        for edge in edges:
            self._to.setdefault(edge.source, {})[edge.to] = None
            self._from.setdefault(edge.to, {})[edge.source] = None

    def open(self, edge: Edge) -> None:
        """Let the search pass an edge."""
        self._opened.add((edge.source, edge.to))

    def shortest(self, start: str, end: str, within: Callable[[str], bool]) -> list[str]:
        """The ids on a shortest way between two channels that lie in one loop, both ends among them.

        It is searched from both ends, from where there is less to look at, so that of a large part little is seen.

        Args:
            start: where it begins.
            end: where it leads.
            within: whether a channel may lie on it.
        """
        reached: dict[str, str | None] = {start: None}
        leading: dict[str, str | None] = {end: None}
        ahead, behind = [start], [end]
        while start != end:
            forward = len(ahead) <= len(behind)
            here, found, other = (ahead, reached, leading) if forward else (behind, leading, reached)
            edge_of, fringe = (self._to if forward else self._from), []
            for one in here:
                for there in edge_of.get(one, ()):
                    if ((one, there) if forward else (there, one)) not in self._opened or not within(there):
                        continue
                    if there not in found:
                        found[there] = one
                        fringe.append(there)
                    if there in other:
                        return [*reversed(_followed(reached, there)), *_followed(leading, there)[1:]]
            if forward:
                ahead = fringe
            else:
                behind = fringe
        return [start]


def _followed(before: Mapping[str, str | None], one: str | None) -> list[str]:
    found = []
    while one is not None:
        found.append(one)
        one = before[one]
    return found
