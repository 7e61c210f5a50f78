"""The gains of parts and returns to the mix bus, before and now, as slopes; the most changed are numbered."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.comparison import Tolerances
from mixlint.reports.pictures.lettering import fitted
from mixlint.reports.pictures.moved import FAINT_DB, Move, share_text, together_db
from mixlint.reports.pictures.moved.places import Label
from mixlint.reports.pictures.picture import Missing, Picture, Words
from mixlint.reports.pictures.spacing import apart
from mixlint.reports.words import counts_of
from mixlint.units import number_text

if TYPE_CHECKING:
    from collections.abc import Sequence

WIDTH: Final = 900
BEFORE, AFTER = 318, 560
"""Where the two revisions stand."""
TOP, PITCH, LEAST_HEIGHT, SILENT = 30, 17, 220, 26
BESIDE: Final = 30
"""From a revision to its labels; the lines to them are drawn there."""
NAME: Final = 160.0
"""The width of a name beside its level."""
LABELLED, DRAWN = 30, 240
"""So many levels are named, the most changed, and so many drawn: bounds of size."""
LOWEST_DB: Final = -60.0

LEGEND = (
    "Each line runs from the gain to the mix bus before to the one now, the most changed numbered first.",
    "Unbroken: louder; broken: softer; faint: as before.",
)


class Slope(NamedTuple):
    """One line: its ends, and whether it rises, falls or stays."""

    y1: float
    y2: float
    way: str
    title: str


@dataclass(frozen=True, slots=True)
class LevelsPicture:
    """The two revisions as two upright lines with slopes between them."""

    height: float
    foot: float
    slopes: tuple[Slope, ...]
    labels: tuple[Label, ...]
    silent: float | None
    width: int = WIDTH
    before: int = BEFORE
    after: int = AFTER
    top: int = TOP


def draw(found: Sequence[Move], name: str, title: str) -> Picture | Missing:
    """The levels of both revisions."""
    ranked = by_change(found)
    if not ranked:
        why = "no part and no return changed in level"
        return Missing(name, title, f"{why}, as far as both revisions show it" if _unseen(found) else why)
    drawn = draw_levels(ranked, [move for move in found if move not in ranked and None not in move.levels])
    return Picture(name, title, _answer(found, ranked), drawn, _words(found, ranked), LEGEND)


def by_change(found: Sequence[Move]) -> list[Move]:
    """Whoever changed in level, the most changed first; who came, went or fell silent before all others."""
    least = Tolerances().level_db
    changed = [
        move
        for move in found
        if None not in move.levels and (_turned(move) or (move.by_db is not None and abs(move.by_db) >= least))
    ]
    return sorted(changed, key=lambda move: (not _turned(move), -abs(move.by_db or 0.0)))


def _turned(move: Move) -> bool:
    was, now = ((db or 0.0) <= FAINT_DB for db in move.levels)
    return was is not now


def _unseen(found: Sequence[Move]) -> bool:
    return any(None in move.levels for move in found)


def _answer(found: Sequence[Move], ranked: Sequence[Move]) -> str:
    up = sum((move.levels[1] or 0.0) > (move.levels[0] or 0.0) for move in ranked)
    said = f"{counts_of(up, 'level')} up, {len(ranked) - up} down"
    shift = together_db(tuple(found))
    if shift:
        way = "up" if shift > 0.0 else "down"
        said = f"The parts move together by {number_text(abs(round(shift, 1)), 'dB')} {way}: {said}"
    first = ranked[0]
    said += f"; most of all {first.name}, {first.text}."
    hidden = sum(None in move.levels for move in found)
    return said + (f" {counts_of(hidden, 'level')} not seen." if hidden else "")


def _words(found: Sequence[Move], ranked: Sequence[Move]) -> Words:
    rows = []
    for move in ranked[: 4 * LABELLED]:
        by = "" if move.by_db is None else f"{'+' if move.by_db > 0.0 else ''}{number_text(round(move.by_db, 1), 'dB')}"
        rows.append((move.name, *(_at(move, end) for end in (0, 1)), by or move.text, share_text(move.share)))
    if len(ranked) > len(rows):
        rows.append((f"{len(ranked) - len(rows)} more", *[""] * 4))
    rows += [
        (move.name, *(_at(move, end) for end in (0, 1)), "not known", "") for move in found if None in move.levels
    ][:99]
    return Words(("who", "before", "now", "change", "of the mix's energy"), tuple(rows))


def _at(move: Move, end: int) -> str:
    """The level before (0) or now (1), in words."""
    db = move.levels[end]
    if (move.was, move.now)[end] is None:
        return "not there"
    return "not seen" if db is None else "silent" if db <= FAINT_DB else number_text(round(db, 1), "dB")


def draw_levels(ranked: Sequence[Move], others: Sequence[Move] = ()) -> LevelsPicture:
    """The picture of some levels.

    Args:
        ranked: whose levels changed, the most changed first.
        others: whose did not.
    """
    every = [*ranked[:DRAWN], *others[: max(0, DRAWN - len(ranked))]]
    levels = [db for move in every for db in move.levels if db is not None and db > FAINT_DB] or [0.0]
    high = ceil(max(levels) / 6.0) * 6.0
    low = min(max(floor(min(levels) / 6.0) * 6.0, high + LOWEST_DB), high - 6.0)
    named = ranked[:LABELLED]
    height = float(max(LEAST_HEIGHT, PITCH * (len(named) + 1)))
    gone = any(db is not None and db <= FAINT_DB for move in ranked[:DRAWN] for db in move.levels)
    foot = TOP + height + (SILENT if gone else 0.0)

    def y(db: float | None) -> float:
        if db is None or db <= FAINT_DB:
            return round(foot - SILENT / 3.0, 1)
        return round(TOP + height * (high - max(db, low)) / (high - low), 1)

    slopes = tuple(
        Slope(
            y(move.levels[0]),
            y(move.levels[1]),
            _way(move),
            f"{move.name}: {_at(move, 0)} to {_at(move, 1)}",
        )
        for move in every
        if move in ranked or all((db or 0.0) > FAINT_DB for db in move.levels)
    )
    labels = (*_labels(named, 0, y, foot), *_labels(named, 1, y, foot))
    silent = round(foot - SILENT / 3.0, 1) if gone else None
    return LevelsPicture(foot + 14.0, foot, slopes, labels, silent)


def _way(move: Move) -> str:
    if _turned(move):
        return "up" if (move.levels[1] or 0.0) > FAINT_DB else "down"
    if move.by_db is None or abs(move.by_db) < Tolerances().level_db:
        return "still"
    return "up" if move.by_db > 0.0 else "down"


def _change(move: Move) -> str:
    """`` (+2.5)``; nothing where one of the levels is silence."""
    by = move.by_db
    return "" if by is None else f" ({'+' if by > 0.0 else ''}{number_text(round(by, 1))})"


def _labels(named: Sequence[Move], end: int, y: object, foot: float) -> list[Label]:
    assert callable(y)
    order = sorted(range(len(named)), key=lambda at: (y(named[at].levels[end]), at))
    places = apart([y(named[at].levels[end]) for at in order], PITCH, TOP, foot)
    x, sign = (BEFORE - BESIDE, -1.0) if end == 0 else (AFTER + BESIDE, 1.0)
    labels = []
    for at, place in zip(order, places, strict=True):
        move = named[at]
        level, name = _at(move, end), fitted(move.name, NAME)
        text = f"{name}, {level}" if end == 0 else f"{at + 1}. {name}, {level}{_change(move)}"
        start = BEFORE if end == 0 else AFTER
        line = f"M{x - sign * 4.0:.0f} {place:.1f}L{start + sign * 5.0:.0f} {y(move.levels[end])}"
        labels.append(
            Label(x, round(place + 4.0, 1), "end" if end == 0 else "start", text, line, f"{move.name}: {move.text}")
        )
    return labels
