"""Files written whole or not at all, and never over what a user would miss."""

from __future__ import annotations

import errno
import os
import stat
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING, Final

from mixlint.errors import InputError
from mixlint.runs.owners import new_beside, sweep

if TYPE_CHECKING:
    from mixlint.session import Session

_WINDOWS_WAITS_S: Final = (0.01, 0.05, 0.2, 0.5, 1.0, 0.0)


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


def write_text(text: str, out: Path, *, inputs: Iterable[Path] = (), force: bool = False) -> None:
    """Write a text to a file, beside its place and moved there when complete.

    A file that is there is replaced where its content shows that mixlint wrote it, in the form of ``text``.

    Args:
        text: the whole text.
        out: the file.
        inputs: files that ``out`` must not overwrite.
        force: replace what lies there, whatever it is, unless it is one of ``inputs``.

    Raises:
        InputError: the file must not be overwritten, or cannot be written.
    """
    write_pieces((text,), out, inputs=inputs, force=force)


def write_pieces(pieces: Iterable[str], out: Path, *, inputs: Iterable[Path] = (), force: bool = False) -> None:
    """Write a text to a file as :func:`write_text` does, piece by piece, so that all of it is never held.

    Args:
        pieces: the text.
        out: the file.
        inputs: files that ``out`` must not overwrite.
        force: replace what lies there, whatever it is, unless it is one of ``inputs``.

    Raises:
        InputError: the file must not be overwritten, or cannot be written.
    """
    from mixlint.runs.written import written_as

    def may_go(made: Path) -> bool:
        if not force and out.exists() and not _holds(out, made):
            what = _what_it_keeps(out)
            if what or written_as(out) != written_as(made):
                raise _refusal(out, what or "a file of another form")
        return True

    refuse_inputs(out, inputs, force=True)
    try:
        _replaced(pieces, out, may_go)
        sweep(out.parent, out.stat().st_mtime)
    except OSError as fault:
        raise not_written(fault, out) from fault


def write_new(text: str, path: Path) -> None:
    """Write a file that is not there yet: whole or not at all, and over nothing, not even what comes in between.

    Args:
        text: the whole text.
        path: the file.

    Raises:
        InputError: something of that name is there, or it cannot be written.
    """
    from mixlint.runs.locks import locked

    try:
        with locked(path), _complete((text,), path.parent, 0) as made:
            try:
                os.link(made, path)  # follows no link, and fails where there is anything
            except FileExistsError:
                raise
            except (OSError, NotImplementedError):  # a file system without links
                if os.path.lexists(path):
                    raise FileExistsError from None
                os.rename(made, path)
            synced(path.parent)
    except FileExistsError:
        raise InputError("it is there already, and is left as it is", where=str(path), do="edit it") from None
    except OSError as fault:
        raise not_written(fault, path) from fault


def replace_whole(text: str, out: Path, *, still: Callable[[], bool] = lambda: True) -> bool:
    """Put a text in the place of a file, whole or not at all; a link in its place is replaced, and never followed.

    Args:
        text: the whole text.
        out: the file.
        still: asked when all is on the disk and nothing is left but to move it there.

    Returns:
        False where ``still`` said no, and nothing was changed.

    Raises:
        OSError: it cannot be written.
    """
    return _replaced((text,), out, lambda _: still())


def _replaced(pieces: Iterable[str], out: Path, still: Callable[[Path], bool]) -> bool:
    """The same piece by piece; ``still`` is given the file that is to be moved."""
    mode = 0
    with suppress(OSError):
        about = out.lstat()
        mode = about.st_mode & 0o777 if stat.S_ISREG(about.st_mode) else 0
    with _complete(pieces, out.parent, mode) as made:
        if not still(made):
            return False
        for waits in _WINDOWS_WAITS_S:
            try:
                os.replace(made, out)
                break
            except PermissionError:
                if os.name != "nt" or not waits:  # there, a file that another reads cannot be replaced just now
                    raise
                time.sleep(waits)
    synced(out.parent)
    return True


def synced(folder: Path) -> None:
    """Have the names in a folder put on the disk, where the system can do so."""
    with suppress(OSError):  # Windows opens no folder, and some networks sync none
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def not_written(fault: OSError, path: Path) -> InputError:
    """The error of a file that cannot be written: which, why, and what to do."""
    cures = {
        errno.ENOSPC: "make room on the disk",
        errno.EDQUOT: "make room: the quota is used up",
        errno.ENOENT: "check that the folder is there",
        errno.ENOTDIR: "check that the folder is there",
        errno.ENAMETOOLONG: "give a shorter name",
    }
    why = fault.strerror or str(fault) or type(fault).__name__
    do = cures.get(fault.errno or 0, "check the folder and its permissions")
    return InputError(f"it cannot be written: {why}", where=str(path), do=do)


@contextmanager
def _complete(pieces: Iterable[str], folder: Path, mode: int) -> Iterator[Path]:
    """A file that holds a text and is on the disk, in a folder until it is moved away.

    Args:
        pieces: the text.
        folder: the folder.
        mode: its permissions; 0 for what a new file gets.
    """
    made = new_beside(folder)
    flags = os.O_CREAT | os.O_EXCL | os.O_WRONLY | getattr(os, "O_BINARY", 0)
    handle = os.open(made, flags, 0o666)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.writelines(pieces)
            file.flush()
            os.fsync(file.fileno())
        if mode:
            made.chmod(mode)
        yield made
    finally:
        with suppress(OSError):
            made.unlink()


def refuse_inputs(out: Path | None, inputs: Iterable[Path], *, force: bool = False) -> None:
    """Refuse an ``out`` that is one of ``inputs``, no plain file, or a file that mixlint has not written as a report.

    Args:
        out: the file that would be written; None for stdout.
        inputs: files that are read.
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
        raise not_written(fault, out) from fault
    if stat.S_ISLNK(mode):
        raise InputError("this is a link, and nothing is written through one", where=str(out), do="name a plain file")
    if stat.S_ISDIR(mode):
        raise InputError("this is a folder", where=str(out), do="name a file")
    if not stat.S_ISREG(mode):
        what = "a named pipe" if stat.S_ISFIFO(mode) else "a device or a socket"
        raise InputError(f"this is {what}, and no file", where=str(out), do="leave --out away, and direct the output")
    if not force and (what := _what_it_keeps(out)):
        raise _refusal(out, what)


def _same(given: Path, out: Path) -> bool:
    try:
        return given.samefile(out)
    except (OSError, ValueError, RuntimeError):  # one of them is not there, or a loop of links
        return False


def _refusal(out: Path, what: str) -> InputError:
    return InputError(
        f"the output would overwrite {what}", where=str(out), do="choose another name, or give it up with --force"
    )


def _what_it_keeps(out: Path) -> str:
    """What would be lost with a file: a record of mixlint's own, a session, a recording, anybody's file; or nothing."""
    from mixlint.importers import what_it_keeps
    from mixlint.plain_files import APPROVED, SIGNED, STANDARD
    from mixlint.runs.written import written_as

    records = {SIGNED: "sign-offs", APPROVED: "an approved mix", Path(STANDARD).suffix: "a standard or a rule"}
    name = out.name.casefold()
    kept = next((what for ending, what in records.items() if name.endswith(ending)), "")
    if kept or not out.stat().st_size:
        return kept
    return "" if written_as(out) else what_it_keeps(out) or "a file that mixlint has not written"


def _holds(out: Path, made: Path) -> bool:
    """Whether a file holds what another one does, or nothing: then nothing is lost with it."""
    from filecmp import cmp

    return not out.stat().st_size or cmp(out, made, shallow=False)
