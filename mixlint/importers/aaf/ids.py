"""The identities (AUID) by which things are told in an AAF: AMWA AAF object specification and edit protocol.

Exporters call one operation or parameter by several names, or by none; the identities agree.
"""

from __future__ import annotations

from typing import Final

from mixlint.media.compound import MAGIC

SOUND: Final = frozenset(
    {
        "01030202-0200-0000-060e-2b3404010101",
        "78e1ebe1-6cef-11d2-807d-006008143e6f",  # before version 1.1 of the specification
    }
)
"""Data definitions of sound."""

TIMECODE: Final = frozenset(
    {"01030201-0100-0000-060e-2b3404010101", "7f275e81-77e5-11d2-807f-006008143e6f"},
)
"""Data definitions of timecode."""

GAIN: Final = frozenset({"9d2ea894-0968-11d3-8a38-0050040ef7d2", "9d2ea895-0968-11d3-8a38-0050040ef7d2"})
"""Operations that change the gain, mono and stereo."""
AMPLITUDE: Final = "e4962321-2267-11d3-8a4c-0050040ef7d2"
"""The parameter of a gain: a factor, 1 leaves the level as it is."""

PAN: Final = frozenset({"9d2ea893-0968-11d3-8a38-0050040ef7d2"})
"""The operation that pans."""
PAN_VALUE: Final = "e4962322-2267-11d3-8a4c-0050040ef7d2"
"""Its parameter: 0 is left, 1/2 the centre, 1 right."""

COMBINER: Final = "6b46dd7a-132d-4856-ab21-8b751d8462ec"
"""The operation whose inputs are the legs of one sound."""

SPEED: Final = frozenset({"9d2ea890-0968-11d3-8a38-0050040ef7d2"})
"""The operation that plays at another speed."""
SPEED_RATIO: Final = "72559a80-24d7-11d3-8a50-0050040ef7d2"
"""Its parameter: the length of the input over that of the result."""

DISSOLVES: Final = frozenset(
    {
        "0c3bea41-fc05-11d2-8a29-0050040ef7d2",
        "0c3bea42-fc05-11d2-8a29-0050040ef7d2",
        "2311bd90-b5da-4285-aa3a-8552848779b3",
    }
)
"""Operations of a transition that fade one sound out and the other in: mono, stereo, with two parameters."""

HOLDS: Final = "5b6c85a5-0ede-11d3-80a9-006008143e6f"
"""The interpolation that keeps a value until the next point."""
LINES: Final = "5b6c85a4-0ede-11d3-80a9-006008143e6f"
"""The interpolation that draws straight lines."""

MUTE: Final = "AudioMixerCompMute"
SOLO: Final = "AudioMixerCompSolo"
"""Attributes of a track that some exporters write beside the specification."""

IDENTITIES: Final = (
    bytes.fromhex("0102010d00020000060e2b3403020101"),
    bytes.fromhex("0102010d00010000060e2b3403020101"),
    bytes.fromhex("414146420d004f4d060e2b34010101ff"),
)
"""What stands after the magic bytes of a compound file that is an AAF: sectors of 4096 and of 512 bytes, and the
identity that files were given before version 1.1."""


def is_aaf(head: bytes) -> bool:
    """Whether a file begins as an AAF does."""
    return head.startswith(MAGIC) and head[8:24] in IDENTITIES
