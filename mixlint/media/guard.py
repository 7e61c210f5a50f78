"""An audio file as the decoding library sees it through its callbacks."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any, BinaryIO, Final

from mixlint.errors import BrokenFile, RefusedFile
from mixlint.media.header import Walk

FURTHEST: Final = 2**63 - 1
"""The last place of a file that the library and the system count with (64-bit offsets, POSIX ``off_t``)."""


class Guard:
    """A file as the decoding library sees it.

    The library calls back from C, where an exception would be printed and lost: the first one is held here and
    raised once the call has returned. Some bytes may be presented otherwise than they stand in the file.
    """

    def __init__(self, file: BinaryIO) -> None:
        self._file = file
        self.held: BaseException | None = None
        self.present: dict[int, bytes] = {}

    def read(self, count: int = -1) -> bytes:
        """Read as a file does; nothing after trouble."""
        if self.held is not None:
            return b""
        try:
            at = self._file.tell() if self.present else 0
            parts = []
            while count and (part := self._file.read(count)):
                # A raw reader may give less than asked for before its end, which the library takes for the end.
                parts.append(part)
                count = -1 if count < 0 else count - len(part)
            data = b"".join(parts)
            for place, other in self.present.items():
                if at < place + len(other) and place < at + len(data):
                    mended = bytearray(data)
                    for byte, value in enumerate(other, place - at):
                        if 0 <= byte < len(mended):
                            mended[byte] = value
                    data = bytes(mended)
        except BaseException as trouble:  # noqa: BLE001 - raised again by AudioFile outside the C call
            self.held = trouble
            return b""
        return data

    def readinto(self, target: Any) -> int:
        """Read into a buffer."""
        data = self.read(len(target))
        target[: len(data)] = data
        return len(data)

    def seek(self, offset: int, whence: int = os.SEEK_SET) -> int:
        """Move; the place is returned.

        A move before the beginning, or further than any file reaches, which a lying header can cause, moves nothing.
        """
        try:
            base = 0
            if whence == os.SEEK_CUR:
                base = self._file.tell()
            elif whence == os.SEEK_END:
                base = self._file.seek(0, os.SEEK_END)
            return self._file.seek(base + offset) if 0 <= base + offset <= FURTHEST else self._file.tell()
        except BaseException as trouble:  # noqa: BLE001 - raised again by AudioFile outside the C call
            self.held = self.held or trouble
            return 0

    def tell(self) -> int:
        """The place."""
        try:
            return self._file.tell()
        except BaseException as trouble:  # noqa: BLE001 - raised again by AudioFile outside the C call
            self.held = self.held or trouble
            return 0


def presented(form: str, found: Walk, size: int) -> dict[int, bytes]:
    """What the decoding library must see in place of the file's own bytes, by position.

    It does not know BW64, which is RF64 under another name (ITU-R BS.2088), and it reads nothing where a writer
    that could not go back left both sizes at 0.
    """
    if form == "BW64":
        return {0: b"RF64"}
    if form == "WAV" and found.left_at_zero and found.data_at is not None:
        left = min(size - found.data_at, 0xFFFFFFFF)
        return {found.data_at - 4: left.to_bytes(4, found.order)}
    return {}


def open_regular(path: Path, name: str) -> BinaryIO:
    """Open a regular file; a pipe or a device could block for ever."""
    try:
        if not path.is_file():
            raise RefusedFile("this is no regular file" if path.exists() else "the file is not there", where=name)
        return open(path, "rb")
    except OSError as trouble:
        raise BrokenFile(f"the file cannot be opened: {trouble.strerror}", where=name) from trouble
