"""Pans by the hour of a dial, by numbers from 0 up, and by the side: what scale a column of pans has.

Only a scale that the list states is used. Twelve is the middle of every dial; where its ends are differs from desk to
desk, so that an hour without them is unknown. Of numbers from 0 the middle is half the highest, and 64 of 127, as MIDI
1.0 counts controller 10.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from mixlint.importers.channel_list import cells
from mixlint.importers.channel_list.cells import FULL, Misread, plain, shown
from mixlint.naming.list_words import ListWords, folded

_TIME: Final = re.compile(r"(?<![\d.,])(\d{1,2})(?:\s*[:.h]\s*([0-5]\d)|\s*h\b)?(?![\d%])", re.IGNORECASE)
_HALF_ROUND: Final = 6.0
"""A dial does not go round: what is more than so many hours from 12 is counted the other way."""
_FROM_ZERO: Final = re.compile(
    r"(?<![\d.,])0\s*(?:-|\.{2,3}|…|~|/|[^\W\d_]{1,4}|…)\s*\+?(\d+(?:[.,]\d+)?)(?![\d.,]*\d)"
)
_SHORT: Final = re.compile(r"\D{0,4}(\d{1,2})\s*h(?:\s*[0-5]\d)?")
_BARE: Final = re.compile(r"\d+(?:[.,]\d+)?")


@dataclass(frozen=True, slots=True)
class Dial:
    """Where the ends of a dial are, in hours from 12: hard left, below 0, and hard right."""

    left: float
    right: float


@dataclass(frozen=True, slots=True)
class PanScale:
    """How a column of pans counts.

    Args:
        hard_over: the number that is hard over; None where nothing tells.
        highest: the highest of numbers from 0; None where they are counted from the middle.
        dial: the ends of a dial; None where nothing tells.
        clock: True where the column tells hours.
        sided: True where its numbers name the side, so that one without is in doubt.
    """

    hard_over: float | None = None
    highest: float | None = None
    dial: Dial | None = None
    clock: bool = False
    sided: bool = False


_END: Final = re.compile(r"(?<![\d.,-])(\d+)\s*[=:]?\s*([^\W\d_]+(?: [^\W\d_]+)?)")


def range_from_zero(text: str, words: ListWords) -> float | None:
    """The highest number of a range such as ``0–127``, ``0 to 100`` or ``0 = left, 100 = right``; None for none."""
    said = plain(text).casefold()
    match = _FROM_ZERO.search(said)
    value = float(match[1].replace(",", ".")) if match else 0.0
    ends: dict[str, float] = {}
    for number, word in _END.findall(said):
        for side, known in (("left", words.left), ("right", words.right)):
            if word in known or word.split()[-1] in known:
                ends.setdefault(side, float(number))
    if ends.get("left") == 0.0:
        value = ends.get("right", value)
    return value if value >= 1.0 else None


def _hours(match: re.Match[str]) -> float:
    """Hours from 12: those on the left are below 0."""
    hour = (int(match[1]) + int(match[2] or 0) / 60.0) % 12.0
    return hour - 12.0 if hour > _HALF_ROUND else hour


def _speaks_of_hours(text: str, words: ListWords) -> bool:
    return any(words.means(one, "clock") for one in words.phrases_in(re.sub(r"\d+", " ", text)))


def hour_of(text: str, words: ListWords, *, clock: bool = False) -> float | None:
    """The hour that a cell names, from 12: ``10:30`` is −1.5, ``14 Uhr`` and ``2 o'clock`` are 2; None for no hour.

    Args:
        text: the cell.
        words: the words of lists.
        clock: whether the column tells hours, so that a number alone is one.
    """
    said = plain(text)
    found = list(_TIME.finditer(said))
    if len(found) != 1 or int(found[0][1]) > 24:
        return None
    match = found[0]
    told = (match[2] is not None and ":" in match[0]) or _speaks_of_hours(said, words)
    as_hour = clock and (match[0] != match[1] or folded(said) == match[1])
    if not (told or as_hour):
        return None
    beside = words.phrases_in(f"{said[: match.start()]} {said[match.end() :]}")
    if any(one in words.left or one in words.right for one in beside):
        return None
    return _hours(match)


def is_clock(texts: Sequence[str], heading: str, words: ListWords) -> bool:
    """True for a column of hours: its heading says so, or one of its cells surely is one."""
    if _speaks_of_hours(heading, words) or any(hour_of(text, words) is not None for text in texts):
        return True
    short = [text for text in texts if (match := _SHORT.fullmatch(plain(text).casefold())) and int(match[1]) <= 12]
    return len(short) >= 2 and 2 * len(short) >= sum(any(char.isdigit() for char in text) for text in texts)


def dial_of(sentence: str, words: ListWords) -> Dial | None:
    """The ends of a dial as a line tells them: ``7 o'clock is hard left, 5 o'clock hard right``."""
    said = plain(sentence)
    found = list(_TIME.finditer(said))
    timed = [one for one in found if one[2] or "h" in one[0].casefold()]
    if not (_speaks_of_hours(said, words) or timed):
        return None
    ends: dict[str, float] = {}
    for clause in re.split(r"[,;:](?!\d)", said):
        hours = list(_TIME.finditer(clause))
        sides = {
            side
            for one in words.phrases_in(_TIME.sub(" ", clause))
            for side, known in (("left", words.left), ("right", words.right))
            if one in known
        }
        if len(hours) == 1 and len(sides) == 1:
            ends.setdefault(sides.pop(), _hours(hours[0]))
    if not ends:
        hours_told = [value for one in found if (value := _hours(one)) != 0.0]
        if len(hours_told) == 2:
            ends = {"left": min(hours_told), "right": max(hours_told)}
    left, right = ends.get("left"), ends.get("right")
    return Dial(left, right) if left is not None and right is not None and left < 0.0 < right else None


def has_sides(texts: Sequence[str]) -> bool:
    """True where numbers of a column name their side, and none has a sign instead."""
    numbers = [plain(text) for text in texts if any(char.isdigit() for char in text)]
    if any(one.startswith(("+", "-")) for one in numbers):
        return False
    named = [one for one in numbers if any(char.isalpha() or char in "<>←→" for char in one)]
    return len(named) >= 2 and 2 * len(named) > len(numbers)


def only_from_zero(texts: Sequence[str]) -> bool:
    """True where a column has numbers without side or sign, so that its middle may be any of them."""
    numbers = [plain(text) for text in texts if any(char.isdigit() for char in text)]
    bare = [one for one in numbers if _BARE.fullmatch(one) and float(one.replace(",", ".")) != 0.0]
    return len(bare) >= 2 and all(_BARE.fullmatch(one) for one in numbers)


def position(text: str, words: ListWords, scale: PanScale) -> float:
    """A pan, −100 … +100, by the scale of its column.

    Raises:
        Misread: it is no pan, or its scale is not known.
    """
    right = "right would be L30, 30L, -30 or C"
    said = plain(text)
    hour = hour_of(said, words, clock=scale.clock)
    if hour is not None:
        return _by_dial(text, hour, scale.dial)
    if scale.highest is not None and _BARE.fullmatch(said):
        return _from_zero(text, float(said.replace(",", ".")), scale.highest)
    if (
        scale.sided
        and re.fullmatch(r"\d+(?:[.,]\d+)?\s*%?", said)
        and float(re.sub(r"[^\d.]", "", said.replace(",", ".")))
    ):
        raise Misread(f"{shown(text)} does not tell the side, as other cells of the column do", right)
    return cells.pan(text, words, None if scale.highest is not None else scale.hard_over)


def _by_dial(text: str, hour: float, dial: Dial | None) -> float:
    if hour == 0.0:
        return 0.0
    if dial is None:
        raise Misread(
            f"{shown(text)} is an hour of a dial, and nothing tells where its ends are",
            "right would be a line such as pan: 7 o'clock = hard left, 5 o'clock = hard right, or L30, -30, C",
        )
    value = FULL * (hour / -dial.left if hour < 0.0 else hour / dial.right)
    if abs(value) > FULL * 1.0001:
        raise Misread(f"{shown(text)} is beyond the end of the dial", "right would be an hour between its ends")
    return round(value, 4)


def _from_zero(text: str, value: float, highest: float) -> float:
    if value > highest:
        raise Misread(f"{shown(text)} is beyond {highest:g}, the highest here", f"right would be 0 to {highest:g}")
    middle = float(math.ceil(highest / 2.0)) if highest > 1.0 else highest / 2.0
    return round(FULL * (value - middle) / (middle if value <= middle else highest - middle), 4)
