"""The role of every channel of a session: names, declarations, folders and inserts as evidence that adds up."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache, partial
from typing import Final, NamedTuple

from mixlint.naming.evidence import weighed
from mixlint.naming.families import FAMILIES, family_of
from mixlint.naming.fold import as_read, asides, fits_pattern, without_asides
from mixlint.naming.marks import is_breath
from mixlint.naming.own_role_reading import own_role, role_of_place
from mixlint.naming.part_reading import read_part
from mixlint.naming.processor_reading import read_processor
from mixlint.naming.reading import Evidence, Reading, ambiguous, resolved
from mixlint.naming.setting_reading import says
from mixlint.naming.splitting import pieces, words
from mixlint.naming.strip_reading import read_strip
from mixlint.naming.surroundings import Surroundings, concepts_of, surroundings, survey, words_of_channels
from mixlint.naming.vocabulary import SHIPPED, Vocabulary
from mixlint.naming.word_lookup import Word
from mixlint.session import Session, seen_inserts

_FROM_PLACE = {
    "reference": "reference",
    "choir": "choir",
    "backing-vocals": "backing-vocals",
    "percussion": "percussion",
    "strings": "strings",
    "winds": "winds",
    "brass": "brass",
    "speech": "speech",
    "bass": "bass",
    "synth": "synth",
    "keys": "keys",
    "kick": "kick",
    "snare": "snare",
    "toms": "toms",
    "overheads": "overheads",
    "lead-vocal": "lead-vocal",
    "acoustic-guitar": "acoustic-guitar",
    "electric-guitar": "electric-guitar",
    "guitar": "guitar",
    "plucked": "plucked",
    "vocal": "vocal",
    "drums": "drums",
    "sound-effects": "sound-effects",
    "str": "strings",
}

_TELLS_NO_PART: Final = frozenset({"mic", "section"})
"""Concepts of words that leave open what is played: ``Cb spot`` under strings is a string."""


def _house_word(name: str, table: Mapping[str, str]) -> tuple[str, str] | None:
    """The first pattern of a house's table that fits ``name``, with its word."""
    return next(((pattern, word) for pattern, word in table.items() if fits_pattern(name, pattern)), None)


def _read_channel(name: str, found: tuple[Word, ...], near: Surroundings, vocabulary: Vocabulary) -> Reading:
    """The role that the words of a name tell of, given what surrounds it; one of the house's own before mixlint's."""
    reading = _read_shipped(name, found, near, vocabulary)
    return own_role(reading, found, vocabulary) if vocabulary.own_roles else reading


def _read_shipped(name: str, found: tuple[Word, ...], near: Surroundings, vocabulary: Vocabulary) -> Reading:
    reading = read_strip(found, near, vocabulary)
    if reading is None and near.choir:
        return resolved("choir", near.choir)
    if reading is None:
        reading = read_part(found, near, vocabulary)
    if reading is None or (reading.word is None and concepts_of(found) <= _TELLS_NO_PART):
        reading = _from_place(near, vocabulary) or reading
    if reading is None:
        texts = [w.text for w in found if w.concepts]
        reading = ambiguous(
            f"'{name[:60]}' tells of no part"
            if not texts
            else f"'{' '.join(texts)}' alone does not tell which part it is"
        )
    return reading


def _from_place(near: Surroundings, vocabulary: Vocabulary) -> Reading | None:
    if near.kind in ("return", "group", "master"):
        return None
    for concepts, place in near.places:
        for concept, role in _FROM_PLACE.items():
            if concept in concepts:
                if role == "vocal" and (spoken := near.placed("speech")):
                    # The voices of a play lie in a folder of voices, and what is spoken goes out to a bus of its own.
                    return resolved("speech", f"the name tells of no part; it lies under '{spoken}'")
                role = role_of_place(role, concepts, vocabulary)
                return resolved(role, f"the name tells of no part; it lies under '{place}'")
    return None


def read_roles(
    session: Session,
    table: Mapping[str, str] = {},
    *,
    processors: Mapping[str, str] = {},
    vocabulary: Vocabulary = SHIPPED,
) -> dict[str, Reading]:
    """The role of every channel.

    Args:
        session: the session as read.
        table: the house's own names, glob pattern to role; the first that fits wins over every other evidence.
        processors: the house's own names of processors, which tell what a return is for.
        vocabulary: the words in force.

    Returns:
        Channel id to reading. The role is one of :data:`mixlint.naming.families.ROLES` or of the house's own, or None
        with grounds that say why the session does not tell.
    """
    found = words_of_channels(session, vocabulary)
    about = survey(session, found, vocabulary)
    by_id = {c.id: c for c in session.channels}
    readings: dict[str, Reading] = {}
    for channel in session.channels:
        if own := _house_word(channel.name, table):
            said = f"the house's table: '{own[0]}'"
            families = frozenset({vocabulary.family_of(own[1]) or own[1]})
            readings[channel.id] = resolved(own[1], said)._replace(evidence=(Evidence("house", families, said),))
            continue
        if session.source.importer == "stems" and channel.declared_role in _HOLDS_A_MIX:
            role, why = _HOLDS_A_MIX[channel.declared_role]
            readings[channel.id] = resolved(role, why)
            continue
        kinds = (
            read_processor(i, processors, on=channel.kind, vocabulary=vocabulary).word for i in seen_inserts(channel)
        )
        near = surroundings(channel, about, by_id, tuple(k for k in kinds if k), vocabulary)
        reading = _read_channel(channel.name, found[channel.id], near, vocabulary)
        reading = _before_the_aside(channel.name, reading, near, vocabulary) or reading
        read = partial(_read_channel, channel.name, near=near, vocabulary=vocabulary)
        readings[channel.id] = weighed(reading, found[channel.id], read, near, vocabulary)
    _leading_voices(session, readings, vocabulary)
    return readings


_HOLDS_A_MIX: Final = {
    "mix": ("mix-print", "its file is a print of the mix, by its name among the stems"),
    "version": ("mix-print", "its file is another version of the mix, by its name among the stems"),
    "reference": ("reference", "its file is a mix to compare with, by its name among the stems"),
    "delivery": ("mix-print", "its file describes its own legs (ADM): it is a delivery, and no stem"),
}
"""What the reader of a folder of stems declares of a file that holds a mix → its role, and why."""


def _before_the_aside(name: str, whole: Reading, near: Surroundings, vocabulary: Vocabulary) -> Reading | None:
    """What a name tells of without its words in brackets, where those speak of another part: ``Harm (El gtr)``."""
    bare = without_asides(name)
    if not bare or bare == name.strip() or (whole.word is not None and vocabulary.family_of(whole.word) not in _MUSIC):
        return None
    reading = _read_channel(bare, words(bare, vocabulary), near, vocabulary)
    if reading.word is None or vocabulary.family_of(reading.word) == vocabulary.family_of(whole.word):
        return None
    apart = (as_read(bare), as_read(asides(name)))
    if any(w.concepts and not any(w.text in part for part in apart) for w in words(name, vocabulary)):
        return None  # one phrase across the bracket: "Lead 1 (square)"
    return reading


_MUSIC: Final = frozenset(FAMILIES) - {"returns", "buses", "utility", "room-microphones"}
"""The families that a bus can serve: a room in the name of a bus is its reverb."""


_ON_A_BUS: Final = {"acoustic": "guitars", "electric": "guitars", "str": "strings", "string": "strings"}
"""Concepts that speak of a family where a name speaks of no other: ``Acoustics``, ``Str Stem``."""


@lru_cache(maxsize=8192)
def families_named(name: str, vocabulary: Vocabulary = SHIPPED) -> frozenset[str]:
    """The families of parts that a name speaks of, whatever strip bears it: vocals and guitars of ``Vox + Gtr Verb``.

    Words that can mean several parts speak of none, and no more do those for effects, buses and utilities.
    """
    concepts = concepts_of(words(name, vocabulary))
    families = {family_of("guitar" if concept == "guitarra" else concept) for concept in concepts}
    told = frozenset(family for family in families if family in _MUSIC)
    if told:
        return told
    return frozenset(family for concept, family in _ON_A_BUS.items() if concept in concepts)


_DRUMS: Final = frozenset({"kick", "snare", "toms", "hi-hat"})


@lru_cache(maxsize=8192)
def drums_named(name: str, vocabulary: Vocabulary = SHIPPED) -> frozenset[str]:
    """The drums that a name speaks of, whatever its channel is: the kick of ``Kick Trig``."""
    return concepts_of(words(name, vocabulary)) & _DRUMS


@lru_cache(maxsize=8192)
def is_soloist(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says that its channel plays a solo or leads: ``Ld Gtr Solo``."""
    return not concepts_of(words(name, vocabulary)).isdisjoint({"solo", "lead", "lead-vocal"})


def says_solo(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True for a name that calls something a solo, whoever plays it: ``SOLO``, ``led_od1_SOLO``."""
    return "solo" in concepts_of(words(name, vocabulary))


def leads(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True for a name that says of an instrument that it leads, in one phrase with it or not: ``Ld Gtr``."""
    single = frozenset().union(*(concepts_of(words(one, vocabulary)) for one in as_read(name).split()))
    return not single.isdisjoint({"lead", "solo"})


class Solo(NamedTuple):
    """Whose solo a name tells of.

    Args:
        parts: the concepts it speaks of, such as ``brass``.
        words: its other words and those, folded.
    """

    parts: frozenset[str]
    words: frozenset[str]


_NO_PART: Final = frozenset({"solo", "lead", "section", "interval", "ambiguous", "verse", "double", "mic"})


@lru_cache(maxsize=8192)
def solo_of(name: str, vocabulary: Vocabulary = SHIPPED) -> Solo | None:
    """Whose solo a name announces, as that of a marker: ``Tpt solo``; None where it announces none, or nobody's."""
    found = words(name, vocabulary)
    if "solo" not in concepts_of(found):
        return None
    return _told_of((word for word in found if "solo" not in word.concepts), least_letters=3)


def _told_of(rest: Iterable[Word], least_letters: int, idle: frozenset[str] = frozenset()) -> Solo | None:
    """Whom the words of a name beside that for a solo tell of; shorter and idle ones tell of nobody."""
    told = [word for word in rest if not word.text.isdigit()]
    parts = frozenset(concept for word in told for concept in word.concepts) - _NO_PART
    said = frozenset(text for word in told for text in word.text.split() if len(text) >= least_letters) - idle
    return Solo(parts, said) if parts or said else None


@lru_cache(maxsize=8192)
def feature_of(name: str, vocabulary: Vocabulary = SHIPPED) -> Solo | None:
    """Whose solo or break a name announces, abbreviations of two letters included: ``Fdl break``, ``Solo tp``."""
    found = words(name, vocabulary)
    if any(says(word.text, "denied", vocabulary) for word in found):
        return None
    rest = [w for w in found if "solo" not in w.concepts and not says(w.text, "feature", vocabulary)]
    if len(rest) == len(found):
        return None
    return _told_of(rest, least_letters=2, idle=_SAYS_NOTHING)


_OF_EFFECTS: Final = frozenset(
    {"reverb", "rev", "delay", "del", "modulation", "mod", "fx", "time", "return", "retorno", "room", "ambience", "aux",
     "bus", "chorus"}
)  # fmt: skip


_SAYS_NOTHING: Final = frozenset({"for", "of", "the", "on", "to", "new", "old", "fur", "de", "mic", "di", "send"})
"""Words of a return's name that tell of no part."""


@lru_cache(maxsize=8192)
def owner_words(name: str, vocabulary: Vocabulary = SHIPPED, *, of_return: bool = True) -> frozenset[str]:
    """What a name says of the part, word by word: the first concept of a word that has one, else the word as it is.

    Args:
        name: the name of a return, or of a part.
        vocabulary: the words in force.
        of_return: leave out the words that are said of effects.
    """
    found = set()
    for word in words(name, vocabulary):
        if of_return and _OF_EFFECTS.intersection(word.concepts):
            continue
        if word.text not in _SAYS_NOTHING and "mic" not in word.concepts:
            found.add(word.concepts[0] if word.concepts else word.text)
    return frozenset(found)


@lru_cache(maxsize=8192)
def plays_solo(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says that its channel plays or sings a solo: ``Solo Soprano``."""
    return "solo" in concepts_of(words(name, vocabulary))


@lru_cache(maxsize=8192)
def is_soloist_alone(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True for a channel of whoever plays a solo, without a word for an instrument: ``Solo Mic``."""
    concepts = concepts_of(words(name, vocabulary))
    return "solo" in concepts and concepts <= _NO_PART


LEADERS: Final = 2
"""Up to so many voices lead a song in turn where others sing behind them: common practice, no source."""


def _leading_voices(session: Session, readings: dict[str, Reading], vocabulary: Vocabulary) -> None:
    """Voices that are named outright lead where no other does: a lone one, or one or two with others behind them."""
    roles = {vocabulary.shipped_role(reading.word) for reading in readings.values()}
    if "lead-vocal" in roles:
        return
    voices = [c for c in session.channels if readings[c.id].word == "vocal"]
    if any("in the name" not in readings[voice.id].grounds[0] for voice in voices):
        return  # told by a register or a place, which leads nobody
    if any(is_breath(c.name, vocabulary) or "double" in concepts_of(words(c.name, vocabulary)) for c in voices):
        return
    if len(voices) == 1:
        why = "no other channel of the session is a leading voice"
    else:
        found = {voice.id: pieces(voice.name, vocabulary) for voice in voices}
        numbered = any(piece.kind == "number" for one in found.values() for piece in one)
        behind = roles & {"backing-vocals", "vocal-double", "choir"}
        if numbered or not behind or len(set(found.values())) > LEADERS:
            return
        why = "others of the session sing behind it"
    for voice in voices:
        grounds = (*readings[voice.id].grounds[:1], why)
        readings[voice.id] = readings[voice.id]._replace(word="lead-vocal", grounds=grounds)
