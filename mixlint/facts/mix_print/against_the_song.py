"""A print against the song: whether it holds it from its first note to its last."""

from __future__ import annotations

from mixlint.analysis.activity import song_end_s
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import duration_s, file_name
from mixlint.analysis.mix_prints import MixPrint, is_set_of_stems, stem_files
from mixlint.analysis.song_end import ends_of_parts
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Unknown, is_known, known
from mixlint.units import clock_text, number_text

FACTS: Facts[MixPrint] = Facts()


def place(_: Row[MixPrint], at_s: float) -> str:
    """A place in the print as a reader finds it."""
    return clock_text(at_s)


@per_session
def _song_s(context: SessionContext) -> tuple[float, str] | Unknown:
    """How long the song is by its last clip, or by the stem that sounds for longest; and by what."""
    if is_set_of_stems(context):
        ends: dict[str, float] = {}
        for media in stem_files(context):
            length = duration_s(context, media)
            if is_known(length):
                ends[file_name(media.path)] = length
        if not ends:
            return Unknown(unknown="there are no stems beside it")
        longest = max(ends, key=lambda one: ends[one])
        return ends[longest], f"{longest} lasts {number_text(ends[longest], 's')}"
    parts = ends_of_parts(context)
    last = max(parts, key=lambda one: parts[one], default="")
    if not last:
        return Unknown(unknown="no part of the session sounds")
    end = max(parts[last], 0.0) or song_end_s(context)
    return end, f"{context.name(last)} ends at {clock_text(end)}"


@FACTS.fact(
    "number",
    "By how much it falls short of the song: of the last clip, or of the longest stem. Negative is longer.",
    unit="s",
    how="measured",
)
def short_of_song_s(row: Row[MixPrint]) -> FactValue:
    length = known(duration_s(row.context, row.item.media))
    song, why = known(_song_s(row.context))
    channel = row.item.channel
    begins = min((clip.start_s for clip in row.context.channels[channel].clips), default=0.0) if channel else 0.0
    return FactValue(song - begins - length, "measured", row.subject.where, why)


@FACTS.fact("switch", "It lies on a track of the session.", how="derived")
def on_a_track(row: Row[MixPrint]) -> bool:
    return bool(row.item.channel)
