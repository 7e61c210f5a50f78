"""The ambience of each part: how wet it is, from which side its ambience comes, and what low end the ambience keeps."""

from __future__ import annotations

from dataclasses import dataclass

from mixlint.analysis.audibility import is_return
from mixlint.analysis.context import LOW_HZ, MID, MID_HZ, SessionContext, per_session
from mixlint.analysis.gaps import open_by_gap
from mixlint.routing import TIME_EFFECTS, insert_chain, passes
from mixlint.session import Channel, Unknown


@dataclass(frozen=True, slots=True)
class Wetness:
    """Numbers at the mix bus for one part's own signal, faders and sends as they stand now.

    Args:
        wet_db: ambience over direct signal at 1 kHz, both sides added in power, dB.
        lean_db: the ambience's left over its right, dB; positive comes from the left.
        low_cut_db: what the way of the ambience takes at 60 Hz relative to 1 kHz, the part's own inserts aside, dB.
    """

    wet_db: float
    lean_db: float
    low_cut_db: float


@per_session
def wetness(context: SessionContext, channel: Channel) -> Wetness | Unknown | None:
    """The ambience of a part, or None for a part that has none, or why it cannot be told."""
    import numpy as np

    untold = untold_ambience(context, channel)
    if untold is not None:
        return untold
    gains = context.gains_now
    direct = float((gains.sides(channel.id)[0, MID] ** 2).sum())
    low, mid = gains.ambience_sides(channel.id)[0] ** 2  # each (2,): left, right
    if mid.sum() <= 0.0:
        return None
    chain = insert_chain(channel, context.kinds[channel.id], np.array([LOW_HZ, MID_HZ]), context.routing.rate_hz)
    own = np.abs(chain.dry) ** 2 + chain.wet  # an effect of its own is linear too: what it passes has the same filters
    own_ratio = float(own[0] / own[1]) if own[0] > 0.0 and own[1] > 0.0 else 1.0
    kept = max(float(low.sum() / mid.sum()) / own_ratio, 1e-20)
    return Wetness(
        _db(float(mid.sum()), direct),
        _db(float(mid[0]), float(mid[1])),
        -10.0 * float(np.log10(kept)),
    )


def untold_ambience(context: SessionContext, channel: Channel) -> Unknown | None:
    """Why the ambience of a part cannot be told, or None where it can."""
    routing = context.routing
    if isinstance(routing.wiring.mix_bus, Unknown):
        return routing.wiring.mix_bus
    why = (*routing.unknown_on_the_way.get(channel.id, ()), *routing.lost_sends.get(channel.id, ()))
    if why:
        return Unknown(unknown=why[0], settle="export it again")
    return untold_share(context, channel) or open_by_gap(context, "sends", "outputs", "groups")


def untold_share(context: SessionContext, channel: Channel) -> Unknown | None:
    """The wet share that is not known of an effect standing in a part's direct way; effect returns are left aside.

    How much of the part is direct and how much ambience cannot be told then, though its level as a whole can.
    """
    found = context.routing.downstream([channel.id], lambda edge: not is_return(context, context.channels[edge.to]))
    for here in (context.channels[one] for one in found):
        for place, insert in enumerate(here.inserts):
            if context.kinds[here.id].get(place) in TIME_EFFECTS and passes(insert) and isinstance(insert.wet, Unknown):
                who = f"{insert.name} on {context.name(here.id)}"
                return Unknown(unknown=f"{who}: {insert.wet.unknown}", settle=f"look at the mix control of {who}")
    return None


def _db(one: float, other: float) -> float:
    """One power over another in dB, held within ±60."""
    from math import log10

    if one <= 0.0:
        return -60.0
    return 60.0 if other <= 0.0 else max(-60.0, min(60.0, 10.0 * log10(one / other)))
