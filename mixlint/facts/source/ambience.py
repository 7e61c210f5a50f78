"""The ambience of a part: how much of it there is, from which side it comes, and what low end it keeps."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.audibility import is_return
from mixlint.analysis.wetness import Wetness, wetness
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, Unknown, is_known

FACTS: Facts[Channel] = Facts()


NO_AMBIENCE = Unknown(unknown="it has no ambience")


def _wetness(row: Row[Channel]) -> Wetness | Unknown | None:
    return wetness(row.context, row.item)


@FACTS.fact("switch", "Some of its sound at the mix bus is ambience.", how="derived")
def has_ambience(row: Row[Channel]) -> bool | Unknown:
    wet = _wetness(row)
    return wet if isinstance(wet, Unknown) else wet is not None


@FACTS.fact("number", "Its ambience relative to its direct sound at the mix bus, at 1 kHz.", unit="dB", how="derived")
def wet_db(row: Row[Channel]) -> float | Unknown:
    wet = _wetness(row)
    return wet.wet_db if isinstance(wet, Wetness) else wet or NO_AMBIENCE


@FACTS.fact(
    "number", "The left of its ambience over the right; positive comes from the left.", unit="dB", how="derived"
)
def ambience_lean_db(row: Row[Channel]) -> float | Unknown:
    wet = _wetness(row)
    return wet.lean_db if isinstance(wet, Wetness) else wet or NO_AMBIENCE


@FACTS.fact("number", "What its ambience loses at 60 Hz relative to 1 kHz on the way.", unit="dB", how="derived")
def ambience_low_cut_db(row: Row[Channel]) -> float | Unknown:
    wet = _wetness(row)
    return wet.low_cut_db if isinstance(wet, Wetness) else wet or NO_AMBIENCE


@FACTS.fact("number", "How far its ambience leans to one side, whichever.", unit="dB", how="derived")
def ambience_off_centre_db(row: Row[Channel]) -> float | Unknown:
    lean = row.value("ambience_lean_db")
    return lean if isinstance(lean, Unknown) else abs(_number(lean))


@FACTS.fact("word", "Where its ambience leans to, seen from its own side.", how="derived", words=("same", "opposite"))
def ambience_side(row: Row[Channel]) -> str | Unknown:
    channel = row.item
    lean = row.value("ambience_lean_db")
    if isinstance(lean, Unknown):
        return lean
    if isinstance(channel.pan, Unknown):
        return channel.pan
    return "same" if (_number(lean) > 0.0) == (channel.pan < 0.0) else "opposite"


def _number(answer: FactValue) -> float:
    return float(answer.value) if isinstance(answer.value, int | float) else 0.0


PLACED: Final = 15.0


@FACTS.fact(
    "switch",
    "Its ambience has a place: a send or return of it is panned, or a return serves it alone.",
    how="derived",
)
def ambience_placed(row: Row[Channel]) -> bool:
    context, channel_id = row.context, row.subject.id
    wiring = context.routing.wiring
    for edge in wiring.leaving.get(channel_id, ()):
        to = context.channels[edge.to]
        if edge.kind != "send" or not wiring.audible(edge) or not is_return(context, to):
            continue
        panned = [p for p in (edge.pan, to.pan) if is_known(p)]
        alone = all(other.source == channel_id for other in wiring.arriving[to.id])
        if alone or any(abs(p) >= PLACED for p in panned):
            return True
    return False


@FACTS.fact("text", "The returns its own sends lead to.", how="derived")
def ambience_from(row: Row[Channel]) -> str:
    context = row.context
    wiring = context.routing.wiring
    edges = [e for e in wiring.leaving.get(row.subject.id, ()) if e.kind == "send" and wiring.audible(e)]
    return (
        ", ".join(context.name(e.to) for e in edges if is_return(context, context.channels[e.to]))
        or "no return of its own"
    )
