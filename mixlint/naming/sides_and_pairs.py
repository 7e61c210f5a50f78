"""Counterparts by name: the side a name tells, the name without its side or number, and how two names pair."""

from __future__ import annotations

from functools import lru_cache
from typing import Final, Literal

from mixlint.naming.fold import Token, ordinals_joined, tokens
from mixlint.naming.runs import LONGEST_END, is_unspaced, pieces_of_run
from mixlint.naming.vocabulary import SHIPPED, PairWords, Side, Vocabulary
from mixlint.naming.word_lookup import ends_in_side, is_word_of_run, languages_of, numberless, words

PairKind = Literal["sides", "numbers", "doubles", "microphones", "registers"]

_REGISTERS: Final = ("high", "low", "middle", "octave")


@lru_cache(maxsize=8192)
def _tokens(name: str, vocabulary: Vocabulary) -> tuple[str, ...]:
    """The tokens of a name; a run such as ``GtrL`` or ``ohr`` gives its side apart."""
    found = numberless(tokens(name), vocabulary)
    return ordinals_joined(text for token in found for text in _with_side_apart(token, vocabulary))


def _with_side_apart(token: Token, vocabulary: Vocabulary) -> tuple[str, ...]:
    text, sides = token.plain, vocabulary.sides.sides
    if text in sides or len(text) < 2:
        return (text,)
    if is_unspaced(text[0]):
        return _with_ends_apart(text, vocabulary)
    if len(token.camel) > 1 and token.camel[-1] in sides and not _is_word(text, vocabulary):
        return ("".join(token.camel[:-1]), token.camel[-1])
    joined = ends_in_side(text) and not _is_word(text, vocabulary) and _is_word(text[:-1], vocabulary)
    if joined or text in ("ohl", "ohr"):
        return (text[:-1], text[-1])
    return (text,)


def _with_ends_apart(text: str, vocabulary: Vocabulary) -> tuple[str, ...]:
    """A run without spaces, with words for a side or for one of two microphones at its ends apart: ``主唱左``."""
    sides = vocabulary.sides
    if text in sides.sides:
        return (text,)
    pairs = _words_of_pairs(vocabulary)
    for size in range(min(LONGEST_END, len(text) - 1), 0, -1):
        rest, end = text[:-size], text[-size:]
        surely = end in sides.sides and end not in sides.behind
        if surely or ((end in sides.sides or end in pairs) and _borders_on_word(rest, vocabulary, last=True)):
            return (*_with_ends_apart(rest, vocabulary), end)
    for size in range(min(LONGEST_END, len(text) - 1), 0, -1):
        start, rest = text[:size], text[size:]
        if start in sides.sides and _borders_on_word(rest, vocabulary, last=False):
            return (start, *_with_ends_apart(rest, vocabulary))
    return (text,)


def _borders_on_word(text: str, vocabulary: Vocabulary, *, last: bool) -> bool:
    """True where a run ends, or begins, with a known word: a word for a side beside it is no part of another."""
    known = vocabulary.channels
    return pieces_of_run(text, lambda piece: is_word_of_run(piece, known))[-1 if last else 0][1]


@lru_cache(maxsize=16)
def _words_of_pairs(vocabulary: Vocabulary) -> frozenset[str]:
    """The words by which two names pair, and that may end a run."""
    pairs = vocabulary.pairs
    return frozenset(pairs.concepts).union(*pairs.microphones)


def _is_word(text: str, vocabulary: Vocabulary) -> bool:
    found = words(text, vocabulary)
    return len(found) == 1 and bool(found[0].concepts)


def side_of(name: str, vocabulary: Vocabulary = SHIPPED) -> Side | None:
    """The side a name tells.

    ``L`` and ``R`` count anywhere but at the beginning, where they can mean lead and rhythm; ``L/R`` together is a
    stereo channel. ``Li``, ``Re``, ``der``, ``des``, ``dir``, ``sin`` count at the end only. ``G`` and ``D``, ``I`` and
    ``D``, ``E`` and ``D``, ``V`` and ``H``, ``V`` and ``O``, ``L`` and ``P``, and the words ``sol`` and ``sağ``, count
    at the end of a name in the language they belong to.

    Args:
        name: a channel's name.
        vocabulary: the words in force.

    Returns:
        The side; None when the name tells of none, or of both.
    """
    sides = {side for side, _ in _side_tokens(name, vocabulary)}
    return sides.pop() if len(sides) == 1 else None


def _side_tokens(name: str, vocabulary: Vocabulary) -> list[tuple[Side, int]]:
    """Each side told in a name with the place of its token."""
    found, known = _tokens(name, vocabulary), vocabulary.sides
    end = len(found)
    while end > 1 and found[end - 1].isdigit():
        end -= 1
    by_language = end > 1 and any(found[end - 1] in row for row in known.letters.values())
    letters = _letters(name, vocabulary) if by_language else {}
    told: list[tuple[Side, int]] = []
    for at, text in enumerate(found):
        side = known.sides.get(text)
        if at == end - 1 and text in letters:
            told.append((letters[text], at))
        elif side and (
            text not in known.not_first | known.last
            or (text in known.not_first and (at > 0 or _tells_role(found[1:])))
            or (text in known.last and 0 < at == end - 1)
        ):
            told.append((side, at))
    return told


def _tells_role(rest: tuple[str, ...]) -> bool:
    """``R Rhy Gtr``: the rhythm is told already, so the letter is the side."""
    return bool(rest) and rest[0] in ("rhy", "rhythm", "rtm", "lead", "ld")


def _letters(name: str, vocabulary: Vocabulary) -> dict[str, Side]:
    """Letters and short words that are sides in the languages of the name's own words.

    A letter can mean much, so that a word that is English too does not settle its language; for a word it does.
    """
    spoken, also_spoken = languages_of(name, vocabulary), languages_of(name, vocabulary, plainly=False)
    letters: dict[str, Side] = {}
    for language, (left, right) in vocabulary.sides.letters.items():
        if language in (spoken if len(left) == len(right) == 1 else also_spoken):
            letters |= {left: "left", right: "right"}
    return letters


def stem_of(name: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """The name without side and number tokens, folded: counterparts share it.

    Args:
        name: a channel's name.
        vocabulary: the words in force.

    Returns:
        The tokens that are left, a space between; when only sides and numbers are there, these. Empty for a name
        without letters and digits.
    """
    found = _tokens(name, vocabulary)
    sides = {at for _, at in _side_tokens(name, vocabulary)}
    kept = [text for at, text in enumerate(found) if at not in sides and not text.isdigit()]
    return " ".join(kept or [text for at, text in enumerate(found) if at not in sides] or found)


def name_without_side(name: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """The name with its side left open, folded: two names that give the same here differ in nothing but the side.

    Args:
        name: a channel's name.
        vocabulary: the words in force.

    Returns:
        The tokens, a space between, with a sign in the place of each that tells a side; numbers stay.
    """
    sides = {at for _, at in _side_tokens(name, vocabulary)}
    return " ".join("*" if at in sides else text for at, text in enumerate(_tokens(name, vocabulary)))


def pair_kind(name_a: str, name_b: str, vocabulary: Vocabulary = SHIPPED) -> PairKind | None:
    """How two names pair, when they differ only in one place.

    Args:
        name_a: a channel's name.
        name_b: another channel's name.
        vocabulary: the words in force.

    Returns:
        ``sides`` (L and R in the listed languages), ``numbers`` (1 and 2, I and II, odd and even), ``doubles`` (a part
        and its double), ``microphones`` (one performance, two pick-ups), ``registers`` (high and low), or None. A
        pair of letters (A and B, X and Y) is None: it can be a pair, a take or a version.
    """
    a, b = _tokens(name_a, vocabulary), _tokens(name_b, vocabulary)
    if a == b or not a or not b:
        return None
    only_a, only_b = (_without_microphone(only) for only in _difference(a, b))
    if len(only_a) <= 1 and len(only_b) <= 1:
        one, two = (only_a or ("",))[0], (only_b or ("",))[0]
        return _of_words(one, two, vocabulary, rest=len(a) > len(only_a) or len(b) > len(only_b))
    for added in (only_a if not only_b else (), only_b if not only_a else ()):
        if len(added) == 2 and added[0] == "x" and added[1] == "2":
            return "doubles"
    return None


def _without_microphone(only: tuple[str, ...]) -> tuple[str, ...]:
    """``amp mic`` beside ``di`` is the amp: where a word tells the place, the microphone goes without saying."""
    return only[:1] if len(only) == 2 and only[1] in ("mic", "mike") else only


def stand_opposite(name_a: str, name_b: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True for top and bottom, front and back, mid and side: where two microphones stand opposes their polarities.

    Args:
        name_a: the name of a channel with one of the microphones.
        name_b: the name of the channel with the other.
        vocabulary: the words in force.
    """
    a, b = (set(_tokens(name, vocabulary)) for name in (name_a, name_b))
    only_a, only_b = a - b, b - a
    pairs = vocabulary.pairs.opposite
    return any((one in only_a and two in only_b) or (one in only_b and two in only_a) for one, two in pairs)


def lies_under(name: str, other: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True where the first of two names is that of the microphone underneath: ``Sn Bot`` beside ``Sn Top``.

    Of two words for opposite places the second is the one underneath or behind; mid and side are none of them.

    Args:
        name: the name of a channel.
        other: the name of the channel with the other microphone.
        vocabulary: the words in force.
    """
    a, b = (set(_tokens(one, vocabulary)) for one in (name, other))
    pairs = vocabulary.pairs.opposite - _MID_SIDE
    return any(under in a - b and over in b - a for over, under in pairs)


def mid_or_side(name: str, vocabulary: Vocabulary = SHIPPED) -> Literal["mid", "side"] | None:
    """Which of a mid and side recording a name tells: ``mid`` for ``OH M``, ``side`` for ``OH S L``.

    The words are those of a pair of microphones that stand as mid and side; None where the name has none or both.

    Args:
        name: a channel's name.
        vocabulary: the words in force.
    """
    found = set(_tokens(name, vocabulary))
    told: set[Literal["mid", "side"]] = set()
    for mid, side in vocabulary.pairs.opposite:
        if (mid, side) in _MID_SIDE:
            told |= {"mid"} if mid in found else set()
            told |= {"side"} if side in found else set()
    return told.pop() if len(told) == 1 else None


_MID_SIDE: Final = frozenset({("m", "s"), ("mid", "side")})


def _difference(a: tuple[str, ...], b: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    start = 0
    while start < min(len(a), len(b)) and a[start] == b[start]:
        start += 1
    end = 0
    while end < min(len(a), len(b)) - start and a[-1 - end] == b[-1 - end]:
        end += 1
    return a[start : len(a) - end], b[start : len(b) - end]


def _of_words(one: str, two: str, vocabulary: Vocabulary, *, rest: bool) -> PairKind | None:
    """How two words pair, where ``rest`` tells whether the names have more words, which they share."""
    sides, known = vocabulary.sides, vocabulary.pairs
    if {sides.sides.get(one), sides.sides.get(two)} == {"left", "right"}:
        return "sides"
    both = {(one, two), (two, one)}
    if rest and not both.isdisjoint(sides.letters.values()):
        return "sides"
    if not both.isdisjoint(known.microphones) and (rest or len(one) > 1):
        return "microphones"
    if not one or not two:
        return _of_one(one or two, known)
    kinds = (known.concepts.get(one), known.concepts.get(two))
    if "double" in kinds:
        return "doubles"
    if (one.isdigit() and two.isdigit()) or any(one in row and two in row for row in known.numbers):
        return "numbers"
    return "registers" if kinds[0] != kinds[1] and kinds[0] in _REGISTERS and kinds[1] in _REGISTERS else None


def _of_one(added: str, known: PairWords) -> PairKind | None:
    """``Gtr`` and ``Gtr DI``: one performance with a second pick-up; ``Vox`` and ``Vox Oct``: another register."""
    kind = known.concepts.get(added)
    if kind == "double":
        return "doubles"
    if added == "2":
        return "numbers"
    if kind == "second-microphone":
        return "microphones"
    return "registers" if kind in ("high", "octave") else None
