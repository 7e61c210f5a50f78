"""The shapes that pictures share, in user units, and how large a mark is for its loudness."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

BIGGEST, SMALLEST = 10.0, 3.0
"""Radii of the loudest mark and of those too quiet to tell apart."""
LOUDNESS: Final = 0.1505
"""A radius is the power to this, so that its area halves for every 10 dB less, as loudness in sones does (Stevens, JASA
51, 1972; from memory)."""

GRADES: Final = {
    "hold": "filled diamond: do not bounce",
    "look": "open triangle: look first",
    "note": "ring: a note",
    "ask": "square: a question",
}
"""What the marks of findings stand for, everywhere; ``templates/grade.j2`` draws them."""


def grades_text(used: Iterable[str]) -> tuple[str, ...]:
    """The sentence of a legend about the marks that are used; none where none is."""
    there = set(used)
    said = "; ".join(text for grade, text in GRADES.items() if grade in there)
    return (f"{said[0].upper()}{said[1:]}.",) if said else ()


def radius(power: float, loudest: float) -> float:
    """The radius of a mark of some power beside the loudest one's."""
    if power <= 0.0 or loudest <= 0.0:
        return SMALLEST
    return max(SMALLEST, round(BIGGEST * float((power / loudest) ** LOUDNESS), 2))


@dataclass(frozen=True, slots=True)
class Spot:
    """A mark: ``kind`` is its class in the style; ``r`` its radius."""

    x: float
    y: float
    r: float
    kind: str
    title: str


@dataclass(frozen=True, slots=True)
class Label:
    """A text with its box: from ``x0`` to ``x1`` around the middle ``y``; ``anchor`` as in SVG."""

    x: float
    y: float
    text: str
    anchor: str
    kind: str
    x0: float
    x1: float
    title: str = ""


@dataclass(frozen=True, slots=True)
class Flag:
    """The mark of a finding: its left edge and middle, its grade and what it says."""

    x: float
    y: float
    grade: str
    title: str


@dataclass(frozen=True, slots=True)
class Mark:
    """Something to look at, around its middle: its shape (of ``GRADES`` or the picture's own) and title."""

    kind: str
    x: float
    y: float
    title: str


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line: points, horizontal or vertical from one to the next; ``kind`` is its class in the style."""

    points: tuple[tuple[float, float], ...]
    kind: str

    @property
    def path(self) -> str:
        """As an SVG path."""
        return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in self.points)
