"""A name taken apart: case folded, Latin and Greek accents stripped, split at separators, digits and scripts."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from fnmatch import fnmatchcase
from functools import lru_cache
from typing import Final, NamedTuple

from mixlint.naming.runs import is_unspaced

LONGEST: Final = 200
"""Characters of a name that are read; the rest of an overlong name is ignored, so that time stays bounded."""


class _WithoutAccent(dict[int, str]):
    """Character code to the Latin or Greek letter without its accent, or to the character itself; filled as asked."""

    def __missing__(self, code: int) -> str:
        char = chr(code)
        base = unicodedata.normalize("NFKD", char)
        letter = base[0].isalpha() and (base[0].isascii() or "\u0370" <= base[0] <= "\u03ff")
        plain = base[0] if len(base) > 1 and letter else "" if _is_loose_mark(char) else char
        self[code] = plain
        return plain


def _is_loose_mark(char: str) -> bool:
    """True for an accent that makes no letter with the one before it: what is left of ``İ`` in small letters."""
    return "\u0300" <= char <= "\u036f"


_LETTERS: Final = _WithoutAccent({ord(a): b for a, b in zip("łøæœđı", ("l", "o", "ae", "oe", "d", "i"), strict=True)})
_RUN: Final = re.compile(r"\d+|[^\W\d_]+")
_CAMEL: Final = re.compile(r"[^\W\d_]+?(?=(?<=[a-zà-öø-ÿ])[A-ZÀ-ÖØ-Þ]|(?<=[A-ZÀ-Þ])[A-ZÀ-Þ][a-zà-ÿ]{2}|$)")
_NOTE_VALUE: Final = re.compile(r"(?<!\d)1/(4|8|16)(?:st|nd|rd|th)?(?!\d)")
_ELISION: Final = re.compile(r"\b[ldLD]['’](?=\w)")
"""The French and Italian article before a vowel (``l'intro``), which is no side."""
_SEPARATORS: Final = re.compile(r"[\s_\-.()\[\]]+")


class Token(NamedTuple):
    """One run of letters or digits.

    Args:
        plain: without accents.
        exact: only case-folded.
        camel: its pieces, where small letters meet capitals.
        joined: it stands right behind the run before it, without a sign between.
    """

    plain: str
    exact: str
    camel: tuple[str, ...] = ()
    joined: bool = False


def fold_name(name: str, *, separators: bool = False) -> str:
    """A name as it is compared with another: two names that fold alike are one name.

    Small and capital letters count as one (Unicode case folding), and so do the ways of writing a character (NFKC: an
    accent within its letter or after it, letters of full and half width). Any run of white space is one space, and none
    at either end. Accents, digits and punctuation stay.

    Args:
        name: the name as written.
        separators: low lines, hyphens, full stops and brackets count as white space too: ``Bass_DI (print)`` is
            ``bass di print``.

    Returns:
        The folded name; folding it again changes nothing.
    """
    folded = one_form(name)
    return " ".join((_SEPARATORS.sub(" ", folded) if separators else folded).split())


def fits_pattern(name: str, pattern: str) -> bool:
    """True when a name fits a pattern of a house: ``*`` stands for anything.

    Small and capital letters count as one, and so do the ways of writing a character, as in :func:`fold_name`.
    """
    return fnmatchcase(one_form(name), one_form(pattern))


def canonical(text: str) -> str:
    """A text in which an accent within its letter and one after it are one (NFC); letter case and width stay."""
    return text if text.isascii() else unicodedata.normalize("NFC", text)


def one_form(text: str) -> str:
    """A text in the one form in which it is compared (NFKC, case folded), its white space as it is."""
    if text.isascii():
        return text.casefold()
    # a folded letter can come out taken apart
    return unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", text).casefold())


def strip_accents(text: str) -> str:
    """A word as word files are looked up: folded, without the accents of Latin and Greek letters.

    Cyrillic letters and kana keep their marks, which make other letters of them. A Turkish ``I`` counts as one with its
    dot, and so does an ``ı``: capitals are written with and without it.
    """
    folded = fold_name(text)
    return folded if folded.isascii() else folded.translate(_LETTERS)


def _by_script(run: str) -> list[str]:
    """A run split where a script without spaces meets another one."""
    if run.isascii():
        return [run]
    parts, start = [], 0
    for at in range(1, len(run)):
        if is_unspaced(run[at]) != is_unspaced(run[at - 1]):
            parts.append(run[start:at])
            start = at
    parts.append(run[start:])
    return parts


@lru_cache(maxsize=8192)
def tokens(name: str) -> tuple[Token, ...]:
    """The runs of letters and of digits in a name, in order; note values such as 1/8 become one token."""
    text = unicodedata.normalize("NFKC", name[:LONGEST]).replace("⁄", "/")[: 2 * LONGEST]
    if not text.isascii():
        text = "".join(char for char in text if not _is_loose_mark(char))  # it would end a run
    text = _ELISION.sub(" ", text)
    text = _NOTE_VALUE.sub(r" notevalue ", text)
    found: list[Token] = []
    end = -1
    for match in _RUN.finditer(text):
        run, joined, end = match.group(), match.start() == end, match.end()
        if run.isdigit():
            found.append(Token(run, run, joined=joined))
            continue
        for part in _by_script(run):
            pieces = tuple(strip_accents(p) for p in _CAMEL.findall(part))
            found.append(Token(strip_accents(part), fold_name(part), pieces if len(pieces) > 1 else (), joined))
            joined = True
    return tuple(found)


def as_read(word: str) -> str:
    """A word or phrase as it is found in names: the runs of letters and digits without accents, a space between."""
    return " ".join(token.plain for token in tokens(word))


def ordinals_joined(texts: Iterable[str]) -> tuple[str, ...]:
    """The texts of tokens, with a number and its ending made one again: ``12th``, ``8va``."""
    joined: list[str] = []
    for text in texts:
        if joined and text in ("th", "ve", "va") and joined[-1].isdigit():
            joined[-1] += text
        else:
            joined.append(text)
    return tuple(joined)


def without_order_number(found: tuple[Token, ...]) -> tuple[Token, ...]:
    """The tokens without a leading order number (``01_Kick``), unless nothing would be left."""
    if len(found) > 1 and found[0].plain.isdigit() and len(found[0].plain) <= 3:
        return found[1:]
    return found


_ASIDE: Final = re.compile(r"\s*[(\[].*?(?:[)\]]|$)")
"""What stands in brackets, to the end where nothing closes them."""


def without_asides(name: str) -> str:
    """A name without what stands in brackets in it: where it was, who it was, what is not in it."""
    return _ASIDE.sub(" ", name).strip()


def asides(name: str) -> str:
    """What stands in brackets in a name, one aside after another."""
    return " ".join(found.strip(" ()[]") for found in _ASIDE.findall(name))
