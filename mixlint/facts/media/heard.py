"""What heard parts play of each file, as measured: levels, and places where its samples are wrong."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import NOT_OPENED, MediaUse
from mixlint.analysis.mix_prints import is_set_of_stems
from mixlint.analysis.played_stretches import Played, Stretch, stretches
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.media.file_marks import heard_files, played_files
from mixlint.session import NotKnown, Unknown
from mixlint.units import SILENCE_DB, few_text, number_text

if TYPE_CHECKING:
    from mixlint.media.measure import Mark
    from mixlint.session import Channel

FACTS: Facts[MediaUse] = Facts()

SHOWN: Final = 3
"""So many places are written out: wording."""


@per_session
def _parts_of(context: SessionContext) -> dict[str, list[Stretch]]:
    """Media id → what heard parts play of it, in order of the file."""
    found: dict[str, list[Stretch]] = {}
    for one in played_files(context):
        found.setdefault(one.use.media.id, []).extend(stretches(context, one.channel).get(one.use.media.id, ()))
    for ones in found.values():
        ones.sort(key=lambda one: (one.start_s, one.end_s))
    return found


@per_session
def played_of(context: SessionContext, media_id: str) -> Played | Unknown:
    """What heard parts play of a file; Unknown where it cannot be measured, or nothing of it is played."""
    if context.audio is None:
        return NOT_OPENED
    parts = _parts_of(context).get(media_id)
    if not parts:
        return Unknown(unknown="no heard part plays it")
    measure = context.audio.measure(media_id)
    return measure if isinstance(measure, Unknown) else Played(measure, parts)


def played(row: Row[MediaUse]) -> Played:
    """What heard parts play of a row's file.

    Raises:
        NotKnown: it cannot be measured, or nothing of it is played.
    """
    found = played_of(row.context, row.item.media.id)
    if isinstance(found, Unknown):
        raise NotKnown(found)
    return found


def players(row: Row[MediaUse]) -> list[Channel]:
    """The heard parts that play a row's file, in desk order."""
    return [one.channel for one in played_files(row.context) if one.use.media.id == row.item.media.id]


def places(row: Row[MediaUse], marks: list[Mark], total: int, level: str = "") -> str:
    """Where marks stand, the largest of them, in order: file, song, leg, and their level where it has a name."""
    one = played(row)
    worst = sorted(marks, key=lambda mark: (-mark.length_s, -mark.level_db))[:SHOWN]
    texts = []
    for mark in sorted(worst, key=lambda mark: mark.start_s):
        text = one.place(row.context, mark.start_s)
        if leg := one.leg_name(mark.leg):
            text += f", {leg}"
        if mark.length_s > 1.5 / one.measure.header.sample_rate_hz:
            text += f", {number_text(mark.length_s * 1000.0, 'ms')}"
        if level:
            text += f", {level} {number_text(mark.level_db, 'dBFS')}"
        texts.append(text)
    more = total - len(texts)
    return few_text(texts, SHOWN, between="; ") + (f"; and {more} more" if more > 0 else "")


def _counted(row: Row[MediaUse], *kinds: str, level: str = "") -> FactValue:
    one = played(row)
    marks, total = one.marks(*kinds), one.count(*kinds)
    note = places(row, marks, total, level) if marks else "none"
    return FactValue(total, "measured", row.subject.where, note)


@FACTS.fact("switch", "A part of the song that is heard plays it.", how="derived")
def heard(row: Row[MediaUse]) -> bool:
    return row.item.media.id in heard_files(row.context)


@FACTS.fact("switch", "Parts that are heard play it, and its sound was measured for this review.", how="measured")
def measured(row: Row[MediaUse]) -> bool:
    return not isinstance(played_of(row.context, row.item.media.id), Unknown)


@FACTS.fact("switch", "The lead vocal plays it, or a track that carries the song, or it is a stem.", how="derived")
def carries_the_song(row: Row[MediaUse]) -> bool:
    if is_set_of_stems(row.context):
        return True
    ids = [one.id for one in players(row)]
    return any(row.context.role(one) == "lead-vocal" or row.context.family(one) == "backing-tracks" for one in ids)


@FACTS.fact("number", "The highest sample of what heard parts play of it.", unit="dBFS", how="measured")
def peak_dbfs(row: Row[MediaUse]) -> FactValue:
    one = played(row)
    from mixlint.media.measure import decibels

    cells = one.measure.peak[:, one.cells()]
    if not cells.size:
        return FactValue(SILENCE_DB, "measured", row.subject.where, "nothing of it is played")
    leg, cell = divmod(int(cells.argmax()), cells.shape[1])
    at = float(one.cells().nonzero()[0][cell]) * one.measure.cell_s
    return FactValue(decibels(float(cells[leg, cell])), "measured", row.subject.where, one.place(row.context, at))


@FACTS.fact("number", "The same with the gain of the clips that play it.", unit="dBFS", how="measured")
def played_peak_dbfs(row: Row[MediaUse]) -> FactValue:
    one = played(row)
    best = SILENCE_DB
    for part in one.parts:
        gain = part.clip.gain_db
        if isinstance(gain, Unknown):
            raise NotKnown(gain)
        peak = one.measure.peak_db_between(part.start_s, min(part.end_s, one.measure.header.duration_s + 1.0))
        best = max(best, peak + gain if peak > SILENCE_DB else SILENCE_DB)
    return FactValue(best, "measured", row.subject.where)


@FACTS.fact("number", "Its programme loudness, all of the file (ITU-R BS.1770-5).", unit="LUFS", how="measured")
def loudness_lufs(row: Row[MediaUse]) -> float | Unknown:
    return played(row).measure.integrated_lufs


@FACTS.fact("number", "The highest sample of its first 50 ms.", unit="dBFS", how="measured")
def head_peak_dbfs(row: Row[MediaUse]) -> float:
    return max(played(row).measure.head_peak_db)


@FACTS.fact("number", "The highest sample of its last 50 ms.", unit="dBFS", how="measured")
def tail_peak_dbfs(row: Row[MediaUse]) -> float:
    return max(played(row).measure.tail_peak_db)


@FACTS.fact("number", "Waves cut off at full scale in what is heard of it, three samples or more each.", how="measured")
def clipped_tops(row: Row[MediaUse]) -> FactValue:
    return _counted(row, "clipped")


@FACTS.fact(
    "number",
    "Waves cut off at one level under full scale in what is heard of it: clipped, and turned down afterwards.",
    how="measured",
)
def flat_tops(row: Row[MediaUse]) -> FactValue:
    return _counted(row, "flat", level="at")


@FACTS.fact("number", "Waves cut off flat in what is heard of it, at full scale and under it together.", how="measured")
def cut_tops(row: Row[MediaUse]) -> FactValue:
    one = played(row)
    full, flat = one.count("clipped"), one.count("flat")
    texts = []
    if full:
        texts.append(f"{full} at full scale ({places(row, one.marks('clipped'), full)})")
    if flat:
        level = number_text(one.marks("flat")[0].level_db, "dBFS")
        texts.append(
            f"{flat} at {level}, so that it was turned down afterwards ({places(row, one.marks('flat'), flat)})"
        )
    return FactValue(full + flat, "measured", row.subject.where, ", and ".join(texts) or "none")


@FACTS.fact(
    "number", "How long the waves that are cut off in what is heard of it last together.", unit="ms", how="measured"
)
def cut_off_ms(row: Row[MediaUse]) -> float:
    one = played(row)
    marks = one.marks("clipped", "flat")
    mean = sum(mark.length_s for mark in marks) / len(marks) if marks else 0.0
    return 1000.0 * mean * one.count("clipped", "flat")


@FACTS.fact("switch", "Its samples are stored in floating point, so that full scale is no ceiling.", how="measured")
def floating_point(row: Row[MediaUse]) -> bool:
    return played(row).measure.header.is_float


@FACTS.fact(
    "number",
    "Holes in the sound that is heard of it: samples at zero or standing still, and blocks that come twice.",
    how="measured",
)
def holes(row: Row[MediaUse]) -> FactValue:
    return _counted(row, "hole", "held", "repeat")


@FACTS.fact("number", "How long the longest of them is.", unit="ms", how="measured")
def longest_hole_ms(row: Row[MediaUse]) -> float:
    return max((one.length_s * 1000.0 for one in played(row).marks("hole", "held", "repeat")), default=0.0)


@FACTS.fact(
    "number", "Clicks in what is heard of it: samples that stand out by far of all around them.", how="measured"
)
def clicks(row: Row[MediaUse]) -> FactValue:
    return _counted(row, "click", level="of")


@FACTS.fact("number", "Bursts of noise at full scale in what is heard of it.", how="measured")
def bursts(row: Row[MediaUse]) -> FactValue:
    return _counted(row, "burst")


@FACTS.fact("number", "Samples that are no number, or far beyond full scale, in what is heard of it.", how="measured")
def broken_samples(row: Row[MediaUse]) -> FactValue:
    one = played(row)
    marks = one.marks("bad")
    total = one.measure.bad_samples if len(marks) >= MANY else len(marks)
    return FactValue(total, "measured", row.subject.where, places(row, marks, total) if marks else "none")


MANY: Final = 200
"""From so many on a file's are counted as a whole: a measure keeps no more places."""
