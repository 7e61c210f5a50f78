"""A folder of stems as a set."""

from __future__ import annotations

import struct

import numpy as np
import pytest

from mixlint.facts import TABLES
from mixlint.session import MediaFile
from tests.facts.audio_sessions import RATE, audio_context, sine, write
from tests.facts.small_sessions import ask, context, mix, track, value


def stems(folder, *files: MediaFile):
    return audio_context(
        folder, list(files), *(track(f.path.rpartition(".")[0]) for f in files), mix(), importer="stems"
    )


def test_a_set_is_described_by_its_lengths_rates_and_word_lengths(tmp_path):
    one = write(tmp_path, "Drums.wav", np.stack([sine(60.0, 2.0)] * 2, axis=1))
    two = write(tmp_path, "Bass.wav", sine(60.0, 1.5), subtype="PCM_16")
    at = stems(tmp_path, one, two)
    facts = {
        fact: value(at, "stems", "Harrow Gate", fact)
        for fact in ("length_spread_ms", "rates", "encodings", "most_legs")
    }
    assert facts == {"length_spread_ms": pytest.approx(500.0), "rates": 1, "encodings": 2, "most_legs": 2}
    assert ask(at, "stems", "Harrow Gate", "encodings").note == "16 bit, 24 bit"
    assert value(at, "stems", "Harrow Gate", "lengths") == "Bass.wav lasts 1.5 s, Drums.wav 2 s"


def test_the_same_bytes_under_two_names_are_found(tmp_path):
    files = [write(tmp_path, f"{n}.wav", sine(hz, 1.0)) for n, hz in (("Drums", 60.0), ("Bass", 90.0), ("Vocal", 60.0))]
    assert value(stems(tmp_path, *files), "stems", "Harrow Gate", "same") == ("Drums.wav and Vocal.wav",)
    assert value(stems(tmp_path, *files[:2]), "stems", "Harrow Gate", "same") == ()


def stamp(folder, name: str, seconds: int) -> None:
    """Add a ``bext`` chunk as EBU Tech 3285 has it: 602 bytes, TimeReference at byte 338, in samples."""
    path = folder / name
    body = bytearray(602)
    body[338:346] = struct.pack("<Q", seconds * RATE)
    whole = path.read_bytes() + b"bext" + struct.pack("<I", 602) + bytes(body)
    path.write_bytes(whole[:4] + struct.pack("<I", len(whole) - 8) + whole[8:])


@pytest.mark.parametrize(("stamps", "laid"), [((3600, 3605), True), ((3600, 3600), False), ((3600, None), False)])
def test_files_are_laid_out_by_time_stamps_that_differ(tmp_path, stamps, laid):
    """Only differing stamps on every file say where the files belong."""
    files = [write(tmp_path, name, sine(60.0, 1.0)) for name in ("Drums.wav", "Bass.wav")]
    for file, seconds in zip(files, stamps, strict=True):
        if seconds is not None:
            stamp(tmp_path, file.path, seconds)
    assert value(stems(tmp_path, *files), "stems", "Harrow Gate", "laid_by_stamp") is laid


def test_a_session_is_no_set_of_stems():
    assert TABLES["stems"].rows(context(track("Vocal"), mix())) == ()
