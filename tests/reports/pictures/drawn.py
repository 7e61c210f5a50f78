"""What the tests of pictures share: small sessions, and whether anything in a drawing lies on anything else."""

from __future__ import annotations

from itertools import combinations, pairwise
from typing import Any

from mixlint.facts import SessionContext
from mixlint.reports.page.environment import environment
from mixlint.reports.pictures import KINDS
from mixlint.reports.pictures.picture import Missing, Picture, Scene
from mixlint.review import Finding
from mixlint.session import Channel, Clip, Insert, Send, Session

HALF = 7.5
"""Half the height of a line of text, user units."""


def strip(ident: str, kind: str = "track", output: str | None = "mix", **more: Any) -> Channel:
    """A strip that is called by its id, unless a name is given."""
    made = {"id": ident, "name": ident, "kind": kind, "output": output, "legs": 1 if kind == "track" else 2, **more}
    if kind == "track":
        made.setdefault("clips", (Clip(start_s=0.0, end_s=60.0),))
    return Channel.model_validate(made)


def session(*strips: Channel, **more: Any) -> Session:
    """A session of some strips and a mix bus."""
    return Session(title="Lamp Song", channels=(*strips, strip("mix", "master", None)), **more)


def hall(ident: str, pan: float = 0.0, **more: Any) -> Channel:
    """A return with a reverb on it."""
    return strip(ident, "return", pan=pan, inserts=(Insert(name="Stair Well", kind="reverb", wet=100.0),), **more)


def to(target: str, level_db: float = -9.0) -> Send:
    """An open send."""
    return Send(to=target, level_db=level_db)


def picture(name: str, of: Session, *findings: Finding) -> Picture | Missing | None:
    """One picture of a session."""
    kind = next(kind for kind in KINDS if kind.name == name)
    return kind.draw(Scene(SessionContext(of), findings))


def geometry(made: Picture | Missing | None) -> Any:
    """What a picture is drawn of."""
    assert isinstance(made, Picture)
    return made.drawing


def svg_of(drawn: Picture) -> str:
    """A picture as it stands on the page, with its caption and its table."""
    return environment().get_template("figure.html.j2").render(picture=drawn, number=1)


def collisions(d: Any) -> list[str]:
    """What lies on something else, or outside of the drawing: labels on labels, marks, lines and flags."""
    found = []
    for label in d.labels:
        top, bottom = label.y - HALF, label.y + HALF
        if label.x0 < 0 or label.x1 > d.width or top < 0 or bottom > d.height:
            found.append(f"{label.text} leaves the drawing")
        for stroke in getattr(d, "strokes", ()):
            for (x1, y1), (x2, y2) in pairwise(stroke.points):
                beside = max(x1, x2) <= label.x0 + 0.1 or min(x1, x2) >= label.x1 - 0.1
                if not beside and max(y1, y2) > top and min(y1, y2) < bottom:
                    found.append(f"{label.text} on a line")
        for spot in getattr(d, "spots", ()):
            if label.x0 < spot.x + spot.r and spot.x - spot.r < label.x1 and abs(spot.y - label.y) < HALF + spot.r:
                found.append(f"{label.text} on a mark")
        for flag in d.flags:
            if label.x0 < flag.x + 9 and flag.x < label.x1 - 0.1 and abs(flag.y - label.y) < HALF + 4:
                found.append(f"{label.text} on a flag")
    for one, other in combinations(d.labels, 2):
        if one.x0 < other.x1 and other.x0 < one.x1 and abs(one.y - other.y) < 2 * HALF:
            found.append(f"{one.text} on {other.text}")
    for one, other in combinations(getattr(d, "spots", ()), 2):
        if (one.x - other.x) ** 2 + (one.y - other.y) ** 2 < (one.r + other.r - 0.1) ** 2:
            found.append("two marks on each other")
    return found
