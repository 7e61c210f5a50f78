"""Where a clip stands, what it plays and how it is faded, as it stands, for rules of a house."""

from __future__ import annotations

from mixlint.analysis.media_use import file_name
from mixlint.facts.clip.clip_regions import ClipRegion, file_of
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Unknown, is_known, known

FACTS: Facts[ClipRegion] = Facts()


@FACTS.fact("text", "Its own name; empty where it has none.")
def own_name(row: Row[ClipRegion]) -> str:
    return row.item.clip.name


@FACTS.fact("text", "The name of the file it plays; empty where it plays none.")
def file_played(row: Row[ClipRegion]) -> str:
    return file_name(file_of(row.context, row.item.clip).path) if row.item.clip.file is not None else ""


@FACTS.fact("number", "Where it ends, the last of its repeats.", unit="s")
def end_s(row: Row[ClipRegion]) -> float:
    return row.item.starts[-1] + row.item.clip.end_s - row.item.clip.start_s


@FACTS.fact("number", "The position in its file at its start.", unit="s")
def offset_s(row: Row[ClipRegion]) -> float | Unknown:
    return row.item.clip.offset_s


@FACTS.fact("switch", "It is muted itself.")
def muted(row: Row[ClipRegion]) -> bool | Unknown:
    on = row.item.clip.on
    return not on if is_known(on) else on


@FACTS.fact("number", "How long it fades in, by a crossfade too; 0 where it does not.", unit="ms")
def fade_in_ms(row: Row[ClipRegion]) -> float | Unknown:
    # Written as a negative number, a crossfade begins before the clip.
    return 1000.0 * abs(known(row.item.clip.fade_in_s))


@FACTS.fact("number", "How long it fades out, by a crossfade too; 0 where it does not.", unit="ms")
def fade_out_ms(row: Row[ClipRegion]) -> float | Unknown:
    return 1000.0 * known(row.item.clip.fade_out_s)


@FACTS.fact("number", "The bar it starts in, the first of its repeats, counted from 1.", how="derived")
def start_bar(row: Row[ClipRegion]) -> int:
    return known(row.context.session.timeline).bar(row.item.starts[0])[0]


@FACTS.fact("number", "The beat of that bar it starts on, in quarter notes counted from 1.", how="derived")
def start_beat(row: Row[ClipRegion]) -> FactValue:
    timeline = known(row.context.session.timeline)
    return FactValue(round(timeline.bar(row.item.starts[0])[1], 6), "derived", row.subject.where)
