"""The table ``handover``: one row, the session as it goes out of the house."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from mixlint.analysis.activity import has_arrangement, song_end_s
from mixlint.analysis.ambience import effect_of
from mixlint.analysis.audibility import is_aside, is_audible, is_return
from mixlint.analysis.context import SessionContext
from mixlint.analysis.media_use import file_name, session_rate_hz
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.handover.file_names import is_portable, run_together
from mixlint.session import Marker, Session, Timeline, Unknown
from mixlint.units import clock_text


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Session]]:
    title = context.session.title or "the session"
    yield Subject("handover", "handover", title, order=-1), context.session


HANDOVER: Table[Session] = Table("handover", "The session as it goes out of the house: one row.", _rows)

_UNTITLED: Final = re.compile(
    r"^(?:untitled|unnamed|new|default|session|project|song|mix|test|template|ohne titel|unbenannt|neu|sans titre|"
    r"nouveau|sin t[ií]tulo|nuevo|senza titolo|nuovo|sem t[ií]tulo|novo|namnl[oö]s|無題)"
    r"(?:[\s_\-]*(?:session|project|song|mix|projekt|projet|proyecto|progetto|projeto))?[\s_\-.#()]*\d*$",
    re.IGNORECASE,
)
"""Titles that a program gives, in several languages."""

_END: Final = re.compile(
    r"^\W*(?:end(?:e|ing)?|the end|song end|fin(?:e)?|slut|koniec|fim|終わり)(?:\W*(?:of song|marker))?\W*$",
    re.I,
)
"""Names of markers that say where the song ends; an outro or a coda is a part, not the end."""


@HANDOVER.fact("text", "The session's title.")
def name(row: Row[Session]) -> str:
    return row.subject.name


@HANDOVER.fact("switch", "It has a title of its own, not one that a program gave.")
def titled(row: Row[Session]) -> bool:
    title = row.context.session.title.strip()
    return bool(title) and _UNTITLED.match(title) is None


@HANDOVER.fact("switch", "It says its tempo.")
def tempo_told(row: Row[Session]) -> FactValue:
    timeline = row.context.session.timeline
    known = isinstance(timeline, Timeline)
    return FactValue(known, "declared", "", "" if isinstance(timeline, Timeline) else timeline.unknown)


@HANDOVER.fact("switch", "Its sample rate is known, from itself or from its files.")
def rate_told(row: Row[Session]) -> bool | Unknown:
    rate = session_rate_hz(row.context)
    return rate if isinstance(rate, Unknown) else True


@HANDOVER.fact("list", "Which of title and tempo the session does not tell.", how="derived")
def untold(row: Row[Session]) -> tuple[str, ...]:
    facts = {"title": "titled", "tempo": "tempo_told"}
    answers = {what: row.value(fact) for what, fact in facts.items()}
    return tuple(what for what, said in answers.items() if isinstance(said, FactValue) and said.value is False)


@HANDOVER.fact("number", "How many audio files the session refers to.")
def files(row: Row[Session]) -> int:
    return len(row.context.session.media)


def _unportable(row: Row[Session]) -> list[str]:
    names = [file_name(m.path) for m in row.context.session.media if not is_portable(_own_path(m.path, m.place))]
    return list(dict.fromkeys(names))


def _own_path(path: str, place: str) -> str:
    """What travels of a path: of one outside the session's folder the file's name only."""
    return file_name(path) if place == "outside" else path


@HANDOVER.fact(
    "number", "How many file names hold characters that not every system can, or are too long.", how="derived"
)
def unportable(row: Row[Session]) -> int:
    return len(_unportable(row))


@HANDOVER.fact("switch", "Spaces are all that keeps its file names from every system.", how="derived")
def only_spaces(row: Row[Session]) -> bool:
    paths = [_own_path(m.path, m.place) for m in row.context.session.media]
    trouble = [path for path in paths if not is_portable(path)]
    return bool(trouble) and all(is_portable(path.replace(" ", "_")) for path in trouble)


@HANDOVER.fact("text", "Which they are.", how="derived")
def unportable_names(row: Row[Session]) -> str:
    found = _unportable(row)
    return ", ".join(found[:3]) + (f" and {len(found) - 3} more" if len(found) > 3 else "") if found else "none"


@HANDOVER.fact("list", "Files that differ only in letter case or in how accents are encoded.", how="derived")
def alike(row: Row[Session]) -> tuple[str, ...]:
    return tuple(" and ".join(group) for group in run_together(row.context.session.media))


@HANDOVER.fact("switch", "A reverb or delay return sounds, so that the song ends after its last clip.", how="derived")
def has_tail(row: Row[Session]) -> bool:
    context = row.context
    return any(
        is_return(context, channel)
        and is_audible(context, channel)
        and effect_of(context, channel) in ("reverb", "delay")
        for channel in context.session.channels
    )


def _end_marker(context: SessionContext) -> Marker | None:
    marks = [marker for marker in context.session.markers if _END.match(marker.name)]
    return max(marks, key=lambda marker: marker.time_s, default=None)


@HANDOVER.fact("switch", "A marker says where the song ends.")
def end_marked(row: Row[Session]) -> bool:
    return _end_marker(row.context) is not None and has_arrangement(row.context)


@HANDOVER.fact("number", "How long the end marker leaves after the last clip.", unit="s", how="derived")
def room_s(row: Row[Session]) -> FactValue | Unknown:
    marker = _end_marker(row.context)
    if marker is None or not has_arrangement(row.context):
        return Unknown(unknown="no marker says where the song ends", settle="look at the range of the bounce")
    ends = [
        clip.end_s
        for channel in row.context.session.channels
        if not is_aside(row.context, channel) and is_audible(row.context, channel)
        for clip in channel.clips
        if clip.on is not False
    ]
    last = max(ends, default=song_end_s(row.context))
    return FactValue(
        marker.time_s - last, "derived", clock_text(marker.time_s), f"the last clip ends at {clock_text(last)}"
    )


@HANDOVER.fact("text", "The end marker and its place.", how="derived")
def end_marker(row: Row[Session]) -> str:
    marker = _end_marker(row.context)
    return f"{marker.name} at {clock_text(marker.time_s)}" if marker else "none"
