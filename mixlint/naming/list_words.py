"""The words that lists of channels are read by: headings of columns, and what stands in cells.

They stand in ``rules/words/lists.toml`` by language; a house may add its own under ``[heading.…]`` and ``[cell.…]``.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from mixlint.naming.fold import as_read
from mixlint.naming.runs import is_unspaced, pieces_of_run

LEAST_LETTERS: Final = 4
"""So many letters the first words of a longer heading need to name a column: ``to be done`` is no output."""

_RANGE: Final = re.compile(r"(?<=\s)[+-]?\d+\s*(?:[-\u2013/…]|\.{2,3}|[^\W\d_]{1,4})\s*[+-]?\d+\s*$")
"""A range at the end of a heading, as in ``Pan 0 to 127``."""
_BRACKETS: Final = re.compile(r"[(\[（［][^)\]）］]*[)\]）］]")


def folded(text: str) -> str:
    """A heading or cell as it is looked up: small letters without accents, signs as spaces."""
    return as_read(unicodedata.normalize("NFKC", text))


def without_brackets(text: str) -> str:
    """The text without what stands in brackets."""
    return _BRACKETS.sub(" ", text).strip()


def inside_brackets(text: str) -> list[str]:
    """What stands in the brackets of a text."""
    return [match[0][1:-1].strip() for match in _BRACKETS.finditer(text)]


@dataclass(frozen=True, slots=True, eq=False)
class ListWords:
    """The words of lists.

    Args:
        columns: folded heading to the columns that it can name.
        meanings: folded text of a cell to what it can mean.
        left, right: folded words for the sides.
    """

    columns: dict[str, tuple[str, ...]]
    meanings: dict[str, frozenset[str]]
    left: frozenset[str]
    right: frozenset[str]

    def with_defined(self, defined: dict[str, frozenset[str]]) -> ListWords:
        """These words with those that a list defines for itself, as ``p = pre``, in place of what they mean elsewhere.

        Args:
            defined: folded word to what it means.
        """
        if not defined:
            return self
        left = {word for word, met in defined.items() if "left" in met}
        right = {word for word, met in defined.items() if "right" in met}
        sided = left | right
        return ListWords(
            self.columns,
            {**self.meanings, **defined},
            frozenset((self.left - sided) | left),
            frozenset((self.right - sided) | right),
        )

    def means(self, text: str, meaning: str) -> bool:
        """True when the whole text of a cell can have that meaning."""
        return meaning in self.meanings.get(folded(text), ())

    def columns_named(self, heading: str) -> tuple[str, ...]:
        """The columns that a heading can name: as a whole, without what stands in brackets, without unit or number."""
        for text in dict.fromkeys((heading, without_brackets(heading), _RANGE.sub("", heading))):
            if text.strip() in _NUMBER_SIGNS:
                return ("number",)
            words = folded(text).split()
            while words:
                if found := self.columns.get(" ".join(words)):
                    return found
                last = words.pop()
                if is_slot_letter(last) and "inserts" in self.columns.get(" ".join(words), ()):
                    return ("inserts",)
                if last not in UNITS and not last.isdigit():
                    break
        return self._composed(heading)

    def _composed(self, heading: str) -> tuple[str, ...]:
        """The one column that all words of a heading speak of, names and numbers aside: ``Lautstärke des Kanals``."""
        met: list[str] = []
        for phrase in self.phrases_in(without_brackets(heading)):
            named = [one for one in self.columns.get(phrase, ()) if one != "send-to"]
            if named:
                met.append(named[0])
            elif "filler" not in self.meanings.get(phrase, ()) and phrase not in UNITS:
                return ()
        found = dict.fromkeys(met)
        if len(found) > 1:
            for modifier in ("number", "name"):
                found.pop(modifier, None)
        return tuple(found) if len(found) == 1 else ()

    def abbreviated(self, heading: str) -> tuple[str, ...]:
        """The one column that a heading with full stops can be short for: ``Ztlum.``; none where it can be several."""
        bare = without_brackets(heading)
        parts = folded(bare).split()
        if "." not in bare or not parts or max(map(len, parts)) < _LEAST_SHORT:
            return ()
        found = set()
        for phrase, columns in self.columns.items():
            if phrase[0] != parts[0][0]:
                continue
            whole = phrase.split()
            if len(whole) == len(parts) and all(one.startswith(part) for one, part in zip(whole, parts, strict=True)):
                found.add(next((one for one in columns if one != "send-to"), columns[0]))
        return tuple(found - _NEVER_SHORT) if len(found) == 1 else ()

    def phrases_in(self, text: str) -> list[str]:
        """A text taken apart into the longest phrases that these words know, and single words where they know none."""
        said: list[str] = []
        for word in folded(text).split():
            if is_unspaced(word[0]) and not self._knows(word):
                pieces = pieces_of_run(word, self._knows)
                said += [piece for piece, _ in pieces] if all(known for _, known in pieces) else [word]
            else:
                said.append(word)
        found, at = [], 0
        while at < len(said):
            size = next(
                (
                    n
                    for n in range(min(_LONGEST_PHRASE, len(said) - at), 1, -1)
                    if self._knows(" ".join(said[at : at + n]))
                ),
                1,
            )
            found.append(" ".join(said[at : at + size]))
            at += size
        return found

    def _knows(self, phrase: str) -> bool:
        return phrase in self.columns or phrase in self.meanings or phrase in self.left or phrase in self.right

    def columns_begun(self, heading: str) -> tuple[str, ...]:
        """The columns that the first words of a heading name: ``Inserts, from the input on``."""
        words = folded(heading).split()
        for size in range(len(words) - 1, 0, -1):
            said = " ".join(words[:size])
            if len(said) >= LEAST_LETTERS and (found := self.columns.get(said)):
                return found
        return ()

    def sent_to(self, heading: str, channels: dict[str, str]) -> str | None:
        """The channel to whose sends a heading belongs: ``Send to Plate``, or the channel's name alone.

        Args:
            heading: the heading.
            channels: folded name of a channel to anything.

        Returns:
            The folded name, or None where the heading names no channel behind such a word.
        """
        for text in (heading, without_brackets(heading), *inside_brackets(heading)):
            said = folded(text)
            if said in channels:
                return said
            for size in range(len(said), 0, -1):
                if "send-to" not in self.columns.get(said[:size].strip(), ()):
                    continue
                rest = said[size:].strip()
                apart = said[size : size + 1] == " " or is_unspaced(said[size - 1])
                slot = is_slot_letter(rest) and not self.leads_to(said[:size].strip())
                if apart and rest in channels and not slot:
                    return rest
        said = f" {folded(heading)} "
        for name in sorted((one for one in channels if one and f" {one} " in said), key=len, reverse=True):
            before, _, behind = said.partition(f" {name} ")
            others = self.phrases_in(before) + self.phrases_in(behind)
            sends = [one for one in others if {"send-to", "sends"} & set(self.columns.get(one, ()))]
            if is_slot_letter(name) and not any(map(self.leads_to, sends)):
                continue  # "Send B" is the second send, whoever is called B
            if sends and all(
                one in sends
                or one in UNITS
                or "filler" in self.meanings.get(one, ())
                or "level" in self.columns.get(one, ())
                for one in others
            ):
                return name
        return None

    def leads_to(self, phrase: str) -> bool:
        """True for words that do nothing but lead to a channel: ``to``, ``an`` and ``vers``, and not ``Send``."""
        named = self.columns.get(phrase, ())
        return "send-to" in named and not {"sends", "inserts", "wet"} & set(named)

    def surely_sent_to(self, heading: str, channels: Mapping[str, object]) -> str | None:
        """The channel behind words that only lead to one: ``to Tin Plate``; None where the heading is no such one."""
        said = folded(heading).split()
        for size in range(1, len(said)):
            rest = " ".join(said[size:])
            if rest in channels and self.leads_to(" ".join(said[:size])):
                return rest
        return None

    def is_of_sends(self, heading: str) -> bool:
        """True where a heading begins with the words for sends to one channel: ``Aux 2``, ``Send to Old Spring``."""
        words = folded(without_brackets(heading)).split()
        return any("send-to" in self.columns.get(" ".join(words[:size]), ()) for size in range(len(words), 0, -1))


def is_slot_letter(word: str) -> bool:
    """True for a letter that counts slots, as in ``Ins B``."""
    return len(word) == 1 and "a" <= word <= "h"


_NUMBER_SIGNS: Final = frozenset({"#", "№", "Nº", "N°", "N.º"})
_NEVER_SHORT: Final = frozenset({"inserts", "sends", "send-to"})
"""``Comp.`` is a compressor, and no word for inserts."""
_LEAST_SHORT: Final = 3
"""So many letters of a word say which one it is short for."""
_LONGEST_PHRASE: Final = 5
"""So many words of a text are looked up together."""
UNITS: Final = frozenset({"db", "дб", "hz", "гц", "s", "sec", "khz", "pct", "percent"})
"""What may stand behind a heading without brackets."""
