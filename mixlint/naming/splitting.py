"""A name taken apart once, for all who read it: what was stored, when and which take, then words, sides and numbers.

What a name is marked with (a day, how it is stored, a tempo, a version, a take) tells of no part and of no pair. What
is left is taken into pieces wherever a writer put one beside another: at separators, at digits, where small letters
meet capitals, where known words are written together (``KickIn``, ``snaredown``, ``GtrL``).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache
from typing import Final, Literal, NamedTuple

from mixlint.naming.fold import ordinals_joined, strip_accents, tokens
from mixlint.naming.vocabulary import Vocabulary
from mixlint.naming.word_lookup import Word, code_at, numberless, parts_of_run, words_of

MarkKind = Literal["suffix", "date", "storage", "tempo", "version", "take"]
"""What a name can be marked with besides what it is the name of."""

PieceKind = Literal["word", "number", "code"]
"""A ``code`` is letters with a number that are no known word: a microphone, a device, a desk's input."""

DAY: Final = re.compile(
    r"(?<![0-9])(?:(?:19|20)\d\d[-_.]?[01]\d[-_.]?[0-3]\d|[0-3]\d[-_.][01]\d[-_.](?:19|20)?\d\d)(?![0-9])"
)
"""A day written in figures, the year first or last."""

STORED: Final = re.compile(
    r"(?<![0-9a-z])(?:(?:44|48|88|96|176|192)(?:[.,]\d)?[\s_\-]?k(?:hz)?[\s_\-]?)?(?:16|20|24|32)[\s_\-]?(?:b|bit|bits|f|fp|float)"
    r"(?![0-9a-z])|(?<![0-9a-z])(?:(?:44|48|88|96|176|192)(?:[.,]\d)?[\s_\-]?k(?:hz)?"
    r"|(?:44[.,]?1|88[.,]?2)|(?:44100|48000|88200|96000|176400|192000)(?:hz)?|4824|9624|4424)(?![0-9a-z])",
    re.IGNORECASE,
)
"""A sample rate, a word length, or both in one."""

TEMPO: Final = re.compile(r"(?<![0-9a-z])\d{2,3}(?:[.,]\d+)?[\s_\-]?bpm(?![a-z])", re.IGNORECASE)
"""A tempo in beats a minute."""

_SUFFIX: Final = re.compile(r"\.(?:wav|wave|aif|aiff|flac|bwf|w64|rf64|caf|mp3|ogg|m4a)\Z", re.IGNORECASE)
"""The ending of an audio file, as it stays on a channel that was made by dragging the file in."""


class Apart(NamedTuple):
    """A name without its marks.

    Args:
        rest: what is left, as written, a space in the place of each mark; the name itself when nothing would be left.
        marks: each kind of mark that was found to what it said, folded.
    """

    rest: str
    marks: dict[MarkKind, frozenset[str]]


class Piece(NamedTuple):
    """One piece of a name: its text, folded, and what it is."""

    text: str
    kind: PieceKind


def _alternatives(words: Iterable[str]) -> str:
    return "|".join(map(re.escape, sorted(words, key=lambda word: (-len(word), word)))) or "(?!)"


def _telling_nothing_else(words: Iterable[str], vocabulary: Vocabulary) -> list[str]:
    """The words that tell of no part or strip as well: ``rev`` is a reverb more often than a revision."""
    phrases = vocabulary.channels.phrases
    return [word for word in words if set(phrases.get(word, ())) <= _SECTIONS]


_SECTIONS: Final = frozenset({"section", "verse", "t"})


@lru_cache(maxsize=16)
def version_pattern(vocabulary: Vocabulary, *, whole: bool = False) -> re.Pattern[str]:
    """A word for a version with its number, which is the first group.

    Args:
        vocabulary: the words in force.
        whole: take every such word; else only those that tell of no part or strip, as in names of channels.
    """
    known = vocabulary.marks.get("version-number", frozenset())
    words = _alternatives(known if whole else _telling_nothing_else(known, vocabulary))
    return re.compile(rf"(?<![0-9a-z])(?:{words})[\s_\-.]?0*(\d{{1,3}})(?![0-9a-z])", re.IGNORECASE)


@lru_cache(maxsize=16)
def _take_pattern(vocabulary: Vocabulary) -> re.Pattern[str]:
    """A word for a take with its number; the letter T alone is another group, since it can be a tom."""
    marks = vocabulary.marks
    told = marks.get("take-number", frozenset()) | marks.get("take", frozenset())
    spelt = _alternatives(word for word in _telling_nothing_else(told, vocabulary) if len(word) > 1)
    return re.compile(
        rf"(?<![0-9a-z])(?:(?:{spelt})[\s_\-.#]*0*(\d{{1,3}})|0*(\d{{1,2}})[.ºª°]?[oa]?[\s_]+(?:{spelt})(?![\s_.\-#]*\d)"
        rf"|[t][\s_\-.#]?0*(\d{{1,3}}))(?![0-9a-z])",
        re.IGNORECASE,
    )


@lru_cache(maxsize=8192)
def taken_apart(name: str, vocabulary: Vocabulary) -> Apart:
    """A name and its marks, apart.

    A ``T`` with a number is a take where it ends a name that tells of another part; of a drum kit it is a tom.
    """
    rest = name
    marks: dict[MarkKind, frozenset[str]] = {}
    patterns: dict[MarkKind, re.Pattern[str]] = {"suffix": _SUFFIX, "date": DAY, "tempo": TEMPO, "storage": STORED}
    for kind, pattern in (patterns | {"version": version_pattern(vocabulary)}).items():
        rest = _without(rest, pattern, kind, marks)
    for found in reversed(list(_take_pattern(vocabulary).finditer(strip_accents(rest)))):
        if len(strip_accents(rest)) != len(rest):
            break  # a letter that comes out as two: the places no longer fit
        before, after = rest[: found.start()], rest[found.end() :]
        if found[3] is not None and not _ends_a_part(before, after, vocabulary):
            continue
        marks["take"] = marks.get("take", frozenset()) | {found[1] or found[2] or found[3]}
        rest = f"{before} {after}"
    return Apart(rest if any(char.isalnum() for char in rest) else name, marks)


def _without(text: str, pattern: re.Pattern[str], kind: MarkKind, marks: dict[MarkKind, frozenset[str]]) -> str:
    found = [match.group(match.lastindex or 0) for match in pattern.finditer(text)]
    left = pattern.sub(" ", text)
    if not found or not any(char.isalnum() for char in left):
        return text
    marks[kind] = frozenset(strip_accents(one) for one in found)
    return left


_KIT: Final = frozenset({"drums", "toms", "t", "percussion", "perkusja"})


def _ends_a_part(before: str, after: str, vocabulary: Vocabulary) -> bool:
    """True where what stands before tells of a part that has no toms, and nothing but signs stands behind."""
    if any(char.isalnum() for char in after):
        return False
    concepts = {c for word in words_of(numberless(tokens(before), vocabulary), vocabulary) for c in word.concepts}
    return bool(concepts) and not concepts & _KIT


@lru_cache(maxsize=8192)
def pieces(name: str, vocabulary: Vocabulary) -> tuple[Piece, ...]:
    """The pieces of a name in order, without its marks and a leading order number.

    Args:
        name: a channel's name.
        vocabulary: the words in force.

    Returns:
        Empty for a name without letters and digits.
    """
    rest = taken_apart(name, vocabulary).rest
    found = numberless(tokens(rest), vocabulary)
    out: list[Piece] = []
    at = 0
    while at < len(found):
        size = code_at(found, at, vocabulary.channels)
        if size:
            out.append(Piece("".join(token.plain for token in found[at : at + size]), "code"))
            at += size
            continue
        token = found[at]
        texts = (token.plain,) if token.plain.isdigit() else parts_of_run(token, vocabulary)
        out.extend(Piece(text, "number" if text.isdigit() else "word") for text in texts)
        at += 1
    joined = ordinals_joined(piece.text for piece in out)
    if len(joined) != len(out):
        return tuple(Piece(text, "number" if text.isdigit() else "word") for text in joined)
    return tuple(out)


@lru_cache(maxsize=8192)
def words(name: str, vocabulary: Vocabulary) -> tuple[Word, ...]:
    """The words of a name in order, longest phrases first, without its marks and a leading order number.

    Args:
        name: a channel's name.
        vocabulary: the words in force.

    Returns:
        Every run of the name as a word; one that is not known has no concepts. Empty for a name without letters and
        digits.
    """
    return words_of(numberless(tokens(taken_apart(name, vocabulary).rest), vocabulary), vocabulary)


def languages_of(name: str, vocabulary: Vocabulary, *, plainly: bool = True) -> frozenset[str]:
    """The languages, other than English, that the known words of a name belong to.

    Args:
        name: a channel's name.
        vocabulary: the words in force.
        plainly: leave out the words that are English too.
    """
    known = vocabulary.channels.languages
    found = [known[w.text] for w in words(name, vocabulary) if w.text in known]
    return frozenset(x for languages in found if not (plainly and "en" in languages) for x in languages) - {"en"}
