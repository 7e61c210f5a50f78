"""Strays: clips that look forgotten, because they stand apart from the song or are a snippet on their own."""

from __future__ import annotations

from bisect import bisect_left
from itertools import accumulate
from typing import Final, NamedTuple

from mixlint.analysis.channel_purpose import is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import is_active_clip
from mixlint.analysis.settings import Setting
from mixlint.facts.clip.clip_regions import ClipRegion
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, Clip
from mixlint.units import clock_text, number_text

LEAST_GAP: Final = Setting(
    "strays.least_gap", 10.0, "s", "Content that more silence than this parts from all else may be forgotten."
)
LEAST_SHARE: Final = Setting(
    "strays.least_share",
    5.0,
    "%",
    "Content apart counts as a song of its own from this share of the session's longest one on.",
)
MARKER_LEAD: Final = Setting(
    "strays.marker_lead", 1.0, "s", "A marker up to this long before content apart says that it is meant."
)
SNIPPET: Final = Setting("strays.snippet", 50.0, "ms", "An audio clip shorter than this is a snippet.")
SNIPPET_ALONE: Final = Setting(
    "strays.snippet_alone", 1.0, "s", "A snippet with nothing of its channel nearer than this is on its own."
)
STRAYS: Final = (LEAST_GAP, LEAST_SHARE, MARKER_LEAD, SNIPPET, SNIPPET_ALONE)

BEFORE_ZERO_S: Final = 1e-3
"""A clip that starts less than this before the timeline does starts with it: exporters round."""

ROUNDING_S: Final = 1e-6
"""What sums of times may be off by."""


class ContentStretch(NamedTuple):
    """A stretch of time with content and no gap longer than :data:`LEAST_GAP`.

    Args:
        start_s: where it starts, seconds.
        end_s: where it ends, seconds.
        content_s: the lengths of all clips in it added up, seconds.
    """

    start_s: float
    end_s: float
    content_s: float


@per_session
def song_stretches(context: SessionContext) -> tuple[ContentStretch, ...]:
    """The stretches that are the song: the one with the most content, and those that are songs or are marked.

    A short stretch apart counts as meant where a marker stands in it: a hidden ending has a name.
    """
    found = _content_stretches(context)
    if not found:
        return ()
    least = context.setting(LEAST_SHARE) / 100.0 * max(one.content_s for one in found)
    lead = context.setting(MARKER_LEAD)
    marks = [marker.time_s for marker in context.session.markers]
    return tuple(
        one for one in found if one.content_s >= least or any(one.start_s - lead <= t <= one.end_s for t in marks)
    )


def _content_stretches(context: SessionContext) -> list[ContentStretch]:
    """All stretches with content, utility channels left out, in order of time."""
    spans = sorted(
        (clip.start_s, clip.end_s)
        for channel in context.session.channels
        if not is_utility(context, channel)
        for clip in channel.clips
        if is_active_clip(channel, clip)
    )
    gap = context.setting(LEAST_GAP)
    found: list[ContentStretch] = []
    for start, end in spans:
        if found and start <= found[-1].end_s + gap:
            last = found[-1]
            found[-1] = ContentStretch(last.start_s, max(last.end_s, end), last.content_s + end - start)
        else:
            found.append(ContentStretch(start, end, end - start))
    return found


def is_snippet_alone(context: SessionContext, channel: Channel, clip: Clip) -> bool:
    """True for an audio clip shorter than :data:`SNIPPET` with nothing of its channel within :data:`SNIPPET_ALONE`."""
    if clip.plays != "audio" or clip.end_s - clip.start_s >= context.setting(SNIPPET) / 1000.0:
        return False
    alone = context.setting(SNIPPET_ALONE)
    starts, reach = _in_order(context, channel)
    near = bisect_left(starts, clip.end_s + alone)  # all that start before that long after it
    here = bisect_left(starts, clip.start_s)
    # The clip itself is one of those from ``here`` on.
    return near - here <= 1 and (here == 0 or reach[here - 1] <= clip.start_s - alone)


@per_session
def _in_order(_context: SessionContext, channel: Channel) -> tuple[list[float], list[float]]:
    """Starts of the clips that are on, in order, and how far the clips up to each reach, both in seconds."""
    clips = sorted((c for c in channel.clips if c.on is not False), key=lambda c: c.start_s)
    return [c.start_s for c in clips], list(accumulate((c.end_s for c in clips), max))


FACTS: Facts[ClipRegion] = Facts()


@FACTS.fact(
    "switch",
    "It stands apart from the song, begins before the timeline, or is a snippet on its own.",
    settings=STRAYS,
)
def stray(row: Row[ClipRegion]) -> FactValue:
    region = row.item
    why = _before_the_timeline(region) or _apart(row.context, region) or _snippet(row.context, region)
    return FactValue(bool(why), "derived", "", why)


def _before_the_timeline(region: ClipRegion) -> str:
    start = region.clip.start_s
    return f"it begins {number_text(-start, 's')} before the timeline does" if start < -BEFORE_ZERO_S else ""


def _apart(context: SessionContext, region: ClipRegion) -> str:
    """Where the first of its repeats outside the song stands; empty where all are in it."""
    song = song_stretches(context)
    inside = [(one.start_s - ROUNDING_S, one.end_s + ROUNDING_S) for one in song]
    at = next((s for s in region.starts if not any(start <= s <= end for start, end in inside)), None)
    if not song or at is None:
        return ""
    before = max((one.end_s for one in song if one.end_s <= at), default=None)
    if before is None:
        return (
            f"it stands at {clock_text(at)}, more than {number_text(context.setting(LEAST_GAP), 's')} before all else"
        )
    return f"it stands at {clock_text(at)}, {number_text(at - before, 's')} after all else has ended"


def _snippet(context: SessionContext, region: ClipRegion) -> str:
    clip = region.clip
    if len(region.starts) > 1 or not is_snippet_alone(context, region.channel, clip):
        return ""
    long = number_text((clip.end_s - clip.start_s) * 1000.0, "ms")
    return f"it is {long} long at {clock_text(clip.start_s)}, with nothing near it"


FACTS.echo("stray_how", "stray.note")
