"""What the clips of a track add up to: those that run past their files, strays, and muted ones."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mixlint.analysis.activity import sounding_clips, span_text, within_s
from mixlint.analysis.audibility import is_heard
from mixlint.analysis.channel_purpose import is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.like_sections import marked_sections
from mixlint.analysis.named_pairs import paired_by_name
from mixlint.facts.clip.clip_regions import ClipRegion, clip_name
from mixlint.facts.clip.strays import STRAYS
from mixlint.facts.clip.table import CLIP
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.track.named_out import named_out_clips
from mixlint.naming import Vocabulary, is_soloist, leads, name_words, pair_kind, says_solo, solo_of
from mixlint.session import FADER, Channel, Clip, control_of
from mixlint.signal.median import median
from mixlint.units import clock_text, few_text, number_text


def regions_of(context: SessionContext, channel_id: str) -> list[Row[ClipRegion]]:
    """The rows of the table ``clip`` that lie on one channel and sound."""
    return _by_channel(context).get(channel_id, [])


@per_session
def _by_channel(context: SessionContext) -> dict[str, list[Row[ClipRegion]]]:
    found: dict[str, list[Row[ClipRegion]]] = {}
    for row in CLIP.rows(context):
        if row.holds("sounds"):
            found.setdefault(row.item.channel.id, []).append(row)
    return found


def _with_files(row: Row[Channel]) -> list[Row[ClipRegion]]:
    """Clips that play an audio file which the session lists."""
    regions = regions_of(row.context, row.subject.id)
    return [one for one in regions if one.item.clip.plays == "audio" and one.holds("has_file")]


def _past(row: Row[Channel]) -> list[tuple[float, Row[ClipRegion]]]:
    """How far clips run past their files, ms, the furthest first; those of which it is not known are left out."""
    found = []
    for one in _with_files(row):
        past = one.value("past_end_ms")
        if isinstance(past, FactValue) and past.number > 0.0:
            found.append((past.number, one))
    return sorted(found, key=lambda pair: -pair[0])


LITTLE_ELSE: Final = 0.25
"""A part that plays for no more of the song, and in a solo, is there for that solo: a definition."""

FACTS: Facts[Channel] = Facts()


@FACTS.fact("switch", "A clip on it plays a file that the session lists.")
def plays_files(row: Row[Channel]) -> bool:
    return bool(_with_files(row))


@FACTS.fact("number", "How far a clip of it runs past the end of its file, the furthest.", unit="ms", how="derived")
def past_end_ms(row: Row[Channel]) -> FactValue:
    found = _past(row)
    return FactValue(found[0][0], "derived", found[0][1].subject.where) if found else FactValue(0.0, "derived")


@FACTS.fact("switch", "The end of every file that its clips play is known.", how="derived")
def ends_seen(row: Row[Channel]) -> bool:
    for one in _with_files(row):
        one.need("past_end_ms")
    return True


@FACTS.fact("text", "Which clips run past the end of their files, the furthest first.", how="derived")
def past_end_at(row: Row[Channel]) -> str:
    texts = [
        f"{clip_name(row.context, one.item.clip)} at {clock_text(one.item.starts[0])} by {number_text(ms, 'ms')}"
        for ms, one in _past(row)
    ]
    return few_text(texts, joint=", ")


def _strays(row: Row[Channel]) -> list[Row[ClipRegion]]:
    regions = regions_of(row.context, row.subject.id)
    return [one for one in regions if one.item.clip.plays != "video" and one.holds("stray")]


@FACTS.fact("number", "How many of its clips look forgotten.", how="derived", settings=STRAYS)
def strays(row: Row[Channel]) -> int:
    return len(_strays(row))


@FACTS.fact("text", "Which clips look forgotten, and why.", how="derived", settings=STRAYS)
def strays_are(row: Row[Channel]) -> str:
    texts = [f"{clip_name(row.context, one.item.clip)}: {one.need('stray').note}" for one in _strays(row)]
    return few_text(texts, between="; ")


@FACTS.fact(
    "number",
    "How long after all other clips of the song have ended the last one on it that looks forgotten begins; 0 where "
    "none does.",
    unit="s",
    how="derived",
    settings=STRAYS,
)
def stray_behind_s(row: Row[Channel]) -> float:
    begins = max((max(one.item.starts) for one in _strays(row)), default=None)
    if begins is None:
        return 0.0
    ends = [
        clip.end_s
        for channel in row.context.session.channels
        if not is_utility(row.context, channel) and is_heard(row.context, channel)
        for clip in channel.clips
        if clip.on is not False and not (channel.id == row.subject.id and clip.start_s >= begins)
    ]
    return max(0.0, begins - max(ends, default=begins))


@per_session
def _muted(context: SessionContext, channel: Channel) -> list[Clip]:
    """Audio and note clips that are muted with little of their channel sounding in their place, named out aside.

    Nor of a channel of its name and role with a word more, such as *pickups*, on which the same line was laid again.
    """
    on = [(c.start_s, c.end_s) for c in channel.clips if c.on is True]
    silent = [
        clip
        for clip in channel.clips
        if clip.on is False
        and id(clip) not in named_out_clips(context, channel)
        and 2.0 * within_s(on, clip.start_s, clip.end_s) < clip.end_s - clip.start_s
    ]
    again = _taken_again(context, channel) if silent else []
    return sorted(
        (
            clip
            for clip in silent
            if not any(
                abs(o.start_s - clip.start_s) <= SAME_LINE_S and abs(o.end_s - clip.end_s) <= SAME_LINE_S for o in again
            )
        ),
        key=lambda c: c.start_s,
    )


SAME_LINE_S: Final = 0.6
"""A line that was spoken again begins and ends so near to where it was: a definition."""


def _taken_again(context: SessionContext, channel: Channel) -> list[Clip]:
    """The sounding clips of channels of one role that bear a channel's name and a word more, and are no double."""
    words = context.house.vocabulary
    own = name_words(channel.name, words)
    return [
        clip
        for other in context.session.channels
        if other.id != channel.id
        and own < name_words(other.name, words)
        and context.role(other.id) == context.role(channel.id)
        and not pair_kind(channel.name, other.name, words)
        and is_heard(context, other)
        for clip in other.clips
        if clip.on is not False
    ]


@FACTS.fact("number", "How many of its clips are muted with nothing sounding in their place.", how="derived")
def muted_clips(row: Row[Channel]) -> int:
    return len(_muted(row.context, row.item))


@FACTS.fact("number", "How long the longest of these is.", unit="s", how="derived")
def muted_for_s(row: Row[Channel]) -> float:
    return max((clip.end_s - clip.start_s for clip in _muted(row.context, row.item)), default=0.0)


@FACTS.fact("switch", "Its name says that it plays a solo, or leads.", how="derived")
def soloist(row: Row[Channel]) -> bool:
    words = row.context.house.vocabulary
    return is_soloist(row.item.name, words) or leads(row.item.name, words)


@FACTS.fact(
    "switch",
    "One of these is a solo by its own name, or lies on a section that is called a solo, on a part "
    "that the section names, or that plays little else.",
    how="derived",
)
def muted_is_solo(row: Row[Channel]) -> bool:
    context, channel = row.context, row.item
    muted, words = _muted(context, channel), context.house.vocabulary
    if not muted:
        return False
    if any(says_solo(clip_name(context, clip), words) for clip in muted):
        return True
    solos = [section for section in marked_sections(context) if says_solo(section.name, words)]
    if not solos or context.family(channel.id) in NO_SOLOIST:
        return False
    played = sum(end - start for start, end in sounding_clips(channel))
    song = max(marked_sections(context)[-1].end_s, 1.0)
    seldom = played <= LITTLE_ELSE * song
    return any(
        (seldom or _plays_it(channel, section.name, words))
        and min(clip.end_s, section.end_s) - max(clip.start_s, section.start_s)
        >= MOST_OF_IT * (section.end_s - section.start_s)
        for clip in muted
        for section in solos
    )


def _plays_it(channel: Channel, section: str, words: Vocabulary) -> bool:
    """True where a section of a solo names a channel, by a word or by the part it plays."""
    said, own = solo_of(section, words), solo_of(f"{channel.name} solo", words)
    return said is not None and own is not None and bool(said.parts & own.parts or said.words & own.words)


NO_SOLOIST: Final = frozenset({"vocals", "speech", "sound-effects"})
"""Families of which a part rests in a solo, unless its own name says that it plays one."""

STEP_S: Final = 0.25
"""How finely a fader is read: a bound of work."""


@FACTS.fact(
    "number",
    "How far its fader is ridden up over one of them, against where it stands while the part plays; 0 where it is not.",
    unit="dB",
    how="derived",
)
def lifted_for_muted_db(row: Row[Channel]) -> float:
    import numpy as np

    muted, fader = _muted(row.context, row.item), control_of(row.item, FADER)
    if not muted or not fader.moves or fader.lane is None or fader.lane.scale not in ("dB", "amplitude"):
        return 0.0
    played = [fader.at(np.arange(start, end, STEP_S)) for start, end in sounding_clips(row.item)]
    if not played:
        return 0.0
    lifted = max(median(fader.at(np.arange(clip.start_s, clip.end_s, STEP_S))) for clip in muted)
    return max(0.0, lifted - median(np.concatenate(played)))


@FACTS.fact("text", "Where they are.", how="derived")
def muted_at(row: Row[Channel]) -> str:
    found = [span_text(row.context, c.start_s, c.end_s) for c in _muted(row.context, row.item)]
    return few_text(found, between="; ", none="nowhere")


@FACTS.fact(
    "switch",
    "A like part of its name, another number, side or register of it, plays where one of these is muted.",
    how="derived",
)
def muted_beside_its_like(row: Row[Channel]) -> bool:
    context, channel = row.context, row.item
    muted = _muted(context, channel)
    likes = [other for other in _likes(context, channel) if is_heard(context, other)] if muted else []
    return any(
        within_s(sounding_clips(other), clip.start_s, clip.end_s) >= MOST_OF_IT * (clip.end_s - clip.start_s)
        for clip in muted
        for other in likes
    )


def _likes(context: SessionContext, channel: Channel) -> Iterator[Channel]:
    """The other numbers, sides and registers of a part, and the microphones that hear one performance with it."""
    for other, kind in paired_by_name(context, channel):
        if kind in ("sides", "numbers", "registers", "doubles"):
            yield other
    role = context.role(channel.id)
    for other in context.session.channels if role in ARRAYS else ():
        if other.id != channel.id and context.role(other.id) == role:
            yield other


ARRAYS = frozenset({"main-pair", "overheads", "room", "drum-room"})
"""Roles of microphones that hear one performance together, whatever their names."""

MOST_OF_IT = 0.6
"""A part that plays for this share of a muted clip plays beside it: a definition."""
