"""What the chunks of a session's file state of its loudness (EBU Tech 3285), against what it has."""

from __future__ import annotations

from mixlint.analysis.deliveries import stands_apart
from mixlint.analysis.media_use import MediaUse
from mixlint.analysis.mix_prints import is_set_of_stems, mix_prints, stem_names
from mixlint.analysis.stated_loudness import measured_of, stated_in
from mixlint.facts.declare import Facts, Row
from mixlint.facts.stated_loudness import declare_stated
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


declare_stated(
    FACTS,
    "it",
    lambda row: stated_in(row.context, row.item.media.id),
    lambda row: measured_of(row.context, row.item.media.id),
)
