"""Where the heading of a table is, what its columns hold, and what the lines above it say of how cells are meant."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Final, Literal

from mixlint.importers.channel_list.cells import number_of, pan_scale, plain
from mixlint.importers.channel_list.grid import DELIMITERS, Grid, GridRow, address
from mixlint.importers.channel_list.passing import joined, passed_over
from mixlint.importers.channel_list.slots import Slot, asks_for_tap, slot_heading, slots_in
from mixlint.naming.fold import fold_name
from mixlint.naming.list_words import ListWords, folded, inside_brackets, without_brackets

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
    in_slots = {place for slot in slots for place in slot.places}
    named = {place: words.columns_named(text) for place, text in enumerate(heading.cells) if text.strip()}
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
    layout = Layout(heading, columns, below, slots=slots, told=told, remarks=passed.remarks)
    name = layout.place("name")
    channels = {} if name is None else {folded(row[name]): row[name] for row in below if row[name]}
    for place in list(columns.get("sends", ())) + later:
        to = words.sent_to(heading[place], channels)
        if to is not None:
            layout.sends[place] = fold_name(channels[to])
            if place in columns.get("sends", ()):
                columns["sends"].remove(place)
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
    columns["name"] = named[:1]
    columns.setdefault("number", []).extend(place for place in places if place not in named)
    for place in named[1:]:
        columns.setdefault("comment", []).append(place)


@dataclass(slots=True)
class Sayings:
    """What the lines above the heading say.

    Args:
        title: the song's title.
        tap: where sends are taken unless a cell says otherwise.
        blank: what an empty cell of a switch means.
        pans: what was said of pans.
        centre_elsewhere: a line says that another number than 0 is the centre.
    """

    title: str = ""
    tap: Literal["pre", "post"] | None = None
    blank: bool | None = None
    pans: list[str] = field(default_factory=list)
    centre_elsewhere: bool = False

    @property
    def pan_scale(self) -> float | None:
        """What stands for hard over, where a line says it."""
        return pan_scale(self.pans)


_SENTENCES: Final = re.compile(r"(?<!\d)[.。!！;；\n]+\s*|(?<=\d)\.\s+|。")
_QUOTED: Final = re.compile(r"[\"“”„«»「『]\s*([^\"“”„«»「」『』]{2,80}?)\s*[\"“”«»」』]")
_LABEL: Final = re.compile(r"^\s*([^:：=]{1,30})\s*[:：=]\s*(\S.{0,80})$")


def sayings(rows: Iterable[GridRow], words: ListWords, below: Iterable[GridRow] = ()) -> Sayings:
    """What the lines above the heading, and remarks below it, say of the song and of how cells are meant."""
    found = Sayings()
    first = True
    for row in below:
        for cell in row.cells:
            for sentence in _SENTENCES.split(cell):
                _hear(sentence, words, found)
    for row in rows:
        cells = [cell.strip() for cell in row.cells if cell.strip()]
        if not cells:
            continue
        if len(cells) >= 2 and words.means(cells[0], "title"):
            found.title = found.title or cells[1]
        elif len(cells) == 1 or words.means(cells[0], "title"):
            label = _LABEL.match(cells[0])
            if label and words.means(label[1], "title"):
                found.title = found.title or label[2].strip().strip('"“”„«»')
            elif first and not found.title:
                found.title = _title_in(cells[0])
        first = False
        for cell in cells:
            for sentence in _SENTENCES.split(cell):
                if sentence.strip():
                    _hear(sentence, words, found)
    return found


def _title_in(text: str) -> str:
    """The title in a first line: what stands in quotation marks, else what comes before a dash; a sentence is none."""
    quoted = _QUOTED.search(text)
    if quoted:
        return quoted[1]
    if text.rstrip().endswith((".", "!", "?", ":")) or len(text) > 100:
        return ""
    return re.split(r"\s+[-\u2013\u2014|/]\s+", text, maxsplit=1)[0].strip()


def _hear(sentence: str, words: ListWords, found: Sayings) -> None:
    said = folded(sentence)
    about = Counter(columns[0] for columns in _columns_in(said, words))
    taps = _first_meaning(said, words, ("pre", "post"))
    if taps and (about["sends"] or about["send-to"] or "fader" in said):
        found.tap = found.tap or ("pre" if taps == "pre" else "post")
    if about["pan"]:
        per_cent = any(words.means(phrase, "percent") for phrase in words.phrases_in(said))
        if _counted_from_elsewhere(sentence, words):
            found.centre_elsewhere = True
        elif any(char.isdigit() for char in said):
            found.pans.append(sentence)
        elif per_cent:
            found.pans.append("%")
    at = _place_of(said, words, "blank")
    if at is not None:
        means = _first_meaning(said[at:], words, ("yes", "no"), within=6)
        if means and found.blank is None:
            found.blank = means == "yes"


_EQUALS: Final = re.compile(
    r"(\d+(?:[.,]\d+)?)\s*(?:=|:|is|ist|är|er|est|es|è|é)\s*([^\W\d_]+)|([^\W\d_]+)\s*[=:]\s*(\d+)"
)


def _counted_from_elsewhere(sentence: str, words: ListWords) -> bool:
    """True for a line that calls another number than 0 the centre: ``0 to 127, 64 = centre``."""
    for match in _EQUALS.finditer(plain(sentence).casefold()):
        number, word = match[1] or match[4], match[2] or match[3]
        if len(word) > 1 and words.means(word, "centre") and float(number.replace(",", ".")) != 0.0:
            return True
    return False


def _phrases(said: str, longest: int = 4) -> Iterable[tuple[int, str]]:
    """Every run of up to ``longest`` words with its place in the text, the longer first at each place."""
    words = [(match.start(), match[0]) for match in re.finditer(r"\S+", said)]
    for n, (start, _) in enumerate(words):
        for size in range(min(longest, len(words) - n), 0, -1):
            yield start, " ".join(word for _, word in words[n : n + size])


def _columns_in(said: str, words: ListWords) -> list[tuple[str, ...]]:
    found = [words.columns[phrase] for _, phrase in _phrases(said) if phrase in words.columns]
    found += [columns for word, columns in words.columns.items() if not word.isascii() and _inside(word, said)]
    return found


def _inside(word: str, said: str) -> bool:
    """True for a word in writing without spaces that stands inside a run."""
    from mixlint.naming.runs import is_unspaced

    return is_unspaced(word[0]) and word in said


def _first_meaning(said: str, words: ListWords, meanings: tuple[str, ...], within: int = 60) -> str:
    """Which of some meanings comes first in a text, looked for in its first phrases; empty where none does."""
    for n, (_, phrase) in enumerate(_phrases(said)):
        if n > 4 * within:
            break
        met = words.meanings.get(phrase, frozenset())
        for meaning in meanings:
            if meaning in met and len(phrase) > 1:
                return meaning
    spots = [
        (said.index(word), meaning)
        for word, met in words.meanings.items()
        if not word.isascii() and _inside(word, said)
        for meaning in meanings
        if meaning in met
    ]
    return min(spots)[1] if spots else ""


def _place_of(said: str, words: ListWords, meaning: str) -> int | None:
    for start, phrase in _phrases(said):
        if meaning in words.meanings.get(phrase, ()):
            return start + len(phrase)
    spots = [
        said.index(word) + len(word)
        for word, met in words.meanings.items()
        if meaning in met and not word.isascii() and _inside(word, said)
    ]
    return min(spots, default=None)


def heading_scale(text: str) -> float | None:
    """What a heading of pans says to be hard over: ``Pan (100 = hard over)``, ``Pan %``."""
    bare = without_brackets(text)
    inside = text.replace(bare, "") if bare else text
    return pan_scale([inside]) or pan_scale([text])
