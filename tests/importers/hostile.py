"""Hostile and damaged files, made on the spot: what each is, its bytes, and which refusal it must meet."""

# ruff: noqa: E501 - a table of cases reads best with one to a line

from __future__ import annotations

import json
import struct
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass

PROJECT = (
    b'<?xml version="1.0" encoding="UTF-8"?>\n<Project version="1.0">\n<Application name="w" version="1"/>\n'
    b'<Structure>\n<Track id="t" name="Part" contentType="audio"><Channel id="c" role="regular" destination="m">'
    b'<Volume unit="linear" value="1.0" id="v"/></Channel></Track>\n'
    b'<Track id="tm" name="Main" contentType="audio"><Channel id="m" role="master"/></Track>\n</Structure>\n'
    b"<Arrangement><Lanes>%s</Lanes></Arrangement>\n</Project>\n"
)
PLAIN = PROJECT % b""


@dataclass
class Part:
    """One ZIP member with every figure open to lies."""

    name: bytes
    data: bytes = b""
    method: int = 8
    flags: int = 0
    local_name: bytes | None = None
    size: int | None = None
    local_size: int | None = None
    packed: int | None = None
    crc: int | None = None
    header_at: int | None = None
    raw: bytes | None = None


def archive(*parts: Part, count: int | None = None, before: bytes = b"") -> bytes:
    """A ZIP archive by the public layout, written without any check."""
    body = bytearray(before)
    directory = bytearray()
    for part in parts:
        squeeze = zlib.compressobj(9, zlib.DEFLATED, -15)
        packed = (
            part.raw
            if part.raw is not None
            else (squeeze.compress(part.data) + squeeze.flush() if part.method == 8 else part.data)
        )
        crc = part.crc if part.crc is not None else zlib.crc32(part.data)
        size = part.size if part.size is not None else len(part.data)
        length = part.packed if part.packed is not None else len(packed)
        at = len(body) - len(before)
        name = part.local_name if part.local_name is not None else part.name
        local_size = part.local_size if part.local_size is not None else size
        body += struct.pack(
            "<4s5H3L2H", b"PK\3\4", 20, part.flags, part.method, 0, 33, crc, length, local_size, len(name), 0
        )
        body += name + packed
        at = part.header_at if part.header_at is not None else at
        directory += struct.pack(
            "<4s6H3L5H2L", b"PK\1\2", 20, 20, part.flags, part.method, 0, 33, crc, length, size, len(part.name), 0, 0, 0, 0, 0, at
        ) + part.name  # fmt: skip
    number = len(parts) if count is None else count
    start = len(body) - len(before)
    end = struct.pack("<4s4H2LH", b"PK\5\6", 0, 0, number, number, len(directory), start, 0)
    return bytes(body) + bytes(directory) + end


def project(xml: bytes) -> bytes:
    """An honest archive around a dishonest document, stored so that no packing ratio gives it away."""
    return archive(Part(b"project.xml", xml, 0))


@dataclass(frozen=True)
class Case:
    """A file: its name, how to make it, and the refusals that are right for it (empty: it must be read)."""

    name: str
    make: Callable[[], bytes]
    refusals: tuple[str, ...]
    suffix: str = ".dawproject"
    says: str = ""


def _doctype(inner: bytes, use: bytes) -> bytes:
    return b'<?xml version="1.0"?>\n<!DOCTYPE Project [' + inner + b"]>\n" + use


def _bomb() -> bytes:
    levels = b"".join(b'<!ENTITY l%d "%s">' % (n, b"&l%d;" % (n - 1) * 10) for n in range(1, 12))
    return b'<!ENTITY l0 "ha">' + levels


def _lanes(inner: bytes) -> bytes:
    return project(PROJECT % inner)


def _reference_bomb() -> bytes:
    layers = b"".join(
        b'<Clips id="k%d">' % n + b'<Clip time="0" duration="8" reference="k%d"/>' % (n + 1) * 10 + b"</Clips>"
        for n in range(12)
    )
    return _lanes(b'<Lanes track="t"><Clips><Clip time="0" duration="8" reference="k0"/></Clips></Lanes>' + layers)


def _cut(fraction: float) -> bytes:
    whole = archive(Part(b"metadata.xml", b"<MetaData/>"), Part(b"project.xml", PLAIN * 1))
    return whole[: int(len(whole) * fraction)]


def _xml(
    name: str, make: Callable[[], bytes], refusals: tuple[str, ...] = ("RefusedFile",), says: str = ""
) -> Iterator[Case]:
    """The same document packed and bare."""
    yield Case(name + ", packed", lambda: project(make()), refusals, says=says)
    yield Case(name + ", bare", make, refusals, ".xml", says=says)


def cases() -> list[Case]:
    """Every hostile and damaged file."""
    refused, broken, none = ("RefusedFile",), ("BrokenFile",), ("NotASession",)
    either = ("RefusedFile", "BrokenFile")
    deep = b"<Project>" + b"<Track>" * 100_000 + b"</Track>" * 100_000 + b"</Project>"
    found: list[Case] = []
    found += _xml("entity bomb in text", lambda: _doctype(_bomb(), b"<Project>&l11;</Project>"), says="document type")
    found += _xml("entity bomb in an attribute", lambda: _doctype(_bomb(), b'<Project version="&l11;"/>'))
    found += _xml(
        "quadratic entity bomb",
        lambda: _doctype(b'<!ENTITY a "' + b"a" * 100_000 + b'">', b"<Project>" + b"&a;" * 10_000 + b"</Project>"),
    )
    found += _xml(
        "external entity", lambda: _doctype(b'<!ENTITY x SYSTEM "file:///etc/passwd">', b"<Project>&x;</Project>")
    )
    found += _xml(
        "external parameter entity", lambda: _doctype(b'<!ENTITY % x SYSTEM "http://127.0.0.1:9/x"> %x;', b"<Project/>")
    )
    found += _xml("external document type", lambda: b'<!DOCTYPE Project SYSTEM "http://127.0.0.1:9/x.dtd"><Project/>')
    found += _xml("100,000 levels", lambda: deep, says="deep")
    found += _xml("100,000 levels of what is not kept", lambda: b"<Project>" + b"<x>" * 100_000, says="deep")
    found += _xml("an attribute of 30 MB", lambda: b'<Project name="' + b"n" * 30_000_000 + b'"/>', either)
    found += _xml(
        "200,000 attributes", lambda: b"<Project " + b" ".join(b'a%d="1"' % n for n in range(200_000)) + b"/>", says=""
    )
    found += _xml("a comment of 30 MB", lambda: b"<Project><!--" + b"n" * 30_000_000 + b"--></Project>", either)
    found += _xml(
        "a million names", lambda: b"<Project>" + b"".join(b"<n%d/>" % n for n in range(1_000_000)) + b"</Project>"
    )
    found += _xml(
        "two million elements", lambda: b"<Project><Structure>" + b"<Track/>" * 2_000_000 + b"</Structure></Project>"
    )
    found += _xml("markup left open", lambda: PLAIN[:-12], broken)
    found += _xml("another XML document", lambda: b"<score-partwise/>", none)
    found += _xml(
        "a point of automation and nothing else", lambda: b'<RealPoint time="0" value="1"/>', none, says="point"
    )
    found += _xml("no structure", lambda: b"<Project/>", none)
    found += _xml("an unknown encoding", lambda: b'<?xml version="1.0" encoding="utf-47"?><Project/>', broken)
    found += [
        Case("a text of 30 MB", lambda: project(b"<Project>" + b"text " * 6_000_000 + b"</Project>"), none),
        Case("clips by reference tenfold over twelve layers", _reference_bomb, refused, says="unfold"),
        Case("clips that refer to each other", lambda: _lanes(
            b'<Lanes track="t"><Clips id="a"><Clip time="0" duration="1" reference="b"/></Clips></Lanes>'
            b'<Clips id="b"><Clip time="0" duration="1" reference="a"/></Clips>'), ()),
        Case("loops that turn a million times", lambda: _lanes(b'<Lanes track="t"><Clips>' + b"".join(
            b'<Clip time="%d" duration="100" loopStart="0" loopEnd="0.0001"><Notes/></Clip>' % n for n in range(400)
        ) + b"</Clips></Lanes>"), refused, says="unfold"),
        Case("figures beyond all measure", lambda: _lanes(
            b'<Lanes track="t"><Clips><Clip time="1e308" duration="1e308" playStart="-1e308"><Notes/></Clip></Clips>'
            b'<Points unit="linear"><Target parameter="v"/>'
            b'<RealPoint time="1e308" value="1e308" interpolation="linear"/><RealPoint time="nan" value="inf"/>'
            b'<RealPoint time="0" value="-1e308"/></Points></Lanes>'), ()),
        Case("200 MB of zeros", lambda: archive(Part(b"project.xml", bytes(200_000_000))), refused, says="grows"),
        Case("zeros that deny their size", lambda: archive(
            Part(b"project.xml", bytes(40_000_000), size=100, local_size=100)), either),
        Case("a size beyond the data", lambda: archive(Part(b"project.xml", PLAIN, size=len(PLAIN) + 5, local_size=len(PLAIN) + 5)), broken),
        Case("a size below the data", lambda: archive(Part(b"project.xml", PLAIN, size=90, local_size=90)), broken),
        Case("sizes that differ between headers", lambda: archive(Part(b"project.xml", PLAIN, local_size=9)), refused),
        Case("audio of 3 GB in a kilobyte", lambda: archive(
            Part(b"project.xml", PLAIN), Part(b"a.wav", bytes(9000), size=3 << 30, local_size=3 << 30)), refused),
        Case("two entries on one member", lambda: archive(
            Part(b"project.xml", PLAIN), Part(b"project.xml", PLAIN, header_at=0)), either),
        Case("members that overlap", lambda: archive(
            Part(b"a.bin", b"x" * 500, 0), Part(b"project.xml", PLAIN, header_at=0, local_name=b"a.bin")), either),
        Case("a member inside another", lambda: archive(
            Part(b"out.bin", archive(Part(b"project.xml", PLAIN))[:-22], 0), Part(b"project.xml", PLAIN, header_at=37)), refused, says="share"),
        Case("the same name twice", lambda: archive(Part(b"project.xml", PLAIN), Part(b"project.xml", PLAIN)), refused, says="same name"),
        Case("the same name in two spellings", lambda: archive(Part(b"a/project.xml", PLAIN), Part(b"a\\project.xml", PLAIN)), refused),
        Case("several projects", lambda: archive(Part(b"project.xml", PLAIN), Part(b"old/Project.XML", PLAIN)), refused, says="several"),
        *(Case(f"the name {name!r}", lambda name=name: archive(Part(b"project.xml", PLAIN), Part(name, b"x")), refused, says="name")
          for name in (b"../../x", b"/abs", b"C:\\x", b"a\\..\\b", b"..\\x", b"a/../../b", b"..", b"\\\\host\\x", b"c:x", b"a\0b")),
        Case("a NUL cuts the name", lambda: archive(Part(b"project.xml\0.txt", PLAIN)), refused, says="NUL"),
        Case("two names for one member", lambda: archive(Part(b"project.xml", PLAIN, local_name=b"readme.txt!")), refused, says="differs"),
        Case("an encrypted member", lambda: archive(Part(b"project.xml", PLAIN, flags=1)), refused, says="encrypted"),
        *(Case(f"packing method {method}", lambda method=method: archive(Part(b"project.xml", PLAIN, method)), refused, says="is not read")
          for method in (1, 9, 95, 99)),
        *(Case(f"packing method {method} over other data", lambda method=method: archive(Part(b"project.xml", PLAIN, method)), broken, says="damaged")
          for method in (12, 14)),
        Case("100,000 members", lambda: archive(*(Part(b"%d" % n, b"", 0) for n in range(100_000)), count=34_464), refused, says="members"),
        Case("a count that lies", lambda: archive(Part(b"project.xml", PLAIN), count=2), broken),
        Case("damaged packed data", lambda: archive(Part(b"project.xml", PLAIN, raw=b"\xff" * 80)), broken),
        Case("a wrong checksum", lambda: archive(Part(b"project.xml", PLAIN, crc=1)), broken, says="checksum"),
        Case("a wrong checksum, stored", lambda: archive(Part(b"project.xml", PLAIN, 0, crc=1)), broken, says="checksum"),
        Case("cut after a third", lambda: _cut(0.33), broken),
        Case("cut before its end", lambda: _cut(0.97), broken),
        Case("an empty file", lambda: b"", broken),
        Case("text that calls itself a session", lambda: b"hello " * 1000, broken),
        Case("an archive without a project", lambda: archive(Part(b"readme.txt", b"hello")), none, says="project.xml"),
        Case("the form before version 1.0", lambda: archive(Part(b"project.json", b"{}")), none, says="before version 1.0"),
        Case("junk beside and before", lambda: archive(
            Part(b"__MACOSX/._project.xml", b"\0"), Part(b".DS_Store", b"\0"), Part(b"project.xml", PLAIN), before=b"#!junk\n"), ()),
        Case("JSON 100,000 deep", lambda: b'{"format": "mixlint-session/1", "notes": ' + b"[" * 100_000, ("RefusedFile", "BrokenFile"), ".json"),
        Case("JSON with NaN", lambda: b'{"format": "mixlint-session/1", "sample_rate_hz": NaN}', broken, ".json", "NaN"),
        Case("JSON with infinity", lambda: b'{"format": "mixlint-session/1", "sample_rate_hz": 1e999}', broken, ".json"),
        Case("JSON with a key twice", lambda: b'{"format": "mixlint-session/1", "title": "a", "title": "b"}', broken, ".json", "twice"),
        Case("JSON with a number of a million digits", lambda: b'{"format": "mixlint-session/1", "sample_rate_hz": ' + b"1" * 1_000_000 + b"}", refused, ".json"),
        Case("JSON that is no text", lambda: b'{"format": "mixlint-session/1", "title": "\xff"}', broken, ".json", "UTF-8"),
        Case("JSON cut short", lambda: b'{"format": "mixlint-session/1", ', broken, ".json"),
        Case("JSON of another kind", lambda: json.dumps({"format": "mixlint-report/1"}).encode(), none, ".json"),
        Case("JSON of a later version", lambda: json.dumps({"format": "mixlint-session/9"}).encode(), none, ".json", "mixlint-session/9"),
        Case("JSON that does not fit", lambda: json.dumps({"format": "mixlint-session/1", "channels": [
            {"id": "a", "name": "A", "kind": "track", "fader_db": "loud"}]}).encode(), broken, ".json", "channels[0].fader_db"),
        Case("a picture", lambda: b"\x89PNG\r\n\x1a\n" + bytes(100), none, ".png"),
        Case("one audio file", lambda: b"RIFF\0\0\0\0WAVE", none, ".wav", "folder"),
    ]  # fmt: skip
    return found
