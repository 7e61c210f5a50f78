"""The standard in force for a command, with what its files should say otherwise."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Final

from mixlint.errors import Fault

if TYPE_CHECKING:
    from mixlint.rulebook import Standard
    from mixlint.session import Session

MOST_UNREAD: Final = 12
"""So many places of a file that could not be read are told one by one."""


def tell_unread(session: Session, path: Path) -> None:
    """Say on stderr what stands in a session file and could not be read, so that somebody corrects it."""
    from mixlint.cli.guard import say
    from mixlint.runs.paths import shown

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
