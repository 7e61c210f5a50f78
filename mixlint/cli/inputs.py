"""From the paths a reader gives to sessions, standards and desks; heavy rooms are imported late."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Final

from mixlint.errors import Fault, InputError

if TYPE_CHECKING:
    from mixlint.analysis.context import SessionContext
    from mixlint.analysis.house import House
    from mixlint.comparison import Approval
    from mixlint.rulebook import Standard
    from mixlint.session import Session


def shown(path: Path) -> str:
    """A path as it can stand in a report: bytes that are no text become ``�``."""
    return os.fsencode(path).decode("utf-8", "replace")


def sessions_at(path: Path) -> list[Path]:
    """The sessions ``path`` stands for.

    Raises:
        InputError: there is none.
    """
    from mixlint.importers import discover

    if not path.exists():
        raise InputError("there is no such file or folder", where=str(path), do="check the path")
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


MOST_UNREAD: Final = 12
"""So many places of a file that could not be read are told one by one."""


def tell_unread(session: Session, path: Path) -> None:
    """Say on stderr what stands in a session file and could not be read, so that somebody corrects it."""
    from mixlint.cli.guard import say

    found = [note.text for note in session.notes if note.unread]
    for text in found[:MOST_UNREAD]:
        say(f"{shown(path)}: {text}")
    if len(found) > MOST_UNREAD:
        say(f"{shown(path)}: {len(found) - MOST_UNREAD} more; mixlint convert tells all of them.")


def standard_for(session: Path | None, named: str | None, told: set[Fault] | None = None) -> Standard:
    """The standard named with ``--standard``, else the one beside the session, else the shipped one.

    What its files should say otherwise goes to stderr; a command that loads several standards gives ``told``, so that
    what two of them share is said once.
    """
    from mixlint.rulebook import load_standard

    standard = load_standard(named, session)
    if standard.notices:
        from mixlint.cli.guard import say

        told = set() if told is None else told
        for notice in standard.notices:
            once = notice._replace(file=os.path.normpath(notice.file))  # two standards may find one file by other ways
            if once not in told:
                told.add(once)
                say(str(once))
    return standard


@contextmanager
def context_for(
    session: Session,
    path: Path,
    house: House,
    *,
    audio: bool,
    approved: Approval | None = None,
    printed: Path | None = None,
) -> Iterator[SessionContext]:
    """The desk of one session, with its audio unless it is not to be opened; files are closed at the end.

    Args:
        session: the session as read.
        path: its file, or the folder of its stems.
        house: the settings of the standard in force.
        audio: open the audio.
        approved: the mix that was approved last.
        printed: the print of the mix that was named; else one beside the session is looked for.
    """
    from mixlint.cli.prints import prints_for
    from mixlint.facts import SessionContext

    prints = prints_for(session, path, printed)
    known = tuple((media, how) for media, how, _ in prints)
    if not audio:
        yield SessionContext(session, house, approved=approved, prints=known)
        return
    from mixlint.cli.listening import cores
    from mixlint.media import Library

    named = {media.id: place for media, _, place in prints}
    with Library(session, path, cache_dir=cache_folder(), workers=cores(), named=named) as library:
        yield SessionContext(session, house, library, approved, known)


def cache_folder() -> Path | None:
    """Where measures are kept between runs, or None when they are not kept.

    ``MIXLINT_CACHE`` names the folder, and keeps nothing when it is set to nothing; else it is the user's own cache
    folder. One that cannot be written to is not used: a measure is then made again, and nothing else changes.
    """
    named = os.environ.get("MIXLINT_CACHE")
    if named == "":
        return None
    home = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA") or os.path.expanduser("~/.cache")
    folder = Path(named) if named else Path(home) / "mixlint"
    if not folder.is_absolute():
        folder = folder.resolve() if named else folder
    nearest = next((one for one in (folder, *folder.parents) if one.exists()), None)
    writable = nearest is not None and nearest.is_dir() and os.access(nearest, os.W_OK)
    return folder if writable and folder.is_absolute() else None
