"""The chunks of a wave or AIFF file, walked within bounds: what each is called, how long it says it is, how much is
there.

Sources: the RIFF form of the Multimedia Programming Interface and Data Specification 1.0 (``RIFX`` has the bytes of its
figures the other way round), EBU Tech 3285 and 3306, ITU-R BS.2088 (``ds64`` holds the true sizes of chunks that say
0xFFFFFFFF), and the chunks of AIFF.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from typing import BinaryIO, Final, Literal, NamedTuple

MOST_CHUNKS: Final = 4096
"""A walk stops after this many chunks; a real file has a dozen."""

_IN_DS64: Final = 0xFFFFFFFF
_MOST_LONG: Final = 256
"""How many entries of the table in ``ds64`` are read."""

Order = Literal["<", ">"]
"""The order of bytes, as ``struct`` writes it: the lowest first, or the highest."""

_WAVES: Final[dict[bytes, Order]] = {b"RIFF": "<", b"RF64": "<", b"BW64": "<", b"RIFX": ">"}


class Chunk(NamedTuple):
    """One chunk.

    Args:
        name: its four letters.
        at: where its body begins.
        length: how many bytes it has: as it says, or up to the end of the file where it leaves that open.
        there: how many of them the file holds.
        written: the length in its own head.
        stated: the length that it says, be it in ``ds64``; None where it leaves that open.
        order: the order of bytes in its figures.
    """

    name: bytes
    at: int
    length: int
    there: int
    written: int
    stated: int | None
    order: Order


def chunks(file: BinaryIO) -> Iterator[Chunk]:
    """Every chunk of a wave file, the file standing at its body; none for any other form."""
    file.seek(0)
    head = file.read(12)
    order = _WAVES.get(head[:4])
    if order is None or head[8:] != b"WAVE":
        return
    yield from _walked(file, order, 8 + int(struct.unpack(order + "I", head[4:8])[0]))


def aiff_chunks(file: BinaryIO) -> Iterator[Chunk]:
    """Every chunk of an AIFF file, the file standing at its body; none for any other form."""
    file.seek(0)
    head = file.read(12)
    if head[:4] == b"FORM" and head[8:] in (b"AIFF", b"AIFC"):
        yield from _walked(file, ">", None)


def _walked(file: BinaryIO, order: Order, stated_end: int | None) -> Iterator[Chunk]:
    """The walk behind the first 12 bytes.

    Args:
        file: the file.
        order: the order of bytes.
        stated_end: where the file says that it ends; None for a form whose writers leave no size open.
    """
    size = file.seek(0, 2)
    at = 12
    long: dict[bytes, int] = {}
    sound = False
    for _ in range(MOST_CHUNKS):
        file.seek(at)
        found = file.read(8)
        if len(found) < 8:
            return
        name, written = found[:4], int(struct.unpack(order + "I", found[4:])[0])
        stated: int | None = written
        if stated_end is not None:
            if name == b"ds64":
                long = _long_sizes(file.read(min(written, 28 + 12 * _MOST_LONG)))
            if written == _IN_DS64:
                # In a plain file it was left open by a writer that could not go back.
                stated = long.get(name)
            elif name == b"data" and not sound and written == 0 and stated_end <= at + 8 < size:
                stated = None  # both sizes were left open
            sound = sound or name == b"data"
        # A recorder that was cut off never came to write the true size: ds64 holds 0.
        left_open = stated is None or (stated == 0 and written == _IN_DS64)
        length = size - at - 8 if left_open else stated or 0
        file.seek(at + 8)
        yield Chunk(name, at + 8, length, min(length, max(0, size - at - 8)), written, stated, order)
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
