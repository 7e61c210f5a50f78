"""The table ``stems``: one row for a folder of stems, none for a session."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from mixlint.facts.declare import Answer, Row, Subject, Table
from mixlint.naming import family_of
from mixlint.session import MediaFile, Unknown, is_known
from mixlint.study.desk import Desk
from mixlint.study.media_use import NOT_OPENED, duration_s, file_name, header, media_of, rate_hz
from mixlint.units import number_text

_DRY: Final = re.compile(r"(?:^|[\W_])(?:dry|trocken|sec|seco|secco)(?:[\W_]|$)", re.I)


def _rows(desk: Desk) -> Iterator[Row]:
    if desk.session.source.importer == "stems":
        yield Row(desk, Subject("stems", "stems", desk.session.title or "the stems", order=-1), desk.session.media)


STEMS: Table[Row] = Table("stems", "A folder of stems as a set: one row, and none for a session.", _rows)


def _media(row: Row) -> tuple[MediaFile, ...]:
    return row.item  # type: ignore[no-any-return]


@STEMS.fact("text", "The folder's name.")
def name(row: Row) -> str:
    return row.subject.name


@STEMS.fact("number", "How many stems there are.")
def count(row: Row) -> int:
    return len(_media(row))


def _of(media: MediaFile, why: Unknown) -> Unknown:
    """A reason with the file it is about; that no audio was opened is about all of them."""
    if why == NOT_OPENED:
        return why
    return Unknown(unknown=f"{file_name(media.path)}: {why.unknown}", settle=why.settle)


def _lengths(row: Row) -> dict[str, float] | Unknown:
    found: dict[str, float] = {}
    for media in _media(row):
        length = duration_s(row.desk, media)
        if isinstance(length, Unknown):
            return _of(media, length)
        found[file_name(media.path)] = length
    return found or Unknown(unknown="there are no stems")


@STEMS.fact("number", "The length of the longest.", unit="s", how="measured")
def longest_s(row: Row) -> float | Unknown:
    found = _lengths(row)
    return found if isinstance(found, Unknown) else max(found.values())


@STEMS.fact("number", "By how much the shortest falls short of the longest.", unit="ms", how="measured")
def length_spread_ms(row: Row) -> float | Unknown:
    found = _lengths(row)
    return found if isinstance(found, Unknown) else (max(found.values()) - min(found.values())) * 1000.0


@STEMS.fact("text", "The shortest and the longest.", how="measured")
def lengths(row: Row) -> str | Unknown:
    found = _lengths(row)
    if isinstance(found, Unknown):
        return found
    short, long = min(found, key=lambda n: found[n]), max(found, key=lambda n: found[n])
    return f"{short} lasts {number_text(found[short], 's')}, {long} {number_text(found[long], 's')}"


def _stamps(row: Row) -> list[float | None]:
    """Seconds since midnight at which each file begins, by its time stamp; None where it has none."""
    found: list[float | None] = []
    for media in _media(row):
        said = header(row.desk, media.id)
        if isinstance(said, Unknown) or isinstance(said.time_reference, Unknown):
            found.append(None)
        else:
            found.append(said.time_reference / said.sample_rate_hz)
    return found


@STEMS.fact(
    "switch",
    "Every file carries a time stamp and they differ, so that the files are laid out by their stamps.",
    how="measured",
)
def laid_by_stamp(row: Row) -> bool:
    stamps = _stamps(row)
    return bool(stamps) and None not in stamps and len(set(stamps)) > 1


@STEMS.fact("number", "How many different sample rates they have.", how="measured")
def rates(row: Row) -> Answer | Unknown:
    found = []
    for media in _media(row):
        rate = rate_hz(row.desk, media)
        if isinstance(rate, Unknown):
            return _of(media, rate)
        found.append(rate)
    said = ", ".join(number_text(rate, "Hz") for rate in sorted(set(found)))
    return Answer(len(set(found)), "measured", "", said)


@STEMS.fact("text", "Which rates.", how="measured")
def rates_are(row: Row) -> str | Unknown:
    said = STEMS.answer(row, "rates")
    return said if isinstance(said, Unknown) else said.note


@STEMS.fact(
    "number", "How many different ways of storing samples they have: word length, float, coded.", how="measured"
)
def storings(row: Row) -> Answer | Unknown:
    found = set()
    for media in _media(row):
        said = header(row.desk, media.id)
        if isinstance(said, Unknown):
            return _of(media, said)
        if said.lossy:
            found.add("coded with loss")
        elif is_known(said.bit_depth):
            found.add(f"{said.bit_depth} bit{' float' if said.is_float else ''}")
        else:
            found.add("coded without loss")
    return Answer(len(found), "measured", "", ", ".join(sorted(found)))


@STEMS.fact("text", "Which ways.", how="measured")
def storings_are(row: Row) -> str | Unknown:
    said = STEMS.answer(row, "storings")
    return said if isinstance(said, Unknown) else said.note


@STEMS.fact("number", "The most legs a stem has.", how="measured")
def most_legs(row: Row) -> Answer | Unknown:
    found: dict[str, int] = {}
    for media in _media(row):
        said = header(row.desk, media.id)
        legs = said.legs if not isinstance(said, Unknown) else media.legs
        if isinstance(legs, Unknown):
            return _of(media, legs)
        found[file_name(media.path)] = legs
    most = max(found, key=lambda n: found[n], default="")
    return Answer(found.get(most, 0), "measured", most)


@STEMS.fact("switch", "One of them holds the ambience.", how="derived")
def has_ambience(row: Row) -> Answer | Unknown:
    desk = row.desk
    dry = [c for c in desk.session.channels if _DRY.search(c.name)]
    for channel in desk.session.channels:
        role = desk.role(channel.id)
        if role is not None and family_of(role) == "returns" and channel not in dry:
            return Answer(True, "derived", channel.where, desk.name(channel.id))
    if dry:
        return Answer(False, "derived", dry[0].where, f"{desk.name(dry[0].id)} is dry by its name")
    return Unknown(
        unknown="no stem is named after ambience, and it may be printed into each of them",
        settle="listen to one stem alone",
    )


@STEMS.fact("list", "Stems that hold the very same bytes.", how="measured")
def same(row: Row) -> tuple[str, ...] | Unknown:
    audio = row.desk.audio
    if audio is None:
        return NOT_OPENED
    by_size: dict[object, list[str]] = {}
    for media in _media(row):
        said = header(row.desk, media.id)
        if not isinstance(said, Unknown):
            by_size.setdefault((said.frames, said.legs, said.subtype), []).append(media.id)
    groups: dict[str, list[str]] = {}
    for ids in by_size.values():
        for one in ids if len(ids) > 1 else ():
            content = audio.digest(one)
            if isinstance(content, Unknown):
                return content
            found = media_of(row.desk, one)
            groups.setdefault(content, []).append(file_name(found.path) if found else one)
    return tuple(" and ".join(names) for names in groups.values() if len(names) > 1)
