"""The session as it goes out of the house: title, file names, and room for the tail."""

from __future__ import annotations

import pytest

from mixlint.facts import TABLES, SessionContext
from mixlint.facts.handover.file_names import is_portable, run_together
from mixlint.session import Marker, MediaFile, Session
from tests.facts.small_sessions import bus, context, mix, reverb, send, track, value


@pytest.mark.parametrize(
    ("path", "portable"),
    [
        ("audio/vocal_01.wav", True),
        ("audio/Vocal 01.wav", False),
        ("audio/-vocal.wav", False),
        ("audio/té.wav", False),
        ("my audio/vocal.wav", False),
        ("audio\\vocal.wav", True),
        ("a" * 60 + ".wav", True),
        ("a" * 61 + ".wav", False),
        ("audio/vocal.wav\n", False),
    ],
)
def test_a_name_of_the_portable_set_and_no_longer_than_64_is_portable(path, portable):
    """IEEE Std 1003.1, Portable Filename Character Set: A–Z a–z 0–9 . _ - and no leading hyphen (from memory)."""
    assert is_portable(path) is portable


def test_names_that_differ_in_case_or_accents_alone_run_together():
    """Unicode Standard Annex 15: é is U+00E9, or e and U+0301, and both are one letter."""
    paths = ("a/Vocal.wav", "a/vocal.wav", "b/vocal.wav", "t\u00e9.wav", "te\u0301.wav", "te.wav")
    media = tuple(MediaFile(id=str(n), path=path) for n, path in enumerate(paths))
    assert run_together(media) == (("a/Vocal.wav", "a/vocal.wav"), ("t\u00e9.wav", "te\u0301.wav"))


OWN = ("Lantern", "New Moon", "Songbird")
GIVEN = ("Untitled 2", "", "Song 1", "New Project")


@pytest.mark.parametrize(("title", "titled"), [*((t, True) for t in OWN), *((t, False) for t in GIVEN)])
def test_a_title_that_a_program_gave_is_none(title, titled):

    at = SessionContext(Session(title=title))
    row = TABLES["handover"].rows(at)[0]
    assert row.value("titled").value is titled


def test_room_counts_from_the_last_audible_clip_of_the_song():
    """A muted channel and a click do not make the song longer."""
    channels = (track("Vocal"), track("Spare", at=(0.0, 90.0), mute=True), track("Click", at=(0.0, 99.0)), mix())
    at = context(*channels, markers=(Marker(time_s=62.5, name="END"),))
    assert value(at, "handover", "Harrow Gate", "room_s") == pytest.approx(2.5)
    assert value(at, "handover", "Harrow Gate", "has_tail") is False


def test_ambience_makes_a_tail():
    at = context(track("Vocal", sends=(send("Hall"),)), bus("Hall", kind="return", inserts=(reverb(),)), mix())
    assert value(at, "handover", "Harrow Gate", "has_tail") is True


@pytest.mark.parametrize("name", ["Outro", "Ending chorus", "Bend", "Weekend"])
def test_a_marker_of_a_part_marks_no_end(name):
    assert (
        value(
            context(track("V"), mix(), markers=(Marker(time_s=9.0, name=name),)),
            "handover",
            "Harrow Gate",
            "end_marked",
        )
        is False
    )
