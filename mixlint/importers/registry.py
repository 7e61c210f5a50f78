"""The table of importers: a new input form is a module and a row here."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import Any

from mixlint.session import Session


@dataclass(frozen=True, slots=True)
class Importer:
    """One input form.

    Args:
        name: how reports name it.
        suffixes: the file suffixes that mean this form without looking inside.
        sniff: whether a file of another suffix is of this form, by its first bytes; None asks only the suffix.
        module: the module that reads it, with ``read(path) -> Session`` and ``LOSES``.
    """

    name: str
    suffixes: tuple[str, ...]
    sniff: Callable[[bytes], bool] | None
    module: str

    def read(self, path: Path) -> Session:
        """Read a file of this form."""
        session: Session = self._home().read(path)
        return session

    @property
    def loses(self) -> tuple[str, ...]:
        """What the form cannot carry, one sentence each."""
        loses: tuple[str, ...] = self._home().LOSES
        return loses

    def _home(self) -> Any:
        return import_module(self.module)  # imported when used, so that each form costs only its own readers


_PROJECT = re.compile(rb"<(!DOCTYPE\s+)?Project\b")


def _is_xml_project(head: bytes) -> bool:
    plain = head.replace(b"\x00", b"")  # also in UTF-16
    return _PROJECT.search(plain) is not None and plain.lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n").startswith(b"<")


def _is_native(head: bytes) -> bool:
    return b'"mixlint-session/' in head and head.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"{")


IMPORTERS: tuple[Importer, ...] = (
    Importer("json", (), _is_native, "mixlint.importers.native"),
    Importer("dawproject", (".dawproject",), _is_xml_project, "mixlint.importers.dawproject.reader"),
)
STEMS = Importer("stems", (), None, "mixlint.importers.stems")
"""Taken for a folder that holds audio and no session."""

HEAD = 65_536
"""How many bytes are looked at to tell a form."""


def importer_for(path: Path, head: bytes) -> Importer | None:
    """The importer for a file by its suffix, else by its first bytes."""
    suffix = path.suffix.lower()
    for one in IMPORTERS:
        if suffix in one.suffixes or (one.sniff is not None and one.sniff(head)):
            return one
    return None
