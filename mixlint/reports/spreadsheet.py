"""Tables for a spreadsheet: cells in quotes where they need them, and no text in them that one would run."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from mixlint.reports.plain import neutral, without_orders

DELIMITERS: Final = {"csv": ",", "tsv": "\t"}

_RUN: Final = ("=", "+", "-", "@", "\t", "\r", "'", "::", "＝", "＋", "－", "＠")
"""What a spreadsheet would run, or take for its own mark, at the beginning of a text; a runner, the two colons."""

_RUN_INSIDE: Final = re.compile(";(?=[=+\\-@＝＋－＠])")
"""What one would run that parts cells by semicolons, as it does in some languages; within a cell nothing hides it."""


def safe(text: str) -> str:
    """A text that no spreadsheet runs: behind an apostrophe where it begins with a sign of formulas.

    Whoever reads a list of channels takes the apostrophe off again.
    """
    text = neutral(text)
    return f"'{text}" if text.startswith(_RUN) else text


def quoted(cell: str, form: str) -> str:
    """A cell in quotes where it needs them (RFC 4180, section 2)."""
    cell = _RUN_INSIDE.sub(";'", cell)
    if DELIMITERS[form] in cell or '"' in cell:
        return '"{}"'.format(cell.replace('"', '""'))
    return cell


def table_line(cells: Iterable[str | float | None], form: str) -> str:
    """A row: numbers as they are, texts safe.

    Args:
        cells: what stands in it; nothing for None.
        form: one of :data:`DELIMITERS`.
    """
    said = (safe(cell) if isinstance(cell, str) else "" if cell is None else str(cell) for cell in cells)
    return without_orders(f"{DELIMITERS[form].join(quoted(cell, form) for cell in said)}\n")
