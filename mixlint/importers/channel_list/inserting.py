"""The inserts of a row: from cells of several, from a column for each, with what belongs to it, and its low cut."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final, Protocol, TypeVar

from mixlint.importers.channel_list import cells
from mixlint.importers.channel_list.attached import Asks, state_said
from mixlint.importers.channel_list.by_cells import Doubts
from mixlint.importers.channel_list.cells import Misread, shown
from mixlint.importers.channel_list.chains import (
    TIME_EFFECTS,
    ListedInsert,
    insert_marks,
    inserts_in,
    opened,
    says_none,
)
from mixlint.importers.channel_list.layout import Layout
from mixlint.importers.channel_list.remarks import Sayings
from mixlint.importers.channel_list.strips import Strip
from mixlint.naming.list_words import ListWords
from mixlint.session import Equalizer, EqualizerBand, Insert, Unknown, not_shown
from mixlint.session.gaps import Held

T = TypeVar("T")

LOW_CUT: Final = "Low cut"
"""What the low cut of a column is called among a channel's inserts; it comes first."""


class _Value(Protocol):
    def __call__(self, strip: Strip, column: str, read: Callable[[str], T]) -> T | Unknown | None: ...


class InsertReader:
    """Reads the inserts of the rows of one table.

    Args:
        layout: what its columns hold.
        said: what the lines above the heading say.
        words: the words of lists.
        marks: what signs such as ○ and × mean in its switches.
        form: what reasons call the list.
        value: reads a cell, or tells why it cannot be read.
        empty: why an empty cell is not known.
        note: takes what is wrong with a cell, and about which channel.
        doubts: which columns that were not read may hold inserts or low cuts.
    """

    def __init__(
        self,
        layout: Layout,
        said: Sayings,
        words: ListWords,
        marks: dict[str, bool],
        *,
        form: str,
        value: _Value,
        empty: Callable[[Strip, str], Unknown],
        note: Callable[[str, str], None],
        doubts: Doubts,
    ) -> None:
        self._layout, self._said, self._words, self._marks = layout, said, words, marks
        self._form, self._value, self._empty, self._note = form, value, empty, note
        self._doubts = doubts
        self._in_doubt: list[tuple[Strip, str]] = []
        texts = [row[place] for place in layout.columns.get("inserts", ()) for row in layout.rows if row[place]]
        self._insert_marks = insert_marks(texts, said.states, brackets=said.brackets)
        self._joined_by = opened(texts)
        self._empty_inserts = any(says_none(text, words) for text in texts)

    def of(self, strip: Strip, further: list[str], missing: dict[Held, Unknown]) -> tuple[Insert, ...]:
        """The inserts of a row, its low cut first.

        Args:
            strip: the channel.
            further: what stands behind the last column of the heading and is more of them.
            missing: takes why they are not known.
        """
        layout, words = self._layout, self._words
        found: list[Insert] = []
        has_column = layout.has("inserts")
        listed = self._value(strip, "inserts", lambda _: self._listed(strip, further))
        cut = self._value(strip, "low-cut", lambda text: cells.low_cut(text, words))
        wet = self._value(strip, "wet", lambda text: self._share(strip, text)) if self._states_share(strip) else None
        where = f"row {strip.row.number}"
        if isinstance(cut, tuple) and cut[0] > 0.0:
            found.append(_low_cut(LOW_CUT, *cut, where))
        elif isinstance(cut, Unknown) or (cut is None and (layout.has("low-cut") or self._doubts.low_cuts)):
            # Whether there is one, and where it lies, is hidden just as the settings of an opaque filter are.
            ground = "the list has a column for it, and does not say" if cut is None else cut.unknown
            if cut is None and not layout.has("low-cut"):
                ground = f"{self._column(self._doubts.low_cuts[0])} was not read, and may tell of low cuts"
            found.append(Insert(name=LOW_CUT, kind="filter", opaque=True, where=where, ground=ground))
        if isinstance(listed, Unknown):
            missing["inserts"] = listed
        elif listed is None and has_column and self._empty_inserts:
            missing["inserts"] = self._empty(strip, "inserts")
        elif listed:
            found += self._processors(strip, listed, wet, where)
        elif not has_column:
            missing["inserts"] = not_shown("inserts", self._form)
        doubt = next((place for place in self._doubts.inserts if strip.row[place]), None)
        if doubt is not None and has_column and "inserts" not in missing:
            why = f"{self._column(doubt)} was not read, and may hold inserts"
            missing["inserts"] = Unknown(unknown=why, settle="head that column as what it holds, such as Inserts")
        return tuple(found)

    def _column(self, place: int) -> str:
        return f"the column {shown(self._layout.heading[place])}"

    def _listed(self, strip: Strip, further: list[str]) -> list[ListedInsert]:
        """The inserts of a row, column by column, each with what belongs to it.

        Raises:
            Misread: a cell holds what a spreadsheet made.
        """
        found: list[ListedInsert] = []
        for place in self._layout.columns.get("inserts", ()):
            text = strip.row[place]
            if not text:
                continue
            if self._joined_by and "(" not in text.replace(" (", ""):
                text = text.replace(self._joined_by, ";")
            listed = inserts_in(text, self._words, self._insert_marks)
            beside = self._layout.attached.get(place)
            if beside is not None and beside.switch is not None and listed:
                on = self._state(strip, beside.switch, beside.asks)
                listed = [replace(one, on=on) for one in listed]
            if beside is not None and beside.share is not None and len(listed) == 1 and strip.row[beside.share]:
                try:
                    wet = self._share(strip, strip.row[beside.share], beside.share)
                    listed = [replace(listed[0], wet=wet)]
                except Misread as fault:
                    self._note(f"{self._layout.where(strip.row, beside.share)}: {fault.what}; {fault.right}.", strip.id)
            found += listed
        for text in further:
            found += inserts_in(text, self._words, self._insert_marks)
        return found

    def _state(self, strip: Strip, place: int, asks: Asks) -> bool | None:
        """Whether an insert is on by the column beside it; None where that does not tell."""
        text = strip.row[place]
        if not text:
            blank = self._said.blank
            return None if blank is None or not asks else blank == (asks == "active")
        try:
            return state_said(text, asks, self._words, {**self._marks, **self._said.states})
        except Misread as fault:
            self._note(f"{self._layout.where(strip.row, place)}: {fault.what}; {fault.right}.", strip.id)
            return None

    def _share(self, strip: Strip, text: str, place: int | None = None) -> float:
        if place is None:
            place = next(one for one in self._layout.columns["wet"] if strip.row[one])
        return cells.share(text, self._words, self._layout.heading[place])

    def _states_share(self, strip: Strip) -> bool:
        text = self._layout.cell(strip.row, "wet")
        return bool(text) and not says_none(text, self._words)

    def _processors(
        self, strip: Strip, listed: list[ListedInsert], wet: float | Unknown | None, where: str
    ) -> list[Insert]:
        found = []
        at = _effect_among(listed, strip) if wet is not None else None
        for place, one in enumerate(listed):
            body: dict[str, Any] = {"name": one.name, "on": one.on, "where": where}
            if one.on is None:
                self._in_doubt.append((strip, one.name))
                body["on"] = Unknown(
                    unknown="a mark beside it may say that it is bypassed, and nothing in the list tells",
                    settle="write (off) behind what is bypassed, or a line that says what the mark means",
                )
            if one.kind:
                body |= {"kind": one.kind, "ground": "the list says so"}
            share: float | Unknown | None = one.wet if one.wet is not None else wet if place == at else None
            if share is not None:
                body["wet"] = share
            if one.low_cut:
                try:
                    hertz, slope = cells.low_cut(one.low_cut, self._words)
                except Misread:
                    hertz, slope = 0.0, None
                if hertz > 0.0:
                    body["equalizer"] = _low_cut(one.name, hertz, slope, where).equalizer
                    body["opaque"] = one.kind != "filter"
            found.append(Insert.model_validate(body))
        if wet is not None and at is None:
            self._note(
                f"Row {strip.row.number}: nothing tells which of its processors the wet share belongs to; it was not "
                "used. Right would be to write it behind the processor, as Old Hall (100 % wet).",
                strip.id,
            )
        return found

    def tell_doubts(self) -> None:
        """Say of which inserts it is not known whether they are on."""
        if self._in_doubt:
            rows = ", ".join(dict.fromkeys(str(strip.row.number) for strip, _ in self._in_doubt))
            names = ", ".join(dict.fromkeys(shown(name) for _, name in self._in_doubt[:6]))
            self._note(
                f"Whether {names} are on is not told (rows {rows[:200]}): a mark or an empty cell beside them can mean "
                "bypassed. Right would be (off) behind what is bypassed, or a line that says what the mark means.",
                "",
            )


def _effect_among(listed: list[ListedInsert], strip: Strip) -> int | None:
    """The place of the processor that a wet share belongs to: the one that is a reverb or delay, or the only one."""
    from mixlint.naming import read_processor

    kinds = [one.kind or read_processor(Insert(name=one.name), {}, on=strip.kind).word for one in listed]
    effects = [place for place, kind in enumerate(kinds) if kind in TIME_EFFECTS]
    if len(effects) == 1:
        return effects[0]
    unread = [place for place, kind in enumerate(kinds) if kind is None]
    if not effects and len(listed) == 1:
        return 0
    return unread[0] if not effects and len(unread) == 1 else None


def _low_cut(name: str, hertz: float, slope: float | None, where: str) -> Insert:
    told: dict[str, Any] = {} if slope is None else {"slope_db_per_oct": slope}
    band = EqualizerBand.model_validate({"kind": "high-pass", "freq_hz": hertz, **told})
    return Insert(
        name=name,
        kind="filter",
        ground="the list says so",
        opaque=False,
        equalizer=Equalizer(bands=(band,)),
        where=where,
    )
