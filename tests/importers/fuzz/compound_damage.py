"""Damage to an AAF by the structure of a compound file ([MS-CFB]) and of the lists of properties in its streams."""

from __future__ import annotations

import re
import struct
import tempfile
from functools import cache
from pathlib import Path
from random import Random
from typing import Final

from tests.importers.fuzz.words import tear, whole

_HEAD: Final = (
    (24, 2),
    (26, 2),
    (28, 2),
    (30, 2),
    (32, 2),
    (44, 4),
    (48, 4),
    (56, 4),
    (60, 4),
    (64, 4),
    (68, 4),
    (72, 4),
)
"""Figures of the header: sizes of sectors, counts of them, and where the directory and the tables begin."""

_ENTRY: Final = ((64, 2), (66, 1), (67, 1), (68, 4), (72, 4), (76, 4), (116, 4), (120, 8))
"""Figures of an entry of the directory: the length of its name, its kind, its neighbours, its beginning and size."""

_PROPERTIES: Final = re.compile(rb"L\x20(?=[\x01-\x40]\x00)")
"""A list of properties begins with the order of bytes, the version and the count (AAF stored format 1.0.1)."""


@cache
def sound_aaf() -> bytes:
    """A small AAF with something of everything."""
    from tests.importers.test_importers_aaf_bad import good

    with tempfile.TemporaryDirectory() as folder:
        return good(Path(folder) / "song.aaf", 1)


@cache
def _places() -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Where entries of the directory stand, and where lists of properties begin."""
    data = sound_aaf()
    names = [hit.start() for hit in re.finditer("properties".encode("utf-16-le"), data)]
    return tuple(names), tuple(hit.start() for hit in _PROPERTIES.finditer(data))


def damaged_aaf(chance: Random) -> bytes:
    """An AAF with its header, directory, properties or bytes damaged."""
    text = bytearray(sound_aaf())
    entries, lists = _places()
    for _ in range(chance.choice((1, 1, 2, 4, 16))):
        kind = chance.randrange(10)
        if kind == 0:
            at, width = chance.choice(_HEAD)
            text[at : at + width] = whole(chance, width)
        elif kind <= 2:
            at = chance.choice(entries)
            place, width = chance.choice(_ENTRY)
            text[at + place : at + place + width] = whole(chance, width)
        elif kind == 3:  # one entry over another
            one, other = chance.choice(entries), chance.choice(entries)
            text[one : one + 128] = text[other : other + 128]
        elif kind <= 7:
            _property(text, chance.choice(lists), chance)
        elif kind == 8:
            text = bytearray(tear(bytes(text), chance, 4))
        else:
            at = chance.randrange(0, len(text), 4)
            text[at : at + 4] = whole(chance, 4)
    return bytes(text)


def _property(text: bytearray, at: int, chance: Random) -> None:
    """One property of a list: its number, its form, its length, or a figure of its value; or two change places."""
    if at + 4 > len(text):
        return
    count = max(1, min(64, struct.unpack_from("<H", text, at + 2)[0]))
    one = at + 4 + 6 * chance.randrange(count)
    other = at + 4 + 6 * chance.randrange(count)
    kind = chance.randrange(6)
    if kind == 0:
        text[at + 2 : at + 4] = whole(chance, 2)
    elif kind <= 2:
        place = one + chance.choice((0, 2, 4))
        text[place : place + 2] = whole(chance, 2)
    elif kind == 3:
        text[one : one + 6], text[other : other + 6] = text[other : other + 6], text[one : one + 6]
    else:
        value = at + 4 + 6 * count + chance.randrange(0, 200)
        width = chance.choice((2, 4, 8))
        text[value : value + width] = whole(chance, width)
