"""Where a channel goes out to: a track that is muted, or past the group that all of its like go through."""

from __future__ import annotations

from mixlint.analysis.channel_purpose import carries_song, is_utility
from mixlint.analysis.collecting import passed_collector
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel
from mixlint.units import few_text

FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "text",
    "The muted track with clips of its own that it goes out to, and that nothing else goes out to; or none.",
    how="derived",
)
def into_muted_track(row: Row[Channel]) -> str:
    context, channel = row.context, row.item
    to = context.channels.get(channel.output) if isinstance(channel.output, str) else None
    wiring = context.routing.wiring
    if to is None or to.kind != "track" or to.id not in wiring.muted or not to.clips:
        return "none"
    if channel.id in wiring.muted or is_utility(context, channel) or not carries_song(context, channel.id):
        return "none"
    fed = [edge.source for edge in wiring.arriving.get(to.id, ()) if edge.source != channel.id]
    return "none" if fed else context.name(to.id)


@FACTS.fact(
    "text",
    "The group that collects the others of its like, groups all of them, and that it goes past; the note names them; "
    "or none.",
    how="derived",
)
def past_collector(row: Row[Channel]) -> FactValue:
    found = passed_collector(row.context, row.item)
    if found is None:
        return FactValue("none", "derived", row.subject.where)
    collector, others = found
    names = few_text([row.context.name(one.id) for one in others])
    return FactValue(row.context.name(collector.id), "derived", row.subject.where, names)
