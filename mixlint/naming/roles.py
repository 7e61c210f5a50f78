"""The role of every channel of a session: names, declarations, folders and inserts as evidence that adds up."""

from __future__ import annotations

from collections.abc import Mapping
from fnmatch import fnmatchcase

from mixlint.naming.context import Surroundings, concepts_of, surroundings, survey, words_of_channels
from mixlint.naming.lexicon import Word, words
from mixlint.naming.parts import read_part
from mixlint.naming.processors import read_processor
from mixlint.naming.reading import ASK_BELOW, Reading, ask, told
from mixlint.naming.strips import read_strip
from mixlint.naming.words import ROLE_FAMILIES
from mixlint.session import Session

_FROM_PLACE = {
    "backing-vocals": "backing-vocals",
    "percussion": "percussion",
    "strings": "strings",
    "winds": "winds",
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
    "voice": "vocal",
    "drums": "drums",
}


def family_of(role: str) -> str | None:
    """The family of like parts a role belongs to, such as ``guitars``; None for a role that is not known."""
    return ROLE_FAMILIES.get(role)


def house_word(name: str, table: Mapping[str, str]) -> tuple[str, str] | None:
    """The first pattern of a house table that fits ``name``, with its word. Case does not count."""
    folded = name.casefold()
    return next(((p, word) for p, word in table.items() if fnmatchcase(folded, p.casefold())), None)


def read_words(name: str, found: tuple[Word, ...], near: Surroundings) -> Reading:
    """The role that the words of a name tell of, given what surrounds it."""
    reading = read_strip(found, near)
    if reading is None:
        reading = read_part(found, near)
    if reading is None or (reading.word is None and not any(w.concepts for w in found)):
        reading = _from_place(near) or reading
    if reading is None:
        texts = [w.text for w in found if w.concepts]
        reading = ask(
            f"'{name[:60]}' tells of no part"
            if not texts
            else f"'{' '.join(texts)}' alone does not tell which part it is"
        )
    if reading.word is not None and reading.confidence < ASK_BELOW:
        return ask(f"only weak evidence for {reading.word}", *reading.grounds)
    return reading


def _from_place(near: Surroundings) -> Reading | None:
    if near.kind in ("return", "group", "master"):
        return None
    for concepts, place in near.places:
        for concept, role in _FROM_PLACE.items():
            if concept in concepts:
                return told(role, 0.55, f"the name tells of no part; it lies under '{place}'")
    return None


def read_roles(
    session: Session, table: Mapping[str, str] = {}, *, processors: Mapping[str, str] = {}
) -> dict[str, Reading]:
    """The role of every channel.

    Args:
        session: the session as read.
        table: the house's own names, glob pattern to role; the first that fits wins over every other evidence.
        processors: the house's own names of processors, which tell what a return is for.

    Returns:
        Channel id to reading. The role is one of :data:`mixlint.naming.words.ROLES`, or None with grounds that say
        why the session does not tell.
    """
    found = words_of_channels(session)
    about = survey(session, found)
    by_id = {c.id: c for c in session.channels}
    readings: dict[str, Reading] = {}
    for channel in session.channels:
        if own := house_word(channel.name, table):
            readings[channel.id] = told(own[1], 1.0, f"the house's table: '{own[0]}'")
            continue
        kinds = (read_processor(i, processors, on=channel.kind).word for i in channel.inserts)
        near = surroundings(channel, about, by_id, tuple(k for k in kinds if k))
        readings[channel.id] = read_words(channel.name, found[channel.id], near)
    _lone_vocal(session, readings)
    return readings


def _lone_vocal(session: Session, readings: dict[str, Reading]) -> None:
    """One voice and no leading voice in the session: it is the leading voice."""
    leads = any(r.word == "lead-vocal" for r in readings.values())
    voices = [c for c in session.channels if readings[c.id].word == "vocal"]
    if leads or len(voices) != 1 or "double" in concepts_of(words(voices[0].name)):
        return
    (voice,) = voices
    readings[voice.id] = told(
        "lead-vocal", 0.7, *readings[voice.id].grounds[:1], "no other channel of the session is a leading voice"
    )
