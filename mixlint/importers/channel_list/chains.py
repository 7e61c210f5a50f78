"""Sends and inserts as they stand in one cell: several of them, each with its marks."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Final, Literal, TypeVar

from mixlint.importers.channel_list.cells import (
    Misread,
    dry_and_wet,
    level,
    number_of,
    plain,
    refuse_formula,
    shown,
    typed,
)
from mixlint.naming.fold import fold_name
from mixlint.naming.list_words import UNITS, ListWords, folded
from mixlint.naming.vocabulary import SHIPPED
from mixlint.session.processor import PROCESSOR_KINDS

TIME_EFFECTS: Final = frozenset({"reverb", "delay"})
"""What a wet share belongs to."""

Tap = Literal["pre", "post"]
T = TypeVar("T")

_DASHES: Final = frozenset({"-", "--", "/", "0", "○", "x"})
_BETWEEN_SENDS: Final = re.compile(r"[;|\n\r、，]+|\s[/+]\s|,(?!\d)")
"""A stroke or plus sign with spaces round it, and a comma that is no decimal sign, stand between two as well."""
_BETWEEN_INSERTS: Final = re.compile(r"[;|\n\r、，]+|\s*[→>]\s*|\s[/+]\s|,(?!\d)")
_LEVEL: Final = re.compile(
    r"[\s:=@(]*(?P<level>[+-]?\d+(?:[.,]\d+)?|-?\s*(?:inf|∞|oo)(?![a-z]))?\s*(?:db|дб)?", re.IGNORECASE
)
_NAMED: Final = re.compile(r"(?P<name>.*?\S)[\s:=@]++(?P<rest>[+-]?\d.*|-?\s*(?:inf|∞).*)$", re.DOTALL)
_NUMBERED: Final = re.compile(r"^\s*\d{1,2}\s*[.):]\s+")
_BRACKET: Final = re.compile(r"\s*[(\[]([^()\[\]]*)[)\]]\s*$")
_WET: Final = re.compile(r"^(?P<name>.*?)[\s,:]*\b(?P<share>\d+(?:[.,]\d+)?)\s*%\s*(?P<word>[^\d%]*)$", re.DOTALL)
_TWO_SHARES: Final = re.compile(
    r"^(?P<name>.*?\S)[\s,:-]+"
    r"(?P<shares>(?:[^\W\d_]+[\s:]*\d{1,3}\s*%?[\s,/+]+){2}|(?:\d{1,3}\s*%?\s*[^\W\d_]+[\s,/+]+){2})$"
)
"""A name, and two shares behind it: ``Old Hall dry 30 wet 70``."""
_HERTZ: Final = re.compile(r"^(?P<name>.*?)[\s:]+(?P<hz>\d+(?:[.,]\d+)?\s*k?\s*hz.*)$", re.IGNORECASE | re.DOTALL)
_WHOLE: Final = re.compile(r'"[^"\n]*"|\([^()\n]*\)|\[[^\[\]\n]*\]')
"""What is not taken apart: a name in quotation marks, and what stands in brackets."""
_ALL_IN_BRACKETS: Final = re.compile(r"[(\[]([^()\[\]]+)[)\]]")
_LEADING: Final = re.compile(r"(?:[(\[]([^()\[\]]+)[)\]]\s*|([^\W\d_]+(?: [^\W\d_]+)?)\s*:\s*)(?=\S)")
_NEVER_ALONE: Final = frozenset({"out", "in", "fra", "hors", "off axis", "skip"})
"""Words that say "bypassed" in brackets, and are part of a name without."""


@dataclass(frozen=True, slots=True)
class ListedSend:
    """A send as a cell says it: ``to`` as written, the level in dB, the tap; unknown where None, and why in trouble."""

    to: str
    level_db: float | None
    tap: Tap | None = None
    on: bool | None = True
    trouble: str = ""


@dataclass(frozen=True, slots=True)
class ListedInsert:
    """An insert as a cell says it: its name without marks, what it does, whether it is on, its wet share or low cut."""

    name: str
    kind: str = ""
    on: bool | None = True
    wet: float | None = None
    low_cut: str = ""


@dataclass(frozen=True, slots=True)
class InsertMarks:
    """What marks beside the names of processors mean in one table.

    Args:
        signs: a sign or letter to whether it says "on".
        brackets: whether a name in brackets is on; None where nothing tells.
    """

    signs: dict[str, bool]
    brackets: bool | None = None


_TICKS: Final = "✓✔☑"
_STATES: Final = re.compile(
    r"^([✓✔☑✗✘☒✕✖×●○◯〇☐■□▪▫◉•*])\s*(?=\S)|^([xo~])(?=\s\S|(?<=~)\S)"
    r"|(?<=\S)\s*([✓✔☑✗✘☒✕✖×●○◯☐■□◉*?~°†‡§⊘⊗⊖∅⏻⏸^!])$"
)


def insert_marks(cells: list[str], signs: dict[str, bool], *, brackets: bool | None) -> InsertMarks:
    """What marks mean among the inserts of a table: as a remark says, and a cross beside ticks is off.

    Args:
        cells: all cells of inserts.
        signs: what remarks say of signs.
        brackets: what they say of brackets.
    """
    there = {one for cell in cells for part in _parts(cell) for one in _STATES.split(part.strip()) if one}
    told = dict.fromkeys(_TICKS, True)
    if there & set(_TICKS):
        told |= dict.fromkeys("✗✘☒✕✖×☐", False)
    if "●" in there and there & set("○◯"):
        told |= {"●": True, "○": False, "◯": False}
    return InsertMarks({**told, **signs}, brackets)


def says_none(text: str, words: ListWords) -> bool:
    """True for a cell that says that there is nothing."""
    said = plain(text).casefold()
    return said in _DASHES - {"x"} or words.means(said, "none")


class ChannelNames(dict[str, T]):
    """Folded name of a channel to anything, with the length of the longest, which bounds what has to be compared."""

    @cached_property
    def longest(self) -> int:
        """So many characters the longest name has, once folded."""
        return max(map(len, self), default=0)


def sends_in(text: str, words: ListWords, channels: ChannelNames[Any]) -> list[ListedSend]:
    """The sends of a cell such as ``Hall -16; Room -12 pre``.

    Args:
        text: the cell.
        words: the words of lists.
        channels: folded name of a channel to anything.

    Raises:
        Misread: it is a formula, or a level in it is none.
    """
    right = "right would be the channel and the level, as Plate -12; Hall -18 pre"
    text = typed(text, right)
    if says_none(text, words) and fold_name(text) not in channels:
        return []
    found = []
    rest = text.strip()
    while rest:
        name, behind = _name_first(rest, channels)
        cut = _BETWEEN_SENDS.search(behind)
        said, rest = (behind, "") if cut is None else (behind[: cut.start()], behind[cut.end() :].strip())
        if not name:
            name, said = _named(plain(said))
        if name or said.strip():
            found.append(_send(name, plain(said), words, f"{name} {said.strip()}"))
    return found


def send_of(text: str, to: str, words: ListWords) -> ListedSend | None:
    """The send of a cell under the heading of one channel: ``-17,0 (pre)``; None where it says that there is none.

    Raises:
        Misread: it is no level.
    """
    said = plain(text)
    refuse_formula(said, "right would be a level in dB such as -12, or an empty cell for no send")
    low = said.casefold()
    if low in _DASHES - {"x", "0"} or words.means(low, "none"):
        return None
    if low == "x" or words.means(low, "yes"):
        return ListedSend(to, None)
    if number_of(said) is None and not any(char.isdigit() for char in said) and not _only_tap(said, words):
        level(said, words)  # which tells what is wrong, but for silence in words
    return _send(to, said, words, text)


def _only_tap(said: str, words: ListWords) -> bool:
    known = ("pre", "post", "bypassed", "active", "filler")
    return (
        any(words.means(one, meaning) for one in words.phrases_in(said) for meaning in known) or folded(said) in UNITS
    )


def _name_first(text: str, channels: ChannelNames[Any]) -> tuple[str, str]:
    """The channel that a text begins with, the longest name that there is, and what comes behind it; "" for none."""
    for size in range(min(len(text), 2 * channels.longest + 8), 0, -1):
        if text[size - 1].isspace() or (size < len(text) and text[size].isalnum() and text[size - 1].isalnum()):
            continue
        if fold_name(text[:size]) in channels:
            return text[:size], text[size:]
    return "", text


def _named(said: str) -> tuple[str, str]:
    """A name that no channel bears, and what comes behind it, told apart by where the level begins."""
    match = _NAMED.match(said)
    return (match["name"], match["rest"]) if match else (said, "")


def _send(to: str, rest: str, words: ListWords, text: str) -> ListedSend:
    match = _LEVEL.match(rest)
    stated = match["level"] if match else None
    level_db = level(stated, words) if stated else None
    taps: list[Tap] = []
    on = True
    if not stated and folded(rest) in UNITS:
        raise Misread(f"{shown(rest)} is a unit without a number", "right would be a level such as -12 dB")
    behind = folded(rest[match.end() if match and stated else 0 :])
    if behind:
        if words.means(behind, "pre"):
            taps.append("pre")
        elif words.means(behind, "post"):
            taps.append("post")
        elif _is_off(behind, words):
            on = False
        else:
            for word in behind.split():
                if words.means(word, "pre") or words.means(word, "post"):
                    taps.append("pre" if words.means(word, "pre") else "post")
                elif _is_off(word, words):
                    on = False
                elif words.means(word, "filler") and taps:
                    continue
                elif word not in ("db", "fader"):
                    raise Misread(
                        f"{shown(text.strip())} is no send",
                        "right would be the channel and the level, as Plate -12 or Plate -12 pre",
                    )
    both = len(set(taps)) > 1
    trouble = f"{shown(text.strip())} says pre and post at once; right would be one of them" if both else ""
    return ListedSend(to.strip(), level_db, taps[0] if taps and not both else None, on, trouble)


def _is_off(word: str, words: ListWords) -> bool:
    """True for what says behind a send that it is off: ``off``, ``muted``."""
    return words.means(word, "bypassed") or "mute" in words.columns.get(word, ())


def opened(cells: list[str]) -> str:
    """The sign without spaces that parts the inserts of a table, as in ``Gate+Comp``; empty where none surely does.

    It is sure where no other sign parts any, and a processor that stands beside one stands elsewhere as well.
    """
    if any(len(_parts(cell)) > 1 for cell in cells):
        return ""
    for sign in "+/&":
        split = [[one.strip() for one in cell.split(sign)] for cell in cells if cell.strip()]
        counts: dict[str, int] = {}
        for bare in (_BRACKET.sub("", one).casefold() for parts in split for one in parts):
            counts[bare] = counts.get(bare, 0) + 1
        joined = [parts for parts in split if len(parts) > 1]
        if joined and all(len(one) > 2 for parts in joined for one in parts):
            again = [any(counts[_BRACKET.sub("", one).casefold()] > 1 for one in parts) for parts in joined]
            if all(again):
                return sign
    return ""


def _parts(text: str) -> list[str]:
    """The inserts of a cell, parted by the signs that stand outside brackets and quotation marks."""
    found, begin = [], 0
    hidden = [match.span() for match in _WHOLE.finditer(text)]
    for cut in _BETWEEN_INSERTS.finditer(text):
        if not any(start < cut.end() and cut.start() < end for start, end in hidden):
            found.append(text[begin : cut.start()])
            begin = cut.end()
    return [*found, text[begin:]]


def inserts_in(text: str, words: ListWords, marks: InsertMarks | None = None) -> list[ListedInsert]:
    """The inserts of a cell in their order: ``Gate > Brook EQ (off) > Low cut 90 Hz``.

    Whether one is on is None where a mark beside it may say that it is off, and nothing tells.

    Raises:
        Misread: it is a formula.
    """
    text = typed(text, "right would be the names of the processors")
    if says_none(text, words):
        return []
    parts = (_NUMBERED.sub("", part).strip() for part in _parts(text))
    return [_insert(" ".join(part.split()), words, marks) for part in parts if part]


def _insert(text: str, words: ListWords, marks: InsertMarks | None = None) -> ListedInsert:
    name, kind, wet, low_cut = text, "", None, ""
    on: bool | None = True
    marks = marks or InsertMarks(dict.fromkeys(_TICKS, True))
    if state := _STATES.search(name):
        name = (name[: state.start()] + name[state.end() :]).strip(" ~")
        on = marks.signs.get(state[1] or state[2] or state[3])
    if (lead := _LEADING.match(name)) is not None:
        off, active = (words.means(lead[1] or lead[2], one) for one in ("bypassed", "active"))
        if off or active:
            name, on = name[lead.end() :].strip(), not off
    if whole := _ALL_IN_BRACKETS.fullmatch(name):
        name, on = whole[1].strip(), marks.brackets
    while match := _BRACKET.search(name):
        inside = plain(match[1])
        share, cut = _WET.match(inside), _HERTZ.match(inside)
        both = dry_and_wet(inside, words)
        if both is not None:
            wet = both
        elif words.means(inside, "bypassed"):
            on = False
        elif words.means(inside, "active"):
            on = True
        elif inside in PROCESSOR_KINDS:
            kind = inside
        elif share and not share["name"] and (not share["word"].strip() or _is_wet(share["word"], words)):
            wet = number_of(share["share"])
        elif cut and "low-cut" in words.columns_named(cut["name"]):
            low_cut = cut["hz"]
        elif folded(inside) in marks.signs:
            on = marks.signs[folded(inside)]
        else:
            if on and _may_be_state(inside, words):
                on = None
            break
        name = name[: match.start()].rstrip()
    if len(name) > 1 and name[0] == name[-1] == '"':
        return ListedInsert(name[1:-1], kind, on, wet, low_cut)
    head, _, last = name.rpartition(" ")
    if head and folded(last) not in _NEVER_ALONE and words.means(last, "bypassed") and not last.isdigit():
        name, on = head.rstrip(" -:,"), False
    ending = _TWO_SHARES.match(f"{plain(name)} ")
    if ending is not None and (both := dry_and_wet(ending["shares"], words)) is not None:
        return ListedInsert(ending["name"], kind, on, both, low_cut)
    share = _WET.match(plain(name))
    if share and share["name"] and (not share["word"].strip() or _is_wet(share["word"], words)):
        name, wet = share["name"].strip(), number_of(share["share"])
    cut = _HERTZ.match(plain(name))
    if cut and not low_cut and "low-cut" in words.columns_named(cut["name"]):
        low_cut, kind = cut["hz"], kind or "filter"
    return ListedInsert(name or text, kind, on, wet if wet is None or 0.0 <= wet <= 100.0 else None, low_cut)


def _may_be_state(inside: str, words: ListWords) -> bool:
    """True for a word in brackets that no word file has and that may say "bypassed": one small word or abbreviation."""
    if inside.casefold() in ("b", "o", "x", "0", "1", "-"):
        return True
    if not re.fullmatch(r"[^\W\d_]{1,12}\.?", inside) or not inside[0].islower():
        return False
    known = words.meanings.get(folded(inside)) or words.columns.get(folded(inside))
    aside = folded(inside) in words.left or folded(inside) in words.right
    from mixlint.naming import read_processor
    from mixlint.session import Insert

    return not known and not aside and read_processor(Insert(name=inside), on="track").word is None


def marked(name: str) -> str:
    """A processor's name as :func:`inserts_in` takes it back: in quotation marks where it would be taken apart."""
    plainly = len(_parts(name)) == 1 and not re.search(r"[()\[\]\"%]|\bhz\b|^\s*\d", name, re.IGNORECASE)
    bare = name.replace('"', "'")
    return bare if plainly and bare.strip() and _insert(bare, SHIPPED.lists).name == bare else f'"{bare}"'


def _is_wet(word: str, words: ListWords) -> bool:
    return "wet" in words.columns_named(word.strip())
