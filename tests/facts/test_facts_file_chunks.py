"""What the chunks of a session's files say, against the session and the sound: cue points, stamps, loudness.

Files are labelled here byte by byte, after EBU Tech 3285 (``bext``) and the RIFF wave form (``cue ``, ``LIST``).
"""

from __future__ import annotations

import struct
from pathlib import Path

import numpy as np
import pytest

from mixlint.facts import TABLES
from mixlint.session import Channel, Clip, Marker, MediaFile, Unknown
from tests.facts.audio_sessions import RATE, audio_context, sine, write
from tests.facts.small_sessions import ask, mix, track, value

UNSET = 0x7FFF


def add(folder: Path, media: MediaFile, *chunks: tuple[bytes, bytes]) -> MediaFile:
    path = folder / media.path
    whole = path.read_bytes()
    whole += b"".join(name + struct.pack("<I", len(one)) + one + b"\0" * (len(one) % 2) for name, one in chunks)
    path.write_bytes(whole[:4] + struct.pack("<I", len(whole) - 8) + whole[8:])
    return media


def bext(stamp: int = 0, *, figures: tuple[int, ...] = (UNSET,) * 5) -> tuple[bytes, bytes]:
    """602 bytes: TimeReference at 338, version at 346, from 412 loudness, range, true peak, momentary, short-term."""
    body = bytearray(602)
    struct.pack_into("<QH", body, 338, stamp, 2)
    struct.pack_into("<5h", body, 412, *figures)
    return b"bext", bytes(body)


def cues(*points: tuple[float, str]) -> tuple[tuple[bytes, bytes], tuple[bytes, bytes]]:
    """A cue point has 24 bytes, its number first and its sample last; ``labl`` holds a number and a text."""
    listed = [struct.pack("<II4sIII", n, n, b"data", 0, 0, round(at * RATE)) for n, (at, _) in enumerate(points)]
    texts = [struct.pack("<I", n) + name.encode() + b"\0" for n, (_, name) in enumerate(points)]
    labels = b"".join(b"labl" + struct.pack("<I", len(one)) + one + b"\0" * (len(one) % 2) for one in texts)
    return (b"cue ", struct.pack("<I", len(points)) + b"".join(listed)), (b"LIST", b"adtl" + labels)


def part(name: str, *clips: Clip) -> Channel:
    return track(name, clips=clips)


def clip(file: str, start_s: float, end_s: float, offset_s: float = 0.0) -> Clip:
    return Clip(start_s=start_s, end_s=end_s, file=file, offset_s=offset_s)


def tone(folder: Path, name: str, seconds: float = 2.0) -> MediaFile:
    return write(folder, name, sine(110.0, seconds))


# --- cue points


def test_cue_points_are_the_markers_of_a_session_that_has_none(tmp_path: Path) -> None:
    """A clip that begins 0.5 s into its file shows a cue point at 1 s half a second after its own start."""
    drums = add(tmp_path, tone(tmp_path, "Drums.wav"), *cues((1.0, "Verse"), (1.5, "")))
    bass = add(tmp_path, tone(tmp_path, "Bass.wav"), *cues((1.5, "Verse"), (1.75, "Chorus")))
    flown = add(tmp_path, tone(tmp_path, "Choir.wav"), *cues((1.0, "Bridge")))
    channels = [
        part("Drums", clip("Drums.wav", 8.0, 9.5, 0.5)),
        part("Bass", clip("Bass.wav", 7.0, 9.0)),
        part("Choir", clip("Choir.wav", 0.0, 2.0), clip("Choir.wav", 20.0, 22.0)),
    ]
    at = audio_context(tmp_path, [drums, bass, flown], *channels, mix())
    rows = TABLES["marker"].rows(at)
    assert [(row.need("name").value, row.need("at_s").number) for row in rows] == [("Verse", 8.5), ("Chorus", 8.75)]
    assert [row.need("file").value for row in rows] == ["Bass.wav", "Bass.wav"]
    assert [row.need("in_file_s").number for row in rows] == [1.5, 1.75]
    assert rows[0].need("bar").number == 5  # 120 in a minute, four to the bar: 2 s a bar
    assert value(at, "media", "Choir.wav", "cues") == ("Bridge at 0:01.0",)


def test_markers_of_the_session_come_before_cue_points(tmp_path: Path) -> None:
    drums = add(tmp_path, tone(tmp_path, "Drums.wav"), *cues((1.0, "verse"), (1.5, "Outro")))
    channel = part("Drums", clip("Drums.wav", 8.0, 10.0))
    marks = (Marker(time_s=8.75, name="Verse"), Marker(time_s=2.0, name="Verse"))
    at = audio_context(tmp_path, [drums], channel, mix(), markers=marks)
    assert [row.need("file").value for row in TABLES["marker"].rows(at)] == ["", ""]
    assert isinstance(TABLES["marker"].rows(at)[0].value("in_file_s"), Unknown)
    off = ask(at, "media", "Drums.wav", "cues_off_s")
    assert off.number == pytest.approx(0.25)
    assert off.note == "verse at 0:09.0, where the session marks it at 0:08.8"


def test_a_file_that_is_stretched_tells_no_place(tmp_path: Path) -> None:
    drums = add(tmp_path, tone(tmp_path, "Drums.wav"), *cues((1.0, "Verse")))
    stretched = Clip(start_s=8.0, end_s=9.0, file="Drums.wav", offset_s=0.0, speed=2.0)
    at = audio_context(tmp_path, [drums], part("Drums", stretched), mix(), markers=(Marker(time_s=8.5, name="Verse"),))
    assert isinstance(ask(at, "media", "Drums.wav", "cues_off_s"), Unknown)


# --- time stamps


def off_stamp(folder: Path, *files: tuple[float, float]) -> list[float | None]:
    """How far each file is told to lie off, from stamps and beginnings in seconds."""
    media, channels = [], []
    for number, (stamp_s, start_s) in enumerate(files):
        name = f"{number}.wav"
        media.append(add(folder, tone(folder, name), bext(round(stamp_s * RATE))))
        channels.append(part(f"Guitar {number}", clip(name, start_s, start_s + 2.0)))
    at = audio_context(folder, media, *channels, mix())
    found = [ask(at, "media", one.path, "off_stamp_ms") for one in media]
    return [None if isinstance(one, Unknown) else round(one.number, 3) for one in found]


@pytest.mark.parametrize(
    ("files", "told"),
    [
        ([(50.0, 1.0)] * 4, [0.0] * 4),
        ([(50.0, 1.0)] * 3 + [(50.0, 1.01)], [None] * 3 + [10.0]),
        ([(50.0, 1.0)] * 3 + [(50.5, 1.5)], [0.0] * 4),
        ([(50.0, 1.0)] * 3 + [(50.5, 1.0)], [None] * 3 + [500.0]),
        ([(50.0, 1.0)] * 2 + [(50.0, 1.01)], [None] * 3),  # too few beside it
        ([(50.0, 1.0)] * 3 + [(50.0, 1.01)] * 2, [None] * 5),  # nothing tells which were moved
        ([(50.0, 1.0)] * 3 + [(50.0, 9.0)], [None] * 4),  # laid elsewhere on purpose
        ([(50.0, 1.0)] * 4 + [(51.5, 2.6)], [0.0] * 4 + [None]),  # hardly any time in common
        ([(0.0, 1.0)] * 3 + [(0.0, 1.01)], [None] * 4),  # no stamp
    ],
)
def test_the_one_file_that_lies_off_its_run(
    tmp_path: Path, files: list[tuple[float, float]], told: list[float | None]
) -> None:
    assert off_stamp(tmp_path, *files) == told


# --- loudness


def minus_23(folder: Path, figures: tuple[int, ...], *, legs: int = 2) -> list[float]:
    """EBU Tech 3341, test signal 1: a stereo sine of 1 kHz, −23.0 dBFS on both sides, is −23.0 LUFS by all three."""
    one = sine(1000.0, 4.0, peak=10.0 ** (-23.0 / 20.0))
    media = add(folder, write(folder, "Tone.wav", np.stack([one] * legs, axis=1)), bext(figures=figures))
    at = audio_context(folder, [media], part("Tone", clip("Tone.wav", 0.0, 4.0)), mix())
    assert value(at, "media", "Tone.wav", "states_loudness") is (set(figures) != {UNSET})
    facts = ("stated_loudness_off_lu", "stated_range_off_lu", "stated_true_peak_off_db")
    return [value(at, "media", "Tone.wav", fact) for fact in facts]


def test_all_five_figures_that_hold(tmp_path: Path) -> None:
    assert minus_23(tmp_path, (-2300, 0, -2300, -2300, -2300)) == pytest.approx([0.0] * 3, abs=0.1)


@pytest.mark.parametrize(
    ("figures", "off"),
    [
        ((-2000, UNSET, UNSET, UNSET, UNSET), (3.0, 0.0, 0.0)),
        ((UNSET, 700, UNSET, UNSET, UNSET), (0.0, 7.0, 0.0)),
        ((UNSET, UNSET, -100, UNSET, UNSET), (0.0, 0.0, 22.0)),
        ((UNSET, UNSET, UNSET, -1800, UNSET), (5.0, 0.0, 0.0)),
        ((-2300, UNSET, UNSET, UNSET, -2700), (4.0, 0.0, 0.0)),
        ((UNSET,) * 5, (0.0, 0.0, 0.0)),
    ],
)
def test_each_figure_that_does_not_hold(tmp_path: Path, figures: tuple[int, ...], off: tuple[float, ...]) -> None:
    assert minus_23(tmp_path, figures) == pytest.approx(off, abs=0.1)


@pytest.mark.parametrize(("stated", "off"), [(-2300, 0.0), (-2601, 0.0), (-2450, 1.5), (-2900, 2.99)])
def test_one_leg_may_be_stated_alone_or_as_both_sides_play_it(tmp_path: Path, stated: int, off: float) -> None:
    """ITU-R BS.1770 sums energies: one channel is 10 log10 2 = 3.01 LU under two alike."""
    figures = (stated, UNSET, UNSET, UNSET, UNSET)
    assert minus_23(tmp_path, figures, legs=1)[0] == pytest.approx(off, abs=0.1)


def test_silence_may_be_stated_at_the_gate(tmp_path: Path) -> None:
    """ITU-R BS.1770: nothing at or under −70 LUFS counts, so that silence has no loudness."""
    figures = (-7000, UNSET, UNSET, UNSET, UNSET)
    media = add(tmp_path, write(tmp_path, "Rest.wav", np.zeros((RATE, 2))), bext(figures=figures))
    at = audio_context(tmp_path, [media], part("Rest", clip("Rest.wav", 0.0, 1.0)), mix())
    assert value(at, "media", "Rest.wav", "stated_loudness_off_lu") == 0.0


def test_of_more_than_two_legs_nothing_tells_what_they_are_for(tmp_path: Path) -> None:
    figures = (-2300, UNSET, UNSET, UNSET, UNSET)
    media = add(tmp_path, write(tmp_path, "Six.wav", np.stack([sine(110.0, 1.0)] * 6, axis=1)), bext(figures=figures))
    at = audio_context(tmp_path, [media], part("Six", clip("Six.wav", 0.0, 1.0)), mix())
    assert isinstance(ask(at, "media", "Six.wav", "stated_loudness_off_lu"), Unknown)
