"""Plain text for a terminal, a pipe or a file: made safe, measured, wrapped, and marked bold or dim.

Names in a session are written by strangers. Control characters, which could move the cursor or recolour
the screen, and characters that turn the writing direction are replaced by visible ones before layout.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

_UNSEEN = re.compile(
    "[\x00-\x1f\x7f-\x9f\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb\ufffe\uffff\ud800-\udfff]"
)
"""C0 and C1 controls, DEL, direction marks, line and paragraph separators, lone surrogates, noncharacters."""

_PLAINER = str.maketrans(
    {
        "−": "-", "–": "-", "—": "-", "─": "-", "━": "=", "…": "...", "·": ";", "→": "->", "×": "x",
        "‘": "'", "’": "'", "“": '"', "”": '"', "°": " deg", "≥": ">=", "≤": "<=", "│": "|",
        "∞": "inf",
    }
)  # fmt: skip


def neutral(text: str) -> str:
    """``text`` on one line, with every control or direction character replaced by a visible one."""
    return _UNSEEN.sub(lambda found: _visible(found.group()), text)


def _visible(char: str) -> str:
    code = ord(char)
    if code < 0x20:
        return chr(0x2400 + code)  # Unicode block "Control Pictures"
    return "\N{SYMBOL FOR DELETE}" if code == 0x7F else "\N{REPLACEMENT CHARACTER}"


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
        if not bare:
            lines.append(here)
            here = indent
        room = max(width - columns(here), 10)
        while columns(word) > room:  # a word longer than a line is cut
            cut = next(n for n in range(1, len(word) + 1) if columns(word[: n + 1]) > room)
            lines.append(here + word[:cut])
            word, here = word[cut:], indent
            room = max(width - columns(here), 10)
        here, bare = here + word, False
    return [*lines, here.rstrip()]


@dataclass(frozen=True, slots=True)
class Page:
    """What the paper is like: its width in columns, and whether bold and dim can be used."""

    width: int = 100
    weights: bool = False

    def bold(self, text: str) -> str:
        """``text`` in bold where the page has weights."""
        return f"\x1b[1m{text}\x1b[0m" if self.weights else text

    def dim(self, text: str) -> str:
        """``text`` dimmed where the page has weights."""
        return f"\x1b[2m{text}\x1b[0m" if self.weights else text

    def dims(self, lines: Iterable[str]) -> list[str]:
        """Every line dimmed."""
        return [self.dim(line) for line in lines]

    @property
    def line(self) -> str:
        """A rule across the page."""
        return self.dim("─" * self.width)
