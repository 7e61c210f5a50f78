"""The audio files of a session: whether they are there and whole, and how they are encoded."""

from __future__ import annotations

import numpy as np

from mixlint.facts import FactValue
from mixlint.session import Clip, MediaFile, Unknown
from tests.facts.audio_sessions import audio_context, sine, write
from tests.facts.small_sessions import ask, context, mix, track, value


def playing(name: str, file: str, length_s: float = 1.0, **more) -> object:
    return track(name, clips=(Clip(start_s=0.0, end_s=length_s, file=file, **more),))


def test_a_file_is_there_absent_unreadable_or_empty(tmp_path):
    """Told by opening it; the session's own word counts for nothing."""
    media = [
        write(tmp_path, "good.wav", sine(440.0, 1.0)),
        MediaFile(id="gone.wav", path="gone.wav", present=True),
        MediaFile(id="text.wav", path="text.wav"),
        write(tmp_path, "empty.wav", np.zeros(0)),
    ]
    (tmp_path / "text.wav").write_text("not audio")
    at = audio_context(tmp_path, media, *(playing(m.id, m.id) for m in media), mix())
    assert [value(at, "media", m.id, "state") for m in media] == ["there", "absent", "unreadable", "empty"]


def test_a_file_shorter_than_its_header_says_is_cut_short(tmp_path):
    """A second of 24-bit mono at 48 kHz is 144 000 bytes of samples; half of them are taken away."""
    media = [write(tmp_path, "half.wav", sine(440.0, 1.0))]
    path = tmp_path / "half.wav"
    path.write_bytes(path.read_bytes()[: -144_000 // 2])
    at = audio_context(tmp_path, media, playing("Vocal", "half.wav"), mix())
    assert value(at, "media", "half.wav", "state") == "cut-short"
    assert ask(at, "media", "half.wav", "state").note.startswith("0.5 s")


def test_what_only_muted_clips_play_is_not_used():
    media = (MediaFile(id="a", path="a.wav"), MediaFile(id="b", path="b.wav"))
    channel = track(
        "Vocal", clips=(Clip(start_s=0.0, end_s=1.0, file="a", on=False), Clip(start_s=0.0, end_s=1.0, file="b"))
    )
    at = context(channel, mix(), media=media)
    assert [value(at, "media", n, "used") for n in ("a.wav", "b.wav")] == [False, True]


def test_the_sessions_rate_is_declared_or_that_of_most_audio():
    media = (
        MediaFile(id="a", path="a.wav", sample_rate_hz=44100.0),
        MediaFile(id="b", path="b.wav", sample_rate_hz=48000.0),
    )
    channels = (playing("A", "a", 10.0), playing("B", "b", 50.0), mix())
    told = ask(context(*channels, media=media, sample_rate_hz=44100.0), "media", "a.wav", "session_rate")
    taken = ask(context(*channels, media=media), "media", "a.wav", "session_rate")
    assert (told.value, told.how) == (44100.0, "declared")
    assert (taken.value, taken.how) == (48000.0, "assumed")


def test_lossy_is_known_by_the_header_and_else_by_the_ending(tmp_path):
    coded = write(tmp_path, "odd.wav", sine(440.0, 1.0), subtype="MS_ADPCM")
    at = audio_context(tmp_path, [coded], playing("Vocal", "odd.wav"), mix())
    assert isinstance(ask(at, "media", "odd.wav", "lossy"), FactValue)
    unopened = context(
        playing("A", "a.mp3"),
        playing("B", "b.wav"),
        mix(),
        media=(MediaFile(id="a.mp3", path="a.mp3"), MediaFile(id="b.wav", path="b.wav")),
    )
    assert ask(unopened, "media", "a.mp3", "lossy") == FactValue(True, "assumed", "a.mp3", "by its ending .mp3")
    assert isinstance(ask(unopened, "media", "b.wav", "lossy"), Unknown)


def test_a_word_shorter_than_most_is_the_odd_one_out(tmp_path):
    """16 bit among 24 bit is the odd one; 16 bit throughout is not."""
    sixteen = write(tmp_path, "old.wav", sine(440.0, 1.0), subtype="PCM_16")
    others = [write(tmp_path, f"{n}.wav", sine(440.0, 1.0)) for n in "ab"]
    mixed = audio_context(tmp_path, [sixteen, *others], *(playing(m.id, m.id) for m in (sixteen, *others)), mix())
    assert value(mixed, "media", "old.wav", "bits") == 16
    assert [value(mixed, "media", n, "shorter_word") for n in ("old.wav", "a.wav")] == [True, False]
    alone = audio_context(tmp_path, [sixteen], playing("Vocal", "old.wav"), mix())
    assert value(alone, "media", "old.wav", "shorter_word") is False


def test_floating_point_is_no_short_word(tmp_path):
    float_file = write(tmp_path, "f.wav", sine(440.0, 1.0), subtype="FLOAT")
    at = audio_context(tmp_path, [float_file], playing("Vocal", "f.wav"), mix())
    assert value(at, "media", "f.wav", "bits") == 32


def test_files_of_no_length_tell_of_no_clock():
    """Four microphones whose files are empty, as an export declares them: nothing is held against a length of zero."""
    names = ("Kick", "Snare", "OH L", "OH R")
    media = tuple(MediaFile(id=name, path=f"{name}.wav", duration_s=0.0) for name in names)
    at = context(*(playing(name, name) for name in names), mix(), media=media)
    assert [value(at, "media", f"{name}.wav", "off_clock_s") for name in names] == [0.0] * 4
