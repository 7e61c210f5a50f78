"""Gains to the mix bus over the song: what faders, pans, mutes and sends do to each part, step by step of the grid.

The gains are taken at 1 kHz in the middle of each step, for the whole session at once, and only where automation moves
anything. Otherwise the present gains hold for the whole song, and a curve has one step: its shape is "(T or 1,)".
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.analysis.activity import playing, time_grid
from mixlint.analysis.automation_range import NEAR, TimedExtreme, run_around
from mixlint.analysis.context import MID, MID_HZ, SessionContext, per_session
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.routing import Gains

    Floats = NDArray[np.float64]

RATIO_LIMIT_DB: Final = 60.0
"""A ratio of two powers is given within ± this, dB, so that a side without any has a number: a definition."""


def power_ratio_db(one: float, other: float) -> float:
    """The ratio of two powers or energies (0 or more) in dB, held within ± :data:`RATIO_LIMIT_DB`.

    Where ``one`` is 0 it is the lower bound, else where ``other`` is 0 the upper.
    """
    from math import log10

    if one <= 0.0:
        return -RATIO_LIMIT_DB
    if other <= 0.0:
        return RATIO_LIMIT_DB
    return max(-RATIO_LIMIT_DB, min(RATIO_LIMIT_DB, 10.0 * log10(one / other)))


def direct_and_ambience_gains(context: SessionContext, channel_id: str) -> tuple[NDArray[np.complex128], Floats]:
    """The gains of a channel to the mix bus at 1 kHz over the song.

    Returns:
        The direct gains (T or 1, 2, 2), complex: ``out = direct @ in``, by every path without a time effect. The
        ambience (T or 1, 2, 2, 2), real: for each output side the quadratic form of the input, a power.
    """
    gains, at = _gains(context)
    return gains.direct[channel_id][:, at], gains.ambience[channel_id][:, at]


def direct_power_gain(context: SessionContext, channel_id: str) -> Floats:
    """The power gain (T or 1,) of a channel's direct paths, both sides added, for a signal alike on both legs."""
    direct, _ = direct_and_ambience_gains(context, channel_id)
    both = direct[..., 0] + direct[..., 1]
    power: Floats = (both.real**2 + both.imag**2).sum(axis=-1)
    return power


def ambience_power_gain(context: SessionContext, channel_id: str) -> Floats:
    """The power gain (T or 1,) of a channel's ambience, both sides added, for a signal alike on both legs."""
    import numpy as np

    _, ambience = direct_and_ambience_gains(context, channel_id)
    return np.asarray(np.clip(ambience.sum(axis=(-1, -2)).sum(axis=-1), 0.0, None))


def audible_power_gain(context: SessionContext, channel_id: str) -> Floats:
    """The power gain (T or 1,) at which a part arrives: of its direct paths, or of its ambience where it has none.

    An effect on the part itself that is wholly wet, or whose wet share is not known, leaves no direct path.
    """
    import numpy as np

    dry = direct_power_gain(context, channel_id)
    return dry if (dry > 0.0).all() else np.asarray(np.where(dry > 0.0, dry, ambience_power_gain(context, channel_id)))


@per_session
def _gains(context: SessionContext) -> tuple[Gains, int]:
    """The gains that serve the whole song, and the index of 1 kHz among their frequencies."""
    import numpy as np

    if not any(lane.t for c in context.session.channels for lane in c.automation):
        return context.gains_now, MID
    edges = time_grid(context)
    return context.routing.gains(np.array([MID_HZ]), (edges[:-1] + edges[1:]) / 2.0), 0


@dataclass(frozen=True)
class GainCurves:
    """The gains of one part over the steps of the time grid, for a signal alike on both legs.

    Args:
        gain_db: (T,) the direct gain to the mix bus, both sides added in power, dB, no lower than −200.
        wet_db: (T,) ambience over direct sound, dB, within ±60; NaN where the part has neither.
        sounding: (T,) True where the part plays.
    """

    gain_db: Floats
    wet_db: Floats
    sounding: NDArray[np.bool_]


@per_session
def gain_curves_of(context: SessionContext, channel_id: str) -> GainCurves:
    """The gains of one part over the song at 1 kHz."""
    import numpy as np

    sounding = playing(context, channel_id) > 0.0
    dry = direct_power_gain(context, channel_id)
    wet = ambience_power_gain(context, channel_id)
    floor = 10.0 ** (SILENCE_DB / 10.0)
    gain_db = 10.0 * np.log10(np.maximum(dry, floor))
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = 10.0 * np.log10(wet / dry)
    wet_db = np.where((dry <= 0.0) & (wet <= 0.0), np.nan, np.clip(ratio, -RATIO_LIMIT_DB, RATIO_LIMIT_DB))
    return GainCurves(np.broadcast_to(gain_db, sounding.shape), np.broadcast_to(wet_db, sounding.shape), sounding)


def curve_extreme(
    context: SessionContext, curve: Floats, sounding: NDArray[np.bool_], sign: float
) -> TimedExtreme | None:
    """An extreme of a curve over the steps in which its part plays.

    Args:
        context: the session context.
        curve: (T,) values, NaN where there is none.
        sounding: (T,) True for the steps that count.
        sign: 1 for the highest value, −1 for the lowest.

    Returns:
        The extreme in the curve's unit; None where no step has a value that counts.
    """
    import numpy as np

    judged = np.where(sounding & ~np.isnan(curve), sign * curve, -np.inf)
    at = int(judged.argmax())
    if not np.isfinite(judged[at]):
        return None
    first, last = run_around(judged >= judged[at] - NEAR, at)
    edges = time_grid(context)
    return TimedExtreme(float(curve[at]), float(edges[first]), float(edges[last + 1]))
