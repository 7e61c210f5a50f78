"""What columns hold whose headings nobody knows, where their cells surely tell.

Where they only may hold inserts, sends or low cuts, these are unknown: nothing is "none" for an unread heading.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from typing import Final

from mixlint.importers.channel_list.attached import Attached, asked, like_switch
from mixlint.importers.channel_list.cells import Misread, low_cut, number_of, plain, shown, time_s
from mixlint.importers.channel_list.chains import ChannelNames, inserts_in, opened, says_none, sends_in
from mixlint.importers.channel_list.grid import address
from mixlint.importers.channel_list.layout import SEVERAL, Layout, is_send_level
from mixlint.naming import read_processor
from mixlint.naming.fold import fold_name
from mixlint.naming.list_words import ListWords, folded, is_slot_letter
from mixlint.session import Insert

_LEAST: Final = 3
"""So many processors are needed to tell a column of them."""
_MOST_WORDS: Final = 4
"""A processor's name has no more words; a remark has: common practice, no source."""
_KNOWN_AMONG_JOINED: Final = 0.5
_KNOWN_ALONE: Final = 0.8
"""So many of the names must be those of processors: fewer where cells hold several, parted as chains are."""
_KINDS: Final = frozenset({"track", "group", "return", "master", "vca"})
_BASS: Final = 500.0
"""Hz. A low cut lies below, and among all channels of a mix no high cut does: common practice, no source."""
_CUT_BELOW: Final = 1000.0
"""Hz. Above this nothing is taken for a low cut even in doubt: common practice, no source."""
_AUDIBLE: Final = 16.0
"""Hz. Bare numbers below are counts of something: no ear hears such a cut; common practice, no source."""


def read_by_cells(layout: Layout, words: ListWords) -> list[str]:
    """Find columns of inserts and sends by their cells, where no heading names any; gives back what is said of them."""
    told = _not_as_headed(layout)
    name = layout.place("name")
    channels: ChannelNames[bool] = ChannelNames()
    if name is not None:
        channels.update({fold_name(row[name]): True for row in layout.rows if row[name]})
    tests: tuple[tuple[str, Callable[[Layout, int, ListWords], bool]], ...] = (
        ("kind", _holds_kinds),
        ("output", partial(_holds_outputs, channels)),
        ("inserts", partial(_holds_inserts, channels)),
        ("sends", partial(_holds_sends, channels)),
        ("low-cut", _holds_low_cuts),
        ("wet", _holds_shares),
    )
    for column, is_one in tests:
        if layout.columns.get(column) or (column == "sends" and (layout.sends or layout.slots)):
            continue
        found = [place for place in layout.others if is_one(layout, place, words)]
        if column == "inserts":
            found += [one for one in layout.others if one not in found and _counted_on(layout, one, found, words)]
        if not found or (len(found) > 1 and column not in SEVERAL):
            continue  # of two that can be the same none is
        layout.columns[column] = sorted(found)
        layout.forget(column)
        for place in sorted(found):
            heading = layout.others.pop(place)
            at, called = address(layout.heading.number, place), column.replace("-", " ")
            told.append(
                f"{at}: the heading {shown(heading)} is not known; by its cells the column was taken for {called}. "
                f"Right would be {called.capitalize()}."
            )
    _attach_switches(layout, words)
    return told


def _not_as_headed(layout: Layout) -> list[str]:
    """Take columns back that hold nothing that their heading can mean; gives back what is said of them.

    ``Slot`` is the end in one language and an insert in another, and ``Procesado %`` no processor.
    """
    told = []
    for column, fits in (("start", _is_time), ("end", _is_time), ("inserts", _is_no_number)):
        for place in list(layout.columns.get(column, ())):
            texts = [row[place] for row in layout.rows if row[place]]
            if not texts or any(map(fits, texts)):
                continue
            layout.columns[column].remove(place)
            layout.others[place] = plain(layout.heading[place])
            at, said = address(layout.heading.number, place), shown(plain(layout.heading[place]))
            told.append(f"{at}: no cell below {said} is {_CALLED[column]}; it was not read as that.")
        if column in layout.columns and not layout.columns[column]:
            del layout.columns[column]
        layout.forget(column)
    return told


_CALLED: Final = {"start": "a time", "end": "a time", "inserts": "an insert"}


def _counted_on(layout: Layout, place: int, found: list[int], words: ListWords) -> bool:
    """True for a column headed as one of the found ones but for its letter or number: ``Slot B`` beside ``Slot A``."""
    begun = _but_count(layout.heading[place])
    alike = any(begun and begun == _but_count(layout.heading[one]) for one in found)
    return alike and _may_be_inserts(layout, place, words)


def _but_count(heading: str) -> str:
    said = folded(heading).split()
    return " ".join(said[:-1]) if said and (is_slot_letter(said[-1]) or said[-1].isdigit()) else ""


def _is_time(text: str) -> bool:
    try:
        time_s(text)
    except Misread:
        return False
    return True


def _is_no_number(text: str) -> bool:
    return number_of(plain(text).removesuffix("%").strip()) is None


def _attach_switches(layout: Layout, words: ListWords) -> None:
    """Let a column of yes and no that nobody knows belong to the inserts or send on its left: they may be off by it."""
    for place in layout.columns.get("inserts", ()):
        beside = place + 1
        texts = [row[beside] for row in layout.rows if row[beside]]
        without = sum(bool(row[beside]) and not row[place] for row in layout.rows)
        if place in layout.attached or beside not in layout.others or not texts or 4 * without > len(texts):
            continue
        if all(like_switch(text, words) for text in texts):
            layout.attached[place] = Attached(beside, asked(layout.heading[beside], words))
            del layout.others[beside]
    for slot in layout.slots:
        beside = max(slot.places) + 1
        texts = [row[beside] for row in layout.rows if row[beside]]
        without = sum(bool(row[beside]) and not row[slot.to] for row in layout.rows)
        fits = slot.switch is None and beside in layout.others and texts and 4 * without <= len(texts)
        if fits and all(like_switch(text, words) for text in texts):
            slot.switch, slot.asks = beside, asked(layout.heading[beside], words)
            del layout.others[beside]


def _holds_inserts(channels: ChannelNames[bool], layout: Layout, place: int, words: ListWords) -> bool:
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


def _holds_sends(channels: ChannelNames[bool], layout: Layout, place: int, words: ListWords) -> bool:
    cells = [row[place] for row in layout.rows if row[place] and not says_none(row[place], words)]
    for cell in cells:
        try:
            listed = sends_in(cell, words, channels)
        except Misread:
            return False
        if not all(fold_name(one.to) in channels and one.level_db is not None for one in listed):
            return False
    return bool(cells)


def _holds_kinds(layout: Layout, place: int, words: ListWords) -> bool:
    """True for a column of kinds of channels, of which there are at least two, in most rows."""
    met: set[str] = set()
    cells = [folded(row[place]) for row in layout.rows if row[place]]
    for cell in cells:
        found = _KINDS & (words.meanings.get(cell) or words.meanings.get(cell.rpartition(" ")[2]) or frozenset())
        if not found:
            return False
        met |= found if len(found) == 1 else set()
    return len(met) > 1 and len(cells) >= _KNOWN_ALONE * len(layout.rows)


def _holds_outputs(channels: ChannelNames[bool], layout: Layout, place: int, words: ListWords) -> bool:
    """True for a column in which most rows name one of a few channels, as below ``Group``."""
    said = {met for one in words.phrases_in(layout.heading[place]) for met in words.meanings.get(one, ())}
    if "vca" in said:
        return False
    cells = [fold_name(row[place]) for row in layout.rows if row[place]]
    named = [one for one in cells if one in channels]
    others = len(cells) - len(named)  # the mix bus goes out of the desk
    most = 3 * len(cells) >= 2 * len(layout.rows) and (others <= 1 or len(named) >= _KNOWN_ALONE * len(cells))
    few = "group" in said or 2 * len(set(named)) <= len(named)
    return most and few and len(named) >= _LEAST


def _frequencies(layout: Layout, place: int, words: ListWords) -> list[tuple[float, bool]]:
    """The frequencies in a column, each with whether its unit is told; none where a cell is no low cut."""
    found = []
    for text in (row[place] for row in layout.rows if row[place]):
        try:
            value, _ = low_cut(text, words)
        except Misread:
            return []
        if value > 0.0:
            found.append((value, number_of(plain(text)) is None))
    return found


def _holds_low_cuts(layout: Layout, place: int, words: ListWords) -> bool:
    """True for a column of frequencies in the bass, units told, in most rows."""
    found = _frequencies(layout, place, words)
    filled = sum(bool(row[place]) for row in layout.rows)
    told = all(unit and value <= _BASS for value, unit in found)
    return len(found) >= _LEAST and told and 2 * filled >= len(layout.rows)


def _holds_shares(layout: Layout, place: int, words: ListWords) -> bool:
    """True for a column of per cent that only returns have."""
    kind = layout.place("kind")
    filled = [row for row in layout.rows if row[place]]
    if kind is None or not filled:
        return False
    numbers = [number_of(plain(row[place]).removesuffix("%").strip()) for row in filled]
    in_range = all(one is not None and 0.0 <= one <= 100.0 for one in numbers)
    of_returns = all(_means_return(row[kind], words) for row in filled)
    told = "%" in layout.heading[place] or all("%" in row[place] for row in filled)
    return told and in_range and of_returns


def _means_return(text: str, words: ListWords) -> bool:
    return words.means(text, "return") or any(words.means(one, "return") for one in words.phrases_in(text))


@dataclass(frozen=True, slots=True)
class Doubts:
    """The columns that nobody knows and that may hold what would else be read as "none".

    Args:
        inserts, sends: where a filled cell may be one.
        low_cuts: where such columns stand; no channel is without a low cut then.
    """

    inserts: tuple[int, ...] = ()
    sends: tuple[int, ...] = ()
    low_cuts: tuple[int, ...] = ()


def doubts_in(layout: Layout, words: ListWords) -> Doubts:
    """Which of the columns that were not read may hold inserts, sends or low cuts."""
    name = layout.place("name")
    channels = set() if name is None else {fold_name(row[name]) for row in layout.rows if row[name]}
    unread = [place for place in layout.others if "gain" not in words.columns_named(layout.heading[place])]
    return Doubts(
        tuple(place for place in unread if _may_be_inserts(layout, place, words)),
        tuple(place for place in unread if _may_be_sends(layout, place, words, channels)),
        tuple(place for place in unread if not layout.has("low-cut") and _may_be_low_cuts(layout, place, words)),
    )


def _may_be_inserts(layout: Layout, place: int, words: ListWords) -> bool:
    """True where a third of the different cells are processors as far as their names tell."""
    cells = {row[place] for row in layout.rows if row[place] and not says_none(row[place], words)}
    names: set[str] = set()
    for cell in cells:
        try:
            names |= {one.name for one in inserts_in(cell, words)}
        except Misread:
            continue
    known = sum(read_processor(Insert(name=one), on="track").word is not None for one in names)
    return bool(known) and _LEAST * known >= len(names)


def _may_be_sends(layout: Layout, place: int, words: ListWords, channels: set[str]) -> bool:
    """True where all cells are levels of sends, or name channels; no send stands in every row, as none is to itself."""
    if all(row[place] for row in layout.rows):
        return False
    cells = [row[place] for row in layout.rows if row[place] and not says_none(row[place], words)]
    if not cells:
        return False
    if all(fold_name(cell) in channels for cell in cells):
        return True
    below = [one for cell in cells if (one := number_of(plain(cell))) is None or one < 0.0]
    return bool(below) and all(is_send_level(cell, words) for cell in cells)


def _may_be_low_cuts(layout: Layout, place: int, words: ListWords) -> bool:
    """True where all cells are frequencies or "none", and no count upwards."""
    found = _frequencies(layout, place, words)
    values = [value for value, _ in found]
    counts = len(values) > 1 and all(a < b for a, b in pairwise(values))
    units = any(unit for _, unit in found)
    return bool(values) and min(values) <= _CUT_BELOW and (units or (not counts and min(values) >= _AUDIBLE))
