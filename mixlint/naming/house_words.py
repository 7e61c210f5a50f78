"""A house's own words: its word files checked against those that come with mixlint."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence, Set
from functools import lru_cache
from typing import Final

from mixlint.errors import Fault, near
from mixlint.naming.families import ROLES
from mixlint.naming.fold import as_read
from mixlint.naming.house_roles import check_roles, house_roles
from mixlint.naming.vocabulary import LONGEST_PHRASE, LONGEST_PROCESSOR_PHRASE, SHIPPED, Vocabulary
from mixlint.naming.word_files import ROLE_WORDS, SECTIONS, WordFile, listed, rows, shipped_file
from mixlint.naming.word_index import CHANNEL_SECTIONS, FILES, gathered, languages_in, looked_up_as, which_of
from mixlint.session.processor import PROCESSOR_KINDS

_LONGEST: Final = dict.fromkeys(CHANNEL_SECTIONS, LONGEST_PHRASE) | {
    "processor": LONGEST_PROCESSOR_PHRASE,
    "mark": LONGEST_PHRASE,
}
"""Section to how many words of a phrase are looked up together; one in every other section."""

_PAIR_WORDS: Final = ("microphones", "opposite-microphones", "numbers")
_CODE: Final = re.compile("[a-z]{2,3}")
_SUBJECTS: Final = ("part", "processor", "category")


def house_vocabulary(layers: Sequence[tuple[WordFile, ...]], faults: list[Fault]) -> Vocabulary:
    """The words in force in a house: its own over those that come with mixlint.

    Args:
        layers: its word files, one tuple for each of its standards, the nearest first. What a nearer one says of a word
            holds in place of what a farther one or mixlint says.
        faults: where faults go.

    Returns:
        The vocabulary; that of mixlint alone when the house has no words of its own, or some with faults.
    """
    if not any(layers):
        return SHIPPED
    codes = languages_in([shipped_file("languages"), *(file for layer in layers for file in layer)])
    count = len(faults)
    roles = (*ROLES, *house_roles(layers))
    for layer in layers:
        spoken = {section: gathered(layer, (section,), codes, faults, house=True).keys() for section in FILES}
        check_roles(layer, spoken, codes, faults)
        for file in layer:
            _check_words(file, faults)
            _check_ambiguous(file, spoken, roles, faults)
            _check_pairs(file, codes, faults)
            for (code,), _ in file.texts("language"):
                if not _CODE.fullmatch(code):
                    what = f"{code} is no code of a language"
                    faults.append(Fault(file.name, f"language.{code}", what, "write its code of ISO 639, as fi or fin"))
    return _vocabulary(tuple(layers)) if len(faults) == count else SHIPPED


@lru_cache(maxsize=8)
def _vocabulary(layers: tuple[tuple[WordFile, ...], ...]) -> Vocabulary:
    """The vocabulary of a house: one for all of its sessions, so that what is remembered of names serves them all."""
    return Vocabulary(layers)


def concepts(section: str) -> tuple[str, ...]:
    """What the words of a section can stand for: what the shipped files have words for, or every kind of processor."""
    if section in ("processor", "category"):
        return PROCESSOR_KINDS
    found = (concept for stem in FILES[section] for concept in shipped_file(stem).sections[section])
    return tuple(dict.fromkeys(found))


def _check_words(file: WordFile, faults: list[Fault]) -> None:
    """See that there are such concepts, and that each word can be found in a name."""
    for section in FILES:
        known = concepts(section) if section in file.sections else ()
        for concept in file.sections.get(section, {}):
            if concept not in known:
                what = f"there is no {SECTIONS[section].levels[0]} {concept}"
                do = _where_it_is(concept, section) or near(concept, known)
                faults.append(Fault(file.name, f"{section}.{concept}", what, do))
        for keys, text in file.texts(section):
            said = [_unreadable(word, section) for word in listed(text)]
            faults += [Fault(file.name, ".".join((section, *keys)), *one) for one in said if one is not None]
    for (role, code), text in file.texts(ROLE_WORDS):
        said = [_unreadable(word, "part") for word in listed(text)]
        faults += [Fault(file.name, f"role.{role}.words.{code}", *one) for one in said if one is not None]


def _check_ambiguous(
    file: WordFile, spoken: Mapping[str, Set[str]], roles: Collection[str], faults: list[Fault]
) -> None:
    """See that the ambiguous words are single ones, that nothing else is said of them, and that there are such roles.

    ``spoken`` holds the words of each section of the same standard, ``roles`` the roles there are.
    """
    for (subject, word), text in file.texts("ambiguous"):
        key = f"ambiguous.{subject}.{word}"
        if subject not in _SUBJECTS:
            faults.append(Fault(file.name, f"ambiguous.{subject}", "no such heading", near(subject, _SUBJECTS)))
            continue
        if said := _unreadable(word, "category" if subject == "category" else "ambiguous"):
            faults.append(Fault(file.name, key, *said))
            continue
        sections = CHANNEL_SECTIONS if subject == "part" else (subject,)
        for section in (s for s in sections if looked_up_as(word, subject) in spoken[s]):
            what = f"{word} stands under [{section}] too"
            faults.append(Fault(file.name, key, what, "leave it in one place"))
        if subject == "part":
            unknown = [role for role in listed(text) if role not in roles]
            faults += [Fault(file.name, key, f"there is no role {role}", near(role, roles)) for role in unknown]


def _check_pairs(file: WordFile, codes: Collection[str], faults: list[Fault]) -> None:
    """See that what stands on two sides of a stroke is a pair."""
    for (code,), text in file.texts("side-letters"):
        key = f"side-letters.{code}"
        if code not in codes:
            faults.append(Fault(file.name, key, f"there is no language {code}", which_of(code, codes)))
        if [[len(letter) for letter in row] for row in rows(text)] != [[1, 1]]:
            what = f"{text.strip()} is no pair of letters"
            faults.append(Fault(file.name, key, what, "write left / right, as 'g / d'"))
    for (kind, code), text in file.texts("pair-words"):
        key = f"pair-words.{kind}.{code}"
        if kind not in _PAIR_WORDS:
            faults.append(Fault(file.name, key, f"there is no kind of pair {kind}", near(kind, _PAIR_WORDS)))
        if code not in codes:
            faults.append(Fault(file.name, key, f"there is no language {code}", which_of(code, codes)))
        for row in rows(text):
            if len(row) < 2 or (kind != "numbers" and len(row) > 2) or not all(row):
                what = f"{' / '.join(row)} is no pair"
                faults.append(Fault(file.name, key, what, "write one / the other, as 'top / bottom'"))


def _where_it_is(concept: str, section: str) -> str:
    """The heading that a concept stands under, when it is another."""
    others = (other for other in FILES if other != section and concept in concepts(other))
    return next((f"write [{other}.{concept}]" for other in others), "")


def _unreadable(word: str, section: str) -> tuple[str, str] | None:
    """Why a word would never be found in a name, and what to do; None when it can be."""
    size = len(looked_up_as(word, section).split())
    longest = 1 if word.startswith("=") else _LONGEST.get(section, 1)
    if not as_read(word):
        return f"{word} has no letter and no digit in it", "leave it out"
    if section != "category" and size > longest:
        most = "one word" if longest == 1 else f"{longest} words"
        return f"{word} is read as {size} words, and at most {most} can stand here", "write a shorter one"
    return None
