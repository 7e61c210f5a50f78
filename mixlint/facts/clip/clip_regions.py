"""Clips as a reader meets them: repeats of one clip taken together, and the stretch of time that is the song."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from itertools import accumulate
from typing import Final

from mixlint.analysis.audibility import is_aside
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import file_name, in_play, media_of
from mixlint.session import Channel, Clip, Unknown

APART_S: Final = 10.0
"""Content that stands further than this from all other content, seconds, may be a leftover."""

SMALL_SHARE: Final = 0.05
"""A cluster with less than this share of the song's content is no song of its own."""

SNIPPET_S: Final = 0.05
ALONE_S: Final = 1.0


@dataclass(frozen=True, slots=True)
class Piece:
    """A clip and all its repeats on one channel: ``starts`` in seconds, ``clip`` the first of them."""

    channel: Channel
    number: int
    clip: Clip
    starts: tuple[float, ...]


@per_session
def pieces(context: SessionContext) -> tuple[Piece, ...]:
    """Every clip of every channel; clips alike but for their place are one piece."""

    found: list[Piece] = []
    for channel in context.session.channels:
        alike: dict[object, list[Clip]] = {}
        for clip in channel.clips:
            alike.setdefault(_key(clip), []).append(clip)
        for number, clips in enumerate(alike.values()):
            ordered = sorted(clips, key=lambda c: c.start_s)
            found.append(Piece(channel, number, ordered[0], tuple(c.start_s for c in ordered)))
    return tuple(found)


def _key(clip: Clip) -> object:
    return (
        clip.name,
        clip.plays,
        clip.file,
        clip.offset_s.unknown if isinstance(clip.offset_s, Unknown) else round(clip.offset_s, 6),
        round(clip.end_s - clip.start_s, 6),
        *(
            value.unknown if isinstance(value, Unknown) else value
            for value in (clip.speed, clip.fade_in_s, clip.fade_out_s, clip.gain_db, clip.on)
        ),
    )


def clip_name(context: SessionContext, clip: Clip) -> str:
    """What a reader knows a clip by: its name, else its file's."""
    if clip.name:
        return clip.name
    media = media_of(context, clip.file) if clip.file is not None else None
    return file_name(media.path) if media else "clip"


@dataclass(frozen=True, slots=True)
class Cluster:
    """A stretch with content and no gap longer than :data:`APART_S`; ``content_s`` adds up all clips in it."""

    start_s: float
    end_s: float
    content_s: float


@per_session
def song_clusters(context: SessionContext) -> tuple[Cluster, ...]:
    """The stretches that are the song: the one with the most content, and those that are songs or are marked.

    A short stretch apart counts as meant where a marker stands in it: a hidden ending has a name.
    """

    found = _clusters(context)
    if not found:
        return ()
    most = max(one.content_s for one in found)
    marks = [marker.time_s for marker in context.session.markers]
    return tuple(
        one
        for one in found
        if one.content_s >= SMALL_SHARE * most or any(one.start_s - ALONE_S <= t <= one.end_s for t in marks)
    )


def _clusters(context: SessionContext) -> list[Cluster]:
    spans = sorted(
        (clip.start_s, clip.end_s)
        for channel in context.session.channels
        if not is_aside(context, channel)
        for clip in channel.clips
        if in_play(channel, clip)
    )
    found: list[Cluster] = []
    for start, end in spans:
        if found and start <= found[-1].end_s + APART_S:
            last = found[-1]
            found[-1] = Cluster(last.start_s, max(last.end_s, end), last.content_s + end - start)
        else:
            found.append(Cluster(start, end, end - start))
    return found


def is_snippet_alone(context: SessionContext, channel: Channel, clip: Clip) -> bool:
    """True for an audio clip under 50 ms with nothing else of its channel within a second of it."""
    if clip.plays != "audio" or clip.end_s - clip.start_s >= SNIPPET_S:
        return False
    starts, reach = _in_order(context, channel)
    near = bisect_left(starts, clip.end_s + ALONE_S)  # all that start before a second after it
    here = bisect_left(starts, clip.start_s)
    # The clip itself is one of those from ``here`` on.
    return near - here <= 1 and (here == 0 or reach[here - 1] <= clip.start_s - ALONE_S)


@per_session
def _in_order(_context: SessionContext, channel: Channel) -> tuple[list[float], list[float]]:
    """Starts of the clips that are on, in order, and how far the clips up to each reach."""
    clips = sorted((c for c in channel.clips if c.on is not False), key=lambda c: c.start_s)
    return [c.start_s for c in clips], list(accumulate((c.end_s for c in clips), max))
