"""From a table to a session: which sheet, which sign between cells, which row is the heading, and what every row says.

What a table says was put down by a person: it is taken as it stands, and a note says so. A cell that cannot be read is
unknown, with its place, what is wrong and what would be right; a table that cannot be read at all is an error.
"""

from __future__ import annotations

from collections import Counter
from typing import Final

from mixlint.errors import BrokenFile, NotASession, RefusedFile
from mixlint.importers.channel_list.by_cells import read_by_cells
from mixlint.importers.channel_list.fitting import merged_said, put_right
from mixlint.importers.channel_list.grid import (
    DELIMITER_NAMES,
    DELIMITERS,
    LONGEST_CELL,
    SIZE_LIMIT,
    UNPACKED_LIMIT,
    Grid,
    address,
    cut,
    decoded,
    from_workbook,
    parted,
    widths,
    without_separator_line,
)
from mixlint.importers.channel_list.layout import Layout, heading_of, lay_out, looks_like_list
from mixlint.importers.channel_list.mending import lost_letters, mended
from mixlint.importers.channel_list.remarks import sayings
from mixlint.importers.channel_list.rows import MOST_NOTES, RowReader
from mixlint.media.container import Container
from mixlint.media.xml_parser import XmlLimits, feed, make_parser
from mixlint.naming.list_words import ListWords
from mixlint.naming.vocabulary import SHIPPED
from mixlint.session import Gap, Session

LOSES = (
    "A list of channels has no automation, no equalizer bands but the low cut, and no settings of other processors.",
    "It has no single clips: from its first to its last time a channel counts as playing.",
    "Stereo width, pan law, polarity, side-chains and the pans of sends are not in a list of channels.",
)
CARRIES: tuple[Gap, ...] = (
    "outputs",
    "sends",
    "groups",
    "inserts",
    "clips",
    "levels",
    "pans",
    "mutes",
    "solos",
)
"""What a list has a column for, where its keeper made one."""

MOST_CHANNELS: Final = 20_000
"""So many are read in some seconds; no session has a tenth of them: common practice, no source."""

_DOCUMENT: Final = XmlLimits(size=UNPACKED_LIMIT)
"""What a document in a workbook may hold."""

FORM: Final = "the list of channels"


def sniff(head: bytes) -> bool:
    """True where the first lines of a file hold the heading of a list."""
    if head[:1] in (b"{", b"<", b"P", b"R", b"F") and not head[:400].isascii():
        return False  # other forms, archives and audio, told cheaply
    try:
        text, _ = decoded(head[: len(head) & ~1], "")
    except BrokenFile:
        return False
    return looks_like_list(mended(text)[0], SHIPPED.lists)


def read(container: Container, words: ListWords | None = None) -> Session:
    """Read a list of channels.

    Args:
        container: the file.
        words: the words of headings and cells; mixlint's own unless a house has more.

    Raises:
        NotASession: it is no list of channels.
        BrokenFile: it is damaged, or cannot be read without guessing.
        RefusedFile: it is larger than any list.
    """
    words = words or SHIPPED.lists
    where = str(container.path)
    data = _bytes_of(container, where)
    if not data.strip():
        raise NotASession(
            "the file is empty", where=where, do="give it a heading, with the channel first, and a row for each channel"
        )
    packed = not container.has(container.path.name)
    if packed:
        _sound_documents(container)
    whole, notes = _grid(data, packed=packed, where=where, words=words)
    grid, long = cut(whole)
    at, count = heading_of(grid, words)
    if count < 2:
        raise _no_heading(grid, where)
    below = sum(not row.is_empty for row in grid.rows[at + 1 :])
    if below > MOST_CHANNELS:
        raise RefusedFile(
            f"it has {below} rows under its heading, more than any desk has channels",
            where=where,
            do="keep the list of one session in one file",
        )
    above = grid.rows[:at]
    layout = lay_out(grid, at, words.with_defined(sayings(above, words).words))
    layout.told += read_by_cells(layout, words)
    said = sayings(above, words, layout.remarks)
    if not layout.rows:
        raise NotASession(
            f"row {layout.heading.number} is understood as the heading ({_headings(layout)}), and no channel stands "
            "below it",
            where=where,
            do="write one row for each channel under the heading",
        )
    _one_sign(grid, layout, where)
    layout.told += _hide_cut(layout, long)
    words = words.with_defined(said.words)
    layout.say_taps(said.taps)
    layout.wrong += put_right(layout, words, grid.delimiter) + merged_said(layout)
    return RowReader(layout, said, words, container.path, FORM).session([*notes, *grid.notes], LOSES)


def _hide_cut(layout: Layout, long: dict[int, list[int]]) -> list[str]:
    """Leave a row open in which a cell was cut that is more than a comment; what is to be said of all that were."""
    free = {*layout.columns.get("comment", ()), *layout.others}
    by_number = {row.number: row for row in layout.rows}
    told = []
    for number, columns in long.items():
        for column in columns:
            spot = address(number, column)
            told.append(f"{spot}: only the first {LONGEST_CELL} characters were read.")
            row = by_number.get(number)
            places = (
                [column] if row is None or not row.origin else [n for n, at in enumerate(row.origin) if at == column]
            )
            if row is not None and not free.issuperset(places):
                layout.hidden.setdefault(number, f"cell {spot} is longer than any value of a channel")
    return told[:MOST_NOTES] + ([f"{len(told) - MOST_NOTES} more cells were cut."] if len(told) > MOST_NOTES else [])


def _bytes_of(container: Container, where: str) -> bytes:
    """The file itself, also where it is an archive: whose directory has been looked through, and is none too large."""
    name = container.path.name
    if container.has(name):
        return container.read(name, SIZE_LIMIT)
    size = sum(container.size(one) for one in container.names())
    if size > UNPACKED_LIMIT or container.path.stat().st_size > SIZE_LIMIT:
        raise RefusedFile(
            f"it holds {size >> 20} MB unpacked, more than any list", where=where, do="save the list alone, as CSV"
        )
    return container.path.read_bytes()


def _sound_documents(container: Container) -> None:
    """See that the documents of a workbook are XML: the library that reads it may go on for ever where a tag is not
    closed.

    Raises:
        BrokenFile: one is not well-formed.
        RefusedFile: one passes a limit, or declares a document type.
    """
    for name in container.names():
        if name == "content.xml" or (name.startswith("xl/") and name.endswith(".xml")):
            place = container.place(name)
            with container.open(name) as document:
                feed(make_parser(place), document, place, _DOCUMENT)


def _grid(data: bytes, *, packed: bool, where: str, words: ListWords) -> tuple[Grid, list[str]]:
    """The table in a file: of a workbook its first sheet with a heading, of a text parted by the sign that fits."""
    if packed or data.startswith(b"PK\3\4"):
        sheets = from_workbook(data, where)
        found = [(name, grid) for name, grid in sheets if heading_of(grid, words)[1] >= 2]
        if not found:
            empty: tuple[str, Grid] = sheets[0] if sheets else ("", Grid(()))
            return empty[1], []
        name, grid = found[0]
        others = [other for other, _ in sheets if other != name]
        said = [f"The sheet {name} was read; {', '.join(others[:5])} were not."] if others else []
        said.append("Formulas were taken by the results that are stored with them.")
        return grid, said
    text, assumed = decoded(data, where)
    text, repaired = mended(without_separator_line(text))
    grids = [parted(text, one, where) for one in DELIMITERS if one in text] or [parted(text, ",", where)]
    best = max(grids, key=lambda grid: (heading_of(grid, words)[1], _even(grid)))
    return best, [f"{one[0].upper()}{one[1:]}." for one in (assumed, repaired, lost_letters(text)) if one]


def _even(grid: Grid) -> float:
    """How many of the first rows are as wide as the commonest, a width of one aside."""
    found = Counter(width for width in widths(grid.rows[:200]) if width > 1)
    return max(found.values(), default=0)


def _headings(layout: Layout) -> str:
    return ", ".join(cell.strip() for cell in layout.heading.cells if cell.strip())


def _no_heading(grid: Grid, where: str) -> NotASession:
    first = next((row for row in grid.rows if not row.is_empty), None)
    shown = ""
    if first is not None:
        cells = [cell.strip() for cell in first.cells if cell.strip()]
        shown = f"; row {first.number} begins with {', '.join(cells[:4])[:80]}"
    return NotASession(
        f"no row of it is the heading of a list of channels{shown}",
        where=where,
        do="head the columns, as Channel, Output, Level, Pan; mixlint sheet PATH --as csv writes a list to begin from",
    )


def _one_sign(grid: Grid, layout: Layout, where: str) -> None:
    """See that the rows are parted by the sign that parts the heading.

    Raises:
        BrokenFile: they are parted by another one.
    """
    if not grid.delimiter:
        return
    whole = [row for row in layout.rows if sum(bool(cell.strip()) for cell in row.cells) == 1]
    if 2 * len(whole) <= len(layout.rows):
        return
    for other in DELIMITERS:
        wanted = len([cell for cell in layout.heading.cells if cell.strip()])
        odd = [row for row in whole if max(cell.count(other) for cell in row.cells) + 1 >= min(wanted, 3)]
        if other != grid.delimiter and 2 * len(odd) > len(layout.rows):
            raise BrokenFile(
                f"row {layout.heading.number}, the heading, is parted by {DELIMITER_NAMES[grid.delimiter]}, and rows "
                f"{odd[0].number} to {odd[-1].number} by {DELIMITER_NAMES[other]}",
                where=where,
                do="use one sign all through",
            )
