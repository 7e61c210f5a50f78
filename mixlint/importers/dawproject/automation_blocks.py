"""A fast lane for automation: long blocks of plainly written points are read without one call per element.

A session can hold half a million points, each an element of its own. A block of at least eight points that follow each
other and are written with nothing but ``value``, ``time`` and ``interpolation`` is taken out before the XML parser
sees it, and a placeholder with the same number of lines is left in its place. Such a block is well-formed by the very
pattern that recognises it: nothing but the points and white space may stand in it. All else takes the ordinary way.
"""

from __future__ import annotations

import re
from array import array
from itertools import permutations
from typing import Final

_NUMBER = rb'"([-+.0-9eE]++)"'
_SPELLINGS = {
    "value": b"value=" + _NUMBER,
    "time": b"time=" + _NUMBER,
    "interpolation": b'interpolation="(linear|hold)"',
}
_ORDERS = [*permutations(("value", "interpolation", "time")), *permutations(("value", "time"))]
_LAYOUTS: Final = [
    (order, re.compile(b"<RealPoint " + b" ".join(_SPELLINGS[name] for name in order) + b" ?/>")) for order in _ORDERS
]
_POINT: Final = b"<RealPoint "
_SHORTEST: Final = 8
_PATIENCE: Final = 200
"""Blocks given up in a row before a document is taken to be written in another way."""

PLACEHOLDER: Final = "_run"


class AutomationBlock:
    """The points of one block in flat arrays.

    Args:
        times: positions in the file's unit.
        values: values as written.
        holds: one byte for each point, 1 where the value is kept until the next, 0 where a line leads there.
    """

    __slots__ = ("holds", "times", "values")

    def __init__(self, times: array[float], values: array[float], holds: bytes) -> None:
        self.times = times
        self.values = values
        self.holds = holds


class AutomationBlockExtractor:
    """Takes blocks of points out of a document that arrives piece by piece, and keeps them in ``blocks``.

    Args:
        carry_limit: how many bytes may be kept back at the end of a piece while waiting for a ``>``.
    """

    def __init__(self, carry_limit: int) -> None:
        self.blocks: dict[str, AutomationBlock] = {}
        self._carry = b""
        self._carry_limit = carry_limit
        self._likely = _LAYOUTS[0]
        self._count = 0
        self._given_up = 0

    def feed(self, piece: bytes) -> bytes:
        """The next piece of the document with its blocks replaced by placeholders."""
        piece = self._carry + piece
        cut = piece.rfind(b">") + 1
        if len(piece) - cut > self._carry_limit:
            cut = len(piece)
        self._carry = piece[cut:]
        kept: list[bytes] = []
        done = 0
        look = 0
        while self._given_up < _PATIENCE and (start := piece.find(_POINT, look, cut)) >= 0:
            end = piece.find(b"</", start, cut)
            end = cut if end < 0 else end
            look = end
            block = self._read(piece[start:end])
            if block is None:
                self._given_up += 1
                continue
            self._given_up = 0
            kept += (piece[done:start], self._placeholder(block, piece, start, end))
            done = end
        kept.append(piece[done:cut])
        return b"".join(kept)

    def flush(self) -> bytes:
        """What was kept back, at the end of the document."""
        rest, self._carry = self._carry, b""
        return rest

    def _placeholder(self, block: AutomationBlock, piece: bytes, start: int, end: int) -> bytes:
        key = str(self._count)
        self._count += 1
        self.blocks[key] = block
        lines = piece.count(b"\n", start, end) or piece.count(b"\r", start, end)
        return f'<{PLACEHOLDER} n="{key}"/>'.encode() + b"\n" * lines

    def _read(self, text: bytes) -> AutomationBlock | None:
        """The points in ``text``, or None when anything else stands there too."""
        count = text.count(b"<")
        if count < _SHORTEST:
            return None
        for order, pattern in (self._likely, *_LAYOUTS):
            step = len(order) + 1
            parts = pattern.split(text)  # what stands between the points, and the groups of each point
            if len(parts) == count * step + 1:
                self._likely = (order, pattern)
                break
        else:
            return None
        if b"".join(parts[::step]).strip(b" \t\r\n"):
            return None
        columns = {name: parts[at::step] for at, name in enumerate(order, start=1)}
        try:
            times = array("d", map(float, columns["time"]))
            values = array("d", map(float, columns["value"]))
        except ValueError:
            return None
        shapes = columns.get("interpolation")
        if shapes is None:
            holds = b"\x01" * count
        else:
            holds = bytes(count) if b"hold" not in shapes else bytes(shape == b"hold" for shape in shapes)
        return AutomationBlock(times, values, holds)
