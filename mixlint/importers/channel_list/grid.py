"""A table as rows of cells: from bytes to text, from text to cells, with the places that a spreadsheet shows."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from mixlint.errors import BrokenFile, RefusedFile
from mixlint.importers.channel_list.mending import closed

SIZE_LIMIT: Final = 32 << 20
"""Bytes of a text file; a list of 100,000 rows has less than half of it."""
UNPACKED_LIMIT: Final = 128 << 20
"""Bytes that a workbook may have unpacked."""
LONGEST_CELL: Final = 1_000
"""Characters of a cell that are read: no value of a channel takes as many, and what is looked for in a cell may take
the square of its length."""
MOST_ROWS: Final = 120_000
MOST_COLUMNS: Final = 1_000
DELIMITERS: Final = (";", "\t", ",", "|")
DELIMITER_NAMES: Final = {";": "semicolons", "\t": "tabs", ",": "commas", "|": "strokes"}


@dataclass(frozen=True, slots=True)
class GridRow:
    """One row: its number as a spreadsheet shows it, from 1, and its cells.

    Args:
        number: the number.
        cells: the cells, in the columns of the heading.
        origin: where each stands in the file where that is elsewhere, −1 where it does not; empty where it is there.
    """

    number: int
    cells: tuple[str, ...]
    origin: tuple[int, ...] = ()

    def __getitem__(self, column: int) -> str:
        return self.cells[column].strip() if column < len(self.cells) else ""

    @property
    def is_empty(self) -> bool:
        """True when nothing stands in it."""
        return not any(cell.strip() for cell in self.cells)


@dataclass(frozen=True, slots=True)
class Grid:
    """A table as it stands in the file.

    Args:
        rows: all of its rows.
        delimiter: what parts the cells; empty in a workbook.
        notes: what was assumed to read it.
    """

    rows: tuple[GridRow, ...]
    delimiter: str = ""
    notes: tuple[str, ...] = field(default=())


def cut(grid: Grid) -> tuple[Grid, dict[int, list[int]]]:
    """The table with cells that can be read in bounded time, and which of which rows were cut for it."""
    long = {
        row.number: [column for column, cell in enumerate(row.cells) if len(cell) > LONGEST_CELL] for row in grid.rows
    }
    long = {number: columns for number, columns in long.items() if columns}
    if not long:
        return grid, long
    rows = tuple(
        replace(row, cells=tuple(cell[:LONGEST_CELL] for cell in row.cells)) if row.number in long else row
        for row in grid.rows
    )
    return replace(grid, rows=rows), long


def address(row: int, column: int) -> str:
    """A cell as spreadsheets name it: row 3 and column 0 are ``A3``."""
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return f"{letters}{row}"


def decoded(data: bytes, where: str) -> tuple[str, str]:
    """The text of a file, and what was assumed of its encoding; empty where it says so itself or is UTF-8.

    Raises:
        BrokenFile: it is no text.
    """
    for mark, code in ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16")):
        if data.startswith(mark):
            return _as(data, code, where), ""
    if b"\0" in data[:1000]:  # UTF-16 without its mark: every other byte of plain letters is empty
        code = "utf-16-le" if data[1:2] == b"\0" else "utf-16-be"
        return _as(data, code, where), f"the file was read as {code.upper()}, which it does not say itself"
    try:
        return _sound(data.decode("utf-8"), where), ""
    except UnicodeDecodeError:
        pass
    text = _as(data, "cp1252", where)
    return text, "the file is no UTF-8 and was read as Windows-1252; save it as UTF-8 where letters come out wrong"


def _as(data: bytes, code: str, where: str) -> str:
    try:
        return _sound(data.decode(code), where)
    except UnicodeDecodeError as fault:
        raise BrokenFile(
            f"it is no text: byte {fault.start} fits neither UTF-8, UTF-16 nor Windows-1252",
            where=where,
            do="save the list again as CSV in UTF-8",
        ) from None


def _sound(text: str, where: str) -> str:
    """The text itself, where it holds no signs that no text has."""
    at = next((n for n, char in enumerate(text) if char < " " and char not in "\t\r\n\v\f"), None)
    if at is not None:
        line = text.count("\n", 0, at) + 1
        raise BrokenFile(
            f"it is no text: line {line} holds the control character {ord(text[at])}",
            where=where,
            do="save the list again as CSV in UTF-8",
        )
    return text


def parted(text: str, delimiter: str, where: str) -> Grid:
    """The rows of a text with one sign between cells.

    Raises:
        BrokenFile: a quotation mark is never closed, or a cell is larger than any.
        RefusedFile: it has more rows or columns than any list.
    """
    rows: list[GridRow] = []
    text, opened = closed(text, delimiter)
    marks = dict(opened)
    notes: list[str] = []
    before = 0
    try:
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=False)
        for number, cells in enumerate(reader, 1):
            if number > MOST_ROWS:
                raise RefusedFile(
                    f"it has more than {MOST_ROWS} rows", where=where, do="keep the list of one session in one file"
                )
            if len(cells) > MOST_COLUMNS:
                raise RefusedFile(
                    f"row {number} has {len(cells)} cells", where=where, do="give it the columns of the heading"
                )
            rows.append(GridRow(number, tuple(cells)))
            for line in range(before + 1, reader.line_num + 1) if marks else ():
                if line in marks:
                    place = next((n for n, cell in enumerate(cells) if cell.startswith(marks[line])), 0)
                    notes.append(
                        f'{address(number, place)}: a quotation mark before "{marks[line][:60]}" is never closed, so '
                        "that what follows would be one cell; it was taken out. Right would be none, or two."
                    )
            before = reader.line_num
    except csv.Error as fault:
        raise BrokenFile(
            f"its cells cannot be told apart behind row {len(rows)} ({fault})",
            where=where,
            do="look for a quotation mark that is not closed",
        ) from None
    return Grid(tuple(rows), delimiter, tuple(notes))


def without_separator_line(text: str) -> str:
    """The text with an empty line for a first one such as ``sep=;``, which some spreadsheets write for themselves."""
    first, end, rest = text.partition("\n")
    return end + rest if first.strip().lower().startswith("sep=") and len(first.strip()) <= 5 else text


def from_workbook(data: bytes, where: str) -> tuple[tuple[str, Grid], ...]:
    """The sheets of a workbook by name, formulas by the results that are stored with them.

    Raises:
        BrokenFile: it is damaged, or the library that reads it is not there.
    """
    try:
        from python_calamine import CalamineWorkbook
    except ImportError:
        raise BrokenFile(
            "reading .xlsx and .ods needs a library that is not installed",
            where=where,
            do="install mixlint[tables], or save the list as CSV",
        ) from None
    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(data))
        sheets: list[tuple[str, Grid]] = []
        for name in book.sheet_names:
            sheet = book.get_sheet_by_name(name)
            if sheet.total_height > MOST_ROWS or sheet.total_width > MOST_COLUMNS:
                raise RefusedFile(
                    f"its sheet {name} has {sheet.total_height} rows and {sheet.total_width} columns",
                    where=where,
                    do="keep the list of one session in one file",
                )
            rows = sheet.to_python(skip_empty_area=False)
            sheets.append((name, Grid(tuple(GridRow(n, tuple(map(cell_text, row))) for n, row in enumerate(rows, 1)))))
    except RefusedFile:
        raise
    except BaseException as fault:
        if isinstance(fault, KeyboardInterrupt | SystemExit | MemoryError):
            raise
        raise BrokenFile(
            f"it is no workbook that can be read ({str(fault)[:120] or type(fault).__name__})",
            where=where,
            do="save the list again, as .xlsx, .ods or CSV",
        ) from None
    return tuple(sheets)


def cell_text(value: object) -> str:
    """A cell of a workbook as a person would have typed it: no decimals that say nothing, times as such."""
    from datetime import date, datetime, time, timedelta

    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:.10g}"
    if isinstance(value, timedelta):
        return f"{value.total_seconds():.10g}"
    if isinstance(value, time):
        return f"{value.hour * 60 + value.minute}:{value.second + value.microsecond / 1e6:06.3f}"
    if isinstance(value, datetime | date):
        return f"{DATE}{value.isoformat()}"
    return str(value)


DATE: Final = "\N{CALENDAR}"
"""Marks a date that a spreadsheet made of something else."""


def widths(rows: Sequence[GridRow]) -> list[int]:
    """How many cells each row has, without empty ones at its end."""
    return [max((n + 1 for n, cell in enumerate(row.cells) if cell.strip()), default=0) for row in rows]
