"""What happens to tables on their way: letters broken by a wrong encoding, quotation marks that are never closed."""

from __future__ import annotations

import re
from typing import Final

_BYTE_OF: Final[dict[str, int]] = {}
for _byte in range(0x80, 0x100):
    _BYTE_OF[chr(_byte)] = _byte  # as ISO 8859-1 has it
    try:
        _BYTE_OF[bytes([_byte]).decode("cp1252")] = _byte
    except UnicodeDecodeError:
        continue


def _letters(first: int, last: int) -> str:
    return "".join(re.escape(char) for char, byte in _BYTE_OF.items() if first <= byte <= last)


_FOLLOWING: Final = f"[{_letters(0x80, 0xBF)}]"
_BROKEN: Final = re.compile(
    f"[{_letters(0xC2, 0xDE)}]{_FOLLOWING}|[{_letters(0xE0, 0xEF)}]{_FOLLOWING}{{2}}"
    f"|[{_letters(0xF0, 0xF4)}]{_FOLLOWING}{{3}}"
)
"""What a letter of UTF-8 becomes that was read as Windows-1252 or ISO 8859-1. Led by ß it would be none of use."""
_USUAL: Final = frozenset("ÃÂÅÄ")
_TIMES: Final = 2
"""So often a file is saved wrongly, one time after the other."""
_SHOWN: Final = 4


def mended(text: str) -> tuple[str, str]:
    """The text with its broken letters mended, and what is said of it; the text itself where it is sound.

    Whether letters are broken is decided on the whole text: a capital ``Ã`` inside a small word, several such pairs in
    a row, or three signs that make a letter of East Asia. Otherwise ``ÍŽ`` stays what it is.
    """
    sound = text
    for _ in range(_TIMES):
        if not any(_is_sure(match) for match in _BROKEN.finditer(sound)):
            break
        sound = _BROKEN.sub(lambda match: _letter(match[0]) or match[0], sound)
    sound = sound.removeprefix("\ufeff")
    if sound == text:
        return text, ""
    lines = [n for n, (old, new) in enumerate(zip(text.split("\n"), sound.split("\n"), strict=True), 1) if old != new]
    pairs: dict[str, str] = {}
    for old, new in zip(text.split(), sound.split(), strict=False):
        cells = zip(re.split(r"[;,|\"]", old), re.split(r"[;,|\"]", new), strict=False)
        pairs |= {one: other for one, other in cells if one != other and len(pairs) < _SHOWN}
    shown = ", ".join(f'"{old}" as "{new}"' for old, new in list(pairs.items())[:_SHOWN])
    rows = ", ".join(map(str, lines[:10])) + (" and more" if len(lines) > 10 else "")
    said = (
        f"letters that an earlier wrong encoding broke were mended in line {rows} ({shown}); right would be the list "
    )
    return sound, said + "saved again as UTF-8"


def lost_letters(text: str) -> str:
    """What is said of letters that nothing brings back, which stand as U+FFFD; empty where there are none."""
    lines = [str(n) for n, line in enumerate(text.split("\n"), 1) if "\ufffd" in line]
    if not lines:
        return ""
    return (
        f"letters got lost in line {', '.join(lines[:10])}, where \ufffd stands for them; right would be the list "
        "saved again as UTF-8 by the program it comes from"
    )


def _letter(broken: str) -> str:
    try:
        letter = bytes(_BYTE_OF[char] for char in broken).decode("utf-8")
    except UnicodeDecodeError:
        return ""
    return letter if letter < "\u0600" or "\u2000" <= letter <= "\uffef" else ""


def _is_sure(match: re.Match[str]) -> bool:
    letter = _letter(match[0])
    if not letter:
        return False
    text, start, end = match.string, match.start(), match.end()
    if len(match[0]) > 2:
        return "\u3040" <= letter <= "\ud7a3" or "\u2010" <= letter <= "\u2122" or letter == "\ufeff"
    beside = text[start - 1 : start] + text[end : end + 1]
    if match[0][0] in _USUAL and (any(char.islower() for char in beside) or text[start - 1 : start] in "\n;,\t"):
        return True
    return _BROKEN.match(text, end) is not None


_MOST_OPEN: Final = 50


def closed(text: str, delimiter: str) -> tuple[str, list[tuple[int, str]]]:
    """The text without the quotation marks that are never closed, and the line and cell of each.

    A mark is one that opens a cell and is not closed before the text ends, or after which whole rows as wide as the
    others follow, so that rows would become one cell.
    """
    if '"' not in text:
        return text, []
    opening = re.compile(rf'(?:^|(?<={re.escape(delimiter)}))"', re.MULTILINE)
    counts = sorted(line.count(delimiter) for line in text.split("\n")[:400] if line.count(delimiter))
    usual = counts[len(counts) // 2] if counts else 0
    found: list[tuple[int, str]] = []
    kept: list[str] = []
    at = done = 0
    while (match := opening.search(text, at)) is not None and len(found) < _MOST_OPEN:
        end = _end_of(text, match.end(), delimiter)
        inside = text[match.end() : len(text) if end is None else end]
        if (end is None and text[match.end() :].strip()) or _holds_rows(inside, delimiter, usual):
            kept.append(text[done : match.start()])
            done = match.end()
            cell = re.split(rf"[{re.escape(delimiter)}\r\n]", text[done:], maxsplit=1)[0]
            found.append((text.count("\n", 0, match.start()) + 1, cell))
            at = match.end()
        else:
            at = len(text) if end is None else end + 1
    return ("".join(kept) + text[done:], found) if found else (text, found)


def _end_of(text: str, start: int, delimiter: str) -> int | None:
    """Where a quoted cell ends; None where it does not."""
    at = start
    while (at := text.find('"', at)) >= 0:
        if text[at + 1 : at + 2] == '"':
            at += 2
        elif text[at + 1 : at + 2] in ("", delimiter, "\r", "\n", " "):
            return at
        else:
            at += 1
    return None


def _holds_rows(inside: str, delimiter: str, usual: int) -> bool:
    lines = inside.rstrip().split("\n")
    if len(lines) < 2 or usual < 2:
        return False
    return all(line.count(delimiter) >= usual for line in lines[1:-1]) and (
        lines[0].count(delimiter) >= max(2, usual // 2) and (len(lines) > 2 or lines[0].count(delimiter) >= usual)
    )
