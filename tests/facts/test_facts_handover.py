"""The mix bus, the stray clips, the set of stems and the session as it goes out of the house."""

from __future__ import annotations

import struct

import numpy as np
import pytest

from mixlint.facts import TABLES, House
from mixlint.facts.handover.file_names import is_portable, run_together
from mixlint.session import Automation, Clip, Insert, Marker, MediaFile, Session, Unknown
from tests.facts.audiodesk import RATE, audio_desk, sine, write
from tests.facts.desks import ask, bus, context, mix, reverb, send, track, value


def test_without_a_master_the_mix_bus_is_not_told():
    at = context(track("Vocal", output=None))
    assert value(at, "mix-bus", "the mix bus", "told") is False
    assert isinstance(ask(at, "mix-bus", "the mix bus", "fader_db"), Unknown)


def test_other_masters_count_when_something_that_plays_goes_there():
    other = bus("Out 3-4", kind="master", output=None)
    for where, others in (("Out 3-4", ("Out 3-4",)), ("Mix", ())):
        at = context(track("Vocal"), track("Guitar"), track("Drums", output=where), mix(), other)
        assert value(at, "mix-bus", "Mix Bus", "others") == others


@pytest.mark.parametrize(
    ("insert", "listening", "limiters", "processors"),
    [
        (Insert(name="Room Correction"), ("Room Correction",), (), ("Room Correction",)),
        (Insert(name="Correction", on=False), (), (), ()),
        (Insert(name="Loudness Meter"), (), (), ()),
        (Insert(name="Brick", kind="limiter"), (), ("Brick",), ("Brick",)),
        (Insert(name="Brick", kind="limiter", loaded=False), (), (), ()),
        (Insert(name="Trim", kind="utility"), (), (), ("Trim",)),
    ],
)
def test_what_acts_on_the_mix_bus(insert, listening, limiters, processors):
    at = context(track("Vocal"), mix(inserts=(insert,)))
    answers = [value(at, "mix-bus", "Mix Bus", fact) for fact in ("for_listening", "limiters", "processors")]
    assert answers == [listening, limiters, processors]


def test_a_processor_that_cannot_be_told_leaves_it_open_and_the_house_settles_it():
    heron = Insert(name="Grey Heron")
    assert isinstance(ask(context(track("V"), mix(inserts=(heron,))), "mix-bus", "Mix Bus", "for_listening"), Unknown)
    house = House(processors={"grey heron": "monitor"})
    at = context(track("V"), mix(inserts=(heron,)), house=house)
    assert value(at, "mix-bus", "Mix Bus", "for_listening") == ("Grey Heron",)


def test_a_pan_that_automation_moves_counts_at_its_furthest():
    lane = Automation(target="pan", scale="pan", t=(0.0, 1.0), v=(0.0, -20.0))
    assert value(context(track("V"), mix(automation=(lane,))), "mix-bus", "Mix Bus", "off_centre") == 20.0


def test_a_reference_counts_muted_or_not():
    at = context(track("Vocal"), track("Reference", mute=True), mix())
    assert value(at, "mix-bus", "Mix Bus", "references") == ("Reference",)


def far(*spans: tuple[float, float], markers=()):
    clips = tuple(Clip(start_s=a, end_s=b, name=f"clip {n}") for n, (a, b) in enumerate(spans))
    return context(track("Guitar", at=(0.0, 180.0)), track("Vocal", clips=clips), mix(), markers=markers)


@pytest.mark.parametrize(
    ("span", "markers", "stray"),
    [
        ((20.0, 100.0), (), False),
        ((185.0, 186.0), (), False),  # within ten seconds of the end
        ((195.0, 196.0), (), True),
        ((195.0, 196.0), (Marker(time_s=194.5, name="Coda"),), False),
        ((195.0, 220.0), (), False),  # a seventh of the song is no leftover
        ((-3.0, 5.0), (), True),
    ],
)
def test_what_counts_as_a_stray(span, markers, stray):
    assert value(far(span, markers=markers), "clip", "Vocal: clip 0", "stray") is stray


def test_a_snippet_is_a_stray_only_on_its_own():
    assert value(far((20.0, 20.02)), "clip", "Vocal: clip 0", "stray") is True
    assert value(far((20.0, 20.02), (20.5, 30.0)), "clip", "Vocal: clip 0", "stray") is False


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
def test_portable_names(path, portable):
    """IEEE Std 1003.1, Portable Filename Character Set: A–Z a–z 0–9 . _ - and no leading hyphen (from memory)."""
    assert is_portable(path) is portable


def test_names_that_run_together():
    """Unicode Standard Annex 15: é is U+00E9, or e and U+0301, and both are one letter."""
    paths = ("a/Vocal.wav", "a/vocal.wav", "b/vocal.wav", "t\u00e9.wav", "te\u0301.wav", "te.wav")
    media = tuple(MediaFile(id=str(n), path=path) for n, path in enumerate(paths))
    assert run_together(media) == (("a/Vocal.wav", "a/vocal.wav"), ("t\u00e9.wav", "te\u0301.wav"))


OWN = ("Lantern", "New Moon", "Songbird")
GIVEN = ("Untitled 2", "", "Song 1", "New Project")


@pytest.mark.parametrize(("title", "titled"), [*((t, True) for t in OWN), *((t, False) for t in GIVEN)])
def test_titles_that_a_program_gave(title, titled):
    from mixlint.facts import SessionContext

    at = SessionContext(Session(title=title))
    row = TABLES["handover"].rows(at)[0]
    assert row.value("titled").value is titled


def test_room_after_the_last_audible_clip():
    """A muted channel and a click do not make the song longer."""
    channels = (track("Vocal"), track("Spare", at=(0.0, 90.0), mute=True), track("Click", at=(0.0, 99.0)), mix())
    at = context(*channels, markers=(Marker(time_s=62.5, name="END"),))
    assert value(at, "handover", "Harrow Gate", "room_s") == pytest.approx(2.5)
    assert value(at, "handover", "Harrow Gate", "has_tail") is False


def test_ambience_makes_a_tail():
    at = context(track("Vocal", sends=(send("Hall"),)), bus("Hall", kind="return", inserts=(reverb(),)), mix())
    assert value(at, "handover", "Harrow Gate", "has_tail") is True


@pytest.mark.parametrize("name", ["Outro", "Ending chorus", "Bend", "Weekend"])
def test_markers_that_are_no_end(name):
    assert (
        value(
            context(track("V"), mix(), markers=(Marker(time_s=9.0, name=name),)),
            "handover",
            "Harrow Gate",
            "end_marked",
        )
        is False
    )


def stems(folder, *files: MediaFile):
    return audio_desk(folder, list(files), *(track(f.path.rpartition(".")[0]) for f in files), mix(), importer="stems")


def test_lengths_rates_and_words_of_a_set(tmp_path):
    one = write(tmp_path, "Drums.wav", np.stack([sine(60.0, 2.0)] * 2, axis=1))
    two = write(tmp_path, "Bass.wav", sine(60.0, 1.5), subtype="PCM_16")
    at = stems(tmp_path, one, two)
    facts = {
        fact: value(at, "stems", "Harrow Gate", fact)
        for fact in ("length_spread_ms", "rates", "encodings", "most_legs")
    }
    assert facts == {"length_spread_ms": pytest.approx(500.0), "rates": 1, "encodings": 2, "most_legs": 2}
    assert value(at, "stems", "Harrow Gate", "storings_are") == "16 bit, 24 bit"
    assert value(at, "stems", "Harrow Gate", "lengths") == "Bass.wav lasts 1.5 s, Drums.wav 2 s"


def test_the_same_bytes_under_two_names(tmp_path):
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
def test_files_laid_out_by_their_time_stamps(tmp_path, stamps, laid):
    """Only differing stamps on every file say where the files belong."""
    files = [write(tmp_path, name, sine(60.0, 1.0)) for name in ("Drums.wav", "Bass.wav")]
    for file, seconds in zip(files, stamps, strict=True):
        if seconds is not None:
            stamp(tmp_path, file.path, seconds)
    assert value(stems(tmp_path, *files), "stems", "Harrow Gate", "laid_by_stamp") is laid


def test_a_session_is_no_set_of_stems():
    assert TABLES["stems"].rows(context(track("Vocal"), mix())) == ()
