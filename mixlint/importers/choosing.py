"""Which sessions a path stands for, where a user has to have one, or any."""

from __future__ import annotations

from pathlib import Path

from mixlint.errors import InputError
from mixlint.importers.entry import discover


def sessions_at(path: Path) -> list[Path]:
    """The sessions ``path`` stands for.

    Raises:
        InputError: there is none.
    """
    found = discover(path)
    if not found:
        raise InputError("no session in this folder", where=str(path), do="name a session file, or a folder of stems")
    return found


def one_session_at(path: Path) -> Path:
    """The one session ``path`` stands for.

    Raises:
        InputError: there is none, or more than one.
    """
    found = sessions_at(path)
    if len(found) > 1:
        names = ", ".join(p.name for p in found[:5]) + (" …" if len(found) > 5 else "")
        raise InputError(f"this folder holds {len(found)} sessions ({names})", where=str(path), do="name one of them")
    return found[0]
