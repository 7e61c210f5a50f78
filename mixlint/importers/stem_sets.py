"""Which audio files of a tree of folders are one set of stems.

The audio that lies directly in a folder is one set. A subfolder belongs to the set of the folder above it when it is
named after parts or a kind of files (``Drums``, ``Vocals``, ``Stems``, ``Mono``, ``Prints``) and shares most of its
file names with no other such folder beside it; any other subfolder with audio is a set of its own. One that a name
puts aside (``old``, ``backup``) beside a set is passed over.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from mixlint.media.zip_directory import is_audio_name
from mixlint.naming.file_reading import put_aside
from mixlint.naming.fold import fold_name
from mixlint.naming.stem_names import is_kind_of_folder

_MOST_SHARED: Final = 0.5
"""Subfolders that have more than this share of file names in common hold several songs, whatever they are called."""


def sets_of(names: Iterable[str]) -> dict[str, tuple[str, ...]]:
    """Folder of each set, ``""`` for the top, to its audio files, sorted.

    Args:
        names: every file below the top, relative, with forward slashes.
    """
    files: dict[str, list[str]] = {}
    for name in names:
        if is_audio_name(name):
            files.setdefault(name.rpartition("/")[0], []).append(name)
    home: dict[str, str] = {}
    folders = sorted(
        {part for folder in files for part in _with_parents(folder)}, key=lambda one: (one.count("/"), one)
    )
    several = _like_named(files, folders)
    for folder in folders:
        above = _above(folder)
        joins = folder != "" and folder not in several and is_kind_of_folder(folder.rpartition("/")[2])
        home[folder] = home.get(above, above) if joins else folder
    found: dict[str, list[str]] = {}
    for folder, inside in files.items():
        found.setdefault(home[folder], []).extend(inside)
    return {
        top: tuple(sorted(inside))
        for top, inside in sorted(found.items())
        if len(found) == 1 or not _is_aside(top, found)
    }


def _is_aside(folder: str, found: dict[str, list[str]]) -> bool:
    """True for a set that lies below another one, in a folder whose name puts it aside."""
    parts = folder.split("/") if folder else []
    return any(put_aside(f"{part}.wav") and "/".join(parts[:at]) in found for at, part in enumerate(parts))


def _with_parents(folder: str) -> list[str]:
    found = [folder]
    while folder:
        folder = _above(folder)
        found.append(folder)
    return found


def _above(folder: str) -> str:
    return folder.rpartition("/")[0]


def _like_named(files: dict[str, list[str]], folders: list[str]) -> set[str]:
    """Folders named after parts that share most of their file names with another such one beside them."""
    inside: dict[str, set[str]] = {folder: set() for folder in folders}
    for folder, names in files.items():
        bases = {fold_name(name.rpartition("/")[2]) for name in names}
        for one in _with_parents(folder):
            inside[one] |= bases
    beside: dict[str, list[str]] = {}
    for folder in folders:
        if folder and is_kind_of_folder(folder.rpartition("/")[2]):
            beside.setdefault(_above(folder), []).append(folder)
    found: set[str] = set()
    for group in beside.values():
        first: dict[str, str] = {}
        shared: dict[tuple[str, str], int] = {}
        for folder in group:
            for name in inside[folder]:
                other = first.setdefault(name, folder)
                if other != folder:
                    shared[other, folder] = shared.get((other, folder), 0) + 1
        for (one, other), count in shared.items():
            if count > _MOST_SHARED * min(len(inside[one]), len(inside[other])):
                found |= {one, other}
    return found
