"""What speaks for a reading and what against it: words, places, files, inserts, kind of strip, the rest of the band.

A reading rests on some words of a name, or on what surrounds it. Each kind of evidence is gathered by itself, so that
a rule can ask for two that agree, a reader can be shown all of them, and a word that open data shows to mean several
things (``rules/words/precision.toml``) tells nothing alone.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from mixlint.naming.families import family_of
from mixlint.naming.reading import Evidence, Reading, ambiguous
from mixlint.naming.splitting import words
from mixlint.naming.surroundings import Surroundings, concepts_of
from mixlint.naming.vocabulary import SHIPPED, Vocabulary
from mixlint.naming.word_lookup import Word

Reader = Callable[[tuple[Word, ...]], Reading]
"""Reads some words in the surroundings of one channel."""

_FAMILY_OF_CONCEPT: Final = {
    "guitarra": "guitars",
    "loop": "percussion",
    "programmed": "drums",
    "perkusja": "percussion",
    "synth-part": "synths",
    "acoustic": "guitars",
    "electric": "guitars",
    "str": "strings",
    "reverb": "returns",
    "delay": "returns",
    "modulation": "returns",
    "return": "returns",
    "fx": "returns",
    "bus": "buses",
    "parallel": "buses",
    "master": "buses",
    "board-mix": "utility",
    "print": "utility",
}
"""Concepts that are no role themselves, each with the family it speaks for."""

_TIME_EFFECTS: Final = frozenset({"reverb", "delay"})
"""Effects that a return is there for."""

_OF_STRIP: Final = {"return": "returns", "group": "buses", "master": "buses", "vca": "utility"}
_DESK: Final = frozenset({"returns", "buses"})
_FED: Final = frozenset({"returns", "buses", "utility"})
"""The families of strips that others are led to."""


def families_of(concepts: frozenset[str]) -> frozenset[str]:
    """The families that some concepts speak for."""
    told = {family_of(concept) or _FAMILY_OF_CONCEPT.get(concept) for concept in concepts}
    return frozenset(family for family in told if family is not None)


def weighed(
    reading: Reading,
    found: tuple[Word, ...],
    read: Reader,
    near: Surroundings,
    vocabulary: Vocabulary,
) -> Reading:
    """A reading with what speaks for and against it; a question where it rests on a word that tells nothing alone.

    Args:
        reading: what the name and its surroundings were read as.
        found: the words of the name.
        read: reads other words in the same surroundings.
        near: what surrounds the name.
        vocabulary: the words in force.
    """
    evidence = _gathered(found, near, vocabulary)
    if reading.word is None:
        return reading._replace(evidence=evidence)
    without = _without_each(found, read)
    family = vocabulary.family_of(reading.word) or reading.word
    deciding = tuple(word.text for word, other in without if other.word != reading.word)
    second = next((r.word for _, r in without if r.word and vocabulary.family_of(r.word) != family), None)
    second = second or next((min(one.families) for one in evidence if family not in one.families), None)
    told = reading._replace(evidence=evidence, second=second, deciding=deciding)
    return _asked(told, vocabulary) or _outweighed(told, near, vocabulary) or told


def agreeing(reading: Reading, vocabulary: Vocabulary = SHIPPED) -> tuple[Evidence, ...]:
    """The evidence that speaks for the family of what was read."""
    family = vocabulary.family_of(reading.word) or reading.word
    agreed = tuple(one for one in reading.evidence if family in one.families)
    if vocabulary.shipped_role(reading.word) == "guide" and agreed:
        # A guide stands in for a part: the part's word beside it says which sense of the word is meant.
        agreed += tuple(one for one in reading.evidence if one.kind == "word" and one not in agreed)
    return agreed


def stands_alone(reading: Reading, text: str, vocabulary: Vocabulary) -> bool:
    """True where nothing but one of the words that a reading rests on speaks for its family."""
    return all(one.kind == "word" and one.text == _in_the_name(text) for one in agreeing(reading, vocabulary))


def _in_the_name(text: str) -> str:
    return f"'{text}' in the name"


def things_told(found: tuple[Evidence, ...]) -> int:
    """How many things some evidence tells: a phrase of several words says as often what it means."""
    spelt = sum(one.words for one in found if one.kind == "word")
    return spelt + len({one.text for one in found if one.kind != "word"})


def _without_each(found: tuple[Word, ...], read: Reader) -> list[tuple[Word, Reading]]:
    """What would be read without each of the words that tell something."""
    telling = [at for at, word in enumerate(found) if word.concepts]
    if len(telling) < 2:
        return [(found[at], ambiguous("nothing else is told")) for at in telling]
    return [(found[at], read(found[:at] + found[at + 1 :])) for at in telling]


def _gathered(found: tuple[Word, ...], near: Surroundings, vocabulary: Vocabulary) -> tuple[Evidence, ...]:
    words_told = [
        Evidence("word", families, _in_the_name(word.text), words=len(word.text.split()))
        for word in found
        if (families := _families_of_word(word, vocabulary))
    ]
    places = [
        Evidence("place", families, f"it lies under '{place}'")
        for concepts, place in near.places
        if (families := families_of(concepts) - _DESK - {"utility"})
    ]
    files = [
        Evidence("file", families, f"its file is called '{file}'")
        for file in near.files
        if (families := families_of(concepts_of(words(file, vocabulary))))
    ]
    inserts = [
        Evidence("insert", frozenset({"returns"}), f"a {effect} sits in it")
        for effect in near.effects
        if effect in _TIME_EFFECTS and not near.recorded
    ]
    about_drums = any("drums" in one.families for one in (*words_told, *places)) or any(
        not _ROOMS.isdisjoint(word.concepts) for word in found
    )
    return (*words_told, *places, *files, *inserts, *_of_the_desk(near, about_drums=about_drums))


def _families_of_word(word: Word, vocabulary: Vocabulary) -> frozenset[str]:
    """The families that a word speaks for; one that can mean several parts speaks for all of theirs."""
    if word.concepts == ("ambiguous",):
        roles = vocabulary.channels.roles[word.text]
        return frozenset(family for role in roles if (family := vocabulary.family_of(role)))
    return families_of(frozenset(word.concepts))


_ROOMS: Final = frozenset({"room", "ambience", "t"})
"""Concepts that are said of a drum kit's microphones where there is a kit."""


def _of_the_desk(near: Surroundings, *, about_drums: bool) -> tuple[Evidence, ...]:
    """What the strip, the rest of the band and the way out say."""
    out: list[Evidence] = []
    if near.kind in _OF_STRIP:
        out.append(Evidence("strip", frozenset({_OF_STRIP[near.kind]}), f"it is a {near.kind}"))
    if near.drum_session and about_drums:
        out.append(
            Evidence("beside", frozenset({"drums"}), "other channels are kick, snare, hi-hat, toms or overheads")
        )
    if near.choir:
        out.append(Evidence("beside", frozenset({"vocals"}), near.choir))
    if near.fed and near.kind != "track":
        out.append(Evidence("fed", _FED, "other channels lead to it"))
    if near.leads_elsewhere:
        out.append(Evidence("output", frozenset({"utility"}), near.leads_elsewhere))
    if near.keys_others:
        out.append(Evidence("key", frozenset({"utility"}), "a processor of another channel lists it as its key"))
    return tuple(out)


def _asked(told: Reading, vocabulary: Vocabulary) -> Reading | None:
    """The question that takes the place of a reading that rests on too little; None where it stands."""
    for text in told.deciding:
        if stands_alone(told, text, vocabulary) and (count := vocabulary.precision.get(text)):
            beside = f" or {told.second}" if told.second else ""
            why = f"'{text}' alone does not tell {told.word}{beside}: it did in {count} names of open data"
            return _question(told, why)
    return None


def _question(told: Reading, why: str) -> Reading:
    """A question in the place of a reading, with what spoke for it."""
    return ambiguous(why)._replace(evidence=told.evidence, second=told.second, deciding=told.deciding)


LEAST_TELLING: Final = 4
"""From so many letters on a word is no abbreviation: a definition."""

MANY_UNREAD: Final = 2
"""From so many words that are not known on, most of a name is not known: a definition."""


def _outweighed(told: Reading, near: Surroundings, vocabulary: Vocabulary) -> Reading | None:
    """The question that takes the place of a reading where most of the name is not known; None where it stands.

    Measured on the lists at hand: of 48 names with two unknown words or more, for which an abbreviation or a place
    alone spoke, 7 were read wrong; of 50 with a whole word for the part, 2.
    """
    if any(len(text) >= LEAST_TELLING for text in told.deciding):
        return None
    agreed = agreeing(told, vocabulary)
    if len(near.unread) < MANY_UNREAD or things_told(agreed) > 1:
        return None
    if not vocabulary.own_words.isdisjoint(told.deciding):
        return None
    unknown = " and ".join(f"'{text}'" for text in near.unread[:3])
    only = f"only {agreed[0].text} speaks for {told.word}" if agreed else f"little speaks for {told.word}"
    return _question(told, f"{unknown} are not known, and {only}")
