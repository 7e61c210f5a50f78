"""The table ``stem``: one row for each file of a folder of stems, none for a session."""

from __future__ import annotations

from collections.abc import Iterator
from math import log10
from typing import TYPE_CHECKING

from mixlint.analysis.context import SessionContext
from mixlint.analysis.file_ends import file_ends
from mixlint.analysis.media_use import NOT_OPENED, duration_s, file_name
from mixlint.analysis.mix_prints import is_set_of_stems, mix_prints, stem_names, sum_of_stems
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.stem import in_the_print, labels, plain
from mixlint.session import MediaFile, Unknown, is_known, known
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    from mixlint.media import Measure


def _rows(context: SessionContext) -> Iterator[tuple[Subject, MediaFile]]:
    if is_set_of_stems(context):
        for place, media in enumerate(context.session.media):
            users = tuple(c.id for c in context.session.channels if any(clip.file == media.id for clip in c.clips))
            yield Subject("stem", media.id, file_name(media.path), media.path, place, users), media


STEM: Table[MediaFile] = Table(
    "stem",
    "The files of a folder of stems, one row each; none for a session.",
    _rows,
    (in_the_print.FACTS, labels.FACTS, plain.FACTS),
)


@STEM.fact("text", "The file's name.")
def name(row: Row[MediaFile]) -> str:
    return row.subject.name


@STEM.fact("text", "The part that its name tells, without what all names of the set have in common.", how="derived")
def part(row: Row[MediaFile]) -> str:
    return stem_names(row.context)[row.item.id].part


@STEM.fact(
    "word",
    "What it holds: a part or a return, the mix, another version of the mix, or a mix to compare with.",
    how="derived",
    words=("part", "mix", "version", "reference"),
)
def kind(row: Row[MediaFile]) -> FactValue:
    said = stem_names(row.context)[row.item.id].kind
    for one in mix_prints(row.context):
        if one.media.id == row.item.id:
            how = {"sound": "it holds the sum of the others", "named": "it was named as the print"}
            return FactValue(
                "mix", "measured" if one.how == "sound" else "derived", "", how.get(one.how, "by its name")
            )
    return FactValue(said, "derived")


def _measure(row: Row[MediaFile]) -> Measure:
    audio = row.context.audio
    return known(NOT_OPENED if audio is None else audio.measure(row.item.id))


@STEM.fact("number", "Its length.", unit="s", how="measured")
def length_s(row: Row[MediaFile]) -> float | Unknown:
    return duration_s(row.context, row.item)


@STEM.fact("number", "Its highest sample.", unit="dBFS", how="measured")
def peak_dbfs(row: Row[MediaFile]) -> float:
    return max(_measure(row).sample_peak_db, default=SILENCE_DB)


@STEM.fact("number", "Its loudness over its whole length (ITU-R BS.1770-5).", unit="LUFS", how="measured")
def loudness_lufs(row: Row[MediaFile]) -> float | Unknown:
    return _measure(row).integrated_lufs


@STEM.fact("number", "The peak of its last 10 ms.", unit="dBFS", how="measured")
def end_dbfs(row: Row[MediaFile]) -> float:
    return known(file_ends(row.context, row.item.id)).last_dbfs


@STEM.fact("number", "The level of its first millisecond, RMS.", unit="dBFS", how="measured")
def start_dbfs(row: Row[MediaFile]) -> float:
    return known(file_ends(row.context, row.item.id)).first_dbfs


@STEM.fact("number", "For how long it is silent at its beginning.", unit="s", how="measured")
def lead_s(row: Row[MediaFile]) -> float:
    return known(file_ends(row.context, row.item.id)).lead_s


@STEM.fact("number", "For how long it is silent at its end.", unit="s", how="measured")
def tail_s(row: Row[MediaFile]) -> float:
    return known(file_ends(row.context, row.item.id)).tail_s


@STEM.fact("number", "Its loudness relative to the middle of the set's.", unit="LU", how="measured")
def against_the_others_lu(row: Row[MediaFile]) -> FactValue | Unknown:
    context = row.context
    if context.audio is None:
        return NOT_OPENED
    own = row.need("loudness_lufs").number
    found = []
    for media in context.session.media:
        measure = context.audio.measure(media.id)
        if is_known(measure) and stem_names(context)[media.id].kind == "part":
            loud = measure.integrated_lufs
            if is_known(loud) and loud > SILENCE_DB:
                found.append(loud)
    if len(found) < 3 or own <= SILENCE_DB:
        return Unknown(unknown="fewer than three stems have a loudness, or it is silent itself")
    middle = sorted(found)[len(found) // 2]
    return FactValue(own - middle, "measured", row.subject.where, f"the middle of {len(found)} stems")


@STEM.fact("number", "How much of the energy of the print of the mix it makes up.", unit="dB", how="measured")
def share_db(row: Row[MediaFile]) -> float:
    found = known(sum_of_stems(row.context)).stems.get(row.item.id)
    if found is None:
        return SILENCE_DB
    return max(SILENCE_DB, 10.0 * log10(max(10.0 ** (found.share_db / 10.0), 1e-20)))
