"""Pairs: counterparts that are uneven, alone or one recording, and two microphones on one performance."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile
from scipy import signal

from mixlint.facts import TABLES, SessionContext
from mixlint.media import Library
from mixlint.session import (
    Channel,
    Clip,
    Equalizer,
    EqualizerBand,
    Insert,
    MediaFile,
    Meter,
    Session,
    Tempo,
    Timeline,
    Unknown,
)
from tests.facts.small_sessions import ask, bus, context, mix, track, value

RATE = 48_000
GUITARS = "Acoustic Gtr L and Acoustic Gtr R"


def guitars(*, left: dict | None = None, right: dict | None = None, **more: object) -> SessionContext:
    one, other = {"pan": -50.0, **(left or {})}, {"pan": 50.0, **(right or {})}
    return context(track("Acoustic Gtr L", **one), track("Acoustic Gtr R", **other), mix(), **more)


def low_cut(hz: float) -> Insert:
    band = EqualizerBand(kind="high-pass", freq_hz=hz, slope_db_per_oct=12.0)
    return Insert(name="Desk EQ", kind="equalizer", opaque=False, equalizer=Equalizer(bands=(band,)))


def test_angle_and_level_are_compared_at_the_mix_bus():
    at = guitars(left={"fader_db": -6.0}, right={"pan": 38.0, "fader_db": -9.5})
    assert value(at, "pair", GUITARS, "angle_difference") == pytest.approx(12.0)
    # Equal power: both sides together are the same at any angle.
    assert value(at, "pair", GUITARS, "level_difference_db") == pytest.approx(3.5, abs=1e-6)
    assert ask(at, "pair", GUITARS, "level_difference_db").note == "Acoustic Gtr L is louder"


def test_tone_difference_is_that_of_two_low_cuts_as_scipy_has_it():
    """Largest at the lowest band, 79.4 Hz; the common level (the median) is taken out."""
    at = guitars(left={"inserts": (low_cut(90.0),)}, right={"inserts": (low_cut(180.0),)})
    hz = 1000.0 * 10.0 ** (np.arange(-11, 10) / 10.0)
    curves = []
    for cut in (90.0, 180.0):
        _, response = signal.sosfreqz(signal.butter(2, cut, "highpass", fs=48_000.0, output="sos"), hz, fs=48_000.0)
        curves.append(20.0 * np.log10(np.abs(response)))
    apart = curves[0] - curves[1]
    expected = np.abs(apart - np.median(apart)).max()
    assert value(at, "pair", GUITARS, "tone_difference_db") == pytest.approx(expected, abs=0.01)


def test_equalizers_alike_or_on_a_shared_group_make_no_difference():
    at = context(
        track("Acoustic Gtr L", pan=-50.0, output="Guitars", inserts=(low_cut(90.0),)),
        track("Acoustic Gtr R", pan=50.0, output="Guitars", inserts=(low_cut(90.0),)),
        bus("Guitars", inserts=(low_cut(200.0),)),
        mix(),
    )
    assert value(at, "pair", GUITARS, "tone_difference_db") == pytest.approx(0.0, abs=1e-9)


def test_the_longest_stretch_alone_is_given_in_bars():
    """At 120 bpm in 4/4 a bar lasts 2 s: 20 s to 40 s are bars 11 to 20."""
    at = guitars(right={"clips": (Clip(start_s=0.0, end_s=20.0), Clip(start_s=40.0, end_s=60.0))})
    assert value(at, "pair", GUITARS, "alone_bars") == pytest.approx(10.0)
    assert value(at, "pair", GUITARS, "alone_in") == "Acoustic Gtr L in bars 11 to 20, 0:20.0 to 0:40.0"


def test_bars_follow_the_metre():
    at = SessionContext(
        Session(
            channels=(
                track("Acoustic Gtr L", pan=-50.0),
                track("Acoustic Gtr R", pan=50.0, at=(0.0, 42.0)),
                mix(),
            ),
            timeline=Timeline(tempos=(Tempo(bpm=120.0),), meters=(Meter(beats=3, unit=4),)),
        )
    )
    assert value(at, "pair", GUITARS, "alone_bars") == pytest.approx(12.0)


def test_another_like_part_on_the_empty_side_stands_in():
    solo = track("Solo Gtr", pan=40.0, at=(20.0, 40.0))
    right = track("Acoustic Gtr R", pan=50.0, clips=(Clip(start_s=0.0, end_s=20.0), Clip(start_s=40.0, end_s=60.0)))
    at = context(track("Acoustic Gtr L", pan=-50.0), right, solo, mix())
    assert value(at, "pair", GUITARS, "alone_bars") == pytest.approx(0.0)


def test_microphones_pair_by_name_and_are_no_counterparts():
    at = context(track("Acoustic Gtr Body", pan=-40.0), track("Acoustic Gtr Neck", pan=40.0), mix())
    (row,) = TABLES["pair"].rows(at)
    assert row.value("kind").value == "microphones"


@pytest.mark.parametrize(
    ("one", "other", "opposed"), [("Snare Top", "Snare Bottom", True), ("Bass DI", "Bass Amp", False)]
)
def test_microphones_on_opposite_sides_of_a_drum_are_opposed_by_place(one, other, opposed):
    at = context(track(one), track(other), mix())
    assert value(at, "pair", f"{one} and {other}", "opposed_by_place") is opposed


def strummed(seed: int, seconds: float = 6.0) -> np.ndarray:
    """Broadband decaying strokes, as different from seed to seed as two takes are."""
    noise = np.random.default_rng(seed)
    out = np.zeros(round(seconds * RATE))
    for start in np.cumsum(noise.uniform(0.15, 0.3, 25)) * RATE:
        at = int(start)
        length = min(RATE // 4, out.size - at)
        if length > 0:
            out[at : at + length] += noise.standard_normal(length) * np.exp(-np.arange(length) / (0.05 * RATE))
    return 0.1 * out


def heard(tmp_path: Path, first: np.ndarray, second: np.ndarray, one: Channel, other: Channel) -> SessionContext:
    """Two channels that play one file each."""
    channels = []
    for name, samples, channel in (("a", first, one), ("b", second, other)):
        soundfile.write(tmp_path / f"{name}.wav", samples, RATE, subtype="FLOAT")
        clip = Clip(start_s=0.0, end_s=samples.size / RATE, file=name)
        channels.append(channel.model_copy(update={"clips": (clip,)}))
    session = Session(
        channels=(*channels, mix()),
        media=(MediaFile(id="a", path="a.wav"), MediaFile(id="b", path="b.wav")),
        timeline=Timeline(tempos=(Tempo(bpm=120.0),)),
    )
    return SessionContext(session, audio=Library(session, tmp_path))


def test_the_delay_between_two_microphones_and_its_notch(tmp_path):
    """72 samples at 48 kHz are 1.5 ms; the first notch of the sum lies at 1/(2 · 1.5 ms) = 333 Hz."""
    take = strummed(1)
    late = np.concatenate([np.zeros(72), take[:-72]])
    at = heard(tmp_path, take, late, track("Gtr Body"), track("Gtr Neck"))
    row = "Gtr Body and Gtr Neck"
    assert value(at, "pair", row, "delay_ms") == pytest.approx(1.5, abs=0.01)
    assert ask(at, "pair", row, "delay_ms").note == "Gtr Neck is later"
    assert value(at, "pair", row, "notch_hz") == pytest.approx(333.3, abs=3.0)
    assert value(at, "pair", row, "same_polarity") is True
    assert value(at, "pair", row, "agreement") > 0.9


def test_a_microphone_turned_over_is_found(tmp_path):
    take = strummed(2)
    room = 0.05 * np.random.default_rng(9).standard_normal(take.size)
    bare = heard(tmp_path, take, -0.8 * take + 0.1 * room, track("Gtr Body"), track("Gtr Neck"))
    assert value(bare, "pair", "Gtr Body and Gtr Neck", "same_polarity") is False


def test_two_takes_agree_little_and_are_two_recordings(tmp_path):
    at = heard(tmp_path, strummed(3), strummed(4), track("Gtr L", pan=-50.0), track("Gtr R", pan=50.0))
    assert value(at, "pair", "Gtr L and Gtr R", "one_recording") is False


def test_a_copy_under_another_name_is_one_recording(tmp_path):
    take = strummed(5)
    at = heard(tmp_path, take, take, track("Gtr L", pan=-50.0), track("Gtr R", pan=50.0))
    assert value(at, "pair", "Gtr L and Gtr R", "one_recording") is True


def test_a_copy_turned_down_and_late_is_one_recording_too(tmp_path):
    take = strummed(6)
    late = 0.7 * np.concatenate([np.zeros(480), take[:-480]])
    at = heard(tmp_path, take, late, track("Gtr L", pan=-50.0), track("Gtr R", pan=50.0))
    assert value(at, "pair", "Gtr L and Gtr R", "one_recording") is True
    assert ask(at, "pair", "Gtr L and Gtr R", "one_recording").note.endswith("10.00 ms apart")


def test_the_evidence_is_one_file_two_compared_or_nothing(tmp_path):
    media = (MediaFile(id="a", path="a.wav"), MediaFile(id="b", path="b.wav"))

    def unopened(*files: str) -> SessionContext:
        clips = [(Clip(start_s=0.0, end_s=20.0, file=file),) for file in files]
        pans = zip("LR", (-50.0, 50.0), clips, strict=True)
        return context(*(track(f"Gtr {s}", pan=pan, clips=c) for s, pan, c in pans), mix(), media=media)

    def opened(name: str, first: np.ndarray, second: np.ndarray) -> SessionContext:
        (tmp_path / name).mkdir()
        return heard(tmp_path / name, first, second, track("Gtr L", pan=-50.0), track("Gtr R", pan=50.0))

    sessions = (
        unopened("a", "a"),
        unopened("a", "b"),
        opened("takes", strummed(3), strummed(4)),
        opened("copy", strummed(5), 0.7 * strummed(5)),
    )
    found = [value(at, "pair", "Gtr L and Gtr R", "recording_evidence") for at in sessions]
    assert found == ["one-file", "two-files", "two-files-compared", "two-files-compared"]


def test_one_file_at_another_place_is_no_copy():
    """The second chorus of one long take answers the first: 40 s apart in the file."""
    media = (MediaFile(id="a", path="a.wav"),)
    one = track("Gtr L", pan=-50.0, clips=(Clip(start_s=0.0, end_s=20.0, file="a"),))
    other = track("Gtr R", pan=50.0, clips=(Clip(start_s=0.0, end_s=20.0, file="a", offset_s=40.0),))
    assert value(context(one, other, mix(), media=media), "pair", "Gtr L and Gtr R", "one_recording") is False


def test_clips_without_a_file_leave_it_unknown():
    assert isinstance(ask(guitars(), "pair", GUITARS, "one_recording"), Unknown)
