"""The table ``programme``: the programmes of files that describe their legs, and contents that state a loudness."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from mixlint.analysis.context import SessionContext
from mixlint.analysis.deliveries import Delivery, deliveries, objects_of_programme
from mixlint.analysis.media_use import file_name
from mixlint.analysis.speaker_feeds import RENDERED, loudness_of
from mixlint.analysis.stated_loudness import loudness_off, range_off, true_peak_off
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.media.adm.model import Content, Programme
from mixlint.media.labels import NOTHING_STATED, Stated
from mixlint.session import Unknown, known

if TYPE_CHECKING:
    from mixlint.signal.programme import Programme as Measured


class Offer(NamedTuple):
    """A programme, or one of the contents of programmes, in its file."""

    delivery: Delivery
    what: Programme | Content


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Offer]]:
    place = 0
    for one in deliveries(context):
        contents = [content for content in one.adm.contents.values() if content.loudness]
        offers: list[Programme | Content] = [*one.adm.programmes.values(), *contents]
        for what in offers:
            number = f"{one.media.id}:{what.id}"
            yield Subject("programme", number, what.name or what.id, one.media.path, place), Offer(one, what)
            place += 1


PROGRAMME: Table[Offer] = Table(
    "programme",
    "The programmes of files that describe their legs (ADM), and their contents that state a loudness.",
    _rows,
)


@PROGRAMME.fact("text", "Its name, else its number.")
def name(row: Row[Offer]) -> str:
    return row.subject.name


@PROGRAMME.fact("text", "The file that it is in.")
def file(row: Row[Offer]) -> str:
    return file_name(row.item.delivery.media.path)


@PROGRAMME.fact("word", "Whether it is a programme or a content of one.", words=("programme", "content"))
def kind(row: Row[Offer]) -> str:
    return "programme" if isinstance(row.item.what, Programme) else "content"


@PROGRAMME.fact("text", "The language of its words, as it is written; empty where none is told.")
def language(row: Row[Offer]) -> str:
    return row.item.what.language


@PROGRAMME.fact(
    "word",
    "Whether it holds dialogue: none, nothing but that, or that and other sound.",
    words=("none", "dialogue", "mixed", "not told"),
)
def dialogue(row: Row[Offer]) -> str:
    what, adm = row.item.what, row.item.delivery.adm
    if isinstance(what, Content):
        return what.dialogue
    kinds = {adm.contents[one].dialogue for one in what.contents if one in adm.contents}
    return next(iter(kinds)) if len(kinds) == 1 else "mixed" if kinds - {"not told"} else "not told"


@PROGRAMME.fact("number", "How many objects it refers to.")
def objects(row: Row[Offer]) -> int:
    what = row.item.what
    return len(what.objects if isinstance(what, Content) else objects_of_programme(row.item.delivery.adm, what.id))


@PROGRAMME.fact("number", "How long it states to last.", unit="s")
def stated_length_s(row: Row[Offer]) -> float | Unknown:
    what = row.item.what
    if not isinstance(what, Programme) or what.end_s is None:
        return Unknown(unknown="it states no end")
    return what.end_s - (what.start_s or 0.0)


@PROGRAMME.fact("number", "How far the length that it states goes past the end of the file.", unit="s", how="measured")
def past_end_s(row: Row[Offer]) -> float:
    return max(0.0, row.need("stated_length_s").number - row.item.delivery.length_s)


@PROGRAMME.fact("switch", "It states a loudness.")
def loudness_stated(row: Row[Offer]) -> bool:
    return any(one.stated != NOTHING_STATED for one in row.item.what.loudness)


def _stated(row: Row[Offer]) -> Stated:
    """What it states after ITU-R BS.1770, or by no method that it names.

    Raises:
        NotKnown: it states loudness by another method only.
    """
    found = [one for one in row.item.what.loudness if one.stated != NOTHING_STATED]
    ours = [one.stated for one in found if not one.method or "1770" in one.method]
    if found and not ours:
        known(Unknown(unknown=f"it states a loudness by another method ({found[0].method})"))
    return ours[0] if ours else NOTHING_STATED


def _measured(row: Row[Offer]) -> Measured:
    if row.item.what.other_values:
        known(Unknown(unknown="it plays objects with other values than their own", settle=RENDERED))
    return known(loudness_of(row.context, row.item.delivery, row.item.what.id))


@PROGRAMME.fact(
    "number",
    "The loudness of its beds (ITU-R BS.1770-5); of objects only a rendering has one.",
    unit="LUFS",
    how="measured",
)
def loudness_lufs(row: Row[Offer]) -> float | Unknown:
    found = _measured(row).integrated_lufs
    return Unknown(unknown="it is too short or too quiet for a loudness") if found is None else found


@PROGRAMME.fact(
    "number",
    "The most that the integrated, momentary and short-term loudness that it states are off; 0 where it states none.",
    unit="LU",
    how="measured",
)
def loudness_off_lu(row: Row[Offer]) -> FactValue:
    return loudness_off(_stated(row), lambda: _measured(row), row.subject.where)


@PROGRAMME.fact(
    "number", "How far the loudness range that it states is off; 0 where it states none.", unit="LU", how="measured"
)
def range_off_lu(row: Row[Offer]) -> FactValue:
    return range_off(_stated(row), lambda: _measured(row), row.subject.where)


@PROGRAMME.fact(
    "number", "How far the true peak that it states is off; 0 where it states none.", unit="dB", how="measured"
)
def true_peak_off_db(row: Row[Offer]) -> FactValue:
    return true_peak_off(_stated(row), lambda: _measured(row), row.subject.where)
