"""The table ``stems``: one row for a folder of stems, none for a session."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeVar

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import NOT_OPENED, duration_s, file_name, header, media_of, rate_hz
from mixlint.analysis.mix_prints import is_set_of_stems, stem_files
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.stem.in_the_print import COPY_LEFT_DB, copies_of_set
from mixlint.facts.stems import ends, sum_facts
from mixlint.naming import family_of, is_dry
from mixlint.session import MediaFile, Unknown, is_known, known
from mixlint.units import number_text

StemSet = tuple[MediaFile, ...]
"""The files of a folder of stems."""

T = TypeVar("T")


def _rows(context: SessionContext) -> Iterator[tuple[Subject, StemSet]]:
    if is_set_of_stems(context):
        yield Subject("stems", "stems", context.session.title or "the stems", order=-1), stem_files(context)


STEMS: Table[StemSet] = Table(
    "stems",
    "A folder of stems as a set, prints and other versions of the mix left out: one row, and none for a session.",
    _rows,
    (sum_facts.FACTS, ends.FACTS),
)


@STEMS.fact("text", "The folder's name.")
def name(row: Row[StemSet]) -> str:
    return row.subject.name


@STEMS.fact("number", "How many stems there are.")
def count(row: Row[StemSet]) -> int:
    return len(row.item)


def _known_of(media: MediaFile, value: T | Unknown) -> T:
    """``value``, where it is known.

    Raises:
        NotKnown: it is not, for a reason that names the file; that no audio was opened is about all of them.
    """
    if isinstance(value, Unknown) and value != NOT_OPENED:
        return known(Unknown(unknown=f"{file_name(media.path)}: {value.unknown}", settle=value.settle))
    return known(value)


@per_session
def _lengths_s(context: SessionContext, stems: StemSet) -> dict[str, float] | Unknown:
    """File name to length, seconds; Unknown where one of them is, or there are no stems."""
    found = {file_name(media.path): _known_of(media, duration_s(context, media)) for media in stems}
    return found or Unknown(unknown="there are no stems")


def _lengths(row: Row[StemSet]) -> dict[str, float]:
    return known(_lengths_s(row.context, row.item))


@STEMS.fact("number", "The length of the longest.", unit="s", how="measured")
def longest_s(row: Row[StemSet]) -> float:
    return max(_lengths(row).values())


@STEMS.fact("number", "The length of the one in the middle, by length.", unit="s", how="measured")
def middle_s(row: Row[StemSet]) -> float:
    found = sorted(_lengths(row).values())
    return found[len(found) // 2]


@STEMS.fact("number", "By how much the shortest falls short of the longest.", unit="ms", how="measured")
def length_spread_ms(row: Row[StemSet]) -> float:
    found = _lengths(row).values()
    return (max(found) - min(found)) * 1000.0


@STEMS.fact("text", "The shortest and the longest.", how="measured")
def lengths(row: Row[StemSet]) -> str:
    found = _lengths(row)
    short, long = min(found, key=lambda n: found[n]), max(found, key=lambda n: found[n])
    return f"{short} lasts {number_text(found[short], 's')}, {long} {number_text(found[long], 's')}"


def _stamps_s(row: Row[StemSet]) -> list[float | None]:
    """Seconds since midnight at which each file begins, by its time stamp; None where it has none."""
    found: list[float | None] = []
    for media in row.item:
        head = header(row.context, media.id)
        if isinstance(head, Unknown) or isinstance(head.time_reference, Unknown):
            found.append(None)
        else:
            found.append(head.time_reference / head.sample_rate_hz)
    return found


@STEMS.fact(
    "switch",
    "Every file carries a time stamp and they differ, so that the files are laid out by their stamps.",
    how="measured",
)
def laid_by_stamp(row: Row[StemSet]) -> bool:
    stamps = _stamps_s(row)
    return bool(stamps) and None not in stamps and len(set(stamps)) > 1


@STEMS.fact("number", "How many different sample rates they have.", how="measured")
def rates(row: Row[StemSet]) -> FactValue:
    found = {_known_of(media, rate_hz(row.context, media)) for media in row.item}
    return FactValue(len(found), "measured", "", ", ".join(number_text(rate, "Hz") for rate in sorted(found)))


STEMS.echo("rates_are", "rates.note")


@STEMS.fact(
    "number",
    "How many different encodings of samples they have: word length, float, coded.",
    how="measured",
    once="storings",
)
def encodings(row: Row[StemSet]) -> FactValue:
    found = set()
    for media in row.item:
        head = _known_of(media, header(row.context, media.id))
        if head.lossy:
            found.add("coded with loss")
        elif is_known(head.bit_depth):
            found.add(f"{head.bit_depth} bit{' float' if head.is_float else ''}")
        else:
            found.add("coded without loss")
    return FactValue(len(found), "measured", "", ", ".join(sorted(found)))


STEMS.echo("storings_are", "encodings.note")


@STEMS.fact("number", "The most legs a stem has.", how="measured")
def most_legs(row: Row[StemSet]) -> FactValue:
    found: dict[str, int] = {}
    for media in row.item:
        head = header(row.context, media.id)
        found[file_name(media.path)] = _known_of(media, head.legs if is_known(head) else media.legs)
    most = max(found, key=lambda n: found[n], default="")
    return FactValue(found.get(most, 0), "measured", most)


@STEMS.fact("switch", "One of them holds the ambience.", how="derived")
def has_ambience(row: Row[StemSet]) -> FactValue | Unknown:
    context = row.context
    dry = [c for c in context.session.channels if is_dry(c.name, context.house.vocabulary)]
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
def same(row: Row[StemSet]) -> tuple[str, ...] | Unknown:
    return _same_bytes(row.context, row.item)


@per_session
def _same_bytes(context: SessionContext, stems: StemSet) -> tuple[str, ...] | Unknown:
    audio = context.audio
    if audio is None:
        return NOT_OPENED
    by_form: dict[object, list[str]] = {}
    for media in stems:
        head = header(context, media.id)
        if not isinstance(head, Unknown):
            by_form.setdefault((head.frames, head.legs, head.subtype), []).append(media.id)
    groups: dict[str, list[str]] = {}
    for ids in by_form.values():
        for one in ids if len(ids) > 1 else ():
            groups.setdefault(known(audio.digest(one)), []).append(_name_of(context, one))
    return tuple(" and ".join(names) for names in groups.values() if len(names) > 1)


def _name_of(context: SessionContext, media_id: str) -> str:
    found = media_of(context, media_id)
    return file_name(found.path) if found else media_id


@STEMS.fact(
    "list",
    "Stems that hold one recording, byte for byte or by their sound, with what differs.",
    how="measured",
    settings=(COPY_LEFT_DB,),
)
def copies(row: Row[StemSet]) -> tuple[str, ...]:
    context = row.context
    bytewise = known(_same_bytes(context, row.item))
    found = list(bytewise)
    for one in known(copies_of_set(context)):
        first, second = _name_of(context, one.first), _name_of(context, one.second)
        if any(first in text.split(" and ") and second in text.split(" and ") for text in bytewise):
            continue
        level = number_text(one.gain_db, "dB") if abs(one.gain_db) >= 0.05 else ""
        what = [f"{level} apart" if level else "", "polarity turned over" if one.turned else ""]
        said = ", ".join(part for part in what if part) or "stored anew"
        found.append(f"{first} and {second} ({said}; {number_text(one.left_db, 'dB')} differ)")
    return tuple(found)
