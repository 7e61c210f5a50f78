"""Who the channels of a list are to each other: ids, kinds, where outputs and sends lead."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Final

from mixlint.importers.channel_list.by_cells import doubts_in
from mixlint.importers.channel_list.cells import Misread, plain, refuse_formula, shown, unquoted
from mixlint.importers.channel_list.chains import TIME_EFFECTS, ChannelNames, inserts_in, says_none, sends_in
from mixlint.importers.channel_list.grid import GridRow
from mixlint.importers.channel_list.layout import Layout
from mixlint.naming import family_of, read_processor, read_roles
from mixlint.naming.fold import fold_name
from mixlint.naming.list_words import ListWords, folded
from mixlint.session import Channel, ChannelKind, Insert, Session, Unknown

MIX_BUS: Final = "mix-bus"
_KINDS: Final[tuple[ChannelKind, ...]] = ("vca", "master", "return", "group", "track")
_SEVERAL_OUT: Final = re.compile(r"[+/&,;|]|\s(?:and|und|et|e|y|en|og|och|i|a|ja|και|ve|и)\s", re.IGNORECASE)
_JACKS: Final = re.compile(r"[\s\d/+&.,:#\-]*")


@dataclass(slots=True)
class Strip:
    """One channel of a list.

    Args:
        id: its id in the session, told apart from namesakes.
        name: its name as written.
        row: its row.
        kind: what it is, as a cell says it or as it is fed.
    """

    id: str
    name: str
    row: GridRow
    kind: ChannelKind | Unknown = "track"


class _Ids:
    """Ids that are given once each: the wish itself, else with the first number from 2 on that is free."""

    def __init__(self) -> None:
        self._given: set[str] = set()
        self._last: dict[str, int] = {}

    def free(self, wish: str) -> str:
        """The id for a wish; where many wish the same, the numbers that were tried are not tried again."""
        one = wish
        while one in self._given:
            self._last[wish] = self._last.get(wish, 1) + 1
            one = f"{wish}~{self._last[wish]}"
        self._given.add(one)
        return one


class Strips:
    """The channels of a list and their ways.

    Args:
        layout: the columns.
        rows: the rows that are channels.
        words: the words of lists.
        note: takes what is wrong with a cell, and about which channel.
        assume: takes what was assumed, likewise.
    """

    def __init__(
        self,
        layout: Layout,
        rows: Sequence[GridRow],
        words: ListWords,
        note: Callable[[str, str], None],
        assume: Callable[[str, str], None],
    ) -> None:
        self._layout, self._words, self._note, self._assume = layout, words, note, assume
        self.by_name: ChannelNames[list[Strip]] = ChannelNames()
        self.all: list[Strip] = []
        self.hidden_levels: dict[tuple[str, str], Unknown] = {}
        """Channel and target of a send → why its level cannot be read."""
        self._columns_told: set[int] = set()
        self.assumed: list[Channel] = []
        self._ids = _Ids()
        self._name_all(rows)
        self._outputs = {strip.id: self._cell(strip, "output") for strip in self.all}
        self._mix_bus: str | None = None
        self._tell_kinds()
        for strip in self.all:
            if (why := self._layout.hidden.get(strip.row.number)) is not None:
                strip.kind = Unknown(unknown=why, settle="put each cell under its heading")
        self._assume_mix_bus()

    def _cell(self, strip: Strip, column: str) -> str:
        if column in self._layout.conflicts or strip.row.number in self._layout.hidden:
            return ""
        place = self._layout.place(column)
        return strip.row[place] if place is not None else ""

    def _name_all(self, rows: Sequence[GridRow]) -> None:
        place = self._layout.place("name")
        assert place is not None, "a heading without a name is none"
        for row in rows:
            text = row[place]
            try:
                refuse_formula(text, "right would be the channel's name")
            except Misread as fault:
                self._note(f"{self._layout.where(row, place)}: {fault.what}; {fault.right}.", "")
                text = f"row {row.number}"
            name = " ".join(unquoted(text).split())
            key = fold_name(name)
            strip = Strip(self._ids.free(key.replace(" ", "-") or "channel"), name, row)
            self.all.append(strip)
            self.by_name.setdefault(key, []).append(strip)
        for namesakes in self.by_name.values():
            if len(namesakes) > 1:
                numbers = ", ".join(str(one.row.number) for one in namesakes[:6])
                names = " and ".join(dict.fromkeys(shown(one.name) for one in namesakes))
                self._note(
                    f"Rows {numbers} are {len(namesakes)} channels called {names}; they were kept apart. Right would "
                    "be a name of its own for each.",
                    namesakes[0].id,
                )

    def _tell_kinds(self) -> None:
        """What each channel is: as a cell says; where no cell of the list does, as the others use it."""
        place = self._layout.place("kind")
        if place is None or not self._layout.has("kind") or "kind" in self._layout.conflicts:
            self._kinds_by_use()
            return
        for strip in (one for one in self.all if one.row.number not in self._layout.hidden):
            text, where = strip.row[place], self._layout.where(strip.row, place)
            found = self._kind(text) if text else None
            if found is None and self._words.means(text, "hardware") and len(self._outlets(place)) == 1:
                found = "master"  # the one OUT beside IN and GRP
            if found is not None:
                strip.kind = found
            elif text:
                why, right = (
                    f"{shown(text)} is no kind of channel{self._kind_meant(text)}",
                    "right would be track, group, return, master or VCA",
                )
                self._note(f"{where}: {why}; {right}.", strip.id)
                strip.kind = Unknown(unknown=f"cell {where}: {why}", settle=right)
            else:
                strip.kind = Unknown(unknown=f"the cell {where} of the list is empty", settle="write it into the list")

    def _outlets(self, place: int) -> list[Strip]:
        """The channels whose cell of kinds names what leaves the desk."""
        return [strip for strip in self.all if self._words.means(strip.row[place], "hardware")]

    def _kinds_by_use(self) -> None:
        """Tell kinds by where outputs and sends lead, and by what a name promises where these say nothing.

        A channel that others go out to is a group, and the mix bus where it goes out of the desk itself; one that only
        sends lead to is a return. What nothing leads to is a track, unless a list without sends, or with some that lead
        to no row, could hide a return.
        """
        parts = {strip.id: kind for strip in self.all if (kind := self._layout.kinds.get(strip.row.number))}
        said = parts or self._kinds_by_number()
        fed, sent = self._fed(), self._sent()
        has_sends = bool(self._layout.sends or self._layout.slots) or self._layout.has("sends")
        has_outputs = self._layout.has("output")
        nowhere = any(to not in self.by_name for to in self._layout.sends.values())
        unread = nowhere or bool(doubts_in(self._layout, self._words).sends)
        tops = [strip for strip in self.all if self._can_be_last(strip, fed)]
        top = max(tops, key=lambda one: (self._is_called_master(one), fed[fold_name(one.name)]), default=None)
        for strip in self.all:
            key = fold_name(strip.name)
            if strip is top and "master" not in said.values():
                strip.kind = "master"
            elif strip.id in said:
                strip.kind = said[strip.id]
            elif key in fed:
                strip.kind = "group"
            elif key in sent:
                strip.kind = "return"
            elif not has_outputs or ((unread or not has_sends) and self._may_be_return(strip)):
                strip.kind = Unknown(
                    unknown="the list does not say what kind of channel it is, and nothing in it tells",
                    settle="give the list a column for kinds",
                )
        by = "the titles of the parts" if parts else "their numbers" if said else ""
        self._note_kinds(self.all, by or "where outputs and sends lead")

    def _kinds_by_number(self) -> dict[str, ChannelKind]:
        """Kinds by a column of numbers such as 1, 2, FX1, GRP1, MAIN; none where a cell is something else."""
        place = self._layout.place("number")
        found: dict[str, ChannelKind] = {}
        for strip in self.all if place is not None else ():
            text = strip.row[place or 0]
            kind: ChannelKind | None = "track" if text.isdigit() else self._kind(text.rstrip("0123456789 .-"))
            if kind is None:
                return {}
            found[strip.id] = kind
        return found if len(set(found.values())) > 1 else {}

    def _can_be_last(self, strip: Strip, fed: Counter[str]) -> bool:
        leaves = self._outputs[strip.id]
        out = self._is_outlet(leaves) or self._leads_nowhere(leaves)
        # "Amp rack" is no socket that the words know, and no channel of the list either.
        last = not leaves or out or (fold_name(unquoted(leaves)) not in self.by_name and self._is_called_master(strip))
        return last and (fold_name(strip.name) in fed or self._is_called_master(strip))

    def _is_called_master(self, strip: Strip) -> bool:
        return self._words.means(strip.name, "master")

    def _may_be_return(self, strip: Strip) -> bool:
        """True where a channel plays nothing as far as the list tells, and is called or equipped as a return."""
        if any(self._layout.cell(strip.row, column) for column in ("file", "start", "end")):
            return False
        as_track = Channel(id=strip.id, name=strip.name, kind="track")
        role = read_roles(Session(channels=(as_track,)))[strip.id].word
        if family_of(role or "") == "returns":
            return True
        try:
            listed = inserts_in(self._layout.cell(strip.row, "inserts"), self._words)
        except Misread:
            return True
        return any(read_processor(Insert(name=one.name), on="return").word in TIME_EFFECTS for one in listed)

    def _note_kinds(self, guessed: list[Strip], by: str) -> None:
        counted = Counter("unknown" if isinstance(s.kind, Unknown) else s.kind for s in guessed)
        said = ", ".join(f"{count} {kind}" for kind, count in counted.items())
        self._assume(f"Which kind of channel they are was told by {by}: {said}.", "")

    def _kind(self, text: str) -> ChannelKind | None:
        said = folded(text)
        for kind in _KINDS:
            if kind in self._words.meanings.get(said, ()):
                return kind
        words = said.split()
        for word in (words[-1:] + words[:1]) if len(words) > 1 else ():
            for kind in _KINDS:
                if kind in self._words.meanings.get(word, ()):
                    return kind
        return None

    def _kind_meant(self, text: str) -> str:
        """The kind whose word is written nearly alike, as a suggestion; empty where none is."""
        kinds = {word: kind for kind in _KINDS for word, met in self._words.meanings.items() if kind in met}
        near = get_close_matches(folded(text), kinds, n=1, cutoff=0.75)
        return f' (did you mean "{near[0]}", a {kinds[near[0]]}?)' if near else ""

    def _fed(self) -> Counter[str]:
        found = Counter(fold_name(unquoted(text)) for text in self._outputs.values() if text)
        for text in self._outputs.values():
            if text and fold_name(unquoted(text)) not in self.by_name:
                found.update(key for one in _SEVERAL_OUT.split(text) if (key := fold_name(one)) in self.by_name)
        return found

    def _sent(self) -> set[str]:
        found = set()
        for strip in (one for one in self.all if one.row.number not in self._layout.hidden):
            for place in self._layout.columns.get("sends", ()):
                try:
                    found |= {fold_name(one.to) for one in sends_in(strip.row[place], self._words, self.by_name)}
                except Misread:
                    continue
            found |= {to for place, to in self._layout.sends.items() if strip.row[place]}
            for slot in self._layout.slots:
                try:
                    found |= {fold_name(one.to) for one in sends_in(strip.row[slot.to], self._words, self.by_name)}
                except Misread:
                    continue
        return found | set(self._layout.sends.values())

    def _is_outlet(self, text: str) -> bool:
        """True for what names sockets of the desk and no channel: ``Out 1-2``, ``Ausgang 3/4``, ``1-2``."""
        said = plain(text)
        bare = said.rstrip("0123456789/+&.,:#- ()LRlr")
        if not bare:
            return any(char.isdigit() for char in said)
        return self._words.means(bare, "hardware") or self._words.means(said, "hardware")

    def _leads_nowhere(self, text: str) -> bool:
        return says_none(text, self._words) or self._words.means(text, "nowhere")

    def _assume_mix_bus(self) -> None:
        """Where no row is the mix bus, the place that most outputs without a row name is one."""
        if any(strip.kind == "master" for strip in self.all):
            self._mix_bus = next(strip.id for strip in self.all if strip.kind == "master")
            return
        loose = Counter(
            fold_name(unquoted(text))
            for text in self._outputs.values()
            if text and fold_name(unquoted(text)) not in self.by_name and not self._leads_nowhere(text)
        )
        named = [key for key in loose if "master" in self._words.meanings.get(folded(key), ())]
        best = named[0] if named else next((key for key, count in loose.most_common(1) if count > 1), None)
        if best is None:
            return
        name = next(plain(text) for text in self._outputs.values() if fold_name(unquoted(text)) == best)
        one = self._ids.free(MIX_BUS)
        self.assumed.append(Channel(id=one, name=name, kind="master", output=None))
        self._mix_bus = one
        self.by_name.__dict__.pop("longest", None)
        self.by_name[best] = [Strip(one, name, GridRow(0, ()), "master")]
        self._assume(f"No row of the list is {shown(name)}, which outputs lead to; it was taken for the mix bus.", one)

    def output(self, strip: Strip) -> str | Unknown | None:
        """Where a channel puts out: a channel's id, None for nowhere or out of the desk, or why it is not known."""
        text = self._outputs[strip.id]
        place = self._layout.place("output")
        if "output" in self._layout.conflicts:
            return Unknown(unknown=self._layout.conflicts["output"], settle="give one of them another heading")
        if not text:
            if place is None and strip.kind == "master":
                return None
            if place is None:
                return Unknown(unknown="the list has no column for outputs", settle="add one")
            where = self._layout.where(strip.row, place)
            return Unknown(unknown=f"the cell {where} of the list is empty", settle="write it into the list")
        where = self._layout.where(strip.row, place or 0)
        key = fold_name(unquoted(text))
        if key in self.by_name and not (strip.kind == "master" and self.by_name[key][0] is strip):
            if self.by_name[key] == [strip]:
                said = f"{where}: {shown(strip.name)} puts out to itself. Right would be a group or the mix bus."
                self._note(
                    said, strip.id
                )  # kept as it stands, as circles are: what it does to the mix the routing tells
            return self._one_of(self.by_name[key], text, where, strip)
        if self._leads_nowhere(text):
            return None
        if strip.kind == "master":
            return None
        if self._is_outlet(text):
            self._note(
                f"{where}: {shown(text)} is no channel of the list; it was taken for sockets of the desk.", strip.id
            )
            return None
        several = [one for one in _SEVERAL_OUT.split(text) if one.strip()]
        if len(several) > 1 and all(fold_name(one) in self.by_name or self._is_outlet(one) for one in several):
            why = f"{shown(text)} is {len(several)} outputs, of which a channel has one here"
            self._note(f"{where}: {why}. Right would be one output, and a send for each other one.", strip.id)
            return Unknown(unknown=f"cell {where}: {why}", settle="write one output, and a send for each other one")
        return self._unknown_channel(text, where, strip)

    def target(self, to: str, strip: Strip, where: str) -> str | Unknown:
        """The id of the channel that a send leads to, or why it is not known."""
        key = fold_name(unquoted(to))
        if key in self.by_name:
            if self.by_name[key] == [strip]:
                self._note(
                    f"{where}: {shown(strip.name)} sends to itself, which feeds back. Right would be another channel, "
                    "or no send.",
                    strip.id,
                )
            return self._one_of(self.by_name[key], to, where, strip)
        place = next((n for n, named in self._layout.sends.items() if named == to), None)
        if place is not None:
            return self._unknown_column(to, place, where)
        return self._unknown_channel(to, where, strip)

    def _unknown_column(self, to: str, place: int, where: str) -> Unknown:
        """A column of sends whose heading names no channel: told once, with the rows that use it."""
        near = get_close_matches(to, self.by_name, n=1, cutoff=0.75)
        meant = f'; probably meant is "{self.by_name[near[0]][0].name}"' if near else ""
        others = [self.by_name[one][0].name for one in self._layout.sends.values() if one in self.by_name]
        only = f", only to {', '.join(map(shown, others[:6]))}" if others else ""
        why = f"no channel of the list is called {shown(to)} to send to{only}{meant}"
        if place not in self._columns_told:
            self._columns_told.add(place)
            used = [str(strip.row.number) for strip in self.all if strip.row[place]]
            self._note(
                f"{self._layout.where(self._layout.heading, place)}: {why}; used in rows {', '.join(used[:20])}. Right "
                "would be a row for it, or another heading.",
                "",
            )
        return Unknown(unknown=f"cell {where}: {why}", settle="write a row for that channel, or another heading")

    def _one_of(self, namesakes: list[Strip], text: str, where: str, strip: Strip) -> str | Unknown:
        if len(namesakes) == 1:
            return namesakes[0].id
        exact = [one for one in namesakes if one.name == " ".join(unquoted(text).split())]
        if len(exact) == 1:
            return exact[0].id
        rows = " and ".join(str(one.row.number) for one in namesakes[:6])
        why = f"{shown(text)} can be any of the channels in rows {rows}"
        self._note(f"{where}: {why}. Right would be a name of its own for each.", strip.id)
        return Unknown(unknown=f"cell {where}: {why}", settle="give each of them a name of its own")

    def _unknown_channel(self, text: str, where: str, strip: Strip) -> Unknown:
        near = get_close_matches(fold_name(text), self.by_name, n=1, cutoff=0.75)
        meant = f'; probably meant is "{self.by_name[near[0]][0].name}"' if near else ""
        why = f"no channel of the list is called {shown(text)}{meant}"
        right = "the name of a channel as it stands in the list, or a row for it"
        self._note(f"{where}: {why}. Right would be {right}.", strip.id)
        return Unknown(unknown=f"cell {where}: {why}", settle=f"write {right}")
