"""Takes that play at once: over each other on one channel, or side by side on channels named as takes."""

from __future__ import annotations

from itertools import islice, pairwise
from typing import Final

from mixlint.analysis.activity import overlap_share, share_beside, sounding_clips, span_text
from mixlint.analysis.audibility import is_audible, is_heard
from mixlint.analysis.automation_range import position_of
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext
from mixlint.analysis.media_use import audio_clips
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import chosen_beside, family_of, is_take_of, name_words, punched_into, take_of
from mixlint.session import Channel, Clip, is_known

LONGEST_CROSSFADE: Final = Setting(
    "takes.longest_crossfade", 2.0, "s", "Two clips of one channel that sound at once for longer may be layers."
)
LEAST_OVERLAP: Final = Setting(
    "takes.least_overlap", 50.0, "%", "Two clips are layers when they overlap for more than this share of the shorter."
)
LAYERS: Final = (LONGEST_CROSSFADE, LEAST_OVERLAP)
MOST_ANGLE: Final = Setting(
    "takes.most_angle", 10.0, "pan distance", "Takes panned further apart than this are two parts."
)
LEAST_TOGETHER: Final = Setting(
    "takes.least_together", 50.0, "%", "Takes play at once from this share of the shorter one's time on."
)
SIDE_BY_SIDE: Final = (MOST_ANGLE, LEAST_TOGETHER)

RINGING: Final = frozenset({"drums", "percussion", "sound-effects"})
"""Families whose sounds ring over one another on purpose."""


def layers(context: SessionContext, channel: Channel) -> tuple[tuple[float, float], ...]:
    """The stretches in seconds in which two audio clips of a channel lie over each other as layers.

    Hits and effects ring over one another on purpose, and so does a sample over its own repeat.
    """
    role = context.role(channel.id)
    if role is not None and family_of(role) in RINGING:
        return ()
    clips = sorted(audio_clips(channel), key=lambda c: (c.start_s, c.end_s))
    crossfade, share = context.setting(LONGEST_CROSSFADE), context.setting(LEAST_OVERLAP) / 100.0
    found: list[tuple[float, float]] = []
    last: Clip | None = None
    for clip in clips:
        if last is not None and clip.start_s < last.end_s and not _same_sample(last, clip):
            start, end = clip.start_s, min(clip.end_s, last.end_s)
            shorter = min(clip.end_s - clip.start_s, last.end_s - last.start_s)
            if end - start > crossfade and end - start > share * shorter:
                found.append((start, end))
        if last is None or clip.end_s > last.end_s:
            last = clip
    return tuple(found)


def _same_sample(one: Clip, other: Clip) -> bool:
    return one.file is not None and one.file == other.file and one.offset_s == other.offset_s


def sibling_takes(context: SessionContext, channel: Channel) -> tuple[str, ...]:
    """Ids of the earlier channels that hold a take of the same part and play together with this one.

    A channel that bears the part's plain name counts as one of its takes.
    """
    words = context.house.vocabulary
    part = take_of(channel.name, words)
    place = position_of(context, channel)
    if part is None or not is_known(place) or not sounding_clips(channel):
        return ()
    most_angle, least_together = context.setting(MOST_ANGLE), context.setting(LEAST_TOGETHER) / 100.0
    found = []
    for other in islice(context.session.channels, context.order[channel.id]):
        if not is_take_of(other.name, part, words) or not is_source(context, other) or not is_audible(context, other):
            continue
        there = position_of(context, other)
        if not is_known(there) or abs(there - place) > most_angle:
            continue
        if overlap_share(context, channel.id, other.id) >= least_together:
            found.append(other.id)
    return tuple(found)


def chosen_channels(context: SessionContext, channel: Channel) -> tuple[Channel, ...]:
    """The parts that a channel is an alternate of, by its name."""
    words = context.house.vocabulary
    part = chosen_beside(channel.name, words)
    return tuple(
        other
        for other in (context.session.channels if part is not None else ())
        if other.id != channel.id and name_words(other.name, words) == part and is_source(context, other)
    )


def chosen_heard(context: SessionContext, channel: Channel) -> tuple[Channel, ...]:
    """Those of them that are heard while the alternate is."""
    if not is_source(context, channel) or not is_heard(context, channel):
        return ()
    least = context.setting(LEAST_TOGETHER) / 100.0
    return tuple(
        other
        for other in chosen_channels(context, channel)
        if is_heard(context, other) and share_beside(context, channel.id, other.id) >= least
    )


LEAST_OVER: Final = Setting(
    "takes.least_over", 0.5, "s", "A line that was taken again may run over the first for so long.", lowest=0.0
)


def taken_over(context: SessionContext, channel: Channel) -> tuple[Channel, float, float] | None:
    """The voice whose lines were taken again here and that is heard under one of them, and from when to when."""
    words = context.house.vocabulary
    part = punched_into(channel.name, words)
    if part is None or context.family(channel.id) not in ("vocals", "speech") or not is_heard(context, channel):
        return None
    for other in context.session.channels:
        if other.id == channel.id or not is_heard(context, other):
            continue
        if name_words(other.name, words) != part and not _holed_for(context, channel, other, part):
            continue
        for start, end in sounding_clips(channel):
            for first, last in sounding_clips(other):
                since, until = max(start, first), min(end, last)
                if until - since >= context.setting(LEAST_OVER):
                    return other, since, until
    return None


def _holed_for(context: SessionContext, channel: Channel, other: Channel, part: frozenset[str]) -> bool:
    """True where a voice whose name says more than the part stops for one of some lines, at the moment it begins.

    It stands in the same place on the same bus; where no hole was ever cut for a line, both may be meant to be heard.
    """
    if not part < name_words(other.name, context.house.vocabulary) or other.output != channel.output:
        return False
    if context.family(other.id) != context.family(channel.id):
        return False
    places = position_of(context, channel), position_of(context, other)
    if not all(map(is_known, places)) or places[0] != places[1]:
        return False
    first = sounding_clips(other)
    return any(
        any(abs(last - start) <= HOLE_S for _, last in first)
        and not any(a < end and b > start + HOLE_S for a, b in first)
        for start, end in sounding_clips(channel)
    )


HOLE_S: Final = 0.1
"""A hole that is cut for a line begins no further from it: a crossfade has a length. No setting."""


LEAST_LINES: Final = Setting(
    "takes.least_lines", 4.0, "", "So many clips that end before the next show that a voice is laid line by line.",
    lowest=2.0,
)  # fmt: skip
BUTTED_S: Final = 0.05
"""Clips that lie over each other by no more than this are butted, or crossfaded for the click: a definition."""
OVER_SETTINGS: Final = (LEAST_OVER, LEAST_LINES)


def over_the_next(context: SessionContext, channel: Channel) -> tuple[float, float] | None:
    """Where the one clip of a voice begins before the last has ended, from when to when; None where none does.

    A fade as long as both lie over each other is a crossfade, and drawn.
    """
    if context.family(channel.id) not in ("vocals", "speech"):
        return None
    clips = sorted(audio_clips(channel), key=lambda c: (c.start_s, c.end_s))
    over: list[tuple[float, float]] = []
    apart = 0
    for before, after in pairwise(clips):
        start, end = after.start_s, min(before.end_s, after.end_s)
        if end - start <= BUTTED_S:
            apart += 1
            continue
        fades = [abs(fade) for fade in (before.fade_out_s, after.fade_in_s) if is_known(fade)]
        if end - start >= context.setting(LEAST_OVER) and max(fades, default=0.0) < 0.5 * (end - start):
            over.append((start, end))
    return over[0] if len(over) == 1 and apart >= context.setting(LEAST_LINES) else None


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "number",
    "For how long two of its audio clips lie over each other, crossfades aside.",
    unit="s",
    how="derived",
    settings=LAYERS,
)
def layered_s(row: Row[Channel]) -> FactValue:
    found = layers(row.context, row.item)
    where = span_text(row.context, *found[0]) if found else ""
    return FactValue(sum(end - start for start, end in found), "derived", where)


@FACTS.fact("text", "Where that begins.", how="derived", settings=LAYERS)
def layered_at(row: Row[Channel]) -> str:
    return row.need("layered_s").where or "nowhere"


@FACTS.fact(
    "list",
    "Earlier channels with a take of the same part, panned alike, that play together with it.",
    how="derived",
    settings=SIDE_BY_SIDE,
)
def other_takes(row: Row[Channel]) -> tuple[str, ...]:
    return tuple(row.context.name(one) for one in sibling_takes(row.context, row.item))


@FACTS.fact("switch", "Its name calls it an alternate of another channel of the session.", how="derived")
def alternate(row: Row[Channel]) -> bool:
    return bool(chosen_channels(row.context, row.item))


@FACTS.fact(
    "list",
    "Channels that it is an alternate of by its name, and that are heard while it is.",
    how="derived",
    settings=(LEAST_TOGETHER,),
)
def alternate_beside(row: Row[Channel]) -> tuple[str, ...]:
    return tuple(row.context.name(one.id) for one in chosen_heard(row.context, row.item))


@FACTS.fact(
    "text",
    "The voice that is heard under a line which was taken again on this channel, or none.",
    how="derived",
    settings=(LEAST_OVER,),
)
def speaks_over(row: Row[Channel]) -> FactValue:
    found = taken_over(row.context, row.item)
    if found is None:
        return FactValue("none", "derived", row.subject.where)
    other, since, until = found
    where = span_text(row.context, since, until)
    return FactValue(row.context.name(other.id), "derived", where, where)


@FACTS.fact(
    "number",
    "For how long one clip of a voice lies over the end of the one before, where all others end before the next "
    "begins; 0 where none does.",
    unit="s",
    how="derived",
    settings=OVER_SETTINGS,
)
def over_the_next_s(row: Row[Channel]) -> FactValue:
    found = over_the_next(row.context, row.item)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    where = span_text(row.context, *found)
    return FactValue(found[1] - found[0], "derived", where, where)
