"""The name of a processor taken apart: known words and phrases in their order, each with how it is used."""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from typing import Final, NamedTuple

from mixlint.naming.fold import Token, tokens, without_order_number
from mixlint.naming.runs import is_unspaced, pieces_of_run
from mixlint.naming.vocabulary import LONGEST_PROCESSOR_PHRASE, ProcessorWords, Vocabulary

_LONGEST_TAKEN_APART: Final = 40
"""Letters of a run that is looked into; longer ones are no words that somebody wrote."""

_SHORTEST_FRONT: Final = 2
"""Letters that have to stand before the tail of a longer word; one will do in a library's (``vdelay``)."""

_SHORTEST_BEGINNING: Final = 5
"""Letters of a known word that a longer one begins with, for a question."""

_LIBRARY_PREFIXES: Final = ("a", "m", "v")
"""``acompressor``, ``mcompand``, ``vcomb``: general-purpose libraries mark filters of audio, of many bands, and those
whose time varies, by a letter."""

_LIBRARY_FILTERS: Final = ("lp", "hp", "bp", "br")
"""``butterlp``, ``resonhp``: how a library's filters end."""

_TAKEN_AWAY: Final = {"sibilant": "de-esser", "nuisance": "restoration"}
"""What is taken away to the kind of processor that does it."""

_CLOSING: Final = frozenset({"plain", "vague", "remover", *_TAKEN_AWAY})
"""Uses of a word that a run may end with although it names no kind."""


class Piece(NamedTuple):
    """A word or phrase of a name.

    Args:
        text: as it was looked up.
        kind: the kind of processor it names; empty for none.
        uses: how it is used (``modifier``, ``weak`` …); ``number`` and ``part`` (of music) are found, not in files.
        languages: those it belongs to; empty where they are not known.
        doubt: what the reader is told where it is a question.
    """

    text: str
    kind: str = ""
    uses: frozenset[str] = frozenset()
    languages: frozenset[str] = frozenset()
    doubt: str = ""

    @property
    def unknown(self) -> bool:
        """Nothing is known of it."""
        return not (self.kind or self.uses or self.doubt)


def pieces(name: str, vocabulary: Vocabulary) -> tuple[Piece, ...]:
    """The pieces of a name, or of a part of one, in order.

    Args:
        name: the name, without what stands in brackets.
        vocabulary: the words in force.
    """
    known = vocabulary.processors
    # An identifier of a library is written in small letters; there "rev" is no reverse effect, which is spelt out.
    library = name.islower() and " " not in name.strip()
    spread: list[tuple[str, str]] = []
    for token in without_order_number(tokens(name)):
        if _knows(known, token.plain) or token.exact in known.exact:
            spread.append((token.plain, token.exact))
        elif is_unspaced(token.plain[:1]):
            spread += [(word, word) for word in _of_run(token.plain, known)]
        else:
            spread += [(word, word) for word in _of_letters(token, known, library=library)]
    if library and len(spread) > 1:
        spread = [("reverb", "reverb") if word == "rev" else (word, exact) for word, exact in spread]
    found: list[Piece] = []
    at = 0
    while at < len(spread):
        for size in range(min(LONGEST_PROCESSOR_PHRASE, len(spread) - at), 0, -1):
            phrase = " ".join(plain for plain, _ in spread[at : at + size])
            exact = spread[at][1] if size == 1 else ""
            if _knows(known, phrase) or exact in known.exact:
                found.append(_known_piece(phrase, exact, known))
                break
        else:
            size = 1
            found.append(_other_piece(spread[at][0], vocabulary))
        at += size
    for place, (piece, behind) in enumerate(pairwise(found)):
        if "cut" in piece.uses and "number" in behind.uses:
            found[place] = piece._replace(kind="filter")
    return _with_what_is_taken_away(found)


def _of_letters(token: Token, known: ProcessorWords, *, library: bool) -> list[str]:
    """A run of letters where small ones meet capitals, or as a whole where that tells more (``FBcompressor``)."""
    whole = _taken_apart(token.plain, known, library=library)
    if not any(_knows(known, piece) or len(piece) > 1 for piece in token.camel):
        return whole
    parts = [word for piece in token.camel for word in _taken_apart(piece, known, library=False)]
    tells = any(word in known.phrases for word in parts)
    return whole if not tells and any(word in known.phrases for word in whole) else parts


def _with_what_is_taken_away(found: list[Piece]) -> tuple[Piece, ...]:
    """The pieces, with one for "takes away" and one for what (``Hum Zap``, ``quita eses``) made a kind."""
    for at, piece in enumerate(found):
        for end in range(at + 1, len(found)):
            other = found[end]
            for doing, what in ((piece, other), (other, piece)):
                taken = next((kind for use, kind in _TAKEN_AWAY.items() if use in what.uses), "")
                if taken and "remover" in doing.uses:
                    text = " ".join(one.text for one in found[at : end + 1])
                    made = Piece(text, taken, frozenset({"device"}), piece.languages & other.languages)
                    return (*found[:at], made, *_with_what_is_taken_away(found[end + 1 :]))
            # A sentence begins with what is done: "Remove impulsive noise from input audio".
            opens = at == 0 and "remover" in piece.uses and not (other.kind or "preposition" in other.uses)
            if not (opens or other.uses & {"preposition", "coming", "plain"}):
                break
    return tuple(found)


def _knows(known: ProcessorWords, phrase: str) -> bool:
    return phrase in known.phrases or phrase in known.uses or phrase in known.doubts


def _known_piece(phrase: str, exact: str, known: ProcessorWords) -> Piece:
    return Piece(
        phrase,
        known.exact.get(exact) or known.phrases.get(phrase, ""),
        known.uses.get(phrase, frozenset()),
        known.languages.get(phrase, frozenset()),
        known.doubts.get(phrase, ""),
    )


def _other_piece(word: str, vocabulary: Vocabulary) -> Piece:
    if word.isdigit():
        return Piece(word, uses=frozenset({"number"}))
    if len(word) <= 2 and word.isascii():
        return Piece(word, uses=frozenset({"plain"}))
    if word in vocabulary.channels.phrases:
        return Piece(word, uses=frozenset({"part"}))
    beginning = _beginning(word, vocabulary.processors)
    if beginning:
        return Piece(word, doubt=f"'{word[:60]}' begins like '{beginning}', which is not all that it says")
    return Piece(word)


def _taken_apart(word: str, known: ProcessorWords, *, library: bool) -> list[str]:
    """A run as known words written together, or as an unknown front with a known tail; itself where it is neither."""
    if _knows(known, word) or len(word) > _LONGEST_TAKEN_APART or word.isdigit():
        return [word]
    if library and word.endswith("rev") and len(word) >= _SHORTEST_FRONT + 3:
        return [word[:-3], "reverb"]
    parts = joined_words(word, known)
    if parts is None and library and word[:1] in _LIBRARY_PREFIXES:
        rest = word[1:]
        parts = (rest,) if rest in known.phrases else joined_words(rest, known)
    if parts is not None:
        return list(parts)
    if library and word[-2:] in _LIBRARY_FILTERS and _knows(known, word[:-2]):
        return [word[:-2], "filter"]
    front = 1 if library else _SHORTEST_FRONT
    for tail in known.tails:
        if word.endswith(tail) and len(word) - len(tail) >= front:
            return [word[: -len(tail)], tail]
    return [word]


@lru_cache(maxsize=4096)
def joined_words(text: str, known: ProcessorWords) -> tuple[str, ...] | None:
    """The fewest known words that a run consists of, at least two; None where it does not consist of known words."""
    best: list[tuple[str, ...] | None] = [(), *([None] * len(text))]
    for end in range(1, len(text) + 1):
        for start in range(end):
            before, word = best[start], text[start:end]
            if before is None or word not in known.inside:
                continue
            now = best[end]
            if now is None or len(before) + 1 < len(now):
                best[end] = (*before, word)
    found = best[len(text)]
    if found is None or len(found) < 2:
        return None
    uses = {use for word in found for use in known.uses.get(word, ())}
    if not any(word in known.phrases for word in found) and not ("remover" in uses and uses & _TAKEN_AWAY.keys()):
        return None
    # The last one is what it is, or says nothing: "clipping" is no "clip" with a "ping".
    closing = known.uses.get(found[-1], frozenset()) & _CLOSING
    return found if found[-1] in known.phrases or found[-1] in known.doubts or closing else None


def _beginning(word: str, known: ProcessorWords) -> str:
    """The kind's word that an unknown one begins with: the front of a longer word is not the word."""
    for end in range(len(word) - 1, _SHORTEST_BEGINNING - 1, -1):
        if word[:end] in known.phrases:
            return word[:end]
    return ""


def _of_run(run: str, known: ProcessorWords) -> list[str]:
    """The known words in a run without spaces; what is between them says nothing."""
    return [word for word, is_known in pieces_of_run(run, known.inside.__contains__) if is_known] or [run]
