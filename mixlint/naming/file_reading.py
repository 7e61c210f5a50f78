"""What the name of an audio file says: version, scene, take, day and key, the part it holds, what became of it.

All of these read a name without regard to capitals and accents.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final, Literal

from mixlint.naming.fold import as_read, strip_accents
from mixlint.naming.marks import _any_of
from mixlint.naming.vocabulary import SHIPPED, Vocabulary

FileMark = Literal["version", "scene", "take", "date", "key"]
"""What a file can be marked with."""

_DATE: Final = re.compile(r"(?<![0-9a-z])((?:19|20)\d\d[-_.]?[01]\d[-_.]?[0-3]\d)(?![0-9a-z])")
"""A day, the year first."""

_CUE: Final = re.compile(r"(?<![0-9a-z])(\d{1,2}m\d{1,3}[a-z]?)(?![0-9a-z])")
"""The number of a cue: the reel, the letter m and the place in it."""

_KEY: Final = re.compile(r"(?<![0-9a-z])([a-g](?:#|b|sharp|flat|is|es)?(?:min|maj|minor|major|moll|dur))(?![0-9a-z])")
"""A key by its note and its kind: ``Amin``, ``c#minor``. A letter alone is as often a section."""

_SUFFIX: Final = re.compile(r"\.[A-Za-z0-9]{2,5}\Z")


@lru_cache(maxsize=16)
def _numbered(vocabulary: Vocabulary, concept: str) -> re.Pattern[str]:
    """A word of a mark with its number, or with the letter of a set, standing for itself in a name."""
    return re.compile(rf"(?<![0-9a-z])(?:{_any_of(vocabulary, concept)})[\s_\-.]?0*(\d{{1,3}})(?![0-9a-z])")


@lru_cache(maxsize=8192)
def file_marks(name: str, vocabulary: Vocabulary = SHIPPED) -> dict[FileMark, frozenset[str]]:
    """What a name is marked with: ``{"version": {"5"}, "scene": {"7"}}`` of ``S07_strings_v5.wav``."""
    plain = _plain(name)
    found: dict[FileMark, frozenset[str]] = {}
    for kind, concept in (("version", "version-number"), ("scene", "scene-number"), ("take", "take-number")):
        found[kind] = frozenset(_numbered(vocabulary, concept).findall(plain))  # type: ignore[index]
    found["scene"] |= frozenset(_CUE.findall(plain))
    found["date"] = frozenset(re.sub(r"\D", "", day) for day in _DATE.findall(plain))
    found["key"] = frozenset(_KEY.findall(plain))
    return {kind: values for kind, values in found.items() if values}


def _plain(name: str) -> str:
    return strip_accents(_SUFFIX.sub("", name))


@lru_cache(maxsize=8192)
def part_of_file(name: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """The part that a name tells, without marks, numbers at either end and words for what was done to it.

    Letters and digits alone, so that it can be held against the name of a channel: ``ohl`` of ``T07_OH_L.wav``.
    """
    left = _DATE.sub(" ", _plain(name))
    for concept in ("version-number", "scene-number", "take-number"):
        left = _numbered(vocabulary, concept).sub(" ", left)
    words = [word for word in re.split(r"[^\w]|_", left) if word]
    done = {strip_accents(word) for word in vocabulary.marks.get("file-made", ())}
    while len(words) > 1 and (words[-1] in done or words[-1].isdigit()):
        words.pop()
    while len(words) > 1 and words[0].isdigit():
        words.pop(0)
    return "".join(words)


def put_aside(name: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """The word by which a name says that it was put aside, or was never meant to last: ``old``; empty without one."""
    return _whole(name, vocabulary, "alternate", "not-final")


def says_complete(name: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """The word by which a name says that nothing is left out: ``full``; empty without one."""
    return _whole(name, vocabulary, "complete")


def says_left_out(name: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """The word by which a name says that something is left out: ``sans``, ``without``; empty without one."""
    return _whole(name, vocabulary, "left-out")


@lru_cache(maxsize=8192)
def _whole(name: str, vocabulary: Vocabulary, *concepts: str) -> str:
    said = re.search(rf"(?:^| )({_any_of(vocabulary, *concepts)})(?: |$)", as_read(_SUFFIX.sub("", name)))
    return said.group(1) if said else ""
