"""Boxes, lines and marks as plain geometry for the template."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal, NamedTuple

from mixlint.reports.pictures.lettering import fitted
from mixlint.reports.pictures.routing.graph import Link
from mixlint.reports.pictures.routing.layout import Layout, Point, Run, lay_out
from mixlint.reports.pictures.routing.wires import Kind
from mixlint.units import few_text

Shape = Literal["track", "group", "return", "master", "mix", "unknown", "family"]
Sort = Literal["hold", "look", "muted", "at-times", "solo", "dead", "unseen", "loop"]

MARK: Final = 14.0
"""How wide the place of a mark is; the mark itself is 10."""
HEAD: Final = 34.0
"""The room above the boxes in which the layers are named."""
WIDTH_AT_UNITY: Final = 3.0
THINNEST, THICKEST = 0.6, 6.0
"""The thickness of lines: that at a gain of 1, and the least and the most that is drawn."""

WORDS: Final = {
    "track": "tracks",
    "group": "groups",
    "return": "returns",
    "master": "masters",
    "mix": "mix bus",
    "unknown": "kind not seen",
}


SAID: Final = 3
"""Of several texts in one title so many are told in full: each stands with what it is about, or among the findings."""


class Said(NamedTuple):
    """A mark that is to be set, and what it says in full."""

    sort: Sort
    title: str


class Node(NamedTuple):
    """A strip or a family of strips that is to be drawn; ``anchor`` is where a family is opened."""

    name: str
    shape: Shape
    title: str
    quiet: bool = False
    marks: tuple[Said, ...] = ()
    kinds: tuple[str, ...] = ()
    anchor: str = ""


class Strand(NamedTuple):
    """A line that is to be drawn, of one edge or several.

    Args:
        source, to: places of the nodes.
        kind: its style.
        gain: how much it carries on; None where that is not known.
        title: what it says in full.
        quiet: nothing sounds on it.
        ring: it is part of a ring.
        cut: the ring is broken here.
        numbers: the edges that it stands for.
        marks: what is marked on it.
    """

    source: int
    to: int
    kind: Kind
    gain: float | None
    title: str
    quiet: bool
    ring: bool
    cut: bool
    numbers: tuple[int, ...]
    marks: tuple[Said, ...] = ()


@dataclass(frozen=True, slots=True)
class Box:
    """One strip or family: its corner and height, its short label and what its title says in full."""

    x: float
    y: float
    height: float
    label: str
    title: str
    shape: Shape
    quiet: bool
    anchor: str

    @property
    def middle(self) -> float:
        """Where its label stands."""
        return round(self.y + self.height / 2.0 + 4.0, 1)


@dataclass(frozen=True, slots=True)
class Line:
    """One connection as an SVG path.

    Args:
        path: its course.
        kind: its style.
        thickness: in user units, for its gain.
        title: what it says in full.
        quiet: nothing sounds on it.
        hollow: how much it carries is not known.
        ring: it is part of a ring.
        back: it leads back, and has an arrow.
        shared: the part that several lines have in common.
        arrow: the path of its arrow; empty where it has none.
        numbers: the edges that it stands for.
    """

    path: str
    kind: Kind
    thickness: float
    title: str
    quiet: bool
    hollow: bool
    ring: bool
    back: bool
    shared: bool
    arrow: str
    numbers: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Mark:
    """A mark of its own shape, around its middle; ten units wide and high."""

    x: float
    y: float
    sort: Sort
    title: str


@dataclass(frozen=True, slots=True)
class Drawing:
    """A whole drawing in user units; ``heads`` name the layers; ``families`` are opened on demand."""

    width: float
    height: float
    heads: tuple[tuple[float, str], ...]
    boxes: tuple[Box, ...]
    lines: tuple[Line, ...]
    marks: tuple[Mark, ...]
    box_width: float
    families: tuple[Family, ...] = ()


@dataclass(frozen=True, slots=True)
class Family:
    """A family that is folded: its own drawing, None where that would be too large, and who it is in words."""

    anchor: str
    title: str
    drawing: Drawing | None
    said: str


def drawn(nodes: Sequence[Node], strands: Sequence[Strand], *, heads: bool = True) -> Drawing:
    """The drawing of strips and lines."""
    links = [Link(one.source, one.to, (one.kind, one.quiet)) for one in strands]
    weakest = {n for n, one in enumerate(strands) if one.cut}
    laid = lay_out(len(nodes), links, weakest, top=HEAD if heads else 10.0)
    on_lines, homeless = _on_lines(laid, strands)
    marks = list(on_lines)
    boxes = []
    for n, (node, (x, y), height) in enumerate(zip(nodes, laid.corners, laid.sizes, strict=True)):
        said = _one_of_a_sort((*node.marks, *homeless.get(n, ())))
        x, y = round(x, 1), round(y, 1)
        for row, mark in enumerate(reversed(said)):
            place = x + laid.box_width - 10.0 - MARK * row
            marks.append(Mark(round(place, 1), round(y + height / 2.0, 1), mark.sort, mark.title))
        label = fitted(node.name, laid.box_width - 13.0 - (MARK * len(said) + 2.0 if said else 0.0))
        boxes.append(Box(x, y, round(height, 1), label, node.title, node.shape, node.quiet, node.anchor))
    lines = [_line(run, strands, n in laid.back) for run in laid.runs for n in run.links[:1]]
    lines.sort(key=lambda one: (not one.quiet, one.shared))  # what sounds lies over what does not
    return Drawing(
        round(laid.width, 1),
        round(laid.height, 1),
        tuple(_heads(laid, nodes)) if heads else (),
        tuple(boxes),
        tuple(lines),
        tuple(marks),
        laid.box_width,
    )


def _one_of_a_sort(said: Iterable[Said]) -> list[Said]:
    """One mark for all that is marked alike; of findings the gravest stands for the rest."""
    found: dict[Sort, list[str]] = {}
    for one in said:
        found.setdefault(one.sort, []).append(one.title)
    if "hold" in found and "look" in found:
        found["hold"] += found.pop("look")
    return [Said(sort, few_text(list(dict.fromkeys(titles)), SAID, between=" ")) for sort, titles in found.items()]


def _heads(laid: Layout, nodes: Sequence[Node]) -> Iterable[tuple[float, str]]:
    """What stands in each layer, in the order of the words."""
    for k, left in enumerate(laid.edges):
        kinds: set[str] = set()
        for node, layer in zip(nodes, laid.layer, strict=True):
            if layer == k:
                kinds.update(node.kinds or (node.shape,))
        yield round(left, 1), fitted(", ".join(word for kind, word in WORDS.items() if kind in kinds), laid.box_width)


def _line(run: Run, strands: Sequence[Strand], back: bool) -> Line:
    carried = [strands[n] for n in run.links]
    first = carried[0]
    gains = [one.gain for one in carried if one.gain is not None]
    hollow = not gains
    thickness = min(max(THINNEST, WIDTH_AT_UNITY * max(gains, default=1.0)), THICKEST)
    title = few_text([one.title for one in carried if one.title], SAID, between="; ", none="")
    return Line(
        _path(run),
        first.kind,
        round(thickness, 1),
        title,
        all(one.quiet for one in carried),
        hollow,
        any(one.ring for one in carried),
        back,
        run.shared,
        _arrow(run.pieces[-1][-1]) if back else "",
        tuple(n for one in carried for n in one.numbers),
    )


def _path(run: Run) -> str:
    said = [f"M{_number(run.start[0])} {_number(run.start[1])}"]
    here = run.start
    for one, other, end in run.pieces:
        if here[1] == one[1] == other[1] == end[1]:
            said.append(f"H{_number(end[0])}")
        else:
            said.append("C" + " ".join(_number(value) for point in (one, other, end) for value in point))
        here = end
    return "".join(said)


def _arrow(end: Point) -> str:
    x, y = end
    return f"M{_number(x - 7)} {_number(y - 3.5)}L{_number(x)} {_number(y)}L{_number(x - 7)} {_number(y + 3.5)}z"


def _number(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


STEPS: Final = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.2, 0.8)
"""Where on its piece of a gap a mark may stand, the best first."""


def _on_lines(laid: Layout, strands: Sequence[Strand]) -> tuple[list[Mark], dict[int, tuple[Said, ...]]]:
    """Marks on lines: in the lane of one that leads back, else in the gap behind its box, away from other lines.

    Where a gap is so full of marks that none more has room, the mark goes to the box that the line leaves.

    Returns:
        The marks; and what is to be marked on boxes instead, by their place.
    """
    found: list[Mark] = []
    homeless: dict[int, tuple[Said, ...]] = {}
    marked = [n for n, one in enumerate(strands) if one.marks]
    if not marked:
        return found, homeless
    runs = {run.links[0]: run for run in laid.runs if not run.shared}
    gaps: dict[float, list[tuple[int, float, float]]] = {}  # left edge of a gap → the lines in it, from where to where
    for run in laid.runs:
        here = run.start
        for *_, end in run.pieces:
            if end[0] != here[0]:
                left, right = sorted((here, end))
                gaps.setdefault(left[0], []).append((-1 if run.shared else run.links[0], left[1], right[1]))
            here = end
    for n in marked:
        run, strand = runs[n], strands[n]
        said = _one_of_a_sort(strand.marks)
        if run.lane is not None:
            x, y = run.lane
            found += (Mark(round(x + MARK * k, 1), y, one.sort, one.title) for k, one in enumerate(said))
            continue
        (x0, y0), (x1, y1) = run.start, run.pieces[0][-1]
        others = [(a, b) for number, a, b in gaps.get(x0, ()) if number != n]
        for one in said:
            best: tuple[float, float, float] | None = None
            for t in STEPS:
                at_x, part = x0 + (x1 - x0) * _across(t), t * t * (3.0 - 2.0 * t)
                at_y = y0 + (y1 - y0) * part
                if any(abs(at_x - m.x) < MARK - 2.0 and abs(at_y - m.y) < MARK - 2.0 for m in found):
                    continue
                free = min((abs(a + (b - a) * part - at_y) for a, b in others), default=99.0)
                if best is None or min(free, 9.0) > best[0]:
                    best = (min(free, 9.0), at_x, at_y)
            if best is None:
                homeless[strand.source] = (*homeless.get(strand.source, ()), one)
            else:
                found.append(Mark(round(best[1], 1), round(best[2], 1), one.sort, one.title))
    return found, homeless


def _across(t: float) -> float:
    """How far along a gap a line is at ``t``: both handles lie in its middle."""
    s = 1.0 - t
    return 1.5 * s * s * t + 1.5 * s * t * t + t**3
