"""Loops found by halving the time, against cutting the weakest edge of each strongly connected part again and again."""

from __future__ import annotations

import random

import networkx as nx
import pytest

from mixlint.routing import Routing, growing_parts
from mixlint.routing.loops import level_of
from mixlint.routing.wiring import Wiring, wire
from mixlint.session import Channel, Send, Session


def tangle(seed: int, strips: int, sends: int) -> Session:
    """Strips that send to each other anywhere, at levels of which many are equal, and to themselves."""
    rng = random.Random(seed)
    ids = [f"c{n}" for n in range(strips)]
    return Session(
        title="Tangle",
        channels=(
            *(
                Channel(
                    id=one,
                    name=one,
                    kind="group",
                    output=rng.choice([*ids, "m", "m"]),
                    sends=tuple(
                        Send(to=rng.choice(ids), level_db=float(rng.randint(-4, 0)))
                        for _ in range(rng.randint(0, sends))
                    ),
                )
                for one in ids
            ),
            Channel(id="m", name="Mix Bus", kind="master", output=None),
        ),
    )


def cut_plainly(wiring: Wiring) -> tuple[set[int], list[int]]:
    """The numbers of the edges cut one by one, with how many steps each loop has, by networkx."""
    left = [edge for edge in wiring.edges if wiring.audible(edge)]
    cut: set[int] = set()
    steps: list[int] = []
    while True:
        graph = nx.DiGraph((edge.source, edge.to) for edge in left)
        part = {one: number for number, of in enumerate(nx.strongly_connected_components(graph)) for one in of}
        inside = [edge for edge in left if part[edge.source] == part[edge.to]]
        if not inside:
            return cut, steps
        weakest = min(inside, key=lambda e: (level_of(e), wiring.order[e.source], e.number))
        steps.append(int(nx.shortest_path_length(graph, weakest.to, weakest.source)) + 1)
        cut.add(weakest.number)
        left.remove(weakest)


@pytest.mark.parametrize("seed", range(40))
def test_the_same_edges_are_cut_and_each_closes_a_shortest_loop(seed: int) -> None:
    session = tangle(seed, 3 + seed % 12, 1 + seed % 4)
    cut, steps = cut_plainly(wire(session))
    loops = Routing(session).loops
    assert {loop.cut.number for loop in loops} == cut
    assert sorted(len(loop.edges) for loop in loops) == sorted(steps)
    assert all(a.to == b.source for loop in loops for a, b in zip(loop.edges, loop.edges[1:], strict=False))


@pytest.mark.parametrize("seed", range(20))
def test_parts_are_those_of_networkx(seed: int) -> None:
    rng = random.Random(seed)
    edges = [(rng.randrange(20), rng.randrange(20)) for _ in range(rng.randrange(60))]
    found = growing_parts.parts(edges)
    theirs = {frozenset(part) for part in nx.strongly_connected_components(nx.DiGraph(edges))}
    assert {frozenset(one for one in found if found[one] == number) for number in found.values()} == theirs


def test_of_ten_times_the_strips_little_more_than_ten_times_the_edges_are_looked_at(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    looked_at = 0

    def counting(edges: list[tuple[int, int]]) -> dict[int, int]:
        nonlocal looked_at
        looked_at += len(edges)
        return plain(edges)

    plain = growing_parts.parts
    monkeypatch.setattr(growing_parts, "parts", counting)
    seen = []
    for strips in (60, 600):
        looked_at = 0
        assert Routing(tangle(1, strips, 3)).loops
        seen.append(looked_at)
    assert seen[1] < 10 * seen[0] * 1.6  # each edge as often as their number can be halved
