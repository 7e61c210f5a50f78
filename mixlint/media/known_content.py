"""The content of files that did not change since it was last hashed, told by what the file system knows of them.

A file of the same device, number, size and times of change is the same: reading forty songs of audio only to find that
nothing happened takes seconds. Within :data:`FRESH_S` of its last change a file is always hashed, since two changes may
bear one time there.
"""

from __future__ import annotations

import re
import time
from hashlib import sha256
from pathlib import Path
from typing import Final

from mixlint.errors import RefusedFile
from mixlint.media.sealed import put_whole
from mixlint.plain_files import read_plain

FRESH_S: Final = 3.0
"""File systems at hand count time in steps of up to two seconds."""

_DIGEST: Final = re.compile(r"sha256:[0-9a-f]{64}")
_LONGEST: Final = 160
"""Bytes of an entry: the hash, and a checksum over the hash and the entry's own name."""


def known_content(folder: Path, file: Path) -> str | None:
    """The hash that was kept for an unchanged file, or None."""
    place = _place(folder, file)
    if place is None:
        return None
    try:
        content, _, check = read_plain(place, _LONGEST).decode("ascii", "replace").partition(" ")
    except (OSError, RefusedFile):
        return None
    # A hash with one figure wrong would be that of another file, whose measure may be at hand.
    return content if _DIGEST.fullmatch(content) and check == _check(place, content) else None


def keep_content(folder: Path, file: Path, content: str) -> None:
    """Keep the hash of a file under what the file system knows of it, unless it changed only now.

    Raises:
        OSError: the folder cannot be written.
    """
    place = _place(folder, file)
    if place is None:
        return
    put_whole(place, f"{content} {_check(place, content)}".encode("ascii"))


def _check(place: Path, content: str) -> str:
    return sha256(f"{place.name} {content}".encode()).hexdigest()


def _place(folder: Path, file: Path) -> Path | None:
    """Where the hash of a file is kept; None for what is no plain file, or changed only now."""
    try:
        at = file.stat()
    except OSError:
        return None
    if at.st_ino == 0 or max(at.st_mtime, at.st_ctime) > time.time() - FRESH_S:
        return None
    what = f"{at.st_dev} {at.st_ino} {at.st_size} {at.st_mtime_ns} {at.st_ctime_ns}"
    return folder / f"{sha256(what.encode()).hexdigest()}-0.known"
