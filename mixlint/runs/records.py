"""What mixlint keeps beside a session: changed by one at a time, on what is there now, whole or not at all."""

from __future__ import annotations

import stat
from collections.abc import Callable
from pathlib import Path
from typing import Final

from mixlint.errors import InputError
from mixlint.runs.files import not_written, replace_whole
from mixlint.runs.locks import locked

TRIES: Final = 20
"""So often a change is made anew when a program that knows of no lock has written the file in between."""


def content_of_record(path: Path) -> bytes | None:
    """What a record holds; None where there is none.

    Raises:
        InputError: it is a link, a folder or no file, or cannot be read.
    """
    try:
        kind = path.lstat().st_mode
        if stat.S_ISLNK(kind):
            raise InputError(
                "this is a link, and mixlint writes through none",
                where=str(path),
                do="put the file itself in its place",
            )
        if not stat.S_ISREG(kind):
            raise InputError("this is no regular file", where=str(path), do="move it away")
        return path.read_bytes()
    except FileNotFoundError:
        return None
    except OSError as fault:
        raise InputError(f"it cannot be read ({fault.strerror})", where=str(path), do="check the path") from fault


def update_record(path: Path, change: Callable[[bytes | None], str]) -> None:
    """Change a record, so that nothing is lost that others write at the same time.

    Args:
        path: the record; it need not be there yet.
        change: makes the whole new text of what is there now, which is None for no record; called again where another
            program has changed the file in the meantime. What it raises leaves the record as it is.

    Raises:
        InputError: the record is a link, cannot be read or written, or is being written by another.
    """
    content_of_record(path)
    try:
        for _ in range(TRIES):
            with locked(path) as lock:
                before = content_of_record(path)
                text = change(before)
                if before is not None and text.encode() == before:
                    return
                if replace_whole(text, path, still=lambda: lock.is_held() and content_of_record(path) == before):  # noqa: B023
                    return
    except FileNotFoundError as fault:
        if path.parent.is_dir():  # what was in the making was swept away: this one slept, and was taken for gone
            raise InputError("it was written by another just now", where=str(path), do="try again") from fault
        raise not_written(fault, path) from fault
    except OSError as fault:
        raise not_written(fault, path) from fault
    raise InputError("another program keeps writing it", where=str(path), do="close that program, and try again")


def put_record(text: str, path: Path, *, over: bytes | None) -> None:
    """Put a record in the place of the one that was there, if that is still the one.

    Args:
        text: the whole text.
        path: the record.
        over: what it held when the work on the new one began; None for nothing.

    Raises:
        InputError: another has written it since; or as :func:`update_record`.
    """

    def change(now: bytes | None) -> str:
        if now != over:
            raise InputError(
                "another has written it while this was under way", where=str(path), do="look at it, and do this again"
            )
        return text

    update_record(path, change)
