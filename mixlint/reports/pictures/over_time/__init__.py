"""The song on one axis of time: its sections, balance and level, what plays when, and what is to be looked at where."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from mixlint.analysis.activity import song_end_s, time_grid
from mixlint.analysis.balance import Imbalance, Lean, imbalance, leans
from mixlint.analysis.context import SessionContext
from mixlint.analysis.level_over_time import LevelOverTime, level_over_time
from mixlint.reports.pictures.axis import Scale, laid_out, time_ticks
from mixlint.reports.pictures.over_time.bands import balance_band, level_band, unseen_band
from mixlint.reports.pictures.over_time.drawing import LEFT, LINE, RIGHT, Band, Section, Shade, Stack, Text
from mixlint.reports.pictures.over_time.looked_at import Looked, looked_at
from mixlint.reports.pictures.over_time.rows import Line, lines_of, rows_of
from mixlint.reports.pictures.picture import Missing, Picture, Scene, Words
from mixlint.reports.plain import neutral, shortened
from mixlint.reports.words import counts_of, with_unit
from mixlint.session import Unknown, is_known
from mixlint.units import clock_text, few_text

SECTION_ROWS: Final = 2
LEAN_ROWS: Final = 3
SPANS: Final = 12
"""So many stretches of a row are written out in words: more are counted."""

NAMED: Final = 2
"""So many causes of a stretch are named in the drawing and above it: wording."""

CAPTION_NAME: Final = 60
"""Columns of a name in the caption."""


SHAPES: Final = {
    "hold": "diamond: a finding that holds the bounce",
    "look": "triangle: one to look at",
    "note": "ring: a note",
    "ask": "square: a question",
    "drift": "small hook: automation that ends where it had not stood before, of which no finding tells",
}


class Seen(NamedTuple):
    """What is known of a session over time."""

    balance: Imbalance | Unknown
    leans: tuple[Lean, ...]
    level: LevelOverTime | Unknown
    looked: tuple[Looked, ...]
    more: int
    lines: tuple[Line, ...]


def draw(scene: Scene, name: str, title: str) -> Picture | Missing:
    """The song over time."""
    context = scene.context
    level = level_over_time(context)
    end = max(song_end_s(context), float(level.peak_s[-1]) if is_known(level) and level.peak_s.size else 0.0)
    if end <= 0.0:
        why = "the export holds no clips, so that nothing says when anything plays"
        return Missing(name, title, why, "export the arrangement")
    balance, found = imbalance(context), leans(context)
    looked, more = looked_at(context, scene.findings)
    seen = Seen(balance, found if is_known(found) else (), level, looked, more, lines_of(context, looked))
    drawn = stacked(context, seen, end)
    return Picture(name, title, _answer(context, seen), drawn, _words(context, seen, end), tuple(_legend(seen)))


def _legend(seen: Seen) -> Iterator[str]:
    """How to read what is there."""
    if seen.leans:
        yield "Shaded: where the mix leans most; who pulls it there is drawn heavy."
    if is_known(seen.level) and seen.level.peak_s.size:
        yield "Level: heavy, loudness over 3 s; thin, the highest samples."
    yield "Rows: clips that play" + (
        ", broken and grey where they do not reach the mix." if any(not one.heard for one in seen.lines) else "."
    )
    shapes = [said for kind, said in SHAPES.items() if any(one.kind == kind for one in seen.looked)]
    if shapes:
        yield f"{'; '.join(shapes)}.".capitalize()
    if any(one.loose for one in seen.looked):
        yield "Dots behind a mark: how long automation stays away."


def stacked(context: SessionContext, seen: Seen, end_s: float) -> Stack:
    """The drawing, from the sections at the top to the times at the bottom.

    Args:
        context: the session.
        seen: what is known of it.
        end_s: where the axis ends, seconds.
    """
    time = Scale(0.0, end_s, LEFT, RIGHT)
    sections = [(m.time_s, neutral(m.name)) for m in context.session.markers if 0.0 <= m.time_s < end_s]
    names = laid_out([(time.at(t), said) for t, said in sections], LEFT, RIGHT, rows=SECTION_ROWS, most=150)
    deep = max((one.row + 1 for one in names if one), default=0)
    under = deep * LINE + (4.0 if deep else 0.0)
    shades, rows_of_leans = _shades(context, seen.leans, time, under)
    y = under + rows_of_leans * LINE + 6.0
    marked = tuple(
        Section(
            time.at(t),
            one.row * LINE + 2.0 if one else under,
            under,
            Text(one.x, one.row * LINE + 12.0, one.text, said) if one else None,
            f"{said}, {clock_text(t)}",
        )
        for (t, said), one in zip(sections, names, strict=True)
    )
    bands: list[Band] = []
    if isinstance(seen.balance, Unknown):
        bands.append(unseen_band("Balance", seen.balance, y))
    else:
        bands.append(balance_band(seen.balance, float(time_grid(context)[-1]), time, y))
    y = bands[-1].bottom + 14
    if isinstance(seen.level, Unknown):
        bands.append(unseen_band("Level", seen.level, y))
    else:
        bands.append(level_band(seen.level, time, y))
    y = bands[-1].bottom + 16
    pulls = [(one.span, frozenset(pull.channel for pull in one.causes[:NAMED])) for one in seen.leans]
    rows = rows_of(context, seen.lines, seen.looked, pulls, time, y)
    bottom = y + len(rows) * LINE + 4
    ticks = tuple((time.at(t), said) for t, said in time_ticks(0.0, end_s))
    panes = (*((band.top, band.bottom) for band in bands if band.scale), (y - 4, bottom))
    return Stack(bottom + 24, bottom, panes, marked, shades, tuple(bands), rows, ticks)


def _shades(context: SessionContext, found: Sequence[Lean], time: Scale, top: float) -> tuple[tuple[Shade, ...], int]:
    """The stretches that lean, with labels over the bands; and how many rows these take."""
    spans = [(time.at(one.span[0]), time.at(one.span[1])) for one in found]
    texts = [_lean_text(context, one) for one in found]
    wishes = [(x, said) for (x, _), said in zip(spans, texts, strict=True)]
    labels = laid_out(wishes, LEFT, RIGHT, rows=LEAN_ROWS, most=360, bold=True, lines=False)
    shades = tuple(
        Shade(
            x1,
            round(max(1.0, x2 - x1), 1),
            Text(label.x, top + label.row * LINE + 13, label.text) if label else None,
            f"{said}, {clock_text(one.span[0])} to {clock_text(one.span[1])}",
        )
        for one, (x1, x2), said, label in zip(found, spans, texts, labels, strict=True)
    )
    return shades, max((one.row + 1 for one in labels if one), default=0)


def _lean_text(context: SessionContext, one: Lean) -> str:
    """How far a stretch leans, and who pulls it."""
    side = "left" if one.db > 0 else "right"
    who = few_text([neutral(context.name(pull.channel)) for pull in one.causes], NAMED, none="")
    return f"{_decibels(one.db)} {side}" + (f": {who}" if who else "")


def _decibels(value: float) -> str:
    """A difference to a tenth, whichever side."""
    return with_unit(round(abs(value), 1), "dB")


def _answer(context: SessionContext, seen: Seen) -> str:
    """What an engineer wants to know: the stretch that leans most, the highest peak, and what does not come back."""
    said = [_balance_answer(context, seen), _level_answer(seen.level)]
    loose = [one for one in seen.looked if one.loose and one.kind != "drift"]
    if loose:
        first: dict[str, float] = {}
        for one in sorted(loose, key=lambda one: one.start_s):
            first.setdefault(shortened(neutral(context.name(one.channel)), CAPTION_NAME), one.start_s)
        who = few_text([f"{name} (from {clock_text(since)})" for name, since in first.items()])
        said.append(f"Automation does not come back on {who}.")
    return " ".join(said)


def _balance_answer(context: SessionContext, seen: Seen) -> str:
    if isinstance(seen.balance, Unknown):
        return f"How left and right stand is not known: {seen.balance.unknown}."
    how = "" if seen.balance.measured else " (estimated from faders, pans and playing times)"
    if not seen.leans:
        most = seen.balance.worst_db
        if most is None:
            song = seen.balance.song_db
            side = "left" if song > 0 else "right"
            return f"Over the whole song {side} is {_decibels(song)} heavier{how}."
        if _decibels(most) == "0 dB":
            return f"Left and right are even throughout{how}."
        return f"Left and right never differ by more than {_decibels(most)}{how}."
    worst = seen.leans[0]
    side = "Left" if worst.db > 0 else "Right"
    where = f"from {clock_text(worst.span[0])} to {clock_text(worst.span[1])}"
    causes = [shortened(neutral(context.name(pull.channel)), CAPTION_NAME) for pull in worst.causes]
    why = f", because of {few_text(causes, NAMED)}" if causes else ""
    return f"{side} is up to {_decibels(worst.db)} heavier {where}{why}{how}."


def _level_answer(level: LevelOverTime | Unknown) -> str:
    if isinstance(level, Unknown):
        return f"Loudness and peaks are not known: {level.unknown}."
    peak = level.highest
    where = "" if level.laid else ", taken to begin with the session"
    if isinstance(peak, Unknown):
        return f"The highest peak is not known: {peak.unknown}."
    source = (
        f"of {shortened(neutral(level.print_name), CAPTION_NAME)}{where}"
        if level.print_name
        else "of the parts added up, ambience left out,"
    )
    return f"The highest peak {source} is {with_unit(round(peak.db, 1), peak.unit)} at {clock_text(peak.at_s)}."


def _words(context: SessionContext, seen: Seen, end_s: float) -> Words:
    return Words(("what", "where", "how much"), tuple(_said(context, seen, end_s)))


def _said(context: SessionContext, seen: Seen, end_s: float) -> Iterator[tuple[str, str, str]]:
    for marker in context.session.markers:
        yield f"section {neutral(marker.name)}", clock_text(marker.time_s), ""
    if isinstance(seen.balance, Unknown):
        yield "balance", "", f"not known: {seen.balance.unknown}"
    else:
        how = "measured" if seen.balance.measured else "estimated"
        yield "balance, left over right", "the whole song", f"{with_unit(seen.balance.song_db, 'dB')}, {how}"
    for one in seen.leans:
        yield "leans", f"{clock_text(one.span[0])} to {clock_text(one.span[1])}", _lean_text(context, one)
    yield from _level_said(seen.level)
    for line in seen.lines:
        plays = few_text([f"{clock_text(a)} to {clock_text(b)}" for a, b in line.spans], SPANS, between="; ")
        who = few_text([neutral(one) for one in line.members], SPANS) if len(line.members) > 1 else ""
        if line.spans or who:
            yield (
                neutral(line.name),
                plays if line.spans else "",
                who if line.heard else f"{who} silent in the mix".strip(),
            )
    for mark in seen.looked:
        where = clock_text(mark.start_s)
        if mark.end_s > mark.start_s:
            where = f"{where} to {clock_text(min(mark.end_s, end_s))}"
        yield neutral(mark.text), where, KINDS[mark.kind]
    if seen.more:
        yield "not marked for want of room", "", counts_of(seen.more, "finding")


KINDS: Final = {"hold": "holds the bounce", "look": "to look at", "note": "a note", "ask": "a question", "drift": ""}


def _level_said(level: LevelOverTime | Unknown) -> Iterator[tuple[str, str, str]]:
    if isinstance(level, Unknown):
        yield "loudness and peak", "", f"not known: {level.unknown}"
        return
    source = f"measured in {neutral(level.print_name)}" if level.print_name else "estimated from the parts"
    judged = level.lufs[level.lufs == level.lufs]  # silence is no number
    if judged.size:
        loudest = (
            int(level.lufs.argmax()) if judged.size == level.lufs.size else int((level.lufs == judged.max()).argmax())
        )
        where = clock_text(float(level.middles_s[loudest]))
        yield "loudest 3 s", f"about {where}", f"{with_unit(round(float(judged.max()), 1), 'LUFS')}, {source}"
        yield "quietest 3 s", "", f"{with_unit(round(float(judged.min()), 1), 'LUFS')}, {source}"
    peak = level.highest
    if isinstance(peak, Unknown):
        yield "highest peak", "", f"not known: {peak.unknown}"
    else:
        yield "highest peak", clock_text(peak.at_s), with_unit(peak.db, peak.unit)
