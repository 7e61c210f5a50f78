"""The table ``channel``: every strip of the desk, whatever it is for."""

from __future__ import annotations

from collections.abc import Iterator

from mixlint.facts.declare import Answer, Row, Table
from mixlint.facts.tables.common import channel_row
from mixlint.naming.words import FAMILIES, ROLES
from mixlint.routing import TIME_EFFECTS
from mixlint.routing.wiring import lane_on
from mixlint.session import Channel, Unknown
from mixlint.study.activity import stretch_text
from mixlint.study.ambience import effect_of
from mixlint.study.curves import highest, lowest, open_share
from mixlint.study.desk import Desk
from mixlint.study.extreme import Extreme
from mixlint.study.gaps import open_by_gap
from mixlint.study.naming_order import is_placeholder, namesakes
from mixlint.study.parts import feeds_content, is_aside, is_cue, is_return, is_source, sounds


def _rows(desk: Desk) -> Iterator[Row]:
    return (channel_row(desk, channel, "channel") for channel in desk.session.channels)


CHANNEL: Table[Row] = Table("channel", "Every strip of the desk.", _rows)


@CHANNEL.fact("text", "The channel's name.")
def name(row: Row) -> str:
    return row.subject.name


@CHANNEL.fact("word", "What kind of strip it is.", words=("track", "group", "return", "master", "vca"))
def kind(row: Row) -> str | Unknown:
    channel: Channel = row.item
    return channel.kind


@CHANNEL.fact("word", "The part it plays, read from its name and surroundings.", how="derived", words=ROLES)
def role(row: Row) -> Answer | Unknown:
    reading = row.desk.roles[row.subject.id]
    if reading.word is None:
        return Unknown(
            unknown="the part it plays cannot be told: " + "; ".join(reading.grounds),
            settle="name its role in the house's table of roles",
        )
    return Answer(reading.word, "derived", row.subject.where, "; ".join(reading.grounds))


@CHANNEL.fact("word", "The family of parts its role belongs to.", how="derived", words=FAMILIES)
def family(row: Row) -> str | Unknown:
    from mixlint.naming import family_of

    said = CHANNEL.answer(row, "role")
    if isinstance(said, Unknown):
        return said
    return family_of(str(said.value)) or Unknown(unknown=f"the role {said.value} belongs to no family")


@CHANNEL.fact("number", "Fader position; −200 is fully down.", unit="dB")
def fader_db(row: Row) -> float | Unknown:
    channel: Channel = row.item
    return channel.fader_db


@CHANNEL.fact(
    "number", "The highest the fader goes while the channel plays, automation included.", unit="dB", how="derived"
)
def fader_highest_db(row: Row) -> Answer | Unknown:
    return _ridden(row, highest(row.desk, row.item, "fader"), row.item.fader_db)


@CHANNEL.fact(
    "number", "The lowest the fader goes while the channel plays, automation included.", unit="dB", how="derived"
)
def fader_lowest_db(row: Row) -> Answer | Unknown:
    return _ridden(row, lowest(row.desk, row.item, "fader"), row.item.fader_db)


def _ridden(row: Row, extreme: Extreme | None, now: float | Unknown) -> Answer | Unknown:
    if extreme is not None:
        return Answer(extreme.value, "derived", extreme.text(row.desk), "by automation")
    return now if isinstance(now, Unknown) else Answer(now, "declared", row.subject.where)


@CHANNEL.fact("number", "Pan position, −100 left to +100 right.", unit="pan")
def pan(row: Row) -> float | Unknown:
    channel: Channel = row.item
    return channel.pan


@CHANNEL.fact(
    "number", "The furthest left it is panned while it plays, automation included.", unit="pan", how="derived"
)
def pan_leftmost(row: Row) -> Answer | Unknown:
    return _ridden(row, lowest(row.desk, row.item, "pan"), row.item.pan)


@CHANNEL.fact(
    "number", "The furthest right it is panned while it plays, automation included.", unit="pan", how="derived"
)
def pan_rightmost(row: Row) -> Answer | Unknown:
    return _ridden(row, highest(row.desk, row.item, "pan"), row.item.pan)


@CHANNEL.fact("switch", "Its solo is on.")
def soloed(row: Row) -> bool | Unknown:
    channel: Channel = row.item
    return channel.solo


@CHANNEL.fact("switch", "It is muted, and no automation releases the mute while it plays.")
def muted(row: Row) -> bool | Answer | Unknown:
    channel: Channel = row.item
    if lane_on(channel, "mute") is not None:
        share = open_share(row.desk, channel)
        note = f"its mute is automated, and open for {100.0 * share:.0f} % of its playing time"
        return Answer(share <= 0.0, "derived", channel.where, note)
    return channel.mute


@CHANNEL.fact("switch", "It plays something, or is fed by a channel that does.", how="derived")
def holds_content(row: Row) -> bool:
    return feeds_content(row.desk, row.subject.id)


@CHANNEL.fact("text", "Where in the song its clips stand.", how="derived")
def plays_in(row: Row) -> Answer:
    channel: Channel = row.item
    spans = [(c.start_s, c.end_s) for c in channel.clips if c.on is not False]
    if not spans:
        return Answer("no clips of its own", "derived", row.subject.where)
    start, end = min(s for s, _ in spans), max(e for _, e in spans)
    return Answer(stretch_text(row.desk, start, end), "derived", row.subject.where)


@CHANNEL.fact(
    "switch",
    "It is not part of the song: a cue mix, click, guide, reference or utility channel.",
    how="derived",
)
def aside(row: Row) -> bool:
    return is_aside(row.desk, row.item)


@CHANNEL.fact("switch", "A way leads from it to the mix bus, mutes aside.", how="derived")
def reaches_mix(row: Row) -> bool | Answer | Unknown:
    wiring = row.desk.routing.wiring
    if isinstance(wiring.mix_bus, Unknown):
        return wiring.mix_bus
    gap = open_by_gap(row.desk, "outputs", "groups")
    if gap is not None:
        return gap
    if row.subject.id in wiring.reaching:
        return True
    return _dead_end(row)


def _dead_end(row: Row) -> Answer | Unknown:
    """Follow the outputs to where the way ends, and say so; an output that is not known leaves it open."""
    desk, wiring = row.desk, row.desk.routing.wiring
    todo, seen, ends = [row.subject.id], {row.subject.id}, []
    while todo:
        channel = desk.channels[todo.pop()]
        if isinstance(channel.output, Unknown):
            who = "" if channel.id == row.subject.id else f" of {desk.name(channel.id)}"
            return Unknown(unknown=f"the output{who}: {channel.output.unknown}", settle="look at its output")
        if channel.id != row.subject.id and not wiring.leaving.get(channel.id):
            ends.append(desk.name(channel.id))
        for edge in wiring.leaving.get(channel.id, ()):
            if edge.to not in seen:
                seen.add(edge.to)
                todo.append(edge.to)
    return Answer(
        False,
        "derived",
        row.subject.where,
        f"its way ends at {', '.join(sorted(ends))}" if ends else "it goes nowhere",
    )


@CHANNEL.fact(
    "switch",
    "It plays a part, and only its ambience reaches the mix bus: every way there leads through an effect return.",
    how="derived",
)
def only_ambience(row: Row) -> bool | Unknown:
    channel: Channel = row.item
    wiring = row.desk.routing.wiring
    if not is_source(row.desk, channel) or row.subject.id not in wiring.reaching:
        return False
    todo, seen = [row.subject.id], {row.subject.id}
    while todo:
        for edge in wiring.leaving.get(todo.pop(), ()):
            there = row.desk.channels[edge.to]
            if edge.to == wiring.mix_bus:
                return False
            if edge.to not in seen and not (is_return(row.desk, there) and effect_of(row.desk, there) in TIME_EFFECTS):
                seen.add(edge.to)
                todo.append(edge.to)
    if isinstance(channel.output, Unknown):
        return Unknown(unknown=f"the output: {channel.output.unknown}", settle="look at its output")
    return open_by_gap(row.desk, "outputs", "groups") or True


@CHANNEL.fact("text", "Where its way ends when it does not reach the mix bus.", how="derived")
def way_ends(row: Row) -> Answer | Unknown:
    said = CHANNEL.answer(row, "reaches_mix")
    if isinstance(said, Unknown):
        return said
    alone = CHANNEL.answer(row, "only_ambience")
    if isinstance(alone, Answer) and alone.value:
        return Answer("its output goes nowhere, and only its ambience is heard", "derived", row.subject.where)
    return Answer(said.note or "it reaches the mix bus", "derived", row.subject.where)


@CHANNEL.fact("switch", "It is not muted, nor is anything it has to pass on its way to the mix bus.", how="derived")
def audible(row: Row) -> bool | Unknown:
    return sounds(row.desk, row.item)


@CHANNEL.fact("switch", "It is the mix bus.", how="derived")
def mix_bus(row: Row) -> bool | Unknown:
    bus = row.desk.routing.wiring.mix_bus
    return bus if isinstance(bus, Unknown) else bus == row.subject.id


@CHANNEL.fact("switch", "Its name was given by a program: a general word and a number, or nothing.", how="derived")
def placeholder(row: Row) -> bool:
    return is_placeholder(row.item.name)


@CHANNEL.fact("number", "How many other channels bear the same name.", how="derived")
def namesake_count(row: Row) -> int:
    return len(namesakes(row.desk)[row.subject.id])


@CHANNEL.fact("switch", "It is a cue or headphone mix.", how="derived")
def cue(row: Row) -> bool:
    return is_cue(row.desk, row.item)
