"""The table ``channel``: every strip of the desk, whatever it is for."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.activity import span_text
from mixlint.analysis.ambience import effect_of
from mixlint.analysis.audibility import audibility, is_heard
from mixlint.analysis.automation_range import TimedExtreme, highest_automated, lowest_automated, unmuted_share
from mixlint.analysis.channel_purpose import carries_content, carries_song, is_cue, is_return, is_source, is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.gaps import GAP_SETTINGS, unknown_by_gap
from mixlint.analysis.key_inputs import channels_by_key
from mixlint.analysis.one_instrument import left_alone
from mixlint.analysis.prints import stand_in
from mixlint.analysis.silence import LOSS_SETTINGS, LOST, loss_without
from mixlint.facts.channel import (
    bus_level,
    bus_sums,
    its_clips,
    keys,
    noted,
    noted_figures,
    plain,
    purpose,
    vca,
    ways_out,
    width,
)
from mixlint.facts.channel.names import namesakes
from mixlint.facts.declare import FactValue, Row, Table
from mixlint.facts.shared import HOUSE_LETS, UNREAD_ROLE, channel_rows, house_lets, stands_at
from mixlint.facts.track.takes import chosen_channels
from mixlint.naming import (
    FAMILIES,
    PERMISSIONS,
    ROLES,
    agreeing,
    drums_named,
    is_placeholder,
    is_sample,
    keys_named,
    open_job,
    things_told,
)
from mixlint.naming import job_comes_first as comes_first
from mixlint.naming.fold import as_read
from mixlint.routing import TIME_EFFECTS, Edge
from mixlint.session import FADER, MUTE, PAN, Channel, Target, Unknown, control_of, known
from mixlint.session.control import ON

CHANNEL: Table[Channel] = Table(
    "channel",
    "Every strip of the desk.",
    channel_rows("channel"),
    (
        bus_level.FACTS,
        bus_sums.FACTS,
        purpose.FACTS,
        vca.FACTS,
        keys.FACTS,
        its_clips.FACTS,
        noted.FACTS,
        noted_figures.FACTS,
        ways_out.FACTS,
        width.FACTS,
        plain.FACTS,
    ),
)


@CHANNEL.fact("text", "The channel's name.")
def name(row: Row[Channel]) -> str:
    return row.subject.name


@CHANNEL.fact("word", "What kind of strip it is.", words=("track", "group", "return", "master", "vca"))
def kind(row: Row[Channel]) -> str | Unknown:
    return row.item.kind


@CHANNEL.fact("word", "The part it plays, read from its name and surroundings.", how="derived", words=ROLES)
def role(row: Row[Channel]) -> FactValue | Unknown:
    reading = row.context.roles[row.subject.id]
    if reading.word is None:
        return Unknown(
            unknown="the part it plays cannot be told: " + "; ".join(reading.grounds),
            settle=UNREAD_ROLE,
        )
    return FactValue(reading.word, "derived", row.subject.where, "; ".join(reading.grounds))


@CHANNEL.fact("switch", "What it plays can be read from its name and surroundings.", how="derived")
def part_read(row: Row[Channel]) -> bool:
    return row.need("role").how == "derived"


@CHANNEL.fact(
    "number",
    "How many things speak for its role: words of its name, its folder or group, the names of its files, what sits in "
    "it, the kind of strip, what feeds it, where it leads, what is keyed from it; the house's table counts as many.",
    how="derived",
)
def role_told_by(row: Row[Channel]) -> FactValue:
    row.need("role")
    found = agreeing(row.context.roles[row.subject.id], row.context.house.vocabulary)
    count = TOLD_BY_HOUSE if any(one.kind == "house" for one in found) else things_told(found)
    return FactValue(count, "derived", row.subject.where, "; ".join(dict.fromkeys(one.text for one in found)))


TOLD_BY_HOUSE: Final = 99
"""A house's table settles a role: as good as any number of things."""


@CHANNEL.fact(
    "switch", "It reads as something that stays out of the mix; not known where its name is not read.", how="derived"
)
def meant_out(row: Row[Channel]) -> bool:
    row.need("role")
    return is_utility(row.context, row.item)


@CHANNEL.fact("word", "The family of parts its role belongs to.", how="derived", words=FAMILIES)
def family(row: Row[Channel]) -> str | Unknown:
    role = str(row.need("role").value)
    return row.context.family(row.subject.id) or Unknown(unknown=f"the role {role} belongs to no family")


@CHANNEL.fact("number", "Fader position; −200 is fully down.", unit="dB")
def fader_db(row: Row[Channel]) -> FactValue | Unknown:
    return stands_at(row, control_of(row.item, FADER))


@CHANNEL.fact(
    "number", "The highest the fader goes while the channel plays, automation included.", unit="dB", how="derived"
)
def fader_highest_db(row: Row[Channel]) -> FactValue | Unknown:
    return _extreme_or_now(row, highest_automated(row.context, row.item, FADER), FADER)


@CHANNEL.fact(
    "number", "The lowest the fader goes while the channel plays, automation included.", unit="dB", how="derived"
)
def fader_lowest_db(row: Row[Channel]) -> FactValue | Unknown:
    return _extreme_or_now(row, lowest_automated(row.context, row.item, FADER), FADER)


def _extreme_or_now(row: Row[Channel], extreme: TimedExtreme | None, target: Target) -> FactValue | Unknown:
    """An extreme by automation, else the present value of the control."""
    if extreme is not None:
        return FactValue(extreme.value, "derived", extreme.text(row.context), "by automation")
    return stands_at(row, control_of(row.item, target))


@CHANNEL.fact("number", "Pan position, −100 left to +100 right.", unit="pan")
def pan(row: Row[Channel]) -> FactValue | Unknown:
    return stands_at(row, control_of(row.item, PAN))


@CHANNEL.fact(
    "number", "The furthest left it is panned while it plays, automation included.", unit="pan", how="derived"
)
def pan_leftmost(row: Row[Channel]) -> FactValue | Unknown:
    return _extreme_or_now(row, lowest_automated(row.context, row.item, PAN), PAN)


@CHANNEL.fact(
    "number", "The furthest right it is panned while it plays, automation included.", unit="pan", how="derived"
)
def pan_rightmost(row: Row[Channel]) -> FactValue | Unknown:
    return _extreme_or_now(row, highest_automated(row.context, row.item, PAN), PAN)


@CHANNEL.fact(
    "word",
    "What the song loses while it is silent: its lead, a whole family of parts, a group of parts, the ambience of "
    "several, a part, or nothing.",
    how="derived",
    words=LOST,
    settings=LOSS_SETTINGS,
)
def loss(row: Row[Channel]) -> FactValue:
    found = loss_without(row.context, row.item)
    names = ", ".join(row.context.name(part.id) for part in found.parts)
    return FactValue(found.what, "derived", row.subject.where, names)


@CHANNEL.fact(
    "text",
    "What is heard of its instrument without it: the other of a low and a high half or of two sides, or its direct "
    "signal; or none.",
    how="derived",
)
def rest_of_its_instrument(row: Row[Channel]) -> str:
    other = left_alone(row.context, row.item)
    return row.context.name(other.id) if other is not None else "none"


@CHANNEL.fact("text", "The alternate of it, by name, that is heard while it is muted; or none.", how="derived")
def alternate_heard(row: Row[Channel]) -> str:
    context, own = row.context, row.item
    for other in context.session.channels if own.id in context.routing.wiring.muted else ():
        chosen = chosen_channels(context, other) if is_source(context, other) and is_heard(context, other) else ()
        if any(one.id == own.id for one in chosen):
            return context.name(other.id)
    return "none"


@CHANNEL.fact("switch", "Its solo is on.")
def soloed(row: Row[Channel]) -> bool | Unknown:
    return row.item.solo


@CHANNEL.fact("switch", "It is muted, and no automation releases the mute while it plays.")
def muted(row: Row[Channel]) -> bool | FactValue:
    return mute_state(row.context, row.item)


def mute_state(context: SessionContext, channel: Channel) -> bool | FactValue:
    """Whether a channel is muted for as long as anything plays through it.

    Raises:
        NotKnown: neither the export nor automation shows its mute.
    """
    mute = control_of(channel, MUTE)
    if mute.lane is not None:
        share = unmuted_share(context, channel)
        note = f"its mute is automated, and open for {100.0 * share:.0f} % of its playing time"
        return FactValue(share <= 0.0, "derived", channel.where, note)
    return known(mute.now) >= ON


@CHANNEL.fact("text", "The words by which its comment says that a job is still to be done, or none.")
def job_left(row: Row[Channel]) -> FactValue:
    channel = row.item
    said = open_job(channel.comment, row.context.house.vocabulary)
    return FactValue(said or "none", "declared", channel.where, channel.comment)


@CHANNEL.fact(
    "switch",
    "It is heard, and its comment says that something has to be done or decided before the mix goes out, or that what "
    "is on it stands in for something else.",
)
def job_comes_first(row: Row[Channel]) -> bool:
    channel = row.item
    return is_heard(row.context, channel) and comes_first(channel.comment, row.context.house.vocabulary)


@CHANNEL.fact("switch", "Another channel with a sample of the same drum is in the session.", how="derived")
def sampled_elsewhere(row: Row[Channel]) -> bool:
    words = row.context.house.vocabulary
    own = drums_named(row.item.name, words)
    return any(
        other.id != row.subject.id and is_sample(other.name, words) and own & drums_named(other.name, words)
        for other in row.context.session.channels
        if is_source(row.context, other)
    )


@CHANNEL.fact(
    "switch",
    "It is named for a drum, plays, goes out where a microphone of that drum goes, and keys nothing.",
    how="derived",
)
def among_its_drums(row: Row[Channel]) -> bool:
    context, channel = row.context, row.item
    words = context.house.vocabulary
    own = drums_named(channel.name, words)
    plays = any(clip.on is not False for clip in channel.clips)
    if not own or not plays or channel.id in _keying(context):
        return False
    return any(
        other.id != channel.id and other.output == channel.output and own & drums_named(other.name, words)
        for other in context.session.channels
        if is_source(context, other)
    )


@per_session
def _keying(context: SessionContext) -> frozenset[str]:
    """Ids of the channels that a processor lists as its key, or is named for."""
    named = channels_by_key(context)
    keys = (key for channel in context.session.channels for insert in channel.inserts for key in keys_named(insert))
    listed = {named[key].id for key in keys if key in named}
    titles = [f" {as_read(insert.name)} " for channel in context.session.channels for insert in channel.inserts]
    told = {one.id for one in context.session.channels if any(f" {as_read(one.name)} " in title for title in titles)}
    return frozenset(listed | told)


@CHANNEL.fact("switch", "It plays something, or is fed by a channel that does.", how="derived")
def holds_content(row: Row[Channel]) -> bool:
    return carries_content(row.context, row.subject.id)


@CHANNEL.fact("text", "Where in the song its clips stand.", how="derived")
def plays_in(row: Row[Channel]) -> FactValue:
    channel = row.item
    spans = [(c.start_s, c.end_s) for c in channel.clips if c.on is not False]
    if not spans:
        return FactValue("no clips of its own", "derived", row.subject.where)
    start, end = min(s for s, _ in spans), max(e for _, e in spans)
    return FactValue(span_text(row.context, start, end), "derived", row.subject.where)


@CHANNEL.fact(
    "switch",
    "It is not part of the song: a cue mix, click, guide, reference or utility channel.",
    how="derived",
    once="aside",
)
def utility(row: Row[Channel]) -> bool:
    return is_utility(row.context, row.item)


@CHANNEL.fact("switch", "A path leads from it to the mix bus, mutes aside.", how="derived", settings=GAP_SETTINGS)
def reaches_mix(row: Row[Channel]) -> bool | FactValue | Unknown:
    wiring = row.context.routing.wiring
    known(wiring.mix_bus)
    gap = unknown_by_gap(row.context, "outputs", "groups")
    if gap is not None:
        return gap
    return True if row.subject.id in wiring.reaching else _dead_end(row)


def _dead_end(row: Row[Channel]) -> FactValue | Unknown:
    """Follow the outputs to where the path ends, and say so; an output that is not known leaves it open."""
    context, wiring = row.context, row.context.routing.wiring
    ends = []
    for here in wiring.downstream([row.subject.id]):
        output = context.channels[here].output
        if isinstance(output, Unknown):
            who = "" if here == row.subject.id else f" of {context.name(here)}"
            return Unknown(unknown=f"the output{who}: {output.unknown}", settle="look at its output")
        if here != row.subject.id and not wiring.leaving.get(here):
            ends.append(context.name(here))
    text = f"its path ends at {', '.join(sorted(ends))}" if ends else "it goes nowhere"
    return FactValue(False, "derived", row.subject.where, text)


@CHANNEL.fact(
    "switch",
    "It plays a part, and only its ambience reaches the mix bus: every path there leads through an effect return.",
    how="derived",
    settings=GAP_SETTINGS,
)
def only_ambience(row: Row[Channel]) -> bool | Unknown:
    channel = row.item
    wiring = row.context.routing.wiring
    if not is_source(row.context, channel) or row.subject.id not in wiring.reaching:
        return False
    context = row.context

    def stays_direct(edge: Edge) -> bool:
        there = context.channels[edge.to]
        return not (is_return(context, there) and effect_of(context, there) in TIME_EFFECTS)

    if wiring.mix_bus in wiring.downstream([row.subject.id], stays_direct):
        return False
    if isinstance(channel.output, Unknown):
        return Unknown(unknown=f"the output: {channel.output.unknown}", settle="look at its output")
    return unknown_by_gap(row.context, "outputs", "groups") or True


@CHANNEL.fact(
    "text",
    "Where its path ends when it does not reach the mix bus.",
    how="derived",
    once="way_ends",
    settings=GAP_SETTINGS,
)
def path_ends(row: Row[Channel]) -> str:
    reaches = row.need("reaches_mix")
    if row.holds("only_ambience"):
        return "its output goes nowhere, and only its ambience is heard"
    return reaches.note or "it reaches the mix bus"


@CHANNEL.fact(
    "switch",
    "It is not muted, nor is anything it has to pass on its path to the mix bus.",
    how="derived",
    settings=GAP_SETTINGS,
)
def audible(row: Row[Channel]) -> bool | Unknown:
    return audibility(row.context, row.item)


@CHANNEL.fact(
    "switch",
    "It is audible, and no fader on its path to the mix bus stays fully down.",
    how="derived",
    settings=GAP_SETTINGS,
)
def heard(row: Row[Channel]) -> bool | Unknown:
    found = audibility(row.context, row.item)
    return found and is_heard(row.context, row.item) if isinstance(found, bool) else found


@CHANNEL.fact(
    "switch",
    "A part of the song plays on it, or comes to it before the mix: not a click, a cue mix or another utility alone, "
    "nor parts alone that their house lets stay out of the mix.",
    how="derived",
)
def of_the_song(row: Row[Channel]) -> bool:
    return carries_song(row.context, row.subject.id, with_optional=False)


CHANNEL.fact("list", HOUSE_LETS, words=PERMISSIONS)(house_lets)


@CHANNEL.fact(
    "switch", "A click, talkback or another utility goes out to it, beside whatever else does.", how="derived"
)
def shared_with_utility(row: Row[Channel]) -> bool:
    arriving = row.context.routing.wiring.arriving.get(row.subject.id, ())
    return any(e.kind == "output" and is_utility(row.context, row.context.channels[e.source]) for e in arriving)


@CHANNEL.fact(
    "switch",
    "Its mute is meant: it is a print beside its source, its print plays, it is the direct signal of a part that "
    "plays, or its comment keeps it out of the mix.",
    how="derived",
)
def spare(row: Row[Channel]) -> FactValue:
    other = stand_in(row.context, row.item) or noted.noted_out_of_mix(row.context, row.item)[1]
    return FactValue(bool(other), "derived", row.subject.where, other)


@CHANNEL.fact("switch", "It is the mix bus.", how="derived")
def mix_bus(row: Row[Channel]) -> bool:
    return known(row.context.routing.wiring.mix_bus) == row.subject.id


@CHANNEL.fact("switch", "Its name was given by a program: a general word and a number, or nothing.", how="derived")
def placeholder(row: Row[Channel]) -> bool:
    return is_placeholder(row.item.name, row.context.house.vocabulary)


@CHANNEL.fact("number", "How many other channels bear the same name.", how="derived")
def namesake_count(row: Row[Channel]) -> int:
    return len(namesakes(row.context)[row.subject.id])


@CHANNEL.fact("switch", "It is a cue or headphone mix.", how="derived")
def cue(row: Row[Channel]) -> bool:
    return is_cue(row.context, row.item)
