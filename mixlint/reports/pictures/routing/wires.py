"""What the drawing says of every strip and every line, asked of the session; no geometry."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, Literal, NamedTuple

from mixlint.analysis.audibility import is_heard, unknown_path
from mixlint.analysis.automation_range import always_muted
from mixlint.analysis.context import SessionContext
from mixlint.reports.plain import neutral
from mixlint.reports.words import with_unit
from mixlint.review.findings import Finding
from mixlint.routing import Edge, Loop
from mixlint.session import FADER, MUTE, Channel, Control, Unknown, control_of, controls_of_send, is_known, seen_clips
from mixlint.units import SILENCE_DB

Kind = Literal["output", "post", "pre", "untold"]
"""What a line is: the main output, a send behind the fader, one before it, or one of which that is not seen."""

MARKED: Final = ("hold", "look")
"""Grades of findings that are marked, the gravest first."""


MOST_IN_RING: Final = 6
"""Of a larger loop the names in the middle are left out."""


class Strip(NamedTuple):
    """One channel that carries audio.

    Args:
        id: its id.
        name: its name for a reader.
        kind: ``track``, ``group``, ``return`` or ``master``; ``unknown`` where the export does not tell.
        mix: it is the mix bus.
        quiet: nothing of it is heard.
        muted: for as long as anything plays; ``at times`` where automation opens and closes it; else empty.
        solo: it is soloed.
        ends: ``dead`` where no way leads to the mix bus, ``unseen`` where a way may that is not seen; else empty.
        unseen: what else the export does not show of it, a clause each.
        findings: what its review found on it and marks, the gravest first.
    """

    id: str
    name: str
    kind: str
    mix: bool
    quiet: bool
    muted: Literal["", "throughout", "at times"]
    solo: bool
    ends: Literal["", "dead", "unseen"]
    unseen: tuple[str, ...]
    findings: tuple[Finding, ...]


class Wire(NamedTuple):
    """One line.

    Args:
        number: its edge's place among the edges of the session.
        source, to: channel ids.
        kind: what it is.
        gain: by how much it carries on what comes out of the inserts, as an amplitude; None where that is not known.
        said: the same in words.
        quiet: nothing sounds on it.
        loop: the ring that it is part of, in words; empty where none.
        cut: the ring is broken here, for the drawing and where gains are computed.
        findings: what its review found on it and marks, the gravest first.
    """

    number: int
    source: str
    to: str
    kind: Kind
    gain: float | None
    said: str
    quiet: bool
    loop: str
    cut: bool
    findings: tuple[Finding, ...]


class Wires(NamedTuple):
    """All of them, in desk order; why it is not known what the mix bus is, where that is so; the names in each loop."""

    strips: tuple[Strip, ...]
    wires: tuple[Wire, ...]
    no_mix: Unknown | None
    loops: tuple[tuple[str, ...], ...]


def wires_of(context: SessionContext, findings: Iterable[Finding]) -> Wires:
    """What there is to draw of a session; VCAs carry no audio and are left out."""
    wiring = context.routing.wiring
    strips = [c for c in context.session.channels if c.kind != "vca"]
    silent = {c.id for c in strips if always_muted(context, c)}
    down = {c.id for c in strips if is_known(up := control_of(c, FADER).highest) and up <= SILENCE_DB}
    alive = _alive(context, strips, silent, down)
    on_strips, on_wires = _placed(context, findings)
    quiet = {c.id for c in strips if c.id not in alive or (c.id in wiring.reaching and not is_heard(context, c))}
    loops = {edge.number: loop for loop in context.routing.loops for edge in loop.edges}
    cut = {loop.cut.number for loop in context.routing.loops}
    return Wires(
        tuple(_strip(context, c, quiet, silent, on_strips.get(c.id, [])) for c in strips),
        tuple(
            Wire(
                edge.number,
                edge.source,
                edge.to,
                _kind(context, edge),
                *_gain(context, edge),
                edge.source in quiet or edge.to in quiet or (edge.tap == "post" and edge.source in down),
                _round(context, loops[edge.number]) if edge.number in loops else "",
                edge.number in cut,
                _gravest(on_wires.get(edge.number, [])),
            )
            for edge in wiring.edges
        ),
        wiring.mix_bus if isinstance(wiring.mix_bus, Unknown) else None,
        tuple(tuple(neutral(context.name(one)) for one in loop.channels) for loop in context.routing.loops),
    )


def _alive(context: SessionContext, strips: list[Channel], silent: set[str], down: set[str]) -> frozenset[str]:
    """Ids of the strips that something comes to: those that nothing feeds, and what they feed through no closed strip.

    A group, return or mix bus that nothing feeds has nothing of its own, unless clips lie on it.
    """
    wiring = context.routing.wiring
    start = [
        c.id for c in strips if c.id not in silent and (c.kind not in ("group", "return", "master") or seen_clips(c))
    ]
    found = wiring.downstream(
        start, lambda edge: edge.to not in silent and (edge.tap == "pre" or edge.source not in down)
    )
    return frozenset(found)


def _strip(
    context: SessionContext, channel: Channel, quiet: set[str], silent: set[str], findings: list[Finding]
) -> Strip:
    wiring = context.routing.wiring
    mute = control_of(channel, MUTE)
    muted: Literal["", "throughout", "at times"] = ""
    if channel.id in silent:
        muted = "throughout"
    elif mute.moves and mute.can_be_on is True:
        muted = "at times"
    unseen = ["whether it is muted is not seen"] if mute.unknown else []
    unseen += [
        f"where send {n} leads is not seen" for n, one in enumerate(channel.sends, 1) if isinstance(one.to, Unknown)
    ]
    ends: Literal["", "dead", "unseen"] = ""
    if is_known(wiring.mix_bus) and channel.id not in wiring.reaching:
        lost = isinstance(channel.output, Unknown) or unknown_path(context, channel) is not None
        ends = "unseen" if lost else "dead"
    return Strip(
        channel.id,
        neutral(context.name(channel.id)),
        channel.kind if isinstance(channel.kind, str) else "unknown",
        channel.id == wiring.mix_bus,
        channel.id in quiet,
        muted,
        channel.solo is True,
        ends,
        tuple(unseen),
        _gravest(findings),
    )


def _kind(context: SessionContext, edge: Edge) -> Kind:
    if edge.send is None:
        return "output"
    return "untold" if isinstance(context.channels[edge.source].sends[edge.send].tap, Unknown) else edge.tap


def _gain(context: SessionContext, edge: Edge) -> tuple[float | None, str]:
    """What a line carries on, as an amplitude: its send's level, and the fader where it is taken behind that.

    A control that automation moves counts with the highest that it comes to.
    """
    channel = context.channels[edge.source]
    kind = _kind(context, edge)
    parts: list[tuple[str, Control]] = []
    if edge.send is not None:
        parts.append(("send", controls_of_send(channel, edge.send).level))
    if edge.tap == "post":
        parts.append(("fader", control_of(channel, FADER)))
    said, total, known = [], 0.0, kind != "untold"
    for word, control in parts:
        level = control.highest if control.moves else control.now
        if isinstance(level, Unknown):
            said.append(f"{word} not seen")
            known = False
        else:
            total = SILENCE_DB if level <= SILENCE_DB else total + level
            said.append(f"{word} {'up to ' if control.moves else ''}{with_unit(level, 'dB')}")
    if kind == "untold":
        said.append("before or behind the fader not seen")
    elif edge.send is not None:
        said.insert(0, f"{edge.tap}-fader send")
    else:
        said.insert(0, "output")
    gain = None if not known else 0.0 if total <= SILENCE_DB else 10.0 ** (total / 20.0)
    return gain, ", ".join(said)


def _round(context: SessionContext, loop: Loop) -> str:
    """A ring in words: ``Hall → Slap → Hall, −6 dB a turn``."""
    names = [neutral(context.name(one)) for one in loop.channels]
    if len(names) > MOST_IN_RING:
        names[MOST_IN_RING - 1 : -1] = ["…"]
    return f"{' → '.join([*names, names[0]])}, {with_unit(loop.gain_db, 'dB')} a turn"


def _placed(
    context: SessionContext, findings: Iterable[Finding]
) -> tuple[dict[str, list[Finding]], dict[int, list[Finding]]]:
    """Flagged findings that are marked, by channel and by line: those of sends, feeds and loops stand on their line."""
    wiring = context.routing.wiring
    lines: dict[str, int] = {}
    for edge in wiring.edges:
        lines[f"send {edge.source}:{edge.send}"] = edge.number
        lines[f"feed {edge.source}:{'out' if edge.send is None else edge.send}"] = edge.number
    for loop in context.routing.loops:
        lines[f"loop {'+'.join(loop.channels)}"] = loop.cut.number
    on_strips: dict[str, list[Finding]] = {}
    on_wires: dict[int, list[Finding]] = {}
    for one in findings:
        if one.verdict != "flagged" or one.grade not in MARKED or one.subject.table == "session":
            continue
        number = lines.get(f"{one.subject.table} {one.subject.id}")
        if number is not None:
            on_wires.setdefault(number, []).append(one)
            continue
        here = one.channels[:1] if one.subject.table in ("send", "feed") else one.channels  # a send that is no line
        for channel_id in here:
            on_strips.setdefault(channel_id, []).append(one)
    return on_strips, on_wires


def _gravest(findings: list[Finding]) -> tuple[Finding, ...]:
    return tuple(sorted(findings, key=lambda one: MARKED.index(one.grade)))
