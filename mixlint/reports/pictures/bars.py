"""Bars of counts, each parted by grade or by outcome: what a survey draws. A row a thing, all to one scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

from mixlint.reports.pictures.lettering import fitted
from mixlint.reports.pictures.picture import Picture, Words
from mixlint.reports.plain import neutral

WIDTH: Final = 900
LEFT: Final = 300
"""Where the bars begin; their names stand before."""
RIGHT: Final = 830
"""Where the longest ends; its number stands behind."""
PITCH, THICK, TOP = 26, 14, 12
BESIDE: Final = 10
MOST_BARS: Final = 24
"""So many bars are drawn: a bound of size. The words beside the picture have all rows."""

SIGNS: Final = ("full", "half", "empty")
"""How the parts of a bar are told apart, on paper too: filled, shaded within a line, and a line alone."""


class Bar(NamedTuple):
    """One bar before it is drawn: its name, and its parts in the order of the picture's."""

    name: str
    parts: tuple[int, ...]


class Part(NamedTuple):
    """A drawn part: where it begins, how long it is, its sign, and what it says."""

    x: float
    width: float
    sign: str
    title: str


class Drawn(NamedTuple):
    """A drawn bar: its upper edge, its name and the number behind it."""

    y: int
    name: str
    title: str
    parts: tuple[Part, ...]
    end: float
    number: str


@dataclass(frozen=True, slots=True)
class BarsPicture:
    """The bars, one below another."""

    bars: tuple[Drawn, ...]
    height: int
    width: int = WIDTH
    left: int = LEFT
    thick: int = THICK
    beside: int = BESIDE


def draw(title: str, answer: str, what: str, parts: Sequence[str], bars: Sequence[Bar]) -> Picture:
    """The picture.

    Args:
        title: its heading.
        answer: its caption.
        what: the title of the column of names, in the words beside it.
        parts: what the parts of a bar are called, at most three.
        bars: the bars, the first on top.
    """
    most = max((sum(one.parts) for one in bars), default=0) or 1
    drawn = tuple(_drawn(place, one, parts, most) for place, one in enumerate(bars[:MOST_BARS]))
    rows = tuple((neutral(one.name), *map(str, one.parts), str(sum(one.parts))) for one in bars)
    legend: tuple[str, ...] = (
        f"{'; '.join(f'{_SAID[sign]}: {part}' for sign, part in zip(SIGNS, parts, strict=False))}.",
    )
    if len(bars) > MOST_BARS:
        legend += (f"{len(bars) - MOST_BARS} more stand in the words below.",)
    picture = BarsPicture(drawn, TOP * 2 + PITCH * max(len(drawn), 1))
    return Picture("bars", title, answer, picture, Words((what, *parts, "together"), rows), legend)


_SAID: Final = {"full": "filled", "half": "shaded", "empty": "outlined"}


def _drawn(place: int, bar: Bar, parts: Sequence[str], most: int) -> Drawn:
    x, found = float(LEFT), []
    for number, what, sign in zip(bar.parts, parts, SIGNS, strict=False):
        width = round(number / most * (RIGHT - LEFT), 1)
        if width:
            found.append(Part(round(x, 1), width, sign, f"{number} {what}"))
        x += width
    name = neutral(bar.name)
    y = TOP + place * PITCH
    return Drawn(y, fitted(name, LEFT - 2 * BESIDE), name, tuple(found), round(x, 1), str(sum(bar.parts)))
