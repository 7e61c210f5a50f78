"""The words of a name, looked up in a vocabulary."""

from __future__ import annotations

from functools import lru_cache
from typing import Final, NamedTuple

from mixlint.naming.fold import Token, without_order_number
from mixlint.naming.runs import LONGEST_END, is_unspaced, pieces_of_run
from mixlint.naming.vocabulary import LONGEST_PHRASE, ChannelWords, Vocabulary


class Word(NamedTuple):
    """A word of a name: as written (folded) and the concepts it can mean, in the order of the word files."""

    text: str
    concepts: tuple[str, ...]


_NO_S: Final = frozenset({"pl", "ru", "sr", "cs", "sk", "fi", "el", "tr", "ja", "ko", "zh", "it", "sv", "no", "da"})
"""Languages whose words are not made many by an ``s``: ``glass`` is no Slavic voice."""


def _known(text: str, known: ChannelWords) -> tuple[str, ...]:
    found = known.phrases.get(text)
    if found is None and text in known.roles:
        found = ("ambiguous",)
    if found is None and len(text) >= 5 and text.endswith("s") and not known.languages.get(text[:-1], _NO_S) <= _NO_S:
        found = known.phrases.get(text[:-1])
    return found or ()


def _joins(text: str, known: ChannelWords) -> bool:
    """True for a word that is met as a part of a compound."""
    joined = known.compounds
    return (len(text) >= 4 or text in joined.short) and text not in joined.whole and bool(_known(text, known))


def ends_in_side(text: str) -> bool:
    """True when a last ``l`` or ``r`` can be a side (``gtrl``); after ``e`` and ``a`` it is an ending (``sampler``)."""
    return len(text) >= 4 and text[-1] in "lr" and text[-2] not in "ea"


_NO_SIDE: Final = frozenset(
    {"reference", "guide", "click", "cue", "talkback", "section", "verse", "chorus", "mic", "live", "demo", "print"}
)
"""Concepts of words that have no side: ``refr`` is no right reference."""


def _compound(text: str, known: ChannelWords, depth: int = 0) -> tuple[Word, ...] | None:
    """A run made of known words (``Akustikgitarre``, ``leadvox``): its parts, or None."""
    for at in range(len(text) - 1, 2, -1):
        head = text[:at]
        if at == len(text) - 1 and ends_in_side(text) and not _NO_SIDE.issuperset(_known(head, known)):
            return (Word(head, _known(head, known)), Word(text[at], ()))
        if not _joins(head, known):
            continue
        for link in known.compounds.links:
            rest = text[at + len(link) :]
            if not rest or not text.startswith(link, at) or (link and len(rest) < 4):
                continue
            if _joins(rest, known) or (at >= 4 and rest in known.compounds.tails):
                return (Word(head, _known(head, known)), Word(rest, _known(rest, known)))
            if depth < 3 and (tail := _compound(rest, known, depth + 1)):
                return (Word(head, _known(head, known)), *tail)
    return None


def is_word_of_run(text: str, known: ChannelWords) -> bool:
    """True for a word of a channel's name, or for a side, by which a run without spaces is taken apart."""
    return text in known.sides or bool(_known(text, known))


def _of_run(text: str, known: ChannelWords) -> tuple[Word, ...]:
    """The known words of a run without spaces; what is not known is passed over."""
    pieces = pieces_of_run(text, lambda piece: is_word_of_run(piece, known))
    found = (Word(piece, _known(piece, known)) for piece, is_word in pieces if is_word)
    return tuple(word for word in found if word.concepts) or (Word(text, ()),)


@lru_cache(maxsize=8192)
def _single(token: Token, known: ChannelWords) -> tuple[Word, ...]:
    if token.exact in known.exact:
        return (Word(token.plain, known.exact[token.exact]),)
    if concepts := _known(token.plain, known):
        return (Word(token.plain, concepts),)
    text = token.plain
    if is_unspaced(text[0]):
        return _of_run(text, known)
    if len(text) < 3 or text.isdigit():
        return (Word(text, ()),)
    if len(text) == 3 and _ends_in_letter(text, known):
        return (Word(text[:2], _known(text[:2], known)), Word(text[2], ()))
    if len(text) <= 40 and (parts := _compound(text, known)):
        return parts
    return _inflected(text, known) or (Word(text, ()),)


def _inflected(text: str, known: ChannelWords) -> tuple[Word, ...] | None:
    """A known word with an ending (``Gitarren``), or as the last part of a compound with another (``Blockflöte``)."""
    plain, languages, joined = known.phrases, known.languages, known.compounds
    for at in range(len(text) - 1, max(4, len(text) - 4), -1):
        head, ending = text[:at], text[at:]
        if ending in joined.endings and head in plain and (ending == "es" or languages.get(head, frozenset()) - {"en"}):
            return (Word(text, plain[head]),)
    for at in range(3, min(len(text) - 4, 20)):
        tail = text[at:]
        if tail in plain and languages.get(tail, frozenset()) & joined.languages and "en" not in languages[tail]:
            return (Word(tail, plain[tail]),)
    return None


def is_word(text: str, vocabulary: Vocabulary) -> bool:
    """True for one run of letters that is a known word as it stands."""
    return bool(_known(text, vocabulary.channels)) or text in vocabulary.channels.exact


@lru_cache(maxsize=8192)
def parts_of_run(token: Token, vocabulary: Vocabulary) -> tuple[str, ...]:
    """The texts of one run of letters that was written together from several: ``snare``, ``down`` of ``SnareDown``.

    Args:
        token: the run.
        vocabulary: the words in force.

    Returns:
        The run itself where it is one known word, a side, or nothing that is known.
    """
    text, known, sides = token.plain, vocabulary.channels, vocabulary.sides.sides
    if text in sides or len(text) < 2:
        return (text,)
    if is_unspaced(text[0]):
        return _with_ends_apart(text, vocabulary)
    if text in known.joined:
        return tuple(known.joined[text].split())
    if is_word(text, vocabulary) or token.exact in known.exact:
        return (text,)
    if len(token.camel) > 1 and all(len(piece) > 1 or piece in sides for piece in token.camel[1:]):
        return tuple(part for piece in token.camel for part in parts_of_run(Token(piece, piece), vocabulary))
    if _ends_in_letter(text, known):
        return (*parts_of_run(Token(text[:-1], text[:-1]), vocabulary), text[-1])
    if text[0] in "lr" and len(text) >= 4 and is_word(text[1:], vocabulary):
        return (text[0], text[1:])
    if len(text) <= 40 and text.isalpha() and (parts := _compound(text, known)):
        return tuple(part.text for part in parts)
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


def _ends_in_letter(text: str, known: ChannelWords) -> bool:
    """True for a known word with L or R behind it: ``gtrl``, ``ohr``; a short one is one for what is played."""
    concepts = _known(text[:-1], known) if text[-1] in "lr" else ()
    return bool(concepts) and (ends_in_side(text) or (len(text) == 3 and not _SHORT_WORDS.isdisjoint(concepts)))


_SHORT_WORDS: Final = frozenset(
    {"overheads", "acoustic-guitar", "electric-guitar", "guitar", "backing-vocals", "room", "hi-hat", "vocal"}
)
"""Concepts whose words of two letters are met with a side behind them."""


def numberless(found: tuple[Token, ...], vocabulary: Vocabulary) -> tuple[Token, ...]:
    """The tokens without a leading order number, unless it is part of a known word such as ``808`` or ``2 bus``."""
    known = vocabulary.channels.phrases
    if found and (found[0].plain in known or " ".join(t.plain for t in found[:2]) in known):
        return found
    return without_order_number(found)


@lru_cache(maxsize=8192)
def words_of(found: tuple[Token, ...], vocabulary: Vocabulary) -> tuple[Word, ...]:
    """The words that some tokens make: the longest phrases from the left, then single words and their parts."""
    known = vocabulary.channels
    found = tuple(piece for token in found for piece in _camel_apart(token, known))
    texts = [t.plain for t in found]
    out: list[Word] = []
    at = 0
    while at < len(found):
        if size := code_at(found, at, known):
            out.append(Word("".join(texts[at : at + size]), ()))
            at += size
            continue
        ahead = (
            size for size in range(1, LONGEST_PHRASE) if at + size < len(found) and code_at(found, at + size, known)
        )
        for size in range(min(LONGEST_PHRASE, len(found) - at, next(ahead, LONGEST_PHRASE)), 1, -1):
            phrase = " ".join(texts[at : at + size])
            if phrase in known.phrases and not (found[at].joined and texts[at].isdigit()):
                out.append(Word(phrase, known.phrases[phrase]))
                at += size
                break
        else:
            out.extend(_single(found[at], known))
            at += 1
    return tuple(out)


def _camel_apart(token: Token, known: ChannelWords) -> tuple[Token, ...]:
    """The pieces of a run that is no known word itself and is made of some, so that phrases are found across them."""
    if len(token.camel) < 2 or _known(token.plain, known) or token.exact in known.exact:
        return (token,)
    if not any(_known(piece, known) for piece in token.camel):
        return (token,)
    return tuple(Token(piece, piece) for piece in token.camel)


LEAST_CODE: Final = 20
"""From so high a number on, letters before it are a device's: nobody counts so many like parts. A definition."""


def code_at(found: tuple[Token, ...], at: int, known: ChannelWords) -> int:
    """How many tokens from here on are the name of a device: a few letters and a number joined to them; 0 for none."""
    if at + 1 >= len(found) or found[at].plain.isdigit() or not found[at + 1].joined:
        return 0
    letters, number = found[at].plain, found[at + 1].plain
    if found[at].joined or not number.isdigit() or len(letters) > 3 or len(found) < 3:
        return 0
    if int(number[:9]) < LEAST_CODE or (len(letters) > 2 and _known(letters, known)):
        return 0
    behind = at + 2 < len(found) and found[at + 2].joined and not found[at + 2].plain.isdigit()
    return 3 if behind and len(found[at + 2].plain) <= 2 else 2
