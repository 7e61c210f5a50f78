"""What columns hold whose headings nobody knows, where their cells surely tell: inserts, or sends with their levels."""

from __future__ import annotations

from collections import Counter
from typing import Final

from mixlint.importers.channel_list.cells import Misread, number_of, plain, shown
from mixlint.importers.channel_list.chains import ChannelNames, inserts_in, opened, says_none, sends_in
from mixlint.importers.channel_list.grid import address
from mixlint.importers.channel_list.layout import Layout
from mixlint.naming import read_processor
from mixlint.naming.fold import fold_name
from mixlint.naming.list_words import ListWords
from mixlint.session import Insert

_LEAST: Final = 3
"""So many processors are needed to tell a column of them."""
_MOST_WORDS: Final = 4
"""A processor's name has no more words; a remark has: common practice, no source."""
_KNOWN_AMONG_JOINED: Final = 0.5
_KNOWN_ALONE: Final = 0.8
"""So many of the names must be those of processors: fewer where cells hold several, parted as chains are."""


def read_by_cells(layout: Layout, words: ListWords) -> list[str]:
    """Find columns of inserts and sends by their cells, where no heading names any; gives back what is said of them."""
    told = []
    name = layout.place("name")
    channels: ChannelNames[bool] = ChannelNames()
    if name is not None:
        channels.update({fold_name(row[name]): True for row in layout.rows if row[name]})
    for column, is_one in (("inserts", _holds_inserts), ("sends", _holds_sends)):
        if layout.columns.get(column) or (column == "sends" and (layout.sends or layout.slots)):
            continue
        found = [place for place in layout.others if is_one(layout, place, words, channels)]
        if not found:
            continue
        layout.columns[column] = sorted(found)
        layout.forget(column)
        for place in sorted(found):
            heading = layout.others.pop(place)
            at = address(layout.heading.number, place)
            told.append(
                f"{at}: the heading {shown(heading)} is not known; by its cells the column was taken for {column}. "
                f"Right would be {column.capitalize()}."
            )
    return told


def _holds_inserts(layout: Layout, place: int, words: ListWords, channels: ChannelNames[bool]) -> bool:
    cells = [row[place] for row in layout.rows if row[place] and not says_none(row[place], words)]
    sign = opened(cells)
    names: list[str] = []
    several = 0
    for cell in cells:
        try:
            listed = inserts_in(cell.replace(sign, ";") if sign else cell, words)
        except Misread:
            return False
        several += len(listed) > 1
        names += [one.name for one in listed]
    if len(names) < _LEAST or any(number_of(plain(one)) is not None or fold_name(one) in channels for one in names):
        return False
    if any(len(one.split()) > _MOST_WORDS for one in names):
        return False
    known = sum(read_processor(Insert(name=one), on="track").word is not None for one in names)
    again = max(Counter(one.casefold() for one in names).values()) > 1
    return again and known >= (_KNOWN_AMONG_JOINED if several else _KNOWN_ALONE) * len(names)


def _holds_sends(layout: Layout, place: int, words: ListWords, channels: ChannelNames[bool]) -> bool:
    cells = [row[place] for row in layout.rows if row[place] and not says_none(row[place], words)]
    for cell in cells:
        try:
            listed = sends_in(cell, words, channels)
        except Misread:
            return False
        if not all(fold_name(one.to) in channels and one.level_db is not None for one in listed):
            return False
    return bool(cells)
