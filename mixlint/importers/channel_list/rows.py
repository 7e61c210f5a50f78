"""The rows of a table as channels: each cell by its column, what cannot be read as unknown with its place."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final, TypeVar

from mixlint.importers.channel_list import cells, dials
from mixlint.importers.channel_list.by_cells import doubts_in
from mixlint.importers.channel_list.cells import Misread, plain, refuse_formula, shown, unquoted
from mixlint.importers.channel_list.chains import (
    ListedSend,
    says_none,
    sends_in,
)
from mixlint.importers.channel_list.circles import circle_said, circles
from mixlint.importers.channel_list.files import FilesBeside
from mixlint.importers.channel_list.grid import GridRow, address
from mixlint.importers.channel_list.inserting import InsertReader
from mixlint.importers.channel_list.layout import Layout, find_conflicts, heading_scale
from mixlint.importers.channel_list.remarks import Sayings
from mixlint.importers.channel_list.sending import SETTLE, SendReader
from mixlint.importers.channel_list.strips import Strip, Strips
from mixlint.naming.list_words import ListWords
from mixlint.naming.runs import is_unspaced
from mixlint.session import (
    Channel,
    Clip,
    Gap,
    Note,
    Send,
    Session,
    Source,
    Unknown,
)
from mixlint.session.gaps import FIELDS, Held

T = TypeVar("T")

FILES: Final = "Files"
"""Under what a channel's files are kept that nothing tells the length of."""

MOST_NOTES: Final = 200
"""So many cells that cannot be read are told one by one."""


class RowReader:
    """Reads the rows of one table.

    Args:
        layout: what its columns hold.
        said: what the lines above the heading say.
        words: the words of lists.
        path: the file, beside which audio files may lie.
        form: what reasons call it.
    """

    def __init__(self, layout: Layout, said: Sayings, words: ListWords, path: Path, form: str) -> None:
        self._layout = layout
        self._said = said
        self._words = words
        self._path = path
        self._form = form
        self._notes: list[Note] = []
        self._unread = 0
        self._further: dict[int, list[str]] = {}
        self._scale = self._find_scale()
        self._marks = self._find_marks()
        self._empty_sends = self._says_none_somewhere("sends")

    def session(self, notes: list[str], loses: tuple[str, ...]) -> Session:
        """The session that the table describes.

        Args:
            notes: what was assumed to read the table.
            loses: what no list holds.
        """
        for one in (*find_conflicts(self._layout), *self._crossed(), *self._layout.wrong):
            self._note(one)
        layout = self._layout
        rows = [row for row in layout.rows if self._is_channel(row)]
        wide = {row.number: why for row in rows if (why := self._layout.hidden.get(row.number) or self._too_wide(row))}
        layout.hidden |= wide
        strips = Strips(layout, rows, self._words, self._note, self._assume)
        files = FilesBeside(self._path.parent)
        doubts = doubts_in(layout, self._words)
        sends = SendReader(layout, self._said, self._words, strips, self._marks, self._note, doubts)
        inserts = InsertReader(
            layout,
            self._said,
            self._words,
            self._marks,
            form=self._form,
            value=self._value,
            empty=self._empty,
            note=self._note,
            doubts=doubts,
        )
        channels = []
        metadata: dict[str, str] = {}
        for strip in strips.all:
            channels.append(self._channel(strip, strips, sends, inserts, files, wide.get(strip.row.number, "")))
            for place, heading in layout.others.items():
                if text := strip.row[place]:
                    metadata[f"{strip.name}: {heading or address(layout.heading.number, place)}"] = text
        channels += strips.assumed
        inserts.tell_doubts()
        self._tell_circles(channels, strips)
        if not any(channel.clips for channel in channels):
            channels = [channel.model_copy(update={"missing": _but_clips(channel.missing)}) for channel in channels]
        told = [Note(text=one) for one in (*notes, *layout.told)]
        told.append(Note(text="The figures are those that a person put down in the list; nothing was measured."))
        if layout.others:
            names = ", ".join(shown(one or address(layout.heading.number, n)) for n, one in layout.others.items())
            hidden = "" if layout.columns.get("inserts") else " Whether they show inserts is not known."
            told.append(
                Note(
                    text=f"Columns whose headings are not known were not read: {names}. They were kept beside the "
                    f"channels.{hidden}"
                )
            )
        if self._unread > MOST_NOTES:
            told.append(Note(text=f"{self._unread - MOST_NOTES} more cells could not be read."))
        media = files.media() if any(channel.clips for channel in channels) else ()
        if not media:
            metadata |= {f"{s.name}: {FILES}": text for s in strips.all if (text := layout.cell(s.row, "file"))}
        rates = {m.sample_rate_hz for m in media if not isinstance(m.sample_rate_hz, Unknown)}
        return Session(
            title=self._said.title,
            source=Source(importer="channel-list", form=self._form),
            sample_rate_hz=rates.pop() if len(rates) == 1 else Unknown(unknown="the list gives no sample rate"),
            timeline=Unknown(unknown="the list gives no tempo"),
            channels=tuple(channels),
            media=media,
            metadata={**({"title": self._said.title} if self._said.title else {}), **metadata},
            gaps=self._gaps(any(channel.clips for channel in channels)),
            notes=(*told, *files.notes(), *self._notes, *(Note(text=text, loses=True) for text in loses)),
        )

    def _crossed(self) -> list[str]:
        """Leave open what crosses in every row of a mute or solo say: × stands for "no" as well, nobody mutes all."""
        told = []
        for column in ("mute", "solo"):
            place = self._layout.place(column)
            texts = [] if place is None else [plain(row[place]).casefold() for row in self._layout.rows]
            if len(texts) > 1 and cells.all_crosses(texts) and not self._marks.keys() & set(texts):
                why = (
                    f"every row of the column {shown(self._layout.heading[place or 0])} has a cross, for yes or for no"
                )
                self._layout.conflicts[column] = why
                told.append(f"{why[0].upper()}{why[1:]}; it was not read. Right would be yes and no.")
        return told

    def _tell_circles(self, channels: list[Channel], strips: Strips) -> None:
        place = self._layout.place("output")
        if place is None:
            return
        rows = {strip.id: strip.row for strip in strips.all}
        for ring in circles(channels):
            spots = [self._layout.where(rows[one.id], place) for one in ring if one.id in rows]
            self._note(circle_said(ring, spots, channels), ring[0].id)

    def _gaps(self, played: bool) -> tuple[Gap, ...]:
        """What the list has no column for, or an empty one."""
        has = self._layout.has
        both = has("mute-solo")
        there: dict[Gap, bool] = {
            "outputs": has("output"),
            "sends": has("sends") or bool(self._layout.sends) or bool(self._layout.slots),
            "automation": False,
            "inserts": has("inserts"),
            "clips": played,
            "levels": has("level"),
            "pans": has("pan"),
            "mutes": has("mute") or both or (self._said.blank is not None and self._layout.place("mute") is not None),
            "solos": has("solo") or both or (self._said.blank is not None and self._layout.place("solo") is not None),
        }
        return tuple(gap for gap, shows in there.items() if not shows)

    def _note(self, text: str, about: str = "") -> None:
        self._unread += 1
        if self._unread <= MOST_NOTES:
            self._notes.append(Note(text=text, about=about, unread=True))

    def _assume(self, text: str, about: str = "") -> None:
        self._notes.append(Note(text=text, about=about))

    def _is_channel(self, row: GridRow) -> bool:
        """True for a row with a name; one without is told."""
        name = self._layout.place("name")
        if name is not None and row[name]:
            return True
        there = ", ".join(cell.strip() for cell in row.cells if cell.strip())
        where = f"row {row.number}" if name is None else self._layout.where(row, name)
        self._note(
            f"{where}: row {row.number} names no channel and was left out ({there[:80]}). Right would be a name."
        )
        return False

    def _too_wide(self, row: GridRow) -> str:
        """Why the cells of a row do not stand under their headings; empty where they do."""
        layout = self._layout
        wide = max((n + 1 for n, text in enumerate(layout.heading.cells) if text.strip()), default=0)
        surplus = [n for n, cell in enumerate(row.cells) if n >= max(wide, len(layout.heading.cells)) and cell.strip()]
        if not surplus:
            return ""
        last = layout.columns.get("inserts", [-1])[-1]
        fits = last == wide - 1 and not self._words.means(row[last], "centre") and cells.number_of(row[last]) is None
        hint = "quotation marks round a cell that holds the sign between cells"
        if fits:
            self._note(
                f"Row {row.number} ({self._name(row)}) has {len(row.cells)} cells where the heading has {wide}; what "
                f"stands behind its inserts was read as further ones. Right would be {hint}."
            )
            self._further[row.number] = [row[n] for n in surplus]
            return ""
        why = f"row {row.number} has {len(row.cells)} cells where the heading has {wide}"
        self._note(f"{why[0].upper()}{why[1:]} ({self._name(row)}), so that none was read. Right would be {hint}.")
        return why

    def _name(self, row: GridRow) -> str:
        place = self._layout.place("name")
        return unquoted(row[place]) if place is not None else ""

    def _find_marks(self) -> dict[str, bool]:
        layout = self._layout
        places = [*layout.columns.get("mute", ()), *layout.columns.get("solo", ()), *layout.taps.values()]
        places += [slot.tap for slot in layout.slots if slot.tap is not None]
        unspaced = sum(any(map(is_unspaced, cell)) for cell in layout.heading.cells)
        there = {row[place] for place in places for row in layout.rows if row[place]}
        told = cells.marks_of(sorted(there), unspaced=unspaced >= len(layout.columns) / 2)
        return {**told, **self._said.signs}

    def _switch(self, text: str, column: str) -> bool:
        """A mute or solo; what the column is called counts as yes, ``M`` and ``S`` with it."""
        named = column in self._words.columns_named(text) or text.casefold() in (column[0], column[:2])
        if named and not self._words.means(text, "no"):
            return True
        return cells.switch(text, self._words, self._marks)

    def _find_scale(self) -> dials.PanScale:
        """How the column of pans counts, as its heading, a line above or its cells tell."""
        place, said, words = self._layout.place("pan"), self._said, self._words
        if place is None:
            return dials.PanScale()
        heading = self._layout.heading[place]
        texts = [row[place] for row in self._layout.rows if row[place]]
        sided = dials.has_sides(texts)
        clock = dials.is_clock(texts, heading, words)
        if clock or said.dial is not None:
            return dials.PanScale(None, dial=dials.dial_of(heading, words) or said.dial, clock=True)
        highest = None if sided else dials.range_from_zero(heading, words) or said.pan_range
        if said.centre_elsewhere and highest is None:
            return dials.PanScale(sided=sided)
        scale = heading_scale(heading) or said.pan_scale
        if scale is None and not dials.only_from_zero(texts):
            scale = cells.pan_scale_of_cells([one for one in texts if not sided or cells.number_of(plain(one)) is None])
        return dials.PanScale(scale, highest, sided=sided)

    def _says_none_somewhere(self, column: str) -> bool:
        """True where a column says "none" in words, so that an empty cell of it does not."""
        return any(
            says_none(row[place], self._words)
            for place in self._layout.columns.get(column, ())
            for row in self._layout.rows
            if row[place]
        )

    def _value(self, strip: Strip, column: str, read: Callable[[str], T]) -> T | Unknown | None:
        """What a cell says by ``read``; Unknown where it cannot be read, None where it is empty or not there."""
        layout = self._layout
        places = layout.columns.get(column, [])
        if column in layout.conflicts:
            return Unknown(unknown=layout.conflicts[column], settle="give one of them another heading")
        place = next((one for one in places if strip.row[one]), None)
        if place is None:
            return None
        text = strip.row[place]
        try:
            return read(text)
        except Misread as fault:
            where = layout.where(strip.row, place)
            self._note(f"{where}: {fault.what}; {fault.right}.", strip.id)
            return Unknown(unknown=f"cell {where}: {fault.what}", settle=fault.right)

    def _channel(
        self, strip: Strip, strips: Strips, sends: SendReader, inserts: InsertReader, files: FilesBeside, wide: str
    ) -> Channel:
        words, layout = self._words, self._layout
        body: dict[str, Any] = {
            "id": strip.id,
            "name": strip.name,
            "kind": strip.kind,
            "where": f"row {strip.row.number}",
        }
        missing: dict[Held, Unknown] = {}
        if wide:
            hidden = Unknown(unknown=wide, settle="put each cell under its heading")
            body |= dict.fromkeys((*FIELDS.values(), "output"), hidden)
            if layout.sends or layout.slots or layout.has("sends"):
                body["sends"] = (Send(to=hidden, level_db=hidden, tap=hidden, on=hidden),)
            return Channel.model_validate({**body, "missing": {"inserts": hidden, "clips": hidden}})
        readers: dict[Gap, tuple[str, Callable[[str], Any]]] = {
            "levels": ("level", lambda text: cells.level(text, words)),
            "pans": ("pan", lambda text: dials.position(text, words, self._scale)),
            "mutes": ("mute", lambda text: self._switch(text, "mute")),
            "solos": ("solo", lambda text: self._switch(text, "solo")),
        }
        for gap, (column, read) in readers.items():
            value = self._value(strip, column, read)
            if value is None and gap in ("mutes", "solos") and "mute-solo" in layout.columns:
                value = self._of_both(strip, column)
                if value is None:
                    body[FIELDS[gap]] = self._empty(strip, "mute-solo")
                    continue
            if value is None and gap in ("mutes", "solos") and self._said.blank is not None and layout.place(column):
                value = self._said.blank
            if value is not None:
                body[FIELDS[gap]] = value
            elif layout.has(column):
                body[FIELDS[gap]] = self._empty(strip, column)
        body["output"] = strips.output(strip)
        body["sends"] = sends.of(strip, self._told_sends(strip, strips))
        body["inserts"] = inserts.of(strip, self._further.get(strip.row.number, []), missing)
        body["clips"] = self._clips(strip, files, missing)
        legs = self._value(strip, "width", lambda text: cells.legs(text, words))
        if legs is None:
            wide_ones = (files.legs(clip.file) for clip in body["clips"] if clip.file is not None)
            legs = max((one for one in wide_ones if one is not None), default=None)
        if legs is not None:
            body["legs"] = legs
        body["plays"] = ("audio",) if body["clips"] else ()
        body["comment"] = unquoted(self._layout.cell(strip.row, "comment"))
        return Channel.model_validate({**body, "missing": missing})

    def _of_both(self, strip: Strip, column: str) -> bool | Unknown | None:
        """Whether a channel is muted or soloed by one column for both: M, S, MS or words; None where it is empty."""
        text = plain(strip.row[self._layout.columns["mute-solo"][0]])
        if not text:
            return self._said.blank
        words = [one for one in re.split(r"[\s/+,&]+", text.casefold()) if one]
        if text.casefold() in ("ms", "sm"):
            return True
        if all(self._words.means(one, "no") or one in "-0" for one in words):
            return False
        letters = {"mute": "m", "solo": "s"}
        found = {
            which
            for one in words
            for which, letter in letters.items()
            if one == letter or which in self._words.columns_named(one)
        }
        if len(found) == len(words):
            return column in found
        where = self._layout.where(strip.row, self._layout.columns["mute-solo"][0])
        why = f"{shown(text)} tells neither mute nor solo"
        if column == "mute":
            self._note(f"{where}: {why}; right would be M, S or an empty cell.", strip.id)
        return Unknown(unknown=f"cell {where}: {why}", settle="write M, S or both")

    def _empty(self, strip: Strip, column: str) -> Unknown:
        places = self._layout.columns.get(column, [])
        where = self._layout.where(strip.row, places[0]) if places else f"row {strip.row.number}"
        return Unknown(unknown=f"the cell {where} of the list is empty", settle=SETTLE)

    def _told_sends(self, strip: Strip, strips: Strips) -> list[ListedSend] | Unknown | None:
        whole = self._layout.cell(strip.row, "sends")
        told = self._value(strip, "sends", lambda _: sends_in(whole, self._words, strips.by_name))
        return self._empty(strip, "sends") if told is None and self._empty_sends else told

    def _clips(self, strip: Strip, files: FilesBeside, missing: dict[Held, Unknown]) -> tuple[Clip, ...]:
        layout = self._layout
        start = self._value(strip, "start", cells.time_s)
        end = self._value(strip, "end", cells.time_s)
        text = layout.cell(strip.row, "file")
        names = [part.strip() for line in text.splitlines() for part in line.split(";") if part.strip()]
        if strip.kind in ("group", "return", "master", "vca") and not names and start is None and end is None:
            return ()
        for name in names:
            try:
                refuse_formula(name, "right would be the name of the file")
            except Misread as fault:
                missing["clips"] = Unknown(unknown=f"row {strip.row.number}: {fault.what}", settle=fault.right)
                return ()
        ids = [files.add(unquoted(name)) for name in names]
        if not names and "file" not in layout.columns and strip.kind == "track":
            ids = [one for one in (files.called(strip.name),) if one is not None]
        shown_by = (layout.has("start") or layout.has("end"), bool(ids))
        if isinstance(start, Unknown) or isinstance(end, Unknown):
            missing["clips"] = next(one for one in (start, end) if isinstance(one, Unknown))
            return ()
        if end is not None and (start or 0.0) > end:
            self._note(f"Row {strip.row.number}: its end lies before its start; neither was used.", strip.id)
            start = end = None
        begin = start if start is not None else 0.0
        found = []
        played: list[str | None] = [*ids] or [None]
        for one in played:
            until = end
            if until is None and one is not None:
                length = files.duration(one)
                until = None if length is None else begin + length
            if until is not None and (end is not None or one is not None) and (start is not None or one is not None):
                found.append(Clip(start_s=begin, end_s=until, file=one, where=f"row {strip.row.number}"))
        if not found and (any(shown_by) or layout.has("file")):
            missing["clips"] = (
                Unknown(unknown=f"row {strip.row.number} of the list does not say when it plays", settle=SETTLE)
                if names or any(shown_by)
                else self._empty(strip, "file")
            )
        return tuple(found)


def _but_clips(missing: dict[Held, Unknown]) -> dict[Held, Unknown]:
    """What is missing but for clips, where the whole list tells of none."""
    return {held: why for held, why in missing.items() if held != "clips"}
