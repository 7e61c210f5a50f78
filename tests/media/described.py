"""Wave files that describe their legs, laid out by hand as ITU-R BS.2088 and EBU Tech 3285, supplement 7, have them."""

from __future__ import annotations

import struct
from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike


def entry(leg: int, uid: str, track: str, pack: str) -> bytes:
    """Forty bytes: the leg in two, its number in 12, the track in 14, the pack in 11, one to fill up."""
    texts = (uid.encode().ljust(12, b"\0"), track.encode().ljust(14, b"\0"), pack.encode().ljust(11, b"\0"))
    return struct.pack("<H", leg) + b"".join(texts) + b"\0"


def chna(*entries: bytes, legs: int | None = None, uids: int | None = None, room: int = 0) -> bytes:
    told = len({one[:2] for one in entries}) if legs is None else legs
    return struct.pack("<HH", told, len(entries) if uids is None else uids) + b"".join(entries) + bytes(40 * room)


def wave(samples: ArrayLike, *chunks: tuple[bytes, bytes], rate: int = 48_000, form: bytes = b"RIFF") -> bytes:
    """A wave file of 32-bit floating point, samples (legs, n), with chunks behind them."""
    table = np.asarray(samples, np.float32)
    legs = table.shape[0]
    fmt = struct.pack("<HHIIHH", 3, legs, rate, rate * legs * 4, legs * 4, 32)
    data = table.T.tobytes()
    parts = [(b"fmt ", fmt), (b"data", data), *chunks]
    if form == b"BW64":
        parts.insert(0, (b"ds64", struct.pack("<QQQI", 0, len(data), 0, 0)))
    inner = b"WAVE"
    for name, body in parts:
        length = 0xFFFFFFFF if form == b"BW64" and name == b"data" else len(body)
        inner += name + struct.pack("<I", length) + body + bytes(len(body) % 2)
    return form + struct.pack("<I", 0xFFFFFFFF if form == b"BW64" else len(inner)) + inner


def document(inner: str, head: str = '<?xml version="1.0" encoding="UTF-8"?>') -> str:
    return f'{head}<ituADM xmlns="urn:metadata-schema:adm"><audioFormatExtended>{inner}</audioFormatExtended></ituADM>'


SURROUND = tuple(entry(leg, f"ATU_{leg:08X}", f"AT_0001{leg:04X}_01", "AP_00010003") for leg in range(1, 7))
"""The six legs of a bed of 5.1 by the numbers of ITU-R BS.2094: left, right, centre, low end, and two sides."""

BED = """
<audioProgramme audioProgrammeID="APR_1001" audioProgrammeName="Lantern" start="00:00:00.00000" end="00:00:04.00000">
 <audioContentIDRef>ACO_1001</audioContentIDRef>{loudness}</audioProgramme>
<audioContent audioContentID="ACO_1001" audioContentName="Music"><audioObjectIDRef>AO_1001</audioObjectIDRef>
 <dialogue nonDialogueContentKind="1">0</dialogue></audioContent>
<audioObject audioObjectID="AO_1001" audioObjectName="Bed"{attrs}>
 <audioPackFormatIDRef>AP_00010003</audioPackFormatIDRef>
 {uids}{more}</audioObject>"""


def bed(loudness: str = "", attrs: str = "", more: str = "") -> str:
    """The document of a programme with one bed of 5.1."""
    uids = "".join(f"<audioTrackUIDRef>ATU_{leg:08X}</audioTrackUIDRef>" for leg in range(1, 7))
    return document(BED.format(loudness=loudness, attrs=attrs, more=more, uids=uids))


def write(folder: Path, name: str, body: bytes) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / name
    path.write_bytes(body)
    return path
