"""Levels: parts and sections of the song against each other, and how much room the buses have before full scale."""

from __future__ import annotations

from dataclasses import dataclass
from math import log10
from typing import Final

from mixlint.analysis.activity import has_arrangement
from mixlint.analysis.arriving import Arriving, arriving, audible_parts, power_in
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.context import SessionContext
from mixlint.analysis.levels import BusPeak, bus_peak
from mixlint.analysis.like_sections import Section, marked_sections
from mixlint.reports.pictures.lettering import fitted, text_width
from mixlint.reports.pictures.picture import Missing, Picture, Scene, Words
from mixlint.reports.pictures.shapes import Flag, Label, Spot, radius
from mixlint.reports.plain import neutral, shortened
from mixlint.reports.words import counts_of
from mixlint.review.findings import GRAVITY, Finding
from mixlint.session import Channel, Unknown
from mixlint.units import number_text

WIDTH: Final = 900
NAMES_TO, FIGURES_TO, SONG_AT, FIRST, LAST = 174.0, 246.0, 262.0, 286.0, 892.0
"""Where names and figures end, where the marks of the whole song stand, and where the sections begin and end."""
PITCH: Final = 23.0
HEAD: Final = 18.0
WIDEST: Final = 84.0
"""The widest column of a section."""
MOST_ROWS: Final = 28
MOST_SECTIONS: Final = 14
MOST_BUSES: Final = 14
NAME: Final = 40
LEAST_DBFS, MOST_DBFS = -30.0, 6.0
SCALE: Final = (-24.0, -18.0, -12.0, -6.0, 0.0, 6.0)
"""The scale of the buses, dBFS."""
UNLIKE_DB: Final = 0.5
"""Sections that differ by less are called alike: wording."""

AREAS: Final = frozenset({"levels"})
BUS_AREAS: Final = frozenset({"levels", "mix-bus"})


@dataclass(frozen=True, slots=True)
class Room:
    """What a bus has before full scale: from its peak to 0 dBFS; ``over`` where the peak lies beyond."""

    y: float
    x0: float
    x1: float
    over: bool
    assumed: bool
    title: str


@dataclass(frozen=True, slots=True)
class LevelsDrawing:
    """The whole drawing; ``rules`` are horizontal lines, ``scale`` the lines of the buses."""

    height: float
    spots: tuple[Spot, ...]
    labels: tuple[Label, ...]
    flags: tuple[Flag, ...]
    rules: tuple[float, ...]
    rooms: tuple[Room, ...]
    scale: tuple[float, ...]
    full: float
    buses: float
    half: float = PITCH / 2.0
    width: int = WIDTH


@dataclass(frozen=True, slots=True)
class _Row:
    """A part, or several of a family.

    Args:
        name: as it is called.
        song: its mean power while it plays, both sides added; None where it is not known.
        sections: the same for each section; None where it does not play there.
        measured: False where a loudness is assumed.
        why: why it is not known.
        findings: what is flagged of it here.
        short: its name in a sentence, where that is another.
    """

    name: str
    song: float | None
    sections: tuple[float | None, ...]
    measured: bool
    why: str = ""
    findings: tuple[Finding, ...] = ()
    short: str = ""


@dataclass(frozen=True, slots=True)
class _Table:
    """Everything in the picture."""

    rows: tuple[_Row, ...]
    sections: tuple[Section, ...]
    left_out: int
    whole: tuple[float | None, ...]
    buses: tuple[tuple[str, BusPeak | Unknown, tuple[Finding, ...]], ...]
    folded: bool

    @property
    def loudest(self) -> float:
        """The greatest power of a part over the song."""
        return max((row.song for row in self.rows if row.song), default=0.0)

    @property
    def how(self) -> str:
        """Whether levels are measured."""
        told = [row.measured for row in self.rows if row.song]
        if told and all(told):
            return "measured"
        return "in part measured, the rest from gains" if any(told) else "from gains alone, nothing measured"


def draw(scene: Scene, name: str, title: str) -> Picture | Missing | None:
    """The levels of a session; None where it has no part."""
    context = scene.context
    parts = audible_parts(context)
    if not parts:
        return None
    found = _table(scene, parts)
    if not any(row.song for row in found.rows):
        return Missing(name, title, next((row.why for row in found.rows if row.why), "nothing sounds at the mix bus"))
    return Picture(name, title, _answer(found), _laid_out(found), _words(found), _legend(found))


def _table(scene: Scene, parts: list[Channel]) -> _Table:
    context = scene.context
    every = marked_sections(context) if has_arrangement(context) else ()
    sections = every[:MOST_SECTIONS]
    heard: list[tuple[Channel, Arriving]] = []
    rows: list[_Row] = []
    for part in parts:
        found = arriving(context, part)
        said = _told(scene.findings, part, AREAS)
        if isinstance(found, Unknown):
            rows.append(_Row(context.name(part.id), None, (None,) * len(sections), False, found.unknown, said))
            continue
        heard.append((part, found))
        own = tuple(power_in(context, found, section) for section in sections)
        power = float((found.left + found.right)[found.plays].mean())
        rows.append(_Row(context.name(part.id), power, own, found.measured, findings=said))
    whole = tuple(
        _sum([power_in(context, one, section, while_playing=False) for _, one in heard]) for section in sections
    )
    folded = len(rows) > MOST_ROWS
    if folded:
        rows = _by_family(context, heard, sections, [row for row in rows if row.song is None])
    rows.sort(key=lambda row: -(row.song or 0.0))
    buses = [c for c in context.session.channels if _is_bus(context, c)]
    buses.sort(key=lambda c: c.id != context.routing.wiring.mix_bus)
    peaks = tuple(
        (context.name(c.id), bus_peak(context, c), _told(scene.findings, c, BUS_AREAS)) for c in buses[:MOST_BUSES]
    )
    return _Table(tuple(rows), sections, len(every) - len(sections), whole, peaks, folded)


def _is_bus(context: SessionContext, channel: Channel) -> bool:
    if channel.id == context.routing.wiring.mix_bus:
        return True
    return (
        channel.kind == "group"
        and is_audible(context, channel)
        and bool(context.routing.wiring.arriving.get(channel.id))
    )


def _told(findings: tuple[Finding, ...], channel: Channel, areas: frozenset[str]) -> tuple[Finding, ...]:
    """What is flagged of a channel in some areas, the gravest first."""
    told = [
        f
        for f in findings
        if channel.id in f.channels and f.verdict == "flagged" and f.area in areas and f.grade in ("hold", "look")
    ]
    return tuple(sorted(told, key=lambda f: GRAVITY[f.grade]))


def _by_family(
    context: SessionContext, heard: list[tuple[Channel, Arriving]], sections: tuple[Section, ...], rest: list[_Row]
) -> list[_Row]:
    """The parts of each family together, their powers added."""
    families: dict[str, list[tuple[Channel, Arriving]]] = {}
    for part, found in heard:
        families.setdefault(context.family(part.id) or "parts of no known kind", []).append((part, found))
    rows = []
    for family, several in families.items():
        members = [found for _, found in several]
        song = sum(float((one.left + one.right)[one.plays].mean()) for one in members)
        own = tuple(_sum([power_in(context, one, section) for one in members]) for section in sections)
        called = f"{family[:1].upper()}{family[1:]}".replace("-", " ")
        if len(several) == 1:
            called = name = context.name(several[0][0].id)
        else:
            name = f"{called}, {counts_of(len(several), 'part')}"
        rows.append(_Row(name, song, own, all(one.measured for one in members), short=called))
    if rest:
        rows.append(_Row(counts_of(len(rest), "part"), None, (None,) * len(sections), False, rest[0].why))
    return rows


def _sum(powers: list[float | None]) -> float | None:
    known = [power for power in powers if power is not None]
    return sum(known) if known else None


def _db(power: float, against: float) -> float:
    return 10.0 * log10(power / against) if power > 0.0 and against > 0.0 else -200.0


def _laid_out(found: _Table) -> LevelsDrawing:
    spots: list[Spot] = []
    labels: list[Label] = []
    flags: list[Flag] = []
    columns = len(found.sections)
    wide = min(WIDEST, (LAST - FIRST) / max(1, columns))
    staggered = any(text_width(neutral(one.name)) > wide - 8.0 for one in found.sections)
    y = 4.0 + HEAD * (2 if staggered else 1)
    labels.append(_text(SONG_AT, y - HEAD / 2.0, "song", 60.0, "middle", "soft"))
    for n, section in enumerate(found.sections):
        up = staggered and n % 2 == 0
        room = (2.0 * wide if staggered else wide) - 10.0
        at = FIRST + (n + 0.5) * wide
        room = min(room, 2.0 * (at - SONG_AT - 24.0), 2.0 * (WIDTH - 4.0 - at))
        labels.append(_text(at, y - HEAD / 2.0 - (HEAD if up else 0.0), section.name, room, "middle", "soft"))
    rules = [y]
    in_part = any(row.measured for row in found.rows)
    for row in found.rows:
        middle = y + PITCH / 2.0
        _name(labels, flags, middle, row.name, row.findings)
        if row.song is None:
            labels.append(_text(FIGURES_TO - 46.0, middle, f"not known: {row.why}", LAST - 210.0, "start", "soft"))
        else:
            db = round(_db(row.song, found.loudest), 1)
            labels.append(_text(FIGURES_TO, middle, number_text(db, "dB"), 68.0, "end", "name"))
            kind = "part" if row.measured or not in_part else "part assumed"
            for at, power, where in _places(found, row, wide):
                under = number_text(round(_db(power, found.loudest), 1), "dB")
                said = f"{_called(row.name)}, {where}: {under}"
                spots.append(Spot(round(at, 1), middle, radius(power, found.loudest), kind, said))
        y += PITCH
    if columns:
        rules.append(y)
        most = max((one for one in found.whole if one), default=0.0)
        labels.append(_text(8.0, y + PITCH / 2.0, "the whole mix, dB", NAMES_TO, "start", "soft"))
        for n, whole in enumerate(found.whole):
            text = "–" if not whole else number_text(round(_db(whole, most), 1))
            labels.append(_text(FIRST + (n + 0.5) * wide, y + PITCH / 2.0, text, wide, "middle", "name"))
        y += PITCH
    rules.append(y)
    rooms, top, y = _rooms(found, y, labels, flags)
    return LevelsDrawing(
        round(y + 8.0, 1),
        tuple(spots),
        tuple(labels),
        tuple(flags),
        tuple(round(one, 1) for one in rules),
        rooms,
        tuple(_bus_x(db) for db in SCALE),
        _bus_x(0.0),
        round(top, 1),
    )


def _places(found: _Table, row: _Row, wide: float) -> list[tuple[float, float, str]]:
    """Where a row has marks: the place, the power, and what it is of."""
    made = [(SONG_AT, row.song, "the song")] if row.song else []
    for n, power in enumerate(row.sections):
        if power:
            made.append((FIRST + (n + 0.5) * wide, power, shortened(neutral(found.sections[n].name), NAME)))
    return made


def _rooms(found: _Table, y: float, labels: list[Label], flags: list[Flag]) -> tuple[tuple[Room, ...], float, float]:
    """The buses with their room: a line from the peak to full scale."""
    y += 2.0 * HEAD
    labels.append(_text(8.0, y - HEAD / 2.0, "room before full scale", NAMES_TO + 60.0, "start", "soft"))
    marks = [(_bus_x(db), number_text(db, "dBFS") if db == MOST_DBFS else number_text(db)) for db in SCALE]
    labels += [_text(x, y - HEAD / 2.0, text, 80.0, "middle", "soft") for x, text in marks]
    top, rooms = y, []
    for name, peak, said in found.buses:
        middle = y + PITCH / 2.0
        _name(labels, flags, middle, name, said)
        if isinstance(peak, Unknown):
            labels.append(_text(FIRST, middle, f"not known: {peak.unknown}", LAST - FIRST, "start", "soft"))
        else:
            text = _room_text(peak)
            labels.append(_text(LAST, middle, text, LAST - _bus_x(6.0) - 12.0, "end", "name"))
            at, full = _bus_x(min(MOST_DBFS, max(LEAST_DBFS, peak.dbfs))), _bus_x(0.0)
            rooms.append(
                Room(
                    middle, min(at, full), max(at, full), peak.dbfs > 0.0, not peak.measured, f"{neutral(name)}: {text}"
                )
            )
        y += PITCH
    return tuple(rooms), top, y


def _room_text(peak: BusPeak) -> str:
    how = "" if peak.measured else ", peaks assumed"
    room = round(-peak.dbfs, 1)
    return f"{number_text(abs(room), 'dB')} {'of room' if room >= 0.0 else 'over'}{how}"


def _bus_x(db: float) -> float:
    return round(FIRST + (db - LEAST_DBFS) / (MOST_DBFS - LEAST_DBFS) * 370.0, 1)


def _name(labels: list[Label], flags: list[Flag], y: float, name: str, findings: tuple[Finding, ...]) -> None:
    x = 8.0
    if findings:
        flags.append(Flag(x, y, findings[0].grade, " ".join(dict.fromkeys(f.message for f in findings))))
        x += 13.0
    labels.append(_text(x, y, name, NAMES_TO - x, "start", "name"))


def _text(x: float, y: float, said: str, width: float, anchor: str, kind: str) -> Label:
    text = fitted(said, width)
    wide = text_width(text)
    x0 = x - {"start": 0.0, "middle": wide / 2.0, "end": wide}[anchor]
    return Label(
        round(x, 1), round(y, 1), text, anchor, kind, x0, x0 + wide, neutral(said) if text.endswith("…") else ""
    )


def _called(name: str) -> str:
    return shortened(neutral(name), NAME)


def _answer(found: _Table) -> str:
    known = [row for row in found.rows if row.song]
    said = [f"{_short(known[0])} is the loudest ({found.how})."]
    if len(known) > 1:
        said = [f"{_short(known[0])} is the loudest, {_under(found, known[1])} ({found.how})."]
    if len(known) > 2:
        said.append(f"The softest is {_under(found, known[-1], comma=True)}.")
    said.append(_of_sections(found))
    said.append(_of_buses(found))
    return " ".join(one for one in said if one)


def _of_sections(found: _Table) -> str:
    levels = [(power, section.name) for power, section in zip(found.whole, found.sections, strict=True) if power]
    if len(levels) < 2:
        return "" if found.sections else "The session has no markers, so that no sections are told apart."
    (most, high), (least, low) = max(levels), min(levels)
    apart = round(_db(most, least), 1)
    if apart < UNLIKE_DB:
        return "All sections are as loud as each other."
    return f"{_called(high)} is the loudest section, {number_text(apart, 'dB')} over {_called(low)}, the softest."


def _of_buses(found: _Table) -> str:
    known = [(name, peak) for name, peak, _ in found.buses if isinstance(peak, BusPeak)]
    if not known:
        return "No bus's room before full scale is known." if found.buses else ""
    name, peak = max(known, key=lambda one: one[1].dbfs)
    room = number_text(round(abs(peak.dbfs), 1), "dB")
    lost = len(found.buses) - len(known)
    of = f" of the {len(known)} of {len(found.buses)} buses whose peaks can be told" if lost else ""
    how = "" if peak.measured else "If parts peak as they are taken to, "
    if peak.dbfs > 0.0:
        return f"{how}{_called(name)} goes over full scale by {room}."
    return f"{how}{_called(name)} has the least room before full scale{of}: {room}."


def _short(row: _Row) -> str:
    """What a row is called in a sentence: a family without its number."""
    return _called(row.short or row.name)


def _under(found: _Table, row: _Row, *, comma: bool = False) -> str:
    under = round(-_db(row.song or 0.0, found.loudest), 1)
    who = _short(row) + ("," if comma else "")
    return f"{who} {number_text(under, 'dB')} under it" if under > 0.0 else f"{who} as loud"


def _legend(found: _Table) -> tuple[str, ...]:
    said = ["Area: loudness at the mix bus while it plays, half of it for 10 dB less; figures are over the song."]
    if found.folded:
        said.append("Parts of one family are taken together.")
    if found.sections:
        said.append("Sections are those of the markers; the lowest row is the whole mix beside its loudest section.")
    if found.left_out:
        said.append(f"{counts_of(found.left_out, 'later section')} left out.")
    if any(row.measured for row in found.rows) and not all(row.measured for row in found.rows):
        said.append("Dotted outline: loudness assumed.")
    said.append("A line to full scale: the room above the highest peak to be expected, dashed where peaks are assumed.")
    if any(row.findings for row in found.rows) or any(told for *_, told in found.buses):
        said.append("Full triangle: do not bounce; open triangle: look.")
    return tuple(said)


def _words(found: _Table) -> Words:
    head = ("part or bus", "song", *(_called(one.name) for one in found.sections), "how")
    rows = []
    for row in found.rows:
        cells = [row.song, *row.sections]
        figures = ("" if not one else number_text(round(_db(one, found.loudest), 1), "dB") for one in cells)
        how = row.why or ("measured" if row.measured else "from gains")
        rows.append((_called(row.name), *figures, how))
    if found.sections:
        most = max((one for one in found.whole if one), default=0.0)
        figures = ("" if not one else number_text(round(_db(one, most), 1), "dB") for one in found.whole)
        rows.append(("the whole mix", "", *figures, found.how))
    blank = ("",) * len(found.sections)
    for name, peak, _ in found.buses:
        said = f"not known: {peak.unknown}" if isinstance(peak, Unknown) else _room_text(peak)
        rows.append((_called(name), "", *blank, said))
    return Words(head, tuple(rows))
