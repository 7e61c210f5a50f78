"""Feedback: the loops among audible edges, and the acyclic rest once each loop is cut at its weakest edge."""

from __future__ import annotations

from graphlib import CycleError, TopologicalSorter
from itertools import pairwise
from typing import NamedTuple

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

    One loop is named per cut: the one that the cut edge closes with the fewest steps. The search takes one
    strongly connected part at a time, so a session without feedback costs one linear pass.

    Returns:
        The loops in desk order, the numbers of the edges that are left out, and the channel ids in the order in
        which the signal then runs.
    """
    audible = [edge for edge in wiring.edges if wiring.audible(edge)]
    try:
        return (), frozenset(), _order(wiring, audible)
    except CycleError:
        pass
    # Only a session with feedback pays for the graph library.
    import networkx as nx

    graph = wiring.graph(audible)
    loops: list[Loop] = []
    cut: set[int] = set()
    todo = [c for c in nx.strongly_connected_components(graph) if len(c) > 1 or graph.has_edge(*(tuple(c) * 2))]
    while todo:
        part = todo.pop()
        inside = graph.subgraph(part)
        weakest = min(
            (edge for source, to in inside.edges for edge in graph.edges[source, to]["edges"]),
            key=lambda e: (level_of(e), wiring.order[e.source], e.number),
        )
        back = nx.shortest_path(inside, weakest.to, weakest.source)
        loops.append(_loop(wiring, weakest, back))
        cut.add(weakest.number)
        held: list[Edge] = graph.edges[weakest.source, weakest.to]["edges"]
        held.remove(weakest)
        if not held:
            graph.remove_edge(weakest.source, weakest.to)
        again = graph.subgraph(part)
        todo += [c for c in nx.strongly_connected_components(again) if len(c) > 1 or graph.has_edge(*(tuple(c) * 2))]
    loops.sort(key=lambda loop: [wiring.order[c] for c in loop.channels])
    return tuple(loops), frozenset(cut), _order(wiring, [edge for edge in audible if edge.number not in cut])


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
