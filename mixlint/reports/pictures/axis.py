"""Scales, ticks, and room for labels: what pictures have in common.

Lengths are user units of a drawing whose text is 12 units high.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil, isfinite, log10
from typing import Final, NamedTuple

from mixlint.reports.pictures.lettering import fitted, text_width
from mixlint.reports.pictures.spacing import straightened
from mixlint.units import clock_text

STEPS_S: Final = (5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 300.0, 600.0, 1800.0, 3600.0)
FREQUENCIES_HZ: Final = (20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000)


@dataclass(frozen=True, slots=True)
class Scale:
    """Where a value lies along an axis.

    Args:
        low, high: the values at its ends, the first the lower.
        start, end: where these lie, user units.
        log: equal ratios take equal room; both ends are over 0 then.
    """

    low: float
    high: float
    start: float
    end: float
    log: bool = False

    def at(self, value: float) -> float:
        """Where a value lies, to a tenth of a unit; one beyond an end lies at that end."""
        value = min(max(value, self.low), self.high)
        share = log10(value / self.low) / log10(self.high / self.low) if self.log else self._share(value)
        return round(self.start + share * (self.end - self.start), 1)

    def _share(self, value: float) -> float:
        return (value - self.low) / (self.high - self.low)


def time_ticks(first_s: float, last_s: float, most: int = 12) -> tuple[tuple[float, str], ...]:
    """Round moments between two, at most about ``most`` of them, each with its label: ``1:30``."""
    step = next((s for s in STEPS_S if (last_s - first_s) / s <= most), STEPS_S[-1])
    step *= max(1, ceil((last_s - first_s) / step / most))
    begin = ceil(first_s / step)
    count = int((last_s - begin * step) // step) + 1
    return tuple(((begin + n) * step, clock_text((begin + n) * step).split(".")[0]) for n in range(max(0, count)))


def frequency_text(hertz: float) -> str:
    """A frequency on an axis: ``50``, ``2k``."""
    return f"{hertz / 1000:g}k" if hertz >= 1000 else f"{hertz:g}"


class Label(NamedTuple):
    """A label that has found its place: its left edge, its row from 0, and as much of its text as fits."""

    x: float
    row: int
    text: str


def laid_out(
    wishes: Sequence[tuple[float, str]],
    low: float,
    high: float,
    *,
    rows: int,
    most: float,
    gap: float = 8.0,
    bold: bool = False,
    lines: bool = True,
) -> tuple[Label | None, ...]:
    """Labels in rows, each beside a line that goes down from it; None for one that finds no room.

    None touches another, leaves the frame, or is crossed by the line of one in a row over it.

    Args:
        wishes: where each line is, and the text; any order. A label begins right of its line, and where it would leave
            the frame ends left of it.
        low, high: the frame.
        rows: so many there are; row 0 is the highest.
        most: no label is wider.
        gap: what is kept free between two in one row; half of it between a label and its line.
        bold: the texts are bold.
        lines: there are lines; without, a label begins where it is wished, or as near to that as the frame lets it.
    """
    found: list[Label | None] = [None] * len(wishes)
    free = [low] * rows
    for place in sorted(range(len(wishes)), key=lambda n: wishes[n][0]):
        wish, text = wishes[place]
        text = fitted(text, min(most, high - low), bold=bold)
        width = text_width(text, bold=bold)
        x = wish + gap / 2 if lines else max(low, min(wish, high - width))
        if x + width > high:
            x = max(low, min(wish - gap / 2, high) - width)
        row = next((n for n in range(rows) if max(free[n:]) <= x), None)
        if row is None or not text:
            continue
        found[place] = Label(round(x, 1), row, text)
        free[row] = x + width + gap
        if lines:  # its line goes down through the rows under it
            free[row:] = [max(end, wish + gap / 2) for end in free[row:]]
    return tuple(found)


Point = tuple[float, float]


def pieces_of(points: Iterable[Point]) -> list[list[Point]]:
    """Runs of points in order, parted where a value is no number."""
    runs: list[list[Point]] = [[]]
    for x, y in points:
        if isfinite(y):
            runs[-1].append((x, y))
        elif runs[-1]:
            runs.append([])
    return [run for run in runs if run]


def path_of(run: Sequence[Point]) -> str:
    """A run of drawn points as an SVG path; of a lone one a stroke too short to have a direction."""
    if len(run) == 1:
        return f"M{run[0][0]:g} {run[0][1]:g}h.1"
    return "M" + "L".join(f"{x:g} {y:g}" for x, y in straightened(thinned(run), STRAIGHT))


STRAIGHT: Final = 0.15
"""A point that lies so near to the line between its neighbours is not seen, user units."""


def thinned(run: Sequence[Point], every: float = 1.0) -> list[Point]:
    """At most two points for each ``every`` units of width, the highest and the lowest of them, in order."""
    kept = extremes((int(point[0] // every), point) for point in run)
    if kept and kept[-1] != run[-1] and len(run) > 1:
        kept.append(run[-1])
    return kept


def extremes(placed: Iterable[tuple[int, Point]]) -> list[Point]:
    """Of points with their columns, rising, the highest and the lowest of each column, in order."""
    columns: dict[int, list[Point]] = {}
    for column, point in placed:
        columns.setdefault(column, []).append(point)
    kept: list[Point] = []
    for here in columns.values():
        ends = {here.index(min(here, key=lambda p: p[1])), here.index(max(here, key=lambda p: p[1]))}
        kept += [here[n] for n in sorted(ends)]
    return kept
