"""The table ``stems``: one row for a folder of stems, none for a session."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from mixlint.analysis.context import SessionContext
from mixlint.analysis.media_use import NOT_OPENED, duration_s, file_name, header, media_of, rate_hz
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.naming import family_of
from mixlint.session import MediaFile, Unknown, is_known
from mixlint.units import number_text

_DRY: Final = re.compile(r"(?:^|[\W_])(?:dry|trocken|sec|seco|secco)(?:[\W_]|$)", re.I)


def _rows(context: SessionContext) -> Iterator[tuple[Subject, tuple[MediaFile, ...]]]:
    if context.session.source.importer == "stems":
        yield Subject("stems", "stems", context.session.title or "the stems", order=-1), context.session.media


STEMS: Table[tuple[MediaFile, ...]] = Table(
    "stems", "A folder of stems as a set: one row, and none for a session.", _rows
)


def _media(row: Row[tuple[MediaFile, ...]]) -> tuple[MediaFile, ...]:
    return row.item


@STEMS.fact("text", "The folder's name.")
def name(row: Row[tuple[MediaFile, ...]]) -> str:
    return row.subject.name


@STEMS.fact("number", "How many stems there are.")
def count(row: Row[tuple[MediaFile, ...]]) -> int:
    return len(_media(row))


def _of(media: MediaFile, why: Unknown) -> Unknown:
    """A reason with the file it is about; that no audio was opened is about all of them."""
    if why == NOT_OPENED:
        return why
    return Unknown(unknown=f"{file_name(media.path)}: {why.unknown}", settle=why.settle)


def _lengths(row: Row[tuple[MediaFile, ...]]) -> dict[str, float] | Unknown:
    found: dict[str, float] = {}
    for media in _media(row):
        length = duration_s(row.context, media)
        if isinstance(length, Unknown):
            return _of(media, length)
        found[file_name(media.path)] = length
    return found or Unknown(unknown="there are no stems")


@STEMS.fact("number", "The length of the longest.", unit="s", how="measured")
def longest_s(row: Row[tuple[MediaFile, ...]]) -> float | Unknown:
    found = _lengths(row)
    return found if isinstance(found, Unknown) else max(found.values())


@STEMS.fact("number", "By how much the shortest falls short of the longest.", unit="ms", how="measured")
def length_spread_ms(row: Row[tuple[MediaFile, ...]]) -> float | Unknown:
    found = _lengths(row)
    return found if isinstance(found, Unknown) else (max(found.values()) - min(found.values())) * 1000.0


@STEMS.fact("text", "The shortest and the longest.", how="measured")
def lengths(row: Row[tuple[MediaFile, ...]]) -> str | Unknown:
    found = _lengths(row)
    if isinstance(found, Unknown):
        return found
    short, long = min(found, key=lambda n: found[n]), max(found, key=lambda n: found[n])
    return f"{short} lasts {number_text(found[short], 's')}, {long} {number_text(found[long], 's')}"


def _stamps(row: Row[tuple[MediaFile, ...]]) -> list[float | None]:
    """Seconds since midnight at which each file begins, by its time stamp; None where it has none."""
    found: list[float | None] = []
    for media in _media(row):
        said = header(row.context, media.id)
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
def laid_by_stamp(row: Row[tuple[MediaFile, ...]]) -> bool:
    stamps = _stamps(row)
    return bool(stamps) and None not in stamps and len(set(stamps)) > 1


@STEMS.fact("number", "How many different sample rates they have.", how="measured")
def rates(row: Row[tuple[MediaFile, ...]]) -> FactValue | Unknown:
    found = []
    for media in _media(row):
        rate = rate_hz(row.context, media)
        if isinstance(rate, Unknown):
            return _of(media, rate)
        found.append(rate)
    said = ", ".join(number_text(rate, "Hz") for rate in sorted(set(found)))
    return FactValue(len(set(found)), "measured", "", said)


@STEMS.fact("text", "Which rates.", how="measured")
def rates_are(row: Row[tuple[MediaFile, ...]]) -> str | Unknown:
    said = row.value("rates")
    return said if isinstance(said, Unknown) else said.note


@STEMS.fact(
    "number", "How many different ways of storing samples they have: word length, float, coded.", how="measured"
)
def storings(row: Row[tuple[MediaFile, ...]]) -> FactValue | Unknown:
    found = set()
    for media in _media(row):
        said = header(row.context, media.id)
        if isinstance(said, Unknown):
            return _of(media, said)
        if said.lossy:
            found.add("coded with loss")
        elif is_known(said.bit_depth):
            found.add(f"{said.bit_depth} bit{' float' if said.is_float else ''}")
        else:
            found.add("coded without loss")
    return FactValue(len(found), "measured", "", ", ".join(sorted(found)))


@STEMS.fact("text", "Which ways.", how="measured")
def storings_are(row: Row[tuple[MediaFile, ...]]) -> str | Unknown:
    said = row.value("storings")
    return said if isinstance(said, Unknown) else said.note


@STEMS.fact("number", "The most legs a stem has.", how="measured")
def most_legs(row: Row[tuple[MediaFile, ...]]) -> FactValue | Unknown:
    found: dict[str, int] = {}
    for media in _media(row):
        said = header(row.context, media.id)
        legs = said.legs if not isinstance(said, Unknown) else media.legs
        if isinstance(legs, Unknown):
            return _of(media, legs)
        found[file_name(media.path)] = legs
    most = max(found, key=lambda n: found[n], default="")
    return FactValue(found.get(most, 0), "measured", most)


@STEMS.fact("switch", "One of them holds the ambience.", how="derived")
def has_ambience(row: Row[tuple[MediaFile, ...]]) -> FactValue | Unknown:
    context = row.context
    dry = [c for c in context.session.channels if _DRY.search(c.name)]
    for channel in context.session.channels:
        role = context.role(channel.id)
        if role is not None and family_of(role) == "returns" and channel not in dry:
            return FactValue(True, "derived", channel.where, context.name(channel.id))
    if dry:
        return FactValue(False, "derived", dry[0].where, f"{context.name(dry[0].id)} is dry by its name")
    return Unknown(
        unknown="no stem is named after ambience, and it may be printed into each of them",
        settle="listen to one stem alone",
    )


@STEMS.fact("list", "Stems that hold the very same bytes.", how="measured")
def same(row: Row[tuple[MediaFile, ...]]) -> tuple[str, ...] | Unknown:
    audio = row.context.audio
    if audio is None:
        return NOT_OPENED
    by_size: dict[object, list[str]] = {}
    for media in _media(row):
        said = header(row.context, media.id)
        if not isinstance(said, Unknown):
            by_size.setdefault((said.frames, said.legs, said.subtype), []).append(media.id)
    groups: dict[str, list[str]] = {}
    for ids in by_size.values():
        for one in ids if len(ids) > 1 else ():
            content = audio.digest(one)
            if isinstance(content, Unknown):
                return content
            found = media_of(row.context, one)
            groups.setdefault(content, []).append(file_name(found.path) if found else one)
    return tuple(" and ".join(names) for names in groups.values() if len(names) > 1)
