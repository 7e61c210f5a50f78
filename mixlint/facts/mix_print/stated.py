"""What the chunks of a print state of its loudness (EBU Tech 3285), against what it has."""

from __future__ import annotations

from mixlint.analysis.mix_prints import MixPrint, programme_of
from mixlint.analysis.stated_loudness import stated_in
from mixlint.facts.declare import Facts, Row
from mixlint.facts.stated_loudness import declare_stated
from mixlint.media.labels import NOTHING_STATED
from mixlint.session import known

FACTS: Facts[MixPrint] = Facts()


@FACTS.fact("switch", "A loudness, a range or a true peak is written into its file.", how="measured")
def states_loudness(row: Row[MixPrint]) -> bool:
    return stated_in(row.context, row.item.media.id) != NOTHING_STATED


declare_stated(
    FACTS,
    "it",
    lambda row: stated_in(row.context, row.item.media.id),
    lambda row: known(programme_of(row.context, row.item.media.id)),
)
