"""Columns that belong to the column on their left: whether an insert is on, and how wet it is. Position decides."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from mixlint.importers.channel_list.cells import Misread, plain, shown, switch
from mixlint.importers.channel_list.grid import GridRow
from mixlint.naming.list_words import ListWords

_MOST: Final = 2
"""So many columns can belong to one of inserts: whether it is on, and its share."""

_SWITCH_SIGNS: Final = frozenset("01xX✓✔✗✘●○-+×•☐☑")

Asks = Literal["active", "bypassed", ""]


@dataclass(frozen=True, slots=True)
class Attached:
    """What stands right of a column of inserts and belongs to it.

    Args:
        switch: where it stands whether the insert is on; None where it does not.
        asks: what a yes there says of it; empty where the heading does not tell.
        share: where its wet share stands.
    """

    switch: int | None = None
    asks: Asks = ""
    share: int | None = None

    @property
    def places(self) -> tuple[int, ...]:
        """All of these columns."""
        return tuple(one for one in (self.switch, self.share) if one is not None)


def attached(heading: GridRow, rows: Sequence[GridRow], words: ListWords) -> dict[int, Attached]:
    """What belongs to the columns of inserts of a table, by their places."""
    found: dict[int, Attached] = {}
    named = {place: words.columns_named(text)[:1] for place, text in enumerate(heading.cells) if text.strip()}
    shares = [place for place, columns in named.items() if columns == ("wet",)]
    switches = [place for place, columns in named.items() if columns in (("mute",), ("solo",))]
    for place, columns in named.items():
        begun = columns or words.columns_begun(heading[place])[:1]
        if begun != ("inserts",):
            continue
        on: int | None = None
        share: int | None = None
        asks: Asks = ""
        for beside in range(place + 1, min(place + 1 + _MOST, len(heading.cells))):
            if share is None and beside in shares and len(shares) > 1:
                share = beside
            elif on is None and _is_switch(heading, rows, place, beside, named, switches, words):
                on, asks = beside, asked(heading[beside], words)
            else:
                break
        if on is not None or share is not None:
            found[place] = Attached(on, asks, share)
    if len(found) == 1 and len(shares) > 1 and next(iter(found.values())).switch is None:
        return {}  # one share beside an insert, and one for the channel
    return found


def asked(heading: str, words: ListWords) -> Asks:
    """What a yes under a heading says: that something is on, or that it is bypassed; empty where it does not tell."""
    on, off = _says(heading, words, "active"), _says(heading, words, "bypassed")
    return "active" if on and not off else "bypassed" if off and not on else ""


def _says(heading: str, words: ListWords, meaning: str) -> bool:
    bare = [one for one in words.phrases_in(heading) if not one.isdigit()]
    return any(words.means(one, meaning) for one in bare)


def _is_switch(
    heading: GridRow,
    rows: Sequence[GridRow],
    place: int,
    beside: int,
    named: dict[int, tuple[str, ...]],
    switches: list[int],
    words: ListWords,
) -> bool:
    """True for a column that says whether the insert on its left is on."""
    columns = named.get(beside)
    if columns is None:
        return False
    says = bool(asked(heading[beside], words)) or _says(heading[beside], words, "active")
    alone = len([one for one in switches if named[one] == columns]) == 1
    if columns and not says and not (beside in switches and not alone):
        return False
    if columns == ("mute",) and alone:
        return False  # the only mute there is
    there = [row for row in rows if row[beside]]
    if not there:
        return says
    without = sum(not row[place] for row in there)
    return 4 * without <= len(there) and all(like_switch(row[beside], words) for row in there)


def like_switch(text: str, words: ListWords) -> bool:
    """True for a cell that can be one of a switch."""
    said = plain(text)
    return said in _SWITCH_SIGNS or any(words.means(said, one) for one in ("yes", "no", "active", "bypassed"))


def state_said(text: str, asks: Asks, words: ListWords, marks: dict[str, bool]) -> bool:
    """Whether an insert is on by the cell of its switch.

    Raises:
        Misread: the cell does not tell.
    """
    right = "right would be on or off"
    said = plain(text)
    on, off = words.means(said, "active"), words.means(said, "bypassed")
    if asks != "bypassed" and on != off:
        return on
    try:
        pressed = switch(text, words, marks)
    except Misread:
        if on != off:
            return on
        raise
    if not asks:
        raise Misread(f"{shown(text)} does not tell whether it is on or bypassed", right)
    return pressed if asks == "active" else not pressed


def all_places(found: Iterable[Attached]) -> set[int]:
    """The places of all such columns."""
    return {place for one in found for place in one.places}
