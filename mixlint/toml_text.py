"""TOML that somebody wrote by hand: read within bounds, and what is wrong with it told in plain words.

A parser goes as deep as what it reads, and turns as many digits into a number as there are. So a text is looked over
before: how deep it nests, how long its numbers are, how many parts a key has. Nothing that passes can exhaust it.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any, Final, NamedTuple

from mixlint.errors import RefusedFile
from mixlint.plain_files import read_plain

MOST_BYTES: Final = 1 << 20
"""A standard, a rule or a word file larger than this is refused; the longest that comes along has 150 kB."""

DEEPEST: Final = 32
"""Tables and lists may lie so deep within each other, dotted keys counted; a session in an example takes eight."""

LONGEST_NUMBER: Final = 40
"""Characters of a number; a 64-bit one has 20, a fraction at its most exact 24."""

LONGEST_VALUE: Final = 1000
"""Characters of a key, and of a name or a pattern that names are held against."""


class Misread(Exception):
    """A file that cannot be read as TOML.

    Args:
        place: the line, as ``line 3``; empty where it is the file as a whole.
        what: what is wrong, without a full stop.
        do: what to write instead.
    """

    def __init__(self, place: str, what: str, do: str) -> None:
        super().__init__(place, what, do)
        self.place = place
        self.what = what
        self.do = do


def text_in(path: Path, top: Path | None = None) -> str:
    """The text of a file in UTF-8; a byte order mark, as some editors put first, is no part of it.

    Args:
        path: the file.
        top: the tree that it has to lie in; None for a file that was named by hand.

    Raises:
        Misread: it cannot be read, leads out of the tree, is no plain file, too large, or no text in UTF-8.
    """
    try:
        data = read_plain(path, MOST_BYTES, top)
    except RefusedFile as fault:
        raise Misread("", fault.what, fault.do) from None
    except (OSError, ValueError) as fault:  # a name with a NUL in it is no OSError
        why = getattr(fault, "strerror", None) or str(fault)
        raise Misread("", f"it cannot be read: {why[:1].lower()}{why[1:]}", "check the path") from None
    if data[:2] in (b"\xff\xfe", b"\xfe\xff") or data[:64].count(0) > len(data[:64]) // 4:
        what = 'it is text in UTF-16, which some editors call "Unicode"'
        raise Misread("", what, "save it as UTF-8")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = data.count(b"\n", 0, fault.start) + 1
        what = f"it is not UTF-8 text: byte {fault.start} does not belong in it"
        raise Misread(f"line {line}", what, "save it as UTF-8; an editor calls that its encoding") from None
    return text.replace("\r\n", "\n").replace("\r", "\n")


def toml_in(text: str) -> dict[str, Any]:
    """What a text in TOML holds.

    Raises:
        Misread: it is no TOML, nests too deep, or holds a number or a key that is too long.
    """
    import tomllib

    if _worth_a_look(text):
        _look_over(text)
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise _in_plain_words(str(fault), text) from None
    if _deeper(found):
        raise _too_deep("")
    return found


_LONG_NUMBER: Final = re.compile(
    rf"[0-9](?:[0-9_]{{{LONGEST_NUMBER}}}|[xob][0-9a-fA-F_]{{{LONGEST_NUMBER}}})",
)


def _worth_a_look(text: str) -> bool:
    """Whether a text could pass a bound at all: none that comes along does, and those are read at every start."""
    return (
        text.count("[") + text.count("{") > DEEPEST
        or any(line.count(".") > DEEPEST for line in text.split("\n"))
        or _LONG_NUMBER.search(text) is not None
    )


_PIECE: Final = re.compile(
    r'"""(?:[^\\"]|\\.|"{1,2}(?!"))*+(?:"{3,5}|\Z|\\)|\'\'\'(?:[^\']|\'{1,2}(?!\'))*+(?:\'{3,5}|\Z)'
    r'|"(?:[^"\\\n]|\\[^\n])*+"?|\'[^\'\n]*+\'?|#[^\n]*+|[\[{]|[\]}]|[=,\n]|\.|[^\s"\'#\[\]{}=,.]++',
    re.DOTALL,
)
"""A text or a comment, which nothing is looked for in; a bracket; what ends a key; a dot; a word or a number."""


def _look_over(text: str) -> None:
    """Refuse what would exhaust the parser: the same marks as it sees, texts and comments passed over."""
    deep = dots = 0
    for found in _PIECE.finditer(text):
        piece = found[0]
        if piece in ("[", "{"):
            deep += 1
            if deep > DEEPEST:
                raise _too_deep(_line(text, found.start()))
        elif piece in ("]", "}"):
            deep = max(0, deep - 1)
        elif piece in ("=", ",", "\n"):
            dots = 0
        elif piece == ".":
            dots += 1
            if dots > DEEPEST:
                raise _too_deep(_line(text, found.start()))
        elif len(piece) > LONGEST_NUMBER and piece[0] in "0123456789+-" and _LONG_NUMBER.search(piece):
            what = f"this number has {len(piece)} characters"
            raise Misread(_line(text, found.start()), what, f"write it with {LONGEST_NUMBER} at most")


def _line(text: str, at: int) -> str:
    return f"line {text.count(chr(10), 0, at) + 1}"


def _too_deep(place: str) -> Misread:
    what = f"tables, lists or the parts of a key lie more than {DEEPEST} deep within each other"
    return Misread(place, what, "nothing that mixlint reads is as deep as that: take brackets or dots away")


def _deeper(found: dict[str, Any]) -> bool:
    """Whether anything lies deeper than :data:`DEEPEST`, dotted keys counted."""
    level: list[Any] = [found]
    for _ in range(DEEPEST):
        level = [
            inner
            for one in level
            for inner in (one.values() if type(one) is dict else one)
            if type(inner) in (dict, list)
        ]
        if not level:
            return False
    return True


class _Slip(NamedTuple):
    """What the parser says of a slip, what that is in plain words, and what to write instead."""

    said: str
    what: str
    do: str


_SLIPS: Final = (
    _Slip("Expected '=' after a key", "a key has no = behind it", 'write key = value, as in name = "our-house"'),
    _Slip(
        "Invalid statement", "this line is neither a key with a value nor a heading", "write key = value or [heading]"
    ),
    _Slip(
        "Expected newline or end of document after a statement",
        "something stands behind the end of the value",
        'write one key a line, text in quotes, and a number with a point: name = "our-house", 12.5',
    ),
    _Slip("Expected ']]'", "a heading has no ]] at its end", "write it as [[example]]"),
    _Slip("Expected ']'", "a heading has no ] at its end", "write it as [limits], with quotes round what has spaces"),
    _Slip(
        "Invalid initial character for a key part",
        "a key is missing, or begins with a sign that no key begins with",
        'put a key that has other signs than letters, digits, - and _ in quotes: "Barn *" = "drum-room"',
    ),
    _Slip(
        "Invalid value",
        "the value cannot be read",
        'write text in straight quotes, a number as 12.5, true or false in small letters, a list as ["a", "b"]',
    ),
    _Slip("Unclosed array", "a list is not closed", "put ] at its end, and commas between what stands in it"),
    _Slip("Unclosed inline table", "a table is not closed", "put } at its end, and commas between what stands in it"),
    _Slip("Duplicate inline table key", "a key stands twice in one table", "leave one of the two"),
    _Slip("Illegal character '\\n'", "a quotation mark is not closed on its line", "put one at the end of the text"),
    _Slip("Unterminated string", "a quotation mark is never closed", "put the same mark at the end of the text"),
    _Slip(
        "Unescaped '", "a \\ stands in text in double quotes", "write / in a path, or put it in single quotes: 'a\\b'"
    ),
    _Slip("hex value", "a \\ stands in text in double quotes", "write / in a path, or put it in single quotes: 'a\\b'"),
    _Slip("Unicode scalar value", "\\u stands before what is no character", "put the text in single quotes"),
    _Slip("Illegal character", "a character stands here that text cannot hold", "delete it, and type it again"),
    _Slip("Found invalid character", "a character stands here that text cannot hold", "delete it, and type it again"),
    _Slip(
        "Invalid date or datetime", "this is a date or time that there is not", "write text in quotes, a number as 12.5"
    ),
)
_TWICE: Final = ("twice", "overwrite", "immutable namespace", "redefine namespace")


def _in_plain_words(said: str, text: str) -> Misread:
    """What the parser said, for somebody who never heard of it."""
    found = re.search(r"at line (\d+)", said)
    place = f"line {found[1]}" if found else f"line {text.count(chr(10)) + 1}, the end of the file"
    if any(word in said for word in _TWICE):
        what = "a heading or a key stands twice, here for the second time"
        return Misread(place, what, "write each heading once, with all that belongs to it under it")
    if found is None and "Invalid value" in said:
        return Misread(
            place, "the last value is missing, or is not closed", "put ] or } at the end of a list or a table"
        )
    for slip in _SLIPS:
        if slip.said in said:
            return Misread(place, slip.what, slip.do)
    if said.startswith("Expected"):  # the end of a text that goes over several lines
        return Misread(place, "a quotation mark is never closed", "put the same mark at the end of the text")
    return Misread(place, "it cannot be read from here on", "compare it with a file that comes along")
