"""Automation of two revisions, held against each other where either has a point.

Exporters put in points of their own where the tempo changes, and write levels on scales of their own. So one lane is
read at the other's points, between points on that other's scale: a point that lies on the line changes nothing.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from math import log10
from typing import Final

from mixlint.session import Automation
from mixlint.units import SILENCE_DB

NEAR_S: Final = 0.002
"""Points this near in time are taken for one: rounding of beats moves a step by as much."""


def farthest(was: Automation, now: Automation) -> float:
    """The greatest distance between two lanes.

    Args:
        was, now: two lanes of one control, each with a point or more.

    Returns:
        dB for levels, else the control's own unit.
    """
    if len(was.t) == len(now.t) and all(abs(a - b) <= NEAR_S for a, b in zip(was.t, now.t, strict=True)):
        if was.v == now.v and was.scale == now.scale:
            return 0.0
        return max(abs(in_db(was, a) - in_db(now, b)) for a, b in zip(was.v, now.v, strict=True))
    return max(_one_way(was, now), _one_way(now, was))


def far_from_still(lane: Automation, still: float) -> float:
    """The greatest distance between a lane and a value that stands still.

    Args:
        lane: the lane.
        still: the value; dB for levels, else the control's own unit.
    """
    return max((abs(in_db(lane, v) - still) for v in lane.v), default=0.0)


def _one_way(points: Automation, other: Automation) -> float:
    """How far ``other`` is from the points of ``points``, a hair's breadth of time either way."""
    far = 0.0
    for time, value in zip(points.t, points.v, strict=True):
        here = in_db(points, value)
        near = min(abs(here - one) for one in _around(other, time, points.scale))
        far = max(far, near)
    return far


def _around(lane: Automation, time: float, scale: str) -> list[float]:
    """The values a lane takes at about ``time``: just before, just after, and at every point in between."""
    first, last = bisect_left(lane.t, time - NEAR_S), bisect_right(lane.t, time + NEAR_S)
    inside = [in_db(lane, v) for v in lane.v[first:last]]
    return [*inside, _value(lane, time - NEAR_S, scale), _value(lane, time + NEAR_S, scale), _value(lane, time, scale)]


def _value(lane: Automation, time: float, scale: str) -> float:
    """What a lane says at ``time``; between points it runs straight on ``scale``."""
    at = bisect_right(lane.t, time)
    if at == 0:
        return in_db(lane, lane.v[0])
    before = in_db(lane, lane.v[at - 1])
    if at == len(lane.t) or lane.shape == "hold":
        return before
    after = in_db(lane, lane.v[at])
    span = lane.t[at] - lane.t[at - 1]
    if span <= 0.0:
        return after
    part = (time - lane.t[at - 1]) / span
    if scale == "amplitude":
        return _db(_amplitude(before) * (1.0 - part) + _amplitude(after) * part)
    return before * (1.0 - part) + after * part


def in_db(lane: Automation, value: float) -> float:
    """A lane's value, in dB where it is an amplitude; −200 for silence.

    Args:
        lane: the lane, whose scale says what ``value`` means.
        value: one of its values.
    """
    if lane.scale == "amplitude":
        return _db(value)
    return max(value, SILENCE_DB) if lane.scale == "dB" else value


def _db(amplitude: float) -> float:
    return SILENCE_DB if amplitude <= 0.0 else max(SILENCE_DB, 20.0 * log10(amplitude))


def _amplitude(db: float) -> float:
    return 0.0 if db <= SILENCE_DB else 10.0 ** (db / 20.0)
