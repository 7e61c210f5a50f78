"""The table ``delivery``: one row for each file that describes its own legs (ADM, ITU-R BS.2076 and BS.2088)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Final

from mixlint.analysis.context import SessionContext
from mixlint.analysis.deliveries import WIDEST, Delivery, deliveries, kind_of
from mixlint.analysis.media_use import file_name
from mixlint.analysis.mix_prints import stem_files
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.media.adm.model import SILENT_UID, LegUse
from mixlint.session import Unknown, known
from mixlint.units import few_text


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Delivery]]:
    for place, one in enumerate(deliveries(context)):
        users = tuple(c.id for c in context.session.channels if any(clip.file == one.media.id for clip in c.clips))
        yield Subject("delivery", one.media.id, file_name(one.media.path), one.media.path, place, users), one


DELIVERY: Table[Delivery] = Table(
    "delivery", "The audio files that describe their own legs (ADM), one row each; none without audio.", _rows
)

_KINDS: Final = {
    "speakers": "bed",
    "object": "object",
    "scene": "scene",
    "matrix": "matrix",
    "binaural": "binaural pair",
    "unknown": "object of another kind",
}


def _whole(row: Row[Delivery]) -> Delivery:
    """The file, where its description could be read.

    Raises:
        NotKnown: it could not.
    """
    if row.item.adm.unread is not None:
        known(row.item.adm.unread)
    return row.item


def _uses(row: Row[Delivery]) -> tuple[LegUse, ...]:
    """The entries of its chunk ``chna``; none where a file that was read has no such chunk.

    Raises:
        NotKnown: it was not read.
    """
    adm = row.item.adm
    return adm.legs if adm.has_legs else _whole(row).adm.legs


@DELIVERY.fact("text", "The file's name.")
def name(row: Row[Delivery]) -> str:
    return row.subject.name


@DELIVERY.fact(
    "word",
    "Where it lies: among stems, in the session, or beside it or named with --print.",
    how="derived",
    words=("stems", "session", "prints"),
)
def among(row: Row[Delivery]) -> str:
    return row.item.among


@DELIVERY.fact("number", "How many legs it has.", how="measured")
def legs(row: Row[Delivery]) -> int:
    return row.item.legs


@DELIVERY.fact("switch", "It has more legs than left and right, so that nothing folds them without a renderer.")
def apart(row: Row[Delivery]) -> bool:
    return row.item.legs > WIDEST


@DELIVERY.fact("number", "How many stems lie beside it in the folder.", how="derived")
def stems_beside(row: Row[Delivery]) -> int:
    if row.item.among != "stems":
        return 0
    return sum(1 for media in stem_files(row.context) if media.id != row.item.media.id)


@DELIVERY.fact("text", "What it describes: programmes, contents, and objects by kind.", how="measured")
def holds(row: Row[Delivery]) -> str:
    adm = _whole(row).adm
    kinds = Counter(_KINDS[kind_of(adm, one)] for one in adm.objects.values())
    parts = [(len(adm.programmes), "programme"), (len(adm.contents), "content")]
    parts += [(count, kind) for kind, count in kinds.items()]
    return ", ".join(f"{count} {what}{'' if count == 1 else 's'}" for count, what in parts if count) or "no object"


@DELIVERY.fact("list", "What is damaged in its description.", how="measured")
def faults(row: Row[Delivery]) -> tuple[str, ...]:
    return row.item.adm.faults or _whole(row).adm.faults


@DELIVERY.fact("list", "The legs that no number of the chunk chna names, counted from 1.", how="measured")
def legs_unnamed(row: Row[Delivery]) -> tuple[int, ...]:
    named = {use.leg for use in _uses(row)}
    return tuple(leg for leg in range(1, row.item.legs + 1) if leg not in named)


@DELIVERY.fact("list", "The numbers that chna gives to legs which the file does not have.", how="measured")
def numbers_without_leg(row: Row[Delivery]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(use.uid for use in _uses(row) if not 1 <= use.leg <= row.item.legs))


@DELIVERY.fact("list", "The numbers that chna gives more than once.", how="measured")
def numbers_twice(row: Row[Delivery]) -> tuple[str, ...]:
    return tuple(uid for uid, count in Counter(use.uid for use in _uses(row)).items() if count > 1)


@DELIVERY.fact("list", "The numbers that objects refer to and chna does not have.", how="measured")
def numbers_missing(row: Row[Delivery]) -> tuple[str, ...]:
    adm = _whole(row).adm
    there = {use.uid for use in adm.legs} | {SILENT_UID}
    asked = dict.fromkeys(uid for one in adm.objects.values() for uid in one.uids)
    return tuple(uid for uid in asked if uid not in there)


@DELIVERY.fact("list", "The legs that two objects or more play at one time, counted from 1.", how="measured")
def legs_shared(row: Row[Delivery]) -> FactValue:
    adm = _whole(row).adm
    by_uid = {use.uid: use.leg for use in adm.legs}
    spans: dict[int, list[tuple[float, float, str]]] = {}
    for one in adm.objects.values():
        end = float("inf") if one.duration_s is None else one.start_s + one.duration_s
        for leg in dict.fromkeys(by_uid[uid] for uid in one.uids if uid in by_uid):
            spans.setdefault(leg, []).append((one.start_s, end, one.name or one.id))
    found: dict[int, str] = {}
    for leg, times in sorted(spans.items()):
        times.sort()
        reached, by = times[0][1], times[0][2]
        for start, end, who in times[1:]:
            if start < reached:
                found.setdefault(leg, f"leg {leg}: {by} and {who}")
            if end > reached:
                reached, by = end, who
    return FactValue(tuple(found), "measured", row.subject.where, few_text(list(found.values()), between="; "))


@DELIVERY.fact("list", "The rates that it states for legs, where they are not its own.", unit="Hz", how="measured")
def rates_otherwise(row: Row[Delivery]) -> tuple[float, ...]:
    item, audio = _whole(row), row.context.audio
    assert audio is not None
    own = known(audio.header(item.media.id)).sample_rate_hz
    return tuple(sorted({float(one.rate_hz) for one in item.adm.tracks.values() if one.rate_hz not in (0, own)}))


@DELIVERY.fact("switch", "It was judged as a mix: folded to left and right, and held against what it was made of.")
def judged_as_mix(row: Row[Delivery]) -> bool | Unknown:
    if not row.item.legs > WIDEST:
        return True
    return Unknown(
        unknown=f"its {row.item.legs} legs are not folded to left and right: that takes a renderer (ITU-R BS.2127)",
        settle="listen to its rendering, or name a rendering of it with --print",
    )
