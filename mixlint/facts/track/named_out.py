"""Clips that sound though their own names say that they are not for the mix: talk, a cough, a false start.

Whoever edits names what stays in the session and out of the mix: chatter between two takes, what the bar shouted, a
line that was not used. Such a clip is switched off. Words that a part of the song may bear too, such as *talk* or
*noise*, count where a name says nothing else beside what all clips of its channel are called.
"""

from __future__ import annotations

from collections import Counter
from typing import Final

from mixlint.analysis.activity import span_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import is_active_clip
from mixlint.facts.clip.clip_regions import clip_name
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import is_alternate, is_aside, name_words, taken_out
from mixlint.naming.comment_reading import cut_out_of
from mixlint.naming.fold import as_read
from mixlint.session import Channel, Clip

PERFORMED: Final = frozenset({"speech", "sound-effects"})
"""Families in which a cough or a talk may be what is played."""

LEAST_OTHERS: Final = 2
"""So many other clips show what the clips of a channel are called: a definition."""

ON_SEVERAL: Final = 3
"""What so many channels hold at one time was left in on purpose, a count among them: a definition."""

LAID_ASIDE: Final = "OUT"
"""What :func:`~mixlint.naming.taken_out` gives for a clip that was laid aside by hand."""

LEAST_LETTERS: Final = 4
"""A shorter word of a clip is none that a comment calls it by: wording."""

SHORT_S: Final = 15.0
"""A longer clip is not what a comment means by the time of a noise, in seconds: a definition."""

MOST_OF_THEM: Final = 0.5
"""A word that this share of a channel's clips bears is what they are called: a definition."""


def _words(name: str, context: SessionContext) -> list[str]:
    """The words of a clip's name in order, without numbers and letters that tell takes and lines apart."""
    takes = context.house.vocabulary.marks.get("take", frozenset())
    return [word for word in as_read(name).split() if len(word) > 1 and not word[-1].isdigit() and word not in takes]


@per_session
def _own_words(context: SessionContext, channel: Channel) -> list[tuple[Clip, str]]:
    """The clips of a channel, each with the words of its name that most others have not."""
    named = [(clip, _words(clip_name(context, clip), context)) for clip in channel.clips]
    counted = Counter(word for _, words in named for word in set(words))
    usual = {word for word, times in counted.items() if times >= max(2.0, MOST_OF_THEM * len(named))}
    own = name_words(channel.name, context.house.vocabulary)
    return [(clip, " ".join(word for word in words if word not in usual | own)) for clip, words in named]


@per_session
def _noted_cut(context: SessionContext, channel: Channel) -> tuple[Clip, ...]:
    """The clips that the channel's comment calls cut out, by a word of their names or by their time."""
    said, times = cut_out_of(channel.comment, context.house.vocabulary) if channel.clips else (frozenset(), ())
    if not said and not times:
        return ()
    found = []
    for clip, own in _own_words(context, channel):
        named = any(len(word) >= LEAST_LETTERS and word in said for word in own.split())
        at_its_time = any(clip.start_s <= time <= clip.end_s for time in times)
        if named or (at_its_time and clip.end_s - clip.start_s <= SHORT_S):
            found.append(clip)
    return tuple(found)


def _says_out(context: SessionContext, clip: Clip, own: str) -> str:
    """The word by which a clip's name keeps it out, among its own ones or behind a comma; empty where none does."""
    words = context.house.vocabulary
    said = taken_out(own, words)
    if not said and taken_out(clip_name(context, clip), words) == LAID_ASIDE:
        return LAID_ASIDE
    return said


@per_session
def named_out_clips(context: SessionContext, channel: Channel) -> frozenset[int]:
    """The clips, by identity, that their own names or the channel's comment keep out of the mix, on or off."""
    words = context.house.vocabulary
    noted = {id(clip) for clip in _noted_cut(context, channel)}
    named = {
        id(clip)
        for clip, own in _own_words(context, channel)
        if _says_out(context, clip, own) or (own and is_aside(own, words))
    }
    return frozenset(noted | named)


@per_session
def _aside(context: SessionContext) -> dict[str, list[tuple[Clip, str]]]:
    """Channel id → its clips that are on though their names say otherwise, each with the word that says so."""
    words = context.house.vocabulary
    spare_on = spare_off = 0
    found: dict[str, list[tuple[Clip, str]]] = {}
    spares: list[tuple[str, Clip]] = []
    for channel in context.session.channels:
        noted = _noted_cut(context, channel)
        performed = context.family(channel.id) in PERFORMED or taken_out(channel.name, words)
        for clip, own in _own_words(context, channel):
            on = is_active_clip(channel, clip)
            if is_alternate(own, words):
                spare_on, spare_off = spare_on + on, spare_off + (not on)
                spares += [(channel.id, clip)] if on else []
            if on and clip in noted:
                found.setdefault(channel.id, []).append((clip, "noted as cut"))
            if not on or performed or clip in noted:
                continue
            why = _says_out(context, clip, own)
            if not why and own and len(channel.clips) > LEAST_OTHERS and is_aside(own, words):
                why = own
            if why:
                found.setdefault(channel.id, []).append((clip, why))
    if spare_on == 1 and spare_off >= LEAST_OTHERS:
        for one, clip in spares:
            found.setdefault(one, []).append((clip, "alternate"))
    return {one: left for one, clips in found.items() if (left := _left_alone(found, clips))}


def _left_alone(found: dict[str, list[tuple[Clip, str]]], clips: list[tuple[Clip, str]]) -> list[tuple[Clip, str]]:
    """Of some clips those that lie on few channels at one time."""
    alone = []
    for clip, why in clips:
        beside = sum(
            any(other.start_s < clip.end_s and other.end_s > clip.start_s and word == why for other, word in others)
            for others in found.values()
        )
        if beside < ON_SEVERAL:
            alone.append((clip, why))
    return alone


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "list",
    "Its clips that sound though their own names say that they are not for the mix: talk, noise, a false start, an "
    "alternate where all others are off; or its comment, that they are cut out.",
    how="derived",
)
def named_out(row: Row[Channel]) -> FactValue | tuple[str, ...]:
    found = _aside(row.context).get(row.subject.id, [])
    return tuple(
        f"{clip_name(row.context, clip)} ({span_text(row.context, clip.start_s, clip.end_s)})" for clip, _ in found
    )


@FACTS.fact("number", "Its clips that sound and that neither name nor comment keeps out of the mix.", how="derived")
def clips_for_the_mix(row: Row[Channel]) -> float:
    aside = {id(clip) for clip, _ in _aside(row.context).get(row.subject.id, [])}
    return float(sum(is_active_clip(row.item, clip) for clip in row.item.clips if id(clip) not in aside))
