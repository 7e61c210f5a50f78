"""Parameters over the song: what a fader, pan or send reaches where automation moves it, and where.

Facts give the value as it stands now, and these give its range: the extreme over the stretches in which the channel
plays, with the bars in which it lasts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from mixlint.analysis.activity import grid, passing_spans
from mixlint.analysis.context import SessionContext
from mixlint.analysis.extreme import Extreme, run_around
from mixlint.routing.strips import lane_values
from mixlint.routing.wiring import lane_on, moving_lane
from mixlint.session import Automation, Channel
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


def highest(context: SessionContext, channel: Channel, target: str, *, near: float = 0.5) -> Extreme | None:
    """The highest value that automation of ``target`` reaches while the channel plays or is fed; levels in dB.

    None where no automation moves the target, or the channel never plays.
    """
    return _extreme(context, channel, target, 1.0, near)


def lowest(context: SessionContext, channel: Channel, target: str, *, near: float = 0.5) -> Extreme | None:
    """The lowest value, as :func:`highest`."""
    return _extreme(context, channel, target, -1.0, near)


def _extreme(context: SessionContext, channel: Channel, target: str, sign: float, near: float) -> Extreme | None:
    lane = moving_lane(channel, target)
    if lane is None:
        return None
    times, ends = _heard_times(context, channel, lane)
    if not times.size:
        return None
    signed = sign * shown(lane, times)
    at = int(signed.argmax())
    first, last = run_around(signed >= signed[at] - near, at)
    return Extreme(float(sign * signed[at]), float(times[first]), float(ends[last]))


def open_share(context: SessionContext, channel: Channel) -> float:
    """The share (0 … 1) of its playing time in which the channel's automated mute is open; 1 where it never plays."""
    import numpy as np

    lane = lane_on(channel, "mute")
    if lane is None or not (spans := passing_spans(context, channel.id)):
        return 1.0
    opened = total = 0.0
    points = np.asarray(lane.t)
    for start, end in spans:
        inside = points[(points > start) & (points < end)]
        cuts = np.concatenate([[start], inside, [end]])
        lengths = np.diff(cuts)
        opened += float(lengths @ (lane_values(lane, (cuts[:-1] + cuts[1:]) / 2.0) < 0.5))
        total += end - start
    return opened / total


def never_open(context: SessionContext, channel: Channel) -> bool:
    """True when a mute keeps the channel silent for as long as anything plays through it."""
    return channel.id in context.routing.wiring.muted or open_share(context, channel) <= 0.0


def shown(lane: Automation, times: NDArray[np.float64]) -> NDArray[np.float64]:
    """Values of a lane at ``times`` as a reader sees them: levels in dB, all else as it is."""
    import numpy as np

    values = lane_values(lane, times)
    if lane.scale not in ("dB", "amplitude"):
        return values
    return np.asarray(20.0 * np.log10(np.maximum(values, 10.0 ** (SILENCE_DB / 20.0))))


def _heard_times(
    context: SessionContext, channel: Channel, lane: Automation
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Times at which sound passes the channel, and how long what stands there lasts: until the next one, or the end.

    They are the grid's steps, the lane's own points and the starts of what plays, so that a short peak between two
    steps is not missed.
    """
    import numpy as np

    edges = grid(context)
    spans = np.array(passing_spans(context, channel.id)).reshape(-1, 2)
    points = np.sort(np.concatenate([(edges[:-1] + edges[1:]) / 2.0, np.asarray(lane.t), spans[:, 0]]))
    points = points[np.diff(points, prepend=-np.inf) > 0.0]  # np.unique would load numpy.ma, which slows the start
    if not spans.size:
        return points[:0], points[:0]
    at = np.searchsorted(spans[:, 0], points, side="right") - 1
    inside = (at >= 0) & (points < spans[at, 1])
    ends = np.minimum(np.append(points[1:], np.inf), spans[at, 1])
    return points[inside], ends[inside]
