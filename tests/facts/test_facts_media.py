"""The table ``media`` and what clips tell of their files."""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.facts import FactValue
from mixlint.session import Clip, MediaFile, Unknown
from tests.facts.audiodesk import audio_desk, sine, write
from tests.facts.desks import ask, context, mix, track, value


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
    at = audio_desk(tmp_path, media, *(playing(m.id, m.id) for m in media), mix())
    assert [value(at, "media", m.id, "state") for m in media] == ["there", "absent", "unreadable", "empty"]


def test_a_file_shorter_than_its_header_says_is_cut_short(tmp_path):
    """A second of 24-bit mono at 48 kHz is 144 000 bytes of samples; half of them are taken away."""
    media = [write(tmp_path, "half.wav", sine(440.0, 1.0))]
    path = tmp_path / "half.wav"
    path.write_bytes(path.read_bytes()[: -144_000 // 2])
    at = audio_desk(tmp_path, media, playing("Vocal", "half.wav"), mix())
    assert value(at, "media", "half.wav", "state") == "cut-short"
    assert value(at, "media", "half.wav", "state_how").startswith("0.5 s")


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


def test_lossy_by_header_and_by_ending(tmp_path):
    coded = write(tmp_path, "odd.wav", sine(440.0, 1.0), subtype="MS_ADPCM")
    at = audio_desk(tmp_path, [coded], playing("Vocal", "odd.wav"), mix())
    assert isinstance(ask(at, "media", "odd.wav", "lossy"), FactValue)
    unopened = context(
        playing("A", "a.mp3"),
        playing("B", "b.wav"),
        mix(),
        media=(MediaFile(id="a.mp3", path="a.mp3"), MediaFile(id="b.wav", path="b.wav")),
    )
    assert ask(unopened, "media", "a.mp3", "lossy") == FactValue(True, "assumed", "a.mp3", "by its ending .mp3")
    assert isinstance(ask(unopened, "media", "b.wav", "lossy"), Unknown)


def test_word_lengths_and_the_odd_one_out(tmp_path):
    """16 bit among 24 bit is the odd one; 16 bit throughout is not."""
    sixteen = write(tmp_path, "old.wav", sine(440.0, 1.0), subtype="PCM_16")
    others = [write(tmp_path, f"{n}.wav", sine(440.0, 1.0)) for n in "ab"]
    mixed = audio_desk(tmp_path, [sixteen, *others], *(playing(m.id, m.id) for m in (sixteen, *others)), mix())
    assert value(mixed, "media", "old.wav", "bits") == 16
    assert [value(mixed, "media", n, "shorter_word") for n in ("old.wav", "a.wav")] == [True, False]
    alone = audio_desk(tmp_path, [sixteen], playing("Vocal", "old.wav"), mix())
    assert value(alone, "media", "old.wav", "shorter_word") is False


def test_floating_point_is_no_short_word(tmp_path):
    float_file = write(tmp_path, "f.wav", sine(440.0, 1.0), subtype="FLOAT")
    at = audio_desk(tmp_path, [float_file], playing("Vocal", "f.wav"), mix())
    assert value(at, "media", "f.wav", "bits") == 32


@pytest.mark.parametrize(
    ("file_hz", "session_hz", "speed", "wrong"),
    [
        (44100.0, 48000.0, 48000 / 44100, True),
        (48000.0, 44100.0, 44100 / 48000, True),
        (44100.0, 48000.0, 44100 / 48000, False),  # the other way round: slower, so no fault of the rate
        (48000.0, 48000.0, 98 / 90, False),  # a change of tempo that comes within 0.05 % of 48 : 44.1
        (44100.0, 48000.0, 1.06, False),
        (96000.0, 48000.0, 0.5, True),
    ],
)
def test_the_wrong_speed_is_the_ratio_of_two_rates(file_hz, session_hz, speed, wrong):
    """48 000 / 44 100 = 1.08844 by arithmetic; 98 / 90 = 1.08889."""
    media = (MediaFile(id="a", path="a.wav", sample_rate_hz=file_hz, duration_s=100.0),)
    at = context(playing("A", "a", 10.0, speed=speed), mix(), media=media, sample_rate_hz=session_hz)
    assert value(at, "clip", "A: a.wav", "wrong_rate") is wrong


def test_a_length_told_at_the_wrong_rate(tmp_path):
    """The export takes a file of 2 s at 44.1 kHz for one of 2 × 44.1 / 48 s."""
    file = write(tmp_path, "a.wav", sine(100.0, 2.0)[:88200], rate=44100)
    told = file.model_copy(update={"duration_s": 88200 / 48000})
    at = audio_desk(tmp_path, [told], playing("A", "a.wav", 1.0), mix(), sample_rate_hz=48000.0)
    assert value(at, "clip", "A: a.wav", "wrong_rate") is True


def test_past_the_end_counts_speed_and_offset():
    """A clip from 1 s to 11 s at speed 0.5, begun at 6 s of a file of 10 s, needs 11 s: 1 s of file is 2 s of song."""
    media = (MediaFile(id="a", path="a.wav", duration_s=10.0),)
    channel = track("A", clips=(Clip(start_s=1.0, end_s=11.0, offset_s=6.0, speed=0.5, file="a"),))
    assert value(context(channel, mix(), media=media), "clip", "A: a.wav", "past_end_ms") == pytest.approx(2000.0)


def test_repeats_of_a_clip_are_one_row():
    clips = tuple(Clip(start_s=float(n), end_s=n + 1.0, name="loop", fade_in_s=0.0, fade_out_s=0.0) for n in range(50))
    at = context(track("Shaker", clips=clips), mix())
    assert value(at, "clip", "Shaker: loop", "times") == 50
    assert value(at, "clip", "Shaker: loop", "position").endswith("and 49 more times")
