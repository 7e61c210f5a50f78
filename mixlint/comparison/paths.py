"""The files that lie beside a session and bear its name."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from mixlint.plain_files import found_file

if TYPE_CHECKING:
    from mixlint.comparison.approval import Approval

APPROVED: Final = ".approved.json"
"""What an approval beside a session ends in."""


def beside(session: Path, ending: str) -> Path:
    """A file beside a session: ``song`` and the ending, for ``song.dawproject`` or for a folder ``song``.

    Args:
        session: the session file, or the folder of stems.
        ending: what the other file ends in, with its full stop.

    Returns:
        The path; nothing need be there.
    """
    place = session.resolve() if session.name in ("", ".", "..") else session
    return place.with_name((place.name if place.is_dir() else place.stem) + ending)


def approval_path(session: Path) -> Path:
    """The file beside a session that holds its approval, whether or not it is there."""
    return beside(session, APPROVED)


def approval_beside(session: Path) -> Approval | None:
    """The approval beside a session, or None where there is none.

    Raises:
        BrokenFile: it is no approval, or its seal is broken.
        InputError: it is there and cannot be read.
        RefusedFile: a link of that name leads out of the session's tree, or what stands there is no file.
    """
    path = approval_path(session)
    if not found_file(path):
        return None
    from mixlint.comparison.approval import read_approval  # most sessions have none

    return read_approval(path)
