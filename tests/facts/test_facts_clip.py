"""Clips: strays, the speed they play at, and whether they run past their files."""

from __future__ import annotations

import pytest

from mixlint.session import Clip, Marker, MediaFile
from tests.facts.audio_sessions import audio_context, sine, write
from tests.facts.small_sessions import context, mix, track, value


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
def test_a_clip_apart_from_the_song_is_a_stray_unless_it_is_marked_or_long(span, markers, stray):
    assert value(far(span, markers=markers), "clip", "Vocal: clip 0", "stray") is stray


def test_a_snippet_is_a_stray_only_on_its_own():
    assert value(far((20.0, 20.02)), "clip", "Vocal: clip 0", "stray") is True
    assert value(far((20.0, 20.02), (20.5, 30.0)), "clip", "Vocal: clip 0", "stray") is False


def playing(name: str, file: str, length_s: float = 1.0, **more) -> object:
    return track(name, clips=(Clip(start_s=0.0, end_s=length_s, file=file, **more),))


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


def test_a_length_given_at_the_wrong_rate_is_a_wrong_speed(tmp_path):
    """The export takes a file of 2 s at 44.1 kHz for one of 2 × 44.1 / 48 s."""
    file = write(tmp_path, "a.wav", sine(100.0, 2.0)[:88200], rate=44100)
    told = file.model_copy(update={"duration_s": 88200 / 48000})
    at = audio_context(tmp_path, [told], playing("A", "a.wav", 1.0), mix(), sample_rate_hz=48000.0)
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
