"""Yes, no or unknown: what a condition comes to."""

from __future__ import annotations

from typing import Final, Literal, NamedTuple

Truth = Literal["yes", "no", "unknown"]


class Missing(NamedTuple):
    """A fact that cannot be seen, why, and what would settle it."""

    fact: str
    why: str
    settle: str


class Outcome(NamedTuple):
    """What a condition came to; ``missing`` is empty unless the truth is unknown."""

    truth: Truth
    missing: tuple[Missing, ...] = ()


YES: Final = Outcome("yes")
NO: Final = Outcome("no")
