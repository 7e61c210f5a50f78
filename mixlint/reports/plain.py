"""Plain text for a terminal, a pipe or a file: made safe, measured, wrapped, and marked bold or dim.

Names in a session are written by strangers, and what is written of them is read by terminals, browsers, spreadsheets
and runners of a pipeline, which obey more than letters. One place decides what no output holds: :func:`neutral` makes
one text safe, whatever form it goes into, and :func:`without_orders` a whole text whose lines a runner may read.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import Final

from mixlint.unseen import BLANK, CONTROLS, HIDDEN, JOINERS, VARIANTS

UNSEEN: Final = f"{HIDDEN}{BLANK}{JOINERS}{VARIANTS}"
"""Inside of a class of characters: what is not seen or turns the writing, but for the C0 controls."""

MOST: Final = 20_000
"""How many characters of one text are shown; a reason that names every channel of a large session has fewer."""

_UNSEEN = re.compile(f"[{CONTROLS}{UNSEEN}]")

_SELECTORS: Final = "\ufe0e\ufe0f"
_JOINING: Final = re.compile(
    "[\u0620-\u065f\u066e-\u06d3\u06d5-\u06dc\u06df-\u06e8\u06ea-\u06ef\u06fa-\u06ff\u0710-\u08e1\u08e3-\u0dff\u1000-\u109f"
    "\u1780-\u17b3\u17b6-\u17dd\u1820-\u18aa\ua840-\ua877\ua8e0-\ua8ff\U00011000-\U000110bc\U00011100-\U0001173f]"
)
"""Letters and marks of the writings in which a joiner between two letters changes how they look, and is spelling:
Arabic, Syriac, N'Ko, those of India, Sinhala, Burmese, Khmer, Mongolian (Unicode 15, 9.2 and 12.1)."""

_ORDER: Final = re.compile(r"##(?=\w*\[)")
RED: Final = "1;31"
MAGENTA: Final = "1;35"
"""Bold in the two colours that are read on black and on white alike (SGR, ECMA-48 clause 8.3.117)."""

_LEFT: Final = re.compile(rf"\x1b\[(?:[012]|{RED}|{MAGENTA})m|[\x00-\x08\x0b-\x1f{UNSEEN}]")
_FIRST: Final = re.compile(r"^((?:[^\S\n]|\x1b\[[0-9;]*m)*):(?=:)", re.MULTILINE)

_PLAINER = str.maketrans(
    {
        "−": "-", "–": "-", "—": "-", "─": "-", "━": "=", "…": "...", "·": ";", "→": "->", "×": "x",
        "‘": "'", "’": "'", "“": '"', "”": '"', "°": " deg", "≥": ">=", "≤": "<=", "│": "|",
        "∞": "inf", "●": "O", "•": "o", "∙": ".", "○": "W", "◦": "w", "∘": ",",
    }
)  # fmt: skip


def neutral(text: str) -> str:
    """``text`` on one line, nothing in it unseen, and cut where it is longer than anybody reads.

    Controls and characters that are not seen or turn the writing are replaced by visible ones. Shown as they stand are
    those that spelling needs, and that hide nothing there: one joiner between two letters of a writing that joins, one
    joiner between two pictures, one selector behind a picture, a CJK or a Mongolian letter. Flags of parts of a country
    are not: their tags can spell anything.
    """
    whole = len(text)
    if whole > MOST:
        text = text[:MOST]
    text = _ORDER.sub("# #", _UNSEEN.sub(_visible, text))
    return f"{text}… ({whole:,} characters)" if whole > MOST else text


def without_orders(text: str) -> str:
    """``text`` of one line or several, in which no runner of a pipeline finds an order to itself.

    Runners read what a step prints and obey lines that begin with two colons, and two number signs with a bracket
    wherever they stand. A blank between the two signs is seen, and is none of theirs. What a form forgot to make
    neutral is made so here, bold and dim, tabs and line feeds aside.
    """
    text = _LEFT.sub(lambda found: found.group() if found.group()[1:] else _visible(found), text)
    return _ORDER.sub("# #", _FIRST.sub(r"\1: ", text))


def markup_without_orders(text: str) -> str:
    """HTML or XML of which the same holds, and which reads as before: a reference stands for the first sign."""
    return _ORDER.sub("&#35;#", _FIRST.sub(r"\1&#58;", text))


def json_without_orders(text: str) -> str:
    """JSON of which the same holds, and which reads as before: number signs occur in its strings only."""
    return _ORDER.sub(r"\\u0023#", text)


def _visible(found: re.Match[str]) -> str:
    char = found.group()
    code = ord(char)
    if code < 0x20:
        return chr(0x2400 + code)  # Unicode block "Control Pictures"
    if code == 0x7F:
        return "\N{SYMBOL FOR DELETE}"
    at = found.start()
    return char if _spells(found.string[max(at - 2, 0) : at], char, found.string[at + 1 : at + 2]) else "\ufffd"


def _spells(before: str, char: str, after: str) -> bool:
    """Whether a character that is not seen belongs there: what is before it, two characters, and behind it, one."""
    last = before[-1:]
    if not last:
        return False
    if char in JOINERS:
        if _JOINING.match(last):
            return _JOINING.match(after) is not None or (not after and unicodedata.combining(last) == 9)  # a virama
        picture = before[0] if last in _SELECTORS or _is_tone(last) else last
        return char == "\u200d" and _is_picture(picture) and _is_picture(after)
    if char in _SELECTORS:
        return _is_picture(last) or (last in "0123456789#*" and after == "\u20e3")
    if 0xE0100 <= ord(char) <= 0xE01EF:
        return unicodedata.name(last, "").startswith("CJK UNIFIED")
    return char in "\u180b\u180c\u180d\u180f" and "\u1820" <= last <= "\u18aa"


def _is_picture(char: str) -> bool:
    return char != "" and (unicodedata.category(char) == "So" or char in "↔‼⁉〰〽") and char not in "\u2800\ufffd"


def _is_tone(char: str) -> bool:
    return "\U0001f3fb" <= char <= "\U0001f3ff"


def encodable(text: str, encoding: str) -> str:
    """``text`` as a stream of ``encoding`` can carry it: plainer signs first, then ``?`` for what is left."""
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return text.translate(_PLAINER).encode(encoding, "replace").decode(encoding)
    return text


def columns(text: str) -> int:
    """How many terminal columns ``text`` takes: two for wide characters, none for combining marks."""
    if text.isascii():
        return len(text)
    return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in text)


def shortened(text: str, width: int) -> str:
    """``text`` cut to ``width`` columns, ending in ``…`` when something was cut."""
    if columns(text) <= width:
        return text
    kept, used = [], 0
    for char in text:
        used += columns(char)
        if used > width - 1:
            break
        kept.append(char)
    return "".join(kept) + "…"


def padded(text: str, width: int, *, right: bool = False) -> str:
    """``text`` cut or filled to exactly ``width`` columns, flush left or ``right``."""
    text = shortened(text, width)
    fill = " " * (width - columns(text))
    return fill + text if right else text + fill


def wrapped(text: str, width: int, indent: str, first: str | None = None) -> list[str]:
    """``text`` broken into lines of at most ``width`` columns under ``indent``; ``first`` opens it."""
    start = indent if first is None else first
    lines: list[str] = []
    here, bare = start, True  # bare: nothing but the indent so far
    for word in text.split():
        if not bare and columns(here) + 1 + columns(word) <= width:
            here = f"{here} {word}"
            continue
        if not bare or (columns(here) > columns(indent) and columns(here) + columns(word) > width):
            lines.append(here.rstrip())
            here = indent
        room = max(width - columns(here), 2)
        while columns(word) > room:  # a word longer than a line goes on in the next one
            cut = next(n for n in range(1, len(word) + 1) if columns(word[: n + 1]) > room)
            lines.append(here + word[:cut])
            word, here = word[cut:], indent
            room = max(width - columns(here), 2)
        here, bare = here + word, False
    return [*lines, here.rstrip()]


def in_columns(cells: Sequence[str], widths: Sequence[int], rights: Collection[int] = ()) -> list[str]:
    """Cells beside one another, two blanks apart; what is wider than its column goes on below, and nothing is cut.

    Args:
        cells: a text for each column.
        widths: their widths, terminal columns.
        rights: which of them, counted from 0, are flush right.
    """
    blocks = [wrapped(cell, width, "") for cell, width in zip(cells, widths, strict=True)]
    rows = zip_longest(*blocks, fillvalue="")
    return [
        "  ".join(padded(c, w, right=n in rights) for n, (c, w) in enumerate(zip(row, widths, strict=True))).rstrip()
        for row in rows
    ]


@dataclass(frozen=True, slots=True)
class Page:
    """What the paper is like: its width in columns, whether bold and dim can be used, and whether colours can."""

    width: int = 100
    weights: bool = False
    colours: bool = False

    def bold(self, text: str) -> str:
        """``text`` in bold where the page has weights."""
        return f"\x1b[1m{text}\x1b[0m" if self.weights else text

    def dim(self, text: str) -> str:
        """``text`` dimmed where the page has weights."""
        return f"\x1b[2m{text}\x1b[0m" if self.weights else text

    def graded(self, text: str, grade: str) -> str:
        """``text`` in bold, where the page has colours also in that of a grade or outcome: a help, never a difference.

        What does not hold and asks for no look has none.
        """
        code = {"hold": RED, "held": RED, "look": MAGENTA}.get(grade) if self.colours else None
        return self.bold(text) if code is None else f"\x1b[{code}m{text}\x1b[0m"

    def dims(self, lines: Iterable[str]) -> list[str]:
        """Every line dimmed."""
        return [self.dim(line) for line in lines]

    @property
    def line(self) -> str:
        """A rule across the page."""
        return self.dim("─" * self.width)
