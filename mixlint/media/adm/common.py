"""The loudspeakers of the common definitions (ITU-R BS.2094), by which files name channels without describing them."""

from __future__ import annotations

from typing import Final

from mixlint.media.adm.model import ChannelFormat, Position

_PLACES: Final = {
    0x01: (30.0, 0.0), 0x02: (-30.0, 0.0), 0x03: (0.0, 0.0), 0x04: (0.0, -30.0), 0x05: (110.0, 0.0),
    0x06: (-110.0, 0.0), 0x07: (22.5, 0.0), 0x08: (-22.5, 0.0), 0x09: (180.0, 0.0), 0x0A: (90.0, 0.0),
    0x0B: (-90.0, 0.0), 0x0C: (0.0, 90.0), 0x0D: (30.0, 30.0), 0x0E: (0.0, 30.0), 0x0F: (-30.0, 30.0),
    0x10: (110.0, 30.0), 0x11: (180.0, 30.0), 0x12: (-110.0, 30.0), 0x13: (90.0, 30.0), 0x14: (-90.0, 30.0),
    0x15: (0.0, -30.0), 0x16: (45.0, -30.0), 0x17: (-45.0, -30.0), 0x18: (60.0, 0.0), 0x19: (-60.0, 0.0),
    0x1A: (135.0, 0.0), 0x1B: (-135.0, 0.0), 0x1C: (135.0, 0.0), 0x1D: (-135.0, 0.0), 0x1E: (135.0, 30.0),
    0x1F: (-135.0, 30.0), 0x20: (45.0, -30.0), 0x21: (-45.0, -30.0), 0x22: (45.0, 30.0), 0x23: (-45.0, 30.0),
    0x24: (25.0, 0.0), 0x25: (-25.0, 0.0), 0x26: (45.0, 0.0), 0x27: (-45.0, 0.0), 0x28: (180.0, 45.0),
}  # fmt: skip
"""Azimuth and elevation, degrees, by the last figures of AC_0001…."""

_LOW_END: Final = frozenset({0x04, 0x20, 0x21})


def common_speaker(number: str) -> ChannelFormat | None:
    """The loudspeaker that a number of the common definitions stands for; None where it stands for none."""
    if not number.startswith("AC_0001") or len(number) != len("AC_00010001"):
        return None
    try:
        one = int(number[7:], 16)
    except ValueError:
        return None
    if one not in _PLACES:
        return None
    return ChannelFormat(number, "", "speakers", 1, Position(*_PLACES[one]), one in _LOW_END, 1.0)
