"""What is left of a stereo part in mono: of all of it, and of its low end."""

from __future__ import annotations

from mixlint.analysis.activity import span_text
from mixlint.analysis.mono_fold import low_fold_db, part_fold
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, known
from mixlint.units import number_text

FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "number",
    "What its recordings lose when left and right are brought together, against the mean of both sides; 3 dB where the "
    "two have nothing in common.",
    unit="dB",
    how="measured",
)
def mono_loss_db(row: Row[Channel]) -> FactValue:
    return FactValue(-known(part_fold(row.context, row.item)).db, "measured", row.subject.where)


@FACTS.fact("number", "The same in the five seconds where it loses most.", unit="dB", how="measured")
def worst_mono_loss_db(row: Row[Channel]) -> FactValue:
    found = known(part_fold(row.context, row.item))
    where = span_text(row.context, *found.span)
    return FactValue(-found.worst_db, "measured", where, where)


@FACTS.fact("number", "What its low end up to 120 Hz loses so, unweighted.", unit="dB", how="measured")
def low_mono_loss_db(row: Row[Channel]) -> float:
    return -known(low_fold_db(row.context, row.item))


@FACTS.fact("text", "What it loses in mono, for a reader.", how="measured")
def mono_text(row: Row[Channel]) -> str:
    found = known(part_fold(row.context, row.item))
    song = f"loses {number_text(-found.db, 'dB')} in mono"
    if found.worst_db > found.db - 1.0:
        return song
    return f"{song}, {number_text(-found.worst_db, 'dB')} in {span_text(row.context, *found.span)}"
