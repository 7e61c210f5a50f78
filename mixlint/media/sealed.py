"""Entries of a cache: written whole or not at all, and believed only behind a checksum and within bounds.

What lies in a cache may be damaged, cut short, another's or huge. None of it is taken for what it says before its bytes
are those that were written, and it unpacks to no more than the caller allows.
"""

from __future__ import annotations

import os
import tempfile
import zlib
from hashlib import sha256
from pathlib import Path
from typing import Final

from mixlint.plain_files import read_plain

_SUM: Final = sha256().digest_size
_SLACK: Final = 1024
"""What cannot be packed grows by a few bytes in a thousand at most; the checksum and the mark come on top."""


class Misfit(ValueError):
    """An entry cannot be believed."""


def put_whole(place: Path, data: bytes, half: str = ".part") -> None:
    """Write a file into the user's own folder, whole or not at all.

    Args:
        place: the file; its folder is made where there is none.
        data: what it holds.
        half: how the name ends under which it is written first.

    Raises:
        OSError: the folder cannot be written.
    """
    place.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    handle, written = tempfile.mkstemp(dir=place.parent, prefix=f"{place.stem}.", suffix=half)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        os.replace(written, place)
    except BaseException:
        Path(written).unlink(missing_ok=True)
        raise


def put_sealed(place: Path, mark: bytes, body: bytes, half: str = ".part") -> None:
    """Write an entry behind a mark of its kind and a checksum (SHA-256) over all the rest; see :func:`put_whole`."""
    put_whole(place, mark + sha256(body).digest() + body, half)


def sealed(place: Path, mark: bytes, most: int) -> memoryview:
    """What an entry holds.

    Args:
        place: the entry.
        mark: how one of its kind begins.
        most: how many bytes it may hold.

    Raises:
        Misfit: it is none of that kind, or not what was written.
        RefusedFile: it is no regular file, or larger.
        OSError: it is not there or cannot be read.
    """
    stored = read_plain(place, most + _SLACK)
    begin = len(mark) + _SUM
    body = memoryview(stored)[begin:]
    if not stored.startswith(mark) or sha256(body).digest() != stored[len(mark) : begin]:
        raise Misfit("it is no entry, or a damaged one")
    return body


def unpacked(packed: memoryview, most: int) -> bytes:
    """What was packed by zlib.

    Raises:
        Misfit: it is damaged, or unpacks to more than ``most`` bytes.
    """
    unpacker = zlib.decompressobj()
    try:
        body = unpacker.decompress(packed, most)
    except zlib.error as fault:
        raise Misfit("it cannot be unpacked") from fault
    if not unpacker.eof or unpacker.unused_data:
        raise Misfit("it holds more than it may, or less")
    return body
