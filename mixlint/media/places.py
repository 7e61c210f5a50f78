"""Where a session's audio lies: from the path as the session writes it to a file that may be opened."""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO, Final
from urllib.parse import unquote

from mixlint.errors import InputError
from mixlint.media.disk_names import as_text, on_disk
from mixlint.media.zip_directory import clean_name
from mixlint.session import MediaFile, Unknown

if TYPE_CHECKING:
    from mixlint.media.container import Container

_DRIVE: Final = re.compile(r"^[A-Za-z]:")

OUTSIDE: Final = Unknown(
    unknown="the file lies outside the session's folder and is not opened",
    settle="collect the session's audio into its folder and export again",
)

LEADS_OUT: Final = Unknown(
    unknown="the file is reached by a link that leads out of the session's folder, and is not opened",
    settle="put the file itself into the session's folder and export again",
)


@dataclass(frozen=True, slots=True)
class Place:
    """One audio file that was found; small and picklable, so that another process can open it.

    Args:
        container: the session's archive or folder.
        member: the name inside it.
        shown: how messages name it.
        note: what had to be assumed to find it, or empty.
    """

    container: Path
    member: str
    shown: str
    note: str = ""

    @contextmanager
    def opened(self, container: Container | None = None) -> Iterator[BinaryIO]:
        """The file, open and seekable; a ``container`` that is this place's own spares opening the archive again.

        Raises:
            InputError: it is gone or cannot be read.
        """
        from mixlint.media.container import open_container

        if container is not None and container.path == self.container:
            with container.open(self.member) as file:
                yield file
            return
        with open_container(self.container) as fresh, fresh.open(self.member) as file:
            yield file


def locate(media: MediaFile, container: Container, *, allow_outside: bool = False) -> Place | Unknown:
    """Find a session's audio file.

    The path is tried as written, then with percent escapes decoded; backslashes are separators and ``./`` means
    nothing. Where nothing fits to the letter, one file whose name differs only in upper and lower case or in how
    accents are encoded is taken, and the place says so.

    Args:
        media: the entry in the session.
        container: what the path is relative to: the archive for ``inside``, the session's folder for ``beside``.
        allow_outside: open absolute and climbing paths too.

    Returns:
        The place, or the reason why there is none.
    """
    outside = media.place == "outside"
    spellings = _spellings(media.path)
    clean = [name for name in map(clean_name, spellings) if name is not None]
    if outside or not clean:
        return _outside(spellings, container) if allow_outside else OUTSIDE
    for name in clean:
        if container.has(name):
            return Place(container.path, name, container.place(name))
    for name in clean:
        found = _alike(name, container)
        if len(found) == 1:
            note = f"the session writes {media.path!r}; taken to be {found[0]!r}"
            return Place(container.path, found[0], container.place(found[0]), note)
        if found:
            return Unknown(
                unknown=f"{len(found)} files are named like {media.path!r} but for upper and lower case",
                settle="give them different names and export again",
            )
    if any(_leads_out(name, container) for name in clean):
        if allow_outside:
            return _outside(spellings, container)
        return LEADS_OUT
    return Unknown(unknown=f"the file {media.path!r} is not there", settle="export the session together with its audio")


def _leads_out(name: str, container: Container) -> bool:
    from mixlint.media.container import PlainContainer

    return isinstance(container, PlainContainer) and container.leads_out(name)


def _spellings(path: str) -> list[str]:
    """The path as written, then unescaped, each with ``folder/..`` taken out."""
    if path.lower().startswith("file://"):
        path = unquote(path[7:])
        path = path.removeprefix("localhost")
        if _DRIVE.match(path[1:]):
            path = path[1:]
    return list(dict.fromkeys(_plain(text) for text in (path, unquote(path)) if text))


def _plain(path: str) -> str:
    out: list[str] = []
    slashed = path.replace("\\", "/")
    for part in slashed.split("/"):
        if part == ".." and out and out[-1] not in ("", ".."):
            out.pop()
        elif part != "." and (part or not out):
            out.append(part)
    return "/".join(out)


def _folded(name: str) -> str:
    return unicodedata.normalize("NFC", name).casefold()


def _alike(name: str, container: Container) -> list[str]:
    """Members that equal ``name`` but for case and the encoding of accents."""
    from mixlint.media.container import PlainContainer

    wanted = _folded(name)
    if not isinstance(container, PlainContainer):
        return [one for one in container.names() if _folded(one) == wanted]
    # A folder is searched along the path alone: the one around a session may be huge.
    root = container.path if container.path.is_dir() else container.path.parent
    reached = [""]
    for part in name.split("/"):
        reached = [
            f"{at}/{one}" if at else one
            for at in reached
            for one in _listing(on_disk(root, at) if at else root)
            if _folded(one) == _folded(part)
        ]
    return [one for one in reached if container.has(one)]


def _listing(folder: Path) -> list[str]:
    try:
        return sorted(map(as_text, os.listdir(folder)))
    except (FileNotFoundError, NotADirectoryError, PermissionError):
        return []  # nothing that could be opened lies there


def _outside(spellings: list[str], container: Container) -> Place | Unknown:
    """An absolute or climbing path, opened because the caller allowed it."""
    root = container.path if container.path.is_dir() else container.path.parent
    for text in spellings:
        try:
            path = on_disk(root, text).resolve()
            if path.is_file():
                return Place(path.parent, path.name, str(path))
        except (OSError, ValueError, RuntimeError):
            continue  # a name that this system cannot have
    return Unknown(
        unknown=f"the file {spellings[0] if spellings else ''!r} is not there", settle="copy it beside the session"
    )


def digest(file: BinaryIO) -> str:
    """The content's hash, ``sha256:`` and 64 hexadecimal digits.

    Raises:
        InputError: the file cannot be read.
    """
    import hashlib

    made = hashlib.sha256()
    file.seek(0)
    try:
        while part := file.read(1 << 20):
            made.update(part)
    except OSError as trouble:
        raise InputError(f"it cannot be read ({trouble.strerror})", where=str(getattr(file, "name", ""))) from trouble
    return f"sha256:{made.hexdigest()}"
