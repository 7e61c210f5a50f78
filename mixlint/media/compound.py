"""Streams in a compound file, read in place: the structured storage that an AAF is written in.

The layout is Microsoft's published [MS-CFB]: sectors chained by a table, a directory of named storages and streams, and
small streams packed into one. Nothing is copied out; a stream is a list of stretches of the file.
"""

from __future__ import annotations

import io
import re
import struct
import sys
from array import array
from bisect import bisect_right
from collections.abc import Iterable
from typing import TYPE_CHECKING, BinaryIO, Final, NamedTuple, Self

from mixlint.errors import BrokenFile, RefusedFile
from mixlint.media.inner_reader import InnerReader

if TYPE_CHECKING:
    from _typeshed import WriteableBuffer

MAGIC: Final = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"

MOST_TABLE: Final = 256 << 20
"""The most bytes of the table of sectors, and of the directory, that are read."""

_HEADER: Final = struct.Struct("<HHHHH6x8xI4xIIII")  # from byte 24 on, as far as the list of table sectors
_ENTRY: Final = struct.Struct("<66xB49xIQ")
_NONE: Final = 0xFFFFFFFA
"""Numbers from here on are no sector and no entry, but ends and free places."""
_STREAM: Final = 2

_MEMBER: Final = re.compile(r"^stream (\d{1,8})(?:, (\d{1,7}) Hz, (\d{1,2}) bit, legs: (\d{1,4}))?/[^/]+$")


def member_name(number: int, shown: str, bare: tuple[int, int, int] | None = None) -> str:
    """How a stream is named as a member: ``stream 12/Voice.wav``.

    Args:
        number: of the stream's entry in the directory.
        shown: what the file is called, without folders.
        bare: rate in hertz, bits and legs, where the stream holds nothing but samples, little-endian and interleaved.
    """
    how = ", {} Hz, {} bit, legs: {}".format(*bare) if bare is not None else ""
    return f"stream {number}{how}/{shown}"


class Stream(NamedTuple):
    """Where a stream lies.

    Args:
        starts: the places in the stream at which its stretches begin.
        at: where each begins in the file.
        size: how long the stream is, bytes.
        head: bytes that are read before it, which are not in the file.
    """

    starts: tuple[int, ...]
    at: tuple[int, ...]
    size: int
    head: bytes = b""


class _Entry(NamedTuple):
    kind: int
    start: int
    size: int


class Compound:
    """The directory of a compound file.

    Args:
        file: the file, seekable; it is read while streams are found, and not closed.
        where: how messages name it.

    Raises:
        BrokenFile: it is damaged.
        RefusedFile: its tables are too large.
    """

    def __init__(self, file: BinaryIO, where: str) -> None:
        self._file = file
        self._where = where
        self._length = file.seek(0, io.SEEK_END)
        file.seek(0)
        head = file.read(512)
        if len(head) < 512 or head[:8] != MAGIC:
            raise self._broken("it is no compound file, or it is cut short")
        _, major, order, shift, mini_shift, directory, cutoff, mini, _, chained = _HEADER.unpack_from(head, 24)
        if order != 0xFFFE or shift not in (9, 12) or mini_shift != 6 or major not in (3, 4):
            raise self._broken("the head of the compound file is damaged")
        self._shift, self._mini_shift, self._cutoff, self._wide = shift, mini_shift, cutoff, major == 4
        self._table = self._sectors_of_table(head, chained)
        self._directory = self._read(self._chain(directory, None))
        self._mini_start = mini
        self._mini: array[int] | None = None
        if len(self._directory) < _ENTRY.size:
            raise self._broken("the compound file has no directory")

    def over(self, file: BinaryIO) -> Self:
        """The same directory, with a handle on the file that is open."""
        self._file = file
        return self

    def _broken(self, what: str) -> BrokenFile:
        return BrokenFile(what, where=self._where, do="copy or export the file again")

    def _sectors_of_table(self, head: bytes, chained: int) -> array[int]:
        """The table that chains the sectors: for each the next."""
        listed = list(struct.unpack_from("<109I", head, 76))
        size = 1 << self._shift
        most = self._length // size + 1
        seen = 0
        while chained < _NONE:
            seen += 1
            if seen > most:
                raise self._broken("the list of its table's sectors runs in a circle")
            part = struct.unpack(f"<{size // 4}I", self._sector(chained))
            listed.extend(part[:-1])
            chained = part[-1]
        table = array("I")
        used = [one for one in listed if one < _NONE]
        if len(used) * size > min(MOST_TABLE, self._length + size):
            raise RefusedFile("the table of the compound file is larger than it can be", where=self._where)
        for one in used:
            table.frombytes(self._sector(one))
        if sys.byteorder == "big":
            table.byteswap()
        return table

    def _sector(self, number: int) -> bytes:
        size = 1 << self._shift
        self._file.seek((number + 1) << self._shift)
        data = self._file.read(size)
        # The last sector of a file may be cut where its stream ends.
        return data + bytes(size - len(data))

    def _chain(self, start: int, size: int | None) -> list[int]:
        """The sectors of a stream in their order; ``size`` bounds them where it is known."""
        found: list[int] = []
        most = len(self._table) if size is None else min(len(self._table), -(-size >> self._shift))
        while start < _NONE and len(found) < most:
            if start >= len(self._table):
                raise self._broken("a stream of the compound file leads out of it")
            found.append(start)
            start = self._table[start]
        if size is None and start < _NONE:
            raise self._broken("the directory of the compound file runs in a circle")
        return found

    def _read(self, sectors: list[int]) -> bytes:
        if len(sectors) << self._shift > MOST_TABLE:
            raise RefusedFile("the directory of the compound file is larger than any session needs", where=self._where)
        return b"".join(map(self._sector, sectors))

    def _entry(self, number: int) -> _Entry:
        kind, start, size = _ENTRY.unpack_from(self._directory, number * _ENTRY.size)
        return _Entry(kind, start, size if self._wide else size & 0xFFFFFFFF)

    def stream(self, name: str) -> Stream | None:
        """The stream that a member's name means; None where there is none.

        Raises:
            BrokenFile: the stream is damaged.
        """
        told = _MEMBER.match(name)
        if told is None or (int(told[1]) + 1) * _ENTRY.size > len(self._directory):
            return None
        entry = self._entry(int(told[1]))
        if entry.kind != _STREAM:
            return None
        if entry.size > self._length:
            raise self._broken(f"{name} is longer than the file")
        found = self._small(entry) if entry.size < self._cutoff else self._large(entry.start, entry.size)
        if told[2] is None:
            return found
        head = _wave_head(int(told[2]), int(told[3]), int(told[4]), entry.size)
        return found._replace(head=head) if head else None

    def _large(self, start: int, size: int) -> Stream:
        sectors = self._chain(start, size)
        if len(sectors) << self._shift < size:
            raise self._broken("a stream of the compound file ends before its size")
        return _laid(((number + 1) << self._shift for number in sectors), 1 << self._shift, size)

    def _small(self, entry: _Entry) -> Stream:
        """A stream that lies in the stream of small ones."""
        root = self._entry(0)
        home = self._large(root.start, root.size)
        if self._mini is None:
            self._mini = array("I")
            self._mini.frombytes(self._read(self._chain(self._mini_start, None)))
            if sys.byteorder == "big":
                self._mini.byteswap()
        places: list[int] = []
        number, step = entry.start, 1 << self._mini_shift
        while number < _NONE and len(places) * step < entry.size:
            at = number << self._mini_shift
            if number >= len(self._mini) or at >= home.size:
                raise self._broken("a stream of the compound file leads out of it")
            which = bisect_right(home.starts, at) - 1
            places.append(home.at[which] + at - home.starts[which])
            number = self._mini[number]
        if len(places) * step < entry.size:
            raise self._broken("a stream of the compound file ends before its size")
        return _laid(places, step, entry.size)


def _laid(places: Iterable[int], step: int, size: int) -> Stream:
    """Sectors in order as stretches, neighbours made one."""
    starts: list[int] = []
    at: list[int] = []
    done, after = 0, -1
    for place in places:
        if place != after:
            starts.append(done)
            at.append(place)
        done += step
        after = place + step
    return Stream(tuple(starts), tuple(at), size)


def _wave_head(rate: int, bits: int, legs: int, size: int) -> bytes:
    """The head of a wave file over bare samples: RIFF WAVE with ``fmt `` and ``data``; none where they make no frames.

    Samples beyond 4 GiB are left out.
    """
    frame = legs * (bits // 8)
    if not 0 < frame <= 0xFFFF:
        return b""
    length = min(size, 0xFFFFFFFF - 64) // frame * frame
    form = struct.pack("<HHIIHH", 1, legs, rate, (rate * frame) & 0xFFFFFFFF, frame, bits)
    sizes = b"RIFF" + struct.pack("<I", 36 + length) + b"WAVEfmt " + struct.pack("<I", 16)
    return sizes + form + b"data" + struct.pack("<I", length)


class StreamReader(InnerReader):
    """The bytes of one stream.

    Args:
        file: the compound file, opened for this reader alone; closed with it.
        stream: where the stream lies.
    """

    def __init__(self, file: BinaryIO, stream: Stream) -> None:
        super().__init__(file, len(stream.head) + stream.size)
        self._stream = stream

    def readinto(self, buffer: WriteableBuffer) -> int:
        """Fill ``buffer`` as far as the stream goes."""
        view = memoryview(buffer).cast("B")
        head, done = self._stream.head, 0
        wanted = min(len(view), max(0, self._size - self._at))
        while done < wanted:
            if self._at < len(head):
                data = head[self._at : self._at + wanted - done]
            else:
                data = self._stretch(self._at - len(head), wanted - done)
            if not data:
                break
            view[done : done + len(data)] = data
            done += len(data)
            self._at += len(data)
        return done

    def _stretch(self, at: int, wanted: int) -> bytes:
        starts = self._stream.starts
        which = bisect_right(starts, at) - 1
        end = starts[which + 1] if which + 1 < len(starts) else self._stream.size
        self._file.seek(self._stream.at[which] + at - starts[which])
        return self._file.read(min(wanted, end - at))
