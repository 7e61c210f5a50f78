"""Rows that are no channels: rules, titles of pages, headings said again, totals, remarks; and further tables below."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Final

from mixlint.importers.channel_list.cells import number_of, plain
from mixlint.importers.channel_list.grid import GridRow
from mixlint.naming.list_words import ListWords, folded
from mixlint.naming.runs import is_unspaced
from mixlint.session import ChannelKind

_RULE: Final = re.compile(r"[-=_*~.·•#+|:—–―─━\s]{2,}")
_PART: Final = re.compile(r"([-=*~#—–─━])\1+\s*\S.*?\s*\1{2,}|[^:：]{2,40}[:：]")
_SENTENCE: Final = re.compile(r"(?:[*※†]|NB\b|N\.B\.).*|.*[.!。！]")
_LEAST_WORDS: Final = 4
"""So many words a sentence has at least that ends in a full stop; shorter ones may be names, as ``Gtr.``"""
_MOST_TOLD: Final = 20
_PART_TITLE: Final = "the title of a part"
_FULL: Final = 3
"""Where most rows have so many cells, one with a single cell is a channel only if something speaks for it."""


@dataclass(slots=True)
class Passed:
    """What was passed over below a heading.

    Args:
        rows: what is left, rows that may be channels.
        told: row → what it is.
        remarks: those of them that may say how cells are meant.
        kinds: row → the kind of channel that the title of its part names.
    """

    rows: list[GridRow] = field(default_factory=list)
    told: dict[int, str] = field(default_factory=dict)
    remarks: list[GridRow] = field(default_factory=list)
    kinds: dict[int, ChannelKind] = field(default_factory=dict)

    def note(self) -> str:
        """One sentence on all of them; empty where there are none."""
        if not self.told:
            return ""
        shown = [f"row {number} ({what})" for number, what in sorted(self.told.items())[:_MOST_TOLD]]
        rest = len(self.told) - len(shown)
        more = f", and {rest} more" if rest else ""
        return f"Passed over as no channels were {', '.join(shown)}{more}."


def passed_over(heading: GridRow, rows: tuple[GridRow, ...], above: tuple[GridRow, ...], words: ListWords) -> Passed:
    """Part the rows below a heading into those that may be channels and those that are none.

    Args:
        heading: the heading.
        rows: all that stands below it.
        above: what stands over it.
        words: the words of lists.
    """
    found = Passed()
    titles = {_bare(cell) for row in above for cell in row.cells if cell.strip()}
    blank: list[int] = []
    alone = _Alone(heading, rows, words)
    kind: ChannelKind | None = None
    for row in rows:
        if row.is_empty:
            blank.append(row.number)
            continue
        what = _what(row, heading, titles, len(found.rows), words) or alone.what(row, after_blank=bool(blank))
        if what:
            found.told[row.number] = what
            if what == _PART_TITLE:
                kind = alone.kind(row)
            if what == "a remark":
                found.remarks.append(row)
            continue
        if found.rows and len(blank) <= _MOST_TOLD:
            found.told |= dict.fromkeys(blank, "blank")
        blank = []
        found.rows.append(row)
        if kind is not None:
            found.kinds[row.number] = kind
    return found


class _Alone:
    """Tells rows with one cell, which are titles of parts or remarks where the other rows are full, from channels.

    A channel that another cell names, as an output or a send, is one though nothing else is said of it.
    """

    def __init__(self, heading: GridRow, rows: tuple[GridRow, ...], words: ListWords) -> None:
        self._words = words
        full = [row for row in rows if sum(bool(cell.strip()) for cell in row.cells) > 1]
        counts = sorted(sum(bool(cell.strip()) for cell in row.cells) for row in full)
        self._are_full = bool(counts) and counts[len(counts) // 2] >= _FULL
        self._last = max((row.number for row in full), default=0)
        spot = next((n for n, cell in enumerate(heading.cells) if "name" in words.columns_named(cell)), 0)
        self._names = {folded(row[spot]) for row in full if row[spot]}
        elsewhere = {
            cell for row in (heading, *full) for n, cell in enumerate(row.cells) if n != spot or row is heading
        }
        self._mentioned = "\n".join(f" {folded(cell)} " for cell in elsewhere if cell.strip()) if self._are_full else ""
        self._capitals = 2 * sum(name_of.isupper() for row in full if (name_of := row[spot])) > len(full)

    def what(self, row: GridRow, *, after_blank: bool) -> str:
        """What a row is that is no channel; empty where it may be one."""
        texts = [cell.strip() for cell in row.cells if cell.strip()]
        if not self._are_full or len(texts) != 1:
            return ""
        text, said = texts[0], folded(texts[0])
        if said in self._names:
            return _PART_TITLE
        if said and f" {said} " in self._mentioned:
            return ""
        if row.number > self._last:
            several = len(text.split()) >= 3 or any(sign in text for sign in "=:") or not said
            return "a remark" if after_blank or several else ""
        capitals = text.isupper() and len(text) > 3 and not self._capitals
        return _PART_TITLE if capitals or self.kind(row) is not None else ""

    def kind(self, row: GridRow) -> ChannelKind | None:
        """The kind of channel that the title of a part names."""
        text = next(cell.strip() for cell in row.cells if cell.strip()).strip(" :-=*#")
        kinds: tuple[ChannelKind, ...] = ("vca", "master", "return", "group", "track")
        found = next((kind for kind in kinds if self._words.means(text, kind)), None)
        return found or ("track" if "name" in self._words.columns.get(folded(text), ()) else None)


def before_heads(passed: Passed, heads: set[int]) -> None:
    """Pass over what stands alone in the row above the heading of a further table: its title."""
    for row, behind in zip(list(passed.rows), passed.rows[1:], strict=False):
        if behind.number in heads and sum(bool(cell.strip()) for cell in row.cells) == 1:
            passed.rows.remove(row)
            passed.told[row.number] = _PART_TITLE


def _bare(text: str) -> str:
    return " ".join(word for word in folded(text).split() if not word.isdigit())


def _what(row: GridRow, heading: GridRow, titles: set[str], count: int, words: ListWords) -> str:
    """What a row is that is no channel; empty where it may be one."""
    cells = [cell.strip() for cell in row.cells if cell.strip()]
    if all(_RULE.fullmatch(cell) for cell in cells) or (len(cells) > 2 and all(plain(cell) == "-" for cell in cells)):
        return "a rule"
    alike = sum(bool(heading[n]) and folded(heading[n]) == folded(row[n]) for n in range(len(row.cells)))
    if alike >= 2 and alike >= 0.8 * len(cells):
        return "the heading again"
    said = words.phrases_in(cells[0])
    last = words.phrases_in(cells[-1])
    if len(cells) == 2 and last and words.means(last[0], "page") and any(char.isdigit() for char in cells[1]):
        return "the title of a page"
    numbers = any(char.isdigit() for char in cells[0])
    if len(cells) == 1:
        if numbers and any(words.means(one, "page") for one in said) and len(said) > 1:
            return "the title of a page"
        if _bare(cells[0]) and _bare(cells[0]) in titles:
            return "the title again"
        if (
            numbers
            and said
            and words.means(said[0], "total")
            and len(said) <= _LEAST_WORDS
            and not set(cells[0]) & set(",;|")
        ):
            return "a total"
        if _PART.fullmatch(cells[0]):
            return _PART_TITLE
        long = len(cells[0].split()) >= _LEAST_WORDS or sum(map(is_unspaced, cells[0])) >= 3 * _LEAST_WORDS
        if _SENTENCE.fullmatch(cells[0]) and long:
            return "a remark"
    elif len(cells) == 2 and said and number_of(plain(cells[1])) is not None:
        whole = words.means(" ".join(said), "total")
        of_names = words.means(said[0], "total") and all("name" in words.columns.get(one, ()) for one in said[1:])
        if (whole and number_of(plain(cells[1])) == count) or (len(said) > 1 and of_names):
            return "a total"
    return ""


def joined(
    heading: GridRow, rows: list[GridRow], heads: set[int], words: ListWords
) -> tuple[GridRow, list[GridRow], list[str]]:
    """One table of several that stand below one another, each under a heading of its own.

    Args:
        heading: the first heading.
        rows: the rows below it, the further headings among them.
        heads: the numbers of the rows that are headings.
        words: the words of lists.

    Returns:
        The heading with the columns that only further tables have, the rows in its columns, and what is to be said.
    """
    wide, out, told = list(heading.cells), [], []
    names: set[str] = set()
    at = next((n for n, cell in enumerate(wide) if "name" in words.columns_named(cell)), 0)
    tables: list[tuple[GridRow, list[GridRow]]] = [(heading, [])]
    for row in rows:
        if row.number in heads:
            tables.append((row, []))
        else:
            tables[-1][1].append(row)
    for head, below in tables:
        if head is heading:
            out += below
            names |= {folded(row[at]) for row in below if row[at]}
            continue
        where = next((n for n, cell in enumerate(head.cells) if "name" in words.columns_named(cell)), 0)
        own = [folded(row[where]) for row in below if row[where]]
        if own and all(one in names for one in own):
            told.append(
                f"Rows {head.number} to {below[-1].number} are a second table, of channels that the first one has; "
                "they were not read. Right would be further columns of the first table."
            )
            continue
        names |= set(own)
        to: dict[int, int] = {}
        for n, cell in enumerate(head.cells):
            if cell.strip():
                to[n] = _same_column(cell, wide, set(to.values()), words)
        if below:
            told.append(
                f"Rows {head.number} to {below[-1].number} are a further table; its channels were read as well."
            )
        for row in below:
            cells, origin = [""] * len(wide), [-1] * len(wide)
            for n, place in to.items():
                cells[place], origin[place] = row[n], n
            out.append(GridRow(row.number, tuple(cells), tuple(origin)))
            lost = [n for n in range(len(row.cells)) if row[n] and n not in to]
            if lost:
                told.append(
                    f"Row {row.number} has cells that no heading of row {head.number} stands over; they were not read."
                )
    return GridRow(heading.number, tuple(wide)), out, told


def _same_column(cell: str, wide: list[str], taken: set[int], words: ListWords) -> int:
    """The place of a column in the first table; behind its end where it has none like it."""
    kinds = words.columns_named(cell)[:1]
    free = [place for place, one in enumerate(wide) if place not in taken and one.strip()]
    alike = [place for place in free if folded(wide[place]) == folded(cell)]
    alike += [place for place in free if kinds and words.columns_named(wide[place])[:1] == kinds]
    if alike:
        return alike[0]
    wide.append(cell)
    return len(wide) - 1
