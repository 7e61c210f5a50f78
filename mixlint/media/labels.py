"""What a wave file says of its sound in its own chunks: the name of its track, its loudness, its time, its cues.

Sources: EBU Tech 3285 (``bext``, with the loudness fields of version 2), the iXML specification (track list), and the
cue chunk of the RIFF wave form, from memory. Everything is read within bounds and nothing is believed: a field is
compared with what is measured.
"""

from __future__ import annotations

import re
import struct
from collections.abc import Iterator
from dataclasses import dataclass
from typing import BinaryIO, Final

MOST_CHUNKS: Final = 4096
MOST_IXML: Final = 1 << 18
"""Bytes of an iXML chunk that are read: those of recorders have a few thousand."""

MOST_NAMES: Final = 64
_UNSET: Final = 0x7FFF
"""EBU Tech 3285: a loudness field that holds this is not set."""


@dataclass(frozen=True, slots=True)
class Labels:
    """What the chunks of a file say.

    Args:
        tracks: names in its iXML track list, in order.
        description: the description in its ``bext`` chunk.
        loudness_lufs: the loudness in its ``bext`` chunk; None where it gives none.
        true_peak_dbtp: the true peak there.
        stamp: samples since midnight at which it begins; None without a stamp.
        cues: how many cue points it has.
    """

    tracks: tuple[str, ...] = ()
    description: str = ""
    loudness_lufs: float | None = None
    true_peak_dbtp: float | None = None
    stamp: int | None = None
    cues: int = 0


def read_labels(file: BinaryIO) -> Labels:
    """Read what a wave file says of itself; empty for any other form, and as far as chunks are whole."""
    tracks: tuple[str, ...] = ()
    description, loudness, peak, stamp, cues = "", None, None, None, 0
    for name, length in _chunks(file):
        if name == b"bext" and length >= 602:
            body = file.read(602)
            if len(body) < 602:
                break
            description = body[:256].split(b"\0", 1)[0].decode("ascii", "replace").strip()
            low, high, version = struct.unpack("<IIH", body[338:348])
            stamp = (high << 32) | low
            if version >= 2:
                value, _, top = struct.unpack("<hhh", body[412:418])
                loudness, peak = _hundredths(value), _hundredths(top)
        elif name == b"iXML":
            tracks = _track_names(file.read(min(length, MOST_IXML)))
        elif name == b"cue " and length >= 4:
            body = file.read(4)
            cues = min(struct.unpack("<I", body)[0], length // 24) if len(body) == 4 else 0
    return Labels(tracks, description, loudness, peak, stamp, cues)


def _chunks(file: BinaryIO) -> Iterator[tuple[bytes, int]]:
    """Name and length of each chunk, the file standing at its body."""
    size = file.seek(0, 2)
    file.seek(0)
    head = file.read(12)
    if head[:4] not in (b"RIFF", b"RF64", b"BW64") or head[8:] != b"WAVE":
        return
    at, long_data = 12, 0
    for _ in range(MOST_CHUNKS):
        file.seek(at)
        found = file.read(8)
        if len(found) < 8:
            return
        name, length = found[:4], struct.unpack("<I", found[4:])[0]
        if name == b"ds64":
            body = file.read(16)
            long_data = struct.unpack("<8xQ", body)[0] if len(body) == 16 else 0
            file.seek(at + 8)
        yield name, length
        if name == b"data" and length == 0xFFFFFFFF:
            length = long_data or size
        at += 8 + length + (length & 1)
        if at + 8 > size:
            return


def _hundredths(value: int) -> float | None:
    return None if value == _UNSET or abs(value) > 20_000 else value / 100.0


_TRACK: Final = re.compile(rb"<NAME>\s*([^<]{1,200}?)\s*</NAME>")
"""Names in a track list are plain elements; no document of a stranger is given to an XML reader for them."""


def _track_names(body: bytes) -> tuple[str, ...]:
    start, end = body.find(b"<TRACK_LIST>"), body.find(b"</TRACK_LIST>")
    if start < 0 or end < start:
        return ()
    found = _TRACK.findall(body, start, end)[:MOST_NAMES]
    return tuple(one.decode("utf-8", "replace") for one in found if one)
