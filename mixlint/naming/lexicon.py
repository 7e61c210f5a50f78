"""The tables as one dictionary, and the words of a name looked up in it."""

from __future__ import annotations

from functools import lru_cache
from typing import Final, NamedTuple

from mixlint.naming.fold import Token, strip_accents, tokens, without_order_number

_LONGEST_PHRASE: Final = 4
_LINKS: Final = ("", "s", "n", "en", "er", "e")
_ENDINGS: Final = frozenset({"n", "en", "e", "er", "es", "s", "i", "a", "o", "os", "as", "ы", "и", "а", "ов"})
_SHORT_TAILS: Final = frozenset({"in", "out", "di", "fx", "oh", "top", "bot", "amp", "mic"})


class Word(NamedTuple):
    """A word of a name: as written (folded) and the concepts it can mean, in table order."""

    text: str
    concepts: tuple[str, ...]


@lru_cache(maxsize=1)
def _tables() -> tuple[dict[str, tuple[str, ...]], dict[str, tuple[str, ...]]]:
    """Folded phrase to concepts, and the few case-folded words whose accents count."""
    from mixlint.naming.tables.instruments import INSTRUMENTS
    from mixlint.naming.tables.strips import STRIPS
    from mixlint.naming.tables.voices import PLAYING, VOICES

    plain: dict[str, list[str]] = {}
    exact: dict[str, list[str]] = {}
    for table in (INSTRUMENTS, VOICES, PLAYING, STRIPS):
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
    from mixlint.naming.tables.instruments import INSTRUMENTS
    from mixlint.naming.tables.strips import STRIPS
    from mixlint.naming.tables.voices import PLAYING, VOICES

    out: dict[str, set[str]] = {}
    for table in (INSTRUMENTS, VOICES, PLAYING, STRIPS):
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


def _compound(text: str, depth: int = 0) -> tuple[Word, ...] | None:
    """A run made of known words (``Akustikgitarre``, ``leadvox``): its parts, or None. Parts have 3 letters or more."""
    for at in range(len(text) - 2, 2, -1):
        head = text[:at]
        known = _known(head)
        if not known:
            continue
        for link in _LINKS:
            if not text.startswith(link, at):
                continue
            rest = text[at + len(link) :]
            if not rest or (link and len(rest) < 4):
                continue
            if len(rest) == 1 and rest in "lr" and len(head) >= 3:
                return (Word(head, known), Word(rest, ()))
            if len(rest) == 2 and not (rest in _SHORT_TAILS and at >= 4):
                continue
            tail: tuple[Word, ...] | None = (Word(rest, _known(rest)),) if _known(rest) and len(rest) > 1 else None
            if tail is None and depth < 3:
                tail = _compound(rest, depth + 1)
            if tail is not None:
                return (Word(head, known), *tail)
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
    plain, exact = _tables()
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
    # Inflected or compounded with a word that is not in the tables: a long known word at either end.
    for at in range(len(text) - 1, max(4, len(text) - 4), -1):
        if text[at:] in _ENDINGS and text[:at] in plain:
            return (Word(text, plain[text[:at]]),)
    for at in range(3, min(len(text) - 5, 20)):
        if text[at:] in plain:
            return (Word(text[at:], plain[text[at:]]),)
    return (Word(text, ()),)


@lru_cache(maxsize=8192)
def words(name: str) -> tuple[Word, ...]:
    """The words of a name in order, longest phrases first; a leading order number is left out."""
    return words_of(numberless(tokens(name)))


def numberless(found: tuple[Token, ...]) -> tuple[Token, ...]:
    """The tokens without a leading order number, unless it is part of a known word such as ``808`` or ``2 bus``."""
    plain, _ = _tables()
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
