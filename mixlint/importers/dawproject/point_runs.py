"""A fast lane for automation: long runs of plainly written points are read without one call per element.

A session can hold half a million points, each an element of its own. A run of at least eight points that follow each
other and are written with nothing but ``value``, ``time`` and ``interpolation`` is lifted out before the XML parser
sees it, and a placeholder with the same number of lines is left in its place. Such a run is well-formed by the very
pattern that recognises it; everything else takes the ordinary way.
"""

from __future__ import annotations

import re
from array import array
from itertools import permutations
from typing import Final

_SPACE = rb"[ \t\r\n]"
_RUN: Final = re.compile(
    rb"(?:" + _SPACE + rb'*+<RealPoint(?: (?:value|time|interpolation)="[-+.0-9a-zA-Z]++")++ ?/>){8,}+'
)
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

PLACEHOLDER: Final = "_run"


class Run:
    """The points of one run in flat arrays."""

    __slots__ = ("holds", "times", "values")

    def __init__(self, times: array[float], values: array[float], holds: bytes) -> None:
        self.times = times
        self.values = values
        self.holds = holds


class RunLifter:
    """Lifts runs out of a document that arrives piece by piece.

    Args:
        carry_limit: how many bytes may be kept back at the end of a piece while waiting for a ``>``.
    """

    def __init__(self, carry_limit: int) -> None:
        self.runs: dict[str, Run] = {}
        self._carry = b""
        self._carry_limit = carry_limit
        self._likely = _LAYOUTS[0]
        self._count = 0

    def take(self, piece: bytes) -> bytes:
        """The next piece of the document with its runs replaced by placeholders."""
        piece = self._carry + piece
        cut = piece.rfind(b">") + 1
        if len(piece) - cut > self._carry_limit:
            cut = len(piece)
        self._carry = piece[cut:]
        return _RUN.sub(self._lift, piece[:cut])

    def rest(self) -> bytes:
        """What was kept back, at the end of the document."""
        rest, self._carry = self._carry, b""
        return rest

    def _lift(self, match: re.Match[bytes]) -> bytes:
        text = match.group()
        run = self._read(text)
        if run is None:
            return text
        key = str(self._count)
        self._count += 1
        self.runs[key] = run
        lines = max(text.count(b"\n"), text.count(b"\r"))
        return b'<%s n="%s"/>%s' % (PLACEHOLDER.encode(), key.encode(), b"\n" * lines)

    def _read(self, text: bytes) -> Run | None:
        count = text.count(b"<")
        for order, pattern in (self._likely, *_LAYOUTS):
            found = pattern.findall(text)
            if len(found) == count:
                self._likely = (order, pattern)
                break
        else:
            return None
        columns = dict(zip(order, zip(*found, strict=True), strict=True))
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
        return Run(times, values, holds)
