"""What the settings of a processor say: which one a parameter is, in what unit, note values and musical keys."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from mixlint.naming.fold import as_read, strip_accents
from mixlint.naming.runs import any_word
from mixlint.naming.vocabulary import SHIPPED, Vocabulary
from mixlint.session import Insert, Parameter

UNITS: Final = {
    "s": "s", "sec": "s", "secs": "s", "second": "s", "seconds": "s", "sek": "s", "sekunden": "s",
    "ms": "ms", "msec": "ms", "millisecond": "ms", "milliseconds": "ms", "millisekunden": "ms",
    "db": "dB", "dbfs": "dB", "dbtp": "dB", "pct": "%", "percent": "%", "prozent": "%", "%": "%", "hz": "Hz",
}  # fmt: skip
"""How a unit is written beside a parameter, or at the end of its name → the unit."""


def number_of(parameter: Parameter) -> tuple[float, str] | None:
    """The value of a parameter and its unit, which may stand at the end of its name: ``decay_s``; None for no number.

    A number without a unit of :data:`UNITS` has an empty one: nothing is read from the size of a number.
    """
    number = parameter.value
    if isinstance(number, bool) or not isinstance(number, int | float):
        return None
    unit = UNITS.get(parameter.unit.strip().casefold())
    if unit is None and not parameter.unit.strip():
        unit = UNITS.get(_words(parameter)[-1] if _words(parameter) else "")
    return float(number), unit or ""


def _words(parameter: Parameter) -> list[str]:
    """The words of a parameter's name, or of its id where it has none."""
    return as_read(parameter.name or parameter.id).split()


@lru_cache(maxsize=64)
def _pattern(vocabulary: Vocabulary, concept: str) -> re.Pattern[str]:
    return re.compile(any_word(map(as_read, vocabulary.marks.get(concept, ())), "(?:^| )", "(?= |$)", within=2))


@lru_cache(maxsize=64)
def _plainly(vocabulary: Vocabulary, concept: str) -> frozenset[str]:
    return frozenset(map(as_read, vocabulary.marks.get(concept, ())))


@lru_cache(maxsize=8192)
def says(text: str, concept: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a text holds a word of a mark as a word of its own."""
    return _pattern(vocabulary, concept).search(as_read(text)) is not None


def is_setting(parameter: Parameter, concept: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a parameter's name, or its id where that is no name of ours, holds a word of a mark."""
    return says(parameter.name or parameter.id, concept, vocabulary)


def is_plainly(parameter: Parameter, concept: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a parameter is called by a word of a mark, and by nothing else but its unit."""
    words = _words(parameter)
    if len(words) > 1 and words[-1] in UNITS:
        words = words[:-1]
    return " ".join(words) in _plainly(vocabulary, concept)


def listed_db(insert: Insert, concept: str, vocabulary: Vocabulary = SHIPPED) -> float | None:
    """The first parameter of an insert, dB, that is called plainly by a word of a mark; None where there is none."""
    for parameter in insert.parameters:
        number = number_of(parameter)
        if number is not None and number[1] == "dB" and is_plainly(parameter, concept, vocabulary):
            return number[0]
    return None


_FRACTION: Final = re.compile(
    r"(?<![\d/.])(\d{1,2})\s?[/⁄]\s?(1|2|4|8|16|32|64)(?![\d/])(?:st|nd|rd|th)?(\.?)(\s*)([a-z]*)"
)
_SHORT: Final = re.compile(r"(?<![\d/.])(4|8|16)(?:th)?\s?(d|t)(?![a-z])")
_NAMED: Final = {"note-quarter": 1.0, "note-eighth": 0.5, "note-sixteenth": 0.25}
_DOTTED: Final = 1.5
_TRIPLET: Final = 2.0 / 3.0


@lru_cache(maxsize=4096)
def note_values(text: str, vocabulary: Vocabulary = SHIPPED) -> tuple[float, ...]:
    """The note values that a text names, in quarter notes: 0.75 of ``DL 1/8D``, ``8th dotted``, ``3/16``.

    A word for dotted notes or triplets that does not follow a value counts for all values of the text. Where a text
    can be read in two ways, both are given.
    """
    plain = strip_accents(text).replace("_", " ")
    words = [word for word in as_read(text).split() if len(word) > 1]  # a letter alone may be a side
    all_over = next((times for word in words if (times := _times(word, vocabulary)) != 1.0), 1.0)
    found: list[float] = []
    for match in _FRACTION.finditer(plain):
        count, part, dot, gap, word = match.groups()
        quarters = 4.0 * int(count) / int(part)
        times = _DOTTED if dot else _times(word, vocabulary)
        found.append(quarters * (all_over if times == 1.0 else times))
        if gap and len(word) == 1 and times != 1.0:
            found.append(quarters)  # ``1/4 D`` may be the right one of two
    if not found:
        shorts = _SHORT.findall(plain)
        found = [4.0 / int(part) * (_DOTTED if kind == "d" else _TRIPLET) for part, kind in shorts]
    if not found:
        named = [quarters for concept, quarters in _NAMED.items() if says(text, concept, vocabulary)]
        # ``double croche`` holds the word for an eighth: the shortest is meant.
        found = [min(named) * all_over] if named else []
    return tuple(dict.fromkeys(found))


def _times(word: str, vocabulary: Vocabulary) -> float:
    """By how much a word makes a note value longer or shorter."""
    if says(word, "note-dotted", vocabulary):
        return _DOTTED
    return _TRIPLET if says(word, "note-triplet", vocabulary) else 1.0


_STEPS: Final = {
    "c": 0, "do": 0, "d": 2, "re": 2, "e": 4, "mi": 4, "f": 5, "fa": 5, "g": 7, "sol": 7, "a": 9, "la": 9,
    "h": 11, "si": 11, "b": 11,
    "cis": 1, "des": 1, "dis": 3, "es": 3, "eis": 5, "fis": 6, "ges": 6, "gis": 8, "as": 8, "ais": 10, "his": 0,
    "ces": 11, "fes": 4,
}  # fmt: skip
"""The name of a note → semitones over C; a German ``B`` is a semitone lower, see :func:`scale_of`."""

_TONIC: Final = re.compile(
    r"^(do|re|mi|fa|sol|la|si|[a-h](?:is|es|s)?)\s*(#|♯|b|♭|sharp|flat|diese|bemol|diesis|bemolle)?(m)?$"
)
_RAISED: Final = frozenset({"#", "♯", "sharp", "diese", "diesis"})


@lru_cache(maxsize=1024)
def scale_of(text: str, vocabulary: Vocabulary = SHIPPED) -> int | None:
    """The notes of a key such as ``F# minor`` or ``do# mineur``, as the semitone over C of its relative major.

    None where it is none that can be read, as for a tonic alone, a chromatic scale or another mode.
    """
    plain = strip_accents(text.replace("♯", "#").replace("♭", "b").replace("-", " "))
    words = plain.split()
    mode = {word for word in words if _is(word, "major", vocabulary) or _is(word, "minor", vocabulary)}
    match = _TONIC.match(" ".join(word for word in words if word not in mode))
    if match is None or len(mode) > 1:
        return None
    note, shift, small_m = match.groups()
    minor = bool(small_m) or any(_is(word, "minor", vocabulary) for word in mode)
    if not mode and not small_m:
        return None
    if note not in _STEPS:
        return None
    german_b = note == "b" and not shift and bool(mode & {"dur", "moll"})
    step = _STEPS[note] - german_b
    if shift:
        step += 1 if shift in _RAISED else -1
    return (step + (3 if minor else 0)) % 12


def _is(word: str, concept: str, vocabulary: Vocabulary) -> bool:
    return word in vocabulary.marks.get(concept, ())
