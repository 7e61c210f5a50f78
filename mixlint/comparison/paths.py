"""The files that lie beside a session and bear its name."""

from __future__ import annotations

import os
from os.path import isfile  # unlike Path.is_file it takes a name that is too long for one of no file
from pathlib import Path
from typing import TYPE_CHECKING

from mixlint.errors import InputError
from mixlint.naming import one_form
from mixlint.plain_files import APPROVED as APPROVED
from mixlint.plain_files import found_file

if TYPE_CHECKING:
    from mixlint.comparison.approval import Approval


def record_of(session: Path, ending: str) -> Path:
    """The record of a kind that lies beside a session, whether or not it is there.

    That is ``song`` and the ending for ``song.dawproject`` or a folder of stems ``song``, as long as no other session
    beside it bears that name; a session keeps its records from one form of export to another. Where ``song.json`` and
    ``song.dawproject`` lie together, each has its own: the whole name and the ending. A list of channels and a folder
    of stems leave the short name to a session file, and a record under the whole name always counts.

    Args:
        session: the session file, or the folder of stems.
        ending: what the record ends in, with its full stop.

    Raises:
        InputError: the record that is there may be of either of two sessions, or there are two.
    """
    place = session.resolve() if session.name in ("", ".", "..") else session
    folder = place.is_dir()
    short = place.with_name((place.name if folder else place.stem) + ending)
    full = place.with_name(f"{place.name}.stems{ending}" if folder else place.name + ending)
    if not (isfile(short) or isfile(full) or _has_namesakes(place)):
        return short
    rank, others = _rank(place), _namesakes(place)
    lower = [one for one in others if _rank(one) < rank]
    alike = [one for one in others if _rank(one) == rank]
    if isfile(full):
        if isfile(short) and not lower and not alike:
            raise InputError(
                f"there are two records of {place.name}: {short.name} and {full.name}",
                where=str(place.parent),
                do=f"keep what counts in {full.name}, and move the other away",
            )
        return full
    if lower:
        return full
    if not alike:
        return short
    if isfile(short):
        names = [place.name, *(one.name for one in alike)]
        raise InputError(
            f"this may belong to {' or '.join(sorted(names))}, which bear one name",
            where=str(short),
            do=f"rename it to the session that it is about, such as {full.name}",
        )
    return full


def _namesakes(place: Path) -> list[Path]:
    """The other sessions in the folder of a session whose records would have its name."""
    from mixlint.importers.entry import is_session_file

    return [one for one in _of_its_name(place) if one.is_dir() or is_session_file(one)]


def _has_namesakes(place: Path) -> bool:
    """Whether anything beside a session bears its name; folders aside, since the audio of a song lies in one."""
    return any(not one.is_dir() or place.is_dir() for one in _of_its_name(place))


def _of_its_name(place: Path) -> list[Path]:
    """What else in the folder bears the name of a session, but for the ending."""
    stem = one_form(place.name if place.is_dir() else place.stem)
    try:
        names = [one.name for one in os.scandir(place.parent)]
    except OSError:
        return []
    near = [name for name in names if name != place.name and one_form(name).startswith(stem)]
    found = [place.with_name(name) for name in near]
    return [one for one in found if one_form(one.stem) == stem or (one.is_dir() and one_form(one.name) == stem)]


def _rank(place: Path) -> int:
    """Who has the short name: a session file before a list of channels, and that before a folder."""
    from mixlint.importers.entry import is_list

    return 2 if place.is_dir() else int(is_list(place))


def approval_path(session: Path) -> Path:
    """The file beside a session that holds its approval, whether or not it is there.

    Raises:
        InputError: the approval that is there may be of either of two sessions.
    """
    return record_of(session, APPROVED)


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
