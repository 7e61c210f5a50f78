"""The chunks of a wave file, walked within bounds: what each is called, how long it says it is, how much is there.

Sources: EBU Tech 3285 and 3306, ITU-R BS.2088 (``ds64`` holds the true sizes of chunks that say 0xFFFFFFFF).
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from typing import BinaryIO, Final, NamedTuple

MOST_CHUNKS: Final = 4096
"""A walk stops after this many chunks; a real file has a dozen."""

_IN_DS64: Final = 0xFFFFFFFF
_MOST_LONG: Final = 256
"""How many entries of the table in ``ds64`` are read."""


class Chunk(NamedTuple):
    """One chunk.

    Args:
        name: its four letters.
        at: where its body begins.
        length: how many bytes it says it has.
        there: how many of them the file holds.
    """

    name: bytes
    at: int
    length: int
    there: int


def chunks(file: BinaryIO) -> Iterator[Chunk]:
    """Every chunk of a wave file, the file standing at its body; none for any other form."""
    size = file.seek(0, 2)
    file.seek(0)
    head = file.read(12)
    if head[:4] not in (b"RIFF", b"RF64", b"BW64") or head[8:] != b"WAVE":
        return
    at = 12
    long: dict[bytes, int] = {}
    for _ in range(MOST_CHUNKS):
        file.seek(at)
        found = file.read(8)
        if len(found) < 8:
            return
        name, length = found[:4], struct.unpack("<I", found[4:])[0]
        if name == b"ds64":
            long = _long_sizes(file.read(min(length, 28 + 12 * _MOST_LONG)))
            file.seek(at + 8)
        if length == _IN_DS64:
            length = long.get(name) or size - at - 8
        yield Chunk(name, at + 8, length, min(length, max(0, size - at - 8)))
        at += 8 + length + (length & 1)
        if at + 8 > size:
            return


def _long_sizes(body: bytes) -> dict[bytes, int]:
    """The sizes that ``ds64`` holds: of ``data``, and of the chunks in its table."""
    if len(body) < 16:
        return {}
    found = {b"data": struct.unpack_from("<8xQ", body)[0]}
    if len(body) >= 28:
        count = min(struct.unpack_from("<24xI", body)[0], (len(body) - 28) // 12)
        for place in range(count):
            name, length = struct.unpack_from("<4sQ", body, 28 + 12 * place)
            found[name] = length
    return found
