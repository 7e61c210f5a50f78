"""The chunk ``chna``: which leg of a file bears which number (ITU-R BS.2088; EBU Tech 3285, supplement 7)."""

from __future__ import annotations

import re
import struct
from typing import Final

from mixlint.media.adm.model import SILENT_UID, LegUse

_ENTRY: Final = 40
MOST_BYTES: Final = 4 + _ENTRY * 0xFFFF
"""As many entries as its count can tell."""

_UID: Final = re.compile(r"ATU_[0-9A-F]{8}")


def read_leg_uses(body: bytes, length: int) -> tuple[tuple[LegUse, ...], list[str]]:
    """The entries in use, and what is wrong with the chunk.

    Entries of zeros are room for later ones. A chunk tells how many legs and how many numbers it uses.

    Args:
        body: the chunk, as far as it is there, of at most :data:`MOST_BYTES`.
        length: how long it says it is.
    """
    if len(body) < min(length, MOST_BYTES):
        faults = [f"its chunk chna is cut short: {len(body)} of {length} bytes are there"]
    elif length < 4 or (length - 4) % _ENTRY:
        faults = [f"its chunk chna has {length} bytes, which hold no whole number of entries"]
    else:
        faults = []
    if len(body) < 4:
        return (), faults
    told_legs, told_uids = struct.unpack_from("<HH", body)
    found: list[LegUse] = []
    strange: list[str] = []
    for at in range(4, len(body) - _ENTRY + 1, _ENTRY):
        leg, *texts = struct.unpack_from("<H12s14s11sx", body, at)
        uid, track, pack = (one.split(b"\0", 1)[0].decode("ascii", "replace").strip().upper() for one in texts)
        if leg == 0 and not uid:
            continue
        if not _UID.fullmatch(uid) or uid == SILENT_UID:
            strange.append(uid)
        found.append(LegUse(leg, uid, track.removesuffix("_00") if track.startswith("AC_") else track, pack))
    if strange:
        faults.append(f"its chunk chna holds {len(strange)} numbers that are none, such as {strange[0]!r}")
    if told_uids != len(found):
        faults.append(f"its chunk chna tells of {told_uids} numbers and holds {len(found)}")
    if told_legs != (legs := len({one.leg for one in found})):
        faults.append(f"its chunk chna tells of {told_legs} legs and holds {legs}")
    return tuple(found), faults
