"""Where parts and returns reach the mix bus, and the middle of their tone."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
import soundfile

from mixlint.analysis.arriving import arriving, audible_parts, power_in
from mixlint.analysis.like_sections import Section
from mixlint.analysis.stereo_image import audible_returns, feeders, part_standing, return_standing, tone_centre_hz
from mixlint.facts import SessionContext
from mixlint.media import Library
from mixlint.session import Channel, Clip, Equalizer, EqualizerBand, Insert, MediaFile, Send, Session, Unknown

RATE = 48_000


def strip(ident: str, kind: str = "track", output: str | None = "mix", **more: Any) -> Channel:
    made = {"id": ident, "name": ident, "kind": kind, "output": output, "legs": 1 if kind == "track" else 2, **more}
    if kind == "track":
        made.setdefault("clips", (Clip(start_s=0.0, end_s=8.0),))
    return Channel.model_validate(made)


def context(*strips: Channel) -> SessionContext:
    return SessionContext(Session(channels=(*strips, strip("mix", "master", None))))


def heard(folder: Path, samples: np.ndarray, *inserts: Insert) -> SessionContext:
    """A session of one part that plays some samples, its audio open."""
    soundfile.write(folder / "take.wav", samples, RATE, subtype="PCM_24")
    clips = (Clip(start_s=0.0, end_s=samples.shape[0] / RATE, file="take.wav"),)
    media = (MediaFile(id="take.wav", path="take.wav"),)
    session = Session(
        media=media, channels=(strip("Fiddle", clips=clips, inserts=inserts), strip("mix", "master", None))
    )
    beside = folder / "song.session.json"
    beside.write_text(session.json_text(), encoding="utf-8")
    return SessionContext(session, None, Library(session, beside))


def tone(hz: float) -> np.ndarray:
    return 0.3 * np.sin(2.0 * np.pi * hz * np.arange(4 * RATE) / RATE)


@pytest.mark.parametrize("hz", [251.0, 1000.0, 3981.0])
def test_the_middle_of_a_tone_is_its_octave(tmp_path: Path, hz: float) -> None:
    """A sine in the middle of an octave of IEC 61260-1 has all its energy there."""
    found = heard(tmp_path, tone(hz))
    assert tone_centre_hz(found, found.channels["Fiddle"]) == pytest.approx(hz, rel=0.02)


def test_filters_on_the_path_move_it(tmp_path: Path) -> None:
    """Of two sines a steep low cut takes the lower one, so that the middle goes up towards the other."""
    cut = EqualizerBand(kind="high-pass", freq_hz=1200.0, q=0.71, slope_db_per_oct=48.0)
    eq = Insert(name="Desk EQ", kind="equalizer", opaque=False, equalizer=Equalizer(bands=(cut,)))
    both = tone(251.0) + tone(3981.0)
    plain, filtered = heard(tmp_path, both), heard(tmp_path, both, eq)
    middle = tone_centre_hz(plain, plain.channels["Fiddle"])
    assert isinstance(middle, float)
    assert 500.0 < middle < 2000.0
    assert tone_centre_hz(filtered, filtered.channels["Fiddle"]) == pytest.approx(3981.0, rel=0.05)


def test_no_tone_is_taken_without_audio() -> None:
    found = context(strip("Fiddle"))
    assert isinstance(tone_centre_hz(found, found.channels["Fiddle"]), Unknown)


def test_a_measured_level_is_that_of_the_file(tmp_path: Path) -> None:
    """A sine of amplitude 0.3 at 1 kHz has the power 0.045; K-weighting adds about 0.7 dB there (ITU-R BS.1770-5)."""
    found = heard(tmp_path, tone(1000.0))
    stands = part_standing(found, found.channels["Fiddle"])
    assert not isinstance(stands, Unknown)
    assert stands.measured
    assert 10.0 * np.log10(stands.power / 0.045) == pytest.approx(0.7, abs=0.1)


def test_a_return_comes_from_where_its_parts_are_sent() -> None:
    """A plain delay keeps the side of the part that alone feeds it; a reverb spreads over both legs."""
    for kind, side in (("delay", -60.0), ("reverb", 0.0)):
        wet = Insert(name="Shed", kind=kind, wet=100.0)
        found = context(
            strip("Fiddle", pan=-60.0, sends=(Send(to="r", level_db=-6.0),)), strip("r", "return", inserts=(wet,))
        )
        (one,) = audible_returns(found)
        assert [part.id for part in feeders(found, one)] == ["Fiddle"]
        stands = return_standing(found, one)
        assert not isinstance(stands, Unknown)
        assert stands.position == pytest.approx(side, abs=1.0)


def test_the_ends_of_a_stereo_part_are_those_of_its_legs() -> None:
    found = context(strip("Keys", legs=2))
    stands = part_standing(found, found.channels["Keys"])
    assert not isinstance(stands, Unknown)
    assert stands.ends == pytest.approx((-100.0, 100.0))


def test_a_part_has_a_level_where_it_plays() -> None:
    found = context(strip("Fiddle", clips=(Clip(start_s=4.0, end_s=8.0),)), strip("Voice"))
    part = arriving(found, found.channels["Fiddle"])
    assert not isinstance(part, Unknown)
    assert power_in(found, part, Section(0.0, 4.0, "Verse")) is None
    playing = power_in(found, part, Section(0.0, 8.0, "Song"))
    whole = power_in(found, part, Section(0.0, 8.0, "Song"), while_playing=False)
    assert playing == pytest.approx(2.0 * (whole or 0.0))
    assert [one.id for one in audible_parts(found)] == ["Fiddle", "Voice"]
