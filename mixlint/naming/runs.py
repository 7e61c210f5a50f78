"""Runs of writing that may have no space between its words: Chinese characters, kana and Hangul."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Final

LONGEST_WORD: Final = 12
"""So many characters of a run are looked up together."""

LONGEST_END: Final = 4
"""So many characters at an end of a run can be a word for a side or for one of two microphones."""


def is_unspaced(char: str) -> bool:
    """True for a character of a script that is written without spaces, or with few: 主, キ, き, 킥."""
    return "\u3040" <= char <= "\u30ff" or "\u3400" <= char <= "\u9fff" or "\uac00" <= char <= "\ud7a3" or char == "々"


def _is_syllable(text: str) -> bool:
    """True for one letter of Hangul, which is a part of many words, where one Chinese character is a word."""
    return len(text) == 1 and "\uac00" <= text <= "\ud7a3"


def pieces_of_run(text: str, is_word: Callable[[str], bool]) -> list[tuple[str, bool]]:
    """A run taken apart into the longest known words from the left, and what is not known between them.

    One syllable of Hangul counts as a word only where nothing of the run is left over: ``킥인`` holds a kick,
    ``킥보드`` (a scooter) does not.

    Args:
        text: a run of one of these scripts.
        is_word: tells whether a part of it is a known word.

    Returns:
        The pieces in order, each with whether it is a known word; together they are the run.
    """
    found = _pieces(text, is_word)
    if all(known for _, known in found) or not any(known and _is_syllable(piece) for piece, known in found):
        return found
    return _pieces(text, lambda piece: not _is_syllable(piece) and is_word(piece))


def _pieces(text: str, is_word: Callable[[str], bool]) -> list[tuple[str, bool]]:
    out: list[tuple[str, bool]] = []
    at = 0
    while at < len(text):
        for end in range(min(len(text), at + LONGEST_WORD), at, -1):
            if is_word(text[at:end]):
                out.append((text[at:end], True))
                at = end
                break
        else:
            if out and not out[-1][1]:
                out[-1] = (out[-1][0] + text[at], False)
            else:
                out.append((text[at], False))
            at += 1
    return out


def any_word(words: Iterable[str], before: str, after: str, *, within: int = 1) -> str:
    """A pattern for any of some words, the longest first; it never matches where there are none.

    Args:
        words: the words.
        before: a pattern for what has to stand before a word.
        after: the same for what has to stand behind it.
        within: from how many characters on a word of a script without spaces counts inside a run, whatever stands
            beside it.
    """
    longest = sorted(set(words), key=lambda word: (-len(word), word))
    inside = [word for word in longest if len(word) >= within and any(map(is_unspaced, word))]
    alone = "|".join(map(re.escape, longest)) or "(?!)"
    return rf"(?:{before}(?:{alone}){after}|{'|'.join(map(re.escape, inside)) or '(?!)'})"
