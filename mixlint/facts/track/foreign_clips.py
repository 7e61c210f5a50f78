"""A clip that plays what another channel plays at that time, on a channel of which all other clips are its own.

A clip that was dragged onto the wrong strip, or a file linked to the one beside it, doubles one part and leaves out
another for as long as it lasts. Where a channel is made from others, such as one for throws, all its clips are theirs.
"""

from __future__ import annotations

from typing import Final

from mixlint.analysis.activity import span_text, within_s
from mixlint.analysis.audibility import is_heard
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.cut_lines import SAME_ORIGIN_S
from mixlint.analysis.media_use import audio_clips, origin_s
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, Clip, is_known, known

LEAST_OWN: Final = 3
"""So many clips of files that no other channel plays show that a channel is a part of its own: a definition."""
LEAST_BESIDE: Final = 1
"""So many other clips of its own, and of the recording on the other channel, show whose it is: a definition."""
OVER_S: Final = 0.25
"""Clips that lie over each other for less are crossfaded, or a breath apart: a definition."""
MOST_OF_IT: Final = 0.8
"""What plays for this share of a clip plays beside it: a definition."""

FACTS: Facts[Channel] = Facts()


@per_session
def _players(context: SessionContext) -> dict[str, dict[str, list[Clip]]]:
    """File → the heard parts that play it, each with the clips that do."""
    found: dict[str, dict[str, list[Clip]]] = {}
    for channel in context.session.channels:
        if is_source(context, channel) and is_heard(context, channel):
            for clip in audio_clips(channel):
                if clip.file is not None:
                    found.setdefault(clip.file, {}).setdefault(channel.id, []).append(clip)
    return found


@per_session
def _foreign(context: SessionContext, channel: Channel) -> tuple[Clip, str] | None:
    """The one clip of a channel that plays what another plays at that time, and the id of that one; None without."""
    players = _players(context)
    clips = [clip for clip in audio_clips(channel) if clip.file is not None]
    shared = [clip for clip in clips if len(players.get(clip.file or "", {})) > 1]
    if len(shared) != 1 or len(clips) - 1 < LEAST_OWN or not is_heard(context, channel):
        return None
    (clip,) = shared
    others = [one for one in players[clip.file or ""] if one != channel.id]
    if len(others) != 1 or not is_known(clip.offset_s):
        return None
    there = [
        (other.start_s, other.end_s)
        for other in players[clip.file or ""][others[0]]
        if is_known(other.offset_s) and abs(origin_s(other) - origin_s(clip)) <= SAME_ORIGIN_S
    ]
    beside = within_s(there, clip.start_s, clip.end_s)
    return (clip, others[0]) if beside >= MOST_OF_IT * (clip.end_s - clip.start_s) else None


@per_session
def _strayed(context: SessionContext, channel: Channel) -> tuple[Clip, str] | None:
    """The one clip of a channel of a recording that is another's, which rests there and has its place free for it."""
    players = _players(context)
    clips = [clip for clip in audio_clips(channel) if clip.file is not None]
    shared = [clip for clip in clips if len(players.get(clip.file or "", {})) > 1]
    if len(shared) != 1 or len(clips) - 1 < LEAST_BESIDE or not is_heard(context, channel):
        return None
    (clip,) = shared
    others = [one for one in players[clip.file or ""] if one != channel.id]
    if len(others) != 1 or not is_known(clip.offset_s):
        return None
    all_of_it = audio_clips(context.channels[others[0]])
    its = players[clip.file or ""][others[0]]
    placed = [one for one in its if is_known(one.offset_s) and abs(origin_s(one) - origin_s(clip)) <= SAME_ORIGIN_S]
    rests = not any(one.start_s < clip.end_s - OVER_S and one.end_s > clip.start_s + OVER_S for one in all_of_it)
    own_place = len(placed) == len(its) and (len(its) >= LEAST_BESIDE or known(clip.offset_s) > 0.0)
    return (clip, others[0]) if rests and own_place else None


@FACTS.fact(
    "text",
    "Whose recording one of its clips plays at the same time as that channel itself, where all its other clips are its "
    "own; none where none does.",
    how="derived",
)
def plays_anothers(row: Row[Channel]) -> FactValue:
    found = _foreign(row.context, row.item) if is_source(row.context, row.item) else None
    if found is None:
        return FactValue("none", "derived", row.subject.where)
    clip, other = found
    return FactValue(row.context.name(other), "derived", span_text(row.context, clip.start_s, clip.end_s))


@FACTS.fact(
    "text",
    "Whose recording one of its clips plays where that channel rests and its recording would lie, while all its other "
    "clips are its own; none where none does.",
    how="derived",
)
def holds_clip_of(row: Row[Channel]) -> FactValue:
    found = _strayed(row.context, row.item) if is_source(row.context, row.item) else None
    if found is None:
        return FactValue("none", "derived", row.subject.where)
    clip, other = found
    return FactValue(row.context.name(other), "derived", span_text(row.context, clip.start_s, clip.end_s))
