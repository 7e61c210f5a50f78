"""More facts of the table ``return``: its legs, its pre-delay, and what feeds it."""

from __future__ import annotations

from mixlint.analysis import parameter_times
from mixlint.analysis.audibility import is_source
from mixlint.analysis.pitches import nearest_length
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.shared import INTENTS, intents
from mixlint.naming import family_of
from mixlint.naming.words import FAMILIES
from mixlint.routing import passes
from mixlint.session import Channel, Insert, Unknown

FACTS: Facts[Channel] = Facts()

FACTS.fact("list", INTENTS)(intents)


@FACTS.fact("number", "Its legs: 1 for mono, 2 for stereo.")
def legs(row: Row[Channel]) -> float | Unknown:
    channel = row.item
    return channel.legs


@FACTS.fact("number", "How far from the centre it is panned, whichever side.", unit="pan distance")
def off_centre(row: Row[Channel]) -> float | Unknown:
    channel = row.item
    return channel.pan if isinstance(channel.pan, Unknown) else abs(channel.pan)


def _reverb(row: Row[Channel]) -> Insert | None:
    channel = row.item
    readings = row.context.processors[channel.id]
    return next((i for i, r in zip(channel.inserts, readings, strict=True) if r.word == "reverb" and passes(i)), None)


@FACTS.fact("number", "The pre-delay of its reverb.", unit="ms")
def pre_delay_ms(row: Row[Channel]) -> FactValue | Unknown:
    insert = _reverb(row)
    if insert is None:
        return Unknown(unknown="the export shows no reverb that acts here", settle="look at the return's inserts")
    said = parameter_times.pre_delay_ms(insert)
    if isinstance(said, Unknown):
        return said
    return FactValue(said, "declared", insert.where or row.subject.where, insert.name)


@FACTS.fact("switch", "Its pre-delay is a note value of the song's tempo, within 3 per cent.", how="derived")
def pre_delay_in_time(row: Row[Channel]) -> bool:
    insert = _reverb(row)
    said = None if insert is None else parameter_times.pre_delay_ms(insert)
    if said is None or isinstance(said, Unknown) or said <= 0.0:
        return False
    near = nearest_length(row.context.session.timeline, said)
    return not isinstance(near, Unknown) and near.off_percent <= 3.0


@FACTS.fact("list", "The families of the parts that feed it.", how="derived", words=(*FAMILIES, "unread"))
def feeding_families(row: Row[Channel]) -> FactValue:
    wiring = row.context.routing.wiring
    seen = {row.subject.id}
    todo = [row.subject.id]
    found: dict[str, None] = {}
    while todo:
        for edge in wiring.arriving.get(todo.pop(), ()):
            if edge.source in seen or not wiring.audible(edge):
                continue
            seen.add(edge.source)
            todo.append(edge.source)
            if is_source(row.context, row.context.channels[edge.source]):
                found[family_of(row.context.role(edge.source) or "") or "unread"] = None
    return FactValue(tuple(sorted(found)), "derived", row.subject.where)
