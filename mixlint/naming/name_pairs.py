"""All pairs among many names, without holding each name against each other.

Two names pair only where they differ in one run of pieces (:func:`mixlint.naming.pair_kind`), and where what differs
comes down to a word that pairs with another. So each name is entered under what is left of it without each run that
may be such a difference, and only names that are left alike, and differ in words that may pair, are held against each
other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import combinations, product
from typing import NamedTuple, TypeAlias

from mixlint.naming.sides_and_pairs import (
    HEIGHTS,
    NOTHING,
    TIMES_TWO,
    PairKind,
    marks_of_a_pair,
    pair_kind,
    picked_up,
    what_may_differ,
    without_its_place,
)
from mixlint.naming.splitting import Piece, pieces
from mixlint.naming.vocabulary import Vocabulary
from mixlint.naming.word_lookup import LEAST_CODE

_Spelt: TypeAlias = dict[tuple[Piece, ...], list[str]]
"""Names by their pieces: two of the same pieces are no pair."""

_ByWord: TypeAlias = dict[str, _Spelt]
"""The word that a name may differ in, to the names."""


class _LeftAlike(NamedTuple):
    """Names that are left alike, by the word that each may differ in.

    Args:
        worded: those that differ in words, among figures or not.
        beside_words: those that differ in figures, as they count beside one that has words there.
        figures: the same, as they count beside each other.
    """

    worded: _ByWord
    beside_words: _ByWord
    figures: _ByWord


def paired_names(names: Iterable[str], vocabulary: Vocabulary) -> dict[str, dict[str, PairKind]]:
    """Every two of some names that pair, and how.

    Args:
        names: names of channels.
        vocabulary: the words in force.

    Returns:
        Name → each name that it pairs with → what :func:`mixlint.naming.pair_kind` says of the two in this order.
    """
    held: set[tuple[str, str]] = set()
    paired: dict[str, dict[str, PairKind]] = {}
    for (_, before, _), alike in _left_alike(names, vocabulary).items():
        for pair in _candidates(alike, before, vocabulary):
            for first, second in (pair, pair[::-1]):
                if (first, second) not in held:
                    held.add((first, second))
                    kind = pair_kind(first, second, vocabulary)
                    if kind is not None:
                        paired.setdefault(first, {})[second] = kind
    return paired


def _left_alike(
    names: Iterable[str], vocabulary: Vocabulary
) -> dict[tuple[tuple[object, ...], tuple[Piece, ...], tuple[Piece, ...]], _LeftAlike]:
    """What names are marked with, what stands before a run of them and what behind → the names."""
    found: dict[tuple[tuple[object, ...], tuple[Piece, ...], tuple[Piece, ...]], _LeftAlike] = {}
    for name in dict.fromkeys(names):
        whole, marks = pieces(name, vocabulary), marks_of_a_pair(name, vocabulary)
        for said in dict.fromkeys((whole, without_its_place(whole, vocabulary))):
            for begin, end in _runs(said):
                for worded, beside, word in what_may_differ(said[begin:end], vocabulary):
                    alike = found.setdefault((marks, said[:begin], said[end:]), _LeftAlike({}, {}, {}))
                    by_word = alike.figures if beside == "figures" else alike.worded if worded else alike.beside_words
                    by_word.setdefault(word, {}).setdefault(whole, []).append(name)
    return found


def _runs(said: tuple[Piece, ...]) -> Iterator[tuple[int, int]]:
    """From where to where each run of some pieces goes, runs of nothing among them."""
    return ((begin, end) for begin in range(len(said) + 1) for end in range(begin, len(said) + 1))


class _PairingWords(NamedTuple):
    """The words by which names pair.

    Args:
        some: those that pair with some others.
        doubles: those of them that pair with every other.
        with_itself: those that two names can differ in, one of them with a number that goes without saying.
    """

    some: frozenset[str]
    doubles: frozenset[str]
    with_itself: frozenset[str]


@lru_cache(maxsize=16)
def _pairing_words(vocabulary: Vocabulary) -> _PairingWords:
    sides, pairs = vocabulary.sides, vocabulary.pairs
    rows = (*sides.letters.values(), *pairs.microphones, *pairs.places, pairs.english, *pairs.numbers)
    some = {NOTHING, TIMES_TWO, *HEIGHTS, *sides.sides, *pairs.concepts, *(word for row in rows for word in row)}
    doubles = frozenset(word for word, concept in pairs.concepts.items() if concept == "double")
    return _PairingWords(frozenset(some), doubles, doubles | HEIGHTS.union(*pairs.numbers))


def _candidates(alike: _LeftAlike, before: tuple[Piece, ...], vocabulary: Vocabulary) -> Iterator[tuple[str, str]]:
    """The names, left alike, whose differing words may pair."""
    words = _pairing_words(vocabulary)
    # Behind a word for a microphone every number is one; elsewhere so high a number counts no like parts.
    counts = float("inf") if before and before[-1].text in picked_up(vocabulary) else LEAST_CODE
    for some, others in (
        (alike.worded, alike.worded),
        (alike.worded, alike.beside_words),
        (alike.figures, alike.figures),
    ):
        known, known_too = (
            [word for word in by_word if word in words.some or (word.isdigit() and int(word) < counts)]
            for by_word in (some, others)
        )
        for one, other in combinations(known, 2) if some is others else product(known, known_too):
            if one != other or one in words.with_itself or one.isdigit():
                yield from _each(some[one], others[other])
        for word in known if some is others else ():
            if word in words.with_itself or word.isdigit():
                yield from (pair for two in combinations(some[word].values(), 2) for pair in product(*two))
        for here, there in ((some, others), (others, some)):
            for double in words.doubles & here.keys():
                for other in there.keys() - {double}:
                    yield from _each(here[double], there[other])
            for left in here:
                right = f"{left[:-1]}r"
                if left.endswith("l") and right in there:
                    yield from _each(here[left], there[right])


def _each(some: _Spelt, others: _Spelt) -> Iterator[tuple[str, str]]:
    for one, other in product(some.values(), others.values()):
        for names in product(one, other):
            if names[0] != names[1]:
                yield names
