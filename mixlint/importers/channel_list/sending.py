"""The sends of a row: from one cell, from a column for each channel, and from several columns of one send."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final

from mixlint.importers.channel_list.attached import Asks, state_said
from mixlint.importers.channel_list.by_cells import Doubts
from mixlint.importers.channel_list.cells import Misread, number_of, plain, refuse_formula, shown
from mixlint.importers.channel_list.chains import ListedSend, says_none, send_of, sends_in
from mixlint.importers.channel_list.layout import Layout
from mixlint.importers.channel_list.remarks import Sayings
from mixlint.importers.channel_list.slots import Slot, tap_of, tap_said
from mixlint.importers.channel_list.strips import Strip, Strips
from mixlint.naming.fold import fold_name
from mixlint.naming.list_words import ListWords
from mixlint.session import Send, Unknown

SETTLE: Final = "write it into the list"


class SendReader:
    """Reads the sends of the rows of one table.

    Args:
        layout: what its columns hold.
        said: what the lines above the heading say.
        words: the words of lists.
        strips: the channels of the list.
        marks: what signs such as ○ and × mean in its switches.
        note: takes what is wrong with a cell, and about which channel.
        doubts: which columns that were not read may hold sends.
    """

    def __init__(
        self,
        layout: Layout,
        said: Sayings,
        words: ListWords,
        strips: Strips,
        marks: dict[str, bool],
        note: Callable[[str, str], None],
        doubts: Doubts,
    ) -> None:
        self._layout, self._said, self._words = layout, said, words
        self._strips, self._marks, self._note = strips, marks, note
        has_sends = bool(layout.sends or layout.slots) or layout.has("sends")
        self._doubtful = doubts.sends if has_sends else ()  # without any column of sends they are a gap

    def of(self, strip: Strip, told: list[ListedSend] | Unknown | None) -> tuple[Send, ...]:
        """The sends of a row.

        Args:
            strip: the channel.
            told: what the column of sends says, or why that is not known.
        """
        found: list[tuple[ListedSend, int]] = []
        if isinstance(told, Unknown):
            return (Send(to=told, level_db=told, tap=told, on=told),)
        if told:
            spot = next(place for place in self._layout.columns["sends"] if strip.row[place])
            found += [(one, spot) for one in told]
        for slot in self._layout.slots:
            there = self._slot(slot, strip)
            if slot.switch is not None and there:
                on = self._state(slot.switch, slot.asks, strip)
                there = [replace(one, on=on) for one in there]
            found += [(one, slot.to) for one in there]
        for place, named in self._layout.sends.items():
            if not strip.row[place]:
                continue
            try:
                one = send_of(strip.row[place], named, self._words)
            except Misread as fault:
                self._hide_level(strip, named, place, fault)
                one = ListedSend(named, None)
            if one is not None:
                found.append((one, place))
        return (*(self._send(one, place, strip) for one, place in found), *self._hidden(strip))

    def _hidden(self, strip: Strip) -> list[Send]:
        """What may be sends of a row, in columns that were not read."""
        hidden = []
        for place in self._doubtful:
            if strip.row[place]:
                where = self._layout.where(strip.row, place)
                why = Unknown(unknown=f"cell {where} was not read, and may be a send", settle="head its column")
                hidden.append(Send(to=why, level_db=why, tap=why, on=why, where=where))
        return hidden

    def _hide_level(self, strip: Strip, to: str, place: int, fault: Misread) -> None:
        where = self._layout.where(strip.row, place)
        self._note(f"{where}: {fault.what}; {fault.right}.", strip.id)
        self._strips.hidden_levels[strip.id, to] = Unknown(unknown=f"cell {where}: {fault.what}", settle=fault.right)

    def _state(self, place: int, asks: Asks, strip: Strip) -> bool | None:
        """Whether a send is on by the column for that; None where it does not tell."""
        if not strip.row[place]:
            blank = self._said.blank
            return None if blank is None else blank == (asks == "active")
        try:
            return state_said(strip.row[place], asks, self._words, {**self._marks, **self._said.states})
        except Misread as fault:
            self._note(f"{self._layout.where(strip.row, place)}: {fault.what}; {fault.right}.", strip.id)
            return None

    def _slot(self, slot: Slot, strip: Strip) -> list[ListedSend]:
        """The send of several columns; none where the column of the channel is empty or says so."""
        row, layout = strip.row, self._layout
        to = row[slot.to]
        level = row[slot.level] if slot.level is not None else ""
        if not to or (says_none(to, self._words) and fold_name(to) not in self._strips.by_name):
            if level and number_of(plain(level)) is not None:
                where = layout.where(row, slot.level or 0)
                self._note(
                    f"{where}: {shown(level)} is the level of a send that {layout.where(row, slot.to)} names no "
                    "channel for; it was passed over. Right would be the name of a channel.",
                    strip.id,
                )
            return []
        try:
            refuse_formula(plain(to), "right would be the name of a channel")
        except Misread as fault:
            self._note(f"{layout.where(row, slot.to)}: {fault.what}; {fault.right}.", strip.id)
            return []
        if slot.level is None:
            try:
                return sends_in(to, self._words, self._strips.by_name)
            except Misread as fault:
                self._note(f"{layout.where(row, slot.to)}: {fault.what}; {fault.right}.", strip.id)
                return []
        try:
            one = send_of(level, to, self._words) if level and not says_none(level, self._words) else None
            return [one or ListedSend(to, None)]
        except Misread as fault:
            self._hide_level(strip, to, slot.level, fault)
            return [ListedSend(to, None)]

    def _send(self, one: ListedSend, place: int, strip: Strip) -> Send:
        spot = self._layout.where(strip.row, place)
        level: float | Unknown | None = one.level_db
        if level is None:
            empty = Unknown(unknown=f"cell {spot} gives no level", settle=SETTLE)
            level = self._strips.hidden_levels.get((strip.id, one.to), empty)
        if one.trouble:
            self._note(f"{spot}: {one.trouble}.", strip.id)
        body: dict[str, Any] = {"to": self._strips.target(one.to, strip, spot), "where": spot, "on": one.on}
        if one.on is None:
            body["on"] = Unknown(unknown="the list does not say whether the send is on", settle=SETTLE)
        tap = Unknown(unknown=f"cell {spot}: {one.trouble}") if one.trouble else one.tap or self._tap(place, strip)
        return Send.model_validate({**body, "level_db": level, "tap": tap})

    def _tap(self, place: int, strip: Strip) -> str | Unknown:
        """Where a send is taken, as its column for that, its heading or a line above says."""
        layout = self._layout
        asks = next((slot.tap for slot in layout.slots if slot.to == place), None) or layout.taps.get(place)
        if asks is not None:
            try:
                said = tap_of(strip.row[asks], layout.heading[asks], self._words, self._marks, self._said.blank)
            except Misread as fault:
                where = layout.where(strip.row, asks)
                self._note(f"{where}: {fault.what}; {fault.right}.", strip.id)
                return Unknown(unknown=f"cell {where}: {fault.what}", settle=fault.right)
            if said is not None:
                return said
        return (
            tap_said(layout.heading[place], self._words)
            or self._said.tap
            or Unknown(
                unknown="the list does not say whether its sends are taken before or after the fader",
                settle="write pre or post behind the level, or above the heading",
            )
        )
