"""What a review rests on, told by watching it: every file it opened, folder it listed, and place it looked at.

A list of what *should* matter would be wrong with the first rule that looks elsewhere. So while a session is reviewed,
what it asks of the file system is written down: opening and listing are told by the interpreter itself (audit events,
PEP 578), looking by the functions that do it. Each becomes a :class:`Leaf`: what was there. The review holds as long as
every leaf is what it was. What cannot be told, as what another program looked at, gives no leaves, and nothing is kept.

mixlint's own files, those of the interpreter, and installed packages are none: :mod:`mixlint.runs.state` answers for
them.
"""

from __future__ import annotations

import os
import stat
import sys
import sysconfig
import time
from collections.abc import Callable, Iterable
from hashlib import sha256
from pathlib import Path
from types import TracebackType
from typing import Any, Final, NamedTuple, Self

from mixlint import resources
from mixlint.media.known_content import FRESH_S, keep_content, known_content

Stamp = tuple[int, ...]
"""Device, number, size and the times of change in nanoseconds, by which a file is the same one unchanged."""

MOST_LEAVES: Final = 50_000
"""What looks at more places than this is not kept."""

_IRRELEVANT: Final = (
    ".signed.txt", ".html", ".htm", ".md", ".pdf", ".png", ".jpg", ".jpeg", ".gif", ".svg", ".sarif", ".log",
    ".tmp", ".lock", ".taking", ".doc", ".docx", ".rtf", ".odt",
)  # fmt: skip
"""Names of a folder that no review looks for by listing it: sign-offs are looked for by their whole name, and the rest
is no audio, no session and no part of a standard."""

_OTHERS_WORK: Final = frozenset({"subprocess.Popen", "os.system", "os.posix_spawn", "os.exec", "socket.connect"})
"""Work done where nobody here sees what it looks at."""

_LOADER: Final = "importlib."
"""Modules are the interpreter's and the packages' own."""


class Leaf(NamedTuple):
    """One place, as it was.

    Args:
        kind: ``file`` that was read, ``folder`` that was listed, or what was only looked at: ``seen``.
        path: the place, absolute.
        what: the hash of a file's content or of the names in a folder; of what was only looked at, what stands there.
        stamp: by which it is known unchanged without reading it; empty where that tells nothing yet.
    """

    kind: str
    path: str
    what: str
    stamp: Stamp = ()


class Witness:
    """Writes down what is asked of the file system while it is entered."""

    def __init__(self) -> None:
        self.whole = True
        """All was seen that the review rests on."""
        self.opened: dict[str, Stamp] = {}
        self.listed: dict[str, str] = {}
        self.looked: dict[str, None] = {}

    def __enter__(self) -> Self:
        """Begin to watch."""
        _begin(self)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """End it."""
        _end(self)

    def also(self, other: Witness) -> None:
        """Add what was seen when something was read that is used again now."""
        self.whole = self.whole and other.whole
        self.opened = {**other.opened, **self.opened}
        self.listed = {**other.listed, **self.listed}
        self.looked = {**other.looked, **self.looked}

    def leaves(self, cache: Path) -> tuple[Leaf, ...] | None:
        """All that was seen, as it is now; None where that cannot be told, or something changed meanwhile.

        Args:
            cache: where hashes of files are kept, to spare reading large ones again.
        """
        if not self.whole or os.name == "nt" or len(self.looked) > MOST_LEAVES:  # Windows looks by other functions
            return None
        found: list[Leaf] = []
        for path, before in self.opened.items():
            now = stamp_of(path)
            if not now or os.path.isdir(path):
                self.looked[path] = None
                if before and not now:
                    return None
                continue
            content = _content(path, cache) if now == before else None
            if content is None:
                return None
            found.append(Leaf("file", path, content, settled(now)))
        for path, names in self.listed.items():
            now = stamp_of(path)
            if names_in(path) != names:
                return None
            found.append(Leaf("folder", path, names, settled(now)))
        read = {one.path for one in found}
        found += [Leaf("seen", path, seen_at(path)) for path in self.looked if path not in read]
        return tuple(found)


def stamp_of(path: str) -> Stamp:
    """What the system tells of a file or folder; empty where there is none."""
    try:
        found = _stat(path)
    except (OSError, ValueError):
        return ()
    return (found.st_dev, found.st_ino, found.st_size, found.st_mtime_ns, found.st_ctime_ns)


def settled(stamp: Stamp) -> Stamp:
    """A stamp that tells an unchanged file; empty for one that changed only now: it may again within a tick."""
    fresh = not stamp or max(stamp[3:]) / 1e9 > time.time() - FRESH_S or stamp[1] == 0
    return () if fresh else stamp


def content_of(path: str) -> str:
    """The hash of a file's bytes; empty where it cannot be read."""
    total = sha256()
    try:
        with open(path, "rb", opener=_without_waiting) as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                return ""
            while part := file.read(1 << 20):
                total.update(part)
    except OSError:
        return ""
    return f"sha256:{total.hexdigest()}"


def names_in(path: str) -> str:
    """The hash of the names in a folder that a review may look for, with their kinds; empty where nothing is listed."""
    try:
        with os.scandir(path) as entries:
            found = sorted(
                f"{one.name}/{one.is_dir(follow_symlinks=False):d}{one.is_symlink():d}"
                for one in entries
                if not one.name.casefold().endswith(_IRRELEVANT)
            )
    except OSError:
        return ""
    return sha256("\0".join(found).encode("utf-8", "surrogateescape")).hexdigest()


def seen_at(path: str) -> str:
    """What stands at a place, as far as looking tells: nothing, a folder, a file of some size; where a link leads."""
    try:
        found = _lstat(path)
        link = f"link {os.readlink(path)} " if stat.S_ISLNK(found.st_mode) else ""
    except (OSError, ValueError):
        return "nothing"
    if link:
        try:
            found = _stat(path)
        except (OSError, ValueError):
            return f"{link}nothing"
    if stat.S_ISDIR(found.st_mode):
        return f"{link}folder"
    return f"{link}file {found.st_size}" if stat.S_ISREG(found.st_mode) else f"{link}other {found.st_mode}"


def _content(path: str, cache: Path) -> str | None:
    """The hash of a file, from an earlier run where it is large and unchanged."""
    file = Path(path)
    if content := known_content(cache, file):
        return content
    content = content_of(path)
    if not content:
        return None
    if file.stat().st_size > _LARGE:
        try:
            keep_content(cache, file, content)
        except OSError:
            return content  # full, or not to be written: it is hashed again next time
    return content


_LARGE: Final = 8 << 20
"""A hash of a smaller file is sooner made than kept, bytes."""


def _without_waiting(path: str, flags: int) -> int:
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0))


# --- how it is watched

_stat: Final = os.stat
_lstat: Final = os.lstat
_WATCHING: Final[list[Witness]] = []
_HOOKED: Final[list[bool]] = []


def _begin(witness: Witness) -> None:
    _own()  # asked before anything is watched, since it looks itself
    if not _HOOKED:  # a hook stays until the process ends, and does nothing while nobody watches
        sys.addaudithook(_heard)
        _HOOKED.append(True)
    if not _WATCHING:
        os.stat, os.lstat = _looks(_stat), _looks(_lstat)
    _WATCHING.append(witness)


def _end(witness: Witness) -> None:
    _WATCHING.remove(witness)
    if not _WATCHING:
        os.stat, os.lstat = _stat, _lstat


def _looks(real: Callable[..., os.stat_result]) -> Any:
    def looked(path: Any, *args: Any, **kwargs: Any) -> os.stat_result:
        if _WATCHING and not isinstance(path, int):
            if kwargs.get("dir_fd") is not None:
                _lost()
            elif (place := _place(path)) is not None:
                for one in _WATCHING:
                    one.looked[place] = None
        return real(path, *args, **kwargs)

    return looked


def _lost() -> None:
    for one in _WATCHING:
        one.whole = False


def _heard(event: str, args: tuple[Any, ...]) -> None:
    if not _WATCHING:
        return
    if event in ("open", "os.listdir", "os.scandir"):
        what = args[0] if args else None
        if isinstance(what, int):
            return
        caller = sys._getframe(1).f_globals.get("__name__", "")
        if caller.startswith(_LOADER) or caller == __name__:
            return
        place = _place("." if what is None else what)
        if place is None or (event == "open" and _writes(args)):
            return
        for one in _WATCHING:
            if event == "open":
                if place not in one.opened:
                    one.opened[place] = stamp_of(place)
            elif place not in one.listed:
                one.listed[place] = names_in(place)
    elif event in _OTHERS_WORK:
        _lost()


def _writes(args: tuple[Any, ...]) -> bool:
    flags = args[2] if len(args) > 2 and isinstance(args[2], int) else 0
    return bool(flags & (os.O_WRONLY | os.O_CREAT | os.O_TRUNC))


def _place(path: Any) -> str | None:
    """A path as it is written down; None for one that others answer for."""
    try:
        place = os.path.abspath(os.fsdecode(path))
    except (TypeError, ValueError):
        return None
    return None if f"{place}{os.sep}".startswith(_own()) else place


_OWN: Final[list[tuple[str, ...]]] = []


def _own() -> tuple[str, ...]:
    """The beginnings of paths that are no leaves: the program's, the interpreter's, the system's, the kept ones'."""
    if not _OWN:
        from mixlint.media.cache_folder import cache_folder

        paths = sysconfig.get_paths()
        cache = cache_folder()
        folders: Iterable[str | Path | None] = (
            Path(__file__).parents[1], resources.folder("rules"), resources.folder("schemas"), cache,
            *(paths.get(one) for one in ("stdlib", "platstdlib", "purelib", "platlib")),
            "/proc", "/dev", "/sys",
        )  # fmt: skip
        _OWN.append(tuple(os.path.abspath(one) + os.sep for one in folders if one))
    return _OWN[0]
