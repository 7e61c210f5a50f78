"""The table ``object``: each object of a file that describes its legs: what it is, and whether it is heard."""

from __future__ import annotations

from collections.abc import Iterator
from math import log10
from typing import NamedTuple

from mixlint.analysis.context import SessionContext
from mixlint.analysis.deliveries import Delivery, deliveries, kind_of, objects_of_programme, played, uses_of
from mixlint.analysis.media_use import file_name
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.media.adm.model import AdmObject
from mixlint.session import Unknown, known
from mixlint.units import SILENCE_DB


class Held(NamedTuple):
    """An object in its file, with the contents that play it, and whether a programme does."""

    delivery: Delivery
    one: AdmObject
    contents: tuple[str, ...]
    in_programme: bool


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Held]]:
    place = 0
    for delivery in deliveries(context):
        adm, file = delivery.adm, delivery.media
        within: dict[str, list[str]] = {}
        for content in adm.contents.values():
            for number in dict.fromkeys(one.one.id for one in played(adm, content.objects)):
                within.setdefault(number, []).append(content.name or content.id)
        heard = {one.one.id for at in adm.programmes for one in played(adm, objects_of_programme(adm, at))}
        for one in adm.objects.values():
            subject = Subject("object", f"{file.id}:{one.id}", one.name or one.id, file.path, place)
            yield subject, Held(delivery, one, tuple(within.get(one.id, ())), one.id in heard)
            place += 1


OBJECT: Table[Held] = Table(
    "object", "The beds and objects of files that describe their legs (ADM), one row each.", _rows
)


@OBJECT.fact("text", "Its name, else its number.")
def name(row: Row[Held]) -> str:
    return row.subject.name


@OBJECT.fact("text", "The file that it is in.")
def file(row: Row[Held]) -> str:
    return file_name(row.item.delivery.media.path)


@OBJECT.fact("text", "Its number in the file.")
def number(row: Row[Held]) -> str:
    return row.item.one.id


@OBJECT.fact("switch", "It has a name.")
def named(row: Row[Held]) -> bool:
    return bool(row.item.one.name)


@OBJECT.fact(
    "word",
    "What it is: a bed for loudspeakers, an object with a position, a sound field, a matrix, or binaural.",
    words=("speakers", "object", "scene", "matrix", "binaural", "unknown"),
)
def kind(row: Row[Held]) -> str:
    return kind_of(row.item.delivery.adm, row.item.one)


@OBJECT.fact("list", "The legs that it plays, counted from 1.")
def legs(row: Row[Held]) -> tuple[int, ...]:
    return tuple(use.leg for use in uses_of(row.item.delivery.adm, row.item.one))


@OBJECT.fact("switch", "It holds other objects and no sound itself.")
def holds_others(row: Row[Held]) -> bool:
    return bool(row.item.one.objects) and not row.item.one.uids


@OBJECT.fact("list", "The contents that it belongs to.")
def contents(row: Row[Held]) -> tuple[str, ...]:
    return row.item.contents


@OBJECT.fact("switch", "Some programme plays it.", how="derived")
def in_programme(row: Row[Held]) -> bool | Unknown:
    if not row.item.delivery.adm.programmes:
        return Unknown(unknown="the file describes no programme")
    return row.item.in_programme


@OBJECT.fact("switch", "It is muted.")
def muted(row: Row[Held]) -> bool:
    return row.item.one.mute


@OBJECT.fact("number", "Its own gain.", unit="dB")
def gain_db(row: Row[Held]) -> float:
    gain = abs(row.item.one.gain)
    return max(SILENCE_DB, 20.0 * log10(gain)) if gain > 0.0 else SILENCE_DB


@OBJECT.fact("number", "How important it is, 10 … 0: a player may leave out what is less so.")
def importance(row: Row[Held]) -> int:
    return row.item.one.importance


@OBJECT.fact("number", "When it begins.", unit="s")
def start_s(row: Row[Held]) -> float:
    return row.item.one.start_s


@OBJECT.fact("number", "When it ends, as it states.", unit="s")
def end_s(row: Row[Held]) -> float | Unknown:
    one = row.item.one
    return Unknown(unknown="it states no duration") if one.duration_s is None else one.start_s + one.duration_s


@OBJECT.fact("number", "How far it goes past the end of the file, by its start and duration.", unit="s", how="measured")
def past_end_s(row: Row[Held]) -> float:
    one, length = row.item.one, row.item.delivery.length_s
    return max(0.0, one.start_s + (one.duration_s or 0.0) - length)


@OBJECT.fact("number", "The highest sample of its legs while it plays, with its gain.", unit="dBFS", how="measured")
def peak_dbfs(row: Row[Held]) -> FactValue | Unknown:
    audio, item = row.context.audio, row.item
    assert audio is not None
    measure = known(audio.measure(item.delivery.media.id))
    wanted = dict.fromkeys(use.leg for use in uses_of(item.delivery.adm, item.one))
    playing = [leg for leg in wanted if 1 <= leg <= measure.legs]
    if not playing:
        return Unknown(unknown="none of its legs is in the file")
    first = max(0, int(item.one.start_s / measure.cell_s + 1e-6))
    last = measure.peak.shape[1]
    if item.one.duration_s is not None:
        last = min(last, int(-(-(item.one.start_s + item.one.duration_s) // measure.cell_s)))
    cells = measure.peak[[leg - 1 for leg in playing], first:last]
    top = float(cells.max()) * abs(item.one.gain) if cells.size else 0.0
    return FactValue(max(SILENCE_DB, 20.0 * log10(top)) if top > 0.0 else SILENCE_DB, "measured", row.subject.where)
