"""What a wave file says of its sound in its own chunks: the names of its tracks, its loudness, its time, its cues.

Sources: EBU Tech 3285 (``bext``, with the loudness fields of version 2), the iXML specification (track list), and the
chunks ``cue `` and ``LIST`` of type ``adtl`` (``labl``, ``ltxt``, ``note``) of the RIFF wave form (Multimedia
Programming Interface and Data Specification 1.0). Everything is read within bounds and nothing is believed: a field is
compared with what is measured.
"""

from __future__ import annotations

import re
import struct
from dataclasses import dataclass
from html import unescape
from typing import BinaryIO, Final, NamedTuple

from mixlint.media.chunks import Chunk, Order, chunks

MOST_IXML: Final = 1 << 18
"""Bytes of an iXML chunk that are read: those of recorders have a few thousand."""

MOST_LIST: Final = 1 << 18
"""Bytes of a list of labels that are read."""

MOST_NAMES: Final = 64
MOST_CUES: Final = 4096
MOST_LETTERS: Final = 200
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
    """A cue point: at which sample of the file it stands, and its label, empty for none."""

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
    texts: dict[int, dict[bytes, str]] = {}
    for chunk in chunks(file):
        order = chunk.order
        if chunk.name == b"bext" and chunk.there >= _BEXT:
            body = file.read(_BEXT)
            description = _text(body[:256])
            low, high, version = struct.unpack_from(order + "IIH", body, 338)
            stamp = (high << 32) | low
            figures = struct.unpack_from(order + "5h", body, 412)
            if version >= 2 and any(figures):  # all zero: a writer that took the room of reserved bytes
                stated = Stated(*map(_hundredths, figures))
        elif chunk.name == b"iXML":
            tracks = _track_names(file.read(min(chunk.there, MOST_IXML)))
        elif chunk.name == b"cue ":
            places = _cue_places(file, chunk)
        elif chunk.name == b"LIST":
            for one, theirs in _associated(file.read(min(chunk.there, MOST_LIST)), order).items():
                texts.setdefault(one, {}).update(theirs)
    cues = sorted(Cue(sample, _named(texts.get(one, {}))) for one, sample in places)
    return Labels(tracks, description, stated, stamp, tuple(cues))


def _hundredths(value: int) -> float | None:
    return None if value == _UNSET or abs(value) > _MOST_HUNDREDTHS else value / 100.0


def _text(body: bytes) -> str:
    """A text that ends at its first zero: UTF-8 by today's writers, else the one-byte letters of the RIFF form."""
    plain = body.split(b"\0", 1)[0]
    try:
        return plain.decode("utf-8").strip()
    except UnicodeDecodeError:
        return plain.decode("latin-1").strip()


def _cue_places(file: BinaryIO, chunk: Chunk) -> list[tuple[int, int]]:
    """The number of each cue point and the sample it stands at: entries of 24 bytes, the sample in their last four."""
    head = file.read(min(chunk.there, 4))
    if len(head) < 4:
        return []
    count = min(struct.unpack(chunk.order + "I", head)[0], (chunk.there - 4) // 24, MOST_CUES)
    body = file.read(24 * count)
    return list(struct.iter_unpack(chunk.order + "I16xI", body[: len(body) // 24 * 24]))


_BEFORE_TEXT: Final = {b"labl": 4, b"ltxt": 20, b"note": 4}
"""Bytes of each before its text: the number of the cue point; in ``ltxt`` also the length of a stretch, its purpose,
country, language, dialect and code page. A title comes before the text of a stretch, and that before a comment."""


def _associated(body: bytes, order: Order) -> dict[int, dict[bytes, str]]:
    """The texts of an associated data list, by the number of their cue point and by their kind."""
    found: dict[int, dict[bytes, str]] = {}
    if body[:4] != b"adtl":
        return found
    at = 4
    while at + 12 <= len(body) and len(found) < MOST_CUES:
        name, length, one = struct.unpack_from(order + "4sII", body, at)
        before = _BEFORE_TEXT.get(name)
        if before is not None and length > before:
            text = _text(body[at + 8 + before : at + 8 + length])
            if text:
                found.setdefault(one, {})[name] = text[:MOST_LETTERS]
        at += 8 + length + (length & 1)
    return found


def _named(texts: dict[bytes, str]) -> str:
    """What a cue point is called."""
    return next((texts[kind] for kind in _BEFORE_TEXT if kind in texts), "")


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
