"""Where sign-offs lie: beside the session, and in a file of the whole project."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from mixlint.comparison.paths import record_of
from mixlint.plain_files import SIGNED, everybodys, found_file

ENDING: Final = SIGNED
PROJECT: Final = "mixlint-project.signed.txt"
"""The file of a whole project, beside its sessions or in a folder above."""


def session_signoffs(session: Path) -> Path:
    """The sign-off file beside a session: ``song.signed.txt`` for ``song.dawproject`` or a folder ``song``.

    Raises:
        InputError: the file that is there may be of either of two sessions.
    """
    return record_of(session, ENDING)


def project_signoffs(session: Path) -> Path | None:
    """The nearest project file beside a session or above it, up to the folder that holds a repository."""
    for folder in session.resolve().parents:
        if (folder == session.resolve().parent or not everybodys(folder)) and found_file(folder / PROJECT):
            return folder / PROJECT
        if (folder / ".git").exists():
            return None
    return None


def new_project_signoffs(session: Path) -> Path:
    """Where a project's file is begun: in the folder that holds the repository, else beside the session."""
    folders = session.resolve().parents
    home = next((one for one in folders if (one / ".git").exists()), folders[0])
    return home / PROJECT


def signoff_files(session: Path) -> list[Path]:
    """The sign-off files that are there for a session, its own first.

    Beside a session with a name as long as names can be there is none.

    Raises:
        InputError: the file that is there may be of either of two sessions.
        RefusedFile: a link of such a name leads out of the session's tree, or what stands there is no file.
    """
    own, shared = session_signoffs(session), project_signoffs(session)
    return [path for path in (own, shared) if path is not None and found_file(path)]
