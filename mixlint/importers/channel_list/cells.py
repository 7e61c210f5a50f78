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
HIGHEST_DB: Final = 24.0
"""Beyond these no fader or send stands: common practice, no source."""

FULL: Final = 100.0

_NUMBER: Final = re.compile(r"[+-]?\d+(?:[.,]\d+)?")
_MINUS: Final = str.maketrans(dict.fromkeys("\u2212\u2013\u2014\u2010\u2011\ufe63\uff0d", "-"))
_SILENT: Final = re.compile(r"-?\s*(?:inf(?:inity)?|∞|oo|8{2,})\.?")
_MARKS: Final = frozenset({"x", "xx", "✓", "✔", "☑", "☒", "●", "•", "1", "*"})
_EMPTY_MARKS: Final = frozenset({"-", "--", "0", "☐", "/"})
_RINGS: Final = ("○", "◯", "〇", "◎", "o")
_CROSSES: Final = ("×", "✗", "✘", "✕", "✖", "x")
_MONTHS: Final = re.compile(
    r"(?:\d{1,2}[.\-/ ]{0,2}(?:jan|feb|mar|mär|märz|apr|may|mai|maj|jun|juni|jul|juli|aug|sep|sept|oct|okt|nov|dec|dez"
    r"|dic)\.?(?:[ \-/.]{0,2}\d{2,4})?)"
)
_ERROR: Final = re.compile(r"#[¡¿]?[^\W\d_][^\s]*|#(?=\W*[!?])\S+")
_NARROW: Final = re.compile(r"#{3,}")


_DRY_AND_WET: Final = re.compile(
    r"([^\W\d_]+[ :]*\d{1,3}\s*%?)\s+([^\W\d_]+[ :]*\d{1,3}\s*%?)"
    r"|(\d{1,3}\s*%?\s*[^\W\d_]+)\s+(\d{1,3}\s*%?\s*[^\W\d_]+)"
)


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
    if _ERROR.fullmatch(text):
        raise Misread(f"{shown(text)} is an error of the spreadsheet", right)
    if _NARROW.fullmatch(text):
        raise Misread(f"{shown(text)} is what a spreadsheet shows where a column is too narrow", right)
    if text.startswith(DATE) or _MONTHS.fullmatch(text.casefold()):
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
    low = re.sub(r"^[△▲▼]\s*", "-", low)
    sign = re.match(r"([^\W\d_]+)\s*(?=\d)", low)
    if sign and words.means(sign[1], "minus"):
        low = f"-{low[sign.end() :]}"
    value = number_of(low)
    if value is None:
        if len(_NUMBER.findall(low)) > 1:
            raise Misread(f"{shown(text)} is more than one number", f"{right}, and one of them alone")
        raise Misread(f"{shown(text)} is no level", right)
    if value <= -200.0 and value >= -1000.0:
        return -200.0
    if HIGHEST_DB < value <= -LOWEST_DB:
        raise Misread(
            f"{shown(text)} is above any likely level (a minus forgotten?)",
            f"right would be -{value:g}, if that is meant, or at most +{HIGHEST_DB:g} dB",
        )
    if not LOWEST_DB <= value <= HIGHEST_DB:
        raise Misread(
            f"{shown(text)} is no likely level (a decimal sign that got lost?)",
            "right would be between -150 and +24 dB, or -inf",
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
    if words.means(said, "centre") or said in ("><", "<>"):
        return 0.0
    numbers = _NUMBER.findall(said)
    letters = words.phrases_in(re.sub(r"[\d.,%+]", " ", said))
    if "%" in said or any(words.means(one, "percent") for one in letters):
        scale = FULL
    sides = {side for word in letters if (side := _side(word, words))}
    arrows = {side for sign, side in _ARROWS.items() if sign in said}
    if not letters and len(arrows) == 1:
        sides = arrows
    if len(numbers) > 1 or len(sides) > 1:
        raise Misread(f"{shown(text)} is more than one position", right)
    if not numbers:
        if not sides:
            raise Misread(f"{shown(text)} is no position", right)
        if not all(_side(one, words) or _says_how_far(one, words) for one in letters):
            raise Misread(f"{shown(text)} does not tell how far to the side", right)
        return -FULL if sides == {"left"} else FULL
    value = float(numbers[0].replace(",", "."))
    if value == 0.0 and all(words.means(one, "centre") or _side(one, words) for one in letters):
        return 0.0
    if letters and not sides:
        raise Misread(f"{shown(text)} does not tell the side", right)
    if sides:
        value = -abs(value) if sides == {"left"} else abs(value)
    if value == 0.0:
        return 0.0
    if scale is None and abs(value) > FULL:
        raise Misread(f"{shown(text)} is beyond the end of any scale", f"{right}, at most 100 to a side")
    if scale is None:
        raise Misread(
            f"nothing tells which number is hard over, so that {shown(text)} can be any position",
            'right would be a heading such as "Pan (100 = hard over)", or a % sign in the cell',
        )
    if abs(value) > scale * 1.0001:
        raise Misread(f"{shown(text)} is beyond {scale:g}, which is hard over here", f"{right}, up to {scale:g}")
    return max(-FULL, min(FULL, round(100.0 * value / scale, 4)))


_ARROWS: Final = {"<": "left", "←": "left", "◀": "left", ">": "right", "→": "right", "▶": "right"}


def _says_how_far(phrase: str, words: ListWords) -> bool:
    """True for a word that says that something is all the way over, or nothing at all."""
    return "pan" in words.columns.get(phrase, ()) or any(words.means(phrase, one) for one in ("hard-over", "filler"))


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
        if number_of(said) is not None and abs(number_of(said) or 0.0) > FULL:
            return None  # counted to another number
        value = abs(float(numbers[0].replace(",", "."))) if len(numbers) == 1 and "%" not in said else 0.0
        highest = max(highest, value if value <= FULL else 0.0)
    return FULL if 64.0 < highest <= FULL else None


def marks_of(cells: list[str], *, unspaced: bool) -> dict[str, bool]:
    """What the signs that mean one thing here and another there mean in one table's switches.

    In East Asia a ring is yes and a cross is no. Elsewhere a cross beside rings or ticks is no, and a ring beside dots
    is an empty one. Alone neither tells.

    Args:
        cells: all that stands in the switches of the table.
        unspaced: whether its heading is in a script of East Asia.
    """
    there = {plain(cell).casefold() for cell in cells}
    rings, crosses = there & set(_RINGS), there & set(_CROSSES)
    found: dict[str, bool] = {}
    ticked = bool(there & {"✓", "✔", "☑"})
    for ring in rings - ({"o"} if not (unspaced or crosses) else set()):
        if unspaced or crosses or "●" in there:
            found[ring] = bool(unspaced or crosses) and "●" not in there
    for cross in crosses:
        if cross == "x" and not (rings or ticked):
            continue
        if unspaced or ticked or rings:
            found[cross] = False
    return found


def all_crosses(texts: list[str]) -> bool:
    """True where all cells are a cross."""
    return all(text in _CROSSES for text in texts)


def switch(text: str, words: ListWords, marks: dict[str, bool] | None = None) -> bool:
    """A switch: words for yes and no, crosses and ticks.

    Args:
        text: the cell.
        words: the words of lists.
        marks: what signs that mean different things mean in this table, as :func:`marks_of` tells.

    Raises:
        Misread: it is neither.
    """
    right = "right would be yes or no, or x, or an empty cell for not known"
    said = plain(text)
    refuse_formula(said, right)
    low = said.casefold()
    if marks and low in marks:
        return marks[low]
    yes, no = words.means(said, "yes"), words.means(said, "no")
    if low in _MARKS or (yes and not no):
        return True
    if low in _EMPTY_MARKS or (no and not yes):
        return False
    if low in (*_RINGS, *_CROSSES):
        raise Misread(f"{shown(text)} may be yes or no, and nothing in the list tells", right)
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
    if words.means(said, "stereo") or said.casefold() == "s":
        return 2
    if said.isascii() and said.isdigit() and 1 <= int(said[:3]) <= 64:
        return int(said[:3])
    raise Misread(f"{shown(text)} is no width", "right would be mono or stereo")


def share(text: str, words: ListWords, heading: str = "") -> float:
    """A wet share in per cent: ``65 %``, ``100 wet``, ``wet: 90``, ``20 % dry``, ``40/60`` of dry and wet.

    Args:
        text: the cell.
        words: the words of lists.
        heading: the heading, which may say which of two numbers is wet, or that shares are counted to 1.

    Raises:
        Misread: it is none.
    """
    right = "right would be a share in per cent, as 100 %"
    said = plain(text)
    refuse_formula(said, right)
    pair = re.fullmatch(r"(\d+(?:[.,]\d+)?)\s*%?\s*[/:|-]\s*(\d+(?:[.,]\d+)?)\s*%?", said)
    if pair is not None:
        return _of_pair(text, pair, words, heading)
    halves = [half for half in re.split(r"[,;/+](?!\d)", said) if half.strip()]
    if len(halves) == 1 and (both := _DRY_AND_WET.fullmatch(said)) is not None:
        halves = [half for half in both.groups() if half]
    if len(halves) == 2 and all(re.search(r"\d", half) for half in halves):
        one, other = (_one_share(half, words) for half in halves)
        if one == other:
            return one
        raise Misread(f"{shown(text)} tells two shares that do not make 100 %", right)
    to_one = re.search(
        r"(?<![\d.,])0\s*(?:-|\.{2,3}|…|/|[^\W\d_]{1,4})\s*1(?:[.,]0+)?(?![\d.,%])", plain(heading).casefold()
    )
    value = number_of(said)
    if to_one and value is not None:
        if 0.0 <= value <= 1.0:
            return FULL * value
        raise Misread(f"{shown(text)} is more than 1, the most here", "right would be a share from 0 to 1")
    return _one_share(text, words)


def dry_and_wet(text: str, words: ListWords) -> float | None:
    """The wet share in per cent of a text such as ``dry 30 wet 70``; None for anything else."""
    said = plain(text)
    phrases = folded(re.sub(r"[\d%]", " ", said)).split()
    if len(re.findall(r"\d+", said)) != 2 or not any(words.means(one, "dry") for one in phrases):
        return None
    try:
        return share(said, words) if any(_is_wet(one, words) for one in phrases) else None
    except Misread:
        return None


def _of_pair(text: str, pair: re.Match[str], words: ListWords, heading: str) -> float:
    """The wet one of two numbers, as the heading tells by the order of its words."""
    right = "right would be a heading such as dry/wet, and two numbers that make 100"
    said = words.phrases_in(heading)
    if len(said) == 1 or not any(words.means(one, "dry") for one in said):
        said = folded(heading).split()
    dry = next((n for n, one in enumerate(said) if words.means(one, "dry")), None)
    wet = next((n for n, one in enumerate(said) if _is_wet(one, words) and not words.means(one, "dry")), None)
    numbers = [float(pair[1].replace(",", ".")), float(pair[2].replace(",", "."))]
    if dry is None or wet is None:
        raise Misread(f"{shown(text)} does not tell which number is the wet one", right)
    if abs(sum(numbers) - FULL) > 1.0:
        raise Misread(f"{shown(text)} does not make 100", right)
    return numbers[0 if wet < dry else 1]


def _is_wet(word: str, words: ListWords) -> bool:
    """True for a word for what is wet; "effect" is one beside "dry"."""
    return "wet" in words.columns.get(word, ()) or words.means(word, "return")


def _one_share(text: str, words: ListWords) -> float:
    right = "right would be a share in per cent, as 100 %"
    said = plain(text)
    numbers = _NUMBER.findall(said)
    phrases = words.phrases_in(_NUMBER.sub(" ", said))
    wet = [one for one in phrases if _is_wet(one, words)]
    dry = [one for one in phrases if one not in wet and words.means(one, "dry")]
    rest = [one for one in phrases if one not in wet and one not in dry]
    per_cent = "%" in said or any(words.means(one, "percent") for one in rest)
    fully = any(words.means(one, "hard-over") for one in rest)
    rest = [
        one
        for one in rest
        if not any(words.means(one, meaning) for meaning in ("percent", "filler")) and not words.means(one, "hard-over")
    ]
    if fully and not numbers and not rest and bool(wet) != bool(dry):
        return FULL if wet else 0.0
    value = float(numbers[0].replace(",", ".")) if len(numbers) == 1 and not rest and not (wet and dry) else None
    if value is None or not 0.0 <= value <= FULL:
        raise Misread(f"{shown(text)} is no share from 0 to 100 %", right)
    if not per_cent and 0.0 < value <= 1.0:
        raise Misread(f"{shown(text)} may be a share of 1 or per cent", right)
    return FULL - value if dry else value


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
    state = re.match(r"([^\W\d_]+(?: [^\W\d_]+)?)\.?\s*[,;:@(-]?\s*(?=\d)", said)
    if state and (words.means(state[1], "bypassed") or words.means(state[1], "no")):
        return 0.0, None  # set, and switched off
    if state and (words.means(state[1], "active") or words.means(state[1], "yes")):
        said = said[state.end() :].rstrip(")")
    if words.means(said, "bypassed"):
        return 0.0, None
    steep = _SLOPE.search(said)
    bare = _SLOPE.sub("", said).replace("/oct", "").strip(" ,/@~")
    named = re.match(r"([^\d]+?)\s*[@:=]?\s*(?=\d)", bare)
    if named and "low-cut" in words.columns_named(named[1]):
        bare = bare[named.end() :]
    found = _FREQUENCY.match(bare)
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
