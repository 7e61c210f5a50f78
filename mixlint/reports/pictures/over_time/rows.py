"""What plays when, part by part or family by family, and what is to be looked at on the way."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final, NamedTuple

from mixlint.analysis.activity import merged, sounding_clips, sounding_spans
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext
from mixlint.reports.pictures.axis import Scale
from mixlint.reports.pictures.lettering import fitted
from mixlint.reports.pictures.over_time.drawing import LEFT, LINE, Loose, Row, Text
from mixlint.reports.pictures.over_time.looked_at import Looked
from mixlint.reports.pictures.shapes import Mark
from mixlint.reports.plain import neutral, shortened
from mixlint.review.findings import GRAVITY
from mixlint.session import Channel
from mixlint.units import few_text

MOST_PARTS: Final = 24
"""Of more parts than this families are drawn."""

MOST_STRIPS: Final = 10
"""Of more strips that play nothing themselves, and have something marked, kinds are drawn."""

WHOLE: Final = ""
"""The row of what is no channel's."""

LEAST_GAP: Final = 1.6
"""A gap of fewer units is not seen in a line, and not drawn."""

MOST_SPANS: Final = 2500
"""Where the lines would have more strokes in all, wider gaps are closed until they have not."""

APART: Final = 12.0
"""Marks of one row that would lie nearer to each other are one."""

TITLE: Final = 400
"""Columns of what a title says; all of it stands among the findings."""

Span = tuple[float, float]


class Line(NamedTuple):
    """A row before it is drawn.

    Args:
        key: what the row is of: the id of a channel, the name of a family, or :data:`WHOLE`.
        name: its name.
        members: the channels that it stands for, by name.
        spans: when it plays, seconds.
        heard: a part of it reaches the mix.
        through: the spans are of what passes it.
    """

    key: str
    name: str
    members: tuple[str, ...]
    spans: tuple[Span, ...]
    heard: bool
    through: bool


def lines_of(context: SessionContext, looked: Sequence[Looked]) -> tuple[Line, ...]:
    """The rows of a session: its parts in desk order, or their families; then other strips with something marked."""
    parts = [one for one in context.session.channels if is_source(context, one)]
    folded = len(parts) > MOST_PARTS
    groups: dict[str, list[Channel]] = {}
    for part in parts:
        groups.setdefault(_family(context, part) if folded else part.id, []).append(part)
    lines = [_line(context, key, ones, folded) for key, ones in groups.items()]
    shown = {part.id for part in parts}
    marked = {one.channel for one in looked} - shown
    others = [one for one in context.session.channels if one.id in marked]
    kinds: dict[str, list[Channel]] = {}
    for one in others:
        kinds.setdefault(_kind(one) if folded or len(others) > MOST_STRIPS else one.id, []).append(one)
    lines += [_strip(context, key, ones) for key, ones in kinds.items()]
    if any(one.channel == WHOLE for one in looked):
        lines.insert(0, Line(WHOLE, "the whole mix", (), (), heard=True, through=True))
    return tuple(lines)


def _family(context: SessionContext, part: Channel) -> str:
    return context.family(part.id) or "other parts"


KINDS: Final = {
    "track": "other tracks", "group": "groups", "return": "returns", "master": "mix buses", "vca": "VCAs",
}  # fmt: skip


def _kind(channel: Channel) -> str:
    return KINDS.get(str(channel.kind), "other strips")


def _line(context: SessionContext, key: str, ones: list[Channel], folded: bool) -> Line:
    names = tuple(context.name(one.id) for one in ones)
    heard = [one for one in ones if is_audible(context, one)]
    spans = [span for one in (heard or ones) for span in sounding_clips(one)]
    name = f"{key.replace('-', ' ')} ({len(ones)})" if folded else names[0]
    return Line(key, name, names, tuple(merged(spans)), bool(heard), through=False)


def _strip(context: SessionContext, key: str, ones: list[Channel]) -> Line:
    names = tuple(context.name(one.id) for one in ones)
    spans = [span for one in ones if one.kind != "vca" for span in sounding_spans(context, one.id)]
    name = names[0] if len(names) == 1 else f"{key} ({len(ones)})"
    return Line(key, name, names, tuple(merged(spans)), heard=True, through=True)


def rows_of(
    context: SessionContext,
    lines: Sequence[Line],
    looked: Sequence[Looked],
    pulls: Sequence[tuple[Span, frozenset[str]]],
    time: Scale,
    top: float,
) -> tuple[Row, ...]:
    """The rows as they are drawn.

    Args:
        context: the session.
        lines: what the rows are of.
        looked: what is to be looked at.
        pulls: the stretches in which the mix leans, and the ids of the channels that pull it.
        time: the axis of the song.
        top: where the first row begins.
    """
    key_of = _keys(context, lines)
    on_row: dict[str, list[Looked]] = {}
    for one in looked:
        on_row.setdefault(key_of.get(one.channel, WHOLE), []).append(one)
    gap = LEAST_GAP
    while sum(len(_strokes(line.spans, time, gap)) for line in lines) > MOST_SPANS:
        gap *= 2.0
    rows = []
    for number, line in enumerate(lines):
        y = top + number * LINE + LINE / 2
        here = on_row.get(line.key, [])
        heavy = [
            (max(start, first), min(end, last))
            for (first, last), channels in pulls
            if any(key_of.get(one) == line.key for one in channels)
            for start, end in line.spans
            if start < last and end > first
        ]
        name = neutral(line.name)
        rows.append(
            Row(
                Text(0, y + 4, fitted(name, LEFT - 14), name),
                _path(_strokes(line.spans, time, gap), y),
                _path(_strokes(merged(heavy), time, gap), y),
                line.through,
                not line.heard,
                _marks(here, time, y),
                _loose(here, time, y),
            )
        )
    return tuple(rows)


def _keys(context: SessionContext, lines: Sequence[Line]) -> dict[str, str]:
    """Channel id → the key of its row."""
    keys = {line.key for line in lines}
    found = {}
    for channel in context.session.channels:
        wishes = (channel.id, _family(context, channel), _kind(channel))
        source = is_source(context, channel)
        found[channel.id] = next(
            (key for key in (wishes if source else (wishes[0], wishes[2])) if key in keys and key != WHOLE), WHOLE
        )
    return found


def _strokes(spans: Iterable[Span], time: Scale, gap: float) -> list[Span]:
    """Spans in user units, in which gaps that nobody would see are closed."""
    found: list[Span] = []
    for start, end in spans:
        if end <= time.low or start >= time.high:
            continue
        x1, x2 = time.at(start), time.at(end)
        if found and x1 - found[-1][1] < gap:
            found[-1] = (found[-1][0], max(found[-1][1], x2))
        else:
            found.append((x1, max(x2, round(x1 + 0.8, 1))))
    return found


def _path(strokes: Iterable[Span], y: float) -> str:
    return "".join(f"M{x1:g} {y:g}H{x2:g}" for x1, x2 in strokes)


def _marks(looked: Sequence[Looked], time: Scale, y: float) -> tuple[Mark, ...]:
    """The marks of a row, from left to right; those too near to each other are one, of the gravest shape."""
    groups: list[tuple[float, list[Looked]]] = []
    for one in sorted(looked, key=lambda one: one.start_s):
        x = time.at(one.start_s)
        if groups and x - groups[-1][0] < APART:
            groups[-1][1].append(one)
        else:
            groups.append((x, [one]))
    found = []
    for x, ones in groups:
        gravest = min(ones, key=lambda one: ORDER[one.kind])
        found.append(Mark(gravest.kind, x, y, _title(ones)))
    return tuple(found)


ORDER: Final = {**GRAVITY, "ask": 3, "drift": 4}


def _title(ones: Sequence[Looked]) -> str:
    return shortened(neutral(few_text([one.text for one in ones], between=" / ")), TITLE)


def _loose(looked: Sequence[Looked], time: Scale, y: float) -> tuple[Loose, ...]:
    """What does not come back, one line for those that overlap."""
    found: list[Loose] = []
    away = sorted((one for one in looked if one.loose), key=lambda one: one.start_s)
    for one in away:
        x, end = time.at(one.start_s), time.at(one.end_s)
        if found and x <= found[-1].end:
            last = found[-1]
            found[-1] = Loose(last.x, max(last.end, end), last.y)
        elif end > x:
            found.append(Loose(x, end, round(y + 5.0, 1)))
    return tuple(found)
