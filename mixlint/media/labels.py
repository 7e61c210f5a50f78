"""What a wave file says of its sound in its own chunks: the names of its tracks, its loudness, its time, its cues.

Sources: EBU Tech 3285 (``bext``, with the loudness fields of version 2), the iXML specification (track list), and the
chunks ``cue `` and ``LIST`` of type ``adtl`` of the RIFF wave form (Multimedia Programming Interface and Data
Specification 1.0). Everything is read within bounds and nothing is believed: a field is compared with what is measured.
"""

from __future__ import annotations

import re
import struct
from dataclasses import dataclass
from html import unescape
from typing import BinaryIO, Final, NamedTuple

from mixlint.media.chunks import Chunk, chunks

MOST_IXML: Final = 1 << 18
"""Bytes of an iXML chunk that are read: those of recorders have a few thousand."""

MOST_LIST: Final = 1 << 18
"""Bytes of a list of labels that are read."""

MOST_NAMES: Final = 64
MOST_CUES: Final = 4096
_BEXT: Final = 602
_UNSET: Final = 0x7FFF
"""EBU Tech 3285: a loudness field that holds this is not set."""

_MOST_HUNDREDTHS: Final = 9999
"""EBU Tech 3285, version 2: the fields hold −99.99 … 99.99, and what lies beyond is to be left alone."""


class Stated(NamedTuple):
    """What somebody measured and wrote down of a programme; None for what is not written.

    Args:
        integrated_lufs: its loudness.
        range_lu: its loudness range.
        true_peak_dbtp: its highest true peak.
        momentary_lufs: its highest momentary loudness.
        short_term_lufs: its highest short-term loudness.
    """

    integrated_lufs: float | None = None
    range_lu: float | None = None
    true_peak_dbtp: float | None = None
    momentary_lufs: float | None = None
    short_term_lufs: float | None = None


NOTHING_STATED: Final = Stated()


class Cue(NamedTuple):
    """A cue point: at which sample it stands, and its label, empty for none."""

    sample: int
    label: str = ""


@dataclass(frozen=True, slots=True)
class Labels:
    """What the chunks of a file say.

    Args:
        tracks: names in its iXML track list, in order.
        description: the description in its ``bext`` chunk.
        stated: the loudness fields of its ``bext`` chunk, in their order.
        stamp: samples since midnight at which it begins; None without a stamp.
        cues: its cue points in the order of time, as far as they are whole.
    """

    tracks: tuple[str, ...] = ()
    description: str = ""
    stated: Stated = NOTHING_STATED
    stamp: int | None = None
    cues: tuple[Cue, ...] = ()


def read_labels(file: BinaryIO) -> Labels:
    """Read what a wave file says of itself; empty for any other form, and as far as chunks are whole."""
    found = Labels()
    tracks, description, stated, stamp = found.tracks, found.description, found.stated, found.stamp
    places: list[tuple[int, int]] = []
    names: dict[int, str] = {}
    for chunk in chunks(file):
        if chunk.name == b"bext" and chunk.there >= _BEXT:
            body = file.read(_BEXT)
            description = body[:256].split(b"\0", 1)[0].decode("ascii", "replace").strip()
            low, high, version = struct.unpack_from("<IIH", body, 338)
            stamp = (high << 32) | low
            figures = struct.unpack_from("<5h", body, 412)
            if version >= 2 and any(figures):  # all zero: a writer that took the room of reserved bytes
                stated = Stated(*map(_hundredths, figures))
        elif chunk.name == b"iXML":
            tracks = _track_names(file.read(min(chunk.there, MOST_IXML)))
        elif chunk.name == b"cue ":
            places = _cue_places(file, chunk)
        elif chunk.name == b"LIST":
            names |= _labels(file.read(min(chunk.there, MOST_LIST)))
    cues = sorted(Cue(sample, names.get(one, "")) for one, sample in places)
    return Labels(tracks, description, stated, stamp, tuple(cues))


def _hundredths(value: int) -> float | None:
    return None if value == _UNSET or abs(value) > _MOST_HUNDREDTHS else value / 100.0


def _cue_places(file: BinaryIO, chunk: Chunk) -> list[tuple[int, int]]:
    """The number of each cue point and the sample it stands at: entries of 24 bytes, the sample in their last four."""
    head = file.read(min(chunk.there, 4))
    if len(head) < 4:
        return []
    count = min(struct.unpack("<I", head)[0], (chunk.there - 4) // 24, MOST_CUES)
    body = file.read(24 * count)
    return [(one, sample) for one, sample in struct.iter_unpack("<I16xI", body[: len(body) // 24 * 24])]


def _labels(body: bytes) -> dict[int, str]:
    """The labels (``labl``) of an associated data list, by the number of their cue point."""
    found: dict[int, str] = {}
    if body[:4] != b"adtl":
        return found
    at = 4
    while at + 12 <= len(body) and len(found) < MOST_CUES:
        name, length, one = struct.unpack_from("<4sII", body, at)
        if name == b"labl" and length > 4:
            text = body[at + 12 : at + 8 + length].split(b"\0", 1)[0]
            found[one] = text[:200].decode("utf-8", "replace").strip()
        at += 8 + length + (length & 1)
    return found


_TRACK: Final = re.compile(rb"<NAME>\s*([^<]{1,200}?)\s*</NAME>")
"""Names in a track list are plain elements; no document of a stranger is given to an XML reader for them."""


def _track_names(body: bytes) -> tuple[str, ...]:
    if body[:2] in (b"\xff\xfe", b"\xfe\xff"):  # "encoded in any unicode encoding"
        body = body.decode("utf-16", "replace").encode()
    start, end = body.find(b"<TRACK_LIST>"), body.find(b"</TRACK_LIST>")
    if start < 0 or end < start:
        return ()
    found = _TRACK.findall(body, start, end)[:MOST_NAMES]
    return tuple(unescape(one.decode("utf-8", "replace")) for one in found if one)
