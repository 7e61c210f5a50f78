"""Where parts and returns stood and stand between the sides, by their gain to the mix bus, with an arrow for each move.

Whoever moved is named in the margin nearer to it; margins are filled from the top by least squares, so that no name
lies on another.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor, hypot
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.comparison import Tolerances
from mixlint.reports.pictures.lettering import fitted
from mixlint.reports.pictures.moved import FAINT_DB, Move, share_text
from mixlint.reports.pictures.picture import Missing, Picture, Words
from mixlint.reports.pictures.spacing import apart
from mixlint.reports.words import counts_of
from mixlint.units import CENTRED, number_text, pan_text

if TYPE_CHECKING:
    from collections.abc import Sequence

WIDTH: Final = 900
LEFT, RIGHT = 268, 632
"""The hard left and the hard right; beside them stand the names."""
TOP, LEAST_HEIGHT, PITCH, SILENT = 36, 250, 17, 26
NAME: Final = 132.0
"""The width of a name before what became of it."""
MARGIN: Final = 28
"""From the sides to the names; the lines to them are drawn there."""
LABELLED, DRAWN = 36, 240
"""So many moves are named, those that move most of the mix, and so many marks drawn: bounds of size."""
RADIUS, HEAD, BESIDE = 4.0, 5.0, 10.0
LOWEST_DB: Final = -60.0
"""What lies so far under the loudest stands at the foot."""

Ends = tuple[float, float, float, float]
"""Where an arrow begins and where it ends: x and y each."""

LEGEND = (
    "Across: left to right; up: gain to the mix bus.",
    "An arrow leads from the old place (hollow) to the new one (filled); round: a part; ellipse: a return.",
    "Plus: added; cross: removed or silent now; faint: not moved. Those on one spot stand side by side.",
)


class Arrow(NamedTuple):
    """One move: from where to where, and the head of its arrow; ``path`` is empty for one that is too short."""

    x1: float
    y1: float
    x2: float
    y2: float
    shape: str
    path: str
    title: str


class Label(NamedTuple):
    """What is written of one move, and the line that leads to its mark or to the end of its slope."""

    x: float
    y: float
    anchor: str
    text: str
    line: str
    title: str


@dataclass(frozen=True, slots=True)
class PlacesPicture:
    """The whole picture; shapes are ``moved``, ``added`` and ``removed``, each as a part or a return."""

    height: float
    foot: float
    arrows: tuple[Arrow, ...]
    still: tuple[tuple[float, float, bool, str], ...]
    labels: tuple[Label, ...]
    scale: tuple[tuple[float, str], ...]
    places: tuple[tuple[float, str], ...]
    silent: float | None
    width: int = WIDTH
    left: int = LEFT
    right: int = RIGHT
    top: int = TOP


def draw(found: Sequence[Move], name: str, title: str) -> Picture | Missing:
    """The places of both revisions."""
    moved = [move for move in found if move.moved and _shown(move)]
    lost = [move for move in found if move.moved and not _shown(move)]
    if not moved:
        why = "no part and no return moved between the sides or in level"
        return Missing(name, title, f"{why}, as far as both revisions show it" if _unseen(found) else why)
    drawn = draw_places([move for move in found if _shown(move)])
    return Picture(name, title, _answer(moved, lost), drawn, _words(found), LEGEND)


def _shown(move: Move) -> bool:
    """Whether its place and level are known in each revision in which it is there."""
    for one, pan, level in zip((move.was, move.now), move.pans, move.levels, strict=True):
        if one is not None and (pan is None or level is None):
            return False
    return True


def _unseen(found: Sequence[Move]) -> bool:
    return any(not _shown(move) for move in found)


def _answer(moved: Sequence[Move], lost: Sequence[Move]) -> str:
    ways: dict[str, int] = {}
    for move in moved:
        way = _way(move)
        ways[way] = ways.get(way, 0) + 1
    told = ", ".join(f"{ways[way]} {way}" for way in WAYS if way in ways)
    said = f"{told}; {'' if len(moved) == 1 else 'first '}{moved[0].name}, {moved[0].text}."
    if lost:
        said += f" {len(lost)} more cannot be drawn, since a place or a level is not seen."
    return said


WAYS: Final = ("outwards", "inwards", "to the other side", "up", "down", "heard now", "silent now", "added", "removed")


def _way(move: Move) -> str:
    """What became of a part or return, in a word or three of :data:`WAYS`: its place before its level."""
    if move.was is None or move.now is None:
        return "added" if move.was is None else "removed"
    was, now = (pan or 0.0 for pan in move.pans)
    if abs(move.by_pan) >= Tolerances().pan:
        if was * now < 0.0 and min(abs(was), abs(now)) >= CENTRED:
            return "to the other side"
        return "outwards" if abs(now) > abs(was) else "inwards"
    before, after = (level or 0.0 for level in move.levels)
    if (before <= FAINT_DB) is not (after <= FAINT_DB):
        return "silent now" if after <= FAINT_DB else "heard now"
    return "up" if after > before else "down"


def _words(found: Sequence[Move]) -> Words:
    rows = []
    for move in [one for one in found if one.moved][: LABELLED * 4]:
        cells = [
            _place(one, pan, level)
            for one, pan, level in zip((move.was, move.now), move.pans, move.levels, strict=True)
        ]
        rows.append((move.name, "return" if move.a_return else "part", *cells, move.text, share_text(move.share)))
    more = sum(one.moved for one in found) - len(rows)
    if more:
        rows.append((f"{more} more", *[""] * 5))
    still = sum(not one.moved for one in found)
    if still:
        rows.append((counts_of(still, "other"), "", "", "", "as before", ""))
    return Words(("who", "what", "before", "now", "moved", "of the mix's energy"), tuple(rows))


def _place(one: object, pan: float | None, level: float | None) -> str:
    if one is None:
        return "not there"
    where = "place not seen" if pan is None else pan_text(pan)
    if level is None:
        return f"{where}, level not seen"
    return f"{where}, {'silent' if level <= FAINT_DB else number_text(round(level, 1), 'dB')}"


def draw_places(found: Sequence[Move]) -> PlacesPicture:
    """The picture of some moves.

    Args:
        found: parts and returns whose places and levels are known, those that move most of the mix first.
    """
    levels = [db for move in found for db in move.levels if db is not None and db > FAINT_DB] or [0.0]
    high = ceil(max(levels) / 6.0) * 6.0
    low = max(floor(min(levels) / 6.0) * 6.0, high + LOWEST_DB)
    low = min(low, high - 12.0)
    moved = [move for move in found if move.moved][:DRAWN]
    named = moved[:LABELLED]
    height = float(max(LEAST_HEIGHT, PITCH * (len(named) // 2 + 2)))
    gone = any(db is not None and db <= FAINT_DB for move in moved if move.was and move.now for db in move.levels)
    foot = TOP + height + (SILENT if gone else 0.0)

    def x(pan: float) -> float:
        return round(LEFT + (RIGHT - LEFT) * (min(max(pan, -100.0), 100.0) + 100.0) / 200.0, 1)

    def y(db: float) -> float:
        if db <= FAINT_DB:
            return round(foot - SILENT / 3.0, 1)
        return round(TOP + height * (high - max(db, low)) / (high - low), 1)

    ends = [_ends(move, x, y) for move in moved]
    ends = _side_by_side(ends)
    arrows = tuple(_arrow(move, *end) for move, end in zip(moved, ends, strict=True))
    still = tuple(
        (x(move.pans[1] or 0.0), y(move.levels[1] or 0.0), move.a_return, f"{move.name}: as before")
        for move in found
        if not move.moved and move.now is not None and (move.levels[1] or 0.0) > FAINT_DB
    )[: max(0, DRAWN - len(moved))]
    labels = _labels(named, arrows[: len(named)], height)
    step = 6.0 if high - low <= 36.0 else 12.0
    scale = tuple((y(high - n * step), number_text(high - n * step)) for n in range(int((high - low) / step) + 1))
    places = tuple(
        (x(pan), said)
        for pan, said in ((-100.0, "left"), (-50.0, "50"), (0.0, "centre"), (50.0, "50"), (100.0, "right"))
    )
    last = max([foot, *(label.y for label in labels)])
    return PlacesPicture(
        last + 30.0, foot, arrows, still, labels, scale, places, round(foot - SILENT / 3.0, 1) if gone else None
    )


def _ends(move: Move, x: object, y: object) -> Ends:
    assert callable(x)
    assert callable(y)
    (was, now), (before, after) = move.pans, move.levels
    if move.was is None:
        was, before = now, after
    if move.now is None:
        now, after = was, before
    return x(was or 0.0), y(before or 0.0), x(now or 0.0), y(after or 0.0)


def _side_by_side(ends: Sequence[Ends]) -> list[Ends]:
    """The same ends, those that would lie on one another moved aside: to the right and the left in turn."""
    placed: list[Ends] = []
    for end in ends:
        for turn in range(8):
            aside = BESIDE * ((turn + 1) // 2) * (1 if turn % 2 else -1)
            here = (end[0] + aside, end[1], end[2] + aside, end[3])
            inside = all(LEFT - BESIDE <= one <= RIGHT + BESIDE for one in (here[0], here[2]))
            if inside and not any(_on_one_another(here, other) for other in placed):
                break
        else:
            here = end
        placed.append(here)
    return placed


def _on_one_another(one: Ends, other: Ends) -> bool:
    """Whether two arrows share an end, or run along each other."""
    ends = ((x, y, u, v) for x, y in (one[:2], one[2:]) for u, v in (other[:2], other[2:]))
    if any(abs(x - u) < BESIDE and abs(y - v) < BESIDE for x, y, u, v in ends):
        return True
    along = abs(one[0] - other[0]) < BESIDE and abs(one[2] - other[2]) < BESIDE
    apart_by = max(min(one[1], one[3]) - max(other[1], other[3]), min(other[1], other[3]) - max(one[1], one[3]))
    return along and apart_by < BESIDE


def _arrow(move: Move, x1: float, y1: float, x2: float, y2: float) -> Arrow:
    shape = "added" if move.was is None else "removed" if move.now is None else "moved"
    if shape == "moved" and (move.levels[1] or 0.0) <= FAINT_DB:
        shape = "removed"
    length = hypot(x2 - x1, y2 - y1)
    path = ""
    if move.was is not None and move.now is not None and length > 2.0 * RADIUS + 2.0:
        dx, dy = (x2 - x1) / length, (y2 - y1) / length
        a, b = (x1 + dx * RADIUS, y1 + dy * RADIUS), (x2 - dx * (RADIUS + 1.0), y2 - dy * (RADIUS + 1.0))
        path = f"M{a[0]:.1f} {a[1]:.1f}L{b[0]:.1f} {b[1]:.1f}"
        if length > 2.0 * RADIUS + 2.0 * HEAD:
            back = (b[0] - dx * HEAD, b[1] - dy * HEAD)
            side = (-dy * HEAD * 0.6, dx * HEAD * 0.6)
            path += (
                f"M{back[0] + side[0]:.1f} {back[1] + side[1]:.1f}L{b[0]:.1f} {b[1]:.1f}"
                f"L{back[0] - side[0]:.1f} {back[1] - side[1]:.1f}"
            )
    kind = f"{shape} {'return' if move.a_return else 'part'}"
    return Arrow(round(x1, 1), y1, round(x2, 1), y2, kind, path, f"{move.name}: {move.text}")


def _labels(named: Sequence[Move], arrows: Sequence[Arrow], height: float) -> tuple[Label, ...]:
    """The names in the two margins, each as near to the height of its mark as the others leave room."""
    sides: dict[bool, list[tuple[float, int]]] = {False: [], True: []}
    room = len(named) // 2 + 1
    middle = (LEFT + RIGHT) / 2.0
    order = sorted(range(len(named)), key=lambda at: -abs(arrows[at].x2 - middle))
    for at in order:
        x = arrows[at].x2
        right = x > middle if abs(x - middle) > 1.0 else len(sides[True]) < len(sides[False])
        if len(sides[right]) >= room:
            right = not right
        sides[right].append((arrows[at].y2, at))
    labels: list[tuple[int, Label]] = []
    for right, here in sides.items():
        here.sort()
        places = apart([y for y, _ in here], PITCH, TOP + 4.0, TOP + height)
        for (_, at), y in zip(here, places, strict=True):
            move, mark = named[at], arrows[at]
            x = RIGHT + MARGIN if right else LEFT - MARGIN
            sign = 1.0 if right else -1.0
            edge = (RIGHT + 8.0) if right else (LEFT - 8.0)
            line = f"M{x - sign * 4.0:.0f} {y:.1f}L{edge:.0f} {mark.y2:.1f}H{mark.x2 + sign * (RADIUS + 2.0):.1f}"
            text = fitted(f"{fitted(move.name, NAME)}: {move.brief}", LEFT - MARGIN)
            labels.append((at, Label(x, round(y + 4.0, 1), "start" if right else "end", text, line, mark.title)))
    return tuple(label for _, label in sorted(labels))
