"""Files written whole or not at all, and never over what a user would miss."""

from __future__ import annotations

import os
import stat
import tempfile
import time
from collections.abc import Iterable
from contextlib import suppress
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING, Final

from mixlint.errors import InputError

if TYPE_CHECKING:
    from mixlint.session import Session


_HALF: Final = ".mixlint-"
"""How a file begins that is not written to its end."""
_STALE_S: Final = 3600.0
"""No writing takes so long, seconds."""


def write(session: Session, path: str | PathLike[str], *, inputs: Iterable[Path] = (), force: bool = False) -> None:
    """Write a session in mixlint's own JSON (``schemas/session.schema.json``), as ``mixlint convert`` does.

    The form holds the whole model: :func:`mixlint.read` gives an equal session again. No file that is there is replaced
    unless told to: an earlier session in this form may have been worked on since.

    Args:
        session: the session.
        path: the file; it is there whole, or not at all.
        inputs: files that must not be overwritten.
        force: replace what lies there, unless it is one of ``inputs``.

    Raises:
        InputError: the file would overwrite what a user would miss, or cannot be written.
    """
    from mixlint.reports.json import escaped

    write_text(escaped(session.json_text()), Path(path), inputs=inputs, force=force)


def write_text(text: str, out: Path, *, inputs: Iterable[Path] = (), record: bool = False, force: bool = False) -> None:
    """Write a text to a file, beside its place and moved there when complete.

    A file that is there is replaced where its content shows that mixlint wrote it, in the form of ``text``.

    Args:
        text: the whole text.
        out: the file.
        inputs: files that ``out`` must not overwrite.
        record: ``out`` is mixlint's own record beside a session, which it keeps up to date.
        force: replace what lies there, whatever it is, unless it is one of ``inputs``.

    Raises:
        InputError: the file must not be overwritten, or cannot be written.
    """
    from mixlint.runs.written import written_as

    refuse_inputs(out, inputs, record=record, force=True)
    try:
        if not record and not force and out.exists() and not _holds(out, text):
            what = _what_it_keeps(out)
            if what or written_as(out) != written_as(text):
                raise _refusal(out, what or "a file of another form")
        _write_whole(text, out)
    except OSError as fault:
        raise InputError(
            f"the output cannot be written: {fault.strerror or fault}", where=str(out), do="check the folder"
        ) from fault


def write_new(text: str, path: Path) -> None:
    """Write a file that is not there yet: whole or not at all, and over nothing, not even what comes in between.

    Args:
        text: the whole text.
        path: the file.

    Raises:
        InputError: something of that name is there, or it cannot be written.
    """
    try:
        file = path.open("x", encoding="utf-8", newline="\n")  # follows no link, and fails where there is anything
    except FileExistsError:
        raise InputError("it is there already, and is left as it is", where=str(path), do="edit it") from None
    except OSError as fault:
        raise InputError(
            f"it cannot be written: {fault.strerror}", where=str(path), do="check the folder and its permissions"
        ) from fault
    try:
        with file:
            file.write(text)
    except BaseException:
        path.unlink(missing_ok=True)
        raise


def refuse_inputs(out: Path | None, inputs: Iterable[Path], *, record: bool = False, force: bool = False) -> None:
    """Refuse an ``out`` that is one of ``inputs``, no plain file, or a file that mixlint has not written as a report.

    Args:
        out: the file that would be written; None for stdout.
        inputs: files that are read.
        record: ``out`` is mixlint's own record, which it keeps up to date.
        force: whatever lies there is given up, unless it is one of ``inputs``.

    Raises:
        InputError: the file would be overwritten.
    """
    if out is None or not os.path.lexists(out):
        return
    if any(_same(given, out) for given in inputs):
        raise InputError("the output would overwrite what is being read", where=str(out), do="choose another name")
    try:
        mode = out.lstat().st_mode
    except OSError as fault:
        raise InputError(f"{fault.strerror}", where=str(out), do="choose another name") from fault
    if stat.S_ISLNK(mode):
        raise InputError("this is a link, and nothing is written through one", where=str(out), do="name a plain file")
    if stat.S_ISDIR(mode):
        raise InputError("this is a folder", where=str(out), do="name a file")
    if not stat.S_ISREG(mode):
        what = "a named pipe" if stat.S_ISFIFO(mode) else "a device or a socket"
        raise InputError(f"this is {what}, and no file", where=str(out), do="leave --out away, and direct the output")
    if record and _is_anothers(out):
        raise InputError("mixlint has not written this file", where=str(out), do="move it away, and give it again")
    if not record and not force and (what := _what_it_keeps(out)):
        raise _refusal(out, what)


def _same(given: Path, out: Path) -> bool:
    try:
        return given.samefile(out)
    except (OSError, ValueError, RuntimeError):  # one of them is not there, or a loop of links
        return False


def _is_anothers(out: Path) -> bool:
    """Whether a file lies in the place of an approval that is none; sign-offs are read before they are written."""
    from mixlint.comparison.paths import APPROVED
    from mixlint.runs.written import is_approval

    return out.name.casefold().endswith(APPROVED) and out.stat().st_size > 0 and not is_approval(out)


def _refusal(out: Path, what: str) -> InputError:
    return InputError(
        f"the output would overwrite {what}", where=str(out), do="choose another name, or give it up with --force"
    )


def _what_it_keeps(out: Path) -> str:
    """What would be lost with a file: a record of mixlint's own, a session, a recording, anybody's file; or nothing."""
    from mixlint.comparison.paths import APPROVED
    from mixlint.importers import what_it_keeps
    from mixlint.rulebook.standard import BESIDE
    from mixlint.runs.written import written_as
    from mixlint.signoffs.paths import ENDING as SIGNED

    records = {SIGNED: "sign-offs", APPROVED: "an approved mix", Path(BESIDE).suffix: "a standard or a rule"}
    name = out.name.casefold()
    kept = next((what for ending, what in records.items() if name.endswith(ending)), "")
    if kept or not out.stat().st_size:
        return kept
    return "" if written_as(out) else what_it_keeps(out) or "a file that mixlint has not written"


def _holds(out: Path, text: str) -> bool:
    """Whether a file holds this very text, or nothing: then nothing is lost with it."""
    size = out.stat().st_size
    data = text.encode("utf-8")
    return not size or (size == len(data) and out.read_bytes() == data)


def _write_whole(text: str, out: Path) -> None:
    """Write a text beside its place, have the disk keep it, and move it there: a name in the folder is whole or old."""
    data = text.encode("utf-8")
    mode = stat.S_IMODE(out.stat().st_mode) & 0o777 if out.exists() else 0o666 & ~_umask()
    folder = out.parent
    _tidy(folder)
    handle, name = tempfile.mkstemp(prefix=_HALF, dir=folder)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        Path(name).chmod(mode)
        os.replace(name, out)  # onto a link that came in between: the link goes, what it leads to stays
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
    _keep_folder(folder)


def _keep_folder(folder: Path) -> None:
    """Have the disk keep the new name, where the system lets a folder be asked for that."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _tidy(folder: Path) -> None:
    """Take away what a run that was killed left half written, an hour ago or earlier."""
    with suppress(OSError), os.scandir(folder) as entries:
        for one in entries:
            if one.name.startswith(_HALF) and one.is_file(follow_symlinks=False):
                with suppress(OSError):
                    if time.time() - one.stat(follow_symlinks=False).st_mtime > _STALE_S:
                        os.unlink(one.path)


def _umask() -> int:
    now = os.umask(0)
    os.umask(now)
    return now
