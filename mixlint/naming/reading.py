"""What came of reading a name."""

from __future__ import annotations

from typing import Literal, NamedTuple

EvidenceKind = Literal["word", "place", "file", "insert", "strip", "fed", "beside", "output", "key", "house"]
"""Where evidence comes from: a word of the name, the folder or group it lies in, the name of its file, what sits in it,
the kind of strip, what leads to it, the rest of the band, where it leads, what is keyed from it, the house's table."""


class Evidence(NamedTuple):
    """One thing that speaks for what a channel is.

    Args:
        kind: where it comes from.
        families: the families of parts it speaks for.
        text: what it is, a short clause for a reader.
        words: of how many words it is, for one that is a word or a phrase of the name.
    """

    kind: EvidenceKind
    families: frozenset[str]
    text: str
    words: int = 1


class Reading(NamedTuple):
    """A word with the grounds it rests on.

    Args:
        word: a role or a processor kind; None when the evidence does not tell.
        grounds: short sentences for a reader; when ``word`` is None they say why.
        second: the role or family that comes next; None when nothing speaks for another.
        evidence: everything that speaks for a role, whichever.
        deciding: the words of the name without any of which it would be read otherwise.
    """

    word: str | None
    grounds: tuple[str, ...]
    second: str | None = None
    evidence: tuple[Evidence, ...] = ()
    deciding: tuple[str, ...] = ()


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
