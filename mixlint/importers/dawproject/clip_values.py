"""Single values of a clip: its fades, its gain, and the way a warp map runs through its file."""

from __future__ import annotations

from bisect import bisect_right
from itertools import pairwise

from mixlint.importers.dawproject.clip_context import SAME_S, Fade, LocalTime
from mixlint.importers.dawproject.lanes import time_unit
from mixlint.importers.dawproject.values import LevelScale, finite, level_scale, real
from mixlint.importers.dawproject.xml_tree import Node, PointsNode
from mixlint.session import Unknown

_STRAIGHT = 1e-3
_TIGHT = 1e-9


def fade_of(node: Node, local: LocalTime, start_s: float, end_s: float) -> Fade:
    """The clip's fades in seconds; a negative fade-in begins before the clip, as a crossfade does.

    Args:
        node: the clip.
        local: the time that its position is counted in.
        start_s: where it starts, seconds of the song.
        end_s: where it ends, seconds of the song.
    """
    into, out = finite(node.attrs.get("fadeInTime")), finite(node.attrs.get("fadeOutTime"))
    unit = time_unit(node.get("fadeTimeUnit"), local.unit)

    def reach(from_s: float, length: float) -> float:
        if unit == "seconds":
            return from_s + length
        return local.clock.seconds(local.clock.position(from_s, "beats") + length, "beats")

    return Fade(
        start_s,
        end_s,
        None if into is None else reach(start_s, into) - start_s,
        None if out is None else end_s - reach(end_s, -out),
    )


def clip_gain(node: Node) -> float | Unknown:
    """Clip gain in dB from an expression lane inside the clip, 0 where it has none; Unknown where it moves."""
    lanes = [node, *node.all("Lanes")]
    for lane in lanes:
        for points in lane.all("Points"):
            target = points.child("Target")
            if target is None or target.has("parameter") or target.get("expression").lower() != "gain":
                continue
            if not isinstance(points, PointsNode) or not points.values:
                continue
            if max(points.values) - min(points.values) > 1e-9 or points.values[0] != points.values[0]:
                return Unknown(unknown="the clip's gain moves within the clip", settle="look at the clip gain")
            parameter = real(points)
            scale = LevelScale("amplitude") if parameter.unit == "" else level_scale(parameter, "clip gain")
            return scale.level_db(points.values[0], "clip gain")
    return 0.0


def straight(node: Node, local: LocalTime, window: tuple[float, float]) -> tuple[float | Unknown, float | Unknown]:
    """Offset into the file at the window's start and seconds of file per second of song, under a warp map.

    Args:
        node: the warp map.
        local: the time that its points are counted in.
        window: start and end of what is heard, seconds of the song.

    Returns:
        Offset in seconds of the file, and speed. Both are Unknown where the map counts the file in beats or has fewer
        than two points; the speed alone where the map, or the tempo it follows, does not run straight through the
        window.
    """
    if time_unit(node.get("contentTimeUnit"), local.unit) != "seconds":
        why = Unknown(unknown="the warp map counts the file in beats, so its place in seconds is not known")
        return why, why
    marks = sorted(
        (time, content)
        for warp in node.all("Warp")
        if (time := finite(warp.attrs.get("time"))) is not None
        and (content := finite(warp.attrs.get("contentTime"))) is not None
    )
    times = [time for time, _ in marks]
    if len(marks) < 2 or times[-1] - times[0] <= _TIGHT:
        why = Unknown(unknown="the warp map has fewer than two points")
        return why, why

    def file_s(song_s: float) -> float:
        inner = local.inner(song_s)
        # Ends run on with the slope of their last stretch.
        at = min(max(1, bisect_right(times, inner)), len(marks) - 1)
        (t0, c0), (t1, c1) = marks[at - 1], marks[at]
        return c0 if t1 - t0 <= _TIGHT else c0 + (c1 - c0) * (inner - t0) / (t1 - t0)

    start, end = window
    edges = [start, end]
    edges += [song for time in times if start < (song := local.song_s(time)) < end]
    edges += [change for change in local.clock.starts if start < change < end]
    edges.sort()
    edges += [(a + b) / 2.0 for a, b in pairwise(edges)]
    edges.sort()
    offset = file_s(start)
    speeds = [(file_s(b) - file_s(a)) / (b - a) for a, b in pairwise(edges) if b - a > SAME_S]
    if not speeds or min(speeds) <= 0.0:
        return round(offset, 9), Unknown(unknown="the warp map runs backwards or stands still")
    if max(speeds) - min(speeds) > _STRAIGHT * max(speeds):
        return round(offset, 9), Unknown(unknown="the clip is stretched unevenly by its warp map")
    return round(offset, 9), round(sum(speeds) / len(speeds), 6)
