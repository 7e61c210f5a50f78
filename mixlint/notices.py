"""What a user should hear once in a run, whatever command it is, and what nothing that comes out of it hangs on."""

from __future__ import annotations

_found: dict[str, None] = {}


def notice(text: str) -> None:
    """Keep a word for the user; the same one again is kept once.

    Args:
        text: what is so and what to do about it, in sentences without the last full stop.
    """
    _found.setdefault(text, None)


def notices() -> tuple[str, ...]:
    """What was kept so far, in the order it came."""
    return tuple(_found)
