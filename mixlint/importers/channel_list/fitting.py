"""Rows whose cells stand under the wrong headings: by an unquoted sign between cells, or by a cell too many or missing.

Whether a cell fits its column is asked of every column whose cells have a form. A row is put right only where exactly
one joining, leaving out or putting in of a cell makes all of it fit, which is said; otherwise its cells are unknown.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from difflib import get_close_matches
from typing import Final

from mixlint.importers.channel_list import cells, dials
from mixlint.importers.channel_list.cells import Misread, number_of, plain, refuse_formula, shown
from mixlint.importers.channel_list.chains import says_none, send_of
from mixlint.importers.channel_list.grid import GridRow, address
from mixlint.importers.channel_list.layout import Layout
from mixlint.naming.fold import fold_name
from mixlint.naming.list_words import ListWords, folded

_SHIFTED: Final = 2
"""So many cells that do not fit make a row doubtful; one is a slip of its own."""
_KINDS: Final = ("track", "group", "return", "master", "vca")
_MERGED: Final = 0.3
"""A column of kinds or outputs with more than this share of empty cells under filled ones looks merged."""


class Fitting:
    """Asks of the cells of a table whether they fit their columns.

    Args:
        layout: what the columns hold.
        words: the words of lists.
        delimiter: the sign between cells; empty in a workbook.
    """

    def __init__(self, layout: Layout, words: ListWords, delimiter: str) -> None:
        self._layout, self._words, self._delimiter = layout, words, delimiter
        name = layout.place("name")
        self._names = set() if name is None else {fold_name(row[name]) for row in layout.rows if row[name]}
        self._all_numbers = name is not None and all(number_of(row[name]) is not None for row in layout.rows)
        self._asked: dict[tuple[int, str], bool] = {}
        self._forms = self._find_forms()

    def _find_forms(self) -> dict[int, Callable[[str], object]]:
        layout, words = self._layout, self._words
        level = lambda text: says_none(text, words) or cells.level(text, words)  # noqa: E731
        forms: dict[str, Callable[[str], object]] = {
            "level": lambda text: cells.level(text, words),
            "pan": lambda text: dials.position(text, words, dials.PanScale(127.0, clock=True)),
            "mute": lambda text: self._switch(text, "mute"),
            "solo": lambda text: self._switch(text, "solo"),
            "low-cut": lambda text: cells.low_cut(text, words),
            "wet": self._share,
            "kind": self._kind,
            "output": self._output,
            "inserts": self._inserts,
            "name": self._name,
        }
        found = {
            place: forms[column] for column, places in layout.columns.items() if column in forms for place in places
        }
        for slot in layout.slots:
            found[slot.to] = self._send_to if slot.level is not None else self._output
            if slot.level is not None:
                found[slot.level] = level
        for place in layout.sends:
            found[place] = lambda text: send_of(text, "", words)
        for one in layout.attached.values():
            if one.switch is not None:
                found[one.switch] = lambda text: self._switch(text, "mute")
        return found

    def _switch(self, text: str, column: str) -> None:
        said = plain(text)
        known = ("yes", "no", "active", "bypassed")
        if (
            said in "✓✔✗✘×●○◯☐☑•-/"
            or said in ("0", "1", "x", "X", "m", "M", "s", "S")
            or column in self._words.columns_named(said)
        ):
            return
        if not any(self._words.means(said, one) for one in known):
            raise Misread("no switch", "")

    def _share(self, text: str) -> None:
        value = number_of(plain(text))
        if (value is None or not 0.0 <= value <= 1.0) and not says_none(text, self._words):
            place = self._layout.place("wet")
            cells.share(text, self._words, "" if place is None else self._layout.heading[place])

    def _kind(self, text: str) -> None:
        said = folded(text).split()
        phrases = [" ".join(said), *said[-1:], *said[:1]]
        if not any(kind in self._words.meanings.get(one, ()) for one in phrases for kind in _KINDS):
            raise Misread("no kind", "")

    def _output(self, text: str) -> None:
        if fold_name(text) in self._names:
            return
        said = plain(text)
        if number_of(said) is not None or any(self._words.means(said, one) for one in ("yes", "centre")):
            raise Misread("no output", "")

    def _send_to(self, text: str) -> None:
        key = fold_name(text)
        known = key in self._names or says_none(text, self._words)
        if not known and not get_close_matches(key, self._names, n=1, cutoff=0.75):
            raise Misread("no channel", "")

    def _inserts(self, text: str) -> None:
        said = plain(text)
        number = number_of(said) is not None and said != "0"
        if number or fold_name(text) in self._names or (self._words.means(said, "yes") and len(said) > 1):
            raise Misread("no insert", "")

    def _name(self, text: str) -> None:
        if number_of(text) is not None and not self._all_numbers:
            raise Misread("no name", "")

    def fits(self, place: int, text: str) -> bool:
        """True where a cell has the form of its column; what a spreadsheet made of one tells of no shift."""
        form = self._forms.get(place)
        if form is None or not text.strip(" ?"):
            return True
        known = self._asked.get((place, text))
        if known is None:
            try:
                refuse_formula(plain(text), "")
            except Misread:
                return True
            try:
                form(text)
                known = True
            except Misread:
                known = False
            self._asked[place, text] = known
        return known

    def leave_out_columns(self) -> None:
        """Ask nothing of columns most of whose cells do not fit: that is no matter of single rows."""
        for place in list(self._forms):
            there = [row[place] for row in self._layout.rows if row[place]]
            if 2 * sum(not self.fits(place, text) for text in there) >= max(len(there), 2):
                del self._forms[place]

    def moved(self, row: GridRow, wrong: list[int]) -> int:
        """How many of the cells that do not fit would fit the column on their left or right."""
        beside = ((place, other) for place in wrong for other in (place - 1, place + 1) if other in self._forms)
        return len({place for place, other in beside if self._tells(other, row[place])})

    def _tells(self, place: int, text: str) -> bool:
        """True where a cell fits a column and can hardly be of another: any word may be an output, insert or name."""
        if not self.fits(place, text):
            return False
        form = self._forms[place]
        loose = (self._output, self._inserts, self._name)
        return form not in loose or (form == self._output and fold_name(text) in self._names)

    def misfits(self, row: GridRow) -> list[int]:
        """The places of the cells that do not fit."""
        return [place for place in range(len(row.cells)) if not self.fits(place, row[place])]

    def is_surplus(self, row: GridRow) -> bool:
        """True for a row with more cells than the heading has."""
        return len(row.cells) > len(self._layout.heading.cells)

    def _is_one(self, place: int, before: str, behind: str) -> bool:
        """True where two cells may be one: of a kind or an output only the whole of it can be known."""
        form = self._forms.get(place)
        whole = f"{before}{self._delimiter}{behind}"
        if form == self._kind:
            return any(kind in self._words.meanings.get(folded(whole), ()) for kind in _KINDS)
        if form in (self._output, self._send_to):
            return fold_name(whole) in self._names
        return True

    def ways(self, row: GridRow) -> Iterator[tuple[GridRow, str]]:
        """The ways to put a row right, each with what is said of it."""
        wide, own = len(self._layout.heading.cells), list(row.cells)
        own += [""] * (wide - len(own))
        places = list(range(len(own)))
        if len(own) == wide + 1 and self._delimiter:
            for n in range(len(own) - 1):
                if own[n].strip() and own[n + 1].strip() and self._is_one(n, own[n], own[n + 1]):
                    joined = f"{own[n]}{self._delimiter}{own[n + 1]}"
                    right = f'"{joined}" in quotation marks'
                    yield _row(row, [*own[:n], joined, *own[n + 2 :]], [*places[: n + 1], *places[n + 2 :]]), right
        for n in range(1, len(own)):
            at = address(row.number, n)
            if not own[n].strip() and any(cell.strip() for cell in own[n + 1 :]):
                rest = [*own[:n], *own[n + 1 :]]
                spots = [*places[:n], *places[n + 1 :]]
                if len(rest) < wide:
                    rest, spots = [*rest, ""], [*spots, -1]
                if len(rest) == wide:
                    yield _row(row, rest, spots), f"the row without the empty cell {at}"
            if len(own) <= wide and not own[-1].strip():
                yield _row(row, [*own[:n], "", *own[n:-1]], [*places[:n], -1, *places[n:-1]]), f"an empty cell at {at}"


def _row(row: GridRow, found: list[str], origin: list[int]) -> GridRow:
    return GridRow(row.number, tuple(found), tuple(origin))


def put_right(layout: Layout, words: ListWords, delimiter: str) -> list[str]:
    """Put the rows of a table right whose cells are shifted, and hide the cells of those that cannot be.

    Args:
        layout: the table; its rows are changed.
        words: the words of lists.
        delimiter: the sign between cells; empty in a workbook.

    Returns:
        What is to be said of each row.
    """
    fitting, told = Fitting(layout, words, delimiter), []
    fitting.leave_out_columns()
    rows: list[GridRow] = []
    name = layout.place("name")
    for row in layout.rows:
        surplus = fitting.is_surplus(row)
        wrong = [] if row.origin else fitting.misfits(row)
        if not wrong or not (surplus or len(wrong) >= _SHIFTED):
            rows.append(row)
            continue
        found: dict[tuple[str, ...], tuple[GridRow, str]] = {}
        for other, right in fitting.ways(row):
            if (name is None or other[name]) and not fitting.misfits(other):
                found.setdefault(tuple(cell.strip() for cell in other.cells), (other, right))
        many = f"has {len(row.cells)} cells where the heading has {len(layout.heading.cells)}"
        who = shown(row[name]) if name is not None else ""
        if len(found) == 1:
            other, right = next(iter(found.values()))
            what = many if surplus else "has cells that stand one column off"
            who = shown(other[name]) if name is not None else who
            told.append(
                f"Row {row.number} ({who}) {what}; only one reading makes all of them fit, and it was read so. Right "
                f"would be {right}."
            )
            rows.append(other)
            continue
        rows.append(row)
        if len(wrong) < _SHIFTED or (not found and not surplus and fitting.moved(row, wrong) < _SHIFTED):
            continue  # told cell by cell, or as a row with too many cells
        first = f"{layout.where(row, wrong[0])}: {shown(row[wrong[0]])}"
        why = f"cells of row {row.number} stand under other headings than theirs (first {first})"
        layout.hidden[row.number] = why
        what = many if surplus else f"has {len(wrong)} cells that do not fit their headings"
        told.append(
            f"Row {row.number} ({who}) {what} (first {first}), as if a cell were missing or too many; none was read. "
            "Right would be each cell under its heading."
        )
    layout.rows = tuple(rows)
    return told


def merged_said(layout: Layout) -> list[str]:
    """What is said of columns of kinds and outputs that look as if cells had been merged; nothing is filled in."""
    told = []
    for column in ("kind", "output"):
        place = layout.place(column)
        if place is None:
            continue
        filled = [bool(row[place]) for row in layout.rows]
        runs = sum(one and not any(filled[n + 1 : n + 3]) for n, one in enumerate(filled[:-2]))
        if not runs or filled.count(False) <= _MERGED * len(filled):
            continue
        empty = [str(row.number) for row in layout.rows if not row[place]]
        at = f"{address(layout.heading.number, place)} ({plain(layout.heading[place])})"
        told.append(
            f"{at}: rows {', '.join(empty[:20])} are "
            "empty below filled cells, as merged cells are saved; nothing was filled in. Right would be the value in "
            "each row."
        )
    return told
