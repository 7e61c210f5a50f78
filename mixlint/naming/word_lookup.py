"""The words of a name, looked up in a vocabulary."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from mixlint.naming.fold import Token, tokens, without_order_number
from mixlint.naming.runs import is_unspaced, pieces_of_run
from mixlint.naming.vocabulary import LONGEST_PHRASE, ChannelWords, Vocabulary


class Word(NamedTuple):
    """A word of a name: as written (folded) and the concepts it can mean, in the order of the word files."""

    text: str
    concepts: tuple[str, ...]


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


def _known(text: str, known: ChannelWords) -> tuple[str, ...]:
    found = known.phrases.get(text)
    if found is None and text in known.roles:
        found = ("ambiguous",)
    if found is None and len(text) >= 5 and text.endswith("s"):
        found = known.phrases.get(text[:-1])
    return found or ()


def _joins(text: str, known: ChannelWords) -> bool:
    """True for a word that is met as a part of a compound."""
    joined = known.compounds
    return (len(text) >= 4 or text in joined.short) and text not in joined.whole and bool(_known(text, known))


def ends_in_side(text: str) -> bool:
    """True when a last ``l`` or ``r`` can be a side (``gtrl``); after ``e`` and ``a`` it is an ending (``sampler``)."""
    return len(text) >= 4 and text[-1] in "lr" and text[-2] not in "ea"


def _compound(text: str, known: ChannelWords, depth: int = 0) -> tuple[Word, ...] | None:
    """A run made of known words (``Akustikgitarre``, ``leadvox``): its parts, or None."""
    for at in range(len(text) - 1, 2, -1):
        head = text[:at]
        if at == len(text) - 1 and ends_in_side(text) and _known(head, known):
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
    if len(text) <= 40 and (parts := _compound(text, known)):
        return parts
    if len(token.camel) > 1:
        return tuple(w for piece in token.camel for w in _single(Token(piece, piece), known))
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


@lru_cache(maxsize=8192)
def words(name: str, vocabulary: Vocabulary) -> tuple[Word, ...]:
    """The words of a name in order, longest phrases first; a leading order number is left out.

    Args:
        name: a channel's name.
        vocabulary: the words in force.

    Returns:
        Every run of the name as a word; one that is not known has no concepts. Empty for a name without letters and
        digits.
    """
    return words_of(numberless(tokens(name), vocabulary), vocabulary)


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
    texts = [t.plain for t in found]
    out: list[Word] = []
    at = 0
    while at < len(found):
        for size in range(min(LONGEST_PHRASE, len(found) - at), 1, -1):
            phrase = " ".join(texts[at : at + size])
            if phrase in known.phrases:
                out.append(Word(phrase, known.phrases[phrase]))
                at += size
                break
        else:
            out.extend(_single(found[at], known))
            at += 1
    return tuple(out)
