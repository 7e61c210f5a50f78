"""Where a part stands: its pan, the side its name tells, and what shares the centre with it."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.activity import grid, playing
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.counterparts import (
    level_apart_db,
    panned_parts,
)
from mixlint.facts.channel import table as channel_facts
from mixlint.facts.declare import Facts, Row
from mixlint.naming import family_of, side_of
from mixlint.session import Channel, Unknown, is_known

FACTS: Facts[Channel] = Facts()


FACTS.fact("number", "Pan position, −100 left to +100 right.", unit="pan")(channel_facts.pan)


@FACTS.fact("number", "How far from the centre it is panned, whichever side.", unit="pan distance")
def off_centre(row: Row[Channel]) -> float | Unknown:
    channel = row.item
    return abs(channel.pan) if is_known(channel.pan) else channel.pan


@FACTS.fact("word", "The side it stands on.", words=("left", "right", "centre"))
def side(row: Row[Channel]) -> str | Unknown:
    channel = row.item
    if isinstance(channel.pan, Unknown):
        return channel.pan
    return "centre" if abs(channel.pan) < 0.5 else "left" if channel.pan < 0 else "right"


@FACTS.fact("word", "The side its name tells.", how="derived", words=("left", "right", "none"))
def named_side(row: Row[Channel]) -> str:
    channel = row.item
    return side_of(channel.name) or "none"


@FACTS.fact("switch", "It stands on the side its name tells, or its name tells none.", how="derived")
def on_named_side(row: Row[Channel]) -> bool | Unknown:
    told, stands = named_side(row), side(row)
    return stands if isinstance(stands, Unknown) else told in ("none", stands)


CENTRE: Final = 10.0
"""As far from the centre as a part may stand and still be in it (common practice, no source)."""


RIVALS: Final = frozenset({"guitars", "plucked", "keys", "synths", "strings", "winds"})
"""Families that share the range of the voice."""


RIVAL_DB: Final = -6.0


RIVAL_TIME: Final = 0.5


@per_session
def _central(context: SessionContext) -> list[Channel]:
    """Mono parts in the range of the voice that stand in the centre."""

    return [
        c
        for c in panned_parts(context)
        if is_known(c.pan)
        and abs(c.pan) <= CENTRE
        and family_of(context.role(c.id) or "") in RIVALS
        and context.routing.legs[c.id] == 1
    ]


@per_session
def _rivals(context: SessionContext, channel: Channel) -> tuple[str, ...]:
    """Names of the parts that share the centre with ``channel`` while it plays."""
    import numpy as np

    steps = np.diff(grid(context))
    sings = playing(context, channel.id)
    found = []
    for other in _central(context):
        if other.id == channel.id:
            continue
        both = float((np.minimum(sings, playing(context, other.id)) * steps).sum())
        apart = level_apart_db(context, other, channel)
        if both >= RIVAL_TIME * float((sings * steps).sum()) and apart is not None and apart >= RIVAL_DB - 1e-6:
            found.append(context.name(other.id))
    return tuple(found)


@FACTS.fact(
    "number",
    "How many mono parts in the range of the voice stand in the centre, at most 6 dB under it, while it plays.",
    how="derived",
)
def centre_rivals(row: Row[Channel]) -> int:
    return len(_rivals(row.context, row.item))


@FACTS.fact("text", "The parts that share the centre with it.", how="derived")
def centre_shared_with(row: Row[Channel]) -> str:
    return ", ".join(_rivals(row.context, row.item)) or "no part"
