"""The layered drawing of lines between boxes: nothing overlaps, no line runs behind a box, few lines cross."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, permutations

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mixlint.reports.pictures.routing.graph import Link, layers_of, leading_back
from mixlint.reports.pictures.routing.heights import rising
from mixlint.reports.pictures.routing.layout import Layout, Run, lay_out
from mixlint.reports.pictures.routing.ordering import Places, crossings, ordered


@st.composite
def graphs(draw: st.DrawFn) -> tuple[int, list[Link]]:
    """Up to twelve boxes with any lines between them: rings, lines to itself, several between the same two."""
    count = draw(st.integers(1, 12))
    box = st.integers(0, count - 1)
    alike = st.sampled_from(["output", "post", "pre", None])
    links = st.builds(Link, box, box, alike)
    return count, draw(st.lists(links, max_size=30))


@st.composite
def desks(draw: st.DrawFn) -> tuple[int, list[Link]]:
    """Tracks into groups and returns, these into buses and a mix bus, and now and then a send back."""
    tracks, groups, returns = draw(st.integers(1, 30)), draw(st.integers(0, 5)), draw(st.integers(0, 4))
    mix = tracks + groups + returns
    links = []
    for one in range(mix):
        first = tracks if one < tracks else one + 1
        links.append(Link(one, draw(st.integers(first, mix)), "output"))
        for to in draw(st.sets(st.integers(tracks, mix), max_size=3)):
            links.append(Link(one, to, draw(st.sampled_from(["post", "pre"]))))
    return mix + 1, links


def sampled(run: Run, steps: int = 12) -> Iterator[tuple[float, float]]:
    """Points along a course: its cubic Béziers in Bernstein's form."""
    here = run.start
    for one, other, end in run.pieces:
        for k in range(steps + 1):
            t = k / steps
            s = 1.0 - t
            yield tuple(  # type: ignore[misc]
                s**3 * here[n] + 3 * s * s * t * one[n] + 3 * s * t * t * other[n] + t**3 * end[n] for n in (0, 1)
            )
        here = end


def check(count: int, links: list[Link], drawn: Layout) -> None:
    """All that holds of every drawing."""
    boxes = list(zip(drawn.corners, drawn.sizes, strict=True))
    columns = {left: sorted((y, y + high) for (x, y), high in boxes if x == left) for left in drawn.edges}
    for column in columns.values():
        assert all(lower[0] - upper[1] >= 4.0 for upper, lower in pairwise(column))
    assert all(right - left >= drawn.box_width + 40.0 for left, right in pairwise(drawn.edges))
    for (x, y), high in boxes:
        assert 0.0 <= x <= drawn.width - drawn.box_width
        assert 0.0 <= y <= drawn.height - high
    own = [run for run in drawn.runs if not run.shared]
    assert sorted(n for run in own for n in run.links) == list(range(len(links)))
    for run in drawn.runs:
        for x, y in sampled(run):
            assert 0.0 <= x <= drawn.width
            assert 0.0 <= y <= drawn.height
            behind = next(
                (column for left, column in columns.items() if left + 0.2 < x < left + drawn.box_width - 0.2), ()
            )
            assert not any(top - 0.9 < y < low + 0.9 for top, low in behind), "a line behind a box"
    for run in own:
        (link,) = (links[n] for n in run.links)
        bx, by = drawn.corners[link.source]
        assert abs(run.start[0] - bx - drawn.box_width) <= 0.1
        assert by < run.start[1] < by + drawn.sizes[link.source]
        end = run.pieces[-1][-1]
        if not _meets(drawn, link.to, end):  # then it joins what leads there
            (on,) = (one for one in drawn.runs if one.shared and set(run.links) <= set(one.links))
            assert end in {on.start, *(piece[-1] for piece in on.pieces)}
            assert _meets(drawn, link.to, on.pieces[-1][-1])
            assert {links[n].to for n in on.links} == {link.to}
            assert {links[n].alike for n in on.links} == {link.alike}


def _meets(drawn: Layout, box: int, end: tuple[float, float]) -> bool:
    x, y = drawn.corners[box]
    return abs(end[0] - x) <= 0.1 and y < end[1] < y + drawn.sizes[box]


@given(graphs())
def test_any_graph_is_drawn_with_no_line_behind_a_box(graph: tuple[int, list[Link]]) -> None:
    """Boxes apart, all inside, each line once, from its box to its box, and behind none."""
    check(*graph, lay_out(*graph))


@given(desks())
@settings(max_examples=30)
def test_a_desk_is_drawn_with_no_line_behind_a_box(graph: tuple[int, list[Link]]) -> None:
    """The same of what desks look like; and the same graph gives the same drawing."""
    drawn = lay_out(*graph)
    check(*graph, drawn)
    assert lay_out(*graph) == drawn


@given(graphs())
def test_what_does_not_lead_back_runs_to_a_later_layer(graph: tuple[int, list[Link]]) -> None:
    """And each line that leads back closes a ring with the others (networkx as the second opinion)."""
    count, links = graph
    back = leading_back(count, links)
    layer = layers_of(count, links, back)
    rest = nx.DiGraph((link.source, link.to) for n, link in enumerate(links) if n not in back)
    rest.add_nodes_from(range(count))
    assert nx.is_directed_acyclic_graph(rest)
    for n, link in enumerate(links):
        if n in back:
            assert nx.has_path(rest, link.to, link.source)
            assert link.source == link.to or layer[link.to] < layer[link.source]
        else:
            assert layer[link.source] < layer[link.to]
    longest = nx.dag_longest_path_length(rest) if rest.edges else 0
    assert max(layer) == longest


def test_a_ring_is_broken_where_it_is_said_to_be() -> None:
    """At the weakest line that is named; a ring without one at the line that leads back in desk order."""
    ring = [Link(0, 1), Link(1, 2), Link(2, 0)]
    assert leading_back(3, ring, {1}) == {1}
    assert leading_back(3, ring) == {2}
    assert leading_back(3, ring[:2], {0}) == frozenset(), "no ring: nothing is turned"


@st.composite
def two_layers(draw: st.DrawFn) -> tuple[int, int, set[tuple[int, int]]]:
    left, right = draw(st.integers(2, 4)), draw(st.integers(2, 5))
    pairs = st.tuples(st.integers(0, left - 1), st.integers(left, left + right - 1))
    return left, right, draw(st.sets(pairs, min_size=1, max_size=12))


@given(two_layers())
@settings(max_examples=40)
def test_few_lines_cross(graph: tuple[int, int, set[tuple[int, int]]]) -> None:
    """Against the fewest crossings over all orders of both layers: at most half as many again, and one more."""
    left, right, pairs = graph
    layer = [0] * left + [1] * right
    found = ordered(Places(layer, sorted(pairs)))
    assert [sorted(one) for one in found] == [list(range(left)), list(range(left, left + right))]
    ours = _crossed(found, pairs)
    best = min(
        _crossed([list(one), list(other)], pairs)
        for one in permutations(range(left))
        if one[0] < one[-1]  # turned upside down the same lines cross
        for other in permutations(range(left, left + right))
    )
    assert ours <= 1.5 * best + 1


def _crossed(layers: list[list[int]], pairs: set[tuple[int, int]]) -> int:
    """Pair by pair."""
    at = {one: row for layer in layers for row, one in enumerate(layer)}
    ends = [(at[a], at[b]) for a, b in pairs]
    return sum((a - c) * (b - d) < 0 for n, (a, b) in enumerate(ends) for c, d in ends[:n])


@given(two_layers())
def test_crossings_are_counted_as_pair_by_pair(graph: tuple[int, int, set[tuple[int, int]]]) -> None:
    left, right, pairs = graph
    layers = [list(range(left)), list(range(left, left + right))]
    after: list[list[int]] = [[] for _ in range(left + right)]
    for a, b in pairs:
        after[a].append(b)
    assert crossings(layers, after) == _crossed(layers, pairs)


@given(st.lists(st.tuples(st.floats(-500, 500), st.floats(0.1, 10)), max_size=20))
def test_heights_lie_nearest_to_their_wishes(wishes: list[tuple[float, float]]) -> None:
    """The least squares that do not fall, by the closed form of isotonic regression.

    Robertson, Wright and Dykstra, "Order restricted statistical inference" (1988), theorem 1.4.4: the value at a place
    is the greatest over the starts before it of the least weighted mean of a stretch from there over it.
    """
    values, weights = [w for w, _ in wishes], [w for _, w in wishes]
    found = rising(values, weights)

    def mean(a: int, b: int) -> float:
        return sum(v * w for v, w in wishes[a : b + 1]) / sum(weights[a : b + 1])

    for k, one in enumerate(found):
        assert one == pytest.approx(max(min(mean(a, b) for b in range(k, len(wishes))) for a in range(k + 1)), abs=1e-6)


def test_a_line_without_hindrance_runs_level() -> None:
    """A chain is one level line; what leads back goes round under the boxes."""
    drawn = lay_out(3, [Link(0, 1), Link(1, 2)])
    assert len({y for run in drawn.runs for _, y in (run.start, run.pieces[-1][-1])}) == 1
    drawn = lay_out(1, [Link(0, 0)])
    (run,) = drawn.runs
    (x, y), high = drawn.corners[0], drawn.sizes[0]
    around = list(sampled(run))
    assert run.back
    assert max(py for _, py in around) > y + high
    assert min(px for px, _ in around) < x < x + drawn.box_width < max(px for px, _ in around)


def test_boxes_without_lines_are_no_single_column() -> None:
    """Sixty of them, as in a session whose outputs are not seen."""
    drawn = lay_out(60, [])
    check(60, [], drawn)
    assert drawn.height < 600
