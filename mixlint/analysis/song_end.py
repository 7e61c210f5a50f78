"""Where the song ends by its marker, and the part that plays on behind that."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.activity import has_arrangement, sounding_clips
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.partners import partners
from mixlint.analysis.settings import Setting
from mixlint.naming import ends_song
from mixlint.session import Marker

LEAST_PARTS: Final = Setting(
    "song_end.least_parts", 3.0, "", "So many parts that keep to the end marker show what it means.",
    lowest=2.0,
)  # fmt: skip

PAST_S: Final = 1.0
"""A clip that ends no later than this behind the marker ends with it: a last chord is cut by hand. A definition."""


AT_MARKER_S: Final = 1.0
SECTION_S: Final = 4.0
SECTION_PARTS: Final = 2
"""So many parts with clips this long that start this near to a marker make a section of what follows: a definition."""


@per_session
def end_marker(context: SessionContext) -> Marker | None:
    """The last of the markers that say where the song ends; None where there is none, or nothing is arranged.

    In many languages the last section is called the end. Where several parts begin to play at a marker, or another one
    follows while the parts play on, a section begins there, and the song does not end.
    """
    words = context.house.vocabulary
    marks = [marker for marker in context.session.markers if ends_song(marker.name, words)]
    marks = [marker for marker in marks if not _begins_a_section(context, marker)]
    return max(marks, key=lambda marker: marker.time_s, default=None) if has_arrangement(context) else None


def _begins_a_section(context: SessionContext, marker: Marker) -> bool:
    """True where parts begin to play at a marker, more than a last note, or another marker follows."""
    played = max(ends_of_parts(context).values(), default=0.0) - SECTION_S
    if any(marker.time_s + SECTION_S <= other.time_s <= played for other in context.session.markers):
        return True
    begun = 0
    for channel in context.session.channels:
        if is_utility(context, channel) or not is_audible(context, channel):
            continue
        spans = sounding_clips(channel)
        begun += any(abs(start - marker.time_s) <= AT_MARKER_S and end - start >= SECTION_S for start, end in spans)
    return begun >= SECTION_PARTS


@per_session
def ends_of_parts(context: SessionContext) -> dict[str, float]:
    """Channel id → when the last clip of a channel that is heard in the song ends, seconds."""
    found = {}
    for channel in context.session.channels:
        spans = sounding_clips(channel)
        if spans and not is_utility(context, channel) and is_audible(context, channel):
            found[channel.id] = max(end for _, end in spans)
    return found


@per_session
def runs_on_alone(context: SessionContext) -> dict[str, float]:
    """Channel id → by how much the last clip of the one part that plays through the end marker runs past it, seconds.

    Empty where several do, where too few parts keep to the marker, or without one.
    """
    marker, ends = end_marker(context), ends_of_parts(context)
    if marker is None:
        return {}
    past = {one: end - marker.time_s for one, end in ends.items() if end > marker.time_s + PAST_S}
    if len(past) != 1 or len(ends) - 1 < context.setting(LEAST_PARTS):
        return {}
    ((one, seconds),) = past.items()
    if one in partners(context):
        return {}  # of a pair it is the other one that was cut short
    # A clip that begins behind the marker was forgotten there, and is asked about as such.
    through = any(start < marker.time_s < end - PAST_S for start, end in sounding_clips(context.channels[one]))
    return {one: seconds} if through else {}
