"""What the chunks of a session's file state of its loudness (EBU Tech 3285), against what it has."""

from __future__ import annotations

from mixlint.analysis.deliveries import stands_apart
from mixlint.analysis.media_use import MediaUse
from mixlint.analysis.mix_prints import is_set_of_stems, mix_prints, stem_names
from mixlint.analysis.stated_loudness import loudness_off, measured_of, range_off, stated_in, true_peak_off
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.media.labels import NOTHING_STATED

FACTS: Facts[MediaUse] = Facts()


@FACTS.fact(
    "word",
    "What it serves as: a recording of a session, a stem, the mix, another mix among stems, or a delivery that says "
    "what its more than two legs are.",
    how="derived",
    words=("recording", "stem", "mix", "other-mix", "delivery"),
)
def serves_as(row: Row[MediaUse]) -> str:
    context, media = row.context, row.item.media
    if stands_apart(context, media.id):
        return "delivery"
    if any(one.media.id == media.id for one in mix_prints(context)):
        return "mix"
    if not is_set_of_stems(context):
        return "recording"
    return "stem" if stem_names(context)[media.id].kind == "part" else "other-mix"


@FACTS.fact("switch", "A loudness, a range or a true peak is written into it.", how="measured")
def states_loudness(row: Row[MediaUse]) -> bool:
    return stated_in(row.context, row.item.media.id) != NOTHING_STATED


@FACTS.fact(
    "number",
    "The most that the integrated, momentary and short-term loudness written into it are off; 0 for none.",
    unit="LU",
    how="measured",
)
def stated_loudness_off_lu(row: Row[MediaUse]) -> FactValue:
    one = row.item.media.id
    return loudness_off(
        stated_in(row.context, one), lambda: measured_of(row.context, one), row.subject.where, either_way=True
    )


@FACTS.fact("number", "How far the loudness range written into it is off; 0 for none.", unit="LU", how="measured")
def stated_range_off_lu(row: Row[MediaUse]) -> FactValue:
    one = row.item.media.id
    return range_off(stated_in(row.context, one), lambda: measured_of(row.context, one), row.subject.where)


@FACTS.fact("number", "How far the true peak written into it is off; 0 for none.", unit="dB", how="measured")
def stated_true_peak_off_db(row: Row[MediaUse]) -> FactValue:
    one = row.item.media.id
    return true_peak_off(stated_in(row.context, one), lambda: measured_of(row.context, one), row.subject.where)
