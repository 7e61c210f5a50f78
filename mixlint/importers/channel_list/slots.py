"""Sends that stand in several columns: to whom one, at what level the next, and before or after the fader a third."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from mixlint.importers.channel_list.attached import Asks, asked, like_switch
from mixlint.importers.channel_list.cells import Misread, number_of, plain, refuse_formula, shown
from mixlint.importers.channel_list.grid import GridRow
from mixlint.naming.list_words import UNITS, ListWords, folded, is_slot_letter, without_brackets
from mixlint.naming.runs import is_unspaced

Part = Literal["", "to", "level", "tap"]

_ARROWS: Final = ("→", "➜", "➔", "⇒", "⟶", "►", ">")
_PLACES: Final = ("first", "second", "third")
_LEAST: Final = 3
"""So many letters a word for sends has at least in a heading of a slot; shorter ones are prepositions."""


@dataclass(frozen=True, slots=True)
class SlotHeading:
    """What a heading says of a send: its number or letter, and what of the send stands below.

    Args:
        key: what tells one send from another, as ``1`` or ``a``; empty where nothing does.
        part: what stands below: the channel, the level, where it is taken; empty where the heading does not say.
        bare: True where no word for sends stands in it, so that it belongs to the column before.
    """

    key: str
    part: Part
    bare: bool = False


@dataclass(slots=True)
class Slot:
    """One send of every row, by the places of its columns.

    Args:
        to: where the channel stands.
        level: where the level does.
        tap: where it stands whether the send is taken before or after the fader.
        switch: where it stands whether it is on.
        asks: what a yes there says of it; empty where the heading does not tell.
    """

    to: int
    level: int | None = None
    tap: int | None = None
    switch: int | None = None
    asks: Asks = ""

    @property
    def places(self) -> tuple[int, ...]:
        """All of its columns."""
        return tuple(one for one in (self.to, self.level, self.tap, self.switch) if one is not None)


def slot_heading(text: str, words: ListWords) -> SlotHeading | None:
    """What a heading such as ``Envio 1 dB`` or ``Aux A →`` says of a send; None where it is of none."""
    key, part, letter, is_send = "", "", "", False
    for phrase in words.phrases_in(text):
        columns, meant = words.columns.get(phrase, ()), words.meanings.get(phrase, frozenset())
        last = phrase.rpartition(" ")[2]
        found = ""
        if not key and ((phrase.isdigit() and len(phrase) <= 2) or ((is_send or part) and is_slot_letter(phrase))):
            key = phrase
            continue
        place = next((n for n, one in enumerate(_PLACES, 1) if one in meant), 0)
        if place and not key and not columns:
            key = str(place)
            continue
        to = "output" in columns or "send-to" in columns
        tap = "tap" in columns or "pre" in meant or "post" in meant
        if ("sends" in columns or ("send-to" in columns and "output" not in columns)) and _is_long(phrase):
            is_send = True
            other = words.columns.get(last, ())
            if phrase != last and is_slot_letter(last):
                letter = last
            elif phrase != last and ("output" in other or ("send-to" in other and not _is_long(last))):
                found = "to"
        elif "level" in columns or phrase in UNITS:
            found = "level"
        elif to and tap:  # "nach" is behind the fader and to a channel: the cells tell
            continue
        elif tap:
            found = "tap"
        elif to or "name" in columns:
            found = "to"
        elif "filler" not in meant:
            return None
        if found and part and found != part:
            return None
        part = found or part
    if letter and not key:
        key, part = (letter, part) if part else ("", "to")
    if not part and any(arrow in text for arrow in _ARROWS):
        part = "to"
    if is_send and (key or part):
        return SlotHeading(key, part)  # type: ignore[arg-type]
    if not is_send and part in ("level", "tap"):
        return SlotHeading(key, part, bare=True)  # type: ignore[arg-type]
    return None


def _is_long(phrase: str) -> bool:
    """True for a word that is no mere preposition, by its length; two characters of East Asia make a word."""
    return len(phrase) >= (2 if is_unspaced(phrase[0]) else _LEAST)


def slots_in(heading: GridRow, rows: Sequence[GridRow], words: ListWords) -> list[Slot]:
    """The sends of a table that stand in several columns, in their order.

    A column whose heading nobody knows is one of sends where nothing but channels' names stands in it and the column
    behind it is a level that can belong to none else.
    """
    channels = _channels(heading, rows, words)
    found: dict[str, dict[str, int]] = {}
    before = ""
    levels = _levels(heading, words)
    numbered = {said.key for text in heading.cells if (said := slot_heading(text, words)) and not said.bare}
    for place, text in enumerate(heading.cells):
        said = slot_heading(text, words) if text.strip() else None
        begins = next(iter(words.columns_named(text)), "") in ("sends", "send-to")
        if said is None and begins and place + 1 < len(heading.cells):
            behind = slot_heading(heading[place + 1], words)
            follows = behind is not None and (behind.bare or (not behind.key and behind.part in ("level", "tap")))
            said = SlotHeading(f"@{place}", "") if follows else None
        elif said is None and text.strip() and not words.columns_named(text) and place + 1 < len(heading.cells):
            behind = slot_heading(heading[place + 1], words)
            cells = [row[place] for row in rows if row[place]]
            if behind is not None and behind.bare and cells and all(folded(cell) in channels for cell in cells):
                said = SlotHeading(f"@{place}", "to")
        if said is None and before and "on" not in found[before] and place == max(found[before].values()) + 1:
            asks = asked(text, words)
            there = [row[place] for row in rows if row[place]]
            if asks and all(like_switch(cell, words) for cell in there):
                found[before]["on"] = place
                continue
        if said is None and before and not words.columns_named(text) and _are_taps(rows, place, words):
            said = SlotHeading("", "tap", bare=True)
        if said is None:
            before = ""
            continue
        key = said.key
        if said.bare:
            unit = all(word in UNITS for word in folded(text).split())
            fits = before and (not key or key == before) and said.part not in found[before]
            if key and not fits and key in numbered:  # of "Send 1, Send 2, Level 1, Level 2" the number decides
                fits, before = said.part not in found.get(key, {}), key
            if not fits or (said.part == "level" and not (unit or levels - {place})):
                before = ""
                continue
            key = before
        elif not key and before.startswith("@") and said.part not in found[before]:
            key = before
        parts = found.setdefault(key, {})
        parts.setdefault(said.part, place)
        before = key
    slots = []
    for parts in found.values():
        if "" in parts and "to" not in parts and not _are_numbers(rows, parts[""]):
            parts["to"] = parts[""]
        elif "" in parts and "level" not in parts:
            parts["level"] = parts[""]
        if "to" in parts and len(set(parts.values())) > 1:
            on = parts.get("on")
            asks = "" if on is None else asked(heading[on], words)
            slots.append(Slot(parts["to"], parts.get("level"), parts.get("tap"), on, asks))
    return slots


def _channels(heading: GridRow, rows: Sequence[GridRow], words: ListWords) -> set[str]:
    place = next((n for n, text in enumerate(heading.cells) if words.columns_named(text)[:1] == ("name",)), None)
    return set() if place is None else {folded(row[place]) for row in rows if row[place]}


def _levels(heading: GridRow, words: ListWords) -> set[int]:
    """Where columns stand that can be that of the faders: a level behind a send may be the send's where one is."""
    found = set()
    for place, text in enumerate(heading.cells):
        named = words.columns_named(text) if text.strip() else ()
        if "level" in named and "gain" not in named:
            found.add(place)
    return found


def _are_taps(rows: Sequence[GridRow], place: int, words: ListWords) -> bool:
    cells = [row[place] for row in rows if row[place]]
    return bool(cells) and all(words.means(cell, "pre") != words.means(cell, "post") for cell in cells)


def _are_numbers(rows: Sequence[GridRow], place: int) -> bool:
    cells = [row[place] for row in rows if row[place]]
    return bool(cells) and all(number_of(plain(cell)) is not None for cell in cells)


def asks_for_tap(heading: str, channel: str, words: ListWords) -> bool:
    """True for a heading that asks whether the sends to a channel are pre or post: ``Zaal voor fader?``.

    Args:
        heading: the heading.
        channel: the channel's name, folded as headings are.
        words: the words of lists.
    """
    said = folded(heading)
    if not channel or channel not in said:
        return False
    rest = [one for half in said.split(channel, 1) for one in words.phrases_in(half)]
    taps = [one for one in rest if _is_tap(one, words)]
    return bool(taps) and all(one in taps or words.is_of_sends(one) or _is_filler(one, words) for one in rest)


def _is_tap(phrase: str, words: ListWords) -> bool:
    met = words.meanings.get(phrase, frozenset())
    return "tap" in words.columns.get(phrase, ()) or "pre" in met or "post" in met


def _is_filler(phrase: str, words: ListWords) -> bool:
    return "filler" in words.meanings.get(phrase, ()) or "level" in words.columns.get(phrase, ())


def tap_said(text: str, words: ListWords) -> Literal["pre", "post"] | None:
    """What a heading says of where its sends are taken, where it says one of both and is no word for "to"."""
    found = set()
    for phrase in words.phrases_in(text):
        if words.columns.get(phrase) and "tap" not in words.columns[phrase]:
            continue
        met = words.meanings.get(phrase, frozenset())
        found |= {tap for tap in ("pre", "post") if tap in met and len(phrase) > 1}
    return None if len(found) != 1 else "pre" if "pre" in found else "post"


def tap_of(
    text: str, heading: str, words: ListWords, marks: dict[str, bool], blank: bool | None
) -> Literal["pre", "post"] | None:
    """Where a send is taken by the cell of a column that asks it; None where the cell leaves it open.

    Args:
        text: the cell.
        heading: the heading, which may ask for one of both, as ``Pre?``.
        words: the words of lists.
        marks: what signs such as ○ and × mean in this table.
        blank: what an empty cell of a switch means, where the list says it.

    Raises:
        Misread: it says neither.
    """
    from mixlint.importers.channel_list.cells import switch

    right = "right would be pre or post"
    said = plain(text)
    refuse_formula(said, right)
    asked = tap_said(heading, words) or tap_said(without_brackets(heading), words)
    pre, post = words.means(said, "pre"), words.means(said, "post")
    if said and pre != post:
        return "pre" if pre else "post"
    other: Literal["pre", "post"] = "post" if asked == "pre" else "pre"
    if not said:
        return None if asked is None or blank is None else asked if blank else other
    met = {tap for phrase in words.phrases_in(said) for tap in ("pre", "post") if words.means(phrase, tap)}
    if len(met) == 1:
        return "pre" if "pre" in met else "post"
    if asked is None or met:
        raise Misread(f"{shown(text)} does not tell whether it is pre or post", right)
    return asked if switch(text, words, marks) else other
