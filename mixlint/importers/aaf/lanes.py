"""What moves on a track as automation: the track's own gain and pan over time, and those of its clips put in a row."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence

from mixlint.importers.aaf.curves import Curve
from mixlint.importers.aaf.pieces import Piece
from mixlint.session import Automation
from mixlint.session.model import Scale
from mixlint.session.target import Target


def lane(target: Target, scale: Scale, curve: Curve, turned: Callable[[float], float], where: str) -> Automation:
    """A curve as automation; ``turned`` takes its values to the scale."""
    values = tuple(round(turned(value), 9) for value in curve.v)
    return Automation(target=target, scale=scale, shape=curve.shape, t=curve.t, v=values, where=where)


def in_a_row(pieces: Sequence[Piece], of: Callable[[Piece], float | Curve | None]) -> Curve:
    """The values that the clips of a track have, one after another, as one curve.

    From one clip to the next it steps, and after a clip it stays. Of clips that lie over each other the later one
    counts from its beginning on.

    Args:
        pieces: the clips in order.
        of: a clip's value, or values over time; None where it has none and leaves the curve as it is.
    """
    t: list[float] = []
    v: list[float] = []
    told = [(piece, value) for piece in pieces if (value := of(piece)) is not None]
    holds = all(not isinstance(value, Curve) or value.shape == "hold" for _, value in told)
    for count, (piece, value) in enumerate(told):
        start, end = float(piece.start_s), float(piece.end_s)
        if count + 1 < len(told):
            end = min(end, float(told[count + 1][0].start_s))
        if not isinstance(value, Curve):
            points = [(start, value)] if holds else [(start, value), (end, value)]
        else:
            points = _stretch(value, start, end, holds)
        if not holds and v and v[-1] != points[0][1]:
            t.append(start)
            v.append(v[-1])
        for at, one in points:
            t.append(round(at, 9))
            v.append(one)
    return Curve(tuple(t), tuple(v), "hold" if holds else "linear")


def _stretch(curve: Curve, start: float, end: float, holds: bool) -> list[tuple[float, float]]:
    """The points of a curve from one time to another, with its value at both; a step is two points on a line."""
    points = [(start, value_at(curve, start))]
    for at, value in zip(curve.t, curve.v, strict=True):
        if start < at < end:
            if not holds and curve.shape == "hold":
                points.append((at, points[-1][1]))
            points.append((at, value))
    if not holds:
        points.append((end, value_at(curve, end)))
    return points


def value_at(curve: Curve, at: float) -> float:
    """The value of a curve at a time; before its first point and after its last it stays."""
    after = bisect_right(curve.t, at)
    if after == 0:
        return curve.v[0]
    if after == len(curve.t) or curve.shape == "hold":
        return curve.v[after - 1]
    t0, t1, v0, v1 = curve.t[after - 1], curve.t[after], curve.v[after - 1], curve.v[after]
    return v0 + (v1 - v0) * (at - t0) / (t1 - t0)
