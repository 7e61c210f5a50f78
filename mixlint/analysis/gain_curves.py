"""Gains over the song: what every part's faders, pans, mutes and sends do to it from bar to bar.

The gains are taken at 1 kHz in the middle of each step of the grid, for the whole session at once, and only where
automation moves anything; otherwise the gains as they stand now serve the whole song.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.analysis.activity import playing, time_grid
from mixlint.analysis.context import MID, MID_HZ, SessionContext, per_session
from mixlint.analysis.extremes import TimedExtreme, run_around
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.routing import Gains

    Floats = NDArray[np.float64]

NEAR_DB: Final = 0.5
"""A stretch lasts as long as the curve stays this close to its extreme."""


def direct_and_ambience_gains(context: SessionContext, channel_id: str) -> tuple[NDArray[np.complex128], Floats]:
    """The direct gain (T or 1, 2, 2) and the ambience (T or 1, 2, 2, 2) of a channel over the song."""
    gains, at = _gains(context)
    return gains.direct[channel_id][:, at], gains.ambience[channel_id][:, at]


def direct_power_gain(context: SessionContext, channel_id: str) -> Floats:
    """The power gain (T or 1,) of a channel's direct ways over the song, both sides added."""
    direct, _ = direct_and_ambience_gains(context, channel_id)
    both = direct[..., 0] + direct[..., 1]
    power: Floats = (both.real**2 + both.imag**2).sum(axis=-1)
    return power


def ambience_power_gain(context: SessionContext, channel_id: str) -> Floats:
    """The power gain (T or 1,) of a channel's ambience over the song, both sides added."""
    import numpy as np

    _, ambience = direct_and_ambience_gains(context, channel_id)
    return np.asarray(np.clip(ambience.sum(axis=(-1, -2)).sum(axis=-1), 0.0, None))


def audible_power_gain(context: SessionContext, channel_id: str) -> Floats:
    """The power gain (T or 1,) by which a part is heard: of its direct ways, or of its ambience where it has no other.

    An effect on the part itself that is wholly wet, or whose wet share is not known, leaves no direct way.
    """
    import numpy as np

    dry = direct_power_gain(context, channel_id)
    return dry if (dry > 0.0).all() else np.asarray(np.where(dry > 0.0, dry, ambience_power_gain(context, channel_id)))


@per_session
def _gains(context: SessionContext) -> tuple[Gains, int]:
    import numpy as np

    if not any(lane.t for c in context.session.channels for lane in c.automation):
        return context.gains_now, MID
    edges = time_grid(context)
    return context.routing.gains(np.array([MID_HZ]), (edges[:-1] + edges[1:]) / 2.0), 0


@dataclass(frozen=True)
class GainCurves:
    """One part over the steps of the grid, for a signal that stands on both legs alike.

    Args:
        gain_db: (T,) the direct gain to the mix bus, both sides added in power.
        wet_db: (T,) its ambience over its direct sound; NaN where it has neither.
        heard: (T,) True where the part plays.
    """

    gain_db: Floats
    wet_db: Floats
    sounding: NDArray[np.bool_]


@per_session
def gain_curves_of(context: SessionContext, channel_id: str) -> GainCurves:
    """The course of one part's gains over the song."""
    import numpy as np

    sounding = playing(context, channel_id) > 0.0
    dry = direct_power_gain(context, channel_id)
    wet = ambience_power_gain(context, channel_id)
    floor = 10.0 ** (SILENCE_DB / 10.0)
    gain_db = 10.0 * np.log10(np.maximum(dry, floor))
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = 10.0 * np.log10(wet / dry)
    wet_db = np.where((dry <= 0.0) & (wet <= 0.0), np.nan, np.clip(ratio, -60.0, 60.0))
    return GainCurves(np.broadcast_to(gain_db, sounding.shape), np.broadcast_to(wet_db, sounding.shape), sounding)


def curve_extreme(
    context: SessionContext, curve: Floats, sounding: NDArray[np.bool_], sign: float
) -> TimedExtreme | None:
    """The highest (``sign`` 1) or lowest (−1) value of a curve (T,) where it is heard; None where it never is."""
    import numpy as np

    judged = np.where(sounding & ~np.isnan(curve), sign * curve, -np.inf)
    at = int(judged.argmax())
    if not np.isfinite(judged[at]):
        return None
    first, last = run_around(judged >= judged[at] - NEAR_DB, at)
    edges = time_grid(context)
    return TimedExtreme(float(curve[at]), float(edges[first]), float(edges[last + 1]))
