"""Files that nobody here wrote, in the folder that MIXLINT_SAMPLES names; skipped where there is none."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from mixlint import importers
from mixlint.importers.native import parse
from mixlint.media import open_container
from mixlint.session import Session

FOLDER = os.environ.get("MIXLINT_SAMPLES", "")
pytestmark = pytest.mark.skipif(not FOLDER, reason="MIXLINT_SAMPLES names no folder")


def sample(name: str) -> Session:
    path = Path(FOLDER) / name
    if not path.is_file():
        pytest.skip(f"{name} is not in the folder")
    return importers.read(path)


def test_an_equalizer_in_semitones_and_sends_that_are_off() -> None:
    session = sample("real_equalizer.dawproject")
    part, effect, master = session.channels
    assert (part.kind, effect.kind, master.kind) == ("track", "return", "master")
    assert part.fader_db == pytest.approx(-10.0, abs=1e-3)
    assert [send.on for send in (*part.sends, *effect.sends)] == [False, False]
    assert effect.sends[0].to == effect.id
    equalizer = effect.inserts[0].equalizer
    assert equalizer is not None
    band = equalizer.bands[0]
    assert (band.kind, band.on, band.slope_db_per_oct) == ("high-pass", True, 48.0)
    assert band.freq_hz == pytest.approx(240.0, abs=0.01)
    assert [round(float(str(one.freq_hz))) for one in equalizer.bands] == [240, 900, 12000, 2000, 1173, 488]


def test_pan_volume_and_mute_automation() -> None:
    session = sample("real_automation.dawproject")
    lanes = {str(one.target): one for one in session.channels[0].automation}
    assert lanes["pan"].v == (0.0, -100.0, 100.0)
    assert (lanes["fader"].scale, lanes["fader"].shape) == ("amplitude", "linear")
    assert lanes["fader"].t == pytest.approx((0.0, 1.5 * 60 / 110, 4 * 60 / 110))
    assert (lanes["mute"].scale, lanes["mute"].v) == ("switch", (0.0, 1.0))


def test_looped_clips_with_their_file_inside() -> None:
    session = sample("real_audio_clips.dawproject")
    part = session.channels[0]
    assert part.legs == 1
    assert len(part.clips) == 5  # 8 beats of a loop of 1.833 beats
    assert all(one.speed == pytest.approx(1.0, abs=1e-3) and one.offset_s == 0.0 for one in part.clips)
    (file,) = session.media
    assert (file.place, file.present, file.duration_s) == ("inside", True, 1.0)


@pytest.mark.parametrize("name", ["real_equalizer", "real_automation", "real_audio_clips"])
def test_the_native_form_keeps_all_of_it(name: str) -> None:
    session = sample(f"{name}.dawproject")
    assert parse(session.json_text(), name) == session


def test_the_file_inside_is_read_where_it_lies() -> None:
    soundfile = pytest.importorskip("soundfile")
    path = Path(FOLDER) / "real_audio_clips.dawproject"
    session = sample(path.name)
    with open_container(path) as container, container.open(session.media[0].path) as reader:
        info = soundfile.info(reader)
    assert (info.channels, info.samplerate, info.frames) == (1, 44100, 44100)
