"""Files that are read without asking what they are: regular ones of bounded size, inside a tree where one is given.

What mixlint finds by itself beside a session may have come with a stranger's session. It is read only where it lies
within the *tree* of that session: the folder it was found in and those below, up to the nearest folder above that holds
``.git``. No link, pattern or path leads out of there. What somebody names by hand may lie anywhere, and is a regular
file of bounded size all the same: a pipe, a device or a file without end would keep a reader for ever.
"""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import BinaryIO, Final

from mixlint.errors import RefusedFile

SIGNED: Final = ".signed.txt"
"""How the name of a file of sign-offs ends."""
APPROVED: Final = ".approved.json"
"""How the name of an approval ends."""
STANDARD: Final = "mixlint-standard.toml"
"""The name of a house's standard beside its sessions."""

_AT_ONCE: Final = 1 << 20

DEEPEST: Final = 8
"""So many folders deep a pattern with ``**`` looks: a bound of work."""

MOST_ENTRIES: Final = 20_000
"""So many names a pattern looks at: a bound of work."""


def tree_of(folder: Path) -> Path:
    """The top of the tree that ``folder`` belongs to: the nearest folder with ``.git`` at it or above, else itself."""
    here = folder.resolve()
    return next((one for one in (here, *here.parents) if (one / ".git").exists()), here)


def leads_out(path: Path, top: Path | None) -> bool:
    """Whether a path, with all links in it followed, ends outside the tree ``top``; never where there is no tree."""
    if top is None:
        return False
    try:
        return not path.resolve().is_relative_to(top)
    except (OSError, RuntimeError, ValueError):  # a ring of links; a name that no file can have
        return True


def read_plain(path: Path, most: int, top: Path | None = None) -> bytes:
    """The bytes of a regular file.

    Args:
        path: the file.
        most: how many bytes it may have.
        top: the tree that it has to lie in; None for a file that was named by hand.

    Raises:
        RefusedFile: it is no regular file, is larger than ``most``, or leads out of the tree.
        OSError: it is not there or cannot be read.
    """
    if leads_out(path, top):
        raise RefusedFile(
            f"it leads out of {top} and is not read", where=str(path), do="put the file itself into that folder"
        )
    # Looked at before it is opened too, since opening some devices does something.
    kind = os.stat(path).st_mode
    if not stat.S_ISREG(kind):
        raise RefusedFile(f"this is {_kind(kind)}, not a file with text in it", where=str(path), do="name a plain file")
    with open(path, "rb", opener=_without_waiting) as file:
        found = os.fstat(file.fileno())
        if not stat.S_ISREG(found.st_mode):  # it was put there in between
            raise RefusedFile("this is no regular file", where=str(path), do="name a plain file")
        data = b"" if found.st_size > most else _read(file, most)
    if found.st_size > most or len(data) > most:  # files of the system itself do not tell their size
        raise RefusedFile(f"it is larger than the {_bytes(most)} that are read", where=str(path), do="check what it is")
    return data


def _read(file: BinaryIO, most: int) -> bytes:
    """Up to one byte more than ``most``."""
    parts: list[bytes] = []
    left = most + 1
    while left > 0 and (part := file.read(min(left, _AT_ONCE))):
        parts.append(part)
        left -= len(part)
    return b"".join(parts)


def _without_waiting(path: str, flags: int) -> int:
    """Open without waiting for a pipe's other end, where the system can."""
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0))


def _kind(mode: int) -> str:
    for test, said in (
        (stat.S_ISDIR, "a folder"),
        (stat.S_ISFIFO, "a named pipe"),
        (stat.S_ISCHR, "a device"),
        (stat.S_ISBLK, "a device"),
        (stat.S_ISSOCK, "a socket"),
    ):
        if test(mode):
            return said
    return "no regular file"


def _bytes(count: int) -> str:
    return f"{count >> 20} MB" if count >= 1 << 20 else f"{count} bytes"


def found_file(path: Path, top: Path | None = None) -> bool:
    """Whether something stands at a place where mixlint looks by itself, and can be read.

    Args:
        path: the place.
        top: the tree that it has to lie in; that of its own folder when left out.

    Raises:
        RefusedFile: a link there leads out of the tree, or what stands there is no regular file.
    """
    if not os.path.lexists(path):  # unlike Path.is_file it takes a name that is too long for one of no file
        return False
    top = tree_of(path.parent) if top is None else top
    if leads_out(path, top):
        raise RefusedFile(
            f"it is a link that leads out of {top} and is not followed",
            where=str(path),
            do="put the file itself there, or take the link away",
        )
    try:
        mode = os.stat(path).st_mode
    except FileNotFoundError:  # a link within the tree to what is no longer there
        return False
    if not stat.S_ISREG(mode):
        raise RefusedFile(f"this is {_kind(mode)}, not a file", where=str(path), do="take it away, or rename it")
    return True


def open_to_others(folder: Path) -> str:
    """Why others may write to a folder that is there, or to its place; nothing where only this user may.

    Told by the owner and the mode that POSIX systems keep. Elsewhere (Windows) nothing is told, and on a network only
    what the server says of both.
    """
    if not hasattr(os, "geteuid"):
        return ""
    found = folder.stat()
    if found.st_uid != os.geteuid():
        return "it belongs to another user"
    if found.st_mode & 0o022:
        return f"others may write to it (mode {stat.S_IMODE(found.st_mode):04o})"
    for above in folder.resolve().parents:
        mode = above.stat().st_mode
        if mode & 0o002 and not mode & stat.S_ISVTX:  # in a sticky folder, as /tmp, nobody can put another in its place
            return f"everybody may write to {above}, which it lies in (mode {stat.S_IMODE(mode):04o})"
    return ""


def everybodys(folder: Path) -> bool:
    """True for a folder that every user may write to, as ``/tmp``; never where the system keeps no POSIX modes."""
    try:
        return hasattr(os, "geteuid") and bool(folder.stat().st_mode & 0o002)
    except OSError:
        return True


def program(name: str) -> str | None:
    """Where a program is: on the path, and never in the folder mixlint was started in, which may be a stranger's."""
    called = f"{name}.exe" if os.name == "nt" else name
    for folder in os.get_exec_path():
        path = os.path.join(folder, called)
        if os.path.isabs(folder) and os.path.isfile(path) and os.access(path, os.X_OK):
            return path
    return None
