"""The labelled cue points of audio files, and where they stand in the song."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import NOT_OPENED, audio_clips, duration_s, header, origin_s, plain_clips
from mixlint.analysis.mix_prints import is_set_of_stems, mix_prints, stem_names
from mixlint.media.stamps import StampedSet, by_stamps
from mixlint.session import Clip, MediaFile, Unknown, is_known

SAME_S: Final = 1.5e-3
"""Places that lie no further apart are one: rounding of the export."""


class FileCue(NamedTuple):
    """A labelled cue point.

    Args:
        media: its file.
        name: its label.
        in_file_s: where it stands in the file, seconds.
        at_s: where that is in the song; Unknown where nothing tells where the file begins.
    """

    media: MediaFile
    name: str
    in_file_s: float
    at_s: float | Unknown


@per_session
def file_cues(context: SessionContext) -> Mapping[str, tuple[FileCue, ...]] | Unknown:
    """Media id to the labelled cue points that lie in the file, in order of time; files without any are left out."""
    if context.audio is None:
        return NOT_OPENED
    listed = {media.id for media in context.session.media}
    named = [one.media for one in mix_prints(context) if one.media.id not in listed]
    found = {}
    for media in (*context.session.media, *named):
        said, head = context.audio.labels(media.id), context.audio.header(media.id)
        if not is_known(said) or not is_known(head) or not said.cues:
            continue
        begins = begins_s(context, media.id)
        cues = []
        for cue in said.cues:
            in_file_s = cue.sample / head.sample_rate_hz
            if cue.label and in_file_s <= head.duration_s:
                at_s = begins + in_file_s if is_known(begins) else begins
                cues.append(FileCue(media, cue.label, in_file_s, at_s))
        if cues:
            found[media.id] = tuple(cues)
    return found


@per_session
def song_cues(context: SessionContext) -> tuple[tuple[float, FileCue], ...]:
    """Labelled cue points and where they stand in the song, seconds, each name and time once, in the order of time.

    Those of which the time is not known are left out, and all of them where the audio was not opened.
    """
    found = file_cues(context)
    every = [cue for cues in found.values() for cue in cues] if is_known(found) else []
    placed = [(cue.at_s, cue) for cue in every if is_known(cue.at_s)]
    kept: list[tuple[float, FileCue]] = []
    last: dict[str, float] = {}
    for at_s, cue in sorted(placed, key=lambda one: (one[0], one[1].name, one[1].media.id)):
        if cue.name not in last or at_s - last[cue.name] > SAME_S:
            last[cue.name] = at_s
            kept.append((at_s, cue))
    return tuple(kept)


@per_session
def begins_s(context: SessionContext, media_id: str) -> float | Unknown:
    """When a file would begin in the song: by its clips; among stems also by its time stamp."""
    clips = _clips_by_file(context).get(media_id, ())
    if is_set_of_stems(context):
        stamped = _stamped(context)
        late = stamped.late_s.get(media_id, 0.0)
        return late if stamped.laid else late + min((clip.start_s for clip in clips), default=0.0)
    if not clips:
        return Unknown(unknown="no clip shows where in the song its file begins")
    origins = [origin_s(clip) for clip in clips]
    if max(origins) - min(origins) > SAME_S:
        return Unknown(unknown="clips play its file from several places of the song")
    return origins[0]


@per_session
def _clips_by_file(context: SessionContext) -> dict[str, list[Clip]]:
    """Media id to the clips whose place in the file is known; a file that another clip stretches is left out."""
    found: dict[str, list[Clip]] = {}
    other: set[str] = set()
    for channel in context.session.channels:
        plain = {id(clip) for clip in plain_clips(channel)}
        for clip in audio_clips(channel):
            if id(clip) in plain:
                found.setdefault(clip.file or "", []).append(clip)
            else:
                other.add(clip.file or "")
    return {one: clips for one, clips in found.items() if one not in other}


@per_session
def _stamped(context: SessionContext) -> StampedSet:
    """How the stems and the print of a set lie by their time stamps."""
    said = stem_names(context)
    stamps: dict[str, float | None] = {}
    longest = 0.0
    for media in context.session.media:
        head, length = header(context, media.id), duration_s(context, media)
        if said[media.id].kind in ("part", "mix") and is_known(head):
            stamp = head.time_reference
            stamps[media.id] = stamp / head.sample_rate_hz if is_known(stamp) else None
            longest = max(longest, length if is_known(length) else 0.0)
    return by_stamps(stamps, longest)
