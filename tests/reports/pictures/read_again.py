"""A picture as its template writes it, read again: its size, its texts where they stand, and what overlaps."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import NamedTuple

from lxml import etree

from mixlint.reports.page.environment import environment
from mixlint.reports.pictures.lettering import text_width
from mixlint.reports.pictures.picture import Missing, Picture


class Box(NamedTuple):
    """A text and the room it takes, in user units."""

    text: str
    x1: float
    y1: float
    x2: float
    y2: float


def markup(picture: Picture | Missing | None) -> str:
    """The drawing as its template writes it."""
    assert isinstance(picture, Picture)
    return environment().get_template(f"{picture.name}.svg.j2").render(picture=picture, d=picture.drawing, number=1)


def svg(picture: Picture | Missing | None) -> etree._Element:
    """The same, read by a parser that recovers nothing."""
    return etree.fromstring(markup(picture).encode(), etree.XMLParser(recover=False))


def texts(drawing: etree._Element) -> Iterator[Box]:
    """Every text with the room it takes."""
    for element in drawing.iter("text"):
        dx = dy = 0.0
        for above in element.iterancestors("g"):
            moved = above.get("transform", "translate(0 0)").removeprefix("translate(").removesuffix(")").split()
            dx, dy = dx + float(moved[0]), dy + float(moved[1])
        said = element.text or ""
        width = text_width(said)
        left = float(element.get("x", "0")) - {"end": width, "middle": width / 2.0}.get(
            element.get("text-anchor", "start"), 0.0
        )
        y = float(element.get("y", "0"))
        yield Box(said, dx + left, dy + y - 9.5, dx + left + width, dy + y + 3.0)


def overlaps(drawing: etree._Element) -> list[tuple[str, str]]:
    """The texts that lie on one another."""
    return [
        (one.text, other.text)
        for one, other in combinations(texts(drawing), 2)
        if one.x1 < other.x2 and other.x1 < one.x2 and one.y1 < other.y2 and other.y1 < one.y2
    ]


def outside(drawing: etree._Element) -> list[Box]:
    """The texts that leave the picture."""
    _, _, width, height = map(float, drawing.get("viewBox", "").split())
    return [one for one in texts(drawing) if one.x1 < -0.5 or one.x2 > width + 0.5 or one.y1 < 0.0 or one.y2 > height]
