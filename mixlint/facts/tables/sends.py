"""The table ``send``: every send of every channel, switched on or not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from mixlint.facts.declare import Answer, Row, Subject, Table
from mixlint.naming.words import ROLES
from mixlint.routing import automated
from mixlint.session import Channel, Send, Unknown, is_known
from mixlint.study.ambience import LowCut, effect_of, low_cut
from mixlint.study.curves import highest, never_open
from mixlint.study.desk import Desk
from mixlint.study.parts import feeds_content, is_aside, is_audible, is_return, untold_way
from mixlint.units import SILENCE_DB


@dataclass(frozen=True, slots=True)
class SendOf:
    """One send with the channel it leaves, its number there, and the channel it leads to, where that is known."""

    channel: Channel
    number: int
    send: Send
    to: Channel | None


def _rows(desk: Desk) -> Iterator[Row]:
    for channel in desk.session.channels:
        for number, send in enumerate(channel.sends):
            to = desk.channels.get(send.to) if isinstance(send.to, str) else None
            name = f"{desk.name(channel.id)} → {desk.name(to.id) if to else 'nowhere'}"
            channels = (channel.id, to.id) if to else (channel.id,)
            subject = Subject(
                "send", f"{channel.id}:{number}", name, send.where or channel.where, desk.order[channel.id], channels
            )
            yield Row(desk, subject, SendOf(channel, number, send, to))


SEND: Table[Row] = Table("send", "Every send of every channel, switched on or not.", _rows)


@SEND.fact("text", "The send: from where to where.", how="derived")
def name(row: Row) -> str:
    return row.subject.name


@SEND.fact("text", "The channel it leaves.")
def source(row: Row) -> str:
    return row.desk.name(row.item.channel.id)


@SEND.fact("text", "The channel it leads to.")
def to(row: Row) -> str | Unknown:
    item: SendOf = row.item
    if item.to is not None:
        return row.desk.name(item.to.id)
    return Unknown(unknown=item.send.to.unknown) if isinstance(item.send.to, Unknown) else "a channel that is not there"


@SEND.fact("word", "The part the channel it leaves plays.", how="derived", words=ROLES)
def source_role(row: Row) -> str | Unknown:
    role = row.desk.role(row.item.channel.id)
    return role or Unknown(unknown=f"the part {row.desk.name(row.item.channel.id)} plays cannot be told")


@SEND.fact("number", "Its level.", unit="dB")
def level_db(row: Row) -> float | Unknown:
    item: SendOf = row.item
    return item.send.level_db


@SEND.fact("number", "The highest it goes while the channel plays, automation included.", unit="dB", how="derived")
def highest_db(row: Row) -> Answer | float | Unknown:
    item: SendOf = row.item
    extreme = highest(row.desk, item.channel, f"send:{item.number}:level")
    if extreme is None:
        return item.send.level_db
    return Answer(extreme.value, "derived", extreme.text(row.desk), "by automation")


@SEND.fact("word", "Before or after the fader.", words=("pre", "post"))
def tap(row: Row) -> str | Unknown:
    item: SendOf = row.item
    return item.send.tap


@SEND.fact("switch", "It is switched on and not fully down, now or by automation.")
def open(row: Row) -> bool | Unknown:
    item: SendOf = row.item
    on, level = item.send.on, item.send.level_db
    if on is False and not automated(item.channel, f"send:{item.number}:on"):
        return False
    if is_known(level) and level <= SILENCE_DB and not automated(item.channel, f"send:{item.number}:level"):
        return False
    return True if is_known(on) else on


@SEND.fact("switch", "The channel it leaves plays something, and is not muted.", how="derived")
def sounding(row: Row) -> bool:
    item: SendOf = row.item
    return item.channel.id not in row.desk.routing.wiring.muted and feeds_content(row.desk, item.channel.id)


@SEND.fact("switch", "It leads to a reverb or delay return.", how="derived")
def to_effect(row: Row) -> bool | Unknown:
    item: SendOf = row.item
    if item.to is None or not is_return(row.desk, item.to):
        return False
    effect = effect_of(row.desk, item.to)
    return effect if isinstance(effect, Unknown) else effect in ("reverb", "delay")


@SEND.fact("word", "The effect it leads to.", how="derived", words=("reverb", "delay", "modulation", "other", "none"))
def effect(row: Row) -> str | Unknown:
    item: SendOf = row.item
    if item.to is None or not is_return(row.desk, item.to):
        return "none"
    return effect_of(row.desk, item.to)


@SEND.fact("switch", "It leads to a cue mix, or to another channel that is not part of the song.", how="derived")
def to_aside(row: Row) -> bool:
    item: SendOf = row.item
    return item.to is not None and is_aside(row.desk, item.to)


@SEND.fact("switch", "What it leads to exists, is loaded, and sounds at the mix bus.", how="derived")
def arrives(row: Row) -> bool | Answer | Unknown:
    item: SendOf = row.item
    if isinstance(item.send.to, Unknown):
        return item.send.to
    if item.to is None:
        return Answer(False, "derived", row.subject.where, "it leads to a channel that is not there")
    if item.to.loaded is False:
        return Answer(False, "declared", item.to.where, f"{row.desk.name(item.to.id)} is not loaded")
    if isinstance(row.desk.routing.wiring.mix_bus, Unknown):
        return row.desk.routing.wiring.mix_bus
    if is_audible(row.desk, item.to):
        return True
    untold = untold_way(row.desk, item.to)
    if untold is not None:
        return untold
    muted = never_open(row.desk, item.to)
    why = "is muted" if muted else "does not sound at the mix bus"
    return Answer(False, "derived", row.subject.where, f"{row.desk.name(item.to.id)} {why}")


@SEND.fact("text", "Why it does not arrive.", how="derived")
def arrives_how(row: Row) -> Answer | Unknown:
    said = SEND.answer(row, "arrives")
    return said if isinstance(said, Unknown) else Answer(said.note or "it arrives", said.how, said.where)


@SEND.fact("switch", "The group the channel goes through feeds the same effect as well.", how="derived")
def doubled(row: Row) -> bool | Answer:
    item: SendOf = row.item
    wiring = row.desk.routing.wiring
    here, seen = item.channel.id, {item.channel.id}
    while item.to is not None:
        out = next((e for e in wiring.leaving.get(here, ()) if e.kind == "output"), None)
        if out is None or out.to in seen or out.to == wiring.mix_bus:
            return False
        here = out.to
        seen.add(here)
        if any(e.kind == "send" and e.to == item.to.id and wiring.audible(e) for e in wiring.leaving.get(here, ())):
            return Answer(True, "derived", row.subject.where, f"by {row.desk.name(here)}")
    return False


@SEND.fact("text", "The group that feeds the same effect.", how="derived")
def doubled_by(row: Row) -> str:
    said = SEND.answer(row, "doubled")
    return said.note.removeprefix("by ") if isinstance(said, Answer) and said.note else "no group"


@SEND.fact("number", "What the filters on the ambience path it feeds take at 60 Hz.", unit="dB", how="derived")
def effect_low_cut_db(row: Row) -> float | Unknown:
    item: SendOf = row.item
    if item.to is None or not is_return(row.desk, item.to):
        return Unknown(unknown="it leads to no effect")
    to = item.to
    cut: LowCut | Unknown = row.desk.remembered(f"low cut {to.id}", lambda: low_cut(row.desk, to))
    return cut if isinstance(cut, Unknown) else cut.db
