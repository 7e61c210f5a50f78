"""What the chunks of a print state of its loudness (EBU Tech 3285), against what it has."""

from __future__ import annotations

from mixlint.analysis.mix_prints import MixPrint, programme_of
from mixlint.analysis.stated_loudness import loudness_off, range_off, stated_in, true_peak_off
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.media.labels import NOTHING_STATED
from mixlint.session import known

FACTS: Facts[MixPrint] = Facts()


@FACTS.fact("switch", "A loudness, a range or a true peak is written into its file.", how="measured")
def states_loudness(row: Row[MixPrint]) -> bool:
    return stated_in(row.context, row.item.media.id) != NOTHING_STATED


@FACTS.fact(
    "number",
    "The most that the integrated, momentary and short-term loudness written into it are off; 0 for none.",
    unit="LU",
    how="measured",
)
def stated_loudness_off_lu(row: Row[MixPrint]) -> FactValue:
    return loudness_off(
        stated_in(row.context, row.item.media.id),
        lambda: known(programme_of(row.context, row.item.media.id)),
        row.subject.where,
        either_way=True,
    )


@FACTS.fact("number", "How far the loudness range written into it is off; 0 for none.", unit="LU", how="measured")
def stated_range_off_lu(row: Row[MixPrint]) -> FactValue:
    return range_off(
        stated_in(row.context, row.item.media.id),
        lambda: known(programme_of(row.context, row.item.media.id)),
        row.subject.where,
    )


@FACTS.fact("number", "How far the true peak written into it is off; 0 for none.", unit="dB", how="measured")
def stated_true_peak_off_db(row: Row[MixPrint]) -> FactValue:
    return true_peak_off(
        stated_in(row.context, row.item.media.id),
        lambda: known(programme_of(row.context, row.item.media.id)),
        row.subject.where,
    )
