"""The table ``handover``: one row, the session as it goes out of the house."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from mixlint.facts.declare import Answer, Row, Subject, Table
from mixlint.session import Marker, Timeline, Unknown
from mixlint.study.activity import has_arrangement, song_end_s
from mixlint.study.ambience import effect_of
from mixlint.study.desk import Desk
from mixlint.study.file_names import is_portable, run_together
from mixlint.study.media_use import file_name, session_rate_hz
from mixlint.study.parts import is_aside, is_audible, is_return
from mixlint.units import clock_text


def _rows(desk: Desk) -> Iterator[Row]:
    title = desk.session.title or "the session"
    yield Row(desk, Subject("handover", "handover", title, order=-1), desk.session)


HANDOVER: Table[Row] = Table("handover", "The session as it goes out of the house: one row.", _rows)

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
def name(row: Row) -> str:
    return row.subject.name


@HANDOVER.fact("switch", "It has a title of its own, not one that a program gave.")
def titled(row: Row) -> bool:
    title = row.desk.session.title.strip()
    return bool(title) and _UNTITLED.match(title) is None


@HANDOVER.fact("switch", "It says its tempo.")
def tempo_told(row: Row) -> Answer:
    timeline = row.desk.session.timeline
    known = isinstance(timeline, Timeline)
    return Answer(known, "declared", "", "" if isinstance(timeline, Timeline) else timeline.unknown)


@HANDOVER.fact("switch", "Its sample rate is known, from itself or from its files.")
def rate_told(row: Row) -> bool | Unknown:
    rate = session_rate_hz(row.desk)
    return rate if isinstance(rate, Unknown) else True


@HANDOVER.fact("list", "Which of title and tempo the session does not tell.", how="derived")
def untold(row: Row) -> tuple[str, ...]:
    facts = {"title": "titled", "tempo": "tempo_told"}
    answers = {what: HANDOVER.answer(row, fact) for what, fact in facts.items()}
    return tuple(what for what, said in answers.items() if isinstance(said, Answer) and said.value is False)


@HANDOVER.fact("number", "How many audio files the session refers to.")
def files(row: Row) -> int:
    return len(row.desk.session.media)


def _unportable(row: Row) -> list[str]:
    names = [file_name(m.path) for m in row.desk.session.media if not is_portable(_own_path(m.path, m.place))]
    return list(dict.fromkeys(names))


def _own_path(path: str, place: str) -> str:
    """What travels of a path: of one outside the session's folder the file's name only."""
    return file_name(path) if place == "outside" else path


@HANDOVER.fact(
    "number", "How many file names hold characters that not every system can, or are too long.", how="derived"
)
def unportable(row: Row) -> int:
    return len(_unportable(row))


@HANDOVER.fact("switch", "Spaces are all that keeps its file names from every system.", how="derived")
def only_spaces(row: Row) -> bool:
    paths = [_own_path(m.path, m.place) for m in row.desk.session.media]
    trouble = [path for path in paths if not is_portable(path)]
    return bool(trouble) and all(is_portable(path.replace(" ", "_")) for path in trouble)


@HANDOVER.fact("text", "Which they are.", how="derived")
def unportable_names(row: Row) -> str:
    found = _unportable(row)
    return ", ".join(found[:3]) + (f" and {len(found) - 3} more" if len(found) > 3 else "") if found else "none"


@HANDOVER.fact("list", "Files that differ only in letter case or in how accents are encoded.", how="derived")
def alike(row: Row) -> tuple[str, ...]:
    return tuple(" and ".join(group) for group in run_together(row.desk.session.media))


@HANDOVER.fact("switch", "A reverb or delay return sounds, so that the song ends after its last clip.", how="derived")
def has_tail(row: Row) -> bool:
    desk = row.desk
    return any(
        is_return(desk, channel) and is_audible(desk, channel) and effect_of(desk, channel) in ("reverb", "delay")
        for channel in desk.session.channels
    )


def _end_marker(desk: Desk) -> Marker | None:
    marks = [marker for marker in desk.session.markers if _END.match(marker.name)]
    return max(marks, key=lambda marker: marker.time_s, default=None)


@HANDOVER.fact("switch", "A marker says where the song ends.")
def end_marked(row: Row) -> bool:
    return _end_marker(row.desk) is not None and has_arrangement(row.desk)


@HANDOVER.fact("number", "How long the end marker leaves after the last clip.", unit="s", how="derived")
def room_s(row: Row) -> Answer | Unknown:
    marker = _end_marker(row.desk)
    if marker is None or not has_arrangement(row.desk):
        return Unknown(unknown="no marker says where the song ends", settle="look at the range of the bounce")
    ends = [
        clip.end_s
        for channel in row.desk.session.channels
        if not is_aside(row.desk, channel) and is_audible(row.desk, channel)
        for clip in channel.clips
        if clip.on is not False
    ]
    last = max(ends, default=song_end_s(row.desk))
    return Answer(
        marker.time_s - last, "derived", clock_text(marker.time_s), f"the last clip ends at {clock_text(last)}"
    )


@HANDOVER.fact("text", "The end marker and its place.", how="derived")
def end_marker(row: Row) -> str:
    marker = _end_marker(row.desk)
    return f"{marker.name} at {clock_text(marker.time_s)}" if marker else "none"
