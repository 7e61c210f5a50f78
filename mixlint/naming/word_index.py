"""The words of word files as they are looked up, each with what it stands under."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import Final

from mixlint.errors import Fault, near
from mixlint.naming.fold import as_read, fold_name, ordinals_joined, strip_accents
from mixlint.naming.word_files import SECTIONS, WordFile, listed

Entries = dict[str, tuple[tuple[str, str], ...]]
"""Word as it is looked up (behind its ``=`` when its accents count) to each concept and language it stands under.

All the words of one line share one tuple, so that it costs little to hold thousands of them.
"""

FILES: Final = {
    "part": ("drums", "instruments", "voices"),
    "playing": ("playing",),
    "strip": ("strips",),
    "processor": ("processors",),
    "processor-part": ("heads",),
    "category": ("categories",),
    "side": ("sides",),
    "pair": ("pairs",),
    "mark": ("comments", "marks", "settings"),
    "heading": ("lists",),
    "cell": ("lists",),
}
"""Section to the shipped files that hold it."""

CHANNEL_SECTIONS: Final = ("part", "playing", "strip")
"""The sections of channels' names. What a word can mean stands in this order."""

_ONE_ONLY: Final = ("part", "processor", "category", "side")
"""Sections in which a word of one language can stand for one thing only."""

_PLUGIN_STANDARDS: Final = ("clap", "vst3", "lv2")


def languages_in(files: Iterable[WordFile]) -> tuple[str, ...]:
    """The codes of the languages that some files name, each once."""
    return tuple(dict.fromkeys(code for file in files for (code,), _ in file.texts("language")))


def which_of(code: str, known: Collection[str]) -> str:
    """What to do about a code that is not known: the nearest, or all that there are."""
    return near(code, known) or f"there are {', '.join(known)}"


def ambiguous_in(files: Iterable[WordFile], subject: str) -> dict[str, str]:
    """The ambiguous words of ``subject`` (``part``, ``processor``, ``category``) with what is said of each."""
    found: dict[str, str] = {}
    for file in files:
        under = file.sections.get("ambiguous", {}).get(subject, {})
        found |= {looked_up_as(word, subject): text for word, text in under.items()}
    return found


def looked_up_as(word: str, section: str) -> str:
    """A word of a word file as it is looked up; behind its ``=`` when its accents count."""
    if word.startswith("="):
        return f"={fold_name(word[1:])}"
    if section == "category":  # categories are compared as they stand
        return fold_name(word)
    read = as_read(word)
    return " ".join(ordinals_joined(read.split())) if section == "pair" else read


def gathered(
    files: Iterable[WordFile],
    sections: tuple[str, ...],
    codes: Collection[str],
    faults: list[Fault],
    *,
    house: bool = False,
) -> Entries:
    """The words of some sections of files that belong together.

    Args:
        files: the files.
        sections: which of their sections; a word's concepts come in this order.
        codes: the codes of the languages there are.
        faults: where faults go: a language that is not there, a word under two things of which it can only be one,
            and, in the files that come with mixlint, a concept in two files.
        house: whether the files are a house's, whose words are brought into the form that names are read in. The
            shipped words are written in that form already, which a test holds them to: it takes ten times as long to
            bring them into it as to read them.
    """
    entries: Entries = {}
    for section in sections:
        here: Entries = {}
        known: Collection[str] = _PLUGIN_STANDARDS if section == "category" else codes
        homes: dict[str, str] = {}
        for file in files:
            for (concept, code), text in file.texts(section):
                if code not in known:
                    what = f"there is no {SECTIONS[section].levels[1]} {code}"
                    faults.append(Fault(file.name, f"{section}.{concept}.{code}", what, which_of(code, known)))
                if homes.setdefault(concept, file.name) != file.name and not house:
                    what = f"{concept} stands in {homes[concept]} already"
                    faults.append(Fault(file.name, f"{section}.{concept}", what, "put the words there"))
                if house or "=" in text:
                    keys = [looked_up_as(word, section) for word in listed(text)]
                else:
                    keys = listed(strip_accents(text.replace("\n", ",")))
                _add(here, dict.fromkeys(keys, ((concept, code),)))
        if section in _ONE_ONLY:
            _one_only(here, section, files, faults)
        _add(entries, here)
    return entries


def _add(entries: Entries, more: Entries) -> None:
    """Put ``more`` to what the words stand for already."""
    if again := entries.keys() & more.keys():
        more = more | {word: entries[word] + more[word] for word in again}
    entries |= more


def _one_only(entries: Entries, section: str, files: Iterable[WordFile], faults: list[Fault]) -> None:
    """Write down each word that stands for two things in one language."""
    for word, meant in entries.items():
        if len(meant) == 1:
            continue
        for code in dict.fromkeys(code for _, code in meant):
            concepts = list(dict.fromkeys(concept for concept, other in meant if other == code))
            if len(concepts) > 1:
                names = [file.name for file in files if concepts[1] in file.sections.get(section, {})]
                what = f"{word} stands under {' and '.join(concepts)}, and it can be only one"
                do = f"leave it under one, or write it under [ambiguous.{section}]"
                faults.append(
                    Fault(
                        names[-1],
                        f"{section}.{concepts[1]}.{code}",
                        what,
                        do if section != "side" else "leave it under one",
                    )
                )
