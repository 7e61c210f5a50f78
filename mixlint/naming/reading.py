"""What came of reading a name."""

from __future__ import annotations

from typing import NamedTuple


class Reading(NamedTuple):
    """A word with the grounds it rests on.

    Args:
        word: a role or a processor kind; None when the evidence does not tell.
        grounds: short sentences for a reader; when ``word`` is None they say why.
    """

    word: str | None
    grounds: tuple[str, ...]


def resolved(word: str, *grounds: str) -> Reading:
    """A reading that names ``word``.

    Args:
        word: the role or processor kind.
        grounds: what it rests on, a short sentence each.
    """
    return Reading(word, grounds)


def ambiguous(*grounds: str) -> Reading:
    """A reading that leaves the question to the reader.

    Args:
        grounds: why the evidence does not tell, a short sentence each.
    """
    return Reading(None, grounds)
