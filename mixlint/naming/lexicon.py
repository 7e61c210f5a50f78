"""The tables as one dictionary, and the words of a name looked up in it."""

from __future__ import annotations

from functools import lru_cache
from typing import Final, NamedTuple

from mixlint.naming.fold import Token, strip_accents, tokens, without_order_number

_LONGEST_PHRASE: Final = 4
_LINKS: Final = ("", "s", "n", "en", "er", "e")
_ENDINGS: Final = frozenset({"n", "en", "e", "er", "es", "s", "i", "a", "o", "os", "as", "ы", "и", "а", "ов"})
_SHORT_TAILS: Final = frozenset({"in", "out", "di", "fx", "oh", "top", "bot", "amp", "mic"})
_SHORT_PARTS: Final = frozenset(
    {
        "gtr",
        "git",
        "vox",
        "voc",
        "bus",
        "grp",
        "syn",
        "pno",
        "kik",
        "snr",
        "tom",
        "pad",
        "hat",
        "dbl",
        "dly",
        "rhy",
        "bgv",
    }
)
"""Three-letter words that are written joined (``leadvox``, ``rhygtr``); others hide in common words (``monkey``)."""
_NOT_JOINED: Final = frozenset(
    {
        "over",
        "overs",
        "reso",
        "phones",
        "folk",
        "live",
        "ping",
        "pings",
        "info",
        "memo",
        "count",
        "backs",
        "shorts",
        "dist",
    }
)
_COMPOUNDING: Final = frozenset({"de", "nl", "sv"})


class Word(NamedTuple):
    """A word of a name: as written (folded) and the concepts it can mean, in table order."""

    text: str
    concepts: tuple[str, ...]


@lru_cache(maxsize=1)
def _tables() -> tuple[dict[str, tuple[str, ...]], dict[str, tuple[str, ...]]]:
    """Folded phrase to concepts, and the few case-folded words whose accents count."""
    from mixlint.naming.tables.drums import DRUMS
    from mixlint.naming.tables.instruments import INSTRUMENTS
    from mixlint.naming.tables.strips import STRIPS
    from mixlint.naming.tables.voices import PLAYING, VOICES

    plain: dict[str, list[str]] = {}
    exact: dict[str, list[str]] = {}
    for table in (DRUMS, INSTRUMENTS, VOICES, PLAYING, STRIPS):
        for concept, languages in table.items():
            for words in languages.values():
                for word in words.split(", ") if words else ():
                    known, key = (exact, word[1:]) if word[0] == "=" else (plain, strip_accents(word))
                    known.setdefault(key, [])
                    if concept not in known[key]:
                        known[key].append(concept)
    for phrase in [p for p in plain if " " in p]:
        joined = phrase.replace(" ", "")
        # "leadvox" is "lead vox"; joined forms of single letters ("vs") would hide in other words.
        if len(joined) >= 5 and joined not in plain and not joined[0].isdigit():
            plain[joined] = plain[phrase]
    return {k: tuple(v) for k, v in plain.items()}, {k: tuple(v) for k, v in exact.items()}


@lru_cache(maxsize=1)
def _languages() -> dict[str, frozenset[str]]:
    """Folded phrase to the languages it belongs to."""
    from mixlint.naming.tables.drums import DRUMS
    from mixlint.naming.tables.instruments import INSTRUMENTS
    from mixlint.naming.tables.strips import STRIPS
    from mixlint.naming.tables.voices import PLAYING, VOICES

    out: dict[str, set[str]] = {}
    for table in (DRUMS, INSTRUMENTS, VOICES, PLAYING, STRIPS):
        for languages in table.values():
            for language, words in languages.items():
                for word in words.split(", ") if words else ():
                    out.setdefault(strip_accents(word).removeprefix("="), set()).add(language)
    return {k: frozenset(v) for k, v in out.items()}


def languages_of(name: str) -> frozenset[str]:
    """The languages, other than English, that the known words of a name belong to."""
    known = _languages()
    found = [known[w.text] for w in words(name) if w.text in known]
    return frozenset(x for languages in found if "en" not in languages for x in languages)


@lru_cache(maxsize=1)
def ambiguous() -> dict[str, tuple[str, ...]]:
    """Words with several readings in one language: the roles each can mean."""
    from mixlint.naming.tables.instruments import AMBIGUOUS_INSTRUMENTS

    return AMBIGUOUS_INSTRUMENTS


def _known(text: str) -> tuple[str, ...]:
    plain, _ = _tables()
    found = plain.get(text)
    if found is None and text in ambiguous():
        found = ("ambiguous",)
    if found is None and len(text) >= 5 and text.endswith("s"):
        found = plain.get(text[:-1])
    return found or ()


def _joins(text: str) -> bool:
    """True for a word that is met as a part of a compound."""
    return (len(text) >= 4 or text in _SHORT_PARTS) and text not in _NOT_JOINED and bool(_known(text))


def ends_in_side(text: str) -> bool:
    """True when a last ``l`` or ``r`` can be a side (``gtrl``); after ``e`` and ``a`` it is an ending (``sampler``)."""
    return len(text) >= 4 and text[-1] in "lr" and text[-2] not in "ea"


def _compound(text: str, depth: int = 0) -> tuple[Word, ...] | None:
    """A run made of known words (``Akustikgitarre``, ``leadvox``): its parts, or None."""
    for at in range(len(text) - 1, 2, -1):
        head = text[:at]
        if at == len(text) - 1 and ends_in_side(text) and _known(head):
            return (Word(head, _known(head)), Word(text[at], ()))
        if not _joins(head):
            continue
        for link in _LINKS:
            rest = text[at + len(link) :]
            if not rest or not text.startswith(link, at) or (link and len(rest) < 4):
                continue
            if _joins(rest) or (at >= 4 and rest in _SHORT_TAILS):
                return (Word(head, _known(head)), Word(rest, _known(rest)))
            if depth < 3 and (tail := _compound(rest, depth + 1)):
                return (Word(head, _known(head)), *tail)
    return None


def _japanese(text: str) -> tuple[Word, ...]:
    """Longest known words from the left; what is not known is passed over."""
    out: list[Word] = []
    at = 0
    while at < len(text):
        for end in range(min(len(text), at + 12), at, -1):
            if known := _known(text[at:end]):
                out.append(Word(text[at:end], known))
                at = end
                break
        else:
            at += 1
    return tuple(out) or (Word(text, ()),)


@lru_cache(maxsize=8192)
def _single(token: Token) -> tuple[Word, ...]:
    exact = _tables()[1]
    if token.exact in exact:
        return (Word(token.plain, exact[token.exact]),)
    if known := _known(token.plain):
        return (Word(token.plain, known),)
    text = token.plain
    if len(text) < 3 or text.isdigit():
        return (Word(text, ()),)
    if "\u3040" <= text[0] <= "\u9fff":
        return _japanese(text)
    if len(text) <= 40 and (parts := _compound(text)):
        return parts
    if len(token.camel) > 1:
        return tuple(w for piece in token.camel for w in _single(Token(piece, piece)))
    return _inflected(text) or (Word(text, ()),)


def _inflected(text: str) -> tuple[Word, ...] | None:
    """A known word with an ending (``Gitarren``), or as the last part of a compound with another (``Blockflöte``)."""
    plain = _tables()[0]
    languages = _languages()
    for at in range(len(text) - 1, max(4, len(text) - 3), -1):
        head, ending = text[:at], text[at:]
        if ending in _ENDINGS and head in plain and (ending == "es" or languages.get(head, frozenset()) - {"en"}):
            return (Word(text, plain[head]),)
    for at in range(3, min(len(text) - 4, 20)):
        tail = text[at:]
        if tail in plain and languages.get(tail, frozenset()) & _COMPOUNDING and "en" not in languages[tail]:
            return (Word(tail, plain[tail]),)
    return None


@lru_cache(maxsize=8192)
def words(name: str) -> tuple[Word, ...]:
    """The words of a name in order, longest phrases first; a leading order number is left out."""
    return words_of(numberless(tokens(name)))


def numberless(found: tuple[Token, ...]) -> tuple[Token, ...]:
    """The tokens without a leading order number, unless it is part of a known word such as ``808`` or ``2 bus``."""
    plain = _tables()[0]
    if found and (found[0].plain in plain or " ".join(t.plain for t in found[:2]) in plain):
        return found
    return without_order_number(found)


@lru_cache(maxsize=8192)
def words_of(found: tuple[Token, ...]) -> tuple[Word, ...]:
    """The words that some tokens make."""
    plain, _ = _tables()
    texts = [t.plain for t in found]
    out: list[Word] = []
    at = 0
    while at < len(found):
        for size in range(min(_LONGEST_PHRASE, len(found) - at), 1, -1):
            phrase = " ".join(texts[at : at + size])
            if phrase in plain:
                out.append(Word(phrase, plain[phrase]))
                at += size
                break
        else:
            out.extend(_single(found[at]))
            at += 1
    return tuple(out)
