"""Where a channel goes out to: a muted track, past the group of all its like, through one that its comment denies."""

from __future__ import annotations

from mixlint.analysis.audibility import is_heard
from mixlint.analysis.channel_purpose import carries_song, is_source, is_utility
from mixlint.analysis.collecting import passed_collector
from mixlint.analysis.context import SessionContext
from mixlint.analysis.groups import groups_on_the_path
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming.comment_reading import kept_past, names_the_mix, straight_to_mix
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
    if channel.id in wiring.muted or is_utility(context, channel):
        return "none"
    if not carries_song(context, channel.id, with_optional=False):
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


@FACTS.fact(
    "text",
    "The group that it goes through, where its comment says that it goes straight to the mix, or not through that "
    "group; the note gives the comment's words; or none.",
    how="derived",
)
def through_against_note(row: Row[Channel]) -> FactValue:
    context, channel = row.context, row.item
    passed = groups_on_the_path(context, channel.id) if channel.comment and is_heard(context, channel) else ()
    words, mix = context.house.vocabulary, context.routing.wiring.mix_bus
    straight = straight_to_mix(channel.comment, context.channels[mix].name if isinstance(mix, str) else "", words)
    for group in (context.channels[one] for one in passed):
        said = kept_past(channel.comment, group.name, words)
        if not said and straight and _is_no_mix_bus(context, group):
            said = straight
        if said:
            return FactValue(context.name(group.id), "derived", row.subject.where, said)
    return FactValue("none", "derived", row.subject.where)


def _is_no_mix_bus(context: SessionContext, group: Channel) -> bool:
    """True for a group that not everything passes, and that is not called a mix bus."""
    if context.role(group.id) == "mix-bus" or names_the_mix(group.name, context.house.vocabulary):
        return False
    return any(
        group.id not in groups_on_the_path(context, part.id)
        for part in context.session.channels
        if is_source(context, part) and is_heard(context, part)
    )
