"""Whether a file is whole: what its container, its pages and its coding say of themselves, held against what is there.

The decoding library passes over a good deal without a word: pages of an Ogg stream that are gone, a checksum of all
samples in a FLAC file, a member of an archive whose end it does not read. Each has a figure that tells, and here it is
asked. A plain WAV has none: what was lost inside it can only be seen in its samples.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterator
from typing import TYPE_CHECKING, BinaryIO, Final

from mixlint.errors import BrokenFile
from mixlint.media.audio import AudioFile
from mixlint.media.header import sniff
from mixlint.media.window import MemberReader

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_CHUNK: Final = 1 << 20
_MOST_PAGE: Final = 27 + 255 + 255 * 255
_TURNED: Final = bytes(int(f"{one:08b}"[::-1], 2) for one in range(256))
"""Each byte with its bits in reverse."""

MPEG_GRAIN: Final = 2 * 1152
"""Samples by which the length of coded MPEG audio may fall short of what was told before: two of its frames, which
hold nothing but the coder's delay."""

AGAIN: Final = "copy the file again from where it came from"


def check_bytes(file: BinaryIO, name: str) -> None:
    """Read what carries checksums of its own to the end: a member of an archive, the pages of an Ogg stream.

    Raises:
        BrokenFile: a checksum is wrong, or a page is missing.
    """
    if isinstance(file, MemberReader):
        file.seek(0)
        while file.read(_CHUNK):
            pass
        file.seek(0)
    if sniff(file) == "Ogg":
        _check_pages(file, name)
    file.seek(0)


def decode(file: BinaryIO, name: str) -> None:
    """Read a file to its end without measuring it.

    Raises:
        InputError: it is damaged or refused.
    """
    check_bytes(file, name)
    with AudioFile(file, name=name) as audio:
        for _ in whole_blocks(audio):
            pass


def _check_pages(file: BinaryIO, name: str) -> None:
    """Walk the pages of an Ogg stream (RFC 3533): each begins where the last one ended, sums up and is in its turn."""
    file.seek(0)
    held = b""
    at, ended = 0, False
    turns: dict[bytes, int] = {}
    while True:
        if len(held) < _MOST_PAGE:
            held += file.read(_CHUNK)
        if not held:
            return
        if held[:4] != b"OggS" or len(held) < 27:
            if ended:
                return  # what stands behind the last page is no part of the stream
            raise _broken(f"what stands at byte {at} is no page of the stream", name)
        size = 27 + held[26] + sum(held[27 : 27 + held[26]])
        page, held = held[:size], held[size:]
        if len(page) < size:
            raise _broken(f"the page at byte {at} is cut short", name)
        if _ogg_sum(page[:22] + bytes(4) + page[26:]) != int.from_bytes(page[22:26], "little"):
            raise _broken(f"the checksum of the page at byte {at} is wrong", name)
        stream, turn = page[14:18], int.from_bytes(page[18:22], "little")
        if page[5] & 2:  # a stream begins here
            turns.pop(stream, None)
        if stream in turns and turn != turns[stream] + 1:
            raise _broken(f"pages are missing before byte {at}", name)
        turns[stream], ended = turn, bool(page[5] & 4)
        at += size


def _ogg_sum(page: bytes) -> int:
    """The checksum of a page: the polynomial of ZIP with the bits in their other order, beginning and ending at 0."""
    turned = ~zlib.crc32(page.translate(_TURNED), 0xFFFFFFFF) & 0xFFFFFFFF
    return int(f"{turned:032b}"[::-1], 2)


def whole_blocks(audio: AudioFile) -> Iterator[NDArray[np.float32]]:
    """The blocks of a file, and at their end whether they were all that it should hold.

    Raises:
        BrokenFile: decoding stops early, or the samples are not those that a FLAC file was made of.
    """
    header = audio.header
    depth = header.bit_depth
    told = _Told(audio.flac_sum, depth) if audio.flac_sum and isinstance(depth, int) else None
    frames = 0
    for block in audio.blocks():
        frames += block.shape[1]
        if told is not None:
            told.feed(block)
        yield block
    grain = MPEG_GRAIN if header.form == "MPEG audio" else 0
    if audio.counted and frames + grain < header.frames:
        rate = header.sample_rate_hz
        raise _broken(f"only {frames / rate:.2f} of {header.frames / rate:.2f} s can be decoded", audio.name)
    if told is not None and not told.agrees():
        raise _broken("its samples are not those that its own checksum was made of", audio.name)


class _Told:
    """The checksum of all samples that a FLAC file carries (RFC 9639, 8.2), against what was decoded."""

    def __init__(self, told: bytes, bits: int) -> None:
        from hashlib import md5

        self._told = told
        self._bits = bits
        self._made = md5(usedforsecurity=False)

    def feed(self, block: NDArray[np.float32]) -> None:
        import numpy as np

        words = (block.T * np.float32(2.0 ** (self._bits - 1))).astype("<i4", order="C")
        width = (self._bits + 7) // 8
        self._made.update(words.view(np.uint8).reshape(-1, 4)[:, :width].tobytes())

    def agrees(self) -> bool:
        return self._made.digest() == self._told


def _broken(why: str, name: str) -> BrokenFile:
    return BrokenFile(f"the file is damaged: {why}", where=name, do=AGAIN)
