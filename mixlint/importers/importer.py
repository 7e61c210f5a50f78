"""What the program knows of an input form without reading a file of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import Any

from mixlint.media.container import open_container
from mixlint.naming.vocabulary import SHIPPED, Vocabulary
from mixlint.session import Gap, Session


@dataclass(frozen=True, slots=True)
class Importer:
    """One input form, declared once; whoever asks something of a form asks it here.

    Args:
        name: how reports name it.
        titles: what a user has in hand, one entry for each kind of file, with its article: ``a .dawproject``.
        module: the module that reads it, imported when it is used, so that each form costs only its own readers. It
            has ``read(container: Container) -> Session``; ``CARRIES``, those of :data:`mixlint.session.GAPS` that
            the form has a place for; and ``LOSES``, a tuple of sentences on what else it cannot express.
        suffixes: file suffixes of this form alone, in lower case with the full stop; such a file is known by its name.
        shared_suffixes: suffixes that files of other kinds have too, as ``.json``. When a folder is searched these
            files are looked into; one that a user names and that no form knows by its first bytes is given to this
            form's reader, which says what is wrong with it.
        sniff: whether a file is of this form by its first bytes (at most ``HEAD``), whatever its suffix; None where
            only the suffix tells.
        packed: a file with one of ``suffixes`` is a ZIP archive, whose members are read in place.
        root: the file at the root of an archive by which a packed form is known, whatever the archive is called.
        keeps: what a user would lose with a file of this form; no other output is written over one.
        worded: its reader takes the words of lists as well, which a house can add to.
    """

    name: str
    titles: tuple[str, ...]
    module: str
    suffixes: tuple[str, ...] = ()
    shared_suffixes: tuple[str, ...] = ()
    sniff: Callable[[bytes], bool] | None = None
    packed: bool = False
    root: str = ""
    keeps: str = "a session"
    worded: bool = False

    def read(self, path: Path, words: Vocabulary = SHIPPED) -> Session:
        """Read a file or folder of this form.

        Args:
            path: the file or folder.
            words: the words of the house, which a form that a person writes is read by.

        Raises:
            NotASession: it holds no session.
            BrokenFile: it is damaged.
            RefusedFile: it is refused for safety.
            InputError: it cannot be read.
        """
        with open_container(path, packed=self.packed and path.suffix.lower() in self.suffixes) as container:
            home = self._home()
            session: Session = home.read(container, words.lists) if self.worded else home.read(container)
        return session

    @property
    def loses(self) -> tuple[str, ...]:
        """What the form cannot carry, one sentence each."""
        loses: tuple[str, ...] = self._home().LOSES
        return loses

    @property
    def carries(self) -> tuple[Gap, ...]:
        """The kinds of things that the form has a place for; a session says which of them this file leaves out."""
        carries: tuple[Gap, ...] = self._home().CARRIES
        return carries

    def _home(self) -> Any:
        return import_module(self.module)
