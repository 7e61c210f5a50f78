"""What a processor is and how it is set, as it stands, for rules of a house."""

from __future__ import annotations

from mixlint.analysis.inserts import active_bands, may_hide_filter
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.insert.processing import HIDDEN, ChannelInsert
from mixlint.naming.setting_reading import listed_db
from mixlint.session import Unknown, known
from mixlint.session.processor import PROCESSOR_KINDS

FACTS: Facts[ChannelInsert] = Facts()


@FACTS.fact(
    "word", "What it does; not known where neither the export nor its name tells.", how="derived",
    words=PROCESSOR_KINDS,
)  # fmt: skip
def processor(row: Row[ChannelInsert]) -> FactValue | Unknown:
    reading = row.context.processors[row.item.channel.id][row.item.place]
    if reading.word is None:
        name = row.item.insert.name or "a processor without a name"
        return Unknown(unknown=f"what {name} does cannot be told", settle="name it in the house's table of processors")
    return FactValue(reading.word, "derived", row.subject.where, "; ".join(reading.grounds))


@FACTS.fact("number", "Its wet share; 100 is wholly wet.", unit="%")
def wet_percent(row: Row[ChannelInsert]) -> float | Unknown:
    return row.item.insert.wet


@FACTS.fact("number", "Its pre-delay.", unit="ms")
def pre_delay_ms(row: Row[ChannelInsert]) -> float | Unknown:
    return row.item.insert.pre_delay_ms


@FACTS.fact("number", "The ceiling of a limiter, as it lists it, else its threshold with its output gain.", unit="dBFS")
def ceiling_dbfs(row: Row[ChannelInsert]) -> float | Unknown:
    listed = listed_db(row.item.insert, "ceiling", row.context.house.vocabulary)
    if listed is not None:
        return listed
    if row.need("kind").value != "limiter":
        return Unknown(unknown="it is no limiter and lists no ceiling")
    own = known(row.item.insert.dynamics or Unknown(unknown="its ceiling is hidden", settle="look at its ceiling"))
    return known(own.threshold_db) + known(own.output_gain_db)


@FACTS.fact("number", "The highest low cut among its bands; 0 where it has none.", unit="Hz")
def low_cut_hz(row: Row[ChannelInsert]) -> float | Unknown:
    return _cut(row, "high-pass")


@FACTS.fact("number", "The lowest high cut among its bands; 0 where it has none.", unit="Hz")
def high_cut_hz(row: Row[ChannelInsert]) -> float | Unknown:
    return _cut(row, "low-pass")


def _cut(row: Row[ChannelInsert], kind: str) -> float | Unknown:
    insert = row.item.insert
    if may_hide_filter(insert, row.context.processors[row.item.channel.id][row.item.place]):
        return HIDDEN
    found = [known(band.freq_hz) for band in active_bands(insert) if band.kind == kind]
    if not found:
        return 0.0
    return max(found) if kind == "high-pass" else min(found)


@FACTS.fact("number", "How many of its bands are switched on.")
def bands(row: Row[ChannelInsert]) -> int | Unknown:
    return len(active_bands(row.item.insert)) if row.item.insert.equalizer is not None else HIDDEN


@FACTS.fact("text", "The processor's identifier in the file; empty where it gives none.")
def device(row: Row[ChannelInsert]) -> str:
    return row.item.insert.device
