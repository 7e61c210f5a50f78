"""Lines put into a file of sign-offs and taken out again, one writer at a time and on what the file holds then."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from mixlint.runs.records import update_record
from mixlint.signoffs.file import signoffs_of, signoffs_text, with_line
from mixlint.signoffs.line import SignOff


def add_signoff(file: Path, new: Callable[[Sequence[SignOff]], SignOff], areas: Mapping[str, str]) -> SignOff:
    """Put one line into a file of sign-offs; of the same person's about the same thing it alone stays.

    Args:
        file: the file; it is begun where there is none.
        new: makes the line of those that the file holds.
        areas: rule id to area.

    Returns:
        The line.

    Raises:
        InputError: the file has a fault, is a link, or cannot be written.
    """
    made: list[SignOff] = []

    def change(before: bytes | None) -> str:
        items = signoffs_of(before or b"", file)
        made.append(new(items))
        return signoffs_text(with_line(items, made[-1]), areas)

    update_record(file, change)
    return made[-1]


def take_out(file: Path, out: Callable[[SignOff], bool], areas: Mapping[str, str]) -> int:
    """Take lines out of a file of sign-offs.

    Args:
        file: the file.
        out: true of a line that goes.
        areas: rule id to area.

    Returns:
        How many went.

    Raises:
        InputError: the file has a fault, is a link, or cannot be written.
    """
    gone: list[int] = [0]

    def change(before: bytes | None) -> str:
        items = signoffs_of(before or b"", file)
        left = [item for item in items if not out(item)]
        gone[0] = len(items) - len(left)
        if not gone[0] and before is not None:
            return before.decode("utf-8")
        return signoffs_text(left, areas)

    update_record(file, change)
    return gone[0]
