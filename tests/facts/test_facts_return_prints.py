"""Dry signal and low cut measured in a printed return, against prints made with a known answer.

The print is the dry signal through a synthetic room (decaying noise after a pre-delay, ``scipy.signal.fftconvolve``),
filtered with ``scipy.signal.butter``, with a copy of the dry signal added at a known level.
"""

from __future__ import annotations

import numpy as np
import pytest
import soundfile
from scipy import signal

from mixlint.facts import TABLES, House, SessionContext
from mixlint.media import Library
from mixlint.session import Clip, Insert, MediaFile, Session, Unknown
from tests.facts.small_sessions import ask, bus, mix, send, track, value

RATE = 24_000
SECONDS = 8


@pytest.fixture(scope="module")
def dry() -> np.ndarray:
    """Bursts of noise with decays, a broad spectrum down to 40 Hz."""
    rng = np.random.default_rng(7)
    out = np.zeros(RATE * SECONDS)
    for start in range(0, RATE * (SECONDS - 1), RATE // 2):
        length = RATE // 3
        out[start : start + length] += rng.normal(size=length) * np.exp(-np.arange(length) / (0.05 * RATE))
    return 0.1 * out


@pytest.fixture(scope="module")
def wet(dry) -> np.ndarray:
    """The dry signal through a room of 0.8 s with 20 ms pre-delay."""
    rng = np.random.default_rng(8)
    length = int(0.8 * RATE)
    room = rng.normal(size=length) * np.exp(-6.9 * np.arange(length) / length)
    response = np.concatenate([np.zeros(int(0.02 * RATE)), room])
    out = signal.fftconvolve(dry, response)[: dry.size]
    return out / np.sqrt(np.mean(out**2)) * np.sqrt(np.mean(dry**2))


def printed_session(
    folder, dry, print_, *, on_return=True, print_name="Plate Print", pre_delay_ms=None, wet_share=None, filtered=True
) -> SessionContext:
    soundfile.write(folder / "vox.wav", dry, RATE, subtype="FLOAT")
    soundfile.write(folder / "plate.wav", print_, RATE, subtype="FLOAT")
    clip = Clip(start_s=0.0, end_s=float(SECONDS), file="vox")
    plate_clip = Clip(start_s=0.0, end_s=float(SECONDS), file="plate")
    shown = {"pre_delay_ms": pre_delay_ms, "wet": wet_share}
    shown = {name: figure for name, figure in shown.items() if figure is not None}
    hidden = (Insert(name="Silk EQ", kind="equalizer"),) if filtered else ()
    plate = bus(
        "Plate",
        kind="return",
        inserts=(*hidden, Insert(name="Old Hall", kind="reverb", **shown)),
        clips=(plate_clip,) if on_return else (),
    )
    beside = () if on_return else (track(print_name, output=None, clips=(plate_clip,)),)
    session = Session(
        title="Harrow Gate",
        channels=(track("Vox", clips=(clip,), sends=(send("Plate", 0.0),)), plate, *beside, mix()),
        media=(MediaFile(id="vox", path="vox.wav"), MediaFile(id="plate", path="plate.wav")),
    )
    path = folder / "song.json"
    path.write_text(session.json_text(), encoding="utf-8")
    return SessionContext(session, None, Library(session, path))


@pytest.mark.parametrize("leak_db", [-6.0, -12.0, -20.0, -30.0])
def test_a_known_leak_is_found_again(tmp_path, dry, wet, leak_db):
    """Dry added at a known level re the wet part's RMS comes back within 1 dB."""
    at = printed_session(tmp_path, dry, wet + dry * 10 ** (leak_db / 20))
    said = ask(at, "return", "Plate", "dry_db")
    assert said.how == "measured"
    assert said.value == pytest.approx(leak_db, abs=1.0)


def test_a_print_beside_the_return_is_found_by_its_name(tmp_path, dry, wet):
    at = printed_session(tmp_path, dry, wet + dry * 0.5, on_return=False)
    assert ask(at, "return", "Plate", "dry_db").how == "measured"
    assert "print" in ask(at, "return", "Plate", "dry_db").note


def test_a_wholly_wet_print_stays_under_the_limit_where_it_is_known_to_lie_in_place(tmp_path, dry, wet):
    """At 20 ms the ambience may begin since it has a pre-delay, or since the print lies late: the export tells."""
    at = printed_session(tmp_path, dry, wet, pre_delay_ms=20.0)
    assert value(at, "return", "Plate", "dry_db") < -40.0
    assert value(at, "ambience_print", "Plate", "lag_ms") == 0.0


def test_a_clean_print_whose_place_nothing_proves_is_asked_about(tmp_path, dry, wet):
    said = ask(printed_session(tmp_path, dry, wet), "return", "Plate", "dry_db")
    assert isinstance(said, Unknown)
    assert "begins 20" in said.unknown


def test_a_house_whose_prints_lie_in_place_says_so(tmp_path, dry, wet):
    at = printed_session(tmp_path, dry, wet)
    house = House(settings={"prints.reach": 0.0})
    assert value(SessionContext(at.session, house, at.audio), "return", "Plate", "dry_db") < -40.0


def test_a_measured_leak_beats_a_declared_share(tmp_path, dry, wet):
    at = printed_session(tmp_path, dry, wet + dry * 0.25, wet_share=100.0)
    assert value(at, "return", "Plate", "dry_db") == pytest.approx(-12.0, abs=1.0)
    clean = printed_session(tmp_path, dry, wet, wet_share=50.0)
    assert value(clean, "return", "Plate", "dry_db") == pytest.approx(0.0, abs=0.1)


@pytest.mark.parametrize("way", ["post", "muted-group", "clip-gain"])
def test_parts_that_come_through_a_group_are_followed(tmp_path, dry, wet, way):
    """The leak is read through a group's send; where that is muted the print is known by what it sounds like."""
    at = printed_session(tmp_path, dry, wet + dry * 0.25)
    vox, plate, *rest = at.session.channels
    clips = tuple(c.model_copy(update={"gain_db": -6.0}) for c in vox.clips) if way == "clip-gain" else vox.clips
    group = bus("Voices", kind="group", mute=way == "muted-group", sends=(send("Plate", -9.0),))
    channels = (vox.model_copy(update={"sends": (), "output": "Voices", "clips": clips}), group, plate, *rest)
    said = ask(
        SessionContext(at.session.model_copy(update={"channels": channels}), None, at.audio),
        "return",
        "Plate",
        "dry_db",
    )
    assert said.value == pytest.approx(-12.0, abs=1.0)


@pytest.mark.parametrize("name", ["Plate Wet", "Plate FX return", "PLATE_bounced", "Plate Stem", "plate"])
def test_a_print_is_found_under_many_names(tmp_path, dry, wet, name):
    at = printed_session(tmp_path, dry, wet, on_return=False, print_name=name)
    assert value(at, "ambience_print", name, "print_of") == "Plate"


def test_a_low_cut_that_a_hidden_reverb_holds_is_measured_though_a_bass_feeds_it(tmp_path, dry, wet):
    cut = signal.sosfilt(signal.butter(2, 150.0, "highpass", fs=RATE, output="sos"), wet)
    at = printed_session(tmp_path, dry, cut, filtered=False)
    named = tuple(c.model_copy(update={"name": "Bass"}) if c.name == "Vox" else c for c in at.session.channels)
    bass = SessionContext(at.session.model_copy(update={"channels": named}), None, at.audio)
    for one in (at, bass):
        assert value(one, "return", "Plate", "low_cut_db") == pytest.approx(16.0, abs=3.0)
    (row,) = TABLES["send"].rows(bass)
    assert row.need("effect_low_cut_db").number == pytest.approx(16.0, abs=3.0)


def test_a_low_cut_is_measured_in_the_print(tmp_path, dry, wet):
    """A second-order Butterworth low cut at 150 Hz takes 16.0 dB at 60 Hz; a third-octave reading within 3 dB."""
    cut = signal.sosfilt(signal.butter(2, 150.0, "highpass", fs=RATE, output="sos"), wet)
    at = printed_session(tmp_path, dry, cut)
    said = ask(at, "return", "Plate", "low_cut_db")
    assert said.how == "measured"
    assert said.value == pytest.approx(16.0, abs=3.0)


def test_without_audio_the_question_stays_open(tmp_path, dry, wet):
    at = printed_session(tmp_path, dry, wet)
    assert isinstance(ask(SessionContext(at.session), "return", "Plate", "dry_db"), Unknown)
