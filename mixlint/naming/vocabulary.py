"""The words that names are read by: those that come with mixlint, and a house's own over them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set
from dataclasses import dataclass
from functools import cached_property
from typing import Final, Literal

from mixlint.errors import Fault, RulebookError
from mixlint.naming.families import family_of
from mixlint.naming.fold import strip_accents
from mixlint.naming.house_roles import OF_ROLE, HouseRole, house_roles, role_entries
from mixlint.naming.list_words import ListWords
from mixlint.naming.runs import is_unspaced
from mixlint.naming.word_files import WordFile, listed, rows, shipped_file
from mixlint.naming.word_index import (
    CHANNEL_SECTIONS,
    FILES,
    Entries,
    ambiguous_in,
    gathered,
    languages_in,
    looked_up_as,
)

Side = Literal["left", "right"]

LONGEST_PHRASE: Final = 4
"""So many words of a channel's name are looked up together."""

LONGEST_PROCESSOR_PHRASE: Final = 3
"""The same for the name of a processor."""


@dataclass(frozen=True, slots=True, eq=False)
class Compounds:
    """How known words are joined and inflected: see the comments in ``rules/words/languages.toml``."""

    languages: frozenset[str]
    links: tuple[str, ...]
    endings: frozenset[str]
    short: frozenset[str]
    tails: frozenset[str]
    whole: frozenset[str]


@dataclass(frozen=True, slots=True, eq=False)
class ChannelWords:
    """The words of channels' names.

    Args:
        phrases: folded word or phrase to the concepts it can mean.
        exact: the few case-folded words whose accents count, likewise.
        languages: folded word to the languages it belongs to.
        joined: known word written together to the phrase it is: ``bassdi`` to ``bass di``.
        roles: word that can mean several parts in one language to the roles it can have.
        compounds: how words are found inside longer ones.
        sides: the words for left and right, which end a word in writing without spaces.
    """

    phrases: dict[str, tuple[str, ...]]
    exact: dict[str, tuple[str, ...]]
    languages: dict[str, frozenset[str]]
    joined: dict[str, str]
    roles: dict[str, tuple[str, ...]]
    compounds: Compounds
    sides: frozenset[str]


@dataclass(frozen=True, eq=False)
class ProcessorWords:
    """The words of processors' names.

    Args:
        phrases: folded word or phrase to the kind it names.
        exact: the few case-folded words whose accents count, likewise.
        languages: folded word or phrase to the languages it belongs to, of kinds and of uses.
        uses: folded word or phrase to how it is used besides (``modifier``, ``plain``, ``weak``, ``device`` …).
        heads_first: the languages whose names begin with what the processor is.
        outranks: two kinds, of which the first is what the processor does when both are named, wherever they stand.
        combined: two kinds that one processor often does both of, so that neither is the other's modifier.
        doubts: word that leaves a question to what the reader is told.
        settled: kind of channel to the words whose question it settles, each with the kind it names there.
    """

    phrases: dict[str, str]
    exact: dict[str, str]
    languages: dict[str, frozenset[str]]
    uses: dict[str, frozenset[str]]
    heads_first: frozenset[str]
    outranks: tuple[tuple[str, ...], ...]
    combined: frozenset[frozenset[str]]
    doubts: dict[str, str]
    settled: dict[str, dict[str, str]]

    @cached_property
    def inside(self) -> frozenset[str]:
        """What is looked for within a longer word: whatever is known, phrases written together, no short syllables."""
        known = self.phrases.keys() | self.uses.keys() | self.doubts.keys()
        joined = {word.replace(" ", "") for word in known}
        return frozenset(word for word in joined if len(word) >= (2 if is_unspaced(word[0]) else 3) or word == "eq")

    @cached_property
    def tails(self) -> tuple[str, ...]:
        """What a longer word may end with and be one, the longest first."""
        return tuple(sorted((w for w, uses in self.uses.items() if "tail" in uses), key=len, reverse=True))


@dataclass(frozen=True, slots=True, eq=False)
class CategoryWords:
    """The category words of the open plug-in standards, folded.

    Args:
        kinds: word to the kind of processor.
        doubts: word too broad for one to what the reader is told.
        silent: words that say nothing of what a processor does.
    """

    kinds: dict[str, str]
    doubts: dict[str, str]
    silent: frozenset[str]


@dataclass(frozen=True, slots=True, eq=False)
class SideWords:
    """The words for left and right.

    Args:
        sides: word to side.
        not_first: words that are a side anywhere but at the beginning of a name.
        last: words that are a side at the end of a name only.
        behind: words that are a side behind a known word only, where there is no space between.
        letters: language to its letters or short words for left and right that mean other things elsewhere.
        hands: words for a hand, beside which left and right tell who plays.
    """

    sides: dict[str, Side]
    not_first: frozenset[str]
    last: frozenset[str]
    behind: frozenset[str]
    letters: dict[str, tuple[str, ...]]
    hands: frozenset[str]


@dataclass(frozen=True, slots=True, eq=False)
class PairWords:
    """The words by which two names pair.

    Args:
        concepts: word to ``double``, a register (``high``, ``low``, ``middle``, ``octave``) or ``second-microphone``.
        microphones: two words of two pick-ups of one performance.
        opposite: those of them whose polarities are opposed by where they stand, or that are no two of a kind.
        places: for each language, the words of all of these, any two of which are two pick-ups of one performance.
        english: those of English, which are met in names of every language.
        direct: the words for the direct signal of an instrument, which is no place.
        numbers: rows of words that count like numbers.
        counted: words behind a number that say what it counts: strings, bars.
    """

    concepts: dict[str, str]
    microphones: frozenset[tuple[str, ...]]
    opposite: frozenset[tuple[str, ...]]
    places: tuple[frozenset[str], ...]
    english: frozenset[str]
    direct: frozenset[str]
    numbers: tuple[frozenset[str], ...]
    counted: frozenset[str]


class Vocabulary:
    """The words that names are read by.

    Each kind of words is read when it is first asked for; a shipped file with faults raises a ``RulebookError`` then. A
    vocabulary is equal to itself alone, so what is remembered of a name under one house's words is never given out
    under another's.

    Args:
        house: the word files of a house, one tuple for each of its standards, the nearest first; they have been
            checked (:mod:`mixlint.naming.house_words`).
    """

    def __init__(self, house: Sequence[tuple[WordFile, ...]] = ()) -> None:
        self._house = tuple(house)

    @cached_property
    def own_roles(self) -> dict[str, HouseRole]:
        """The roles that the house defines itself, by name."""
        return house_roles(self._house)

    def shipped_role(self, role: str | None) -> str | None:
        """The role of mixlint's that a role is treated as: itself, or what one of the house's own is like."""
        own = self.own_roles.get(role or "")
        return own.like if own else role

    def family_of(self, role: str | None) -> str | None:
        """The family that a role counts to, of mixlint's or of the house's own; None for one that is not known."""
        return family_of(self.shipped_role(role) or "")

    def own_roles_in(self, concepts: Iterable[str]) -> tuple[HouseRole, ...]:
        """The house's own roles that some concepts speak of, each once, in their order."""
        if not self.own_roles:
            return ()
        named = (concept.removeprefix(OF_ROLE) for concept in concepts if concept.startswith(OF_ROLE))
        return tuple(self.own_roles[name] for name in dict.fromkeys(named))

    @cached_property
    def channels(self) -> ChannelWords:
        """The words of channels' names."""
        entries, doubts = self._merged(CHANNEL_SECTIONS, "part")
        phrases: dict[str, tuple[str, ...]] = {}
        exact: dict[str, tuple[str, ...]] = {}
        languages: dict[str, frozenset[str]] = {}
        parted = {
            meant: (tuple(dict.fromkeys(concept for concept, _ in meant)), frozenset(code for _, code in meant))
            for meant in set(entries.values())
        }
        for word, meant in entries.items():
            concepts, spoken = parted[meant]
            if word[0] == "=":
                exact[word[1:]] = concepts
                word = strip_accents(word[1:])
            else:
                phrases[word] = concepts
            languages[word] = languages[word] | spoken if word in languages else spoken
        written_together: dict[str, str] = {}
        for phrase in [p for p in phrases if " " in p]:
            joined = phrase.replace(" ", "")
            # "leadvox" is "lead vox"; joined forms of single letters ("vs") would hide in other words.
            long = len(joined) >= 5 or is_unspaced(joined[0])
            if long and joined not in phrases and not joined[0].isdigit():
                phrases[joined] = phrases[phrase]
                written_together[joined] = phrase
        roles = {word: tuple(listed(text)) for word, text in doubts.items()}
        use = _shipped_lines("languages", "compound", "languages", "links", "endings", "short", "tails", "whole")
        compounds = Compounds(
            languages=frozenset(use["languages"]),
            links=("", *use["links"]),
            endings=frozenset(map(strip_accents, use["endings"])),
            short=frozenset(use["short"]),
            tails=frozenset(use["tails"]),
            whole=frozenset(use["whole"]),
        )
        spaced = frozenset(self.sides.sides)
        return ChannelWords(phrases, exact, languages, written_together, roles, compounds, spaced)

    @cached_property
    def lists(self) -> ListWords:
        """The words of lists of channels, with those for left and right; a letter of one language counts in all."""
        headings, _ = self._merged(("heading",))
        cells, _ = self._merged(("cell",))
        left = {word for word, side in self.sides.sides.items() if side == "left"}
        right = {word for word, side in self.sides.sides.items() if side == "right"}
        for one, other in self.sides.letters.values():
            left.add(one)
            right.add(other)
        left |= {word for word, meant in cells.items() if any(meaning == "left" for meaning, _ in meant)}
        right |= {word for word, meant in cells.items() if any(meaning == "right" for meaning, _ in meant)}
        return ListWords(
            {word: tuple(dict.fromkeys(column for column, _ in meant)) for word, meant in headings.items()},
            {word: frozenset(meaning for meaning, _ in meant) for word, meant in cells.items()},
            frozenset(left - right),
            frozenset(right - left),
        )

    @cached_property
    def processors(self) -> ProcessorWords:
        """The words of processors' names."""
        entries, doubts = self._merged(("processor",), "processor")
        parts, _ = self._merged(("processor-part",))
        exact = {word[1:]: meant[0][0] for word, meant in entries.items() if word[0] == "="}
        phrases = {word: meant[0][0] for word, meant in entries.items() if word[0] != "="}
        languages: dict[str, frozenset[str]] = {}
        for word, meant in (*entries.items(), *parts.items()):
            languages[word] = languages.get(word, frozenset()).union(code for _, code in meant)
        uses = {word: frozenset(use for use, _ in meant) for word, meant in parts.items()}
        # What a house says of a word is no mere manner, and names a device.
        uses |= dict.fromkeys(self._own_processors(), frozenset({"device"}))
        for phrase in [word for word in (*phrases, *uses) if " " in word and (len(word) > 6 or is_unspaced(word[0]))]:
            joined = phrase.replace(" ", "")
            if joined in phrases or joined in uses:
                continue
            if phrase in phrases:
                phrases[joined] = phrases[phrase]
            if phrase in uses:
                uses[joined] = uses[phrase]
            languages[joined] = languages[phrase]
        for phrase in [word for word in phrases if "device" in uses.get(word.rpartition(" ")[2], ())]:
            uses[phrase] = uses.get(phrase, frozenset()) | {"device"}  # a "bus comp" is one as a "comp" is
        settled: dict[str, dict[str, str]] = {}
        for (on, kind), text in shipped_file("processors").texts("settled"):
            settled.setdefault(on, {}).update(dict.fromkeys(listed(text), kind))
        return ProcessorWords(
            phrases,
            exact,
            languages,
            uses,
            heads_first=frozenset(_shipped_lines("heads", "head-order", "first")["first"]),
            outranks=_rows_of("processors", "outranks"),
            combined=frozenset(map(frozenset, _rows_of("processors", "combined"))),
            doubts=doubts,
            settled=settled,
        )

    @cached_property
    def categories(self) -> CategoryWords:
        """The category words of the open plug-in standards."""
        entries, doubts = self._merged(("category",), "category")
        silent = frozenset(w for _, text in shipped_file("categories").texts("no-category") for w in listed(text))
        return CategoryWords({word: meant[0][0] for word, meant in entries.items()}, doubts, silent)

    @cached_property
    def sides(self) -> SideWords:
        """The words for left and right."""
        entries, _ = self._merged(("side",))
        sides: dict[str, Side] = {word: "left" if meant[0][0] == "left" else "right" for word, meant in entries.items()}
        places = _shipped_lines("sides", "side-place", "behind-a-word", "hands", "last", "not-first")
        files = self._files(shipped_file("sides"))
        letters = {
            code: tuple(map(strip_accents, rows(text)[0]))
            for file in files
            for (code,), text in file.texts("side-letters")
        }
        first, last, behind = (frozenset(places[key]) for key in ("not-first", "last", "behind-a-word"))
        return SideWords(sides, first, last, behind, letters, frozenset(places["hands"]))

    @cached_property
    def pairs(self) -> PairWords:
        """The words by which two names pair."""
        entries, _ = self._merged(("pair",))
        found: dict[str, list[tuple[str, ...]]] = {"microphones": [], "opposite-microphones": [], "numbers": []}
        places: dict[str, set[str]] = {}
        for file in self._files(shipped_file("pairs")):
            for (kind, code), text in file.texts("pair-words"):
                said = rows(strip_accents(text.replace("\n", ",")))
                found.setdefault(kind, []).extend(said)
                if kind != "numbers":
                    places.setdefault(code, set()).update(word for row in said for word in row)
        concepts = {word: meant[0][0] for word, meant in entries.items()}
        opposite = frozenset(found["opposite-microphones"])
        microphones = opposite.union(found["microphones"])
        counted = frozenset(word for word, kind in concepts.items() if kind == "counted")
        of_language = tuple(frozenset(words) for words in places.values())
        numbers = tuple(map(frozenset, found["numbers"]))
        english, direct = frozenset(places.get("en", ())), self.marks.get("direct", frozenset())
        return PairWords(concepts, microphones, opposite, of_language, english, direct, numbers, counted)

    @cached_property
    def marks(self) -> dict[str, frozenset[str]]:
        """What a name can say besides the part (``take``, ``print``, ``placeholder`` …) to the words that say it."""
        entries, _ = self._merged(("mark",))
        found: dict[str, set[str]] = {}
        for word, meant in entries.items():
            for concept, _ in meant:
                found.setdefault(concept, set()).add(word)
        return {concept: frozenset(words) for concept, words in found.items()}

    @cached_property
    def precision(self) -> dict[str, str]:
        """Words that open data shows to mean several things, each with how often it told the role that it names.

        What a house says of a word is so in its sessions, whatever others mean by it.
        """
        own = self.own_words
        return {word: text for (word,), text in shipped_file("precision").texts("precision") if word not in own}

    @cached_property
    def own_words(self) -> frozenset[str]:
        """The words that a house itself gives for what channels are, as they are looked up."""
        faults: list[Fault] = []
        said: set[str] = set()
        for layer in self._house:
            own, asked = self._said_by(layer, CHANNEL_SECTIONS, "part", faults)
            said |= own.keys() | asked.keys()
        return frozenset(word.removeprefix("=") for word in said)

    @cached_property
    def clues(self) -> dict[str, frozenset[str]]:
        """Language to the words that tell that a session is named in it."""
        return {
            code: frozenset(found) for code, found in _shipped_lines("languages", "language-clue", "es", "pt").items()
        }

    def _own_processors(self) -> set[str]:
        """The words that a house itself gives for kinds of processors, as they are looked up."""
        texts = (text for layer in self._house for file in layer for _, text in file.texts("processor"))
        return {looked_up_as(word, "processor") for text in texts for word in listed(text)}

    def _files(self, shipped: WordFile) -> list[WordFile]:
        """A shipped file, then the house's, the nearest standard last."""
        return [shipped, *(file for layer in reversed(self._house) for file in layer)]

    def _merged(self, sections: tuple[str, ...], subject: str = "") -> tuple[Entries, dict[str, str]]:
        """The words of some sections, and those of ``subject`` that are ambiguous with what is said of them.

        What a nearer standard says of a word, it says in place of all that a farther one or mixlint itself says.

        Raises:
            RulebookError: a shipped file has faults.
        """
        faults: list[Fault] = []
        shipped = [shipped_file(stem) for section in sections for stem in FILES[section]]
        entries = gathered(shipped, sections, self._languages(), faults)
        doubts = ambiguous_in(shipped, subject)
        for layer in reversed(self._house):
            own, asked = self._said_by(layer, sections, subject, faults)
            said = own.keys() | asked.keys()
            entries = {word: meant for word, meant in entries.items() if not _overruled(word, said)} | own
            doubts = {word: text for word, text in doubts.items() if word not in said} | asked
        if faults:
            raise RulebookError(faults)
        return entries, doubts

    def _said_by(
        self, layer: tuple[WordFile, ...], sections: tuple[str, ...], subject: str, faults: list[Fault]
    ) -> tuple[Entries, dict[str, str]]:
        """What one standard of the house says of the words of some sections, and of those that are ambiguous."""
        own = gathered(layer, sections, self._languages(), faults, house=True)
        if subject == "part":
            own |= role_entries(layer, self.own_roles)
        return own, ambiguous_in(layer, subject)

    def _languages(self) -> tuple[str, ...]:
        """The codes of the languages there are, the house's among them."""
        return languages_in([shipped_file("languages"), *(file for layer in self._house for file in layer)])


def _shipped_lines(stem: str, section: str, *wanted: str) -> dict[str, list[str]]:
    """Key to words of a section that a shipped file has to have, with some keys that it has to hold.

    Raises:
        RulebookError: one is missing.
    """
    file = shipped_file(stem)
    found = {key: listed(text) for (key,), text in file.texts(section)}
    faults = [
        Fault(file.name, f"{section}.{key}", "it is missing", "put it back") for key in wanted if key not in found
    ]
    if faults:
        raise RulebookError(faults)
    return found


def _rows_of(stem: str, section: str) -> tuple[tuple[str, ...], ...]:
    """The rows of a section of a shipped file."""
    return tuple(row for _, text in shipped_file(stem).texts(section) for row in rows(text))


def _overruled(word: str, said: Set[str]) -> bool:
    return word in said or (word[0] == "=" and strip_accents(word[1:]) in said)


SHIPPED: Final = Vocabulary()
"""The words that come with mixlint, and no others."""
