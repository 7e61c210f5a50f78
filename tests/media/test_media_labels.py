"""What chunks of a wave file say, laid out as EBU Tech 3285 and the iXML specification have them."""

from __future__ import annotations

import io
import struct

import pytest

from mixlint.media.labels import Cue, Labels, Stated, read_labels


def bext(stamp: int = 0, version: int = 2, loudness: int = 0x7FFF, peak: int = 0x7FFF, about: bytes = b"") -> bytes:
    """602 bytes: description at 0, time reference at 338, version at 346, loudness at 412, true peak at 416."""
    body = bytearray(602)
    body[: len(about)] = about
    struct.pack_into("<QH", body, 338, stamp, version)
    struct.pack_into("<hhh", body, 412, loudness, 0x7FFF, peak)
    return bytes(body)


def wave(*chunks: tuple[bytes, bytes]) -> io.BytesIO:
    inner = b"".join(name + struct.pack("<I", len(body)) + body + b"\0" * (len(body) % 2) for name, body in chunks)
    return io.BytesIO(b"RIFF" + struct.pack("<I", 4 + len(inner)) + b"WAVE" + inner)


def test_all_fields() -> None:
    ixml = b"<BWFXML><NAME>no track</NAME><TRACK_LIST><TRACK><NAME> Lead Vox </NAME></TRACK></TRACK_LIST></BWFXML>"
    found = read_labels(
        wave(
            (b"fmt ", bytes(16)),
            (b"bext", bext(1 << 33, loudness=-2310, peak=-105, about=b"Lantern")),
            (b"data", bytes(7)),
            (b"iXML", ixml),
            (b"cue ", struct.pack("<I", 2) + bytes(48)),
        )
    )
    assert found == Labels(("Lead Vox",), "Lantern", Stated(-23.1, None, -1.05), 1 << 33, (Cue(0), Cue(0)))


def test_fields_that_are_not_set_are_none() -> None:
    assert read_labels(wave((b"bext", bext()))).stated.integrated_lufs is None
    assert read_labels(wave((b"bext", bext(version=1, loudness=-2310)))).stated.integrated_lufs is None
    assert read_labels(wave((b"fmt ", bytes(16)))) == Labels()


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"RIFF",
        b"fLaC" + bytes(40),
        wave((b"bext", bext())).getvalue()[:300],
        b"RIFF\xff\xff\xff\xffWAVEbext\xff\xff\xff\xff" + bytes(100),
        b"RIFF\xff\xff\xff\xffWAVEcue \x04\x00\x00\x00\xff\xff\xff\xff",
        b"RIFF\x00\x00\x00\x00WAVE" + b"iXML\x08\x00\x00\x00<TRACK_L" * 9000,
        b"RF64\xff\xff\xff\xffWAVEds64\x04\x00\x00\x00\x00\x00\x00\x00data\xff\xff\xff\xff",
    ],
)
def test_whatever_bytes_come_it_ends(body: bytes) -> None:
    found = read_labels(io.BytesIO(body))
    assert found.tracks == ()
    assert len(found.cues) <= 1
