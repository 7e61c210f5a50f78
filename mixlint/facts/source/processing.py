"""What a part's own processors make of its loudness, all of them together."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.inserts import processor_name
from mixlint.analysis.known_chain import chain_run, known_inserts, why_unread
from mixlint.analysis.known_processor import most_gain_db
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, Unknown, known
from mixlint.units import few_text, number_text

FACTS: Facts[Channel] = Facts()

NEXT_TO_NOTHING_LU: Final = 0.05
"""What rounds to 0 is not written out."""


@FACTS.fact(
    "number",
    "How much louder it comes out of all its processors than it goes in, K-weighted and gated by what goes in (ITU-R "
    "BS.1770-5); under 0 where it comes out softer. Not known where one of them hides its settings.",
    unit="LU",
    how="measured",
)
def chain_louder_lu(row: Row[Channel]) -> FactValue | Unknown:
    run = known(chain_run(row.context, row.item))
    found = run.louder_lu()
    if isinstance(found, Unknown):
        return found
    texts, assumed = [], dict[str, None]()
    for stage in run.stages:
        own = stage.louder_lu()
        if not isinstance(own, Unknown) and abs(own) >= NEXT_TO_NOTHING_LU:
            texts.append(f"{processor_name(stage.insert)} {'+' if own > 0.0 else ''}{number_text(own, 'LU')}")
        if stage.assumed:
            assumed[f"{processor_name(stage.insert)} taken with {stage.assumed}"] = None
    said = [*texts, *assumed]
    note = few_text(said, joint=", ") if said else "none of them moves its loudness"
    return FactValue(found, "measured", row.subject.where, note)


@FACTS.fact(
    "number",
    "How far that may be off: by knees and detectors of compressors that the export does not tell, and where a minute "
    "of a long part stands for all of it.",
    unit="LU",
    how="derived",
)
def chain_off_lu(row: Row[Channel]) -> float:
    row.need("chain_louder_lu")
    return known(chain_run(row.context, row.item)).error_lu()


@FACTS.fact(
    "number", "How much louder it comes out of its processors at the least, what may be off counted.", unit="LU",
    how="derived",
)  # fmt: skip
def chain_louder_for_sure_lu(row: Row[Channel]) -> float:
    return row.need("chain_louder_lu").number - row.need("chain_off_lu").number


@FACTS.fact(
    "switch",
    "All processors that act on it are shown, and its sound can be read, so that they can be run on it.",
    how="derived",
)
def chain_shown(row: Row[Channel]) -> FactValue:
    _, stopped = known_inserts(row.context, row.item)
    if stopped is None:
        stopped = why_unread(row.context, row.item)
    return FactValue(stopped is None, "derived", row.subject.where, stopped.unknown if stopped else "")


@FACTS.fact(
    "number",
    "The most by which its processors can make it louder, by their gains and boosts and whatever it plays, as far as "
    "they are shown.",
    unit="LU",
    how="derived",
)
def chain_louder_at_most_lu(row: Row[Channel]) -> float:
    return sum(most_gain_db(insert) for insert in known_inserts(row.context, row.item)[0].values())


@FACTS.fact("number", "How many processors act on it.", how="declared")
def processors(row: Row[Channel]) -> int:
    from mixlint.routing import acting_inserts

    return len(acting_inserts(row.item))
