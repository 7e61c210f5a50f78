"""The table ``print``: one row for each print of the mix that is known."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from mixlint.analysis.context import SessionContext
from mixlint.analysis.media_use import NOT_OPENED, duration_s, file_name, header, session_rate_hz
from mixlint.analysis.mix_prints import MixPrint, mix_prints
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.mix_print import against_the_session, against_the_song, ends, legs, loudness, stated
from mixlint.session import Unknown, is_known, known
from mixlint.units import SILENCE_DB, few_text, number_text

if TYPE_CHECKING:
    from mixlint.media import Measure


def _rows(context: SessionContext) -> Iterator[tuple[Subject, MixPrint]]:
    for one in mix_prints(context):
        users = (one.channel,) if one.channel else ()
        order = context.order.get(one.channel, -1)
        yield Subject("print", one.media.id, file_name(one.media.path), one.media.path, order, users), one


PRINT: Table[MixPrint] = Table(
    "print",
    "The prints of the mix: named with --print, on a track named as one, beside the session, or among stems.",
    _rows,
    (loudness.FACTS, ends.FACTS, legs.FACTS, against_the_song.FACTS, against_the_session.FACTS, stated.FACTS),
)


@PRINT.fact("text", "The file's name.")
def name(row: Row[MixPrint]) -> str:
    return row.subject.name


@PRINT.fact(
    "word",
    "How it is known to be a print: named, on a track, beside the session, in a folder of stems, or by its sound.",
    how="derived",
    words=("named", "track", "beside", "folder", "sound"),
)
def known_by(row: Row[MixPrint]) -> str:
    return row.item.how


@PRINT.fact("switch", "It is the one that the session or the stems are held against.", how="derived")
def first(row: Row[MixPrint]) -> bool:
    return mix_prints(row.context)[0].media.id == row.item.media.id


@PRINT.fact("number", "Its length.", unit="s", how="measured")
def length_s(row: Row[MixPrint]) -> float | Unknown:
    return duration_s(row.context, row.item.media)


@PRINT.fact("number", "Its sample rate.", unit="Hz", how="measured")
def sample_rate_hz(row: Row[MixPrint]) -> float:
    return float(known(header(row.context, row.item.media.id)).sample_rate_hz)


@PRINT.fact("switch", "It is at the rate of the session or of the stems.", how="measured")
def at_session_rate(row: Row[MixPrint]) -> FactValue:
    own, session = row.need("sample_rate_hz").number, known(session_rate_hz(row.context))
    return FactValue(own == session.number, "measured", row.subject.where, number_text(session.number, "Hz"))


@PRINT.fact("number", "Its word length in bits; 32 or more for floating point.", unit="", how="measured")
def bits(row: Row[MixPrint]) -> float | Unknown:
    return known(header(row.context, row.item.media.id)).bit_depth


@PRINT.fact("switch", "Its samples are coded with loss.", how="measured")
def lossy(row: Row[MixPrint]) -> bool:
    return known(header(row.context, row.item.media.id)).lossy


def _measure(row: Row[MixPrint]) -> Measure:
    audio = row.context.audio
    return known(NOT_OPENED if audio is None else audio.measure(row.item.media.id))


@PRINT.fact("number", "Its highest sample.", unit="dBFS", how="measured")
def peak_dbfs(row: Row[MixPrint]) -> FactValue:
    import numpy as np

    measure = _measure(row)
    at = int(np.argmax(measure.peak.max(axis=0))) * measure.cell_s if measure.peak.size else 0.0
    return FactValue(max(measure.sample_peak_db, default=SILENCE_DB), "measured", against_the_song.place(row, at))


@PRINT.fact(
    "number", "How often three or more samples in a row stand at its ceiling, at −0.3 dBFS or over.", how="measured"
)
def overs(row: Row[MixPrint]) -> FactValue:
    measure = _measure(row)
    longest = sorted((one for one in measure.marks if one.kind == "clipped"), key=lambda one: -one.length_s)
    rate = measure.header.sample_rate_hz
    places = [f"{against_the_song.place(row, one.start_s)} ({round(one.length_s * rate)} samples)" for one in longest]
    count = measure.mark_counts.get("clipped", 0)
    return FactValue(count, "measured", row.subject.where, few_text(places, joint=", "))


@PRINT.fact("number", "The larger of its legs' mean values, in parts of full scale.", unit="dBFS", how="measured")
def offset_dbfs(row: Row[MixPrint]) -> float:
    from mixlint.media.measure import decibels

    measure = _measure(row)
    means = measure.mean.mean(axis=1) if measure.mean.size else [0.0]
    return max(decibels(abs(float(one))) for one in means)


@PRINT.fact("number", "Samples that are no number, or lie far beyond full scale.", how="measured")
def bad_samples(row: Row[MixPrint]) -> int:
    return _measure(row).bad_samples


@PRINT.fact("switch", "Its word is shorter than that of the session's audio or of the stems.", how="measured")
def shorter_word(row: Row[MixPrint]) -> FactValue:
    own = row.need("bits").number
    found = [header(row.context, media.id) for media in row.context.session.media if media.id != row.item.media.id]
    words = [one.bit_depth for one in found if is_known(one) and is_known(one.bit_depth) and not one.is_float]
    longest = max(words, default=0)
    return FactValue(own < longest, "measured", row.subject.where, f"up to {longest} bit")
