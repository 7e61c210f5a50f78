"""How far automation takes a control while its channel sounds, and in which span of the song.

A control has a present value, and these give its range: its extremes over the spans in which the channel plays or is
fed, so that a move in a rest of the song counts for nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import playing, sounding_spans, span_text, time_grid
from mixlint.analysis.context import SessionContext, per_session
from mixlint.session import MUTE, PAN, Automation, Channel, Control, Target, Unknown, control_of
from mixlint.session.control import ON

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


NEAR: Final = 0.5
"""A span lasts while the curve stays this close to its extreme, in the curve's unit: wording, no verdict asks it."""


class TimedExtreme(NamedTuple):
    """An extreme of a control or a curve.

    Args:
        value: the extreme, in the unit of what was asked.
        start_s, end_s: the span in seconds in which it is reached or nearly reached.
    """

    value: float
    start_s: float
    end_s: float

    def text(self, context: SessionContext) -> str:
        """The span for a reader."""
        return span_text(context, self.start_s, self.end_s)


def run_around(near: NDArray[np.bool_], at: int) -> tuple[int, int]:
    """The run of true values around one of them.

    Args:
        near: (T,) which steps are near enough.
        at: the index of a true one.

    Returns:
        First and last index of the run.
    """
    first = last = at
    while first > 0 and near[first - 1]:
        first -= 1
    while last + 1 < near.size and near[last + 1]:
        last += 1
    return first, last


def highest_automated(context: SessionContext, channel: Channel, target: Target) -> TimedExtreme | None:
    """The highest value to which automation brings a control while the channel plays or is fed.

    Args:
        context: the session context.
        channel: the channel.
        target: which of its controls.

    Returns:
        The extreme in the reader's unit (levels in dB, pans −100 … +100, wet shares in per cent); None where no lane
        automates the control, or nothing ever sounds through the channel.
    """
    return _extreme(context, channel, control_of(channel, target), 1.0)


def lowest_automated(context: SessionContext, channel: Channel, target: Target) -> TimedExtreme | None:
    """The lowest value, with arguments and answer as :func:`highest_automated`."""
    return _extreme(context, channel, control_of(channel, target), -1.0)


def _extreme(context: SessionContext, channel: Channel, control: Control, sign: float) -> TimedExtreme | None:
    """The highest (``sign`` 1) or lowest (−1) value of a control while sound passes the channel."""
    if control.lane is None:
        return None
    times, ends = _sounding_times(context, channel, control.lane)
    if not times.size:
        return None
    signed = sign * control.at(times)
    at = int(signed.argmax())
    first, last = run_around(signed >= signed[at] - NEAR, at)
    return TimedExtreme(float(sign * signed[at]), float(times[first]), float(ends[last]))


def unmuted_share(context: SessionContext, channel: Channel) -> float:
    """The share (0 … 1) of the time in which sound passes the channel for which its automated mute is off.

    1 where no lane automates the mute, whatever it is set to, and where nothing ever plays.
    """
    import numpy as np

    mute = control_of(channel, MUTE)
    if mute.lane is None or not (spans := sounding_spans(context, channel.id)):
        return 1.0
    opened = total = 0.0
    points = np.asarray(mute.lane.t)
    for start, end in spans:
        inside = points[(points > start) & (points < end)]
        cuts = np.concatenate([[start], inside, [end]])
        lengths = np.diff(cuts)
        opened += float(lengths @ (mute.at((cuts[:-1] + cuts[1:]) / 2.0) < ON))
        total += end - start
    return opened / total


def always_muted(context: SessionContext, channel: Channel) -> bool:
    """True when the channel's mute, set or automated, is on for as long as anything plays through it."""
    return channel.id in context.routing.wiring.muted or unmuted_share(context, channel) <= 0.0


@per_session
def position_of(context: SessionContext, channel: Channel) -> float | Unknown:
    """Where a part is panned: its pan, or where automation moves it, the mean while it plays.

    Returns:
        −100 (left) … +100 (right); Unknown where neither the export nor automation shows its pan.
    """
    pan = control_of(channel, PAN)
    sounding = playing(context, channel.id)
    if not pan.moves or not sounding.any():
        return pan.now
    edges = time_grid(context)
    return float((pan.at((edges[:-1] + edges[1:]) / 2.0) * sounding).sum() / sounding.sum())


def _sounding_times(context: SessionContext, channel: Channel, lane: Automation) -> tuple[Floats, Floats]:
    """Times (N,) in seconds at which sound passes the channel, and until when the lane is read as at each (N,).

    They are the middles of the grid's steps, the lane's own points and the starts of what plays, so that a short peak
    between two steps is not missed.
    """
    import numpy as np

    edges = time_grid(context)
    spans = np.array(sounding_spans(context, channel.id)).reshape(-1, 2)
    points = np.sort(np.concatenate([(edges[:-1] + edges[1:]) / 2.0, np.asarray(lane.t), spans[:, 0]]))
    points = points[np.diff(points, prepend=-np.inf) > 0.0]  # np.unique would load numpy.ma, which slows the start
    if not spans.size:
        return points[:0], points[:0]
    at = np.searchsorted(spans[:, 0], points, side="right") - 1
    inside = (at >= 0) & (points < spans[at, 1])
    ends = np.minimum(np.append(points[1:], np.inf), spans[at, 1])
    return points[inside], ends[inside]
