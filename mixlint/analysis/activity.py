"""Who plays when: the spans in which each channel's clips sound, sampled on one time grid for the whole session.

Everything that asks for a share of playing time, or for energy or gain over the song, uses this grid, so that its
curves of shape (T,) can be multiplied step by step.
"""

from __future__ import annotations

from bisect import bisect_left
from typing import TYPE_CHECKING, Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.session import Channel, Clip, Unknown, seen_clips

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    import numpy as np
    from numpy.typing import NDArray

GRID_S: Final = 0.5
"""The step of the time grid, seconds. No setting: it is the resolution of a computation, about a beat."""

INSIDE_S: Final = 1e-3
"""A span that ends this close behind a bar line is written as ending before it, seconds: wording alone."""

LONGEST_GRID: Final = 40_000
"""Most steps of the grid (5.5 hours at half a second), a bound of work; a longer session gets wider steps."""


def clips_on(channel: Channel) -> list[Clip]:
    """The channel's clips that are switched on and longer than nothing, as listed.

    A clip whose switch the export does not show counts as on.
    """
    return [c for c in channel.clips if c.on is not False and c.end_s > c.start_s]


def sounding_clips(channel: Channel) -> list[tuple[float, float]]:
    """The spans (start, end) in seconds of those clips; they may overlap."""
    return [(c.start_s, c.end_s) for c in clips_on(channel)]


@per_session
def has_arrangement(context: SessionContext) -> bool:
    """True when the export holds any clip at all, so that a channel without clips is known to be silent."""
    return any(seen_clips(c) for c in context.session.channels)


def clips_not_shown(context: SessionContext) -> Unknown | None:
    """Why not every clip is in the export, so that what none plays may be played after all; None where all are."""
    return next((c.missing["clips"] for c in context.session.channels if "clips" in c.missing), None)


def _seen_ends(channel: Channel) -> list[float]:
    """Where the clips that are switched on end, as far as the export shows them."""
    return [clip.end_s for clip in seen_clips(channel) if clip.on is not False and clip.end_s > clip.start_s]


@per_session
def song_end_s(context: SessionContext) -> float:
    """The end of the last sounding clip, seconds; 0 without an arrangement."""
    return max((end for c in context.session.channels for end in _seen_ends(c)), default=0.0)


def steps_through(end_s: float, step_s: float) -> NDArray[np.float64]:
    """Moments all through a song, half a step from its beginning and a step from each other.

    Args:
        end_s: the end of the song, seconds, over 0.
        step_s: the step, seconds; wider where there would be more than :data:`LONGEST_GRID` of them.

    Returns:
        (T,) seconds; one moment at the least.
    """
    import numpy as np

    step = max(step_s, end_s / LONGEST_GRID)
    return np.asarray((np.arange(max(1, int(np.ceil(end_s / step)))) + 0.5) * step, dtype=np.float64)


@per_session
def time_grid(context: SessionContext) -> NDArray[np.float64]:
    """The time grid of the song.

    Returns:
        The edges (T + 1,) of T equal steps in seconds, from 0 to the end of the last sounding clip or just past it;
        one step of a second where no clip sounds.
    """
    import numpy as np

    end = song_end_s(context)
    if end <= 0.0:
        return np.array([0.0, 1.0])
    step = max(GRID_S, end / LONGEST_GRID)
    steps = int(np.ceil(end / step))
    return np.linspace(0.0, steps * step, steps + 1)


@per_session
def playing(context: SessionContext, channel_id: str) -> NDArray[np.float64]:
    """How much of each step of the time grid the channel plays.

    Returns:
        Shares (T,), each 0 … 1, of the step that the channel's own clips cover; ones where the export holds no clip
        at all, since nothing says then when a channel plays.
    """
    import numpy as np

    edges = time_grid(context)
    if not has_arrangement(context):
        return np.ones(edges.size - 1)
    return coverage(sounding_clips(context.channels[channel_id]), edges)


def coverage(spans: list[tuple[float, float]], edges: NDArray[np.float64]) -> NDArray[np.float64]:
    """How much of each time step a set of spans covers.

    Args:
        spans: (start, end) pairs in seconds, in any order; where they overlap, time counts once.
        edges: the edges (T + 1,) of the steps in seconds, ascending.

    Returns:
        Shares (T,), each 0 … 1.
    """
    import numpy as np

    total = np.zeros(edges.size)
    for start, end in merged(spans):
        # Covered time up to each edge: its differences are the covered time of each step.
        total += np.clip(edges, start, end) - start
    return np.asarray(np.diff(total) / np.diff(edges))


def steps_of(edges: NDArray[np.float64], start_s: float, end_s: float) -> tuple[int, int]:
    """The steps between ``edges`` (T + 1,) that a span touches: the first, and the one behind the last; equal for none.

    Args:
        edges: seconds, ascending.
        start_s, end_s: the span, seconds.
    """
    import numpy as np

    first = max(0, int(np.searchsorted(edges, start_s, side="right") - 1))
    return first, max(first, min(int(np.searchsorted(edges, end_s, side="left")), edges.size - 1))


def length_of(spans: list[tuple[float, float]]) -> float:
    """How long some spans last together, seconds; where they overlap, time counts once."""
    return sum(end - start for start, end in merged(spans))


def within_s(spans: Iterable[tuple[float, float]], start_s: float, end_s: float) -> float:
    """How much of some spans lies in a stretch, seconds; where they overlap, time counts for each."""
    return sum(max(0.0, min(end, end_s) - max(start, start_s)) for start, end in spans)


def any_within(moments: Sequence[float], start_s: float, end_s: float) -> bool:
    """True where one of some moments, which are in order, lies in a stretch, its edges among it."""
    at = bisect_left(moments, start_s)
    return at < len(moments) and moments[at] <= end_s


def merged(spans: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The same time as spans in order that do not touch."""
    joined: list[tuple[float, float]] = []
    for start, end in sorted(spans):
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        else:
            joined.append((start, end))
    return joined


@per_session
def sounding_spans(context: SessionContext, channel_id: str) -> list[tuple[float, float]]:
    """When sound passes a channel: while its own clips play, or without any, while those of what feeds it do.

    Returns:
        Disjoint (start, end) pairs in seconds, in order; the whole grid where the export holds no clip at all, an
        empty list where nothing plays.
    """
    if not has_arrangement(context):
        edges = time_grid(context)
        return [(float(edges[0]), float(edges[-1]))]
    own = sounding_clips(context.channels[channel_id])
    if own:
        return merged(own)
    found = context.routing.wiring.upstream([channel_id])
    return merged([span for one in found for span in sounding_clips(context.channels[one])])


def overlap_share(context: SessionContext, one: str, other: str) -> float:
    """The share (0 … 1) of the shorter playing time in which both channels play; 0 when either never plays."""
    shorter = min(playing_s(context, one), playing_s(context, other))
    return _together_s(context, one, other) / shorter if shorter > 0.0 else 0.0


def share_beside(context: SessionContext, one: str, other: str) -> float:
    """The share (0 … 1) of a channel's playing time in which another one plays too; 0 when it never plays."""
    own = playing_s(context, one)
    return _together_s(context, one, other) / own if own > 0.0 else 0.0


def _together_s(context: SessionContext, one: str, other: str) -> float:
    """How long both channels play at the same time, seconds."""
    import numpy as np

    return float(np.minimum(playing(context, one), playing(context, other)) @ _steps(context))


@per_session
def playing_s(context: SessionContext, channel_id: str) -> float:
    """How long the channel's clips sound in all, seconds; overlapping clips count once."""
    return float(playing(context, channel_id) @ _steps(context))


@per_session
def _steps(context: SessionContext) -> NDArray[np.float64]:
    """The lengths (T,) of the steps of the grid, seconds."""
    import numpy as np

    return np.diff(time_grid(context))


def span_text(context: SessionContext, start_s: float, end_s: float) -> str:
    """A span of the song for a reader: its bars where the tempo is known, and its time.

    Returns:
        ``bars 5 to 8, 0:08.0 to 0:16.0``, or the time alone where the session has no tempo.
    """
    from mixlint.session import Timeline
    from mixlint.units import clock_text

    clock = f"{clock_text(start_s)} to {clock_text(end_s)}"
    timeline = context.session.timeline
    if not isinstance(timeline, Timeline):
        return clock
    first, last = timeline.bar(start_s)[0], timeline.bar(max(start_s, end_s - INSIDE_S))[0]
    return f"bars {first} to {last}, {clock}" if last > first else f"bar {first}, {clock}"


def moment_text(context: SessionContext, at_s: float) -> str:
    """A moment of the song for a reader: ``bar 5, 0:08.0``, or its time alone where the session has no tempo."""
    from mixlint.session import Timeline
    from mixlint.units import clock_text

    timeline = context.session.timeline
    return f"bar {timeline.bar(at_s)[0]}, {clock_text(at_s)}" if isinstance(timeline, Timeline) else clock_text(at_s)
