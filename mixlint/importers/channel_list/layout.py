"""Where the heading of a table is, what its columns hold, and what the lines above it say of how cells are meant."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from mixlint.importers.channel_list.attached import Attached, all_places, attached
from mixlint.importers.channel_list.cells import Misread, number_of, pan_scale, plain, shown
from mixlint.importers.channel_list.chains import send_of
from mixlint.importers.channel_list.grid import DELIMITERS, Grid, GridRow, address
from mixlint.importers.channel_list.passing import before_heads, joined, passed_over
from mixlint.importers.channel_list.slots import Slot, asks_for_tap, slot_heading, slots_in
from mixlint.naming.fold import fold_name
from mixlint.naming.list_words import ListWords, folded, inside_brackets, without_brackets
from mixlint.session import ChannelKind

LOOKED_AT: Final = 60
"""So many rows are looked at for the heading: above it stand titles and remarks."""

SEVERAL: Final[frozenset[str]] = frozenset({"sends", "inserts", "file", "comment", "tap"})
"""Columns of which there may be several, whose cells are read one after another."""

_SURELY: Final = 3
"""So many cells make a heading of a row that holds others; two may be a channel called Mix beside the word track."""

_OF_A_MIX: Final[frozenset[str]] = frozenset(
    {"output", "level", "pan", "mute", "solo", "sends", "inserts", "low-cut", "wet"}
)
"""A table without any of these columns may be of anything; it is read where somebody names it, and not looked for."""

_OFTEN: Final = 0.5
"""A row is the heading where at least this share of its cells names a column; data seldom does."""


@dataclass(slots=True)
class Layout:
    """What a table's columns hold.

    Args:
        heading: the row of the heading.
        columns: column → where it stands, one place or several.
        sends: where the sends to one channel stand → folded name of that channel.
        others: where columns stand that nobody knows → their heading.
        slots: sends that stand in several columns.
        taps: where sends stand → where the column stands that says whether they are pre or post.
        told: what is to be said of rows that are no channels.
        remarks: such rows that may say how cells are meant.
        attached: where inserts stand → the columns that belong to them.
        conflicts: column that stands twice without agreeing → what is wrong with it.
        hidden: row whose cells cannot be told apart → why.
        wrong: what is to be said of rows and columns that are wrong.
        kinds: row → the kind that the title of its part names.
        rows: the rows below, without empty ones.
    """

    heading: GridRow
    columns: dict[str, list[int]]
    rows: tuple[GridRow, ...]
    sends: dict[int, str] = field(default_factory=dict)
    others: dict[int, str] = field(default_factory=dict)
    slots: list[Slot] = field(default_factory=list)
    told: list[str] = field(default_factory=list)
    remarks: list[GridRow] = field(default_factory=list)
    taps: dict[int, int] = field(default_factory=dict)
    attached: dict[int, Attached] = field(default_factory=dict)
    conflicts: dict[str, str] = field(default_factory=dict)
    hidden: dict[int, str] = field(default_factory=dict)
    wrong: list[str] = field(default_factory=list)
    kinds: dict[int, ChannelKind] = field(default_factory=dict)
    _filled: dict[str, bool] = field(default_factory=dict)

    def place(self, column: str) -> int | None:
        """Where a column stands; None where the table has none."""
        found = self.columns.get(column)
        return found[0] if found else None

    def has(self, column: str) -> bool:
        """True where the table has such a column, and something stands in it; asked for every row, found once."""
        known = self._filled.get(column)
        if known is None:
            known = any(row[place] for place in self.columns.get(column, ()) for row in self.rows)
            self._filled[column] = known
        return known

    def forget(self, column: str) -> None:
        """Look again whether anything stands in a column, as its places have changed."""
        self._filled.pop(column, None)

    def say_taps(self, taps: Mapping[str, str]) -> None:
        """Put the word for a sign behind the level of a send that a line defines, as ``* = pre fader``."""
        places = {*self.sends, *self.columns.get("sends", ()), *(n for slot in self.slots for n in slot.places)}
        for sign, tap in taps.items():
            self.rows = tuple(
                replace(
                    row,
                    cells=tuple(
                        cell.replace(sign, f" {tap} ") if place in places else cell
                        for place, cell in enumerate(row.cells)
                    ),
                )
                for row in self.rows
            )

    def cell(self, row: GridRow, column: str) -> str:
        """What stands in a column; several of one kind are put together, a line each."""
        return "\n".join(text for place in self.columns.get(column, ()) if (text := row[place]))

    def where(self, row: GridRow, place: int) -> str:
        """A cell for a reader: ``D4 (Level)``."""
        at = row.origin[place] if place < len(row.origin) else place
        if at < 0:
            return f"row {row.number} ({plain(self.heading[place])})"
        return f"{address(row.number, at)} ({plain(self.heading[place])})"


def recognised(row: GridRow, words: ListWords) -> int:
    """How many different columns the cells of a row name; 0 where none is that of the names, or few cells name one."""
    cells = [cell for cell in row.cells if cell.strip()]
    named = [_columns_of(cell, words) for cell in cells]
    kinds = {columns[0] for columns in named if columns}
    if not any("name" in columns for columns in named) or len(kinds) < 2:
        return 0
    count = sum(bool(columns) for columns in named)
    return len(kinds) if count >= _OFTEN * len(cells) else 0


def _columns_of(cell: str, words: ListWords) -> tuple[str, ...]:
    """The columns that a heading can name; one of several of a send counts as sends."""
    named = words.columns_named(cell)
    if named:
        return named
    slot = slot_heading(cell, words)
    return ("sends",) if slot is not None and not slot.bare else ()


def _for_sure(row: GridRow, words: ListWords) -> bool:
    """True for a row that is a heading of a list by itself, whatever file it stands in."""
    cells = [cell for cell in row.cells if cell.strip()]
    named = [columns[0] for cell in cells if (columns := _columns_of(cell, words))]
    enough = len(named) >= _SURELY or len(named) == len(cells)
    return enough and recognised(row, words) >= 2 and not _OF_A_MIX.isdisjoint(named)


def _heads_a_table(row: GridRow, words: ListWords) -> bool:
    """True for a row below the heading that heads a table of its own: most of its cells name columns, none twice."""
    cells = [cell for cell in row.cells if cell.strip()]
    if len(cells) < _SURELY or any(number_of(plain(cell)) is not None for cell in cells):
        return False
    return recognised(row, words) >= max(_SURELY, 0.75 * len(cells)) and _for_sure(row, words)


def heading_of(grid: Grid, words: ListWords) -> tuple[int, int]:
    """The place of the heading among a grid's rows, and how many columns it names; (0, 0) where there is none."""
    counts = [recognised(row, words) for row in grid.rows[:LOOKED_AT]]
    most = max(counts, default=0)
    for place, count in enumerate(counts):  # of several tables the first
        if count == most or (count >= _SURELY and 2 * count >= most and _for_sure(grid.rows[place], words)):
            return place, count
    return 0, 0


def looks_like_list(text: str, words: ListWords) -> bool:
    """True where one of the first lines of a text, parted in one of the ways there are, is the heading of a list."""
    for line in text.splitlines()[:LOOKED_AT]:
        for delimiter in DELIMITERS:
            cells = tuple(cell.strip().strip('"') for cell in line.split(delimiter))
            if len(cells) > 1 and _for_sure(GridRow(1, cells), words):
                return True
    return False


def lay_out(grid: Grid, at: int, words: ListWords) -> Layout:
    """What the columns of a table hold, by its heading.

    Args:
        grid: the table.
        at: the place of its heading among the rows.
        words: the words of lists.
    """
    heading = grid.rows[at]
    passed = passed_over(heading, grid.rows[at + 1 :], grid.rows[:at], words)
    heads = {row.number for row in passed.rows if _heads_a_table(row, words)}
    before_heads(passed, heads)
    told = [note] if (note := passed.note()) else []
    rows = passed.rows
    if heads:
        heading, rows, more = joined(heading, rows, heads, words)
        told += more
    below = tuple(rows)
    columns: dict[str, list[int]] = {}
    taken: set[str] = set()
    later: list[int] = []
    slots = slots_in(heading, below, words)
    beside = attached(heading, below, words)
    in_slots = {place for slot in slots for place in slot.places} | all_places(beside.values())
    named = {
        place: words.columns_named(text) or words.abbreviated(text)
        for place, text in enumerate(heading.cells)
        if text.strip()
    }
    letters = _letters_alone(heading, below, named, words)
    # What can mean one thing only comes first: of "Gain" and "Fader" the second is the level, wherever it stands.
    for place in sorted(named, key=lambda one: (len([c for c in named[one] if c != "send-to"]) > 1, one)):
        if place in in_slots:
            continue
        can = letters.get(place, named[place])
        column = next((one for one in can if one != "send-to" and (one not in taken or one in SEVERAL)), None)
        if column is None and can and can[0] != "send-to":
            column = can[0]  # twice, which the reader looks into
        if column is None or column == "gain":
            later.append(place)
        else:
            columns.setdefault(column, []).append(place)
            taken.add(column)
    later.sort()
    columns = {column: sorted(places) for column, places in columns.items()}
    _names_apart(columns, below)
    _one_for_both(columns, below, words)
    layout = Layout(
        heading, columns, below, slots=slots, told=told, remarks=passed.remarks, attached=beside, kinds=passed.kinds
    )
    name = layout.place("name")
    channels = {} if name is None else {folded(row[name]): row[name] for row in below if row[name]}
    _sent_for_sure(layout, channels, in_slots, words)
    for place in list(columns.get("sends", ())) + later:
        to = words.sent_to(heading[place], channels)
        if to is not None:
            layout.sends[place] = fold_name(channels[to])
            if place in columns.get("sends", ()):
                columns["sends"].remove(place)
    _beside_sends(layout, later, words)
    for place in [*columns.get("sends", ()), *later]:
        if place not in layout.sends and _holds_levels(layout, place) and words.is_of_sends(heading[place]):
            layout.sends[place] = fold_name(
                next(iter(inside_brackets(heading[place])), _behind_send(heading[place], words))
            )
            if place in columns.get("sends", ()):
                columns["sends"].remove(place)
    _find_taps(layout, channels, later, words)
    for place in later:
        if place in layout.sends or place in layout.taps.values():
            continue
        begun = next((one for one in words.columns_begun(heading[place]) if one in SEVERAL or one not in taken), None)
        if begun is not None and begun not in ("send-to", "gain"):
            columns.setdefault(begun, []).append(place)
            taken.add(begun)
        else:
            layout.others[place] = plain(heading[place])
    for place in range(len(heading.cells)):
        if not heading[place] and any(row[place] for row in below):
            layout.others[place] = ""
    return layout


def _sent_for_sure(layout: Layout, channels: dict[str, str], in_slots: set[int], words: ListWords) -> None:
    """Columns headed ``to Main`` are of sends to that channel, whatever else their words can name."""
    for column, places in list(layout.columns.items()):
        for place in list(places) if column not in ("name", "sends") else ():
            to = words.surely_sent_to(layout.heading[place], channels)
            cells = [row[place] for row in layout.rows if row[place]]
            if to is not None and place not in in_slots and all(is_send_level(cell, words) for cell in cells):
                layout.sends[place] = fold_name(channels[to])
                places.remove(place)
        if not places:
            del layout.columns[column]


def _beside_sends(layout: Layout, later: list[int], words: ListWords) -> None:
    """Columns among those of sends to one channel that hold levels as these do, whatever is called so: ``Cue 1``.

    A name without a row is the reader's to tell. A column of sends is known as such on both sides, or on one where its
    cells say pre or post besides the level.
    """
    for place in later:
        if place in layout.sends or words.columns_begun(layout.heading[place]):
            continue
        beside = [place - 1 in layout.sends, place + 1 in layout.sends]
        texts = [row[place] for row in layout.rows if row[place]]
        if not any(beside) or not texts or not all(is_send_level(text, words) for text in texts):
            continue
        with_tap = any(number_of(plain(text)) is None for text in texts)
        leads = any(send_of(text, "", words) is not None for text in texts)  # and does not say "no" throughout
        if leads and (all(beside) or with_tap):
            layout.sends[place] = fold_name(layout.heading[place])


def is_send_level(text: str, words: ListWords) -> bool:
    """True for a cell that can be of a column of sends to one channel: a level up to 0 dB, or that there is none."""
    try:
        found = send_of(text, "", words)
    except Misread:
        return False
    return found is None or (found.level_db is not None and found.level_db <= 0.0)


def _behind_send(heading: str, words: ListWords) -> str:
    """The name in a heading such as ``Send Plate``; the whole of it where only a number or letter is left."""
    said = heading.split()
    for size in range(len(said) - 1, 0, -1):
        if "send-to" in words.columns.get(folded(" ".join(said[:size])), ()):
            rest = " ".join(said[size:])
            return rest if len(rest) > 2 and not rest.isdigit() else heading
    return heading


def _holds_levels(layout: Layout, place: int) -> bool:
    """True for a column of numbers: the sends to one channel, whatever its heading calls that; one may be mistyped.

    Where another column of sends leads to one channel, a third of the cells is enough.
    """
    cells = [row[place] for row in layout.rows if row[place]]
    numbers = sum(number_of(plain(cell)) is not None for cell in cells)
    return bool(cells) and (numbers == len(cells) or (bool(layout.sends) and 3 * numbers >= len(cells)))


def _letters_alone(
    heading: GridRow, rows: Sequence[GridRow], named: dict[int, tuple[str, ...]], words: ListWords
) -> dict[int, tuple[str, ...]]:
    """What headings of a single letter stand for: S, M and P, where three other columns are known and the cells fit."""
    known = [columns[0] for columns in named.values() if columns]
    found: dict[int, tuple[str, ...]] = {}
    if len(set(known)) < _SURELY:
        return found
    spots = {heading[place].strip(".").casefold(): place for place in named if len(heading[place].strip(".")) == 1}
    for letter, column, other in (("s", "solo", "mute"), ("m", "mute", "solo"), ("p", "pan", "level")):
        place = spots.get(letter)
        beside = other in known or (column != "pan" and {"s", "m"} <= spots.keys())
        if place is None or column in known or not beside:
            continue
        cells = [row[place] for row in rows if row[place]]
        if column == "pan" or all(
            len(cell) <= 3 or words.means(cell, "yes") or words.means(cell, "no") for cell in cells
        ):
            found[place] = (column,)
    return found


def _find_taps(layout: Layout, channels: dict[str, str], later: list[int], words: ListWords) -> None:
    """Which columns say of which sends whether they are pre or post."""
    heading = layout.heading
    loose = [*layout.columns.get("tap", ()), *later]
    for place, to in layout.sends.items():
        keys = [key for key, name in channels.items() if fold_name(name) == to]
        for key in keys:
            asks = next(
                (one for one in loose if one not in layout.sends and asks_for_tap(heading[one], key, words)), None
            )
            if asks is not None:
                layout.taps[place] = asks
    alone = [one for one in layout.columns.get("tap", ()) if one not in layout.taps.values()]
    spots = sorted([*layout.sends, *layout.columns.get("sends", ()), *(slot.to for slot in layout.slots)])
    for tap in alone:
        before = [one for one in spots if one < tap and one not in layout.taps]
        for one in before[-1:] if len(alone) > 1 else [one for one in spots if one not in layout.taps]:
            layout.taps[one] = tap


def _names_apart(columns: dict[str, list[int]], rows: Sequence[GridRow]) -> None:
    """Of two columns of names the one that holds numbers is that of numbers, and a second one is another column."""
    places = columns.get("name", [])
    if len(places) < 2:
        return
    texts = {place: [row[place] for row in rows if row[place]] for place in places}
    numbers = [place for place, cells in texts.items() if all(number_of(cell) is not None for cell in cells)]
    named = [place for place in places if place not in numbers] or places[:1]
    # Of "Source" and "Name" the channel is what the outputs name.
    led_to = {folded(row[place]) for place in columns.get("output", ()) for row in rows if row[place]}
    met = {place: len(led_to & set(map(folded, texts[place]))) for place in named}
    named.sort(key=lambda one: (-met[one], one))
    columns["name"] = named[:1]
    columns.setdefault("number", []).extend(place for place in places if place not in named)
    for place in named[1:]:
        columns.setdefault("comment", []).append(place)


def _one_for_both(columns: dict[str, list[int]], rows: Sequence[GridRow], words: ListWords) -> None:
    """Whether a column headed ``M/S`` is of mute and solo: not beside columns for these, nor where all cells are set.

    ``M/S`` stands for mono and stereo as well, which every channel is one of. Where nearly all cells are set it can be
    either, unless one says both at once.
    """
    places = columns.pop("mute-solo", [])
    if not places:
        return
    texts = [row[places[0]] for row in rows]
    set_ones = [text for text in texts if text and not words.means(text, "none")]
    long = [text for text in set_ones if len(text) > 1]
    in_words = bool(long) and all(words.means(text, "mono") or words.means(text, "stereo") for text in long)
    at_once = any(folded(text).replace(" ", "") in ("ms", "sm") for text in set_ones)
    if "width" not in columns and set_ones and not at_once and (in_words or len(set_ones) == len(texts)):
        columns["width"] = places
    elif 4 * len(set_ones) > 3 * len(texts) and not at_once:
        columns.setdefault("comment", []).extend(places)  # it can be either
    elif "mute" not in columns and "solo" not in columns:
        columns["mute-solo"] = places
    else:
        columns.setdefault("comment", []).extend(places)


def find_conflicts(layout: Layout) -> list[str]:
    """Find the columns of one kind that stand twice and do not agree; gives back what is to be said of them."""
    told = []
    for column, places in layout.columns.items():
        if len(places) < 2 or column in SEVERAL or column in ("number", "name"):
            continue
        odd = [row for row in layout.rows if len({row[place] for place in places if row[place]}) > 1]
        if not odd:
            continue
        free = [place for place in places if place - 1 not in layout.others]
        if len(free) == 1:  # what stands right of a column that nobody knows belongs to that
            layout.others |= {place: plain(layout.heading[place]) for place in places if place not in free}
            places[:] = free
            layout.forget(column)
            continue
        both = " and ".join(address(layout.heading.number, place) for place in places)
        cells_of = ", ".join(shown(odd[0][place]) for place in places)
        why = (
            f"{both} head two columns alike ({plain(layout.heading[places[0]])}), and they do not agree: row "
            f"{odd[0].number} has {cells_of}"
        )
        layout.conflicts[column] = why
        told.append(f"{why}; none of them was read. Right would be another heading for one of them.")
    return told


def heading_scale(text: str) -> float | None:
    """What a heading of pans says to be hard over: ``Pan (100 = hard over)``, ``Pan %``."""
    bare = without_brackets(text)
    inside = text.replace(bare, "") if bare else text
    return pan_scale([inside]) or pan_scale([text])
