"""A seekable reader over one member of a ZIP archive, so that audio is read without extraction.

The length is answered from the directory. Small backward seeks are served from about 1 MiB that is remembered;
larger ones start the member again. Stored members are seeked directly.
"""

from __future__ import annotations

import zlib
from typing import TYPE_CHECKING, BinaryIO, Final

from mixlint.errors import BrokenFile, InputError
from mixlint.media.inner_reader import InnerReader
from mixlint.media.unpacking import STORED, Damaged, unpacker
from mixlint.media.zip_directory import Member

if TYPE_CHECKING:
    from _typeshed import WriteableBuffer

REMEMBERED: Final = 1 << 20
_CHUNK: Final = 1 << 16


class MemberReader(InnerReader):
    """The bytes of one member.

    Args:
        file: the archive, opened for this reader alone; closed with it.
        member: the member.
        where: how messages name it.
        hold: when true a fault ends the data early and is kept in ``failure`` instead of being raised. A C library
            that calls back into this reader needs that, since an exception cannot pass through it.
    """

    def __init__(self, file: BinaryIO, member: Member, where: str, *, hold: bool = False) -> None:
        super().__init__(file, member.size)
        self._member = member
        self._where = where
        self._hold = hold
        self.failure: InputError | None = None
        self._restart()

    def _restart(self) -> None:
        self._unpacker = unpacker(self._member.method)
        self._taken = 0  # packed bytes handed to the decompressor
        self._made = 0  # unpacked bytes it has given
        self._crc = 0
        self._recent = bytearray()  # the last bytes made, ending at _made

    def readinto(self, buffer: WriteableBuffer) -> int:
        """Fill ``buffer`` as far as the member goes."""
        view = memoryview(buffer).cast("B")
        wanted = min(len(view), max(0, self._size - self._at))
        if wanted == 0 or self.failure is not None:
            return 0
        try:
            done = self._stored(view, wanted) if self._member.method == STORED else self._unpacked(view, wanted)
        except BrokenFile as fault:
            self.failure = fault
            if not self._hold:
                raise
            return 0
        self._at += done
        return done

    def _stored(self, view: memoryview, wanted: int) -> int:
        self._file.seek(self._member.data_at + self._at)
        data = self._file.read(wanted)
        if len(data) < wanted:
            raise self._broken("the archive is cut short inside this member")
        view[:wanted] = data
        if self._made == self._at:  # read in order so far: keep the checksum going
            self._crc = zlib.crc32(data, self._crc)
            self._made += wanted
            self._check_whole()
        return wanted

    def _unpacked(self, view: memoryview, wanted: int) -> int:
        if self._at < self._made - len(self._recent):
            self._restart()
        while self._made < self._at + wanted:
            self._more()
            done = self._at + wanted
            if self._made >= done:
                break
            self._forget(self._at)
        start = self._at - (self._made - len(self._recent))
        view[:wanted] = self._recent[start : start + wanted]
        self._forget(self._made)
        return wanted

    def _more(self) -> None:
        """Unpack one more chunk into the remembered bytes, counting what comes out."""
        packed = b""
        if self._unpacker.hungry:
            left = self._member.packed - self._taken
            self._file.seek(self._member.data_at + self._taken)
            packed = self._file.read(min(_CHUNK, left))
            self._taken += len(packed)
        try:
            made = self._unpacker.unpack(packed, 4 * _CHUNK)
        except Damaged as fault:
            raise self._broken(str(fault)) from None
        if not made and (self._unpacker.ended or (not packed and self._unpacker.hungry)):
            raise self._broken("this member ends before the size the directory gives")
        self._made += len(made)
        if self._made > self._size:
            raise self._broken("this member is longer than the size the directory gives")
        self._crc = zlib.crc32(made, self._crc)
        self._recent += made
        self._check_whole()

    def _forget(self, needed_from: int) -> None:
        """Drop remembered bytes beyond the window, but nothing from ``needed_from`` on."""
        held_from = self._made - len(self._recent)
        drop = min(len(self._recent) - REMEMBERED, needed_from - held_from)
        if drop >= REMEMBERED // 4:
            del self._recent[:drop]

    def _check_whole(self) -> None:
        if self._made == self._size and self._crc != self._member.crc:
            raise self._broken("the checksum of this member is wrong")

    def _broken(self, what: str) -> BrokenFile:
        return BrokenFile(what, where=self._where, do="copy or export the file again")
