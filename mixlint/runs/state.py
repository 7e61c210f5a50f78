"""What the program itself is made of, as one hash: a review that another state of it made is none of its own."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

from mixlint import __version__, resources
from mixlint.extensions import installed_names, whereabouts


def state() -> str | None:
    """A hash over the version, every file of mixlint, and what is installed beside it.

    Files are told by name, size and time of change, so that a change to the program counts while it is worked on. Of
    installed packages name and version do, but of those that add to mixlint every file.

    Returns:
        None where an installed package adds something and its files cannot be found: then nothing is to be kept.
    """
    told = sha256()
    for one in (__version__, sys.version, sys.platform, sys.getfilesystemencoding(), *installed_names()):
        told.update(one.encode("utf-8", "surrogateescape") + b"\0")
    folders = [str(Path(__file__).parents[1]), str(resources.folder("rules"))]
    for package, version, place in whereabouts():
        if not place:
            return None
        told.update(f"{package} {version}\0".encode())
        folders.append(place)
    for folder in folders:
        for line in sorted(_files(folder)):
            told.update(line.encode("utf-8", "surrogateescape") + b"\0")
    return told.hexdigest()


def _files(top: str) -> Iterator[str]:
    if os.path.isfile(top):
        found = os.stat(top)
        yield f"{top} {found.st_size} {found.st_mtime_ns}"
        return
    with os.scandir(top) as entries:
        for one in entries:
            if one.is_dir(follow_symlinks=False):
                if one.name != "__pycache__":
                    yield from _files(one.path)
            else:
                found = one.stat()
                yield f"{one.path} {found.st_size} {found.st_mtime_ns}"
