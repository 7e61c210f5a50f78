"""A stretch of a file read as a file of its own: where it stands, and how one moves in it."""

from __future__ import annotations

import io
from typing import BinaryIO


class InnerReader(io.RawIOBase):
    """What lies inside a file, from its first byte to its last; whoever derives from it says how it is filled.

    Args:
        file: the file, opened for this reader alone; closed with it.
        size: how many bytes there are.
    """

    def __init__(self, file: BinaryIO, size: int) -> None:
        super().__init__()
        self._file = file
        self._size = size
        self._at = 0

    def readable(self) -> bool:
        """Always."""
        return True

    def seekable(self) -> bool:
        """Always."""
        return True

    def tell(self) -> int:
        """The position, from the first byte of what lies inside."""
        return self._at

    def seek(self, offset: int, whence: int = io.SEEK_SET) -> int:
        """Move without reading anything."""
        base = {io.SEEK_SET: 0, io.SEEK_CUR: self._at, io.SEEK_END: self._size}[whence]
        if base + offset < 0:
            raise ValueError("a position before the start")
        self._at = base + offset
        return self._at

    def close(self) -> None:
        """Close the reader and its handle on the file."""
        if not self.closed:
            self._file.close()
        super().close()
