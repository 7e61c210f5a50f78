"""The routing as a drawing: columns for tracks, groups, returns, buses and the mix bus, and the lines between them.

The layout is layered: a strip's column follows from what it
is, its height from what feeds it (the barycentre of its feeders, ties in desk order), so that lines cross little.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from mixlint.reports.pictures.picture import Missing, Picture, Scene, Words
from mixlint.reports.plain import neutral, shortened
from mixlint.reports.words import counts_of, with_unit
from mixlint.session import Channel, is_known

if TYPE_CHECKING:
    from mixlint.routing import Edge, Routing

COLUMNS = ("tracks", "groups", "returns", "buses", "mix bus")
TRACKS, GROUPS, RETURNS, BUSES, MIX = range(5)

LEGEND = (
    "Unbroken: output.",
    "Dashed: post-fader send.",
    "Dotted: pre-fader send.",
    "Faint: silent, because something on it is muted.",
)

BOX_WIDTH, BOX_HEIGHT = 150, 22
GAP_X, GAP_Y = 68, 9
TOP, MARGIN = 34, 8
LABEL = 20
"""Columns of text that fit into a box."""


@dataclass(frozen=True, slots=True)
class Box:
    """One strip: its corner, its short label and what its title says in full."""

    x: int
    y: float
    label: str
    title: str
    quiet: bool


@dataclass(frozen=True, slots=True)
class Line:
    """One connection as an SVG path; ``kind`` is ``output``, ``post`` or ``pre``."""

    path: str
    kind: str
    title: str
    quiet: bool


@dataclass(frozen=True, slots=True)
class Drawing:
    """A whole drawing in user units; ``heads`` are the columns in use with their x."""

    width: int
    height: float
    heads: tuple[tuple[int, str], ...]
    boxes: tuple[Box, ...]
    lines: tuple[Line, ...]
    box_width: int = BOX_WIDTH
    box_height: int = BOX_HEIGHT


def draw(scene: Scene, name: str, title: str) -> Picture | Missing:
    """The wiring of a session."""
    drawn = draw_routing(scene.context.routing)
    if drawn is None:
        return Missing(name, title, "the session has no channel that carries audio")
    said = f"{counts_of(len(drawn.boxes), 'strip')}, {counts_of(len(drawn.lines), 'connection')}."
    words = Words(("connection", "kind"), tuple((line.title, line.kind) for line in drawn.lines))
    return Picture(name, title, said, drawn, words, LEGEND)


def draw_routing(routing: Routing) -> Drawing | None:
    """The drawing of a session's wiring, or None when it has no channel that carries audio.

    Args:
        routing: the routing graph; edges that do not sound are drawn faint.
    """
    strips = [c for c in routing.session.channels if c.kind != "vca"]
    if not strips:
        return None
    edges = routing.wiring.edges
    place = _columns(strips, edges)
    feeders: dict[str, list[str]] = {}
    for edge in edges:
        feeders.setdefault(edge.to, []).append(edge.source)
    used = [k for k in range(len(COLUMNS)) if any(place[c.id] == k for c in strips)]
    x_of = {column: MARGIN + n * (BOX_WIDTH + GAP_X) for n, column in enumerate(used)}
    middle = _heights(strips, place, feeders, used)
    sounding = {e.number for e in routing.edges}
    names = {c.id: neutral(c.name) or f"channel {n}" for n, c in enumerate(strips, 1)}
    at = {c.id: (float(x_of[place[c.id]]), middle[c.id]) for c in strips}
    boxes = tuple(
        Box(
            x_of[place[c.id]],
            middle[c.id] - BOX_HEIGHT / 2,
            shortened(names[c.id], LABEL),
            names[c.id] + (", muted" if c.id in routing.wiring.muted else ""),
            c.id in routing.wiring.muted,
        )
        for c in strips
    )
    lines = tuple(_line(edge, at, names, edge.number not in sounding) for edge in edges)
    width = 2 * MARGIN + len(used) * BOX_WIDTH + (len(used) - 1) * GAP_X + (GAP_X // 2 if _turns(edges, at) else 0)
    height = max(middle.values()) + BOX_HEIGHT / 2 + MARGIN
    return Drawing(width, height, tuple((x_of[k], COLUMNS[k]) for k in used), boxes, lines)


def _columns(strips: list[Channel], edges: tuple[Edge, ...]) -> dict[str, int]:
    """Each strip's column; a group that is fed by a group or a return is a bus."""
    kind = {c.id: c.kind for c in strips}
    place: dict[str, int] = {}
    fed_by: dict[str, set[object]] = {}
    for edge in edges:
        fed_by.setdefault(edge.to, set()).add(kind.get(edge.source) if edge.source != edge.to else None)
    for channel in strips:
        if channel.kind == "master":
            place[channel.id] = MIX
        elif channel.kind == "return":
            place[channel.id] = RETURNS
        elif channel.kind == "group":
            place[channel.id] = BUSES if fed_by.get(channel.id, set()) & {"group", "return"} else GROUPS
        else:
            place[channel.id] = TRACKS
    return place


def _heights(
    strips: list[Channel], place: dict[str, int], feeders: dict[str, list[str]], used: list[int]
) -> dict[str, float]:
    """The middle of each box: tracks in desk order, the rest near what feeds them, columns centred."""
    pitch = BOX_HEIGHT + GAP_Y
    top = TOP + BOX_HEIGHT / 2
    middle: dict[str, float] = {}
    tallest = max(sum(place[c.id] == k for c in strips) for k in used)
    centre = top + (tallest - 1) * pitch / 2
    for column in used:
        here = [c.id for c in strips if place[c.id] == column]
        if column == used[0]:
            wish = {c: top + row * pitch for row, c in enumerate(here)}
        else:
            wish = {c: _mean([middle[f] for f in feeders.get(c, ()) if f in middle], centre) for c in here}
        here.sort(key=lambda c: wish[c])  # stable: ties keep desk order
        middle |= zip(here, _apart([wish[c] for c in here], pitch), strict=True)
    low = min(middle.values())
    return {channel: height - low + top for channel, height in middle.items()}


def _apart(wishes: list[float], pitch: float) -> list[float]:
    """Heights at least ``pitch`` apart and nearest to rising ``wishes`` in least squares (isotonic regression)."""
    blocks: list[tuple[float, int]] = []  # mean of wish − row·pitch, and how many rows share it
    for row, wish in enumerate(wishes):
        mean, count = wish - row * pitch, 1
        while blocks and blocks[-1][0] > mean:
            before, many = blocks.pop()
            mean, count = (before * many + mean * count) / (many + count), many + count
        blocks.append((mean, count))
    spread = [mean for mean, count in blocks for _ in range(count)]
    return [mean + row * pitch for row, mean in enumerate(spread)]


def _mean(values: list[float], otherwise: float) -> float:
    """The mean height of a strip's feeders; ``otherwise`` for one that nothing feeds."""
    return sum(values) / len(values) if values else otherwise


def _turns(edges: tuple[Edge, ...], at: dict[str, tuple[float, float]]) -> bool:
    """True when a line leaves the last column and has to turn back."""
    last = max(x for x, _ in at.values())
    return any(at[e.source][0] == last for e in edges)


def _line(edge: Edge, at: dict[str, tuple[float, float]], names: dict[str, str], quiet: bool) -> Line:
    (x1, y1), (x2, y2) = at[edge.source], at[edge.to]
    start = x1 + BOX_WIDTH
    if x2 > x1:
        bend = min(GAP_X * 0.7, (x2 - start) * 0.6)
        path = f"M{start:.0f} {y1:.1f}C{start + bend:.1f} {y1:.1f} {x2 - bend:.1f} {y2:.1f} {x2:.0f} {y2:.1f}"
    elif x2 == x1:  # to a strip in the same column: out at the right and in again there
        out = start + GAP_X * 0.45
        path = f"M{start:.0f} {y1:.1f}C{out:.1f} {y1:.1f} {out:.1f} {y2:.1f} {start:.0f} {y2:.1f}"
    else:  # back to an earlier column
        out, back = start + GAP_X * 0.45, x2 + BOX_WIDTH + GAP_X * 0.45
        path = f"M{start:.0f} {y1:.1f}C{out:.1f} {y1 + 30:.1f} {back:.1f} {y2 + 30:.1f} {x2 + BOX_WIDTH:.0f} {y2:.1f}"
    title = f"{names[edge.source]} to {names[edge.to]}"
    if edge.kind == "send":
        level = with_unit(edge.level_db, "dB") if is_known(edge.level_db) else "level not seen"
        title = f"{title}: {edge.tap}-fader send, {level}"
    return Line(path, "output" if edge.kind == "output" else edge.tap, title + (" (silent)" if quiet else ""), quiet)
