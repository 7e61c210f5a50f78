"""The files a session plays: which channels use them, what they are, and at which rate the session runs.

A file's own header, where the audio is open, comes before what the export declares of it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.value import FactValue
from mixlint.session import Channel, Clip, MediaFile, Unknown, is_known, known, seen_clips

if TYPE_CHECKING:
    from mixlint.media import Header

NOT_OPENED: Final = Unknown(unknown="the audio was not opened", settle="review it with its audio")


class MediaUse(NamedTuple):
    """One file and who plays it.

    Args:
        media: the file.
        users: ids of the channels that play it with an active clip, in desk order; video does not count.
        played_s: the lengths of those clips together, seconds.
    """

    media: MediaFile
    users: tuple[str, ...]
    played_s: float


def is_active_clip(channel: Channel, clip: Clip) -> bool:
    """True for a clip of ``channel`` that is switched on and longer than nothing, where the channel was loaded."""
    return clip.on is not False and clip.end_s > clip.start_s and channel.loaded is not False


def audio_clips(channel: Channel) -> list[Clip]:
    """The active clips of a channel that play audio, as listed."""
    return [c for c in channel.clips if c.plays == "audio" and is_active_clip(channel, c)]


@per_session
def media_uses(context: SessionContext) -> tuple[MediaUse, ...]:
    """Every media file of the session with its use, in the order of the export; unused ones among them."""
    users: dict[str, dict[str, float]] = {}
    for channel in context.session.channels:
        for clip in seen_clips(channel):
            if clip.file is not None and clip.plays != "video" and is_active_clip(channel, clip):
                mine = users.setdefault(clip.file, {})
                mine[channel.id] = mine.get(channel.id, 0.0) + clip.end_s - clip.start_s
    return tuple(
        MediaUse(media, tuple(users.get(media.id, ())), sum(users.get(media.id, {}).values()))
        for media in context.session.media
    )


def plain_clips(channel: Channel) -> list[Clip]:
    """The channel's clips whose samples can be read as they are: on, at original speed, file and offset known."""
    return [
        c
        for c in channel.clips
        if c.on is not False and c.file is not None and is_known(c.offset_s) and c.speed == 1.0 and c.end_s > c.start_s
    ]


def origin_s(clip: Clip) -> float:
    """When the recording that a plain clip shows would begin, seconds of the song.

    Raises:
        NotKnown: the export does not tell where in its file it begins.
    """
    return clip.start_s - known(clip.offset_s)


def header(context: SessionContext, media_id: str) -> Header | Unknown:
    """The header of a file; Unknown where it cannot be read, or :data:`NOT_OPENED` without audio."""
    return NOT_OPENED if context.audio is None else context.audio.header(media_id)


def media_of(context: SessionContext, media_id: str) -> MediaFile | None:
    """The session's entry of a file; None where it lists none."""
    return _media_by_id(context).get(media_id)


@per_session
def _media_by_id(context: SessionContext) -> dict[str, MediaFile]:
    """Media id → the session's entry."""
    return {media.id: media for media in context.session.media}


def one_path(context: SessionContext, media_id: str) -> str:
    """The path of a file, by which two entries of one file are known as one; its id where the session lists none."""
    media = _media_by_id(context).get(media_id)
    return media.path if media is not None and media.path else media_id


def rate_hz(context: SessionContext, media: MediaFile) -> float | Unknown:
    """A file's sample rate in hertz: from its header, else as the session declares it; Unknown where neither does."""
    found = header(context, media.id)
    return float(found.sample_rate_hz) if is_known(found) else media.sample_rate_hz


def duration_s(context: SessionContext, media: MediaFile) -> float | Unknown:
    """A file's length in seconds: from its header, else as the session declares it; Unknown where neither does."""
    found = header(context, media.id)
    return found.duration_s if is_known(found) else media.duration_s


@per_session
def session_rate_hz(context: SessionContext) -> FactValue | Unknown:
    """The sample rate at which the session runs.

    Returns:
        A number in hertz: declared, else assumed to be that of the files that play for the longest in all (of equal
        times the higher). Unknown where the session declares none and no file that plays has a known one.
    """
    declared = context.session.sample_rate_hz
    if not isinstance(declared, Unknown):
        return FactValue(declared, "declared")
    played: dict[float, float] = {}
    for use in media_uses(context):
        rate = rate_hz(context, use.media)
        if use.users and is_known(rate):
            played[rate] = played.get(rate, 0.0) + use.played_s
    if not played:
        return Unknown(unknown=declared.unknown, settle="say at which rate the session runs")
    return FactValue(max(played, key=lambda rate: (played[rate], rate)), "assumed", "", "the rate of most of its audio")


def file_name(path: str) -> str:
    """The last part of a path, whether its slashes are forward or backward."""
    return path.replace("\\", "/").rstrip("/").rpartition("/")[2] or path
