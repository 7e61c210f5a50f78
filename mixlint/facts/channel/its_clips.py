"""Who is heard with the very same clips as a channel, so that it is missed where it is silent."""

from __future__ import annotations

from mixlint.analysis import same_clips
from mixlint.facts.channel.noted import noted_out_of_mix
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel
from mixlint.units import few_text

FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "text",
    "Who is heard with the very same clips, and belongs with it by name or as its family is set up; none where nobody, "
    "or where its name or comment keeps it out.",
    how="derived",
    settings=(same_clips.LEAST_ALIKE,),
)
def heard_with_its_clips(row: Row[Channel]) -> FactValue:
    context = row.context
    others = same_clips.heard_with_its_clips(context, row.item)
    if not others or noted_out_of_mix(context, row.item)[0]:
        return FactValue("none", "derived", row.subject.where)
    return FactValue(few_text([context.name(one.id) for one in others], 3), "derived", row.subject.where)
