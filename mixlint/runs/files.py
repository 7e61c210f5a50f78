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


def write(session: Session, path: str | PathLike[str], *, inputs: Iterable[Path] = ()) -> None:
    """Write a session in mixlint's own JSON (``schemas/session.schema.json``), as ``mixlint convert`` does.

    The form holds the whole model: :func:`mixlint.read` gives an equal session again. An earlier session in this form
    is replaced, a file of another kind that somebody would miss is not.

    Args:
        session: the session.
        path: the file; it is there whole, or not at all.
        inputs: files that must not be overwritten.

    Raises:
        InputError: the file would overwrite what a user would miss, or cannot be written.
    """
    from mixlint.importers import NATIVE

    write_text(session.json_text(), Path(path), inputs=inputs, writes=NATIVE.name)


def write_text(text: str, out: Path, *, inputs: Iterable[Path] = (), writes: str = "") -> None:
    """Write a text to a file, beside its place and moved there when complete.

    Args:
        text: the whole text.
        out: the file.
        inputs: files that ``out`` must not overwrite.
        writes: the name of the input form that ``text`` is in, so that an earlier file of that form may be replaced.

    Raises:
        InputError: the file must not be overwritten, or cannot be written.
    """
    refuse_inputs(out, inputs, writes=writes)
    _write_whole(text, out)


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
        with locked(path), _complete(text, path.parent, 0) as made:
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
    mode = 0
    with suppress(OSError):
        about = out.lstat()
        mode = about.st_mode & 0o777 if stat.S_ISREG(about.st_mode) else 0
    with _complete(text, out.parent, mode) as made:
        if not still():
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
def _complete(text: str, folder: Path, mode: int) -> Iterator[Path]:
    """A file that holds a text and is on the disk, in a folder until it is moved away.

    Args:
        text: the whole text.
        folder: the folder.
        mode: its permissions; 0 for what a new file gets.
    """
    made = new_beside(folder)
    flags = os.O_CREAT | os.O_EXCL | os.O_WRONLY | getattr(os, "O_BINARY", 0)
    handle = os.open(made, flags, 0o666)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        if mode:
            made.chmod(mode)
        yield made
    finally:
        with suppress(OSError):
            made.unlink()


def refuse_inputs(out: Path | None, inputs: Iterable[Path], *, writes: str = "") -> None:
    """Refuse an ``out`` that is one of ``inputs``, or a file of a kind that no output is worth, named or not.

    Args:
        out: the file that would be written; None for stdout.
        inputs: files that are read.
        writes: the name of the input form that would be written.

    Raises:
        InputError: the file would be overwritten.
    """
    if out is None or not _is_there(out):
        return
    if out.is_dir():
        raise InputError("this is a folder", where=str(out), do="name a file")
    if any(given.exists() and out.samefile(given) for given in inputs):
        what = "what is being read"
    else:
        what = _what_it_keeps(out, writes)
    if what:
        raise InputError(f"the output would overwrite {what}", where=str(out), do="choose another name")


def _is_there(out: Path) -> bool:
    try:
        return out.exists()
    except OSError as fault:
        raise not_written(fault, out) from fault


def _what_it_keeps(out: Path, writes: str) -> str:
    """What would be lost with a file: a record of mixlint's own, a session or a recording; or nothing."""
    from mixlint.comparison.paths import APPROVED
    from mixlint.importers import what_it_keeps
    from mixlint.rulebook.standard import BESIDE
    from mixlint.signoffs.paths import ENDING as SIGNED

    records = {SIGNED: "sign-offs", APPROVED: "an approved mix", Path(BESIDE).suffix: "a standard or a rule"}
    name = out.name.casefold()
    return next((what for ending, what in records.items() if name.endswith(ending)), "") or what_it_keeps(
        out, writes=writes
    )


def _write_whole(text: str, out: Path) -> None:
    try:
        if out.exists() and not out.is_file():  # a device or a named pipe has nothing to be moved onto
            out.write_text(text, encoding="utf-8", newline="\n")
            return
        target = out.resolve()  # a link keeps pointing where it did
        replace_whole(text, target)
        sweep(target.parent, target.stat().st_mtime)
    except OSError as fault:
        raise not_written(fault, out) from fault
    except RuntimeError as fault:
        raise InputError(
            "it cannot be written: its link leads round in a ring", where=str(out), do="delete it"
        ) from fault
