"""The few words that a document of many sessions says outside their parts; nothing else has to be imported for them."""

from __future__ import annotations

from typing import Final, Literal

SHORT: Final[dict[Literal["held", "look", "clear"], str]] = {"held": "held", "look": "look first", "clear": "clear"}
"""The outcomes in a list of several sessions, the one that is held first."""

CAUTION: Final = (
    "Turn the monitors down before you play or change levels: loud sound harms hearing. "
    "Your ears and the client's delivery terms decide."
)


def counts_of(number: int, what: str) -> str:
    """A number of things: ``1 note``, ``3 notes``."""
    return f"{number} {what}{'' if number == 1 else 's'}"
