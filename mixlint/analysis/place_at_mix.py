"""Where a channel stands when it reaches the mix bus: its own pan and those of every strip on its way."""

from __future__ import annotations

from math import atan2, degrees, sqrt
from typing import NamedTuple

from mixlint.analysis.context import MID, SessionContext

HARD = 100.0
"""The end of the scale of pan positions."""


class Place(NamedTuple):
    """A place from −100 (left alone) to 100 (right alone) at 1 kHz.

    Args:
        at: of a signal that stands on both of its legs alike.
        left: of its left leg alone; as ``at`` for a mono channel, and for a leg that does not arrive.
        right: of its right leg alone.
        power: what arrives of a signal of power 1, left and right together.
        wet: it arrives by time effects alone; these are taken at unity gain.
    """

    at: float
    left: float
    right: float
    power: float
    wet: bool


def place_at_mix(context: SessionContext, channel: str) -> Place | None:
    """The place of a channel now, automation aside; None where nothing of it arrives.

    By every path without a time effect; where there is none, as of a return that is wholly wet, by those with one.

    Args:
        channel: its id.
    """
    direct = context.gains_now.direct[channel][0, MID]
    forms = context.gains_now.ambience[channel][0, MID]
    dry = [abs(complex(side.sum())) for side in direct]
    wet = max(dry) <= 0.0
    both = [sqrt(max(float(form.sum()), 0.0)) for form in forms] if wet else dry
    at = place_of(*both)
    if at is None:
        return None
    legs = [at, at]
    if context.routing.legs[channel] > 1:
        for leg in (0, 1):
            dry_leg = [abs(complex(side[leg])) for side in direct]
            found = place_of(*([sqrt(max(float(form[leg, leg]), 0.0)) for form in forms] if wet else dry_leg))
            legs[leg] = at if found is None else found
    return Place(at, legs[0], legs[1], both[0] ** 2 + both[1] ** 2, wet)


def place_of(left: float, right: float) -> float | None:
    """The pan position at which equal power gives these amplitudes left and right; None for silence.

    With left = cos φ and right = sin φ a position p stands for φ = (p + 100) / 200 · 90° (W3C Web Audio API,
    StereoPannerNode Panning). Under another law of a house a part that is panned to p so has another place than p.
    """
    if left <= 0.0 and right <= 0.0:
        return None
    return degrees(atan2(right, left)) / 90.0 * 2.0 * HARD - HARD
