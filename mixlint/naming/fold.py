"""A name taken apart: case folded, Latin accents stripped, split at separators, digits and scripts."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from typing import Final, NamedTuple

LONGEST: Final = 200
"""Characters of a name that are read; the rest of an overlong name is ignored, so that time stays bounded."""

_LETTERS: Final = str.maketrans({"ł": "l", "ø": "o", "æ": "ae", "œ": "oe", "đ": "d", "ı": "i"})
_RUN: Final = re.compile(r"\d+|[^\W\d_]+")
_CAMEL: Final = re.compile(r"[^\W\d_]+?(?=(?<=[a-zà-öø-ÿ])[A-ZÀ-ÖØ-Þ]|(?<=[A-ZÀ-Þ])[A-ZÀ-Þ][a-zà-ÿ]{2}|$)")
_NOTE_VALUE: Final = re.compile(r"(?<!\d)1/(4|8|16)(?:st|nd|rd|th)?(?!\d)")
_ELISION: Final = re.compile(r"\b[ldLD]['’](?=\w)")
"""The French and Italian article before a vowel (``l'intro``), which is no side."""


class Token(NamedTuple):
    """One run of letters or digits: ``plain`` without accents, ``exact`` only case-folded, ``camel`` its pieces."""

    plain: str
    exact: str
    camel: tuple[str, ...] = ()


def strip_accents(text: str) -> str:
    """``text`` case-folded, without the accents of Latin letters; Cyrillic and kana keep their marks."""
    text = unicodedata.normalize("NFKC", text).casefold()
    if text.isascii():
        return text
    out: list[str] = []
    for char in unicodedata.normalize("NFKC", text).translate(_LETTERS):
        base = unicodedata.normalize("NFKD", char)
        out.append(base[0] if len(base) > 1 and base[0].isascii() and base[0].isalpha() else char)
    return "".join(out)


def _is_east_asian(char: str) -> bool:
    return "\u3040" <= char <= "\u30ff" or "\u3400" <= char <= "\u9fff" or char == "々"


def _by_script(run: str) -> list[str]:
    """A run split where Japanese writing meets another script."""
    if run.isascii():
        return [run]
    parts, start = [], 0
    for at in range(1, len(run)):
        if _is_east_asian(run[at]) != _is_east_asian(run[at - 1]):
            parts.append(run[start:at])
            start = at
    parts.append(run[start:])
    return parts


@lru_cache(maxsize=8192)
def tokens(name: str) -> tuple[Token, ...]:
    """The runs of letters and of digits in a name, in order; note values such as 1/8 become one token."""
    text = unicodedata.normalize("NFKC", name[:LONGEST]).replace("⁄", "/")[: 2 * LONGEST]
    text = _ELISION.sub(" ", text)
    text = _NOTE_VALUE.sub(r" notevalue ", text)
    found: list[Token] = []
    for run in _RUN.findall(text):
        if run.isdigit():
            found.append(Token(run, run))
            continue
        for part in _by_script(run):
            pieces = tuple(strip_accents(p) for p in _CAMEL.findall(part))
            found.append(Token(strip_accents(part), part.casefold(), pieces if len(pieces) > 1 else ()))
    return tuple(found)


def without_order_number(found: tuple[Token, ...]) -> tuple[Token, ...]:
    """The tokens without a leading order number (``01_Kick``), unless nothing would be left."""
    if len(found) > 1 and found[0].plain.isdigit() and len(found[0].plain) <= 3:
        return found[1:]
    return found
