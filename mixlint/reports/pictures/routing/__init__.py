"""The routing as a layered drawing: who feeds whom, by which way, how loud, and what is wrong where.

``wires`` asks the session, ``folding`` says which strips share a box, ``layout`` (with ``graph``, ``ordering`` and
``heights``) finds the places and courses, ``drawing`` makes boxes, lines and marks of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence, Set
from typing import Final

from mixlint.analysis.context import SessionContext
from mixlint.reports.pictures.picture import Missing, Picture, Scene, Words
from mixlint.reports.pictures.routing.drawing import Drawing
from mixlint.reports.pictures.routing.folding import MOST_NAMES, folded_drawing, is_large, plain_drawing, wire_text
from mixlint.reports.pictures.routing.wires import Strip, Wires, wires_of
from mixlint.reports.plain import neutral
from mixlint.reports.words import counts_of
from mixlint.review.findings import Finding
from mixlint.units import few_text


def draw(scene: Scene, name: str, title: str) -> Picture | Missing:
    """The wiring of a session."""
    wires = wires_of(scene.context, scene.findings)
    if not wires.strips:
        return Missing(name, title, "the session has no channel that carries audio")
    drawn = folded_drawing(scene.context, wires) if is_large(wires) else plain_drawing(wires)
    return Picture(name, title, _answer(wires), drawn, _words(wires, drawn), _legend(drawn))


def _legend(drawn: Drawing) -> tuple[str, ...]:
    """How to read it; of styles and marks those that it holds."""
    whole = [drawn, *(one.drawing for one in drawn.families if one.drawing is not None)]
    lines = [line for one in whole for line in one.lines]
    kinds, shapes = {line.kind for line in lines}, {box.shape for one in whole for box in one.boxes}
    sorts = {mark.sort for one in whole for mark in one.marks}
    quiet = any(line.quiet for line in lines) or any(box.quiet for one in whole for box in one.boxes)
    said = ["Signals run from left to right; the thicker a line, the more gain from the inserts on."] if lines else []
    said += _listed(LINES, kinds)
    said += ["Lines of one kind to one strip join on their way."] if any(line.shared for line in lines) else []
    said += ["Hollow: its level is not seen."] if any(line.hollow for line in lines) else []
    said += ["Faint: silent."] if quiet else []
    return (*said, *_listed(SHAPES, shapes), *_listed(MARKS, sorts))


def _listed(words: Mapping[str, str], used: Set[str]) -> list[str]:
    """``Diamond: holds the bounce; star: soloed.`` of what is used."""
    said = "; ".join(word for key, word in words.items() if key in used)
    return [f"{said[0].upper()}{said[1:]}."] if said else []


LINES: Final = {
    "output": "unbroken: output",
    "post": "dashed: post-fader send",
    "pre": "dotted: pre-fader send",
    "untold": "dashed and dotted: a send of which it is not seen whether it is taken before the fader",
}
SHAPES: Final = {
    "group": "upright line in a box: a group",
    "return": "round ends: a return",
    "mix": "heavy: the mix bus",
    "unknown": "broken: the kind is not seen",
    "family": "double: a family of strips",
}
MARKS: Final = {
    "hold": "filled diamond: holds the bounce",
    "look": "triangle: look first",
    "muted": "crossed circle: muted",
    "at-times": "half a circle: muted at times",
    "solo": "star: soloed",
    "dead": "bar: reaches no mix bus",
    "unseen": "question mark: not seen",
    "loop": "ring: a loop, drawn back at its weakest line",
}


def draw_routing(context: SessionContext, findings: Iterable[Finding] = ()) -> Drawing | None:
    """The drawing alone; None where no channel carries audio."""
    wires = wires_of(context, findings)
    if not wires.strips:
        return None
    return folded_drawing(context, wires) if is_large(wires) else plain_drawing(wires)


def _answer(wires: Wires) -> str:
    """What reaches the mix bus; then what runs in a ring, is soloed or muted."""
    dead = [one.name for one in wires.strips if one.ends == "dead"]
    unseen = [one.name for one in wires.strips if one.ends == "unseen"]
    if wires.no_mix is not None:
        said = "Which strips reach the mix bus is not known, since " + wires.no_mix.unknown
    elif dead:
        said = f"{_several(dead)} {'does' if len(dead) == 1 else 'do'} not reach the mix bus"
        said += f"; of {_several(unseen)} it is not seen" if unseen else ""
    elif unseen:
        said = f"Whether {_several(unseen)} {'reaches' if len(unseen) == 1 else 'reach'} the mix bus is not seen"
    else:
        said = f"All {len(wires.strips)} strips reach the mix bus" if len(wires.strips) > 1 else "There is one strip"
    more = [_ring_text(names) for names in wires.loops[:2]]
    more += [f"{len(wires.loops) - 2} more loops"] if len(wires.loops) > 2 else []
    solo = [one.name for one in wires.strips if one.solo]
    muted = [one.name for one in wires.strips if one.muted == "throughout"]
    more += [f"{_several(solo)} {'is' if len(solo) == 1 else 'are'} soloed"] if solo else []
    more += [f"{_several(muted)} {'is' if len(muted) == 1 else 'are'} muted"] if muted else []
    return f"{said}. {'; '.join(more)}." if more else f"{said}."


def _ring_text(names: Sequence[str]) -> str:
    """``Hall and Slap feed each other``."""
    if len(names) == 1:
        return f"{names[0]} feeds itself"
    return f"{_several(list(names))} feed each other" + (" in a ring" if len(names) > 2 else "")


def _several(names: list[str]) -> str:
    if len(names) > 3:
        return few_text(names, 3)
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def _words(wires: Wires, drawn: Drawing) -> Words:
    """A row for each connection, or each line of a folded drawing; one for each family, and one for each strip of
    which more is to be said."""
    rows: list[tuple[str, ...]] = []
    if drawn.families:
        for line in drawn.lines:
            if not line.shared:
                start, _, what = line.title.partition(": ")
                rows.append((start, what))
        rows += [(one.title, one.said) for one in drawn.families]
    else:
        names = {one.id: one.name for one in wires.strips}
        for wire in wires.wires:
            start = f"{names[wire.source]} to {names[wire.to]}"
            told = [wire_text(wire, names).removeprefix(f"{start}: ")]
            told += [f"closes the loop {wire.loop}"] if wire.cut else []
            told += [neutral(one.message) for one in wire.findings]
            rows.append((start, ". ".join(told)))
    said = _strip_rows(wires.strips)
    if drawn.families:  # the same of many strips is told once
        who: dict[tuple[str, ...], list[str]] = {}
        for row in said:
            who.setdefault(row[1:], []).append(row[0])
        said = [(few_text(names, MOST_NAMES), *told) for told, names in who.items()]
    return Words(("from and to, or strip", "what it is"), (*rows, *said))


def _strip_rows(strips: Iterable[Strip]) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = []
    for one in strips:
        said = {"throughout": "muted", "at times": "muted at times, by automation", "": ""}[one.muted]
        ends = {"dead": "reaches no mix bus", "unseen": "whether it reaches the mix bus is not seen", "": ""}[one.ends]
        found = [said, "soloed" if one.solo else "", ends, *one.unseen]
        found += [counts_of(len(one.findings), "finding") + " marked"] if one.findings else []
        found = [text for text in found if text]
        if found:
            rows.append((one.name, "; ".join(found)))
    return rows
