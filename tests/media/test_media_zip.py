"""ZIP archives: what is sound is read as the standard library reads it, and every refusal can be reached."""

from __future__ import annotations

import ast
import importlib
import inspect
import io
import os
import random
import re
import struct
import sys
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

from mixlint.errors import BrokenFile, InputError, RefusedFile
from mixlint.media import open_container, unpacking, window, zip_directory
from mixlint.media.zip_directory import Limits
from tests.importers.hostile import Part, archive

METHODS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED, zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA)
DATA = random.Random(8).randbytes(90_000) + bytes(700_000) + b"the end"


def with_large_end(data: bytes, *, told: int = 0, own: bytes = b"", small: bool = True) -> bytes:
    """The archive with a ZIP64 end record and locator put in (APPNOTE 4.3.14 and 4.3.15), its figures small or full.

    Args:
        data: an archive without comment.
        told: how many bytes the locator's offset is off.
        own: data of its own that the record carries.
        small: leave the figures in the usual end record; full ones otherwise.
    """
    *_, here, count, size, offset, _ = struct.unpack("<4s4H2LH", data[-22:])
    record = struct.pack("<4sQ2H2L4Q", b"PK\6\6", 44 + len(own), 45, 45, 0, 0, here, count, size, offset) + own
    locator = struct.pack("<4sLQL", b"PK\6\7", 0, len(data) - 22 + told, 1)
    end = data[-22:] if small else struct.pack("<4s4H2LH", b"PK\5\6", 0, 0, *(0xFFFF,) * 2, *(0xFFFFFFFF,) * 2, 0)
    return data[:-22] + record + locator + end


def through_a_pipe(method: int) -> bytes:
    """An archive whose members have their sizes behind them, as a writer that cannot seek leaves it."""

    class Pipe(io.RawIOBase):
        def __init__(self) -> None:
            self.kept = bytearray()

        def writable(self) -> bool:
            return True

        def write(self, data: object) -> int:
            piece = bytes(memoryview(data))  # type: ignore[arg-type]
            self.kept += piece
            return len(piece)

    pipe = Pipe()
    with zipfile.ZipFile(pipe, "w", method) as made:  # type: ignore[call-overload]
        made.writestr("project.xml", b"<x/>")
        made.writestr("audio/a.wav", DATA)
    return bytes(pipe.kept)


def usual(method: int = zipfile.ZIP_DEFLATED, *names: str) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", method) as made:
        for name in names or ("project.xml", "audio/a.wav"):
            made.writestr(name, DATA if name.endswith(".wav") else b"<x/>")
    return file.getvalue()


def turned(data: bytes) -> bytes:
    """The same archive with its directory listed the other way round."""
    *_, offset, _ = struct.unpack("<4s4H2LH", data[-22:])
    entries = [b"PK\1\2" + one for one in data[offset:-22].split(b"PK\1\2")[1:]]
    return data[:offset] + b"".join(reversed(entries)) + data[-22:]


SOUND: dict[str, Callable[[], bytes]] = {
    **{f"method {method}": lambda method=method: usual(method) for method in METHODS},  # type: ignore[misc]
    **{f"through a pipe, {method}": lambda method=method: through_a_pipe(method) for method in METHODS[1:]},  # type: ignore[misc]
    "a large end record, small figures": lambda: with_large_end(usual()),
    "a large end record, full figures": lambda: with_large_end(usual(), small=False),
    "a large end record behind other bytes": lambda: b"#!other\n" + with_large_end(usual()),
    "members listed the other way round": lambda: turned(usual()),
    "project last": lambda: usual(zipfile.ZIP_DEFLATED, "audio/a.wav", "project.xml"),
    "names beyond ASCII": lambda: usual(zipfile.ZIP_STORED, "Gitarre größer.wav", "東.xml"),
    "a name in code page 437": lambda: archive(Part(b"gr\x81n.xml", b"<x/>")),
    "a comment": lambda: usual()[:-2] + struct.pack("<H", 9) + b"take four",
}


@pytest.mark.parametrize("make", SOUND.values(), ids=SOUND.keys())
def test_what_the_standard_library_reads_is_read_alike(make: Callable[[], bytes], tmp_path: Path) -> None:
    # Source: Python's zipfile, an independent reader of the same bytes.
    path = tmp_path / "a.zip"
    path.write_bytes(make())
    with zipfile.ZipFile(path) as reference, open_container(path) as container:
        assert container.names() == tuple(reference.namelist())
        for name in container.names():
            assert container.read(name, 1 << 20) == reference.read(name)


@pytest.mark.parametrize("method", METHODS[1:])
def test_a_packed_member_is_read_backwards_too(method: int, tmp_path: Path) -> None:
    (path := tmp_path / "a.zip").write_bytes(usual(method))
    with open_container(path) as container, container.open("audio/a.wav") as member:
        for at in (len(DATA) - 7, 0, 89_990, 400_000, 3):
            member.seek(at)
            assert member.read(500) == DATA[at : at + 500]


@pytest.mark.skipif(sys.version_info < (3, 14), reason="the standard library unpacks Zstandard from Python 3.14 on")
def test_a_member_packed_by_zstandard_is_read(tmp_path: Path) -> None:
    zstd = importlib.import_module("compression.zstd")
    (path := tmp_path / "a.zip").write_bytes(archive(Part(b"a.wav", DATA, 93, raw=zstd.compress(DATA))))
    with open_container(path) as container:
        assert container.read("a.wav", 1 << 20) == DATA


def test_a_name_in_utf8_that_does_not_say_so_is_read(tmp_path: Path) -> None:
    # Common practice, no source: some archivers write UTF-8 without the flag of APPNOTE 4.4.4 (bit 11).
    (path := tmp_path / "a.zip").write_bytes(archive(Part("größer.xml".encode(), b"<x/>")))
    with open_container(path) as container:
        assert container.names() == ("größer.xml",)


@pytest.mark.parametrize("before", [b"", b"#!other"])
def test_a_large_end_record_may_carry_data_of_its_own(before: bytes, tmp_path: Path) -> None:
    # APPNOTE 4.3.14.2; zipfile of Python 3.11 does not look for it, so the bytes put in are the reference.
    (path := tmp_path / "a.zip").write_bytes(before + with_large_end(usual(), own=b"12345678" * 4))
    with open_container(path) as container:
        assert container.read("audio/a.wav", 1 << 20) == DATA


def test_a_file_cut_while_it_is_read_is_told(tmp_path: Path) -> None:
    (path := tmp_path / "a.zip").write_bytes(usual(zipfile.ZIP_STORED))
    with open_container(path) as container:
        os.truncate(path, 400)
        with pytest.raises(BrokenFile, match="is cut short inside this member"):
            container.read("audio/a.wav", 1 << 20)


@pytest.mark.parametrize("end", [b"\0" * 512, b"\r\n"])
def test_bytes_behind_an_archive_are_passed_over_and_told(end: bytes, tmp_path: Path) -> None:
    (path := tmp_path / "a.zip").write_bytes(usual() + end)
    with open_container(path) as container:
        assert container.read("audio/a.wav", 1 << 20) == DATA
        assert container.remarks == (f"{len(end)} bytes stand behind the archive; they were passed over.",)


def test_members_that_pack_well_unpack_within_bounds(tmp_path: Path) -> None:
    zeros = bytes(40_000_000)
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_BZIP2) as made:
        made.writestr("a.wav", zeros)
    (path := tmp_path / "a.zip").write_bytes(file.getvalue())
    with open_container(path) as container, container.open("a.wav") as member:
        member.seek(39_000_000)
        assert member.read(10) == bytes(10)
        assert len(member._recent) < 3 << 20  # type: ignore[attr-defined]


class Bad(NamedTuple):
    """Bytes that are refused, what the message says, and the limits that are asked for."""

    says: str
    make: Callable[[], bytes]
    limits: Limits = Limits()


def _end(**figures: int) -> Callable[[], bytes]:
    """A usual archive whose end record tells these figures."""

    def make() -> bytes:
        names = ("disk", "first", "here", "count", "size", "offset")
        values = dict(zip(names, struct.unpack("<4H2L", (data := usual())[-18:-2]), strict=True)) | figures
        return data[:-18] + struct.pack("<4H2L", *values.values()) + data[-2:]

    return make


def _entry(at: int, form: str, value: int, extra: bytes = b"") -> Callable[[], bytes]:
    """An archive of one stored member with a figure of its directory entry set, and an extra field."""

    def make() -> bytes:
        data = bytearray(archive(Part(b"a.xml", b"<x/>", 0)))
        *_, size, offset, _ = struct.unpack("<4s4H2LH", data[-22:])
        struct.pack_into(form, data, offset + at, value)
        struct.pack_into("<H", data, offset + 30, len(extra))
        struct.pack_into("<L", data, len(data) - 10, size + len(extra))
        return bytes(data[:-22] + extra + data[-22:])

    return make


def _lzma(settings: int, dictionary: int) -> Callable[[], bytes]:
    return lambda: archive(
        Part(b"a.xml", b"<x/>", 14, raw=struct.pack("<2BHBL", 9, 20, 5, settings, dictionary) + bytes(20))
    )


def _two_ends() -> bytes:
    """Two end records, neither of which ends with the file: nobody can tell which is meant."""
    return (small := archive(Part(b"a", b"x"))) + b"??" + small + b"??"


def _unlike_ends() -> bytes:
    return with_large_end(usual())[:-10] + struct.pack("<2LH", 7, 7, 0)


def _one_inside_another() -> bytes:
    return archive(Part(b"out", archive(Part(b"a", b"x"))[:-22], 0), Part(b"a", b"x", header_at=33))


BAD = (
    Bad("is larger than 10 bytes", usual, Limits(archive=10)),
    Bad("lists 2 members, more than 1", usual, Limits(members=1)),
    Bad("directory is larger than any session needs", usual, Limits(directory=10)),
    Bad("together unpack to more than 100 bytes", usual, Limits(total=100)),
    Bad("unpacks to more than 50 bytes", usual, Limits(member=50)),
    Bad("grows more than 250 times", lambda: archive(Part(b"a.bin", bytes(3_000_000)))),
    Bad("two members have the same name", lambda: archive(Part(b"a", b"x"), Part(b"a", b"x"))),
    Bad("has no end record", lambda: usual()[:-30]),
    Bad("has no end record", _two_ends),
    Bad("is one part of several", _end(disk=1)),
    Bad("is one part of several", _end(here=1)),
    Bad("is not where its end record says", _end(size=1 << 24)),
    Bad("two end records disagree", _unlike_ends),
    Bad("large end record is missing", lambda: with_large_end(usual(), small=False).replace(b"PK\6\6", b"PK\6\0")),
    Bad("directory is cut short", _end(here=3, count=3)),
    Bad("directory is damaged", lambda: usual().replace(b"PK\1\2", b"PK\1\3")),
    Bad("holds more than it counts", _end(here=1, count=1)),
    Bad("large sizes are incomplete", _entry(24, "<L", 0xFFFFFFFF, struct.pack("<2H", 1, 0))),
    Bad("is absolute, climbs out", lambda: archive(Part(b"../a", b"x"))),
    Bad("is encrypted", lambda: archive(Part(b"a", b"x", flags=1))),
    Bad("packed by Deflate64, which is not read", lambda: archive(Part(b"a", b"x", 9))),
    Bad("a method unknown here (number 77)", lambda: archive(Part(b"a", b"x", 77))),
    Bad("a stored member gives two sizes", lambda: archive(Part(b"a", b"x", 0, size=2))),
    Bad("a member is not where the directory says", _entry(42, "<L", 3)),
    Bad("a member's name differs", lambda: archive(Part(b"a", b"x", local_name=b"b"))),
    Bad("a member's packing differs", _entry(10, "<H", 8)),
    Bad("a member's size differs", lambda: archive(Part(b"a", b"xyz", local_size=2))),
    Bad("two members share the same bytes", _one_inside_another),
    Bad("runs into the archive's directory", lambda: archive(Part(b"a", b"x", packed=900, local_size=900, size=900))),
    Bad("packed data of this member are damaged", lambda: archive(Part(b"a", b"x" * 90, raw=b"\xff" * 20))),
    Bad("packed data of this member are damaged", lambda: archive(Part(b"a", b"x" * 90, 12, raw=b"\xff" * 20))),
    Bad("packed data of this member are damaged", _lzma(225, 1 << 16)),
    Bad("can only be unpacked with 134217728 bytes held", _lzma(93, 128 << 20)),
    Bad("ends before the size the directory gives", lambda: archive(Part(b"a", b"xyz", size=9, local_size=9))),
    Bad("is longer than the size the directory gives", lambda: archive(Part(b"a", b"xyz" * 9, size=3, local_size=3))),
    Bad("the checksum of this member is wrong", lambda: archive(Part(b"a", b"xyz", crc=5))),
)  # fmt: skip


def read_all(path: Path, limits: Limits) -> None:
    with open_container(path, limits, packed=True) as container:
        for name in container.names():
            container.read(name, 8 << 20)


@pytest.mark.parametrize("bad", BAD, ids=lambda bad: bad.says)
def test_every_refusal_can_be_reached(bad: Bad, tmp_path: Path) -> None:
    (path := tmp_path / "a.zip").write_bytes(bad.make())
    with pytest.raises((RefusedFile, BrokenFile), match=re.escape(bad.says)) as caught:
        read_all(path, bad.limits)
    assert caught.value.do
    assert "a.zip" in str(caught.value.where)


def refusals() -> Iterator[re.Pattern[str]]:
    """Every message that the readers of archives can raise, with a gap for what stands in braces."""
    for module in (zip_directory, window, unpacking):
        for node in ast.walk(ast.parse(inspect.getsource(module))):
            name = ast.unparse(node.func) if isinstance(node, ast.Call) else ""
            if name in {"_refused", "_broken", "self._broken", "Damaged"} and (given := node.args):  # type: ignore[attr-defined]
                pieces = given[0].values if isinstance(given[0], ast.JoinedStr) else [given[0]]
                fixed = [re.escape(one.value) if isinstance(one, ast.Constant) else ".+" for one in pieces]
                if fixed != [".+"]:
                    yield re.compile("".join(fixed))


def test_no_refusal_is_without_its_case(tmp_path: Path) -> None:
    told = ["the archive is cut short inside this member"]  # its case stands above
    for bad in BAD:
        (path := tmp_path / "a.zip").write_bytes(bad.make())
        with pytest.raises(InputError) as caught:
            read_all(path, bad.limits)
        told.append(caught.value.what)
    wanted = list(refusals())
    assert len(wanted) > 25
    assert not [one.pattern for one in wanted if not any(one.fullmatch(text) for text in told)]


def test_damage_is_read_alike_or_refused(tmp_path: Path) -> None:
    # Source: Python's zipfile. What it reads out of damaged bytes and this reader reads too has to be the same.
    chance = random.Random(2026)
    path = tmp_path / "a.zip"
    agreed = 0
    for number in range(150):
        data = bytearray((list(SOUND.values())[number % len(SOUND)])())
        for _ in range(chance.randint(1, 3)):
            spot = chance.choice((chance.randrange(len(data)), len(data) - 1 - chance.randrange(min(300, len(data)))))
            data[spot] ^= 1 << chance.randrange(8)
        path.write_bytes(data)
        try:
            with open_container(path, packed=True) as container:
                found = {name: container.read(name, 1 << 20) for name in container.names()}
        except InputError:
            continue
        try:
            with zipfile.ZipFile(path) as reference:
                expected = {one.filename: reference.read(one) for one in reference.infolist() if not one.is_dir()}
        except (zipfile.BadZipFile, NotImplementedError, OSError, ValueError, RuntimeError):
            continue
        agreed += list(found.values()) == list(expected.values())
        assert list(found.values()) == list(expected.values())
    assert agreed > 3
