"""A layered drawing: where each box stands and how each line runs, none of them behind a box.

Signals run from left to right. A line lies in the gap between two layers, where no box is, or passes a layer level at
a place of its own between the boxes. Lines of one kind to one box share that place: they run together from there on.
A line that leads back turns round at the right of its box, goes back through lanes of its own under the boxes at
both ends, and turns into its box from the left.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence, Set
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from mixlint.reports.pictures.routing.graph import Link, layers_of, leading_back
from mixlint.reports.pictures.routing.heights import Piece, heights_of
from mixlint.reports.pictures.routing.ordering import Places, ordered

ROOMY: Final = (164.0, 58.0, 0.2)
CLOSE: Final = (132.0, 42.0, 0.1)
"""How wide boxes are, how wide a gap between layers is at the least, and by how much it grows with the fall of its
steepest line; the closer figures from ``MANY_LAYERS`` on, so that the mix bus is seen without scrolling."""
MANY_LAYERS: Final = 6
LEAST_HEIGHT, MOST_HEIGHT = 22.0, 72.0
PORT: Final = 3.8
"""How far apart lines meet a box, where it is high enough."""
PASSAGE: Final = 8.0
"""How high the place is at which a line passes a layer."""
LANE: Final = 13.0
"""How high a lane under a box is: a mark has room in it."""
GAP_Y: Final = 7.0
MOST_GAP: Final = 150.0
TURN: Final = 14.0
"""How far from its box the handles of a turn lie; it goes three quarters as far."""
MARGIN: Final = 18.0
ALONE_IN_LAYER: Final = 12

LEVEL: Final = 6.0
"""What it is worth that a line passes a layer straight on, against 1 for one that leaves or meets a box."""

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Run:
    """A drawn course: a start, and pieces each of two handles and an end (a cubic Bézier), as in an SVG path.

    Args:
        links: the places of the links that it carries.
        start: where it begins.
        pieces: its handles and ends.
        shared: it is the part that several lines have in common; each of them ends where it begins or on the way.
        lane: where the middle of its lane under the box that it leaves is; None for one that runs forwards.
    """

    links: tuple[int, ...]
    start: Point
    pieces: tuple[tuple[Point, Point, Point], ...]
    shared: bool = False
    lane: Point | None = None

    @property
    def back(self) -> bool:
        """True when it leads back."""
        return self.lane is not None


@dataclass(frozen=True, slots=True)
class Layout:
    """A whole drawing in user units.

    Args:
        width, height: its extent; all lies inside.
        corners: the upper left corner of each box.
        sizes: the height of each box.
        layer: the layer of each box.
        edges: the left edge of each layer.
        runs: the lines.
        back: places of the links that lead back.
        box_width: how wide every box is.
    """

    width: float
    height: float
    corners: tuple[Point, ...]
    sizes: tuple[float, ...]
    layer: tuple[int, ...]
    edges: tuple[float, ...]
    runs: tuple[Run, ...]
    back: frozenset[int]
    box_width: float


def lay_out(count: int, links: Sequence[Link], weakest: Set[int] = frozenset(), *, top: float = MARGIN) -> Layout:
    """Draw ``count`` boxes and ``links`` between them.

    Args:
        count: how many boxes there are, numbered in desk order.
        links: the lines.
        weakest: places of links at which a ring is to be broken.
        top: where the highest box begins.
    """
    return _Drawing(count, links, weakest).laid_out(top)


class _Drawing:
    """The work on one drawing: places, their order, their heights, and the courses of lines.

    The places below ``count`` are boxes, each with its lanes under it; those above are passages of long lines.
    """

    def __init__(self, count: int, links: Sequence[Link], weakest: Set[int]) -> None:
        self.count, self.links = count, links
        self.back = leading_back(count, links, weakest)
        self.layer = layers_of(count, links, self.back, ALONE_IN_LAYER)
        many = max(self.layer, default=0) + 1 >= MANY_LAYERS
        self.box_width, self.least_gap, self.growing = CLOSE if many else ROOMY
        self.lanes: list[list[int]] = [[] for _ in range(count)]  # the links in the lanes under each box
        self.ways: dict[int, list[int]] = {}  # link → the places that it comes by, its ends among them
        self.chains: list[tuple[list[int], list[int]]] = []  # passages up to a box, and the links that come by them
        self._passages()
        self.pieces = self._pieces()
        self.order = ordered(Places(self.layer, [pair for pair, numbers in self.pieces.items() for _ in numbers]))
        self._run_together()
        self.pieces = self._pieces()
        self.row = {one: row for here in self.order for row, one in enumerate(here)}
        leaving, coming = self._meeting()
        self.box = [_size(max(len(out), len(into))) for out, into in zip(leaving, coming, strict=True)]
        self.right = self._ports(leaving)
        self.left = self._ports(coming)
        self.size = [height + LANE * len(lanes) for height, lanes in zip(self.box, self.lanes, strict=True)]
        self.size += [PASSAGE] * (len(self.layer) - count)

    def _passages(self) -> None:
        """Give every long line a place of its own in each layer that it passes, and what leads back its lanes."""
        for number, link in enumerate(self.links):
            source, to = self.layer[link.source], self.layer[link.to]
            back = number in self.back
            between = [self._passage(k) for k in (range(source - 1, to, -1) if back else range(source + 1, to))]
            self.ways[number] = [link.source, *between, link.to]
            if back:
                self.lanes[link.source].append(number)
                if link.to != link.source:
                    self.lanes[link.to].append(number)
        for lanes in self.lanes:  # a line from the box to itself lies nearest to it
            lanes.sort(key=lambda n: (self.links[n].source != self.links[n].to, n))

    def _run_together(self) -> None:
        """Let lines alike to one box share a passage where theirs came to lie side by side all the way from there on.

        That is asked when the order is found: lines that are made to share a passage before cross more.
        """
        row = {one: n for here in self.order for n, one in enumerate(here)}
        alike: dict[Hashable, list[int]] = {}
        for number, link in enumerate(self.links):
            if link.alike is not None and number not in self.back and len(self.ways[number]) > 2:
                alike.setdefault((link.to, link.alike), []).append(number)
        for numbers in alike.values():
            numbers.sort(key=lambda n: row[self.ways[n][-2]])
            group: list[int] = []
            reach: dict[int, tuple[int, int]] = {}  # layer → the first and last row of the group there
            for number in numbers:
                rows = {self.layer[one]: row[one] for one in self.ways[number][1:-1]}
                if any(k in reach and not reach[k][0] - 1 <= at <= reach[k][1] + 1 for k, at in rows.items()):
                    self._share(group)
                    group, reach = [], {}
                group.append(number)
                for k, at in rows.items():
                    low, high = reach.get(k, (at, at))
                    reach[k] = min(low, at), max(high, at)
            self._share(group)
        kept = {one for way in self.ways.values() for one in way}
        self.order = [[one for one in here if one < self.count or one in kept] for here in self.order]

    def _share(self, numbers: Sequence[int]) -> None:
        """Make passages of several lines one in each layer."""
        if len(numbers) < 2:
            return
        shared: dict[int, int] = {}
        for n in numbers:
            for one in self.ways[n][1:-1]:
                shared.setdefault(self.layer[one], one)
        for n in numbers:
            source, *between, to = self.ways[n]
            self.ways[n] = [source, *(shared[self.layer[one]] for one in between), to]
        self.chains.append(([shared[k] for k in sorted(shared)], list(numbers)))

    def _passage(self, layer: int) -> int:
        self.layer.append(layer)
        return len(self.layer) - 1

    def _pieces(self) -> dict[tuple[int, int], list[int]]:
        """Pairs of places in neighbouring layers → the links between them; what is run together stands once."""
        found: dict[tuple[int, int], list[int]] = {}
        for number, way in self.ways.items():
            for a, b in pairwise(way if way[0] != way[-1] else ()):
                if number in self.back:
                    found.setdefault((b, a), []).append(number)
                elif a < self.count or (a, b) not in found:
                    found.setdefault((a, b), []).append(number)
        return found

    def _meeting(self) -> tuple[list[list[int]], list[list[int]]]:
        """The links that leave each box at its right, and those that come in at its left, from top to bottom."""
        leaving: list[list[tuple[tuple[int, ...], int]]] = [[] for _ in range(self.count)]
        coming: list[list[tuple[tuple[int, ...], int]]] = [[] for _ in range(self.count)]
        for (a, b), numbers in self.pieces.items():
            for n in numbers:
                if n in self.back:
                    continue
                if a < self.count:
                    leaving[a].append(((0, self.row[b], n), n))
                if b < self.count:
                    coming[b].append(((0, self.row[a], n), n))
        for one, lanes in enumerate(self.lanes):
            for lane, n in enumerate(lanes):  # the nearest lane turns at the lowest port, so that turns do not cross
                if self.links[n].source == one:
                    leaving[one].append(((1, -lane), n))
                if self.links[n].to == one:
                    coming[one].append(((1, -lane), n))
        return [[n for _, n in sorted(one)] for one in leaving], [[n for _, n in sorted(one)] for one in coming]

    def _ports(self, meeting: list[list[int]]) -> list[dict[int, float]]:
        """Where each link meets each box: how far under the middle of the box and its lanes."""
        found = []
        for one, numbers in enumerate(meeting):
            apart = min(PORT, (self.box[one] - 7.0) / max(1, len(numbers) - 1))
            first = -LANE * len(self.lanes[one]) / 2.0 - apart * (len(numbers) - 1) / 2.0
            found.append({n: first + apart * row for row, n in enumerate(numbers)})
        return found

    def _lane(self, one: int, number: int) -> float:
        """How far a lane lies under the middle of a box and its lanes."""
        place = self.lanes[one].index(number)
        return (self.box[one] - LANE * len(self.lanes[one])) / 2.0 + LANE * (place + 0.5) + 1.0

    def _weighed(self) -> list[Piece]:
        found = []
        for (a, b), numbers in self.pieces.items():
            for n in numbers:
                if n in self.back:
                    a_off = self._lane(a, n) if a < self.count else 0.0
                    b_off = self._lane(b, n) if b < self.count else 0.0
                else:
                    a_off = self.right[a][n] if a < self.count else 0.0
                    b_off = self.left[b][n] if b < self.count else 0.0
                found.append(Piece(a, b, a_off, b_off, LEVEL if min(a, b) >= self.count else 1.0))
        return found

    def laid_out(self, top: float) -> Layout:
        """Heights, then the gaps between layers, wide enough for the steepest line in each; then the courses."""
        weighed = self._weighed()
        at = [top + middle for middle in heights_of(self.order, self.size, GAP_Y, weighed)]
        steep = [0.0] * len(self.order)
        for a, b, a_off, b_off, _ in weighed:
            k = self.layer[a]
            steep[k] = max(steep[k], abs(at[a] + a_off - at[b] - b_off))
        edges = [MARGIN]
        for fall in steep[:-1]:
            edges.append(edges[-1] + self.box_width + min(max(self.least_gap, fall * self.growing), MOST_GAP))
        lows = [middle + size / 2.0 for middle, size in zip(at, self.size, strict=True)]
        corners = [(edges[self.layer[one]], at[one] - self.size[one] / 2.0) for one in range(self.count)]
        return Layout(
            width=(edges[-1] if self.order else 0.0) + self.box_width + MARGIN,
            height=max(lows, default=top) + MARGIN,
            corners=tuple(corners),
            sizes=tuple(self.box),
            layer=tuple(self.layer[: self.count]),
            edges=tuple(edges[: len(self.order)]),
            runs=tuple(self._runs(at, edges)),
            back=self.back,
            box_width=self.box_width,
        )

    def _runs(self, at: Sequence[float], edges: Sequence[float]) -> Iterator[Run]:
        joined = {one for passages, _ in self.chains for one in passages}
        for number in range(len(self.links)):
            if number in self.back:
                yield self._backwards(number, at, edges)
                continue
            way = self.ways[number]
            joins = next((k for k, one in enumerate(way) if one in joined), None)
            pen = _Pen((edges[self.layer[way[0]]] + self.box_width, at[way[0]] + self.right[way[0]][number]))
            if joins is not None:
                pen.bent(edges[self.layer[way[joins]]], at[way[joins]])
            else:
                self._onwards(pen, way[1:], number, at, edges)
            yield Run((number,), pen.start, tuple(pen.pieces))
        for passages, numbers in self.chains:
            to = self.links[numbers[0]].to
            pen = _Pen((edges[self.layer[passages[0]]], at[passages[0]]))
            self._onwards(pen, [*passages, to], self.pieces[passages[-1], to][0], at, edges)
            yield Run(tuple(numbers), pen.start, tuple(pen.pieces), shared=True)

    def _onwards(
        self, pen: _Pen, places: Sequence[int], port: int, at: Sequence[float], edges: Sequence[float]
    ) -> None:
        """Through passages and into the box at their end, at the port of a link."""
        for one in places[:-1]:
            pen.bent(edges[self.layer[one]], at[one])
            pen.bent(edges[self.layer[one]] + self.box_width, at[one])
        to = places[-1]
        pen.bent(edges[self.layer[to]], at[to] + self.left[to][port])

    def _backwards(self, number: int, at: Sequence[float], edges: Sequence[float]) -> Run:
        """Out at the right, round, back under the box, through passages, under the other box, round and in."""
        way = self.ways[number]
        source, to = way[0], way[-1]
        pen = _Pen((edges[self.layer[source]] + self.box_width, at[source] + self.right[source][number]))
        pen.turned(at[source] + self._lane(source, number), TURN)
        pen.bent(edges[self.layer[source]], at[source] + self._lane(source, number))
        for one in way[1:-1]:
            pen.bent(edges[self.layer[one]] + self.box_width, at[one])
            pen.bent(edges[self.layer[one]], at[one])
        if to != source:
            pen.bent(edges[self.layer[to]] + self.box_width, at[to] + self._lane(to, number))
            pen.bent(edges[self.layer[to]], at[to] + self._lane(to, number))
        pen.turned(at[to] + self.left[to][number], -TURN)
        lane = _rounded(edges[self.layer[source]] + self.box_width / 2.0, at[source] + self._lane(source, number))
        return Run((number,), pen.start, tuple(pen.pieces), lane=lane)


def _size(lines: int) -> float:
    """How high a box is at which so many lines meet one side."""
    return min(max(LEAST_HEIGHT, 7.0 + PORT * lines), MOST_HEIGHT)


class _Pen:
    """Draws a course piece by piece."""

    def __init__(self, start: Point) -> None:
        self.start = self.here = _rounded(*start)
        self.pieces: list[tuple[Point, Point, Point]] = []

    def bent(self, x: float, y: float) -> None:
        """On to a place, level at both ends: between its ends it leaves neither the columns nor the heights of them."""
        (x0, y0), end = self.here, _rounded(x, y)
        middle = round((x0 + end[0]) / 2.0, 1)
        self._draw((middle, y0), (middle, end[1]), end)

    def turned(self, y: float, out: float) -> None:
        """Round to another height at the same place, going ``out`` to the right or, if negative, to the left."""
        x0, y0 = self.here
        self._draw((round(x0 + out, 1), y0), (round(x0 + out, 1), round(y, 1)), _rounded(x0, y))

    def _draw(self, one: Point, other: Point, end: Point) -> None:
        self.pieces.append((one, other, end))
        self.here = end


def _rounded(x: float, y: float) -> Point:
    return round(x, 1), round(y, 1)
