"""What is drawn of a song over time, in user units: the frame, the bands one under another, and what lies in them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from mixlint.reports.pictures.shapes import Mark

WIDTH: Final = 900
LEFT: Final = 168
RIGHT: Final = 884
"""Between these the song lies; the names of the rows stand left of it."""

LINE: Final = 16
"""From one line of text to the next."""


@dataclass(frozen=True, slots=True)
class Text:
    """A text with its place on the baseline, and the whole of it where it was cut."""

    x: float
    y: float
    text: str
    whole: str = ""


@dataclass(frozen=True, slots=True)
class Curve:
    """One drawn line: its class in the style, its SVG paths, and what its title says."""

    kind: str
    paths: tuple[str, ...]
    title: str


@dataclass(frozen=True, slots=True)
class Band:
    """A band with a scale of its own.

    Args:
        title: what it shows.
        note: how it is known, under the title; or why there is nothing to draw.
        top, bottom: its edges.
        scale: the lines across it: height, label, and whether it is the line that counts most.
        curves: what is drawn in it.
        pins: marked points: place and height, the edge that a thin line comes from, and the label with its place.
    """

    title: str
    note: str
    top: float
    bottom: float
    scale: tuple[tuple[float, str, bool], ...] = ()
    curves: tuple[Curve, ...] = ()
    pins: tuple[Pin, ...] = ()


@dataclass(frozen=True, slots=True)
class Pin:
    """A point on a curve with a label over the band, and a thin line between the two."""

    x: float
    y: float
    top: float
    label: Text


@dataclass(frozen=True, slots=True)
class Section:
    """Where a section begins: its line from ``start`` to ``end`` over the bands, and on through them; and its name."""

    x: float
    start: float
    end: float
    label: Text | None
    title: str


@dataclass(frozen=True, slots=True)
class Shade:
    """A stretch that is told of: its edges, and its label over the bands."""

    x: float
    width: float
    label: Text | None
    title: str


@dataclass(frozen=True, slots=True)
class Loose:
    """Automation that does not come back: from where to where its control stays away, and at what height."""

    x: float
    end: float
    y: float


@dataclass(frozen=True, slots=True)
class Row:
    """What plays when: the name, the line of it with its gaps, and what lies on the line.

    Args:
        label: its name.
        path: the line; empty for a row that is there for its marks alone.
        heavy: the same within the stretches that it pulls to one side; empty for none.
        through: the line is of what passes the channel, not of what it plays itself.
        silent: nothing of it reaches the mix.
        marks, loose: what lies on it.
    """

    label: Text
    path: str
    heavy: str
    through: bool
    silent: bool
    marks: tuple[Mark, ...]
    loose: tuple[Loose, ...]


@dataclass(frozen=True, slots=True)
class Stack:
    """The whole drawing; what goes down through it is drawn in its panes, so that nothing crosses the texts between.

    Args:
        height: of all of it.
        bottom: the edge over the times.
        panes: the edges, upper and lower, of what has the song as its axis.
        sections, shades, bands, rows: what is drawn, from the top down.
        ticks: places and labels of times.
    """

    height: float
    bottom: float
    panes: tuple[tuple[float, float], ...]
    sections: tuple[Section, ...]
    shades: tuple[Shade, ...]
    bands: tuple[Band, ...]
    rows: tuple[Row, ...]
    ticks: tuple[tuple[float, str], ...]
    width: int = WIDTH
    left: int = LEFT
    right: int = RIGHT
