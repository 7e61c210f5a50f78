"""Who plays when: the stretches in which each channel's clips sound, laid on one grid of time."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.session import Channel

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

GRID_S: Final = 0.5
"""The step of the grid on which playing and energy over the song are laid, seconds."""

INSIDE_S: Final = 1e-3
"""A stretch that ends this close behind a bar line does not reach into that bar, seconds."""

LONGEST_GRID: Final = 40_000
"""Most steps of the grid (5.5 hours at half a second); a longer session gets wider steps."""


def sounding_clips(channel: Channel) -> list[tuple[float, float]]:
    """Start and end in seconds of the clips that sound: switched on and longer than nothing."""
    return [(c.start_s, c.end_s) for c in channel.clips if c.on is not False and c.end_s > c.start_s]


@per_session
def has_arrangement(context: SessionContext) -> bool:
    """True when the export holds any clip at all, so that an empty channel is known to be empty."""
    return any(c.clips for c in context.session.channels)


@per_session
def song_end_s(context: SessionContext) -> float:
    """The end of the last sounding clip, seconds; 0 without an arrangement."""
    return max((end for c in context.session.channels for _, end in sounding_clips(c)), default=0.0)


@per_session
def time_grid(context: SessionContext) -> NDArray[np.float64]:
    """The edges (T + 1,) in seconds of the time steps that cover the song; one step without an arrangement."""

    import numpy as np

    end = song_end_s(context)
    if end <= 0.0:
        return np.array([0.0, 1.0])
    steps = int(np.ceil(end / max(GRID_S, end / LONGEST_GRID)))
    return np.linspace(0.0, steps * max(GRID_S, end / LONGEST_GRID), steps + 1)


@per_session
def playing(context: SessionContext, channel_id: str) -> NDArray[np.float64]:
    """The share (T,) of each step in which the channel's clips sound; all of it where there is no arrangement."""

    import numpy as np

    edges = time_grid(context)
    if not has_arrangement(context):
        return np.ones(edges.size - 1)
    return coverage(sounding_clips(context.channels[channel_id]), edges)


def coverage(spans: list[tuple[float, float]], edges: NDArray[np.float64]) -> NDArray[np.float64]:
    """The share (T,) of each step between ``edges`` (T + 1,) that the union of ``spans`` covers."""
    import numpy as np

    total = np.zeros(edges.size)
    for start, end in _union(spans):
        # Covered time up to each edge: its differences are the covered time of each step.
        total += np.clip(edges, start, end) - start
    return np.asarray(np.diff(total) / np.diff(edges))


def _union(spans: list[tuple[float, float]]) -> list[tuple[float, float]]:
    joined: list[tuple[float, float]] = []
    for start, end in sorted(spans):
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        else:
            joined.append((start, end))
    return joined


@per_session
def sounding_spans(context: SessionContext, channel_id: str) -> list[tuple[float, float]]:
    """The stretches in seconds in which sound passes a channel: its own clips, or on a bus those of what feeds it.

    The whole grid without an arrangement; none where nothing plays.
    """

    if not has_arrangement(context):
        edges = time_grid(context)
        return [(float(edges[0]), float(edges[-1]))]
    own = sounding_clips(context.channels[channel_id])
    if own:
        return _union(own)
    found = context.routing.wiring.upstream([channel_id])
    return _union([span for one in found for span in sounding_clips(context.channels[one])])


def overlap_share(context: SessionContext, one: str, other: str) -> float:
    """Of the shorter part's playing time, the share in which both play (0 … 1); 0 when either never plays."""
    import numpy as np

    shorter = min(playing_s(context, one), playing_s(context, other))
    if shorter <= 0.0:
        return 0.0
    steps = _steps(context)
    return float(np.minimum(playing(context, one), playing(context, other)) @ steps) / shorter


@per_session
def playing_s(context: SessionContext, channel_id: str) -> float:
    """How long the channel's clips sound in all, seconds."""

    return float(playing(context, channel_id) @ _steps(context))


@per_session
def _steps(context: SessionContext) -> NDArray[np.float64]:
    """The lengths (T,) of the steps of the grid, seconds."""
    import numpy as np

    return np.diff(time_grid(context))


def span_text(context: SessionContext, start_s: float, end_s: float) -> str:
    """A stretch of the song for a reader: bars where the tempo is known, and the time."""
    from mixlint.session import Timeline
    from mixlint.units import clock_text

    clock = f"{clock_text(start_s)} to {clock_text(end_s)}"
    timeline = context.session.timeline
    if not isinstance(timeline, Timeline):
        return clock
    first, last = timeline.bar(start_s)[0], timeline.bar(max(start_s, end_s - INSIDE_S))[0]
    return f"bars {first} to {last}, {clock}" if last > first else f"bar {first}, {clock}"
