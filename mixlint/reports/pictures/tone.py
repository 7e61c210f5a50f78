"""Tone: what the equalizers and filters that the export shows make of each part on its path, as small curves.

Parts that answer each other share a sheet, so that what is unlike in them is seen. In a large session a sheet holds a
family. What is hidden is said on the sheet, and what has nothing to show is named below.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.analysis.ambience import ambience_path
from mixlint.analysis.arriving import audible_parts
from mixlint.analysis.context import SessionContext
from mixlint.analysis.counterparts import counterparts
from mixlint.analysis.partners import partners
from mixlint.analysis.stereo_image import audible_returns
from mixlint.analysis.tone import KnownResponse, eq_curve_db, known_response, strips_on_the_path
from mixlint.reports.pictures.lettering import fitted, text_width
from mixlint.reports.pictures.picture import Missing, Picture, Scene, Words
from mixlint.reports.pictures.shapes import Flag, Label, grades_text
from mixlint.reports.plain import neutral, shortened
from mixlint.reports.words import counts_of
from mixlint.review.findings import GRAVITY, Finding
from mixlint.session import Channel, NotKnown, Unknown
from mixlint.units import few_text, number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

WIDTH: Final = 900
ACROSS: Final = 4
LEFT, TOP = 46.0, 6.0
CELL_W, CELL_H = 213.0, 142.0
PLOT_W, PLOT_H = 194.0, 84.0
PLOT_TOP: Final = 24.0
LINE: Final = 18.0
HIGH_DB, LOW_DB = 12.0, -24.0
"""The scale of every sheet, dB; a curve that goes on below ends at the frame."""
FIRST_HZ, LAST_HZ = 20.0, 20_000.0
POINTS: Final = 73
MOST_SHEETS: Final = 28
MOST_CURVES: Final = 8
"""So many unlike curves of a family are drawn, those with the greatest moves."""
NAMED: Final = 12
NAME: Final = 40
UNLIKE_DB: Final = 0.5
"""Two parts that answer each other are called unlike from so much on, anywhere from 80 Hz to 15 kHz: wording."""

AREAS: Final = frozenset({"tone"})


@dataclass(frozen=True, slots=True)
class Curve:
    """One curve as an SVG path; ``kind`` is its class in the style."""

    path: str
    kind: str
    title: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """The frame of one sheet, its curves, and whether something on the path is hidden."""

    x: float
    y: float
    curves: tuple[Curve, ...]
    hidden: bool


@dataclass(frozen=True, slots=True)
class ToneDrawing:
    """All sheets; ``levels`` and ``tones`` are the lines of their scales, and ``hatch`` a path, within a sheet."""

    height: float
    sheets: tuple[Sheet, ...]
    labels: tuple[Label, ...]
    flags: tuple[Flag, ...]
    levels: tuple[float, ...]
    even: float
    tones: tuple[float, ...]
    hatch: str
    width: int = WIDTH
    plot_w: float = PLOT_W
    plot_h: float = PLOT_H


@dataclass(frozen=True, slots=True)
class _Voice:
    """A part or return with its response."""

    channel: Channel
    name: str
    response: KnownResponse
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class _Cell:
    """What stands on one sheet."""

    title: str
    voices: tuple[_Voice, ...]


def frequencies() -> Floats:
    """The frequencies at which curves are drawn (F,), evenly on the scale of octaves, hertz."""
    import numpy as np

    return np.asarray(np.geomspace(FIRST_HZ, LAST_HZ, POINTS))


def draw(scene: Scene, name: str, title: str) -> Picture | Missing | None:
    """The known responses of a session; None where it has no part."""
    context = scene.context
    at_hz = frequencies()
    voices: list[_Voice] = []
    not_shown: list[tuple[str, Unknown]] = []
    for channel, strips in _paths(context):
        found = known_response(context, strips, at_hz)
        if isinstance(found, Unknown):
            not_shown.append((context.name(channel.id), found))
        else:
            said = tuple(f for f in scene.findings if channel.id in f.channels and _belongs(f))
            voices.append(_Voice(channel, context.name(channel.id), found, said))
    if not voices and not not_shown:
        return None
    if not any(map(_is_shown, voices)):
        why = not_shown[0][1] if not_shown else Unknown(unknown="no equalizer or filter is on the path of any part")
        return Missing.of(name, title, why)
    cells = _cells(context, voices)
    drawing = _laid_out(cells, voices, [who for who, _ in not_shown])
    return Picture(name, title, _answer(context, voices, not_shown), drawing, _words(voices, not_shown), _legend(cells))


def _belongs(finding: Finding) -> bool:
    """True for what is flagged of tone, and of low cuts wherever they are asked for."""
    told = finding.area in AREAS or any("low_cut" in evidence.fact for evidence in finding.evidence)
    return finding.verdict == "flagged" and told and finding.grade in ("hold", "look")


def _paths(context: SessionContext) -> list[tuple[Channel, list[Channel]]]:
    parts = [(part, list(strips_on_the_path(context, part))) for part in audible_parts(context)]
    return parts + [(one, list(ambience_path(context, one))) for one in audible_returns(context)]


def _is_shown(one: _Voice) -> bool:
    """True for a channel that has a sheet: something is on its path, or hidden there, or is missed there."""
    return bool(one.response.shown or one.response.hidden or one.findings)


def _cells(context: SessionContext, voices: list[_Voice]) -> list[_Cell]:
    """Those that have something to show, two that belong together on one sheet; by families where there are many."""
    shown = [one for one in voices if _is_shown(one)]
    by_id = {one.channel.id: one for one in shown}
    cells: list[_Cell] = []
    seen: set[str] = set()
    for one in shown:
        if one.channel.id in seen:
            continue
        other = by_id.get(_other_half(context, one.channel))
        two = (one,) if other is None or other.channel.id in seen else (one, other)
        seen |= {voice.channel.id for voice in two}
        cells.append(_Cell(_together([voice.name for voice in two]), two))
    if len(cells) <= MOST_SHEETS:
        return cells
    families: dict[str, list[_Voice]] = {}
    parts = {part.id for part in audible_parts(context)}
    for one in shown:
        family = context.family(one.channel.id) or "parts of no known kind" if one.channel.id in parts else "returns"
        families.setdefault(family, []).append(one)
    return [_Cell(f"{_capital(one)}, {len(two)}", tuple(two)) for one, two in families.items()]


def _together(names: list[str]) -> str:
    """One name or two; of two that differ in their last word that of the second alone: ``Backing Vox L and R``."""
    if len(names) == 2 and names[0].split()[:-1] == names[1].split()[:-1] and " " in names[0].strip():
        return f"{names[0]} and {names[1].split()[-1]}"
    return " and ".join(names)


def _other_half(context: SessionContext, channel: Channel) -> str:
    found = counterparts(context).get(channel.id)
    if found is not None:
        return found.beside(channel.id)
    partner = partners(context).get(channel.id)
    return partner.id if partner is not None else ""


def _capital(text: str) -> str:
    return (text[:1].upper() + text[1:]).replace("-", " ")


def _laid_out(cells: list[_Cell], voices: list[_Voice], not_shown: list[str]) -> ToneDrawing:
    sheets: list[Sheet] = []
    labels: list[Label] = []
    flags: list[Flag] = []
    for n, cell in enumerate(cells):
        x, y = LEFT + n % ACROSS * CELL_W, TOP + n // ACROSS * CELL_H
        found = sorted((f for one in cell.voices for f in one.findings), key=lambda f: GRAVITY[f.grade])
        start = x
        if found:
            flags.append(Flag(x, y + 10.0, found[0].grade, " ".join(dict.fromkeys(f.message for f in found))))
            start += 13.0
        labels.append(_label(start, y + 10.0, cell.title, x + PLOT_W - start, "name"))
        hidden = tuple(dict.fromkeys(h for one in cell.voices for h in one.response.hidden))
        if hidden:
            said = f"in part hidden: {few_text(hidden, 2)}"
            labels.append(_label(x + 5.0, y + PLOT_TOP + PLOT_H - 9.0, said, PLOT_W - 8.0, "soft"))
        sheets.append(Sheet(x, y + PLOT_TOP, _curves(cell, x, y + PLOT_TOP), bool(hidden)))
        if n % ACROSS == 0:
            for db in (12.0, 0.0, -12.0, -24.0):
                text = number_text(db, "dB") if db == HIGH_DB else number_text(db)
                wide, at = text_width(text), y + PLOT_TOP + _y(db)
                labels.append(Label(x - 5.0, at, text, "end", "soft", x - 5.0 - wide, x - 5.0))
        for hz, text in ((100.0, "100 Hz"), (1000.0, "1 kHz"), (10_000.0, "10 kHz")):
            at, half = x + _x(hz), text_width(text) / 2.0
            labels.append(
                Label(round(at, 1), y + PLOT_TOP + PLOT_H + 12.0, text, "middle", "soft", at - half, at + half)
            )
    height = TOP + -(-len(cells) // ACROSS) * CELL_H
    flat = [one.name for one in voices if not _is_shown(one)]
    for heading, names in (("No equalizer and no filter", flat), ("Inserts not shown", not_shown)):
        if names:
            text = f"{heading}: {few_text([shortened(neutral(one), 24) for one in names], NAMED)}"
            for line in _lines(text, WIDTH - 16.0):
                labels.append(_label(8.0, height + 9.0, line, WIDTH - 16.0, "soft"))
                height += LINE
    return ToneDrawing(
        round(height + 6.0, 1),
        tuple(sheets),
        tuple(labels),
        tuple(flags),
        tuple(_y(db) for db in (12.0, -12.0, -24.0)),
        _y(0.0),
        tuple(round(_x(hz), 1) for hz in (100.0, 1000.0, 10_000.0)),
        _hatch(),
    )


HATCH: Final = 9.0
"""How far apart the slanting lines over a sheet lie."""


def _hatch() -> str:
    """Slanting lines over a whole sheet, as a path from its upper left corner."""
    said = []
    for n in range(1, int((PLOT_W + PLOT_H) / HATCH) + 1):
        along = n * HATCH  # where the line meets the upper edge, or would
        x0, y0 = max(0.0, along - PLOT_H), min(along, PLOT_H)
        x1, y1 = min(along, PLOT_W), max(0.0, along - PLOT_W)
        said.append(f"M{x0:g} {y0:g}L{x1:g} {y1:g}")
    return "".join(said)


def _lines(text: str, width: float) -> list[str]:
    """A text broken between words into lines of a width."""
    lines = [""]
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and text_width(longer) > width:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _label(x: float, y: float, said: str, width: float, kind: str) -> Label:
    text = fitted(said, width)
    return Label(x, y, text, "start", kind, x, x + text_width(text), neutral(said) if text != said else "")


def _x(hz: float) -> float:
    from math import log

    return PLOT_W * log(hz / FIRST_HZ) / log(LAST_HZ / FIRST_HZ)


def _y(db: float) -> float:
    return round(PLOT_H * (HIGH_DB - min(HIGH_DB, max(LOW_DB, db))) / (HIGH_DB - LOW_DB), 1)


def _curves(cell: _Cell, x: float, y: float) -> tuple[Curve, ...]:
    """The curves of a sheet, each response once; the first unbroken, the second in dashes, more of them thin."""
    shown = [one for one in cell.voices if one.response.shown or not one.response.hidden]
    alike: dict[tuple[float, ...], list[str]] = {}
    for one in shown:
        alike.setdefault(tuple(one.response.db.round(2).tolist()), []).append(one.name)
    greatest = sorted(alike, key=lambda db: -max(abs(min(max(one, LOW_DB), HIGH_DB)) for one in db))[:MOST_CURVES]
    order = [db for db in alike if db in greatest]
    many = len(order) > 2
    made = []
    for n, db in enumerate(order):
        kind = "many" if many else "second" if n else "first"
        title = few_text([shortened(neutral(one), NAME) for one in alike[db]], 6)
        made.append(Curve(_path(db, x, y), kind, title))
    return tuple(made)


def _path(db: tuple[float, ...], x: float, y: float) -> str:
    """A curve as a path: it ends where it leaves the scale below, and points on a straight line are left out."""
    points = [(x + _x(hz), value) for hz, value in zip(frequencies().tolist(), db, strict=True)]
    pieces: list[list[tuple[float, float]]] = [[]]
    for n, (at, value) in enumerate(points):
        before = points[n - 1] if n else (at, value)
        if (value < LOW_DB) != (before[1] < LOW_DB):  # where it crosses the lower end of the scale
            over = before[0] + (at - before[0]) * (LOW_DB - before[1]) / (value - before[1])
            pieces[-1].append((round(over, 1), round(y + PLOT_H, 1)))
        if value >= LOW_DB:
            pieces[-1].append((round(at, 1), round(y + _y(value), 1)))
        elif pieces[-1]:
            pieces.append([])
    said = []
    for piece in pieces:
        kept = [
            one
            for n, one in enumerate(piece)
            if n in (0, len(piece) - 1) or not (piece[n - 1][1] == one[1] == piece[n + 1][1])
        ]
        if len(kept) > 1:
            said.append("M" + "L".join(f"{a} {b}" for a, b in kept))
    return "".join(said)


def _answer(context: SessionContext, voices: list[_Voice], not_shown: list[tuple[str, Unknown]]) -> str:
    said = [_unlike(context, voices), _greatest(context, voices), _uncut(voices)]
    hidden = [one.name for one in voices if one.response.hidden]
    if hidden:
        said.append(f"Part of the tone of {_names(hidden)} is hidden in the export.")
    if not_shown:
        said.append(f"The export does not show the inserts of {_names([who for who, _ in not_shown])}.")
    return " ".join(one for one in said if one)


def _names(names: list[str]) -> str:
    return few_text([shortened(neutral(one), NAME) for one in names], 3)


def _unlike(context: SessionContext, voices: list[_Voice]) -> str:
    """Which two of a pair differ most; that none do where there are pairs."""
    import numpy as np

    at_hz = frequencies()
    heard = (at_hz >= 80.0) & (at_hz <= 15_000.0)
    by_id = {one.channel.id: one for one in voices}
    most: tuple[float, float, str, str] | None = None
    pairs = 0
    for one in voices:
        other = by_id.get(_other_half(context, one.channel))
        if other is None or other.channel.id < one.channel.id:
            continue
        if (
            one.response.hidden
            or other.response.hidden
            or context.role(one.channel.id) != context.role(other.channel.id)
        ):
            continue
        pairs += 1
        apart = np.where(heard, np.clip(one.response.db, LOW_DB, None) - np.clip(other.response.db, LOW_DB, None), 0.0)
        where = int(np.abs(apart).argmax())
        if most is None or abs(apart[where]) > most[0]:
            most = float(abs(apart[where])), float(at_hz[where]), one.name, other.name
    if most is None:
        return ""
    if most[0] < UNLIKE_DB:
        return "Parts that answer each other have one tone." if pairs > 1 else "The two of the pair have one tone."
    who = f"{shortened(neutral(most[2]), NAME)} and {shortened(neutral(most[3]), NAME)}"
    return f"{who} differ by {number_text(round(most[0], 1), 'dB')} about {_hz_text(most[1])}."


def _hz_text(hz: float) -> str:
    from math import floor, log10

    step = 10.0 ** (floor(log10(hz)) - 1)
    return number_text(round(hz / step) * step, "Hz")


def _greatest(context: SessionContext, voices: list[_Voice]) -> str:
    """The greatest move of bells and shelves, cuts of the ends aside."""
    import numpy as np

    at_hz = frequencies()
    best: tuple[float, int, _Voice] | None = None
    paths = {channel.id: strips for channel, strips in _paths(context)}
    for one in voices:
        if not one.response.shown:
            continue
        try:
            db = eq_curve_db(context, paths[one.channel.id], at_hz)
        except NotKnown:
            continue
        where = int(np.abs(db).argmax())
        if best is None or abs(db[where]) > abs(best[0]):
            best = float(db[where]), where, one
    if best is None or abs(best[0]) < UNLIKE_DB:
        return ""
    _, where, one = best
    near = np.geomspace(at_hz[max(0, where - 1)], at_hz[min(POINTS - 1, where + 1)], 41)
    db = eq_curve_db(context, paths[one.channel.id], near)
    top = int(np.abs(db).argmax())
    what, by = "raised" if db[top] > 0.0 else "lowered", number_text(round(abs(float(db[top])), 1), "dB")
    return f"{shortened(neutral(one.name), NAME)} is {what} most: by {by} about {_hz_text(float(near[top]))}."


def _uncut(voices: list[_Voice]) -> str:
    """How many have a low cut that takes 6 dB or more at 31 Hz beside 1 kHz."""
    import numpy as np

    at_hz = frequencies()
    low, mid = (int(np.abs(at_hz - hz).argmin()) for hz in (31.0, 1000.0))
    cut = [one for one in voices if one.response.db[mid] - one.response.db[low] >= 6.0]
    if not cut:
        return "No low cut is shown."
    return f"{counts_of(len(cut), 'channel')} of {len(voices)} {'has' if len(cut) == 1 else 'have'} a low cut."


def _legend(cells: list[_Cell]) -> tuple[str, ...]:
    said = ["Each sheet: gain from 20 Hz to 20 kHz of all equalizers and filters that the export shows on the path."]
    if any(len(cell.voices) == 2 for cell in cells):
        said.append("Two that belong together share a sheet; where they are unlike the second is dashed.")
    if any(one.response.hidden for cell in cells for one in cell.voices):
        said.append("Hatched: something on the path is hidden, so that the curve is not the whole.")
    return (*said, *grades_text(f.grade for cell in cells for one in cell.voices for f in one.findings))


OCTAVES_HZ: Final = (63.0, 125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0, 8000.0, 16_000.0)


def _words(voices: list[_Voice], not_shown: list[tuple[str, Unknown]]) -> Words:
    """The gain at each octave."""
    import numpy as np

    at_hz = frequencies()
    places = [int(np.abs(np.log(at_hz / hz)).argmin()) for hz in OCTAVES_HZ]
    head = ("channel", *(number_text(hz, "Hz") for hz in OCTAVES_HZ), "hidden")
    told = [one for one in voices if _is_shown(one)]
    rows = [
        (
            shortened(neutral(one.name), NAME),
            *(number_text(round(float(one.response.db[at]), 1)) for at in places),
            few_text(one.response.hidden, 2, none=""),
        )
        for one in told[:MOST_ROWS]
    ]
    blank = ("",) * len(OCTAVES_HZ)
    if len(told) > MOST_ROWS:
        rows.append((f"and {len(told) - MOST_ROWS} more", *blank, ""))
    rows += [(shortened(neutral(who), NAME), *blank, why.unknown) for who, why in not_shown[:NAMED]]
    return Words(head, tuple(rows))


MOST_ROWS: Final = 100
"""So many channels are told in the table of a large session."""
