"""The standard in force for a command, with what its files should say otherwise."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
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
    say_unread([note.text for note in session.notes if note.unread], path)


def say_unread(found: Sequence[str], path: Path) -> None:
    """Say on stderr what of a file could not be read.

    Args:
        found: each place with what is wrong.
        path: the session file.
    """
    from mixlint.cli.guard import say
    from mixlint.runs.paths import shown

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
    say_notices(standard.notices, set() if told is None else told)
    return standard


def say_notices(notices: Iterable[Fault], told: set[Fault]) -> None:
    """Say on stderr what the files of a standard should say otherwise, but for what was told already."""
    from mixlint.cli.guard import say

    for notice in notices:
        once = notice._replace(file=os.path.normpath(notice.file))  # two standards may find one file by other ways
        if once not in told:
            told.add(once)
            say(str(once))
