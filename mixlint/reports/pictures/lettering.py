"""How wide a text stands in a drawing, and a text cut to a width: serif at 12 user units, wide rather than narrow."""

from __future__ import annotations

import unicodedata
from typing import Final

from mixlint.reports.plain import neutral

_NARROW: Final = frozenset("iljtfrI.,:;'|!()[] ‘’-")
_BROAD: Final = frozenset("mwMWQGO@%&—…")
_LIKE_CAPITALS: Final = frozenset("−–\N{NO-BREAK SPACE}")
NARROW, USUAL, CAPITAL, BROAD, FULL = 4.9, 7.8, 10.2, 12.6, 13.0
BOLD: Final = 1.16
"""Widths in user units of letters at 12: of ``i``, ``a``, ``D``, ``M``, and of an ideograph."""


def text_width(text: str, size: float = 12.0, *, bold: bool = False) -> float:
    """How wide a text is at most in the serif faces that the page asks for, user units.

    Widths are by classes of letters, those of a wide serif face, so that nothing runs into its neighbour in others.
    """
    return sum(_letter(char) for char in text) * size / 12.0 * (BOLD if bold else 1.0)


def _letter(char: str) -> float:
    if char in _NARROW:
        return NARROW
    if char in _BROAD:
        return BROAD
    if char in _LIKE_CAPITALS:
        return CAPITAL
    if char.isascii():
        return CAPITAL if char.isupper() else USUAL
    if unicodedata.combining(char):
        return 0.0
    return FULL if unicodedata.east_asian_width(char) in "WF" else BROAD


def fitted(text: str, width: float, size: float = 12.0, *, bold: bool = False) -> str:
    """A text on one line, made safe and cut to a width in user units; cut, it ends in ``…``."""
    text = neutral(text)
    if text_width(text, size, bold=bold) <= width:
        return text
    left, kept = width - text_width("…", size, bold=bold), []
    for char in text:
        left -= text_width(char, size, bold=bold)
        if left < 0.0:
            break
        kept.append(char)
    return "".join(kept).rstrip() + "…"
