"""Where the output goes: a terminal, a pipe, or a file written whole or not at all."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

from mixlint.errors import InputError
from mixlint.runs.files import write_text

if TYPE_CHECKING:
    from pydantic import BaseModel

    from mixlint.reports.plain import Page

WIDTH = 100
LEAST, MOST = 40, 140


def page(out: Path | None) -> Page:
    """The page for text: as wide as the terminal, 100 columns in a pipe or a file.

    Bold, dim and colour are used on a terminal only. ``NO_COLOR`` takes all of them away when it is set to anything
    (no-color.org), ``FORCE_COLOR`` brings them, into a pipe too, and wins over the other (force-color.org). A file that
    mixlint writes has none of them.
    """
    import shutil

    from mixlint.reports.plain import Page

    if out is not None:
        return Page(WIDTH)
    width = shutil.get_terminal_size((WIDTH, 24)).columns
    shows = sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    shows = shows or bool(os.environ.get("FORCE_COLOR"))
    return Page(min(max(width, LEAST), MOST), weights=shows, colours=shows)


def named(out: str | None, *, folders: bool) -> tuple[Path | None, bool]:
    """The file or folder that ``--out`` names, and whether it is a folder: one that is there, or a slash says so.

    Args:
        out: as it was typed; None without it.
        folders: whether the form can be written into a folder.

    Raises:
        InputError: it is a folder, and the form goes into one file.
    """
    if out is None:
        return None, False
    path = Path(out)
    is_folder = out.endswith(("/", os.sep)) or (folders and path.is_dir())
    if is_folder and not folders:
        raise InputError("only pages go into a folder", where=str(path), do="name a file, or ask for --as html")
    return path, is_folder


def put(
    text: str,
    out: Path | None,
    *,
    exact: bool = False,
    inputs: Iterable[Path] = (),
    force: bool = False,
    form: str = "",
) -> None:
    """Write ``text`` to ``out``, or to stdout.

    Args:
        text: the whole output.
        out: the file, written beside its place and moved there when complete; None for stdout.
        exact: the form prescribes UTF-8 (JSON, SARIF, XML, HTML), whatever the terminal's encoding.
        inputs: files that ``out`` must not overwrite.
        force: replace whatever lies at ``out``, unless it is one of ``inputs``.
        form: the name of the form; a file of ``text`` ends with a line by which mixlint knows it again.

    Raises:
        InputError: the file must not be overwritten, or cannot be written.
    """
    if out is not None:
        if form == "text":
            from mixlint.runs.written import MARK

            text += f"\n{MARK}\n"
        write_text(text, out, inputs=inputs, force=force)
    elif exact:
        _put_piece(text, exact=True)
    else:
        from mixlint.reports.plain import without_orders

        _put_piece(without_orders(text), exact=False)


def _put_piece(text: str, *, exact: bool) -> None:
    if exact:
        sys.stdout.flush()
        sys.stdout.buffer.write(text.encode("utf-8"))
        sys.stdout.buffer.flush()
        return
    from mixlint.reports.plain import encodable

    sys.stdout.write(encodable(text, sys.stdout.encoding or "ascii"))
    sys.stdout.flush()


def put_pieces(
    pieces: Iterable[str], out: Path | None, *, exact: bool = False, force: bool = False, form: str = ""
) -> None:
    """Write a text as :func:`put` does, piece by piece: to stdout each as it comes. No piece at all writes nothing.

    Args:
        pieces: the output, which holds no orders to a runner or a terminal.
        out: the file; None for stdout.
        exact: the form prescribes UTF-8.
        force: replace whatever lies at ``out``.
        form: the name of the form.

    Raises:
        InputError: the file must not be overwritten, or cannot be written.
    """
    from mixlint.runs.files import write_pieces
    from mixlint.runs.written import MARK

    if out is None:
        for one in pieces:
            _put_piece(one, exact=exact)
        return
    coming = iter(pieces)
    first = next(coming, None)
    if first is not None:
        mark = (f"\n{MARK}\n",) if form == "text" else ()
        write_pieces(chain((first,), coming, mark), out, force=force)


def put_result(
    result: BaseModel,
    as_text: Callable[[Page], str],
    form: str,
    out: Path | None,
    *,
    as_html: Callable[[], str] | None = None,
    as_table: Callable[[str], str] | None = None,
    force: bool = False,
) -> None:
    """Write the result of a command in the form asked for.

    Args:
        result: the result as a model, for the forms that programs read.
        as_text: writes the result as text.
        form: the name of a row of ``RESULT_FORMS``.
        out: the file; None for stdout.
        as_html: writes the result as a page, where the command offers one.
        as_table: writes the result for a spreadsheet, likewise.
        force: replace whatever lies there.

    Raises:
        InputError: the file must not be overwritten, or cannot be written.
    """
    from mixlint.reports.forms import RESULT_FORMS, ResultOutput

    chosen = RESULT_FORMS[form]
    text = chosen.write(ResultOutput(result, as_text, page(out), as_html, as_table))
    put(text, out, exact=chosen.exact, force=force, form=form)
