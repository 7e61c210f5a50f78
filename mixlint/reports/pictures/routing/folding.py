"""Strips and lines as they are drawn: each by itself, or in a large session a family of parts as one box."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import replace
from typing import Final

from mixlint.analysis.context import SessionContext
from mixlint.reports.pictures.lettering import fitted
from mixlint.reports.pictures.routing.drawing import Drawing, Family, Node, Said, Shape, Strand, drawn
from mixlint.reports.pictures.routing.graph import Link, layers_of, leading_back
from mixlint.reports.pictures.routing.wires import Strip, Wire, Wires
from mixlint.reports.plain import neutral
from mixlint.reports.words import counts_of
from mixlint.units import few_text

MOST_STRIPS: Final = 150
MOST_WIRES: Final = 600
MOST_LOOPS: Final = 20
"""A session with more of any is folded."""

MOST_BOXES: Final = 60
"""Where folding the tracks leaves more boxes than this, groups and returns are folded as well, and where it still does
the layers no longer part them."""

MOST_IN_FAMILY: Final = 500
"""The boxes and lines that a family's own drawing may have."""

MOST_WRITTEN: Final = 90_000
"""About how many characters all drawings of families may take together: more would make a page that nobody loads."""

FIRST_NAME: Final = 84.0
"""The room for the first name of strips that are wired alike, in user units: their number stands behind it."""

MOST_NAMES: Final = 40
"""Names that a title tells; all stand in the channel sheet."""


def plain_drawing(wires: Wires) -> Drawing:
    """Every strip and every line by itself."""
    place = {one.id: n for n, one in enumerate(wires.strips)}
    return drawn([node_of(one) for one in wires.strips], [_strand([one], place, wires) for one in wires.wires])


def is_large(wires: Wires) -> bool:
    """True where families are folded."""
    found = len(wires.strips), len(wires.wires), len(wires.loops)
    return any(one > most for one, most in zip(found, (MOST_STRIPS, MOST_WIRES, MOST_LOOPS), strict=True))


def node_of(strip: Strip) -> Node:
    """One strip."""
    told = [strip.name]
    marks = [Said("hold" if one.grade == "hold" else "look", neutral(one.message)) for one in strip.findings]
    if strip.muted:
        said = "muted" if strip.muted == "throughout" else "muted at times, by automation"
        told.append(said)
        marks.append(Said("muted" if strip.muted == "throughout" else "at-times", said))
    if strip.solo:
        told.append("soloed")
        marks.append(Said("solo", "soloed"))
    if strip.ends == "dead":
        told.append("reaches no mix bus")
        marks.append(Said("dead", "reaches no mix bus"))
    unseen = ["whether it reaches the mix bus is not seen"] if strip.ends == "unseen" else []
    unseen += [one for one in strip.unseen if not one.startswith("whether")]
    marks += [Said("unseen", one) for one in unseen]
    told += [*unseen, *(one for one in strip.unseen if one.startswith("whether"))]
    if strip.quiet and strip.muted != "throughout":
        told.append("silent")
    return Node(strip.name, _shape(strip), ", ".join(told), strip.quiet, tuple(marks))


def _shape(strip: Strip) -> Shape:
    if strip.mix:
        return "mix"
    shapes: dict[str, Shape] = {"track": "track", "group": "group", "return": "return", "master": "master"}
    return shapes.get(strip.kind, "unknown")


def wire_text(wire: Wire, names: Mapping[str, str]) -> str:
    """One line in words: ``Voice to Hall: post-fader send, send −9 dB, fader 0 dB (silent)``."""
    return f"{names[wire.source]} to {names[wire.to]}: {wire.said}{' (silent)' if wire.quiet else ''}"


def _strand(wires: Sequence[Wire], place: Mapping[str, int], all_: Wires, names: Sequence[str] = ()) -> Strand:
    """One or several lines of one kind between the same two boxes."""
    first = wires[0]
    gains = [one.gain for one in wires if one.gain is not None]
    marks = [
        Said("hold" if found.grade == "hold" else "look", neutral(found.message))
        for one in wires
        for found in one.findings
    ]
    marks += [Said("loop", f"a loop: {one.loop}") for one in wires if one.cut]
    if len(wires) == 1 and not names:
        title = wire_text(first, {one.id: one.name for one in all_.strips if one.id in (first.source, first.to)})
    else:
        kind = {"output": "output", "post": "post-fader send", "pre": "pre-fader send"}.get(first.kind, "send")
        quiet = sum(one.quiet for one in wires)
        title = f"{names[place[first.source]]} to {names[place[first.to]]}: {counts_of(len(wires), kind)}"
        title += f" ({'silent' if quiet == len(wires) else f'{quiet} of them silent'})" if quiet else ""
    return Strand(
        place[first.source],
        place[first.to],
        first.kind,
        max(gains, default=None),
        title,
        all(one.quiet for one in wires),
        any(one.loop for one in wires),
        any(one.cut for one in wires),
        tuple(one.number for one in wires),
        tuple(marks),
    )


def folded_drawing(context: SessionContext, wires: Wires) -> Drawing:
    """A box for each family of parts in each layer, with its lines merged; each family has a drawing of its own."""
    boxes = _boxes(context, wires)
    place = {one.id: n for n, box in enumerate(boxes) for one in box}
    names = [_name(context, box) for box in boxes]
    nodes = [
        node_of(box[0]) if len(box) == 1 else _folded(box, names[n], f"family-{n + 1}") for n, box in enumerate(boxes)
    ]
    bundles: dict[tuple[int, int, str], list[Wire]] = {}
    inside: dict[int, list[Wire]] = {}
    for wire in wires.wires:
        pair = place[wire.source], place[wire.to]
        if pair[0] == pair[1] and len(boxes[pair[0]]) > 1:
            inside.setdefault(pair[0], []).append(wire)
        else:
            bundles.setdefault((*pair, wire.kind), []).append(wire)
    strands = [_strand(several, place, wires, names if len(several) > 1 else ()) for several in bundles.values()]
    whole = drawn(nodes, strands)
    return replace(whole, families=_families(boxes, nodes, wires, place))


def _families(
    boxes: Sequence[Sequence[Strip]], nodes: Sequence[Node], wires: Wires, place: Mapping[str, int]
) -> tuple[Family, ...]:
    """What each folded box holds; the smaller have their drawings first, as far as there is room on the page."""
    made = {n: _own(box, nodes, wires, place) for n, box in enumerate(boxes) if len(box) > 1}
    own: dict[int, Drawing] = {}
    left = MOST_WRITTEN
    for n, (here, strands) in sorted(made.items(), key=lambda one: len(one[1][0]) + len(one[1][1])):
        if len(here) + len(strands) > MOST_IN_FAMILY:
            break
        found = drawn(here, strands, heads=False)
        left -= _written(found)
        if left < 0:
            break
        own[n] = found
    families = []
    for n in made:
        told = few_text([one.name for one in boxes[n]], MOST_NAMES)
        more = "" if n in own else " Too many lines for a drawing of its own; the channel sheet tells each."
        families.append(Family(nodes[n].anchor, nodes[n].name, own.get(n), f"{told}.{more}"))
    return tuple(families)


def _written(drawing: Drawing) -> int:
    """About how many characters a drawing takes on the page."""
    lines = sum(len(line.path) + 75 for line in drawing.lines)
    boxes = sum(len(box.title) + len(box.label) + 170 for box in drawing.boxes)
    return lines + boxes + sum(len(mark.title) + 170 for mark in drawing.marks)


def _boxes(context: SessionContext, wires: Wires) -> list[list[Strip]]:
    """The strips of each box, in desk order; the mix bus and what has no like stand alone."""
    number = {one.id: n for n, one in enumerate(wires.strips)}
    links = [Link(number[one.source], number[one.to]) for one in wires.wires]
    back = leading_back(len(number), links, {n for n, one in enumerate(wires.wires) if one.cut})
    layer = layers_of(len(number), links, back)

    def folded(*, buses: bool, layers: bool) -> list[list[Strip]]:
        found: dict[Hashable, list[Strip]] = {}
        for n, one in enumerate(wires.strips):
            alone = one.mix or (one.kind in ("group", "return", "master") and not buses)
            family = context.family(one.id)
            key = (n,) if alone else (one.kind, family, layer[n] if layers else 0)
            found.setdefault(key, []).append(one)
        return list(found.values())

    tangled = len(wires.loops) > MOST_LOOPS  # then layers tell little, and there are many
    for buses, layers in () if tangled else ((False, True), (True, True)):
        boxes = folded(buses=buses, layers=layers)
        if len(boxes) <= MOST_BOXES:
            return boxes
    return folded(buses=True, layers=False)


def _name(context: SessionContext, box: Sequence[Strip]) -> str:
    """``Drums (14)``; groups and returns of a family say so: ``Groups: drums (4)``."""
    first = box[0]
    if len(box) == 1:
        return first.name
    family = (context.family(first.id) or "").replace("-", " ")
    if first.kind == "track":
        said = family.capitalize() or "Other tracks"
    elif first.kind in ("group", "return", "master"):
        said = f"{first.kind.capitalize()}s" + (f": {family}" if family and family != f"{first.kind}s" else "")
    else:
        said = family.capitalize() or "Kind not seen"
    return f"{said} ({len(box)})"


def _folded(box: Sequence[Strip], name: str, anchor: str) -> Node:
    """A family as one box: what is marked on its strips is marked on it, with how many of them it is."""
    sorts: dict[str, list[tuple[Said, str]]] = {}
    for strip in box:
        for mark in node_of(strip).marks:
            sorts.setdefault(mark.sort, []).append((mark, strip.name))
    marks = []
    for found in sorts.values():
        who = few_text(list(dict.fromkeys(one for _, one in found)), 5)
        said = few_text(list(dict.fromkeys(mark.title for mark, _ in found)), 2, between="; ")
        marks.append(Said(found[0][0].sort, f"{who}: {said}"))
    members = few_text([one.name for one in box], MOST_NAMES)
    kinds = tuple(dict.fromkeys(one.kind for one in box))
    return Node(name, "family", f"{name}: {members}", all(one.quiet for one in box), tuple(marks), kinds, anchor)


def _own(
    box: Sequence[Strip],
    nodes: Sequence[Node],
    wires: Wires,
    place: Mapping[str, int],
) -> tuple[list[Node], list[Strand]]:
    """A family's own drawing: its strips and the boxes that they are joined to.

    Strips that are wired and marked alike share a box, but for one with findings or a solo. Lines bear no titles here.
    """
    members = {one.id for one in box}
    touching = [one for one in wires.wires if one.source in members or one.to in members]
    by_strip: dict[str, list[Wire]] = {one.id: [] for one in box}
    for wire in touching:
        for end in {wire.source, wire.to} & members:
            by_strip[end].append(wire)
    alike: dict[Hashable, list[Strip]] = {}
    for strip in box:
        ways = sorted(
            (one.kind, one.quiet, "" if one.source == strip.id else _end(one.source, place, members), one.loop,
             "" if one.to == strip.id else _end(one.to, place, members))
            for one in by_strip[strip.id]
        )  # fmt: skip
        node = node_of(strip)
        alone = strip.findings or strip.solo
        key = (strip.id,) if alone else (tuple(ways), strip.quiet, tuple(one.sort for one in node.marks))
        alike.setdefault(key, []).append(strip)
    here: list[Node] = []
    at: dict[str, int] = {}
    for several in alike.values():
        node = node_of(several[0])
        if len(several) > 1:
            told = few_text([one.name for one in several], MOST_NAMES)
            name = f"{fitted(several[0].name, FIRST_NAME)} + {len(several) - 1}"
            node = Node(name, "family", f"{len(several)} wired alike: {told}", node.quiet, node.marks)
        for one in several:
            at[one.id] = len(here)
        here.append(node)
    outside: dict[int, int] = {}
    for wire in touching:
        for end in (wire.source, wire.to):
            if end not in members:
                if place[end] not in outside:
                    outside[place[end]] = len(here)
                    away = nodes[place[end]]
                    here.append(Node(away.name, away.shape, away.title, away.quiet))
                at[end] = outside[place[end]]
    titles = [one.name for one in here]
    bundles: dict[tuple[int, int, str], list[Wire]] = {}
    for wire in touching:
        bundles.setdefault((at[wire.source], at[wire.to], wire.kind), []).append(wire)
    strands = [_strand(several, at, wires, titles if len(several) > 1 else ()) for several in bundles.values()]
    return here, [one._replace(title="") for one in strands]


def _end(channel_id: str, place: Mapping[str, int], members: set[str]) -> str:
    return f"own {channel_id}" if channel_id in members else f"box {place[channel_id]}"
