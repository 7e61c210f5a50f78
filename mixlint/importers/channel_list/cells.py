"""What stands in one cell: levels, pans, switches, shares, frequencies and times, as engineers type them.

A cell that cannot be read raises :class:`Misread` with what is wrong and what would be right; nothing is guessed. An
empty cell never comes here: it is unknown.
"""

from __future__ import annotations

import re
import unicodedata
from typing import Final

from mixlint.importers.channel_list.grid import DATE
from mixlint.naming.list_words import ListWords, folded

LOWEST_DB: Final = -150.0
HIGHEST_DB: Final = 20.0
"""Beyond these no fader or send stands: common practice, no source."""

FULL: Final = 100.0

_NUMBER: Final = re.compile(r"[+-]?\d+(?:[.,]\d+)?")
_MINUS: Final = str.maketrans(dict.fromkeys("\u2212\u2013\u2014\u2010\u2011\ufe63\uff0d", "-"))
_SILENT: Final = re.compile(r"-?\s*(?:inf(?:inity)?|∞|oo|8{2,})\.?")
_MARKS: Final = frozenset({"x", "xx", "✓", "✔", "✗", "✘", "☑", "●", "•", "1", "*"})
_EMPTY_MARKS: Final = frozenset({"-", "--", "0", "☐", "○", "/"})
_MONTHS: Final = re.compile(r"\d{1,2}\.?\s*(?:jan|feb|mar|mär|apr|may|mai|maj|jun|jul|aug|sep|oct|okt|nov|dec|dez|dic)")


class Misread(Exception):
    """A cell that cannot be read: what is wrong, and what would be right."""

    def __init__(self, what: str, right: str) -> None:
        super().__init__(what)
        self.what = what
        self.right = right


def plain(text: str) -> str:
    """A cell as it is read: letters of one width, one kind of minus, single spaces."""
    return " ".join(unicodedata.normalize("NFKC", text).translate(_MINUS).split())


def refuse_formula(text: str, right: str) -> None:
    """See that a cell holds what somebody typed, and not what a spreadsheet made of it.

    Raises:
        Misread: it is a formula, an error of the spreadsheet, or a date that it made of a number.
    """
    if text.startswith(("=", "@")):
        raise Misread(f"{shown(text)} is a formula, which is not calculated", f"{right} (save the list as values)")
    if text.startswith("#") and text[1:2].isalpha():
        raise Misread(f"{shown(text)} is an error of the spreadsheet", right)
    if text.startswith(DATE) or _MONTHS.match(text.casefold()):
        raise Misread(
            f"{shown(text.removeprefix(DATE))} is a date that the spreadsheet made of a number",
            f"{right}, with the column formatted as text",
        )


def unquoted(text: str) -> str:
    """A text without the apostrophe that keeps a spreadsheet from running it."""
    return (
        text[1:]
        if text[:1] == "'" and text[1:2] in ("=", "+", "-", "@", "'", "\t", "\r", ":", "＝", "＋", "－", "＠")
        else text
    )


def typed(text: str, right: str) -> str:
    """The text of a cell, or of several a line each, as it was meant.

    Raises:
        Misread: one of them is a formula, an error of the spreadsheet or a date that it made.
    """
    lines = text.split("\n")
    for line in lines:
        refuse_formula(plain(line), right)
    return "\n".join(map(unquoted, lines))


def shown(text: str) -> str:
    """A cell for a reader, in quotation marks and not too long."""
    return f'"{text[:60]}…"' if len(text) > 60 else f'"{text}"'


def number_of(text: str) -> float | None:
    """The one number that is the whole text, with a decimal point or comma; None for anything else."""
    text = text.replace(" ", "")
    return float(text.replace(",", ".")) if _NUMBER.fullmatch(text) else None


def level(text: str, words: ListWords) -> float:
    """A level in dB; −200 for silence.

    Raises:
        Misread: it is no level.
    """
    right = "right would be a number in dB such as -6 or -2.5 dB, or -inf"
    said = plain(text)
    refuse_formula(said, right)
    low = re.sub(r"\s*(?:db|дб|デシベル)(?:fs)?\s*$", "", said.casefold())
    if _SILENT.fullmatch(low) or words.means(low.lstrip("- "), "silence"):
        return -200.0
    if words.means(low, "unity"):
        return 0.0
    low = low.replace("+-", "").replace("±", "")
    value = number_of(low)
    if value is None:
        if len(_NUMBER.findall(low)) > 1:
            raise Misread(f"{shown(text)} is more than one number", f"{right}, and one of them alone")
        raise Misread(f"{shown(text)} is no level", right)
    if value <= -200.0 and value >= -1000.0:
        return -200.0
    if not LOWEST_DB <= value <= HIGHEST_DB:
        raise Misread(
            f"{shown(text)} is no likely level (a decimal sign that got lost?)",
            "right would be between -150 and +20 dB, or -inf",
        )
    return value


def pan(text: str, words: ListWords, scale: float | None) -> float:
    """A pan, −100 … +100.

    Args:
        text: the cell.
        words: the words of lists.
        scale: what stands for hard over; None where nothing tells.

    Raises:
        Misread: it is no pan, or its scale is not known.
    """
    right = "right would be L30, 30L, -30 or C"
    said = plain(text)
    refuse_formula(said, right)
    if words.means(said, "centre"):
        return 0.0
    if "%" in said:
        scale = FULL
    numbers = _NUMBER.findall(said)
    letters = folded(re.sub(r"[\d.,%+]", " ", said)).split()
    sides = {side for word in letters if (side := _side(word, words))}
    if len(numbers) > 1 or len(sides) > 1:
        raise Misread(f"{shown(text)} is more than one position", right)
    if not numbers:
        if sides and len(letters) <= 3:
            return -FULL if sides == {"left"} else FULL
        raise Misread(f"{shown(text)} is no position", right)
    value = float(numbers[0].replace(",", "."))
    if letters and not sides:
        raise Misread(f"{shown(text)} does not tell the side", right)
    if sides:
        value = -abs(value) if sides == {"left"} else abs(value)
    if value == 0.0:
        return 0.0
    if scale is None:
        raise Misread(
            f"nothing tells which number is hard over, so that {shown(text)} can be any position",
            'right would be a heading such as "Pan (100 = hard over)", or a % sign in the cell',
        )
    if abs(value) > scale * 1.0001:
        raise Misread(f"{shown(text)} is beyond {scale:g}, which is hard over here", f"{right}, up to {scale:g}")
    return max(-FULL, min(FULL, round(100.0 * value / scale, 4)))


def _side(word: str, words: ListWords) -> str:
    """The side that a word names; empty for none. A side is found at either end of a word in writing without spaces."""
    for side, known in (("left", words.left), ("right", words.right)):
        if word in known:
            return side
    return ""


def pan_scale(texts: list[str]) -> float | None:
    """What stands for hard over, as a heading or a line over it says: the largest number in it, or 100 for ``%``.

    Args:
        texts: what was said of pans.
    """
    for text in texts:
        said = plain(text)
        numbers = [abs(float(one.replace(",", "."))) for one in _NUMBER.findall(said)]
        found = [one for one in numbers if one >= 1.0]
        if found:
            return max(found)
        if "%" in said:
            return FULL
    return None


def pan_scale_of_cells(cells: list[str]) -> float | None:
    """The same as the cells themselves tell it: nobody counts further than 64 to a side but those who count to 100."""
    highest = 0.0
    for cell in cells:
        said = plain(cell)
        numbers = _NUMBER.findall(said)
        if len(numbers) == 1 and "%" not in said:
            highest = max(highest, abs(float(numbers[0].replace(",", "."))))
    return FULL if 64.0 < highest <= FULL else None


def switch(text: str, words: ListWords) -> bool:
    """A switch: words for yes and no, crosses and ticks.

    Raises:
        Misread: it is neither.
    """
    right = "right would be yes or no, or x, or an empty cell for not known"
    said = plain(text)
    refuse_formula(said, right)
    low = said.casefold()
    yes, no = words.means(said, "yes"), words.means(said, "no")
    if low in _MARKS or (yes and not no):
        return True
    if low in _EMPTY_MARKS or (no and not yes):
        return False
    raise Misread(f"{shown(text)} is neither yes nor no", right)


def legs(text: str, words: ListWords) -> int:
    """How wide a channel is: mono or stereo, or a number of legs.

    Raises:
        Misread: it is neither.
    """
    said = plain(text)
    refuse_formula(said, "right would be mono or stereo")
    if words.means(said, "mono"):
        return 1
    if words.means(said, "stereo"):
        return 2
    if said.isascii() and said.isdigit() and 1 <= int(said[:3]) <= 64:
        return int(said[:3])
    raise Misread(f"{shown(text)} is no width", "right would be mono or stereo")


def share(text: str) -> float:
    """A wet share in per cent.

    Raises:
        Misread: it is none.
    """
    right = "right would be a share in per cent, as 100 %"
    said = plain(text)
    refuse_formula(said, right)
    value = number_of(said.replace("%", ""))
    if value is None or not 0.0 <= value <= FULL:
        raise Misread(f"{shown(text)} is no share from 0 to 100 %", right)
    if "%" not in said and 0.0 < value <= 1.0:
        raise Misread(f"{shown(text)} may be a share of 1 or per cent", right)
    return value


_FREQUENCY: Final = re.compile(r"([+-]?\d+(?:[.,]\d+)?)\s*(k?)\s*(?:hz|гц|ヘルツ)?\b", re.IGNORECASE)
_SLOPE: Final = re.compile(r"(\d+(?:[.,]\d+)?)\s*db", re.IGNORECASE)


def low_cut(text: str, words: ListWords) -> tuple[float, float | None]:
    """A low cut in hertz, 0 for none, and its slope in dB per octave where it is told.

    Raises:
        Misread: it is no frequency.
    """
    right = "right would be a frequency such as 80 Hz, or no"
    said = plain(text)
    refuse_formula(said, right)
    if said in _EMPTY_MARKS or words.means(said, "none") or words.means(said, "no"):
        return 0.0, None
    steep = _SLOPE.search(said)
    found = _FREQUENCY.match(_SLOPE.sub("", said).replace("/oct", "").strip(" ,/"))
    value = float(found[1].replace(",", ".")) * (1000.0 if found[2] else 1.0) if found else -1.0
    if not 5.0 <= value <= 20_000.0:
        raise Misread(f"{shown(text)} is no frequency of a low cut", right)
    return value, float(steep[1].replace(",", ".")) if steep else None


def time_s(text: str) -> float:
    """A time in seconds: ``95``, ``12.5 s``, ``1:35``, ``0:01:35.2``.

    Raises:
        Misread: it is none.
    """
    right = "right would be 1:35.5 or a number of seconds"
    said = plain(text)
    refuse_formula(said, right)
    parts = re.sub(r"\s*(?:sec|s|сек|с)\.?$", "", said.casefold()).split(":")
    numbers = [number_of(part) for part in parts]
    if not 1 <= len(parts) <= 3 or any(one is None or one < 0.0 for one in numbers):
        raise Misread(f"{shown(text)} is no time", right)
    total = 0.0
    for one in numbers:
        total = 60.0 * total + (one or 0.0)
    if total > 86_400.0:
        raise Misread(f"{shown(text)} is longer than a day", right)
    return round(total, 6)
