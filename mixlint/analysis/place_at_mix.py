"""Where a channel stands when it reaches the mix bus as the desk is set now: its own pan and those of all on its way.

A place is the pan at which equal power gives the same powers left and right; :mod:`mixlint.analysis.stereo_image`
tells where parts stand through the song. Under another law of a house a part panned to p so has another place than p.
"""

from __future__ import annotations

from typing import NamedTuple

from mixlint.analysis.context import MID, SessionContext
from mixlint.analysis.stereo_image import position_of_powers


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
    dry = [abs(complex(side.sum())) ** 2 for side in direct]
    wet = max(dry) <= 0.0
    both = [float(form.sum()) for form in forms] if wet else dry
    at = _place_of(*both)
    if at is None:
        return None
    legs = [at, at]
    if context.routing.legs[channel] > 1:
        for leg in (0, 1):
            alone = [float(form[leg, leg]) for form in forms] if wet else [abs(complex(d[leg])) ** 2 for d in direct]
            found = _place_of(*alone)
            legs[leg] = at if found is None else found
    return Place(at, legs[0], legs[1], max(both[0] + both[1], 0.0), wet)


def _place_of(left: float, right: float) -> float | None:
    """The place of two powers; None for silence."""
    return None if left <= 0.0 and right <= 0.0 else position_of_powers(left, right)
