"""What the lines above a table and below it say of the song and of how its cells are meant."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Final, Literal

from mixlint.importers.channel_list.cells import pan_scale, plain
from mixlint.importers.channel_list.dials import Dial, dial_of, range_from_zero
from mixlint.importers.channel_list.grid import GridRow
from mixlint.naming.list_words import ListWords, folded
from mixlint.naming.runs import is_unspaced


@dataclass(slots=True)
class Sayings:
    """What the lines above the heading say.

    Args:
        title: the song's title.
        tap: where sends are taken unless a cell says otherwise.
        blank: what an empty cell of a switch means.
        pans: what was said of pans.
        centre_elsewhere: a line says that another number than 0 is the centre.
        pan_range: the highest of numbers from 0 that pans are counted in, where a line says so.
        dial: where the ends of a dial of pans are, in hours.
        words: folded word to what a line says that it means.
        signs: sign or folded word to what a line says: True for yes or on.
        states: the same for signs that say of a processor whether it is on.
        taps: sign behind the level of a send → what a line says that it means.
        brackets: whether a processor in brackets is on.
    """

    title: str = ""
    tap: Literal["pre", "post"] | None = None
    blank: bool | None = None
    pans: list[str] = field(default_factory=list)
    centre_elsewhere: bool = False
    pan_range: float | None = None
    dial: Dial | None = None
    words: dict[str, frozenset[str]] = field(default_factory=dict)
    signs: dict[str, bool] = field(default_factory=dict)
    states: dict[str, bool] = field(default_factory=dict)
    taps: dict[str, Literal["pre", "post"]] = field(default_factory=dict)
    brackets: bool | None = None

    @property
    def pan_scale(self) -> float | None:
        """What stands for hard over, where a line says it."""
        return pan_scale(self.pans)


_SENTENCES: Final = re.compile(r"(?<!\d)[.。!！;；\n]+\s*|(?<=\d)\.\s+|。|\s+/\s+(?=[^=/]*=)")
_QUOTED: Final = re.compile(r"[\"“”„«»「『]\s*([^\"“”„«»「」『』]{2,80}?)\s*[\"“”«»」』]")
_LABEL: Final = re.compile(r"^\s*([^:：=]{1,30})\s*[:：=]\s*(\S.{0,80})$")
_PIECES: Final = re.compile(r"[,;|、，；]|\s/\s|\s[–—]\s")
_DEFINED: Final = re.compile(r"(?<![^\s=＝])(?P<sign>[^\s=＝]++)\s*+[=＝]\s*(?P<said>\S.*)$")
"""A word, an equals sign and what it means; tried from the beginning of words only: no line takes long."""
_BARE: Final = " \"'“”„«»()[]（）［］"
_CAN_MEAN: Final = frozenset(
    {"pre", "post", "silence", "centre", "left", "right", "bypassed", "active", "no", "yes", "none", "mono", "stereo"}
    | {"track", "group", "return", "master", "vca"}
)
_LONGEST_SIGN: Final = 12
"""Longer words are seldom defined for a list: common practice, no source."""


def sayings(rows: Iterable[GridRow], words: ListWords, below: Iterable[GridRow] = ()) -> Sayings:
    """What the lines above the heading, and remarks below it, say of the song and of how cells are meant."""
    found = Sayings()
    first = True
    for row in below:
        _hear_row(row, words, found)
    for row in rows:
        cells = [cell.strip() for cell in row.cells if cell.strip()]
        if not cells:
            continue
        if len(cells) >= 2 and words.means(cells[0], "title"):
            found.title = found.title or cells[1]
        elif len(cells) == 1 or words.means(cells[0], "title"):
            label = _LABEL.match(cells[0])
            if label and words.means(label[1], "title"):
                found.title = found.title or label[2].strip().strip('"“”„«»')
            elif first and not found.title and not _DEFINED.search(cells[0]):
                found.title = _title_in(cells[0])
        first = False
        _hear_row(row, words, found)
    return found


def _hear_row(row: GridRow, words: ListWords, found: Sayings) -> None:
    """Hear a line, which the sign between cells may have parted."""
    for sentence in _SENTENCES.split(", ".join(cell.strip() for cell in row.cells if cell.strip())):
        if sentence.strip():
            _hear(sentence, words, found)


def _title_in(text: str) -> str:
    """The title in a first line: what stands in quotation marks, else what comes before a dash; a sentence is none."""
    quoted = _QUOTED.search(text)
    if quoted:
        return quoted[1]
    if text.rstrip().endswith((".", "!", "?", ":")) or len(text) > 100:
        return ""
    return re.split(r"\s+[-\u2013\u2014|/]\s+", text, maxsplit=1)[0].strip()


def _hear(sentence: str, words: ListWords, found: Sayings) -> None:
    rest = _define(sentence, words, found)
    said = folded(sentence)
    about = Counter(columns[0] for columns in _columns_in(said, words))
    default = folded(rest)
    taps = _first_meaning(default, words, ("pre", "post"))
    if taps and (about["sends"] or about["send-to"] or "fader" in default):
        found.tap = found.tap or ("pre" if taps == "pre" else "post")
    if not about["pan"] and (dial := dial_of(sentence, words)) is not None:
        found.dial = found.dial or dial
    if about["pan"]:
        per_cent = any(words.means(phrase, "percent") for phrase in words.phrases_in(said))
        highest = range_from_zero(sentence, words)
        if (dial := dial_of(sentence, words)) is not None:
            found.dial = found.dial or dial
        elif highest is not None:
            found.pan_range = found.pan_range or highest
        elif _counted_from_elsewhere(sentence, words):
            found.centre_elsewhere = True
        elif any(words.means(phrase, "clock") for phrase in words.phrases_in(said)):
            pass  # hours are no scale
        elif any(char.isdigit() for char in said):
            found.pans.append(sentence)
        elif per_cent:
            found.pans.append("%")
    at = _place_of(said, words, "blank")
    if at is not None:
        means = _first_meaning(said[at:], words, ("yes", "no"), within=6)
        if means and found.blank is None:
            found.blank = means == "yes"


def _define(sentence: str, words: ListWords, found: Sayings) -> str:
    """Take down what a sentence says that signs mean, as ``x = muted``; gives back what stands beside that."""
    rest = []
    for piece in _PIECES.split(plain(sentence)):
        match = _DEFINED.search(piece)
        if match is None:
            rest.append(re.sub(r"[(\[（][^)\]）]{0,200}[)\]）]", " ", piece))
            continue
        before = piece[: match.start()]
        rest.append(before)
        met = _meanings_first(match["said"], words)
        if not met:
            continue
        left = folded(f"{before} {match['sign']}")
        if _ends_with(left, words, "brackets") or (not folded(match["sign"]) and set(match["sign"]) & set("()[]…")):
            if ("active" in met) != ("bypassed" in met):
                found.brackets = "active" in met
            continue
        sign = match["sign"].strip(_BARE) or match["sign"]
        is_switch = sign in ("0", "1") and not met & {"left", "right", "centre"}
        if len(sign) > _LONGEST_SIGN or (sign.isdigit() and not is_switch) or _ends_with(left, words, "blank"):
            continue
        key = folded(sign) or sign
        if not folded(sign) and ("pre" in met) != ("post" in met):
            found.taps.setdefault(sign, "pre" if "pre" in met else "post")
        if folded(sign):
            found.words.setdefault(key, met)
        if ("yes" in met) != ("no" in met):
            found.signs.setdefault(sign.casefold(), "yes" in met)
        if ("active" in met) != ("bypassed" in met):
            found.states.setdefault(key, "active" in met)
        elif ("yes" in met) != ("no" in met):
            found.states.setdefault(key, "yes" in met)
        taps = {
            tap for phrase in words.phrases_in(match["said"]) for tap in ("pre", "post") if words.means(phrase, tap)
        }
        if ("pre" in met) != ("post" in met) and len(taps) == 2:  # "p = pre else post"
            found.tap = found.tap or ("post" if "pre" in met else "pre")
    return ", ".join(rest)


def _meanings_first(text: str, words: ListWords) -> frozenset[str]:
    """What the first words of a text mean that mean anything a cell can say."""
    for _, phrase in _phrases(folded(text)):
        if met := words.meanings.get(phrase, frozenset()) & _CAN_MEAN:
            return met
        for side, known in (("left", words.left), ("right", words.right)):
            if phrase in known and len(phrase) > 1:
                return frozenset({side})
    return frozenset()


def _ends_with(said: str, words: ListWords, meaning: str) -> bool:
    """True for a text that ends with a word of a meaning."""
    parts = said.split()
    return any(meaning in words.meanings.get(" ".join(parts[n:]), ()) for n in range(len(parts)))


_EQUALS: Final = re.compile(
    r"(\d+(?:[.,]\d+)?)\s*(?:=|:|is|ist|är|er|est|es|è|é)\s*([^\W\d_]+)|([^\W\d_]+)\s*[=:]\s*(\d+)"
)


def _counted_from_elsewhere(sentence: str, words: ListWords) -> bool:
    """True for a line that calls another number than 0 the centre: ``0 to 127, 64 = centre``."""
    for match in _EQUALS.finditer(plain(sentence).casefold()):
        number, word = match[1] or match[4], match[2] or match[3]
        if len(word) > 1 and words.means(word, "centre") and float(number.replace(",", ".")) != 0.0:
            return True
    return False


def _phrases(said: str, longest: int = 4) -> Iterable[tuple[int, str]]:
    """Every run of up to ``longest`` words with its place in the text, the longer first at each place."""
    words = [(match.start(), match[0]) for match in re.finditer(r"\S+", said)]
    for n, (start, _) in enumerate(words):
        for size in range(min(longest, len(words) - n), 0, -1):
            yield start, " ".join(word for _, word in words[n : n + size])


def _columns_in(said: str, words: ListWords) -> list[tuple[str, ...]]:
    found = [words.columns[phrase] for _, phrase in _phrases(said) if phrase in words.columns]
    return found + [words.columns[word] for word in _inside(said, words.columns)]


def _inside(said: str, known: Iterable[str]) -> list[str]:
    """Which of some words in writing without spaces stand inside a run of a text."""
    if said.isascii():  # such writing is not: most lines are told by that
        return []
    return [word for word in known if not word.isascii() and is_unspaced(word[0]) and word in said]


def _first_meaning(said: str, words: ListWords, meanings: tuple[str, ...], within: int = 60) -> str:
    """Which of some meanings comes first in a text, looked for in its first phrases; empty where none does."""
    for n, (_, phrase) in enumerate(_phrases(said)):
        if n > 4 * within:
            break
        met = words.meanings.get(phrase, frozenset())
        for meaning in meanings:
            if meaning in met and len(phrase) > 1:
                return meaning
    spots = [
        (said.index(word), meaning)
        for word in _inside(said, words.meanings)
        for meaning in meanings
        if meaning in words.meanings[word]
    ]
    return min(spots)[1] if spots else ""


def _place_of(said: str, words: ListWords, meaning: str) -> int | None:
    for start, phrase in _phrases(said):
        if meaning in words.meanings.get(phrase, ()):
            return start + len(phrase)
    spots = [said.index(word) + len(word) for word in _inside(said, words.meanings) if meaning in words.meanings[word]]
    return min(spots, default=None)
