"""What a track is and whether it is in use: its part, its clips that are on, and what else makes it sound."""

from __future__ import annotations

from mixlint.analysis import same_clips
from mixlint.analysis.activity import clips_not_shown, has_arrangement
from mixlint.analysis.audibility import audibility as sounding
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.automation_range import position_of
from mixlint.analysis.channel_purpose import carries_content, is_utility
from mixlint.analysis.counterparts import LEAST_ANGLE
from mixlint.analysis.gaps import GAP_SETTINGS
from mixlint.analysis.media_use import audio_clips, is_active_clip
from mixlint.analysis.partners import partners, plays_nothing
from mixlint.facts.channel import its_clips
from mixlint.facts.channel import table as channel_facts
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.track.instrument_prints import holds_instrument
from mixlint.naming import FAMILIES, ROLES
from mixlint.session import Channel, Unknown, known

FACTS: Facts[Channel] = Facts()

FACTS.fact("text", "The channel's name.")(channel_facts.name)
FACTS.fact("word", "The part it plays.", how="derived", words=ROLES)(channel_facts.role)


@FACTS.fact("word", "The family of parts its role belongs to.", how="derived", words=FAMILIES)
def family(row: Row[Channel]) -> str | Unknown:
    return channel_facts.family(row)


@FACTS.fact(
    "switch",
    "It is a utility channel, no part of the song: a cue mix, click, guide or reference.",
    once="aside",
)
def utility(row: Row[Channel]) -> bool:
    return is_utility(row.context, row.item)


@FACTS.fact(
    "switch",
    "It is not muted, nor is anything it has to pass on its path to the mix bus.",
    how="derived",
    settings=GAP_SETTINGS,
)
def audible(row: Row[Channel]) -> bool | Unknown:
    return sounding(row.context, row.item)


@FACTS.fact("number", "How many of its clips are switched on.", how="derived")
def clips_on(row: Row[Channel]) -> int:
    return sum(clip.on is not False for clip in row.item.clips)


@FACTS.fact("switch", "An audio clip on it sounds.", how="derived")
def plays_audio(row: Row[Channel]) -> bool:
    return bool(audio_clips(row.item))


@FACTS.fact("switch", "The export holds any clips at all, so that an empty track is known to be empty.", how="derived")
def arranged(row: Row[Channel]) -> bool:
    if not has_arrangement(row.context):
        known(clips_not_shown(row.context))
    return has_arrangement(row.context)


@FACTS.fact("switch", "It is loaded, and a clip on it is switched on or something that plays feeds it.", how="derived")
def in_use(row: Row[Channel]) -> bool | FactValue | Unknown:
    channel = row.item
    if channel.loaded is False:
        return FactValue(False, "declared", channel.where, "it was not loaded where the export was made")
    known(channel.missing.get("clips"))
    if channel.clips and not any(clip.on is not False for clip in channel.clips):
        return FactValue(False, "derived", channel.where, "all its clips are muted")
    if channel.clips or carries_content(row.context, channel.id):
        return True
    if holds_instrument(row.context, channel) and _notes_play(row):
        return Unknown(
            unknown="an instrument sits on it, and notes may come from another channel", settle="look what plays it"
        )
    return FactValue(False, "derived", channel.where, "it holds no clips and nothing feeds it")


@FACTS.fact(
    "switch",
    "A track called like it but for the side plays off the centre.",
    how="derived",
    settings=(LEAST_ANGLE,),
)
def partner_waits(row: Row[Channel]) -> bool | FactValue:
    context = row.context
    partner = partners(context).get(row.item.id)
    if partner is None or plays_nothing(context, partner) or not is_audible(context, partner):
        return False
    position = position_of(context, partner)
    if isinstance(position, Unknown) or abs(position) < context.setting(LEAST_ANGLE):
        return False
    return FactValue(True, "derived", row.subject.where, context.name(partner.id))


def _notes_play(row: Row[Channel]) -> bool:
    """True when notes play anywhere in the session."""
    return any(
        clip.plays == "notes" and is_active_clip(channel, clip)
        for channel in row.context.session.channels
        for clip in channel.clips
    )


FACTS.echo("in_use_how", "in_use.note")
FACTS.fact(
    "text",
    "Who is heard with the very same clips, and belongs with it by name or as its family is set up; none where nobody, "
    "or where its name or comment keeps it out.",
    how="derived",
    settings=(same_clips.LEAST_ALIKE,),
)(its_clips.heard_with_its_clips)
