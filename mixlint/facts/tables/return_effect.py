"""More facts of the table ``return``: its legs, its pre-delay, and what feeds it."""

from __future__ import annotations

from mixlint.facts.declare import Answer, Row
from mixlint.facts.tables.meant import INTENTS, intents
from mixlint.facts.tables.returns import RETURN
from mixlint.naming import family_of
from mixlint.naming.words import FAMILIES
from mixlint.routing import passes
from mixlint.session import Channel, Insert, Unknown
from mixlint.study import listed
from mixlint.study.parts import is_source
from mixlint.study.pitches import nearest_length

RETURN.fact("list", INTENTS)(intents)


@RETURN.fact("number", "Its legs: 1 for mono, 2 for stereo.")
def legs(row: Row) -> float | Unknown:
    channel: Channel = row.item
    return channel.legs


@RETURN.fact("number", "How far from the centre it is panned, whichever side.", unit="pan")
def off_centre(row: Row) -> float | Unknown:
    channel: Channel = row.item
    return channel.pan if isinstance(channel.pan, Unknown) else abs(channel.pan)


def _reverb(row: Row) -> Insert | None:
    channel: Channel = row.item
    readings = row.desk.processors[channel.id]
    return next((i for i, r in zip(channel.inserts, readings, strict=True) if r.word == "reverb" and passes(i)), None)


@RETURN.fact("number", "The pre-delay of its reverb.", unit="ms")
def pre_delay_ms(row: Row) -> Answer | Unknown:
    insert = _reverb(row)
    if insert is None:
        return Unknown(unknown="the export shows no reverb that acts here", settle="look at the return's inserts")
    said = listed.pre_delay_ms(insert)
    if isinstance(said, Unknown):
        return said
    return Answer(said, "declared", insert.where or row.subject.where, insert.name)


@RETURN.fact("switch", "Its pre-delay is a note value of the song's tempo, within 3 per cent.", how="derived")
def pre_delay_in_time(row: Row) -> bool:
    insert = _reverb(row)
    said = None if insert is None else listed.pre_delay_ms(insert)
    if said is None or isinstance(said, Unknown) or said <= 0.0:
        return False
    near = nearest_length(row.desk.session.timeline, said)
    return not isinstance(near, Unknown) and near.off_percent <= 3.0


@RETURN.fact("list", "The families of the parts that feed it.", how="derived", words=(*FAMILIES, "unread"))
def feeding_families(row: Row) -> Answer:
    wiring = row.desk.routing.wiring
    seen = {row.subject.id}
    todo = [row.subject.id]
    found: dict[str, None] = {}
    while todo:
        for edge in wiring.arriving.get(todo.pop(), ()):
            if edge.source in seen or not wiring.audible(edge):
                continue
            seen.add(edge.source)
            todo.append(edge.source)
            if is_source(row.desk, row.desk.channels[edge.source]):
                found[family_of(row.desk.role(edge.source) or "") or "unread"] = None
    return Answer(tuple(sorted(found)), "derived", row.subject.where)
