"""What an audio file says about itself, read without decoding it.

The chunk walk (:mod:`mixlint.media.chunks`) is our own because the decoding library shortens a truncated file without a
word: the length that the file declares and the length that is there are two facts.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass
from typing import BinaryIO, Final, Literal

from mixlint.media.chunks import aiff_chunks, chunks
from mixlint.session import Unknown

_MAGIC: Final[tuple[tuple[bytes, str], ...]] = (
    (b"RIFF", "WAV"),
    (b"RIFX", "WAV"),
    (b"RF64", "RF64"),
    (b"BW64", "BW64"),
    (b"fLaC", "FLAC"),
    (b"FORM", "AIFF"),
    (b"OggS", "Ogg"),
    (b"caff", "CAF"),
    (b"riff\x2e\x91\xcf\x11", "W64"),
    (b".snd", "AU"),
    (b"ID3", "MPEG audio"),
)


@dataclass(frozen=True, slots=True)
class Header:
    """An audio file's own account of itself.

    Args:
        form: ``WAV``, ``RF64``, ``BW64``, ``FLAC``, ``AIFF``, ``Ogg``, ``CAF``, ``W64``,
            ``AU`` or ``MPEG audio``.
        subtype: how samples are stored, in the decoding library's word (``PCM_24``, ``FLOAT``, ``VORBIS`` …).
        legs: the file's channels.
        sample_rate_hz: samples per second.
        frames: samples per leg that can be read.
        declared_frames: samples per leg that the file claims to hold; Unknown where it leaves that open.
        bit_depth: word length of linear samples; Unknown for coded ones.
        is_float: samples are stored in floating point, so that 0 dBFS is no ceiling.
        lossy: the coding throws signal away.
        time_reference: samples since midnight at which the file begins (EBU Tech 3285, ``bext``), or Unknown.
        has_ixml: the file carries an ``iXML`` chunk.
        has_adm: the file carries a chunk that describes its legs, or may do so (ITU-R BS.2088): ``chna``, ``axml`` or
            ``bxml``.
        closed: false when a stream lacks its closing page, so that it was cut at an unknown place.
    """

    form: str
    subtype: str
    legs: int
    sample_rate_hz: int
    frames: int
    declared_frames: int | Unknown
    bit_depth: int | Unknown
    is_float: bool
    lossy: bool
    time_reference: int | Unknown
    has_ixml: bool
    has_adm: bool = False
    closed: bool = True

    @property
    def duration_s(self) -> float:
        """The length that can be read, seconds."""
        return self.frames / self.sample_rate_hz

    @property
    def missing_frames(self) -> int:
        """Samples per leg that the file declares and does not hold; above 0 the file is cut short."""
        if isinstance(self.declared_frames, Unknown):
            return 0
        return max(0, self.declared_frames - self.frames)

    @property
    def truncated(self) -> bool:
        """True when the file ends before the length it declares."""
        return self.missing_frames > 0 or not self.closed


@dataclass(slots=True)
class Walk:
    """What the chunk walk found; sizes in bytes. ``data_declared`` None means the writer left it open; ``samples_sum``
    is the MD5 of all samples, empty where there is none; ``counted`` is false where the length is only estimated from
    the size of the file."""

    form: str
    block_align: int = 0
    bits: int = 0
    data_at: int | None = None
    data_declared: int | None = None
    frames_declared: int | None = None
    time_reference: int | None = None
    has_ixml: bool = False
    has_adm: bool = False
    closed: bool = True
    left_at_zero: bool = False
    samples_sum: bytes = b""
    counted: bool = True
    order: Literal["little", "big"] = "little"


def sniff(file: BinaryIO) -> str | None:
    """Name the form of an audio file by its first bytes, or None when it is none that is read here.

    Only these forms go to the decoding library, which knows many rarer ones with less tested parsers.
    """
    file.seek(0)
    head = file.read(16)
    for magic, form in _MAGIC:
        if not head.startswith(magic):
            continue
        if form == "AIFF" and head[8:12] not in (b"AIFF", b"AIFC"):
            return None
        if form in ("WAV", "RF64", "BW64") and head[8:12] != b"WAVE":
            return None
        return form
    # MPEG audio without a tag: eleven set bits, layer III, neither reserved bit rate nor reserved rate.
    if len(head) >= 4 and head[0] == 0xFF and head[1] & 0xE6 == 0xE2 and head[2] >> 4 != 15 and head[2] & 12 != 12:
        return "MPEG audio"
    return None


def walk(file: BinaryIO, form: str, size: int) -> Walk:
    """Walk the chunks of ``file`` (``size`` bytes) as far as its form has them.

    The walk is bounded: at most so many chunks (:mod:`mixlint.media.chunks`), small reads, sizes checked against the
    file's own.
    """
    found = Walk(form)
    if form in ("WAV", "RF64", "BW64"):
        _walk_riff(file, found)
    elif form == "AIFF":
        _walk_aiff(file, found)
    elif form == "FLAC":
        _walk_flac(file, found)
    elif form == "Ogg":
        _ogg_end(file, size, found)
    elif form == "MPEG audio":
        _count_mpeg(file, found)
    return found


def _walk_riff(file: BinaryIO, found: Walk) -> None:
    for chunk in chunks(file):
        order = chunk.order
        found.order = "big" if order == ">" else "little"
        if chunk.name == b"fmt ":
            body = file.read(20)
            if len(body) >= 16:
                tag, found.block_align, found.bits = struct.unpack(order + "H10x2H", body[:16])
                if tag == 0xFFFE and len(body) == 20 and (valid := struct.unpack(order + "18xH", body)[0]) > 0:
                    found.bits = min(valid, found.bits)
        elif chunk.name == b"data" and found.data_at is None:
            found.data_at = chunk.at
            found.data_declared = chunk.stated
            found.left_at_zero = chunk.stated is None and chunk.written == 0
        elif chunk.name == b"bext" and chunk.length >= 346:
            body = file.read(346)
            if len(body) == 346:
                low, high = struct.unpack(order + "338x2I", body)
                found.time_reference = (high << 32) | low
        elif chunk.name == b"iXML":
            found.has_ixml = True
        elif chunk.name in (b"chna", b"axml", b"bxml"):
            found.has_adm = True


def _walk_aiff(file: BinaryIO, found: Walk) -> None:
    for chunk in aiff_chunks(file):
        if chunk.name == b"COMM":
            body = file.read(8)
            if len(body) == 8:
                legs, found.frames_declared, found.bits = struct.unpack(">HIH", body)
                found.block_align = legs * ((found.bits + 7) // 8)
        elif chunk.name == b"SSND":
            found.data_at = chunk.at + 8
            found.data_declared = max(0, chunk.length - 8)


def _walk_flac(file: BinaryIO, found: Walk) -> None:
    """STREAMINFO comes first: 36 bits of total samples after 20 of rate, 3 of legs and 5 of depth (RFC 9639)."""
    file.seek(4)
    body = file.read(38)
    if len(body) == 38 and body[0] & 0x7F == 0:
        packed = int.from_bytes(body[14:22], "big")
        found.bits = ((packed >> 36) & 0x1F) + 1
        found.frames_declared = (packed & 0xFFFFFFFFF) or None
        found.samples_sum = body[22:38] if any(body[22:38]) else b""


def _ogg_end(file: BinaryIO, size: int, found: Walk) -> None:
    """The last page of an Ogg stream carries the end-of-stream flag (RFC 3533); without it the file was cut."""
    start = max(0, size - 131_072)  # two of the longest pages there can be
    file.seek(start)
    tail = file.read(size - start)
    last = tail.rfind(b"OggS")
    found.closed = last >= 0 and last + 27 <= len(tail) and bool(tail[last + 5] & 4)


def _count_mpeg(file: BinaryIO, found: Walk) -> None:
    """The first frame behind the tag says how many there are, where the coder wrote that down."""
    file.seek(0)
    head = file.read(10)
    start = 0
    if head[:3] == b"ID3" and len(head) == 10:
        start = 10 + sum((byte & 0x7F) << shift for byte, shift in zip(head[6:], (21, 14, 7, 0), strict=True))
    file.seek(start)
    first = file.read(2048)
    found.counted = any(word in first for word in (b"Xing", b"Info", b"VBRI"))
