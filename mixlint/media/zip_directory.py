"""The directory of a ZIP archive, read with distrust: what is listed must be what is there.

Nothing is ever extracted. The layout is the public ZIP format (end record, directory, local headers), read here
with ``struct`` so that no check depends on the version of a library.
"""

from __future__ import annotations

import operator
import re
import struct
from dataclasses import dataclass
from typing import BinaryIO, Final, NamedTuple

from mixlint.errors import BrokenFile, MixlintError, RefusedFile
from mixlint.media.unpacking import METHODS, READABLE, STORED

_END = b"PK\x05\x06"
_END64 = b"PK\x06\x06"
_LOCATOR64 = b"PK\x06\x07"
_ENTRY = struct.Struct("<4s4B4HL2L5H2L")
_LOCAL = struct.Struct("<4s2B4HL2L2H")
_FULL16, _FULL32 = 0xFFFF, 0xFFFFFFFF
_FULL = (_FULL16, _FULL16, _FULL16, _FULL16, _FULL32, _FULL32)
"""What the figures of an end record say when the large record alone holds them."""
_TAIL = 22 + 65_535
"""The most that an end record takes up with its comment, in bytes."""
_JUNK = re.compile(r"(^|/)(__MACOSX(/|$)|\._[^/]*$|\.DS_Store$|Thumbs\.db$|desktop\.ini$)", re.IGNORECASE)
_DRIVE = re.compile(r"^[A-Za-z]:")


@dataclass(frozen=True, slots=True)
class Limits:
    """What a container may hold. Sizes in bytes.

    ``ratio`` is the most a member may grow when unpacked, asked of members larger than ``ratio_from``; silent audio
    packs very well, so recognised audio is asked only from ``audio_ratio_from`` on.
    """

    archive: int = 64 << 30
    members: int = 20_000
    directory: int = 16 << 20
    member: int = 16 << 30
    total: int = 128 << 30
    ratio: int = 250
    ratio_from: int = 1 << 20
    audio_ratio_from: int = 2 << 30


AUDIO_SUFFIXES: Final = frozenset(
    {
        ".wav", ".wave", ".bwf", ".rf64", ".w64", ".aif", ".aiff", ".aifc", ".flac", ".ogg", ".opus", ".mp3", ".caf",
        ".au",
    }
)  # fmt: skip
"""What counts as audio by name: the formats libsndfile reads (https://libsndfile.github.io/libsndfile/formats.html)."""


def is_audio_name(name: str) -> bool:
    """True when the name ends like an audio file."""
    dot = name.rfind(".")
    return dot >= 0 and name[dot:].lower() in AUDIO_SUFFIXES


class Member(NamedTuple):
    """One member: its cleaned name, how it is packed, and where its bytes lie in the archive."""

    name: str
    method: int
    crc: int
    packed: int
    size: int
    header_at: int
    data_at: int


class _Entry(NamedTuple):
    raw_name: bytes
    flags: int
    method: int
    crc: int
    packed: int
    size: int
    header_at: int


def is_junk(name: str) -> bool:
    """True for members that operating systems leave behind and that belong to no session."""
    return _JUNK.search(name) is not None


def clean_name(name: str) -> str | None:
    """A relative name with forward slashes, or None when it is absolute, has a drive, climbs or holds a NUL."""
    plain = name.replace("\\", "/")
    if not plain or "\x00" in plain or plain.startswith("/") or _DRIVE.match(plain):
        return None
    parts = [part for part in plain.split("/") if part not in ("", ".")]
    if not parts or ".." in parts:
        return None
    return "/".join(parts)


def read_directory(file: BinaryIO, archive: str, limits: Limits) -> tuple[dict[str, Member], tuple[str, ...]]:
    """The members of a ZIP archive by name, and remarks about it.

    Args:
        file: the archive, seekable.
        archive: its name, for messages.
        limits: what it may hold.

    Raises:
        RefusedFile: a limit is passed or a forbidden construct is used.
        BrokenFile: the archive is damaged or cut short.
    """
    length = file.seek(0, 2)
    if length > limits.archive:
        raise _refused(f"the archive is larger than {limits.archive} bytes", archive)
    count, size, start, shift, after = _end_record(file, length, archive)
    if count > limits.members:
        raise _refused(f"the archive lists {count} members, more than {limits.members}", archive)
    if size > limits.directory:
        raise _refused("the archive's directory is larger than any session needs", archive)
    strays = ((shift, "before"), (after, "behind"))
    remarks = tuple(f"{n} bytes stand {where} the archive; they were passed over." for n, where in strays if n)
    file.seek(start)
    entries = _entries(file.read(size), count, archive)
    members: dict[str, Member] = {}
    spans: list[tuple[int, int]] = []
    total = 0
    for entry in entries:
        member = _member(file, entry, shift, archive, limits)
        spans.append((member.header_at, member.data_at + member.packed))
        total += member.size
        if total > limits.total:
            raise _refused(f"the members together unpack to more than {limits.total} bytes", archive)
        if entry.raw_name.endswith((b"/", b"\\")) or is_junk(member.name):
            continue
        if member.name in members:
            raise _refused("two members have the same name", f"{archive}!{member.name}")
        members[member.name] = member
    _no_overlap(spans, start, archive)
    return members, remarks


def is_archive(file: BinaryIO) -> bool:
    """True when a seekable file begins or ends like a ZIP archive; bytes may stand before one."""
    file.seek(0)
    if file.read(2) == _END[:2]:
        return True
    tail, _ = _tail(file, file.seek(0, 2))
    return _end_in(tail) >= 0


def _tail(file: BinaryIO, length: int) -> tuple[bytes, int]:
    """The bytes at the end in which an end record with its comment can lie, and where they begin."""
    tail_at = max(0, length - _TAIL)
    file.seek(tail_at)
    return file.read(length - tail_at), tail_at


def _end_in(tail: bytes) -> int:
    """Where the end record begins whose comment ends with the file, else the only one whose comment fits, or −1."""
    fitting: list[int] = []
    found = tail.rfind(_END)
    while found >= 0:
        after = len(tail) - found - 22
        told = struct.unpack_from("<H", tail, found + 20)[0] if after >= 0 else after + 1
        if told == after:
            return found
        if told < after:
            fitting.append(found)
        found = tail.rfind(_END, 0, found)
    return fitting[0] if len(fitting) == 1 else -1


def _end_record(file: BinaryIO, length: int, archive: str) -> tuple[int, int, int, int, int]:
    """Entry count, directory size, directory start in the file, and the bytes before and behind the archive."""
    tail, tail_at = _tail(file, length)
    found = _end_in(tail)
    if found < 0:
        raise _broken("the archive has no end record: it is cut short or is no ZIP archive", archive)
    disk, first_disk, here, count, size, offset, told = struct.unpack_from("<4H2LH", tail, found + 4)
    end_at = tail_at + found
    after = len(tail) - found - 22 - told
    small = (disk, first_disk, here, count, size, offset)
    record = _end_record64(file, end_at, archive, needed=any(map(operator.eq, small[2:], _FULL[2:])))
    if record is not None:
        *large, end_at = record
        if any(there not in (full, told) for there, full, told in zip(small, _FULL, large, strict=True)):
            raise _refused("the archive's two end records disagree", archive)
        disk, first_disk, here, count, size, offset = large
    if disk or first_disk or here != count:
        raise _refused("the archive is one part of several", archive)
    start = end_at - size
    shift = start - offset
    if start < 0 or shift < 0:
        raise _broken("the archive's directory is not where its end record says", archive)
    return count, size, start, shift, after


def _end_record64(
    file: BinaryIO, end_at: int, archive: str, *, needed: bool
) -> tuple[int, int, int, int, int, int, int] | None:
    """The figures of the large end record and where it begins, or None where the archive has none."""
    if end_at < 20:
        return None
    file.seek(end_at - 20)
    locator = file.read(20)
    if locator[:4] != _LOCATOR64:
        return None
    # The record stands right before its locator; its stated offset is off when bytes stand before the archive, and it
    # is longer than usual when it carries data of its own.
    file.seek(max(0, end_at - 20 - _TAIL))
    near = file.read(min(_TAIL, end_at - 20))
    for at in (struct.unpack_from("<Q", locator, 8)[0], end_at - 20 - 56, end_at - 20 - len(near) + near.rfind(_END64)):
        if not 0 <= at < end_at:
            continue
        file.seek(at)
        record = file.read(56)
        if len(record) == 56 and record[:4] == _END64:
            disk, first_disk, here, count, size, offset = struct.unpack_from("<2L4Q", record, 16)
            return disk, first_disk, here, count, size, offset, at
    if not needed:
        return None  # the last bytes of the directory happen to look like a locator
    raise _broken("the archive's large end record is missing", archive)


def _entries(directory: bytes, count: int, archive: str) -> list[_Entry]:
    entries: list[_Entry] = []
    at = 0
    for _ in range(count):
        if at + _ENTRY.size > len(directory):
            raise _broken("the archive's directory is cut short", archive)
        (magic, _, _, _, _, flags, method, _, _, crc, packed, size, name_len, extra_len, note_len, _, _, _, header) = (
            _ENTRY.unpack_from(directory, at)
        )
        name_at = at + _ENTRY.size
        extra_at = name_at + name_len
        at = extra_at + extra_len + note_len
        if magic != b"PK\x01\x02" or at > len(directory):
            raise _broken("the archive's directory is damaged", archive)
        packed, size, header = _large(directory[extra_at : extra_at + extra_len], packed, size, header, archive)
        entries.append(_Entry(directory[name_at:extra_at], flags, method, crc, packed, size, header))
    if at != len(directory):
        raise _broken("the archive's directory holds more than it counts", archive)
    return entries


def _large(extra: bytes, packed: int, size: int, header: int, archive: str) -> tuple[int, int, int]:
    """Replace 32-bit figures that are full by the 64-bit ones in the extra field (tag 1)."""
    if _FULL32 not in (packed, size, header):
        return packed, size, header
    at = 0
    while at + 4 <= len(extra):
        tag, length = struct.unpack_from("<2H", extra, at)
        if tag == 1:
            values = [
                struct.unpack_from("<Q", extra, at + 4 + 8 * n)[0] for n in range(min(length, len(extra) - at - 4) // 8)
            ]
            try:
                size = values.pop(0) if size == _FULL32 else size
                packed = values.pop(0) if packed == _FULL32 else packed
                header = values.pop(0) if header == _FULL32 else header
            except IndexError:
                raise _broken("the archive's large sizes are incomplete", archive) from None
            break
        at += 4 + length
    return packed, size, header


def _as_text(entry: _Entry) -> str:
    """The member's name: UTF-8 where it says so or where it is one (not every archiver says it), else code page 437."""
    try:
        return entry.raw_name.decode("utf-8")
    except UnicodeDecodeError:
        return entry.raw_name.decode("utf-8" if entry.flags & 0x800 else "cp437", errors="replace")


def _member(file: BinaryIO, entry: _Entry, shift: int, archive: str, limits: Limits) -> Member:
    """Check one directory entry against its local header and the limits."""
    text = _as_text(entry)
    shown = f"{archive}!{text[:120]}".replace("\x00", "\\0")
    name = clean_name(text)
    if name is None:
        raise _refused("a member's name is absolute, climbs out of the archive or holds a NUL", shown)
    if entry.flags & 0x2041:
        raise _refused("a member is encrypted", shown, "export the session without a password")
    if entry.method not in READABLE:
        method = METHODS.get(entry.method, f"a method unknown here (number {entry.method})")
        raise _refused(
            f"a member is packed by {method}, which is not read",
            shown,
            "pack it again without compression or by deflate, the usual setting of any archiver",
        )
    if entry.size > limits.member:
        raise _refused(f"a member unpacks to more than {limits.member} bytes", shown)
    if entry.method == STORED and entry.packed != entry.size:
        raise _refused("a stored member gives two sizes", shown)
    floor = limits.audio_ratio_from if is_audio_name(name) else limits.ratio_from
    if entry.size > floor and entry.size > limits.ratio * max(1, entry.packed):
        raise _refused(f"a member grows more than {limits.ratio} times when unpacked", shown)
    header_at = entry.header_at + shift
    file.seek(header_at)
    head = file.read(_LOCAL.size)
    if len(head) < _LOCAL.size or head[:4] != b"PK\x03\x04":
        raise _broken("a member is not where the directory says", shown)
    (_, _, _, flags, method, _, _, _, packed, size, name_len, extra_len) = _LOCAL.unpack(head)
    if file.read(name_len) != entry.raw_name:
        raise _refused("a member's name differs between the directory and its own header", shown)
    if method != entry.method or (flags ^ entry.flags) & 0x2041:
        raise _refused("a member's packing differs between the directory and its own header", shown)
    if not flags & 8 and any(
        there not in (_FULL32, listed) for there, listed in ((packed, entry.packed), (size, entry.size))
    ):
        raise _refused("a member's size differs between the directory and its own header", shown)
    data_at = header_at + _LOCAL.size + name_len + extra_len
    return Member(name, entry.method, entry.crc, entry.packed, entry.size, header_at, data_at)


def _no_overlap(spans: list[tuple[int, int]], directory_at: int, archive: str) -> None:
    before = 0
    for start, end in sorted(spans):
        if start < before:
            raise _refused("two members share the same bytes", archive)
        before = end
    if before > directory_at:
        raise _broken("a member runs into the archive's directory", archive)


def _refused(
    what: str, where: str, do: str = "export the session again from the application that made it"
) -> MixlintError:
    return RefusedFile(what, where=where, do=do)


def _broken(what: str, where: str) -> MixlintError:
    return BrokenFile(what, where=where, do="copy or export the file again")
