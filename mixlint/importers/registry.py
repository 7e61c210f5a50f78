"""The table of input forms: a new one is a module of its own and a row here."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Final

from mixlint.importers.aaf.ids import is_aaf
from mixlint.importers.importer import Importer
from mixlint.media.zip_directory import AUDIO_SUFFIXES
from mixlint.session import GAPS, Gap, Session

HEAD: Final = 65_536
"""How many bytes are looked at to tell a form."""

_SESSION: Final = re.compile(rb'"format"\s*:\s*"mixlint-session/')
"""The key and not the word alone, which stands in the schema of the form too."""

_PROJECT: Final = re.compile(rb"<(!DOCTYPE\s+)?Project\b")


def _is_xml_project(head: bytes) -> bool:
    plain = head.replace(b"\x00", b"")  # also in UTF-16
    return _PROJECT.search(plain) is not None and plain.lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n").startswith(b"<")


def _is_native(head: bytes) -> bool:
    return _SESSION.search(head) is not None and head.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"{")


NATIVE: Final = Importer(
    name="json",
    titles=("a session in mixlint's own JSON",),
    module="mixlint.importers.native",
    shared_suffixes=(".json",),
    sniff=_is_native,
)
"""The only form that mixlint also writes."""


def _is_list(head: bytes) -> bool:
    from mixlint.importers.channel_list.reader import sniff

    return sniff(head)


LIST: Final = Importer(
    name="channel-list",
    titles=("a list of channels (.csv, .tsv, .xlsx, .ods)",),
    module="mixlint.importers.channel_list.reader",
    shared_suffixes=(".csv", ".tsv", ".tab", ".xlsx", ".ods"),
    sniff=_is_list,
    keeps="a list of channels",
    worded=True,
)
"""Tables are of many kinds: a list is known by its heading alone."""

IMPORTERS: tuple[Importer, ...] = (
    Importer(
        name="dawproject",
        titles=("a .dawproject", "a project.xml"),
        module="mixlint.importers.dawproject.reader",
        suffixes=(".dawproject",),
        shared_suffixes=(".xml",),
        sniff=_is_xml_project,
        packed=True,
        root="project.xml",
    ),
    NATIVE,
    Importer(
        name="aaf",
        titles=("an .aaf",),
        module="mixlint.importers.aaf.reader",
        suffixes=(".aaf",),
        sniff=is_aaf,
    ),
    LIST,
)
"""Forms of one file per session, the commonest first."""

STEMS: Final = Importer(
    name="stems",
    titles=("a folder of stems",),
    module="mixlint.importers.stems",
    suffixes=tuple(sorted(AUDIO_SUFFIXES)),
    keeps="a recording",
)
"""Taken for a folder that holds audio and no session; its suffixes are those of the files in the folder."""


def importer_for(path: Path, head: bytes) -> Importer | None:
    """The form of a file: by its first bytes where they tell, else by its suffix.

    Args:
        path: the file; only its name is asked.
        head: its first bytes, at most ``HEAD``; may be empty where only the name shall tell.
    """
    suffix = path.suffix.lower()
    for forms in _by_turns():
        for one in forms:
            if one.sniff is not None and one.sniff(head):
                return one
        for one in forms:
            if suffix in one.suffixes:
                return one
    return None


def _by_turns() -> Iterator[tuple[Importer, ...]]:
    """mixlint's own forms first: those of packages are looked for only where these do not know a file."""
    yield IMPORTERS
    yield _installed()


def _installed() -> tuple[Importer, ...]:
    """The forms of installed packages."""
    from mixlint.importers.installed import installed_importers

    return installed_importers()


def importer_of_archive(members: Iterable[str]) -> Importer | None:
    """The form of a ZIP archive whose name tells nothing, by the file at its root."""
    at_root = {name.casefold() for name in members}
    return next((one for one in IMPORTERS if one.root and one.root in at_root), None)


def importers_sharing(path: Path) -> list[Importer]:
    """The forms that files with this suffix may be of, where only their first bytes tell."""
    suffix = path.suffix.lower()
    own = [one for one in IMPORTERS if suffix in one.shared_suffixes]
    if own or any(suffix in one.suffixes for one in IMPORTERS):
        return own
    return [one for one in _installed() if suffix in one.shared_suffixes]


def keeps(path: Path, head: bytes) -> str:
    """What a user would lose with a file, as the form of its name or of its first bytes says; nothing for no form.

    Args:
        path: the file; only its name is asked.
        head: its first bytes, at most ``HEAD``.
    """
    name = path.name.casefold()
    for one in (*IMPORTERS, STEMS, *_installed()):
        if name.endswith(one.suffixes) or (one.sniff is not None and one.sniff(head)):
            return one.keeps
    return ""


def shown_by(session: Session) -> tuple[Gap, ...]:
    """The kinds of things that a session shows: what its form has a place for, but for what this file leaves out.

    One whose form is not in the table, as a file of another version may say, counts as one that has a place for all.
    """
    name = session.source.importer
    form = next((one for one in (*IMPORTERS, STEMS) if one.name == name), None)
    form = form or next((one for one in _installed() if one.name == name), NATIVE)
    return tuple(gap for gap in GAPS if gap in form.carries and gap not in session.gaps)


def all_titles() -> str:
    """Everything that is read, in one phrase for a user: ``a .dawproject, a project.xml, … or a folder of stems``."""
    *most, last = [title for one in (*IMPORTERS, *_installed(), STEMS) for title in one.titles]
    return f"{', '.join(most)}, or {last}"
