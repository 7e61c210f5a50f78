"""What came of reading a name."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

ASK_BELOW: Final = 0.5
"""A reading weaker than this is not used: the reader is asked instead (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A word with the grounds it rests on.

    Args:
        word: a role or a processor kind; None when the evidence does not tell.
        confidence: 0 (nothing known) to 1 (laid down by the house, or declared).
        grounds: short sentences for a reader; when ``word`` is None they say why.
    """

    word: str | None
    confidence: float
    grounds: tuple[str, ...]


def told(word: str, confidence: float, *grounds: str) -> Reading:
    """A reading that names ``word``."""
    return Reading(word, confidence, grounds)


def ask(*grounds: str) -> Reading:
    """A reading that leaves the question to the reader, saying why."""
    return Reading(None, 0.0, grounds)
