"""How the members of a ZIP archive are packed, and one way to unpack them all, a bounded piece at a time.

The numbers of the methods and the header that stands before LZMA data are those of the published ZIP format
(APPNOTE 6.3.10, sections 4.4.5 and 5.8). Unpacked are the methods that Python's own library unpacks.
"""

from __future__ import annotations

import bz2
import lzma
import struct
import sys
import zlib
from typing import Final, Protocol

STORED: Final = 0
_DEFLATED: Final = 8
_BZIP2: Final = 12
_LZMA: Final = 14
_ZSTANDARD: Final = 93
DICTIONARY: Final = 64 << 20
"""The most bytes that unpacking a member may look back on: what the strongest usual setting asks for."""
READABLE: Final = frozenset(
    {STORED, _DEFLATED, _BZIP2, _LZMA} | ({_ZSTANDARD} if sys.version_info >= (3, 14) else set())
)
METHODS: Final = {9: "Deflate64", _ZSTANDARD: "Zstandard", 95: "XZ", 96: "JPEG", 97: "WavPack", 98: "PPMd"}
"""Names of methods that may not be readable, for messages (APPNOTE 4.4.5)."""


class Damaged(Exception):
    """The packed bytes do not follow their method, or ask for more than is given; the text is the message."""

    def __init__(self, says: str = "the packed data of this member are damaged") -> None:
        super().__init__(says)


class Unpacker(Protocol):
    """Packed bytes in, at most so many unpacked bytes out."""

    @property
    def ended(self) -> bool:
        """True when the packed data have said that they end."""

    @property
    def hungry(self) -> bool:
        """True when nothing more comes out before packed bytes are given."""

    def unpack(self, packed: bytes, at_most: int) -> bytes:
        """Unpack.

        Args:
            packed: the next packed bytes; empty while it is not hungry.
            at_most: how many bytes may come out.

        Raises:
            Damaged: the packed bytes do not follow their method.
        """


class _Deflate:
    def __init__(self) -> None:
        self._inflate = zlib.decompressobj(-15)

    @property
    def ended(self) -> bool:
        return self._inflate.eof

    @property
    def hungry(self) -> bool:
        return not self._inflate.unconsumed_tail

    def unpack(self, packed: bytes, at_most: int) -> bytes:
        try:
            return self._inflate.decompress(self._inflate.unconsumed_tail or packed, at_most)
        except zlib.error:
            raise Damaged from None


class _Decompressor(Protocol):
    """What the decompressors of ``bz2``, ``lzma`` and ``compression.zstd`` have in common."""

    @property
    def eof(self) -> bool: ...

    @property
    def needs_input(self) -> bool: ...

    def decompress(self, data: bytes, _at_most: int = -1, /) -> bytes: ...


class _Library:
    """One of the library's decompressors, whose faults are these."""

    def __init__(self, decompressor: _Decompressor, faults: tuple[type[Exception], ...]) -> None:
        self._decompressor = decompressor
        self._faults = faults

    @property
    def ended(self) -> bool:
        return self._decompressor.eof

    @property
    def hungry(self) -> bool:
        return self._decompressor.needs_input

    def unpack(self, packed: bytes, at_most: int) -> bytes:
        if self.ended:
            return b""
        try:
            return self._decompressor.decompress(packed, at_most)
        except self._faults:
            raise Damaged from None


class _Lzma:
    """LZMA data behind the header that a ZIP member gives them: version, length of the properties, properties."""

    def __init__(self) -> None:
        self._head = b""
        self._body: _Library | None = None

    @property
    def ended(self) -> bool:
        return self._body is not None and self._body.ended

    @property
    def hungry(self) -> bool:
        return self._body is None or self._body.hungry

    def unpack(self, packed: bytes, at_most: int) -> bytes:
        if self._body is not None:
            return self._body.unpack(packed, at_most)
        self._head += packed
        if len(self._head) < 9:
            return b""
        length, settings, dictionary = struct.unpack_from("<xxHBL", self._head)
        if length != 5 or settings >= 9 * 5 * 5:
            raise Damaged
        if dictionary > DICTIONARY:
            raise Damaged(f"this member can only be unpacked with {dictionary} bytes held, more than {DICTIONARY}")
        chain = {
            "id": lzma.FILTER_LZMA1, "dict_size": dictionary,
            "lc": settings % 9, "lp": settings // 9 % 5, "pb": settings // 45,
        }  # fmt: skip
        try:
            raw = lzma.LZMADecompressor(lzma.FORMAT_RAW, filters=[chain])
        except (lzma.LZMAError, ValueError):
            raise Damaged from None
        self._body = _Library(raw, (lzma.LZMAError,))
        rest, self._head = self._head[9:], b""
        return self._body.unpack(rest, at_most)


def _zstandard() -> Unpacker:
    if sys.version_info >= (3, 14):
        from compression import zstd

        most = {zstd.DecompressionParameter.window_log_max: DICTIONARY.bit_length() - 1}
        return _Library(zstd.ZstdDecompressor(options=most), (zstd.ZstdError,))
    raise Damaged  # the directory refuses the method before


def unpacker(method: int) -> Unpacker:
    """A fresh unpacker.

    Args:
        method: one of :data:`READABLE` that packs at all.
    """
    if method == _BZIP2:
        return _Library(bz2.BZ2Decompressor(), (OSError,))
    if method == _LZMA:
        return _Lzma()
    return _zstandard() if method == _ZSTANDARD else _Deflate()
