"""Clip regions: a clip and all its repeats on one channel, what they play, and whether they run past their file."""

from __future__ import annotations

from typing import NamedTuple

from mixlint.analysis.activity import span_text
from mixlint.analysis.channel_purpose import is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import duration_s, file_name, is_active_clip, media_of
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import FAMILIES
from mixlint.session import Channel, Clip, MediaFile, Unknown, known, seen_clips


class ClipRegion(NamedTuple):
    """A clip and all its repeats on one channel: clips alike but for their place.

    Args:
        channel: the channel they are on.
        number: which of the channel's regions it is, from 0 in the order of the export.
        clip: the first of them in time.
        starts: where each of them starts, seconds of the song, ascending.
    """

    channel: Channel
    number: int
    clip: Clip
    starts: tuple[float, ...]


@per_session
def clip_regions(context: SessionContext) -> tuple[ClipRegion, ...]:
    """Every region of every channel, channels in desk order."""
    found: list[ClipRegion] = []
    for channel in context.session.channels:
        alike: dict[object, list[Clip]] = {}
        for clip in seen_clips(channel):
            alike.setdefault(_but_for_its_place(clip), []).append(clip)
        for number, clips in enumerate(alike.values()):
            ordered = sorted(clips, key=lambda c: c.start_s)
            found.append(ClipRegion(channel, number, ordered[0], tuple(c.start_s for c in ordered)))
    return tuple(found)


def _but_for_its_place(clip: Clip) -> object:
    """What two clips have in common that are repeats of each other; times are rounded to a microsecond."""
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


def file_of(context: SessionContext, clip: Clip) -> MediaFile:
    """The entry of the file that a clip plays.

    Raises:
        NotKnown: the session lists none for it.
    """
    media = media_of(context, clip.file) if clip.file is not None else None
    return known(media or Unknown(unknown="the session names no file for it"))


FACTS: Facts[ClipRegion] = Facts()


@FACTS.fact("text", "The channel and the clip's name.")
def name(row: Row[ClipRegion]) -> str:
    return row.subject.name


@FACTS.fact("text", "The channel it is on.")
def on_channel(row: Row[ClipRegion]) -> str:
    return row.context.name(row.item.channel.id)


@FACTS.fact("word", "The family of parts its channel belongs to.", how="derived", words=FAMILIES)
def family(row: Row[ClipRegion]) -> str | Unknown:
    found = row.context.family(row.item.channel.id)
    return found or Unknown(unknown=f"the part {row.context.name(row.item.channel.id)} plays cannot be told")


@FACTS.fact("word", "What it plays.", words=("audio", "notes", "video", "unknown"))
def plays(row: Row[ClipRegion]) -> str:
    return row.item.clip.plays


@FACTS.fact("switch", "It is switched on, and its channel was loaded.")
def sounds(row: Row[ClipRegion]) -> bool:
    return is_active_clip(row.item.channel, row.item.clip)


@FACTS.fact(
    "switch",
    "Its channel is a utility channel, no part of the song: a cue mix, click, guide or reference.",
    once="aside",
)
def utility(row: Row[ClipRegion]) -> bool:
    return is_utility(row.context, row.item.channel)


@FACTS.fact("switch", "It plays a file that the session lists.")
def has_file(row: Row[ClipRegion]) -> bool:
    return row.item.clip.file is not None and media_of(row.context, row.item.clip.file) is not None


@FACTS.fact("number", "Where it starts, the first of its repeats.", unit="s")
def start_s(row: Row[ClipRegion]) -> float:
    return row.item.starts[0]


@FACTS.fact("number", "How long it is.", unit="s")
def length_s(row: Row[ClipRegion]) -> float:
    return row.item.clip.end_s - row.item.clip.start_s


@FACTS.fact("number", "How many times it stands on its channel.", how="derived")
def times(row: Row[ClipRegion]) -> int:
    return len(row.item.starts)


@FACTS.fact("text", "Where it is in the song.", how="derived", once="stands")
def position(row: Row[ClipRegion]) -> str:
    region = row.item
    first = span_text(row.context, region.clip.start_s, region.clip.end_s)
    more = len(region.starts) - 1
    return f"{first}, and {more} more time{'s' if more > 1 else ''}" if more else first


@FACTS.fact("number", "Its clip gain.", unit="dB")
def gain_db(row: Row[ClipRegion]) -> float | Unknown:
    return row.item.clip.gain_db


@FACTS.fact("number", "How far it runs past the end of its file.", unit="ms", how="derived")
def past_end_ms(row: Row[ClipRegion]) -> FactValue:
    clip = row.item.clip
    whole = known(duration_s(row.context, file_of(row.context, clip)))
    offset, speed = known(clip.offset_s), known(clip.speed)
    # Seconds of the file over seconds of the file per second of the song; a speed of nothing must not divide by it.
    past = (offset + (clip.end_s - clip.start_s) * speed - whole) / max(speed, 1e-9)
    return FactValue(max(0.0, past * 1000.0), "derived", row.subject.where)
