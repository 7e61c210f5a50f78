"""Where the output goes: a terminal, a pipe, or a file written whole or not at all."""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from mixlint.errors import InputError

if TYPE_CHECKING:
    from pydantic import BaseModel

    from mixlint.reports.plain import Page

WIDTH = 100
LEAST, MOST = 50, 140


def page(out: Path | None) -> Page:
    """The page for text: as wide as the terminal, 100 columns in a pipe or a file.

    Bold and dim are used on a terminal only, and not when ``NO_COLOR`` is set to anything (no-color.org).
    """
    import shutil

    from mixlint.reports.plain import Page

    if out is not None:
        return Page(WIDTH)
    width = shutil.get_terminal_size((WIDTH, 24)).columns
    shows = sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    return Page(min(max(width, LEAST), MOST), weights=shows)


def put(
    text: str,
    out: Path | None,
    *,
    exact: bool = False,
    inputs: Iterable[Path] = (),
    record: bool = False,
    writes: str = "",
) -> None:
    """Write ``text`` to ``out``, or to stdout.

    Args:
        text: the whole output.
        out: the file, written beside its place and moved there when complete; None for stdout.
        exact: the form prescribes UTF-8 (JSON, SARIF, XML, HTML), whatever the terminal's encoding.
        inputs: files that ``out`` must not overwrite.
        record: ``out`` is mixlint's own record beside a session, which it keeps up to date.
        writes: the name of the input form that ``text`` is in, so that an earlier file of that form may be replaced.

    Raises:
        InputError: the file must not be overwritten, or cannot be written.
    """
    if out is not None:
        refuse_inputs(out, inputs, record=record, writes=writes)
        _write_whole(text, out)
    elif exact:
        sys.stdout.flush()
        sys.stdout.buffer.write(text.encode("utf-8"))
        sys.stdout.buffer.flush()
    else:
        from mixlint.reports.plain import encodable

        sys.stdout.write(encodable(text, sys.stdout.encoding or "ascii"))
        sys.stdout.flush()


def put_result(result: BaseModel, as_text: Callable[[Page], str], form: str, out: Path | None) -> None:
    """Write the result of a command in the form asked for.

    Args:
        result: the result as a model, for the forms that programs read.
        as_text: writes the result as text.
        form: the name of a row of ``RESULT_FORMS``.
        out: the file; None for stdout.

    Raises:
        InputError: the file must not be overwritten, or cannot be written.
    """
    from mixlint.reports.forms import RESULT_FORMS

    chosen = RESULT_FORMS[form]
    put(chosen.write(result, as_text, page(out)), out, exact=chosen.exact)


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
        raise InputError("this is a folder", where=str(out), do="name a file for --out")
    if any(given.exists() and out.samefile(given) for given in inputs):
        what = "what is being read"
    else:
        what = "" if record else _what_it_keeps(out, writes)
    if what:
        raise InputError(f"the output would overwrite {what}", where=str(out), do="choose another name for --out")


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
        out.write_text(text, encoding="utf-8", newline="\n")
        return
    mode = out.stat().st_mode & 0o777 if out.exists() else 0o666 & ~_umask()
    target = out.resolve()  # a link keeps pointing where it did
    try:
        handle, name = tempfile.mkstemp(prefix=".mixlint-", dir=target.parent)
    except OSError as fault:
        raise InputError(
            f"the output cannot be written: {fault.strerror}",
            where=str(out),
            do="check the folder given to --out",
        ) from fault
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
        Path(name).chmod(mode)
        os.replace(name, target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _umask() -> int:
    now = os.umask(0)
    os.umask(now)
    return now
