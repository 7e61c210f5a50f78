"""What chunks of a wave file say, laid out as EBU Tech 3285 and the iXML specification have them."""

from __future__ import annotations

import io
import struct

import pytest

from mixlint.media.labels import Cue, Labels, Stated, read_labels

UNSET = 0x7FFF


def bext(
    stamp: int = 0,
    version: int = 2,
    loudness: int = UNSET,
    spread: int = UNSET,
    peak: int = UNSET,
    momentary: int = UNSET,
    short: int = UNSET,
    about: bytes = b"",
) -> bytes:
    """602 bytes after EBU Tech 3285, version 2: description at 0, time reference at 338, version at 346, and from 412
    the loudness, its range, the true peak, and the highest momentary and short-term loudness, two bytes each."""
    body = bytearray(602)
    body[: len(about)] = about
    struct.pack_into("<QH", body, 338, stamp, version)
    struct.pack_into("<5h", body, 412, loudness, spread, peak, momentary, short)
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


def test_the_five_figures_of_version_two() -> None:
    body = bext(loudness=-2300, spread=1250, peak=-520, momentary=-990, short=-1830)
    assert read_labels(wave((b"bext", body))).stated == Stated(-23.0, 12.5, -5.2, -9.9, -18.3)


def test_figures_beyond_what_a_field_may_hold_are_none() -> None:
    """EBU Tech 3285, version 2: −99.99 … 99.99."""
    assert read_labels(wave((b"bext", bext(loudness=-9999, peak=10_000)))).stated == Stated(-99.99)
    assert read_labels(wave((b"bext", bext(0, 2, 0, 0, 0, 0, 0)))).stated == Stated()


def point(number: int, sample: int, order: str = "<") -> bytes:
    """A cue point of the RIFF form, 24 bytes: number, place in the play order, chunk, its start, block, sample."""
    return struct.pack(f"{order}II4sIII", number, 0, b"data", 0, 0, sample)


def associated(kind: bytes, number: int, text: bytes, order: str = "<") -> bytes:
    """``labl`` and ``note``: number, text with a zero behind it. ``ltxt``: number, length of the stretch in samples,
    purpose, country, language, dialect and code page (2 bytes each), text."""
    head = struct.pack(order + "I", number)
    if kind == b"ltxt":
        head += struct.pack(f"{order}I4s4H", 4_800, b"rgn ", 0, 0, 0, 65_001)
    body = head + text + b"\0"
    return kind + struct.pack(order + "I", len(body)) + body + b"\0" * (len(body) % 2)


def test_labels_of_cue_points() -> None:
    """RIFF: a cue point has 24 bytes, its number first and its sample last; ``labl`` holds a number and a text."""
    points = struct.pack("<I", 2) + point(7, 96_000) + point(9, 48_000)
    label = b"labl" + struct.pack("<II", 11, 7) + b"Chorus\0" + b"\0"
    empty = b"note" + struct.pack("<II", 5, 9) + b"\0" + b"\0"
    found = read_labels(wave((b"cue ", points), (b"LIST", b"adtl" + empty + label), (b"LIST", b"INFO" + bytes(40))))
    assert found.cues == (Cue(48_000), Cue(96_000, "Chorus"))


def test_a_title_comes_before_the_text_of_a_stretch_and_that_before_a_comment() -> None:
    points = struct.pack("<I", 3) + point(1, 10) + point(2, 20) + point(3, 30)
    texts = [(b"note", 1, b"louder"), (b"ltxt", 1, b"Verse"), (b"labl", 1, b"Verse 1"), (b"note", 2, b"louder"),
             (b"ltxt", 2, b"Chorus"), (b"note", 3, b"Outro, \xe9lan")]  # fmt: skip
    listed = b"adtl" + b"".join(associated(*one) for one in texts)
    cues = (Cue(10, "Verse 1"), Cue(20, "Chorus"), Cue(30, "Outro, élan"))
    assert read_labels(wave((b"LIST", listed), (b"cue ", points))).cues == cues


def test_figures_stored_the_other_way_round() -> None:
    """RIFX is RIFF with the highest byte first (Multimedia Programming Interface and Data Specification 1.0)."""
    cue = struct.pack(">I", 1) + point(1, 48_000, ">")
    listed = b"adtl" + associated(b"labl", 1, b"Bridge", ">")
    body = b"WAVE" + b"".join(
        name + struct.pack(">I", len(one)) + one + b"\0" * (len(one) % 2)
        for name, one in ((b"cue ", cue), (b"LIST", listed))
    )
    assert read_labels(io.BytesIO(b"RIFX" + struct.pack(">I", len(body)) + body)).cues == (Cue(48_000, "Bridge"),)


def test_chunks_behind_a_length_in_ds64() -> None:
    """ITU-R BS.2088: a chunk that says 0xFFFFFFFF has its size in ``ds64``: ``data`` at byte 8, others in a table."""
    table = struct.pack("<QQQI", 0, 6, 3, 1) + struct.pack("<4sQ", b"junk", 5)
    parts = [(b"ds64", len(table), table), (b"data", 0xFFFFFFFF, bytes(6)), (b"junk", 0xFFFFFFFF, bytes(6)),
             (b"cue ", 28, struct.pack("<I", 1) + point(1, 2))]  # fmt: skip
    body = b"WAVE" + b"".join(name + struct.pack("<I", size) + one for name, size, one in parts)
    assert read_labels(io.BytesIO(b"BW64\xff\xff\xff\xff" + body)).cues == (Cue(2),)


def test_nothing_is_taken_for_a_chunk_behind_samples_of_an_open_length() -> None:
    """A recorder that was cut off left both sizes at 0: what follows are samples."""
    inside = b"cue " + struct.pack("<I", 28) + struct.pack("<I", 1) + point(1, 2)
    body = b"WAVEfmt " + struct.pack("<I", 16) + bytes(16) + b"data" + bytes(4) + inside
    assert read_labels(io.BytesIO(b"RIFF" + bytes(4) + body)).cues == ()


def test_names_of_tracks_in_other_writing() -> None:
    """iXML may be "encoded in any unicode encoding", and its texts are XML."""
    text = "<BWFXML><TRACK_LIST><TRACK><NAME>Kick &amp; Snare Ä</NAME></TRACK></TRACK_LIST></BWFXML>"
    for encoding in ("utf-8", "utf-16"):
        assert read_labels(wave((b"iXML", text.encode(encoding)))).tracks == ("Kick & Snare Ä",)


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
