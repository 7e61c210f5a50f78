"""The files a session plays: who uses them, how they are found, and the rate the session runs at."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.session import Channel, Clip, MediaFile, Unknown, is_known
from mixlint.study.answer import Answer
from mixlint.study.desk import Desk

if TYPE_CHECKING:
    from mixlint.media import Header

NOT_OPENED: Final = Unknown(unknown="the audio was not opened", settle="review it with its audio")


@dataclass(frozen=True, slots=True)
class Use:
    """One file, the ids of the channels that play it in desk order, and for how long in all, seconds.

    ``plays`` is false where only video plays it.
    """

    media: MediaFile
    users: tuple[str, ...]
    played_s: float


def in_play(channel: Channel, clip: Clip) -> bool:
    """True for a clip that would sound: switched on, longer than nothing, on a channel that was loaded."""
    return clip.on is not False and clip.end_s > clip.start_s and channel.loaded is not False


def uses(desk: Desk) -> tuple[Use, ...]:
    """Every media file of the session with its use, in the session's order."""

    def make() -> tuple[Use, ...]:
        users: dict[str, dict[str, float]] = {}
        for channel in desk.session.channels:
            for clip in channel.clips:
                if clip.file is not None and clip.plays != "video" and in_play(channel, clip):
                    mine = users.setdefault(clip.file, {})
                    mine[channel.id] = mine.get(channel.id, 0.0) + clip.end_s - clip.start_s
        return tuple(
            Use(media, tuple(users.get(media.id, ())), sum(users.get(media.id, {}).values()))
            for media in desk.session.media
        )

    return desk.remembered("media uses", make)


def header(desk: Desk, media_id: str) -> Header | Unknown:
    """What a file says of itself, or why that cannot be had."""
    return NOT_OPENED if desk.audio is None else desk.audio.header(media_id)


def media_of(desk: Desk, media_id: str) -> MediaFile | None:
    """The entry of a file, or None where the session lists none."""
    known: dict[str, MediaFile] = desk.remembered("media by id", lambda: {m.id: m for m in desk.session.media})
    return known.get(media_id)


def rate_hz(desk: Desk, media: MediaFile) -> float | Unknown:
    """A file's sample rate: from its header, else as the session declares it."""
    said = header(desk, media.id)
    return float(said.sample_rate_hz) if is_known(said) else media.sample_rate_hz


def duration_s(desk: Desk, media: MediaFile) -> float | Unknown:
    """A file's length in seconds: from its header, else as the session declares it."""
    said = header(desk, media.id)
    return said.duration_s if is_known(said) else media.duration_s


def session_rate_hz(desk: Desk) -> Answer | Unknown:
    """The rate the session runs at: declared, else that of the files that play for the longest."""

    def make() -> Answer | Unknown:
        declared = desk.session.sample_rate_hz
        if not isinstance(declared, Unknown):
            return Answer(declared, "declared")
        played: dict[float, float] = {}
        for use in uses(desk):
            rate = rate_hz(desk, use.media)
            if use.users and is_known(rate):
                played[rate] = played.get(rate, 0.0) + use.played_s
        if not played:
            return Unknown(unknown=declared.unknown, settle="say at which rate the session runs")
        return Answer(
            max(played, key=lambda rate: (played[rate], rate)), "assumed", "", "the rate of most of its audio"
        )

    return desk.remembered("session rate", make)


def file_name(path: str) -> str:
    """The last part of a path, whichever way its slashes lean."""
    return path.replace("\\", "/").rstrip("/").rpartition("/")[2] or path
