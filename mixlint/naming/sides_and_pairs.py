"""Counterparts by name: the side a name tells, the name without its side or number, and how two names pair."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final, Literal

from mixlint.naming.splitting import MarkKind, Piece, languages_of, pieces, taken_apart, words
from mixlint.naming.vocabulary import SHIPPED, PairWords, Side, Vocabulary
from mixlint.naming.word_lookup import LEAST_CODE, is_word

PairKind = Literal["sides", "numbers", "doubles", "microphones", "registers"]

_REGISTERS: Final = ("high", "low", "middle", "octave")


@lru_cache(maxsize=8192)
def _tokens(name: str, vocabulary: Vocabulary) -> tuple[str, ...]:
    """The texts of a name's pieces."""
    return tuple(piece.text for piece in pieces(name, vocabulary))


@lru_cache(maxsize=8192)
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


ROMAN: Final = frozenset({"i", "v"})
"""Letters for a side that are Roman numbers too."""

MOST_LETTERS: Final = 2
"""More letters in a row, and nothing else, spell a word: ``D R U M``."""


def _side_tokens(name: str, vocabulary: Vocabulary) -> list[tuple[Side, int]]:
    """Each side told in a name with the place of its token."""
    found, known = _tokens(name, vocabulary), vocabulary.sides
    end = len(found)
    while end > 1 and found[end - 1].isdigit():
        end -= 1
    by_language = end > 1 and any(found[end - 1] in row for row in known.letters.values())
    letters = _letters(name, vocabulary) if by_language else {}
    told: list[tuple[Side, int]] = []
    if len(found) > MOST_LETTERS and all(len(text) == 1 and text.isascii() for text in found):
        return []  # a word with spaces between its letters
    for at, text in enumerate(found):
        side = known.sides.get(text)
        if side and _of_a_hand(found, at, known.hands):
            continue
        if len(text) == 1 and at > 0 and found[at - 1] == "in":
            continue  # "Corni in D", "in L": the key that an instrument stands in
        if at == end - 1 and text in letters:
            told.append((letters[text], at))
        elif side and (
            text not in known.not_first | known.last
            or (text in known.not_first and (at > 0 or _tells_role(found[1:])))
            or (text in known.last and 0 < at == end - 1)
        ):
            told.append((side, at))
    return told


def _of_a_hand(found: tuple[str, ...], at: int, hands: frozenset[str]) -> bool:
    """True for the left of ``Piano left hand``: it tells who plays which notes, and not where they are heard."""
    return not hands.isdisjoint(found[max(at - 1, 0) : at + 2])


def _tells_role(rest: tuple[str, ...]) -> bool:
    """``R Rhy Gtr``: the rhythm is told already, so the letter is the side."""
    return bool(rest) and rest[0] in ("rhy", "rhythm", "rtm", "lead", "ld")


def _letters(name: str, vocabulary: Vocabulary) -> dict[str, Side]:
    """Letters and short words that are sides in the languages of the name's own words.

    A letter can mean much, so that a word that is English too does not settle its language; for a word it does.
    """
    spoken, also_spoken = languages_of(name, vocabulary), languages_of(name, vocabulary, plainly=False)
    rows = vocabulary.sides.letters
    letters: dict[str, Side] = {}
    for language, (left, right) in rows.items():
        if language in (spoken if len(left) == len(right) == 1 else also_spoken):
            letters |= {left: "left", right: "right"}
    # Where another language of the name's words has no such side, the letter can be a Roman number: "Corno I".
    return {
        text: side
        for text, side in letters.items()
        if text not in ROMAN or all(text in rows.get(language, ()) for language in spoken)
    }


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
    a, b = pieces(name_a, vocabulary), pieces(name_b, vocabulary)
    if a == b or not a or not b or _marked_apart(name_a, name_b, vocabulary):
        return None
    if _SECTIONS.issuperset(vocabulary.channels.phrases.get(a[0].text, ())):
        a, b = _without_places(a, b)
    only_a, only_b = _difference(a, b)
    if any(piece.text in vocabulary.sides.hands for piece in (*a, *b)) and _of_sides(only_a, only_b, vocabulary):
        return None
    if _words(only_a) or _words(only_b):  # beside words, a microphone's number says only what stood there
        only_a, only_b = _without_codes(only_a), _without_codes(only_b)
    if _of_microphone(a, only_a, vocabulary) and _of_microphone(b, only_b, vocabulary):
        return "microphones"
    one, two = (_without_counts(_texts(only), vocabulary) for only in (only_a, only_b))
    if len(one) <= 1 and len(two) <= 1:
        first, second = (one or ("",))[0], (two or ("",))[0]
        if not _count_alike(a, b, only_a, only_b, vocabulary):
            return None
        kind = _of_words(first, second, vocabulary, rest=len(a) > len(only_a) or len(b) > len(only_b))
        return _of_what_sings(kind, name_a, first, second, vocabulary)
    for added in (one if not two else (), two if not one else ()):
        if len(added) == 2 and added[0] == "x" and added[1] == "2":
            return "doubles"
    return None


def _without_places(a: tuple[Piece, ...], b: tuple[Piece, ...]) -> tuple[tuple[Piece, ...], tuple[Piece, ...]]:
    """Two names without the numbers behind a title they begin with, where they differ elsewhere too: ``Song_01``.

    Such a number says where a channel stands, as one in front of a name does.
    """
    if min(len(a), len(b)) < _LEAST_PIECES or a[0] != b[0] or a[1] == b[1]:
        return a, b
    counted = a[1].kind == b[1].kind == "number"
    rest = (a[0], *a[2:]), (b[0], *b[2:])
    return rest if counted and rest[0] != rest[1] else (a, b)


_LEAST_PIECES: Final = 3
"""A word, its number and something else: a definition."""


def _of_what_sings(kind: PairKind | None, name: str, one: str, two: str, vocabulary: Vocabulary) -> PairKind | None:
    """Up and down of a voice are its registers, and of a synthesiser nothing: no microphones stand there."""
    if kind != "microphones" or vocabulary.pairs.opposite.isdisjoint({(one, two), (two, one)}):
        return kind
    concepts = {concept for word in words(name, vocabulary) for concept in word.concepts}
    if concepts & _SUNG:
        return "registers"
    return None if concepts & {"synth", "synth-part"} else kind


_SUNG: Final = frozenset({"vocal", "lead-vocal", "backing-vocals", "vocal-double"})


def _marked_apart(name_a: str, name_b: str, vocabulary: Vocabulary) -> bool:
    """True for two takes, two versions, two days, and for files stored in two ways."""
    return marks_of_a_pair(name_a, vocabulary) != marks_of_a_pair(name_b, vocabulary)


def marks_of_a_pair(name: str, vocabulary: Vocabulary) -> tuple[frozenset[str] | None, ...]:
    """What a name is marked with that two names have to share to be a pair.

    Args:
        name: a channel's name.
        vocabulary: the words in force.
    """
    marks = taken_apart(name, vocabulary).marks
    return tuple(marks.get(kind) for kind in _SHARED_MARKS)


_SHARED_MARKS: Final[tuple[MarkKind, ...]] = ("take", "version", "date", "storage", "tempo")


def without_its_place(found: tuple[Piece, ...], vocabulary: Vocabulary) -> tuple[Piece, ...]:
    """The pieces of a name without the number behind a title, which may only say where a channel stands: ``Song_01``.

    Args:
        found: the pieces of a name.
        vocabulary: the words in force.
    """
    counted = len(found) >= _LEAST_PIECES and found[1].kind == "number"
    titled = counted and _SECTIONS.issuperset(vocabulary.channels.phrases.get(found[0].text, ()))
    return (found[0], *found[2:]) if titled else found


NOTHING: Final = ""
TIMES_TWO: Final = "x 2"
"""What a difference may come down to beside a word."""


Beside = Literal["words", "figures"]
"""What stands in the other name, where two names differ: with a word in either of them codes do not count."""


def what_may_differ(run: tuple[Piece, ...], vocabulary: Vocabulary) -> Iterator[tuple[bool, Beside, str]]:
    """What a run of a name may come down to, where two names differ in it and pair.

    Args:
        run: some pieces of a name in a row, or none.
        vocabulary: the words in force.

    Yields:
        Whether it has words itself, beside what, and the word that is left of it; nothing where more is left.
    """
    worded = _words(run)
    beside: tuple[Beside, ...] = ("words", "figures") if not worded else ("words",)
    for what in beside:
        texts = _without_counts(_texts(run if what == "figures" else _without_codes(run)), vocabulary)
        if len(texts) <= 1:
            yield worded, what, texts[0] if texts else NOTHING
        elif texts == ("x", "2"):
            yield worded, what, TIMES_TWO


def _texts(found: Sequence[Piece]) -> tuple[str, ...]:
    return tuple(piece.text for piece in found)


def _words(found: Sequence[Piece]) -> bool:
    return any(piece.kind == "word" for piece in found)


def _without_codes(found: Sequence[Piece]) -> tuple[Piece, ...]:
    """The pieces without codes and without numbers that count no parts."""
    return tuple(p for p in found if p.kind == "word" or (p.kind == "number" and int(p.text) < LEAST_CODE))


def _of_sides(only_a: Sequence[Piece], only_b: Sequence[Piece], vocabulary: Vocabulary) -> bool:
    sides = vocabulary.sides.sides
    return any(piece.text in sides for piece in (*only_a, *only_b))


def _count_alike(
    a: Sequence[Piece], b: Sequence[Piece], only_a: Sequence[Piece], only_b: Sequence[Piece], vocabulary: Vocabulary
) -> bool:
    """False where two numbers count no like parts: of sections, strings of an instrument, or devices."""
    if not any(piece.kind == "number" for piece in (*only_a, *only_b)):
        return True
    if any(piece.kind == "number" and int(piece.text) >= LEAST_CODE for piece in (*only_a, *only_b)):
        return False
    counts = [int(piece.text) for piece in (*only_a, *only_b) if piece.kind == "number"]
    if len(counts) == 2 and abs(counts[0] - counts[1]) != 1:
        return False  # the first and the third of several
    known, counted = vocabulary.channels.phrases, vocabulary.pairs.counted
    for found in (a, b):
        for at, piece in enumerate(found):
            if piece.kind != "number":
                continue
            before = found[at - 1].text if at else ""
            after = found[at + 1].text if at + 1 < len(found) else ""
            if piece in (*only_a, *only_b) and vocabulary.pairs.concepts.get(after) == "double":
                return False  # the doubles of two parts
            if after in counted or not _SECTIONS.isdisjoint(known.get(before, ())):
                return False
    return True


_SECTIONS: Final = frozenset({"section", "verse", "chorus"})


def _of_microphone(whole: Sequence[Piece], only: Sequence[Piece], vocabulary: Vocabulary) -> bool:
    """True where two names differ in the number or the height of a microphone alone: ``Gtr Mic 1``, ``Amp Hi``."""
    if len(only) != 1 or not (only[0].kind == "number" or only[0].text in HEIGHTS):
        return False
    at = next(place for place, piece in enumerate(whole) if piece is only[0])
    return at > 0 and whole[at - 1].text in picked_up(vocabulary)


HEIGHTS: Final = frozenset({"hi", "high", "lo", "low"})
"""Words for how high a microphone stands."""


@lru_cache(maxsize=16)
def picked_up(vocabulary: Vocabulary) -> frozenset[str]:
    """The words for a pick-up by itself, without a place: a microphone, an amplifier's, a direct line."""
    known = vocabulary.pairs.concepts
    return frozenset(word for word, kind in known.items() if kind == "second-microphone") | {"mics", "mike"}


def _without_counts(only: tuple[str, ...], vocabulary: Vocabulary) -> tuple[str, ...]:
    """What differs, without what goes without saying.

    ``amp mic`` beside ``di`` is the amp, where a word tells the place; ``mic 1`` beside ``di`` a microphone; ``dt 1`` a
    double.
    """
    if len(only) != 2:
        return only
    said, behind = only
    microphone = behind in ("mic", "mike") and not said.isdigit()
    is_counted = said in picked_up(vocabulary) or vocabulary.pairs.concepts.get(said) == "double"
    return (said,) if microphone or (behind.isdigit() and is_counted) else only


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


def _difference(a: tuple[Piece, ...], b: tuple[Piece, ...]) -> tuple[tuple[Piece, ...], tuple[Piece, ...]]:
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
    if _end_in_sides(one, two, vocabulary):
        return "sides"
    both = {(one, two), (two, one)}
    if rest and not both.isdisjoint(sides.letters.values()):
        return "sides"
    if not both.isdisjoint(known.microphones) and (rest or len(one) > 1):
        return "microphones"
    if rest and _are_places(one, two, known):
        return "microphones"
    if not one or not two:
        return _of_one(one or two, known)
    kinds = (known.concepts.get(one), known.concepts.get(two))
    if "double" in kinds:
        return "doubles"
    if (one.isdigit() and two.isdigit()) or any(one in row and two in row for row in known.numbers):
        return "numbers"
    return "registers" if kinds[0] != kinds[1] and kinds[0] in _REGISTERS and kinds[1] in _REGISTERS else None


def _end_in_sides(one: str, two: str, vocabulary: Vocabulary) -> bool:
    """True for two runs that nobody knows and that differ in a last L and R alone: ``STL`` and ``STR``."""
    if min(len(one), len(two)) < _SHORTEST_RUN or one[:-1] != two[:-1] or {one[-1], two[-1]} != {"l", "r"}:
        return False
    return not (is_word(one, vocabulary) and is_word(two, vocabulary))


_SHORTEST_RUN: Final = 3
"""Letters of a run whose last one is a side: a definition, two letters are a word of their own."""


def _are_places(one: str, two: str, known: PairWords) -> bool:
    """True for two words of one language, or of English beside it, for where a microphone stands or what it hears."""
    if one == two or min(len(one), len(two)) <= 1 or not {one, two}.isdisjoint(known.direct):
        return False
    return any({one, two} <= words | known.english and not {one, two}.isdisjoint(words) for words in known.places)


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
