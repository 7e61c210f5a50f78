"""What the comment of a channel says of it: that it stays out of the mix, closed for a time, on which side, how set.

A comment is read part by part, as commas, full stops and dashes divide it. What is said for a verse or a bar only, of
another channel or of a processor, is no word on the whole channel.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final, Literal, NamedTuple

from mixlint.naming.fold import as_read
from mixlint.naming.runs import any_word
from mixlint.naming.vocabulary import SHIPPED, Side, Vocabulary

Kept = Literal["out", "unconnected"]
"""What a channel is by its note: not for the mix, or without an output."""

_PARTS: Final = re.compile(
    r"[;()\[\]!?\n—–|。、，；]+|->|→|\s-\s|:(?!\d)|(?<!\d):|,(?!\d)|(?<!\d),|\.(?!\d)|(?<=\D)\.(?=\s)"
)
"""What divides a comment into parts; a comma or a full stop within a number does not."""

_SENTENCES: Final = re.compile(r"[;\n|。；]+|\.(?!\d)")

MOST_BEFORE: Final = 4
"""So many words may stand before what a part of a comment says of the channel; behind more it is said of another."""


@lru_cache(maxsize=1024)
def parts_of(comment: str) -> tuple[str, ...]:
    """The parts of a comment as names are read, in order, without empty ones."""
    return tuple(read for part in _PARTS.split(comment) if (read := as_read(part)))


def _written(comment: str) -> list[tuple[str, str]]:
    """The parts of a comment as they are written, each with how it is read."""
    return [(part.strip(), read) for part in _PARTS.split(comment) if (read := as_read(part))]


def sentences_of(comment: str) -> tuple[str, ...]:
    """The sentences of a comment as they are written: commas divide none."""
    return tuple(part.strip() for part in _SENTENCES.split(comment) if as_read(part))


@lru_cache(maxsize=64)
def _pattern(vocabulary: Vocabulary, *concepts: str) -> re.Pattern[str]:
    """Any of the words of some marks among the words of a text; those of a script without spaces within a run too."""
    words = (as_read(word) for concept in concepts for word in vocabulary.marks.get(concept, ()))
    return re.compile(any_word(words, "(?:(?<=^)|(?<= ))", "(?= |$)"))


def says_any(read: str, concept: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """The first word of a mark in a text that :func:`~mixlint.naming.fold.as_read` has taken apart, or none."""
    found = _pattern(vocabulary, concept).search(read)
    return found.group(0) if found else ""


def names_processor(read: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True where a text names a processor or an effect, which it may then speak of."""
    known, takes = vocabulary.processors, vocabulary.marks.get("take", frozenset())
    return any(
        (word in known.phrases or word in known.exact)
        and word not in takes
        and known.uses.get(word, frozenset()).isdisjoint(_EVERYDAY)
        for word in read.split()
    )


_EVERYDAY: Final = frozenset({"weak", "plain", "vague"})
"""How a word of processors is used that says other things too: a fade, a level."""


@lru_cache(maxsize=4096)
def kept_out(comment: str, vocabulary: Vocabulary = SHIPPED) -> tuple[Kept, str] | None:
    """Whether a comment says that its channel is not for the mix, or has no output, with the part that says so."""
    parts = _written(comment)
    for written, read in parts:
        if _said_of_the_whole(read, "kept-out", vocabulary) or _put_together(read, vocabulary):
            return "out", written
    of_a_processor = any(names_processor(read, vocabulary) for _, read in parts)
    for written, read in () if of_a_processor else parts:
        alone = _only(vocabulary, "kept-out-alone", "kept-out-filler").fullmatch(read)
        if alone and says_any(read, "kept-out-alone", vocabulary):
            return "out", written
    for written, read in parts[:1]:
        first = _pattern(vocabulary, "kept-out-name").match(read)
        if first and _of_the_whole(read, *first.span(), vocabulary):
            return "out", written
    for written, read in parts:
        if _said_of_the_whole(read, "no-output", vocabulary):
            return "unconnected", written
    return None


def _said_of_the_whole(read: str, concept: str, vocabulary: Vocabulary) -> bool:
    found = _pattern(vocabulary, concept).search(read)
    return found is not None and _of_the_whole(read, *found.span(), vocabulary)


def _put_together(read: str, vocabulary: Vocabulary) -> bool:
    """True where a part of a comment denies a use, or keeps the channel muted, in words of its own."""
    for denied in _pattern(vocabulary, "use-denied").finditer(read):
        for use in _pattern(vocabulary, "use").finditer(read, denied.end()):
            between = read[denied.end() : use.start()].split()
            small = vocabulary.marks.get("small-word", frozenset()) | vocabulary.marks.get("use", frozenset())
            if all(word in small for word in between):
                return _of_the_whole(read, denied.start(), use.end(), vocabulary)
    keeps = _pattern(vocabulary, "keep").search(read)
    muted = _pattern(vocabulary, "muted").search(read)
    if keeps is None or muted is None or len(read.split()) > MOST_BEFORE:
        return False
    last = keeps if keeps.end() > muted.end() else muted
    return _of_the_whole(read, *last.span(), vocabulary)


def named_out_of_mix(name: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """The word by which the name of a channel keeps it out of the mix: ``scorta`` of ``Dario scorta``, or none."""
    return says_any(as_read(name), "kept-out-name", vocabulary)


def _of_the_whole(part: str, start: int, end: int, vocabulary: Vocabulary) -> bool:
    """True where the words from one letter to another of a comment's part are said of the channel, at all times."""
    before = part[:start]
    rest = _pattern(vocabulary, "the-mix").sub(" ", part[end:])
    if len(before.split()) > MOST_BEFORE or names_processor(before, vocabulary):
        return False
    if before and _pattern(vocabulary, "another-one").match(before):
        return False
    if _pattern(vocabulary, "use").search(part[start:end]) and _has_object(rest, vocabulary):
        return False
    timed = any(char.isdigit() for char in rest) or _pattern(vocabulary, "for-a-time").search(" ".join(rest.split()))
    return not timed


def _has_object(rest: str, vocabulary: Vocabulary) -> bool:
    """True where words behind a verb name what it is done to: the room, too much of an effect, not the channel."""
    small = vocabulary.marks.get("small-word", frozenset()) | vocabulary.marks.get("kept-out-filler", frozenset())
    return any(word not in small for word in rest.split())


@lru_cache(maxsize=64)
def _only(vocabulary: Vocabulary, *concepts: str) -> re.Pattern[str]:
    """A text that holds words of some marks and nothing else."""
    words = sorted(
        (as_read(word) for concept in concepts for word in vocabulary.marks.get(concept, ())),
        key=lambda word: (-len(word), word),
    )
    return re.compile(rf"(?:(?:{'|'.join(map(re.escape, words))})(?: |$))+")


@lru_cache(maxsize=4096)
def straight_to_mix(comment: str, mix: str = "", vocabulary: Vocabulary = SHIPPED) -> str:
    """The part of a comment by which its channel goes straight out to the mix; empty where none says so.

    Args:
        comment: the comment.
        mix: the name of the session's mix bus, which counts beside the usual ones.
        vocabulary: the words in force.
    """
    named = as_read(mix)
    for written, part in _written(comment):
        target = "|".join(filter(None, (_pattern(vocabulary, "mix-as-target").pattern, re.escape(named))))
        for goes in _pattern(vocabulary, "straight").finditer(part):
            before, behind = part[: goes.start()], part[goes.end() :]
            if _pattern(vocabulary, "denied").search(before) or len(before.split()) > MOST_BEFORE:
                continue
            there = re.compile(rf"(?:{target})(?= |$)").search(behind)
            if there and _is_small(behind[: there.start()], vocabulary) and _lasts(behind[there.end() :], vocabulary):
                return written
    return ""


def kept_past(comment: str, group: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """The part of a comment that says that its channel does not pass a group of a name; empty where none does."""
    name = as_read(group)
    for written, part in _written(comment) if name else ():
        denied = _pattern(vocabulary, "denied").search(part)
        for passing in _pattern(vocabulary, "passing").finditer(part, denied.end()) if denied else ():
            there = re.compile(rf"(?<= ){re.escape(name)}(?= |$)").search(part, passing.end())
            if there and _is_small(part[passing.end() : there.start()], vocabulary) and not part[there.end() :]:
                return written
    return ""


def names_the_mix(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True for a strip that is called by a usual name of the mix and nothing else."""
    return _pattern(vocabulary, "mix-as-target").fullmatch(as_read(name)) is not None


def _is_small(words: str, vocabulary: Vocabulary) -> bool:
    small = vocabulary.marks.get("small-word", frozenset()) | vocabulary.marks.get("passing", frozenset())
    return all(word in small for word in words.split())


def _lasts(rest: str, vocabulary: Vocabulary) -> bool:
    """True where words behind a saying limit it to no time or place of the song."""
    return not (any(char.isdigit() for char in rest) or _pattern(vocabulary, "for-a-time").search(rest))


@lru_cache(maxsize=4096)
def open_for_a_time(comment: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """The part of a comment by which its channel is open for a time only, or closed for one; empty where it is not."""
    for written, part in _written(comment):
        found = _pattern(vocabulary, "open-for-a-time").search(part)
        if found and len(part[: found.start()].split()) <= 1 and not names_processor(part, vocabulary):
            return written
    return ""


@lru_cache(maxsize=4096)
def fade_noted(comment: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """The part of a comment by which its channel fades at a place of the song; empty where none says so."""
    for written, part in _written(comment):
        found = _pattern(vocabulary, "fade-noted").search(part)
        if found is None or len(part[: found.start()].split()) > 1 or names_processor(part, vocabulary):
            continue
        # A bare word may be a wish or a name; words behind it tell the place.
        if part[found.end() :].strip() and not _pattern(vocabulary, "denied").search(part):
            return written
    return ""


@lru_cache(maxsize=4096)
def noted_place(comment: str, vocabulary: Vocabulary = SHIPPED) -> Side | Literal["centre"] | None:
    """Where a comment places its channel: left, right, in the middle; None where it does not, or names several."""
    sides = vocabulary.sides.sides
    told: set[Side | Literal["centre"]] = set()
    named: set[str] = set()
    for part in parts_of(comment):
        words = part.split()
        named |= {sides[word] for word in words if word in sides}
        middle = [found for found in _pattern(vocabulary, "in-the-middle").finditer(part) if found.end() == len(part)]
        if middle and not _pattern(vocabulary, "for-a-time").search(part[: middle[0].start()]):
            told.add("centre")
        side = sides.get(words[-1]) or _other_side(part, vocabulary)
        if side and len(words[-1]) > 2 and _is_a_place(words, vocabulary):
            told.add(side)
    if len(told) != 1 or len(named) > 1 or (named and "centre" in told):
        return None
    return told.pop()


def _other_side(part: str, vocabulary: Vocabulary) -> Side | None:
    """The side in which a part of a comment ends by words that names do not use."""
    ends: tuple[tuple[str, Side], ...] = (("noted-left", "left"), ("noted-right", "right"))
    for concept, side in ends:
        if any(found.end() == len(part) for found in _pattern(vocabulary, concept).finditer(part)):
            return side
    return None


def _is_a_place(words: list[str], vocabulary: Vocabulary) -> bool:
    """True for words that end in a side, where that word can mean nothing else: ``left`` of ``two left`` does."""
    before = " ".join(words[:-1])
    if any(char.isdigit() for char in before) or (len(words) > 1 and words[-2] in _OF_THE_STAGE):
        return False
    if words[-1] not in _MORE_THAN_A_SIDE or not before:
        return True
    lead = [found for found in _pattern(vocabulary, "side-lead").finditer(before) if found.end() == len(before)]
    return bool(lead)


@lru_cache(maxsize=4096)
def noted_pan(comment: str, vocabulary: Vocabulary = SHIPPED) -> tuple[float, str] | None:
    """The pan that a comment gives by a figure, −100 … +100, as it is read; None where it gives none, or several."""
    sides = vocabulary.sides.sides
    found: dict[float, str] = {}
    for part in parts_of(comment):
        for match in _PAN.finditer(part):
            word, value = match[1] or match[4], float(match[2] or match[3])
            side = sides.get(word)
            # A letter beside a small number is a take, a return or a string: L 2, R 1.
            if side is None or value > 100.0 or (len(word) == 1 and value < 10.0):
                continue
            found[value if side == "right" else -value] = match.group(0)
    return next(iter(found.items())) if len(found) == 1 else None


_PAN: Final = re.compile(r"(?:\b([^\W\d_]+) (\d{1,3})|\b(\d{1,3}) ([^\W\d_]+))\b(?! (?:ms|db|hz|khz|m|cm|s)\b)")
"""A number beside a word, which may be a side."""

_MORE_THAN_A_SIDE: Final = frozenset({"left", "right"})
"""Words for a side that are verbs and adverbs too, so that a word of place has to stand before them."""

_OF_THE_STAGE: Final = frozenset({"stage", "from", "von", "od", "van", "da", "dal", "desde", "depuis", "fran", "от"})
"""Before a side these make it one of the stage, or where something is counted from."""


@lru_cache(maxsize=1024)
def cut_out_of(comment: str, vocabulary: Vocabulary = SHIPPED) -> tuple[frozenset[str], tuple[float, ...]]:
    """The words and the times in seconds of the sentences by which a comment says that something is cut out."""
    words: set[str] = set()
    times: list[float] = []
    for sentence in sentences_of(comment):
        parts = parts_of(sentence)
        ends = (found.end() == len(part) for part in parts for found in _pattern(vocabulary, "cut-out").finditer(part))
        if any(ends):
            words |= {word for part in parts for word in part.split()}
            times += [60.0 * int(minutes) + int(seconds) for minutes, seconds in _TIME.findall(sentence)]
    return frozenset(words), tuple(times)


_TIME: Final = re.compile(r"(?<![\d:.,])(\d{1,2}):([0-5]\d)(?![\d:])")


def switch_in(read: str, vocabulary: Vocabulary = SHIPPED) -> Literal["on", "off"] | None:
    """Whether a part of a comment, or a processor's name, ends by saying that something is on, or off, at all times."""
    found: set[Literal["on", "off"]] = set()
    plain = " ".join(_pattern(vocabulary, "the-mix").sub(" ", read).split())
    for concept, state in _SWITCHED:
        for one in _pattern(vocabulary, concept).finditer(plain):
            before = plain[: one.start()]
            timed = any(char.isdigit() for char in before) or _pattern(vocabulary, "denied").search(before)
            if one.end() == len(plain) and not timed:
                found.add(state)
    return found.pop() if len(found) == 1 else None


_SWITCHED: Final[tuple[tuple[str, Literal["on", "off"]], ...]] = (("switched-on", "on"), ("switched-off", "off"))


class Figure(NamedTuple):
    """A number with its unit in a comment.

    Args:
        value: the number, in ``unit``; without a sign it is positive.
        signed: whether a sign stands before it.
        decimals: how many digits stand behind its point.
        unit: ms, s, dB, Hz, % or empty.
        before, after: the words of its part of the comment beside it, as names are read.
        text: the number as it is written.
    """

    value: float
    signed: bool
    decimals: int
    unit: str
    before: str
    after: str
    text: str


_FIGURE: Final = re.compile(
    r"(?<![\w.,:/])([+\-−–]?)(\d{1,6}(?:[.,]\d{1,3})?)\s?(ms|msec|мс|s|sec|sek|dbtp|dbfs|db|дб|khz|кгц|hz|гц|%)?(?![\w:/])",
    re.IGNORECASE,
)
_UNITS: Final[dict[str, tuple[str, float]]] = {
    "ms": ("ms", 1.0), "msec": ("ms", 1.0), "мс": ("ms", 1.0), "s": ("s", 1.0), "sec": ("s", 1.0), "sek": ("s", 1.0),
    "dbtp": ("dBTP", 1.0), "dbfs": ("dBFS", 1.0), "db": ("dB", 1.0), "дб": ("dB", 1.0),
    "khz": ("Hz", 1000.0), "кгц": ("Hz", 1000.0), "hz": ("Hz", 1.0), "гц": ("Hz", 1.0), "%": ("%", 1.0),
}  # fmt: skip
_PIECES: Final = re.compile(r"[;()\[\]!?\n—–|。、，；]+(?![\d.,]+)|->|→|\s-\s|:(?!\d)|,(?!\d)|\.(?!\d)")


@lru_cache(maxsize=1024)
def figures_in(comment: str) -> tuple[Figure, ...]:
    """The numbers of a comment, each with what stands beside it in its part."""
    found = []
    for piece in _PIECES.split(comment):
        for match in _FIGURE.finditer(piece or ""):
            sign, number, unit = match.groups()
            name, times = _UNITS.get((unit or "").casefold(), ("", 1.0))
            value = float(number.replace(",", ".")) * times * (-1.0 if sign in ("-", "−", "–") and sign else 1.0)
            decimals = len(re.split(r"[.,]", number)[1]) if re.search(r"[.,]", number) else 0
            before, after = as_read(piece[: match.start()]), as_read(piece[match.end() :])
            found.append(Figure(value, bool(sign), decimals, name, before, after, match.group(0).strip()))
    return tuple(found)


def named_beside(figure: Figure, concept: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True where a word of a mark stands right beside a number, or one small word from it: ``ceiling at -1``."""
    pattern = _pattern(vocabulary, concept)
    before, after = figure.before, figure.after
    for found in pattern.finditer(before):
        if len(before[found.end() :].split()) <= 1:
            return True
    first = pattern.search(after)
    return bool(first and first.start() == 0)


def is_about(figure: Figure, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True where a number is only a bound or a rough one: ``max 15 ms``."""
    found = [one for one in _pattern(vocabulary, "about").finditer(figure.before) if one.end() == len(figure.before)]
    return bool(found)
