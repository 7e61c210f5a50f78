"""The files that a standard lists as paths or patterns: within its tree, bounded in number, no link followed out."""

from __future__ import annotations

import os
from collections.abc import Iterator
from fnmatch import fnmatch
from pathlib import Path
from typing import Final

from mixlint.plain_files import DEEPEST, MOST_ENTRIES, leads_out
from mixlint.rulebook.faults import FileFaults
from mixlint.toml_text import LONGEST_VALUE

MOST_FILES: Final = 1000
"""So many rule or word files one standard lists; mixlint's own has 382."""

MOST_BYTES: Final = 16 << 20
"""So many bytes those have together; mixlint's own have 1.4 million."""


def at(base: Path, written: str) -> Path:
    """The place that a standard writes, with the slashes of whatever system it was written on."""
    path = base / written
    return path if "\\" not in written or os.path.exists(path) else base / written.replace("\\", "/")


def listed(base: Path, key: str, patterns: tuple[str, ...], file_faults: FileFaults, top: Path | None) -> list[Path]:
    """The files that a standard lists under ``key``, each once, in its order.

    Args:
        base: the folder that paths start from: the standard's own.
        key: the key, for faults.
        patterns: paths, or patterns with ``*``, ``?``, ``[…]`` and ``**``.
        file_faults: where faults go.
        top: the tree that they have to lie in; None where the standard was named by hand.
    """
    found: dict[Path, None] = {}
    for pattern in patterns:
        what, do = _misfit(base, pattern, top)
        if not what:
            paths, what, do = _reached(base, pattern, top)
            found |= dict.fromkeys(paths)
        if what:
            file_faults.add(key, what, do)
    if len(found) > MOST_FILES or sum(map(_size, found)) > MOST_BYTES:
        what = f"more than {MOST_FILES} files, or {MOST_BYTES >> 20} MB of them, are listed"
        file_faults.add(key, what, "list those that are meant")
        return []
    return list(found)


def _misfit(base: Path, pattern: str, top: Path | None) -> tuple[str, str]:
    """What is wrong with a path or pattern before anything is looked for, and what to write instead."""
    plain = pattern.replace("\\", "/")
    if not plain.strip() or "\0" in plain or len(plain) > LONGEST_VALUE:
        return "this is no path of a file", 'write it as "rules/*.toml"'
    parts = plain.split("/")
    if any("**" in part and part != "**" for part in parts):
        return (
            f"in {pattern} the ** stands beside other signs",
            "write ** for any folders, alone, as in rules/**/*.toml",
        )
    fixed = Path(base, *_before(parts)) if not plain.startswith("/") else Path("/", *_before(parts))
    if leads_out(fixed, top):
        return f"{pattern} leads out of {top}", _INSIDE
    return "", ""


_INSIDE: Final = "put the files in there; only a standard named with --standard reaches further"


def _before(parts: list[str]) -> list[str]:
    """The parts of a pattern before the first sign in it."""
    found: list[str] = []
    for part in parts:
        if _is_pattern(part):
            break
        found.append(part)
    return found


def _is_pattern(part: str) -> bool:
    return any(sign in part for sign in "*?[")


def _reached(base: Path, pattern: str, top: Path | None) -> tuple[list[Path], str, str]:
    """The files that one path or pattern stands for; or what is wrong, and what to do."""
    if not _is_pattern(pattern):
        path = at(base, pattern)
        if os.path.isdir(path):
            return [], f"{pattern} is a folder", f'write "{pattern.rstrip("/")}/*.toml"'
        return [path], "", ""
    plain = pattern.replace("\\", "/")
    anchor = Path(Path(plain).anchor) if Path(plain).is_absolute() else base
    parts = [part for part in Path(plain).parts if part not in ("/", "\\", Path(plain).anchor)]
    walk = _Walk()
    paths = sorted(path for path in walk.under(anchor, tuple(parts), 0) if path.suffix or path.is_file())
    if walk.left <= 0:
        what = f"{pattern} looks at more than {MOST_ENTRIES} names"
        return [], what, "name the folder that the files lie in"
    inside = [path for path in paths if not leads_out(path, top)]
    if len(inside) < len(paths):
        astray = next(path for path in paths if leads_out(path, top))
        return inside, f"{astray} is a link that leads out of {top}", _INSIDE
    return inside, *((f"no file matches {pattern}", f"it is looked for from {base}") if not paths else ("", ""))


class _Walk:
    """Looks for what a pattern matches, until it has looked at too much."""

    def __init__(self) -> None:
        self.left = MOST_ENTRIES

    def under(self, folder: Path, parts: tuple[str, ...], deep: int) -> Iterator[Path]:
        """What the rest of a pattern stands for in a folder; files and folders that vanish meanwhile are left out."""
        if not parts or self.left <= 0:
            return
        first, rest = parts[0], parts[1:]
        if not _is_pattern(first):
            there = folder / first
            if rest:
                yield from self.under(there, rest, deep)
            elif os.path.lexists(there) and not os.path.isdir(there):
                yield there
            return
        if first == "**":
            yield from self.under(folder, rest or ("*",), deep)
        for entry in self._entries(folder):
            if first == "**":
                if deep < DEEPEST and _is_folder(entry, follow=False) and not entry.name.startswith("."):
                    yield from self.under(folder / entry.name, parts, deep + 1)
            elif fnmatch(entry.name, first) and (first.startswith(".") or not entry.name.startswith(".")):
                if not rest and not _is_folder(entry, follow=True):
                    yield folder / entry.name
                elif rest and _is_folder(entry, follow=True):
                    yield from self.under(folder / entry.name, rest, deep)

    def _entries(self, folder: Path) -> list[os.DirEntry[str]]:
        found: list[os.DirEntry[str]] = []
        try:
            with os.scandir(folder) as entries:
                for entry in entries:
                    self.left -= 1
                    if self.left <= 0:
                        break
                    found.append(entry)
        except OSError:
            return []  # gone, no folder, or not to be read: nothing in it can be listed
        return found


def _is_folder(entry: os.DirEntry[str], *, follow: bool) -> bool:
    try:
        return entry.is_dir(follow_symlinks=follow)
    except OSError:
        return False


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except (OSError, ValueError):
        return 0
