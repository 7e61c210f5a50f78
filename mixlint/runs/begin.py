"""The start of a house's standard: written beside its sessions, with the names in them that are not read."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING, Final

from mixlint.errors import InputError, MixlintError, NotASession
from mixlint.runs.paths import shown

if TYPE_CHECKING:
    from mixlint.reports.starter import Begun, UnreadName
    from mixlint.rulebook import Standard

UNNAMED: Final = "our-house"
"""What a standard is called where the folder's name gives nothing that can be one."""

SCHEMA_BESIDE: Final = "mixlint-standard.schema.json"


def begin(folder: str | PathLike[str]) -> Begun:
    """Begin a house's standard in a folder, as ``mixlint begin`` does: nothing that lies there is touched.

    Sessions in the folder are read, without their audio; the names of parts that are not read are listed in the
    standard for somebody to say what they play. Where a standard in a folder above holds already, the new one builds on
    it, so that nothing of that is lost.

    Args:
        folder: the folder that holds the sessions.

    Raises:
        InputError: there is no such folder, it holds a standard, or nothing can be written there.
        RulebookError: the standard in a folder above has faults.
    """
    from mixlint.reports.starter import Begun, starter
    from mixlint.rulebook import load_standard
    from mixlint.rulebook.standard import BESIDE
    from mixlint.runs.files import write_new
    from mixlint.runs.schemas import schema_text

    place = Path(folder)
    _check(place, BESIDE)
    above = load_standard(beside=place)
    own = above.path.name == BESIDE and above.path.parent in place.resolve().parents
    builds_on = Path(os.path.relpath(above.path, place.resolve())).as_posix() if own else above.name
    name = _name_from(place.resolve().name)
    seen = _Seen()
    for session in _sessions(place, seen):
        _look(session, place, above, seen)
    unread = tuple(seen.unread())
    standard, schema = place / BESIDE, place / SCHEMA_BESIDE
    fresh = not os.path.lexists(schema)
    if fresh:  # before the standard: where the second cannot be written, the same command can be given again
        write_new(schema_text("standard"), schema)
    write_new(starter(name, builds_on, SCHEMA_BESIDE, unread), standard)
    return Begun(
        name=name,
        builds_on=builds_on,
        folder=shown(place),
        standard=shown(standard),
        schema_file=shown(schema) if fresh else "",
        sessions=tuple(seen.sessions),
        unread=unread,
        unusable=tuple(seen.unusable),
    )


def _check(place: Path, beside: str) -> None:
    """Refuse what no standard can be begun in before anything is read."""
    if not place.exists():
        raise InputError("there is no such folder", where=shown(place), do="make it first, or check the path")
    if not place.is_dir():
        raise InputError("this is no folder", where=shown(place), do="name the folder that holds your sessions")
    if os.path.lexists(place / beside):
        raise InputError(
            "a standard is there already, and is left as it is",
            where=shown(place / beside),
            do="edit it, or try it with mixlint rules --prove --standard FILE",
        )
    if not os.access(place, os.W_OK | os.X_OK):
        raise InputError("nothing can be written in this folder", where=shown(place), do="check its permissions")


def _name_from(folder: str) -> str:
    """A name for the standard, made of the folder's; not that of one that comes with mixlint."""
    from mixlint.rulebook import shipped_standards

    name = "-".join(re.findall(r"[a-z0-9]+", folder.lower()))
    # Half a name in another writing would be no name: only what is told in full stands for the folder.
    whole = all(char.isascii() or not char.isalnum() for char in folder)
    return name if name and whole and name not in shipped_standards() else UNNAMED


@dataclass(slots=True)
class _Seen:
    """What the sessions of a folder showed: those that were read, the names not read in them, and what could not be."""

    sessions: list[str] = field(default_factory=list)
    unusable: list[str] = field(default_factory=list)
    names: dict[str, tuple[str, list[str]]] = field(default_factory=dict)
    """A name as it is compared → its line, and the sessions that it stands in."""

    def unread(self) -> Iterator[UnreadName]:
        """The names that are not read, in the order they were met."""
        from mixlint.reports.starter import UnreadName

        for line, sessions in self.names.values():
            yield UnreadName(line=line, sessions=tuple(sessions))


def _sessions(place: Path, seen: _Seen) -> list[Path]:
    from mixlint.importers import discover

    try:
        return discover(place)
    except NotASession:
        return []  # a house may begin with an empty folder
    except MixlintError as fault:
        seen.unusable.append(str(fault))
        return []


def _look(path: Path, place: Path, standard: Standard, seen: _Seen) -> None:
    """Read one session and keep the names of its parts that are not read."""
    from mixlint.analysis.channel_purpose import is_source
    from mixlint.analysis.opening import context_for
    from mixlint.facts.channel_why import line_for
    from mixlint.importers import read
    from mixlint.naming import fold_name

    called = shown(path.relative_to(place)) if path != place else shown(Path(place.resolve().name))
    try:
        session = read(path)
        with context_for(session, path, standard.house, audio=False) as context:
            for channel in session.channels:
                if context.role_word(channel.id) is None and is_source(context, channel):
                    _, where = seen.names.setdefault(fold_name(channel.name), (line_for(context, channel), []))
                    if called not in where:
                        where.append(called)
    except MixlintError as fault:
        seen.unusable.append(str(fault))
        return
    seen.sessions.append(called)
