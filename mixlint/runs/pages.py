"""A folder of pages: each written as its session is done, so that a thousand sessions take the memory of one."""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Iterable
from pathlib import Path
from types import SimpleNamespace
from typing import TYPE_CHECKING, cast

from mixlint.errors import InputError
from mixlint.runs.files import not_written, refuse_inputs, write_text
from mixlint.runs.paths import shown

if TYPE_CHECKING:
    from mixlint.reports.page.index import Entry, Lost
    from mixlint.reports.several import Told
    from mixlint.review.findings import Counts


class Pages:
    """The pages of several sessions in one folder, and the index that leads to them.

    Each file is written whole or not at all, and over nothing but what mixlint wrote as a page. The page of a session
    that is no longer among them stays: it may be the last that is left of it.

    Args:
        folder: where they go; made where it is not there.
        inputs: files that must not be overwritten.
        force: replace what lies under the name of a page, unless it is one of ``inputs``.

    Raises:
        InputError: the folder cannot be used, or the index must not be replaced.
    """

    def __init__(
        self,
        folder: Path,
        *,
        inputs: Iterable[Path] = (),
        force: bool = False,
    ) -> None:
        from mixlint.reports.page.names import INDEX

        self._folder, self._inputs, self._force = folder, tuple(inputs), force
        self._entries: list[Entry] = []
        self._lost: list[Lost] = []
        self._taken: set[str] = set()
        self._index = folder / INDEX
        _made(folder)
        refuse_inputs(self._index, self._inputs, force=force)

    def add(self, session: Path, told: Told, text: str) -> None:
        """Write the page of a session; of its review no more is kept than its row in the index.

        Args:
            session: the session.
            told: what the index tells of it.
            text: its page.

        Raises:
            InputError: the page must not be written there, or cannot be.
        """
        from mixlint.reports.page.index import Entry
        from mixlint.reports.page.names import page_name
        from mixlint.reports.pictures.small_row import SmallBalance

        name = told.page
        if name in self._taken:
            name = page_name(told.title or session.name.partition(".")[0], session, self._folder, self._taken)
            there, here = (f"{self._index.name}#{one.removesuffix('.html')}" for one in (told.page, name))
            text = text.replace(there, here)
        if not _is(self._folder / name, text):
            write_text(text, self._folder / name, inputs=self._inputs, force=self._force)
        balance = None if told.balance is None else SmallBalance(**told.balance)
        grades = {name: SimpleNamespace(**told.counts[name]) for name in ("flagged_by_grade", "open_by_grade")}
        counts = cast("Counts", SimpleNamespace(**{**told.counts, **grades}))  # to read, and to import no models for
        self._taken.add(name)
        self._entries.append(Entry(name, told.title, told.source, told.outcome, counts, balance))

    def lose(self, session: Path, why: str) -> None:
        """Keep why a session has no page, for the index."""
        from mixlint.reports.page.index import Lost

        self._lost.append(Lost(shown(session), why))

    def end(self) -> list[str]:
        """Write the index.

        Returns:
            The names of pages that an earlier run wrote, of sessions that are none of these; they stay.

        Raises:
            InputError: the index cannot be written.
        """
        from mixlint import __version__
        from mixlint.reports.page.index import index_html

        text = index_html(self._entries, self._lost, __version__)
        write_text(text, self._index, inputs=self._inputs, force=self._force)
        return self._left()

    def _left(self) -> list[str]:
        from mixlint.reports.page.names import is_page_name
        from mixlint.runs.written import written_as

        found = []
        for place in self._folder.iterdir():
            if place.name in self._taken or not is_page_name(place.name) or not stat.S_ISREG(place.lstat().st_mode):
                continue
            if written_as(place) == "html":
                found.append(place.name)
        return sorted(found)


def _is(place: Path, text: str) -> bool:
    """Whether a page is there and says this very thing; a link in its place is none."""
    data = text.encode("utf-8")
    try:
        about = place.lstat()
        return stat.S_ISREG(about.st_mode) and about.st_size == len(data) and place.read_bytes() == data
    except OSError:
        return False


def _made(folder: Path) -> None:
    """Make the folder where it is not there; what is there has to be one, and no link to one."""
    try:
        if not os.path.lexists(folder):
            folder.mkdir()
        elif folder.is_symlink():
            raise InputError(
                "this is a link, and nothing is written through one", where=str(folder), do="name the folder itself"
            )
        elif not folder.is_dir():
            raise InputError("this is a file, and pages go into a folder", where=str(folder), do="name a folder")
    except OSError as fault:
        if fault.errno == errno.ENOENT:
            raise InputError(
                "there is no folder that it could be made in", where=str(folder), do="check the path"
            ) from fault
        raise not_written(fault, folder) from fault
