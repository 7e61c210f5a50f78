"""Solos and breaks that the markers announce, and who plays them by name."""

from __future__ import annotations

from typing import Final, NamedTuple

from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.like_sections import Section, marked_sections
from mixlint.naming import Solo, feature_of, name_words, solo_of
from mixlint.session import Channel


class AnnouncedSolo(NamedTuple):
    """A solo that a marker announces.

    Args:
        section: from its marker to the next.
        players: ids of the channels that it is the solo of, by their names.
        named: those of them that the marker names by a word of their own, where it does: ``Vc`` and not all strings.
    """

    section: Section
    players: frozenset[str]
    named: frozenset[str]


@per_session
def announced_solos(context: SessionContext) -> tuple[AnnouncedSolo, ...]:
    """The solos and breaks that markers announce, each with who plays it, in order of time."""
    words = context.house.vocabulary
    sources = [c for c in context.session.channels if is_source(context, c)]
    found = []
    for section in marked_sections(context):
        said = solo_of(section.name, words) or feature_of(section.name, words)
        if said is None:
            continue
        short = feature_of(section.name, words) or said
        players = [c for c in sources if is_solo_of(context, c, said)]
        players = players or [c for c in sources if _is_short_for(context, c, said)]
        named = [c for c in sources if _is_named(context, c, short)] if players else []
        found.append(AnnouncedSolo(section, frozenset(c.id for c in players), frozenset(c.id for c in named)))
    return tuple(found)


def is_solo_of(context: SessionContext, channel: Channel, said: Solo) -> bool:
    """True where a channel's name shares a word with the marker of a solo, or tells the same part."""
    return bool(said.parts & parts_of(context, channel)) or _shares_word(context, channel, said)


def parts_of(context: SessionContext, channel: Channel) -> frozenset[str]:
    """The concepts that a channel's name speaks of."""
    said = solo_of(f"{channel.name} solo", context.house.vocabulary)
    return said.parts if said else frozenset()


def _shares_word(context: SessionContext, channel: Channel, said: Solo) -> bool:
    own = name_words(channel.name, context.house.vocabulary)
    if said.words & own:
        return True
    return any(_is_inflected(one, other) for one in said.words for other in own)


def _is_inflected(one: str, other: str) -> bool:
    """True for one word in two of its cases: ``akordeonu`` and ``akordeon``, ``skrzypiec`` and ``skrzypce``."""
    short = min(len(one), len(other))
    if short < LEAST_INFLECTED or abs(len(one) - len(other)) > LONGEST_ENDING or one.isdigit():
        return False
    common = next((at for at in range(short) if one[at] != other[at]), short)
    return common >= max(LEAST_INFLECTED, short - LONGEST_ENDING)


def _is_named(context: SessionContext, channel: Channel, said: Solo) -> bool:
    """True where a marker names a channel by a word of its own, or either is short for the other."""
    own = name_words(channel.name, context.house.vocabulary)
    short = any(
        _abbreviates(one, word) for one in own if 1 < len(one) < LONG for word in said.words if len(word) > LONG
    )
    return _shares_word(context, channel, said) or _is_short_for(context, channel, said) or short


LEAST_INFLECTED: Final = 5
"""Shorter words are alike by chance: no setting."""

LONGEST_ENDING: Final = 2
"""Cases differ in no more letters at their end: no setting."""


def _is_short_for(context: SessionContext, channel: Channel, said: Solo) -> bool:
    """True where a word of a marker is short for one of a channel's name: ``tp`` for ``Trompette``."""
    long = [word for word in name_words(channel.name, context.house.vocabulary) if len(word) > LONG]
    return any(_abbreviates(short, word) for short in said.words if len(short) < LONG for word in long)


LONG: Final = 4
"""A shorter word may be short for one that is longer than this: no setting."""


def _abbreviates(short: str, word: str) -> bool:
    letters = iter(word)
    return word.startswith(short[0]) and all(letter in letters for letter in short)
