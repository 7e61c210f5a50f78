"""Cue points inside stems as the markers of their song, in files laid out by hand.

Sources: RIFF wave form, Multimedia Programming Interface and Data Specification 1.0 (``cue ``, ``LIST`` of ``adtl``);
EBU Tech 3285 (TimeReference of ``bext``: samples since midnight, 64 bits at byte 338).
"""

from __future__ import annotations

import struct
from pathlib import Path

import pytest

from mixlint.importers import read
from mixlint.media.stamps import by_stamps

RATE = 8_000


def stem(folder: Path, name: str, seconds: float, *cues: tuple[float, str], stamp_s: float | None = None) -> None:
    data = bytes(2 * round(seconds * RATE))
    parts = [(b"fmt ", struct.pack("<HHIIHH", 1, 1, RATE, 2 * RATE, 2, 16)), (b"data", data)]
    if stamp_s is not None:
        bext = bytearray(602)
        struct.pack_into("<Q", bext, 338, round(stamp_s * RATE))
        parts.insert(0, (b"bext", bytes(bext)))
    if cues:
        points = b"".join(
            struct.pack("<II4sIII", n, n, b"data", 0, 0, round(at * RATE)) for n, (at, _) in enumerate(cues)
        )
        parts.append((b"cue ", struct.pack("<I", len(cues)) + points))
        texts = [struct.pack("<I", n) + text.encode() + b"\0" for n, (_, text) in enumerate(cues) if text]
        labels = b"".join(b"labl" + struct.pack("<I", len(one)) + one + b"\0" * (len(one) % 2) for one in texts)
        parts.append((b"LIST", b"adtl" + labels))
    body = b"".join(n + struct.pack("<I", len(one)) + one + b"\0" * (len(one) % 2) for n, one in parts)
    (folder / name).write_bytes(b"RIFF" + struct.pack("<I", 4 + len(body)) + b"WAVE" + body)


def marks(folder: Path) -> list[tuple[float, str]]:
    return [(marker.time_s, marker.name) for marker in read(folder).markers]


def test_each_name_and_time_is_one_marker(tmp_path: Path) -> None:
    for name in ("Drums.wav", "Bass.wav", "Lantern Mix.wav"):
        stem(tmp_path, name, 4.0, (0.5, "Verse"), (2.0, "Chorus"), (3.0, ""))
    stem(tmp_path, "Vocal.wav", 4.0, (0.5, "Verse"), (2.25, "Chorus"), (9.0, "Beyond its end"))
    assert marks(tmp_path) == [(0.5, "Verse"), (2.0, "Chorus"), (2.25, "Chorus")]
    session = read(tmp_path)
    assert any("3 markers are the labelled cue points" in note.text for note in session.notes)


def test_without_cue_points_there_are_no_markers(tmp_path: Path) -> None:
    stem(tmp_path, "Drums.wav", 1.0)
    assert marks(tmp_path) == []
    assert not any("cue points" in note.text for note in read(tmp_path).notes)


def test_a_stem_that_begins_later_by_its_stamp_marks_the_same_place(tmp_path: Path) -> None:
    stem(tmp_path, "Drums.wav", 4.0, (2.0, "Chorus"), stamp_s=3600.0)
    stem(tmp_path, "Bass.wav", 4.0, (2.0, "Chorus"), stamp_s=3600.0)
    stem(tmp_path, "Vocal.wav", 3.0, (1.0, "Chorus"), stamp_s=3601.0)
    assert marks(tmp_path) == [(2.0, "Chorus")]


@pytest.mark.parametrize(
    ("stamps", "starts"),
    [
        ((36_000.0, 36_001.5), [0.0, 1.5]),
        ((36_000.0, 36_000.0), [0.0, 0.0]),
        ((36_000.0, None), [0.0, 0.0]),  # one without a stamp: nothing is laid out
        ((0.0, 36_000.0), [0.0, 0.0]),  # recorded hours apart: they cannot be of one run
    ],
)
def test_stems_lie_where_their_stamps_say_they_were_recorded(
    tmp_path: Path, stamps: tuple[float | None, ...], starts: list[float]
) -> None:
    for name, stamp_s in zip(("Bass.wav", "Drums.wav"), stamps, strict=True):
        stem(tmp_path, name, 4.0, (2.0, "Chorus"), stamp_s=stamp_s)
    session = read(tmp_path)
    assert [clip.start_s for channel in session.channels for clip in channel.clips] == starts
    assert [marker.time_s for marker in session.markers] == sorted({2.0 + start for start in starts})


def test_a_stamp_that_cannot_be_of_the_run_moves_no_marker() -> None:
    stamps: dict[str, float | None] = {"a": 50.0, "b": 50.0, "c": 50.0, "d": 9_000.0, "e": 51.0, "f": None}
    found = by_stamps(stamps, 10.0)
    assert dict(found.late_s) == {"a": 0.0, "b": 0.0, "c": 0.0, "e": 1.0}
    assert not found.laid
