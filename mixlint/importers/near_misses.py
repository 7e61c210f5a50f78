"""Files that come near a session and are none: what they are, and what would work in their place.

They are known by open names of forms alone: by their first bytes, which decide, or by a suffix.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Final, NamedTuple

from mixlint.media.zip_directory import is_audio_name

_OPEN: Final = "export the session as .dawproject or AAF"
_STEMS: Final = "print its stems and name their folder"
_OWN: Final = (
    "write mixlint's own JSON by schemas/session.schema.json (mixlint convert PATH --out FILE shows it of any session)"
)
_ALL: Final = f"{_OPEN}, or {_STEMS}, or {_OWN}"


class NearMiss(NamedTuple):
    """One kind of file that is not read.

    ``what`` it is, a clause; ``do``: what would work; ``suffixes`` in lower case; ``sniff``: whether its first bytes
    tell it, or None where only the suffix does.
    """

    what: str
    do: str
    suffixes: tuple[str, ...]
    sniff: Callable[[bytes], bool] | None = None


def _begins(*starts: bytes) -> Callable[[bytes], bool]:
    return lambda head: head.startswith(starts)


def _timeline(head: bytes) -> bool:
    return head.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"{") and b'"OTIO_SCHEMA"' in head


_EVENT: Final = re.compile(rb"^\d{3,6} +\S+ +(?:V|B|NONE|A\d*|AA|AA/V|A\d?/V) +(?:C|D|W\d{3}|K\w*) ", re.MULTILINE)
"""An event of an edit decision list in the CMX 3600 layout: number, reel, track, kind of edit."""


def _edit_list(head: bytes) -> bool:
    return _EVENT.search(head) is not None


def _decision_list(head: bytes) -> bool:
    return head.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<ADL>")


def _midi(head: bytes) -> bool:
    return head.startswith(b"MThd") or (head.startswith(b"RIFF") and head[8:12] == b"RMID")


_CUTS: Final = "tells which clip lies where, and has no channels, sends, inserts or routing to check"

NEAR: Final = (
    NearMiss(f"this is an OpenTimelineIO timeline: it {_CUTS}", _ALL, (".otio", ".otioz", ".otiod"), _timeline),
    NearMiss(f"this is an edit decision list: it {_CUTS}", _ALL, (".edl",), _edit_list),
    NearMiss(f"this is an audio decision list (AES31-3): it {_CUTS}", _ALL, (".adl",), _decision_list),
    NearMiss(
        "this is a MIDI file: it holds notes, and no mix",
        f"{_OPEN} from the session that plays it, or {_STEMS}",
        (".mid", ".midi", ".smf", ".rmi", ".kar"),
        _midi,
    ),
    NearMiss(
        "this is an OMF container, an older form of interchange, which is not read",
        f"{_OPEN} in its place, or {_STEMS}",
        (".omf", ".omfi"),
    ),
    NearMiss(
        "this is an MXF container: it wraps pictures and sound, and holds no mix",
        f"{_OPEN}, or {_STEMS}",
        (".mxf",),
        _begins(b"\x06\x0e\x2b\x34\x02\x05\x01\x01\x0d\x01\x02\x01\x01"),  # SMPTE 377: a header partition's key
    ),
    NearMiss(
        "this is a compound file of another kind, and no AAF composition",
        _ALL,
        (),
        _begins(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"),
    ),
    NearMiss("this is a PDF, a printed page, and no session", _ALL, (".pdf",), _begins(b"%PDF-")),
)
"""The kinds that are known, the first that fits wins."""

LEFT_ALONE: Final = (".csv", ".tsv", ".xlsx", ".ods")
"""Tables, of which nothing is said here."""


def known_by_content(head: bytes) -> NearMiss | None:
    """The kind of a file by its first bytes."""
    return next((one for one in NEAR if one.sniff is not None and one.sniff(head)), None)


def near_miss(path: Path, head: bytes, members: tuple[str, ...] | None) -> NearMiss | None:
    """What a file is that no form of input fits; None where nothing tells.

    Args:
        path: the file; only its name is asked.
        head: its first bytes.
        members: the names in it, where it is a ZIP archive.
    """
    suffix = path.suffix.lower()
    if suffix in LEFT_ALONE:
        return None
    if not head:
        return NearMiss("the file is empty", "copy or export it again", ())
    if found := known_by_content(head) or next((one for one in NEAR if suffix in one.suffixes), None):
        return found
    if members is not None:
        return _archive(members)
    if _is_text(head):
        return NearMiss("this kind of file is not read: it is plain text", _ALL, ())
    return None


def _archive(members: tuple[str, ...]) -> NearMiss:
    """A ZIP archive without a project: by what lies in it, the likeliest thing that its owner wants."""
    inner = next((one for one in members if one.lower().endswith((".dawproject", ".aaf"))), None)
    if inner is not None:
        return NearMiss(f"this is a ZIP archive with a session in it ({inner})", "unpack it and name that file", ())
    if any(is_audio_name(one) for one in members):
        do = "unpack it and name the folder, to read it as stems"
        return NearMiss("this is a ZIP archive with audio and no project.xml at its root", do, ())
    return NearMiss("this is a ZIP archive without a project.xml at its root, and no session", _ALL, ())


def _is_text(head: bytes) -> bool:
    """Whether bytes read as text in UTF-8; a character that the end of ``head`` cuts off does not count against it."""
    try:
        text = head[:-3].decode("utf-8") if len(head) > 1024 else head.decode("utf-8")
    except UnicodeDecodeError as fault:
        if len(head) <= 1024 or fault.start < len(head) - 7:
            return False
        text = head[: fault.start].decode("utf-8")
    return not any(ord(one) < 32 and one not in "\t\n\r\f" for one in text)
