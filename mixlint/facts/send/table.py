"""The table ``send``: every send of every channel, switched on or not."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mixlint.analysis.ambience import effect_of
from mixlint.analysis.ambience_prints import print_of_return
from mixlint.analysis.audibility import is_audible, unknown_path
from mixlint.analysis.automation_range import always_muted, highest_automated
from mixlint.analysis.channel_purpose import carries_content, is_parallel, is_return, is_utility
from mixlint.analysis.context import SessionContext
from mixlint.analysis.feeds import feeds_apart
from mixlint.analysis.gaps import GAP_SETTINGS
from mixlint.analysis.groups import groups_on_the_path
from mixlint.analysis.own_returns import missed_by_return, wrongly_sent
from mixlint.analysis.partners import partners
from mixlint.analysis.peers import LEAST_ALIKE, LEAST_PEERS, SPREAD, peers_sent_to, send_apart
from mixlint.analysis.return_prints import LOW_CUT_SETTINGS, return_low_cut
from mixlint.analysis.send_pans import ASIDE, send_pans_apart
from mixlint.analysis.send_pans import LEAST_SENDS as LEAST_PANNED
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.send import plain
from mixlint.facts.send.channel_send import ChannelSend
from mixlint.facts.shared import stands_at
from mixlint.naming import ROLES
from mixlint.session import (
    FADER,
    MUTE,
    Channel,
    Control,
    NotKnown,
    Target,
    Unknown,
    control_of,
    controls_of_send,
    is_known,
    known,
)
from mixlint.signal.median import median
from mixlint.units import few_text, number_text


def _rows(context: SessionContext) -> Iterator[tuple[Subject, ChannelSend]]:
    for channel in context.session.channels:
        for number, send in enumerate(channel.sends):
            to = context.channels.get(send.to) if isinstance(send.to, str) else None
            name = f"{context.name(channel.id)} → {context.name(to.id) if to else 'nowhere'}"
            channels = (channel.id, to.id) if to else (channel.id,)
            subject = Subject(
                "send", f"{channel.id}:{number}", name, send.where or channel.where, context.order[channel.id], channels
            )
            yield subject, ChannelSend(channel, number, send, to)


SEND: Table[ChannelSend] = Table("send", "Every send of every channel, switched on or not.", _rows, (plain.FACTS,))


@SEND.fact("text", "The send: from where to where.", how="derived")
def name(row: Row[ChannelSend]) -> str:
    return row.subject.name


@SEND.fact("text", "The channel it leaves.")
def source(row: Row[ChannelSend]) -> str:
    return row.context.name(row.item.channel.id)


@SEND.fact("text", "The channel it leads to.")
def to(row: Row[ChannelSend]) -> str:
    known(row.item.send.to)
    return row.context.name(row.item.to.id) if row.item.to is not None else "a channel that is not there"


@SEND.fact("word", "The part the channel it leaves plays.", how="derived", words=ROLES)
def source_role(row: Row[ChannelSend]) -> str | Unknown:
    role = row.context.role_word(row.item.channel.id)
    return role or Unknown(unknown=f"the part {row.context.name(row.item.channel.id)} plays cannot be told")


@SEND.fact("number", "Its level.", unit="dB")
def level_db(row: Row[ChannelSend]) -> FactValue | Unknown:
    return stands_at(row, _level(row))


def _level(row: Row[ChannelSend]) -> Control:
    return control_of(row.item.channel, Target.send(row.item.number, "level"))


@SEND.fact("number", "The highest it goes while the channel plays, automation included.", unit="dB", how="derived")
def highest_db(row: Row[ChannelSend]) -> FactValue | float | Unknown:
    item = row.item
    extreme = highest_automated(row.context, item.channel, Target.send(item.number, "level"))
    if extreme is None:
        return stands_at(row, _level(row))
    return FactValue(extreme.value, "derived", extreme.text(row.context), "by automation")


@SEND.fact("word", "Before or after the fader.", words=("pre", "post"))
def tap(row: Row[ChannelSend]) -> str | Unknown:
    return row.item.send.tap


@SEND.fact("switch", "It leads back into the channel it leaves.")
def into_itself(row: Row[ChannelSend]) -> bool:
    return row.item.send.to == row.item.channel.id


@SEND.fact(
    "number",
    "Of the other open sends into the same channel, the share taken before the fader; 0 where there is none.",
    unit="%",
    how="derived",
)
def others_before_fader_percent(row: Row[ChannelSend]) -> float:
    arriving = row.context.routing.wiring.arriving.get(str(known(row.item.send.to)), ())
    others = [edge for edge in arriving if edge.kind == "send" and edge.source != row.item.channel.id]
    return 100.0 * sum(edge.tap == "pre" for edge in others) / len(others) if others else 0.0


@SEND.fact("switch", "It is switched on and not fully down, now or by automation.")
def open(row: Row[ChannelSend]) -> bool | Unknown:
    return controls_of_send(row.item.channel, row.item.number).can_be_open


@SEND.fact("switch", "The channel it leaves plays something, and is not muted.", how="derived")
def sounding(row: Row[ChannelSend]) -> bool:
    item = row.item
    return item.channel.id not in row.context.routing.wiring.muted and carries_content(row.context, item.channel.id)


@SEND.fact(
    "number", "The highest the fader of the channel it leaves goes, automation included.", unit="dB", how="derived"
)
def source_fader_db(row: Row[ChannelSend]) -> float | Unknown:
    return control_of(row.item.channel, FADER).highest


@SEND.fact("switch", "It leads to a reverb or delay return.", how="derived")
def to_effect(row: Row[ChannelSend]) -> bool:
    return row.need("effect").value in ("reverb", "delay")


@SEND.fact(
    "text",
    "The return of its own, by name, that the part is not sent to, where this send leads to another part's; or none.",
    how="derived",
)
def own_return_missed(row: Row[ChannelSend]) -> str:
    item = row.item
    own = wrongly_sent(row.context, item.channel, item.to) if item.to is not None else None
    return row.context.name(own.id) if own is not None else "none"


@SEND.fact(
    "text",
    "The parts that the return is named for, where this is none of them and none of them is sent there; or none.",
    how="derived",
)
def return_misses(row: Row[ChannelSend]) -> FactValue:
    item = row.item
    missed = missed_by_return(row.context, item.channel, item.to) if item.to is not None else None
    if missed is None:
        return FactValue("none", "derived", row.subject.where)
    return FactValue(few_text([row.context.name(one.id) for one in missed.parts]), "derived", "", missed.named)


@SEND.fact("switch", "The return that it leads to was printed, and plays its print.", how="derived")
def to_printed(row: Row[ChannelSend]) -> bool:
    to = row.item.to
    printed = print_of_return(row.context, to) if to is not None else None
    return printed is not None and is_audible(row.context, printed.track)


@SEND.fact("switch", "It leads to a parallel bus.", how="derived")
def to_parallel(row: Row[ChannelSend]) -> bool:
    return row.item.to is not None and is_parallel(row.context, row.item.to)


@SEND.fact("switch", "Automation moves the fader or the mute of the channel it leaves.")
def source_ridden(row: Row[ChannelSend]) -> bool:
    return any(control_of(row.item.channel, target).moves for target in (FADER, MUTE))


@SEND.fact("word", "The effect it leads to.", how="derived", words=("reverb", "delay", "modulation", "other", "none"))
def effect(row: Row[ChannelSend]) -> str | Unknown:
    item = row.item
    if item.to is None or not is_return(row.context, item.to):
        return "none"
    return effect_of(row.context, item.to)


@SEND.fact(
    "switch",
    "It leads to a cue mix, or to another channel that is not part of the song.",
    how="derived",
    once="to_aside",
)
def to_utility(row: Row[ChannelSend]) -> bool:
    item = row.item
    return item.to is not None and is_utility(row.context, item.to)


@SEND.fact(
    "switch",
    "What it leads to exists, is loaded, and sounds at the mix bus.",
    how="derived",
    settings=GAP_SETTINGS,
)
def arrives(row: Row[ChannelSend]) -> bool | FactValue | Unknown:
    item = row.item
    known(item.send.to)
    if item.to is None:
        return FactValue(False, "derived", row.subject.where, "it leads to a channel that is not there")
    if item.to.loaded is False:
        return FactValue(False, "declared", item.to.where, f"{row.context.name(item.to.id)} is not loaded")
    known(row.context.routing.wiring.mix_bus)
    if is_audible(row.context, item.to):
        return True
    unknown = unknown_path(row.context, item.to)
    if unknown is not None:
        return unknown
    why = "is muted" if always_muted(row.context, item.to) else "does not sound at the mix bus"
    return FactValue(False, "derived", row.subject.where, f"{row.context.name(item.to.id)} {why}")


SEND.echo("arrives_how", "arrives.note")


@SEND.fact("switch", "The group the channel goes through feeds the same effect as well.", how="derived")
def doubled(row: Row[ChannelSend]) -> bool | FactValue:
    channel, to, wiring = row.item.channel, row.item.to, row.context.routing.wiring
    for group in groups_on_the_path(row.context, channel.id):
        sends = (edge for edge in wiring.leaving.get(group, ()) if edge.kind == "send" and wiring.audible(edge))
        if to is not None and any(edge.to == to.id for edge in sends):
            return FactValue(True, "derived", row.subject.where, row.context.name(group))
    return False


SEND.echo("doubled_by", "doubled.note")


@SEND.fact(
    "number",
    "What the filters on the ambience path it feeds take at 60 Hz.",
    unit="dB",
    how="derived",
    settings=LOW_CUT_SETTINGS,
)
def effect_low_cut_db(row: Row[ChannelSend]) -> FactValue:
    cut = known(return_low_cut(row.context, _effect_return(row)))
    return FactValue(cut.db, cut.known, row.subject.where, cut.text)


def _effect_return(row: Row[ChannelSend]) -> Channel:
    """The return it leads to.

    Raises:
        NotKnown: it leads to none.
    """
    to = row.item.to
    if to is None or not is_return(row.context, to):
        raise NotKnown(Unknown(unknown="it leads to no effect"))
    return to


@SEND.fact(
    "switch",
    "An earlier send of the same channel leads to the same place, taken and panned alike, and both can be open; a send "
    "that automation moves beside one that stands still at another level is a throw.",
    how="derived",
)
def repeated(row: Row[ChannelSend]) -> bool:
    item = row.item
    own = controls_of_send(item.channel, item.number)
    if not isinstance(item.send.to, str) or own.can_be_open is not True:
        return False
    for number, other in enumerate(item.channel.sends[: item.number]):
        if other.to != item.send.to or (other.tap, other.pan) != (item.send.tap, item.send.pan):
            continue
        controls = controls_of_send(item.channel, number)
        moved = any(one.moves for both in (own, controls) for one in (both.level, both.on))
        if controls.can_be_open is True and (not moved or other.level_db == item.send.level_db):
            return True
    return False


LEAST_SENDS: Final = Setting(
    "sends.least_others", 3.0, "", "So many other sends into one channel show what is usual there.", lowest=2.0
)


@SEND.fact(
    "number",
    "How far its level stands over the middle of the other open sends into its channel; 0 where these are too few.",
    unit="dB",
    how="derived",
    settings=(LEAST_SENDS,),
)
def over_other_sends_db(row: Row[ChannelSend]) -> FactValue:
    own = row.need("highest_db").number
    arriving = row.context.routing.wiring.arriving.get(str(known(row.item.send.to)), ())
    others = [
        edge.level_db
        for edge in arriving
        if edge.kind == "send" and edge.source != row.item.channel.id and row.context.routing.wiring.audible(edge)
    ]
    levels = [level for level in others if is_known(level) and level > SHUT_DB]
    if len(levels) < row.context.setting(LEAST_SENDS):
        return FactValue(0.0, "derived", row.subject.where)
    usual = median(levels)
    return FactValue(own - usual, "derived", row.subject.where, f"the others stand about {number_text(usual, 'dB')}")


SHUT_DB: Final = -60.0
"""A send under this is shut, and shows nothing of what is usual: a definition."""


@SEND.fact("switch", "It is switched off, at a level at which it would be heard, and no automation switches it on.")
def left_off(row: Row[ChannelSend]) -> bool:
    controls = controls_of_send(row.item.channel, row.item.number)
    level = controls.level.highest
    return controls.can_be_open is False and is_known(level) and level > OF_USE_DB


@SEND.fact(
    "text",
    "What another send of its channel is thrown to by automation, while this one stands fully down for good; or none.",
    how="derived",
)
def thrown_beside(row: Row[ChannelSend]) -> str:
    item = row.item
    level = control_of(item.channel, Target.send(item.number, "level"))
    if level.lane is not None or not is_known(level.now) or level.now > SHUT_DB or item.to is None:
        return "none"
    if control_of(item.channel, Target.send(item.number, "on")).can_be_on is False or not is_return(
        row.context, item.to
    ):
        return "none"
    for number, send in enumerate(item.channel.sends):
        other = control_of(item.channel, Target.send(number, "level"))
        if number == item.number or not isinstance(send.to, str) or not other.moves:
            continue
        low, high = other.lowest, other.highest
        if is_known(low) and is_known(high) and low <= SHUT_DB and high > OF_USE_DB and send.to in row.context.channels:
            return row.context.name(send.to)
    return "none"


OF_USE_DB: Final = -40.0
"""A send at or under this is hardly heard, switched on or not: a definition."""


@SEND.fact(
    "text",
    "The parts like it, or the other side of its pair, that are sent to the same channel, where it is switched on and "
    "stands all the way down; or none.",
    how="derived",
    settings=(LEAST_ALIKE,),
)
def left_down(row: Row[ChannelSend]) -> str:
    context, item = row.context, row.item
    controls = controls_of_send(item.channel, item.number)
    level, to = controls.level, item.to
    on = controls.on.can_be_on is True and not controls.on.moves
    if to is None or not on or level.moves or not is_known(level.now) or level.now > SHUT_DB:
        return "none"
    beside = partners(context).get(item.channel.id)
    if beside is not None and _is_sent(beside, to):
        return context.name(beside.id)
    return few_text([context.name(one.id) for one in peers_sent_to(context, item.channel, to.id)]) or "none"


def _is_sent(channel: Channel, to: Channel) -> bool:
    """True where an open send of a channel that stands leads to another, at a level at which it is heard."""
    for number, send in enumerate(channel.sends):
        controls = controls_of_send(channel, number)
        level = controls.level.now
        if send.to == to.id and controls.can_be_open is True and is_known(level) and level > OF_USE_DB:
            return True
    return False


@SEND.fact("text", "At what level it is set, and how it is shut, for a reader.", how="derived", settings=(LEAST_ALIKE,))
def shut_text(row: Row[ChannelSend]) -> str:
    level, others = number_text(row.need("level_db").number, "dB"), row.need("left_down").value
    return f"set to {level} and switched off" if others == "none" else f"on and fully down, and open for {others}"


@SEND.fact(
    "text",
    "Another part of its name or family that is sent to the same channel, where it leads; or none.",
    how="derived",
    settings=(LEAST_ALIKE,),
)
def alike_sent(row: Row[ChannelSend]) -> str:
    context, channel = row.context, row.item.channel
    peers = peers_sent_to(context, channel, str(known(row.item.send.to)))
    if peers:
        return context.name(peers[0].id)
    family = context.family(channel.id)
    for edge in context.routing.wiring.arriving.get(str(known(row.item.send.to)), ()):
        other = context.channels[edge.source]
        alike = edge.kind == "send" and other.id != channel.id and family is not None
        if alike and context.family(other.id) == family and context.routing.wiring.audible(edge):
            return context.name(other.id)
    return "none"


@SEND.fact(
    "number",
    "How far its level stands outside the range of its channel's peers' sends to the same return, which lie together: "
    "over them, or as a negative number under them.",
    unit="dB",
    how="derived",
    settings=(LEAST_PEERS, SPREAD),
)
def off_peers_db(row: Row[ChannelSend]) -> FactValue:
    found = send_apart(row.context, row.item.channel, str(known(row.item.send.to)))
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    return FactValue(found.db, "derived", row.subject.where, f"those of {found.stand_text}")


@SEND.fact(
    "number",
    "How far its level stands outside that range, whichever way.",
    unit="dB",
    how="derived",
    settings=(LEAST_PEERS, SPREAD),
)
def apart_from_peers_db(row: Row[ChannelSend]) -> FactValue:
    off = row.need("off_peers_db").number
    return FactValue(abs(off), "derived", row.subject.where, "over" if off > 0.0 else "under")


@SEND.fact(
    "text",
    "How it differs from all other sends that feed stems or cue mixes, which agree, or whose stem it leads to while "
    "nothing leads to its own; or none.",
    how="derived",
    settings=(LEAST_PEERS,),
)
def feed_apart(row: Row[ChannelSend]) -> str:
    return feeds_apart(row.context).get((row.item.channel.id, row.item.number), "none")


@SEND.fact(
    "text",
    "How its pan differs from all other sends into its return, which go straight or follow their parts; or none.",
    how="derived",
    settings=(ASIDE, LEAST_PANNED),
)
def pan_apart(row: Row[ChannelSend]) -> str:
    return send_pans_apart(row.context).get((row.item.channel.id, row.item.number), "none")
