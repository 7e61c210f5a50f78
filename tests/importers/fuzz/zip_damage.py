"""Damage to ZIP archives: figures of their headers that lie, members doubled, swapped, of other methods, and bytes."""

from __future__ import annotations

import io
import re
import zipfile
from random import Random
from typing import Final

from tests.importers.fuzz.words import tear, whole
from tests.importers.hostile import Part, archive

_RECORDS: Final = {
    b"PK\3\4": ((4, 2), (6, 2), (8, 2), (14, 4), (18, 4), (22, 4), (26, 2), (28, 2)),
    b"PK\1\2": (
        (6, 2),
        (8, 2),
        (10, 2),
        (16, 4),
        (20, 4),
        (24, 4),
        (28, 2),
        (30, 2),
        (32, 2),
        (34, 2),
        (38, 4),
        (42, 4),
    ),
    b"PK\5\6": ((4, 2), (6, 2), (8, 2), (10, 2), (12, 4), (16, 4), (20, 2)),
    b"PK\6\6": ((4, 8), (24, 8), (32, 8), (40, 8), (48, 8)),
    b"PK\6\7": ((4, 4), (8, 8), (16, 4)),
}
"""The records of an archive by their marks (APPNOTE 6.3): where each figure stands, and how many bytes it has."""

_RECORD: Final = re.compile(b"PK(?:\3\4|\1\2|\5\6|\6\6|\6\7)")
_METHODS: Final = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED, zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA)


def damage_zip(data: bytes, chance: Random) -> bytes:
    """An archive in which figures lie, records are lost or doubled, or bytes are damaged."""
    text = bytearray(data)
    for _ in range(chance.choice((1, 1, 1, 2, 4))):
        found = [hit.start() for hit in _RECORD.finditer(text)]
        if not found or chance.random() < 0.2:
            return tear(bytes(text), chance)
        at = chance.choice(found)
        kind = chance.randrange(8)
        if kind <= 4:
            place, width = chance.choice(_RECORDS[bytes(text[at : at + 4])])
            text[at + place : at + place + width] = whole(chance, width)
        elif kind == 5:  # a record lost, up to the next
            end = next((one for one in found if one > at), len(text))
            del text[at:end]
        elif kind == 6:
            end = next((one for one in found if one > at), len(text))
            text[at:at] = text[at:end]
        else:
            text[at:at] = chance.choice((bytes(1), bytes(100), b"#!junk\n", b"PK\5\6" + bytes(18)))
    return bytes(text)


def dishonest(parts: list[Part], chance: Random) -> bytes:
    """An archive of these members, of which some say what is not so, as it is written."""
    for _ in range(chance.choice((0, 1, 1, 2))):
        part = chance.choice(parts)
        kind = chance.randrange(8)
        figure = int.from_bytes(whole(chance, 4), "little")
        near = len(part.data) + chance.choice((-1, 1, 5))
        if kind == 0:
            part.size = chance.choice((figure, max(0, near)))
        elif kind == 1:
            part.local_size = chance.choice((figure, max(0, near)))
        elif kind == 2:
            part.method = chance.choice((0, 1, 8, 9, 12, 14, 93, 95, 99))
        elif kind == 3:
            part.flags = 1 << chance.randrange(16)
        elif kind == 4:
            part.crc = figure
        elif kind == 5:
            part.header_at = chance.choice((0, figure, 10))
        elif kind == 6:
            part.local_name = chance.choice((b"", b"x", part.name + b"x", b"\xff\xfe", b"../x"))
        else:
            part.name = chance.choice(
                (b"", b"../x", b"a\\b", b"a/b/c", b"\xff", b"PROJECT.XML", b"a\0b", b"/abs", b"C:x")
            )
    if chance.random() < 0.2:
        parts.append(chance.choice(parts))
    chance.shuffle(parts)
    count = int.from_bytes(whole(chance, 2), "little") if chance.random() < 0.1 else None
    return archive(*parts, count=count, before=chance.choice((b"", b"", b"", b"junk", b"PK\3\4")))


def honest(members: dict[str, bytes], chance: Random) -> bytes:
    """An archive as the standard library writes it, by one of its methods, at times with large records or a comment."""
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", chance.choice(_METHODS)) as out:
        for name, body in members.items():
            with out.open(name, "w", force_zip64=chance.random() < 0.2) as member:
                member.write(body)
        if chance.random() < 0.2:
            out.comment = chance.choice((b"x", b"PK\5\6" * 20, bytes(3000)))
    return made.getvalue()
