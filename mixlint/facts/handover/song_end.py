"""Where the song ends: its end marker, and the room that leaves for the tail after the last clip."""

from __future__ import annotations

from mixlint.analysis.activity import has_arrangement, song_end_s
from mixlint.analysis.ambience import effect_of
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_return, is_utility
from mixlint.analysis.context import SessionContext
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import ends_song
from mixlint.session import Marker, Session, Unknown
from mixlint.units import clock_text

FACTS: Facts[Session] = Facts()


@FACTS.fact("switch", "A reverb or delay return sounds, so that the song ends after its last clip.", how="derived")
def has_tail(row: Row[Session]) -> bool:
    context = row.context
    return any(
        is_return(context, channel)
        and is_audible(context, channel)
        and effect_of(context, channel) in ("reverb", "delay")
        for channel in context.session.channels
    )


def _end_marker(context: SessionContext) -> Marker | None:
    """The last of the markers that say where the song ends."""
    words = context.house.vocabulary
    marks = [marker for marker in context.session.markers if ends_song(marker.name, words)]
    return max(marks, key=lambda marker: marker.time_s, default=None)


@FACTS.fact("switch", "A marker says where the song ends.")
def end_marked(row: Row[Session]) -> bool:
    return _end_marker(row.context) is not None and has_arrangement(row.context)


@FACTS.fact("number", "How long the end marker leaves after the last clip.", unit="s", how="derived")
def room_s(row: Row[Session]) -> FactValue | Unknown:
    marker = _end_marker(row.context)
    if marker is None or not has_arrangement(row.context):
        return Unknown(unknown="no marker says where the song ends", settle="look at the range of the bounce")
    ends = [
        clip.end_s
        for channel in row.context.session.channels
        if not is_utility(row.context, channel) and is_audible(row.context, channel)
        for clip in channel.clips
        if clip.on is not False
    ]
    last = max(ends, default=song_end_s(row.context))
    return FactValue(
        marker.time_s - last, "derived", clock_text(marker.time_s), f"the last clip ends at {clock_text(last)}"
    )


@FACTS.fact("switch", "The print runs on behind the end marker until the last note has died away.")
def print_runs_on(_: Row[Session]) -> Unknown:
    return Unknown(unknown="the export does not show the range of the print", settle="look at the range of the bounce")


@FACTS.fact("text", "The end marker and its place.", how="derived")
def end_marker(row: Row[Session]) -> str:
    marker = _end_marker(row.context)
    return f"{marker.name} at {clock_text(marker.time_s)}" if marker else "none"
