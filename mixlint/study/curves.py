"""Parameters over the song: what a fader, pan or send reaches where automation moves it, and where.

Facts give the value as it stands now, and these give its range: the extreme over the stretches in which the channel
plays, with the bars in which it lasts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from mixlint.routing.strips import lane_values
from mixlint.session import Automation, Channel
from mixlint.study.activity import grid, playing, stretch_text
from mixlint.study.desk import Desk
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


@dataclass(frozen=True, slots=True)
class Extreme:
    """An extreme value of a curve and the stretch, in seconds, in which the curve stays within ``near`` of it."""

    value: float
    start_s: float
    end_s: float

    def text(self, desk: Desk) -> str:
        """The stretch for a reader."""
        return stretch_text(desk, self.start_s, self.end_s)


def lane_of(channel: Channel, target: str) -> Automation | None:
    """The automation of ``target`` that moves, or None."""
    return next((a for a in channel.automation if a.target == target and len(set(a.v)) > 1), None)


def highest(desk: Desk, channel: Channel, target: str, *, near: float = 0.5) -> Extreme | None:
    """The highest value that automation of ``target`` reaches while the channel plays; levels in dB.

    None where no automation moves the target, or the channel never plays.
    """
    return _extreme(desk, channel, target, 1.0, near)


def lowest(desk: Desk, channel: Channel, target: str, *, near: float = 0.5) -> Extreme | None:
    """The lowest value, as :func:`highest`."""
    return _extreme(desk, channel, target, -1.0, near)


def _extreme(desk: Desk, channel: Channel, target: str, sign: float, near: float) -> Extreme | None:
    import numpy as np

    lane = lane_of(channel, target)
    if lane is None:
        return None
    values = shown(lane, _points(desk, lane))
    heard = np.interp(_points(desk, lane), _middles(desk), playing(desk, channel.id)) > 0.0
    if not heard.any():
        return None
    times = _points(desk, lane)[heard]
    signed = sign * values[heard]
    at = int(signed.argmax())
    first = last = at
    while first > 0 and signed[first - 1] >= signed[at] - near:
        first -= 1
    while last + 1 < signed.size and signed[last + 1] >= signed[at] - near:
        last += 1
    return Extreme(float(sign * signed[at]), float(times[first]), float(times[last]))


def open_share(desk: Desk, channel: Channel) -> float:
    """The share (0 … 1) of its playing time in which the channel's automated mute is open; 1 where it never plays."""
    lane = lane_of(channel, "mute")
    heard = playing(desk, channel.id)
    if lane is None or not heard.any():
        return 1.0
    # The lane is read within each step, so that a mute shorter than a step still counts for its part.
    inner = 8
    edges = grid(desk)
    import numpy as np

    times = edges[:-1, None] + np.diff(edges)[:, None] * (np.arange(inner) + 0.5) / inner
    opened = (lane_values(lane, times.ravel()) < 0.5).reshape(times.shape).mean(axis=1)
    return float((opened * heard).sum() / heard.sum())


def shown(lane: Automation, times: NDArray[np.float64]) -> NDArray[np.float64]:
    """Values of a lane at ``times`` as a reader sees them: levels in dB, all else as it is."""
    import numpy as np

    values = lane_values(lane, times)
    if lane.scale not in ("dB", "amplitude"):
        return values
    return np.asarray(20.0 * np.log10(np.maximum(values, 10.0 ** (SILENCE_DB / 20.0))))


def _middles(desk: Desk) -> NDArray[np.float64]:
    import numpy as np

    edges = grid(desk)
    return np.asarray((edges[:-1] + edges[1:]) / 2.0)


def _points(desk: Desk, lane: Automation) -> NDArray[np.float64]:
    """The grid's steps and the lane's own points within the song: a short peak between two steps is not missed."""
    import numpy as np

    edges = grid(desk)
    own = np.asarray(lane.t)
    return np.asarray(np.unique(np.concatenate([_middles(desk), own[(own >= edges[0]) & (own <= edges[-1])]])))
