"""Files written whole or not at all, and never over what a user would miss."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterable
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING

from mixlint.errors import InputError

if TYPE_CHECKING:
    from mixlint.session import Session


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


def write_text(text: str, out: Path, *, inputs: Iterable[Path] = (), record: bool = False, writes: str = "") -> None:
    """Write a text to a file, beside its place and moved there when complete.

    Args:
        text: the whole text.
        out: the file.
        inputs: files that ``out`` must not overwrite.
        record: ``out`` is mixlint's own record beside a session, which it keeps up to date.
        writes: the name of the input form that ``text`` is in, so that an earlier file of that form may be replaced.

    Raises:
        InputError: the file must not be overwritten, or cannot be written.
    """
    refuse_inputs(out, inputs, record=record, writes=writes)
    _write_whole(text, out)


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
    except BaseException as fault:
        path.unlink(missing_ok=True)
        if isinstance(fault, OSError):
            raise _not_written(path, fault) from fault
        raise


def refuse_inputs(out: Path | None, inputs: Iterable[Path], *, record: bool = False, writes: str = "") -> None:
    """Refuse an ``out`` that is one of ``inputs``, or a file of a kind that no output is worth, named or not.

    Args:
        out: the file that would be written; None for stdout.
        inputs: files that are read.
        record: ``out`` is mixlint's own record, which it keeps up to date.
        writes: the name of the input form that would be written.

    Raises:
        InputError: the file would be overwritten.
    """
    if out is None or not out.exists():
        return
    if out.is_dir():
        raise InputError("this is a folder", where=str(out), do="name a file")
    if any(given.exists() and out.samefile(given) for given in inputs):
        what = "what is being read"
    else:
        what = "" if record else _what_it_keeps(out, writes)
    if what:
        raise InputError(f"the output would overwrite {what}", where=str(out), do="choose another name")


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
    if out.exists() and not out.is_file():  # a device or a named pipe has nothing to be moved onto
        try:
            out.write_text(text, encoding="utf-8", newline="\n")
        except BrokenPipeError:
            raise
        except OSError as fault:
            raise _not_written(out, fault) from fault
        return
    mode = out.stat().st_mode & 0o777 if out.exists() else 0o666 & ~_umask()
    target = out.resolve()  # a link keeps pointing where it did
    try:
        handle, name = tempfile.mkstemp(prefix=".mixlint-", dir=target.parent)
    except OSError as fault:
        raise InputError(
            f"the output cannot be written: {fault.strerror}",
            where=str(out),
            do="check the folder",
        ) from fault
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
        Path(name).chmod(mode)
        os.replace(name, target)
    except BaseException as fault:
        Path(name).unlink(missing_ok=True)
        if isinstance(fault, OSError):
            raise _not_written(out, fault) from fault
        raise


def _not_written(out: Path, fault: OSError) -> InputError:
    """A full disk, or one that went away, with the file that was asked for; the system names none, or a passing one."""
    what = f"the output cannot be written: {(fault.strerror or str(fault)).lower()}"
    return InputError(what, where=str(out), do="make room, or choose another place")


def _umask() -> int:
    now = os.umask(0)
    os.umask(now)
    return now
