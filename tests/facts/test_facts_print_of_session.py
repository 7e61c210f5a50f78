"""A print against its session: mixes made here in numpy at known gains, places and polarities, and libebur128."""

from __future__ import annotations

import json

import numpy as np
import pytest
import soundfile
from typer.testing import CliRunner

from mixlint.cli.app import app
from mixlint.facts import FactValue, House, SessionContext
from mixlint.session import Clip, Dynamics, Insert, MediaFile, Unknown
from mixlint.signal import synthesis
from tests.facts.audio_sessions import RATE, audio_context, write
from tests.facts.small_sessions import ask, mix, track, value
from tests.facts.test_facts_insert_reduction import taken

SECONDS = 8.0
VOICE = 0.2 * synthesis.voice(220.0, 1, SECONDS, RATE)
KIT = 0.2 * synthesis.kit(3, SECONDS, RATE)


def put(samples: np.ndarray, pan: float, gain_db: float = 0.0) -> np.ndarray:
    """By the equal-power law."""
    angle = (pan + 100.0) / 200.0 * np.pi / 2.0
    return np.outer([np.cos(angle), np.sin(angle)], samples) * 10.0 ** (gain_db / 20.0)


MIX = put(VOICE, 0.0, -3.0) + put(KIT, 30.0)


def printed(folder, samples: np.ndarray, *, late_s: float = 0.0, rate: int = RATE, inserts=(), bus=(), **more):
    """A voice and a kit, and a track with a print of them."""
    media = [write(folder, "v.wav", VOICE, subtype="FLOAT"), write(folder, "k.wav", KIT, subtype="FLOAT")]
    media.append(write(folder, "mix.wav", samples.T if samples.ndim == 2 else samples, rate=rate, subtype="FLOAT"))
    whole = {"start_s": 0.0, "end_s": SECONDS}
    at = audio_context(
        folder,
        media,
        track("Vox", clips=(Clip(file="v.wav", **whole),), fader_db=-3.0, inserts=inserts, **more),
        track("Kit", clips=(Clip(file="k.wav", **whole),), pan=30.0),
        track("Mix Print", output=None, clips=(Clip(start_s=late_s, end_s=late_s + SECONDS, file="mix.wav"),)),
        mix(inserts=bus),
    )
    return SessionContext(at.session, House(pan_stated=True), at.audio)


def of(at, fact: str, name: str = "mix.wav"):
    return value(at, "print", name, fact)


def test_the_very_mix(tmp_path):
    at = printed(tmp_path, MIX)
    assert of(at, "session_louder_lu") == pytest.approx(0.0, abs=1e-3)
    assert of(at, "session_gain_db") == pytest.approx(0.0, abs=1e-3)
    assert of(at, "session_left_db") < -90.0
    assert of(at, "session_shown") is True
    assert (of(at, "session_polarity"), of(at, "session_late_ms"), of(at, "begins_at_s")) == ("same", 0.0, 0.0)
    assert ask(at, "print", "mix.wav", "session_louder_lu").note.startswith("as loud as")


@pytest.mark.parametrize("gain_db", [-4.0, 2.5])
def test_another_gain_is_told(tmp_path, gain_db):
    at = printed(tmp_path, MIX * 10.0 ** (gain_db / 20.0))
    assert of(at, "session_louder_lu") == pytest.approx(gain_db, abs=1e-3)
    assert of(at, "session_gain_db") == pytest.approx(gain_db, abs=1e-3)


def test_a_part_that_came_up_after_the_bounce(tmp_path):
    """The loudness of both sums by libebur128; what is left over is the difference of the voice."""
    ebur = pytest.importorskip("pyebur128")

    def lufs(samples):
        meter = ebur.R128State(2, RATE, ebur.MeasurementMode.MODE_I)
        meter.add_frames(np.ascontiguousarray(samples.T.ravel()), samples.shape[1])
        return ebur.get_loudness_global(meter)

    older = put(VOICE, 0.0, -12.0) + put(KIT, 30.0)
    at = printed(tmp_path, older)
    assert of(at, "session_louder_lu") == pytest.approx(lufs(older) - lufs(MIX), abs=0.25)
    gain = (MIX * older).sum() / (MIX * MIX).sum()
    left = 10.0 * np.log10(((older - gain * MIX) ** 2).sum() / (older**2).sum())
    assert of(at, "session_left_db") == pytest.approx(left, abs=1.0)
    assert of(at, "session_apart_lu") == pytest.approx(abs(of(at, "session_louder_lu")) - 0.1)


@pytest.mark.slow
@pytest.mark.parametrize("samples", [-3000, 17, 4800])
def test_a_print_that_lies_late_or_early_on_its_track(tmp_path, samples):
    """To the sample; loudness and rest are told at its own place."""
    shifted = np.roll(MIX, samples, axis=1)
    at = printed(tmp_path, shifted)
    assert of(at, "session_late_ms") == pytest.approx(1000.0 * samples / RATE, abs=1e-6)
    assert of(at, "session_louder_lu") == pytest.approx(0.0, abs=0.1)
    assert of(at, "begins_at_s") == pytest.approx(-samples / RATE, abs=1e-6)


def test_a_print_turned_over(tmp_path):
    at = printed(tmp_path, -MIX)
    assert of(at, "session_polarity") == "turned-over"
    assert of(at, "session_louder_lu") == pytest.approx(0.0, abs=1e-3)
    assert of(at, "session_left_db") < -90.0


def test_a_print_of_one_leg(tmp_path):
    """½ (left + right) of the mix."""
    at = printed(tmp_path, MIX.mean(axis=0))
    assert of(at, "session_louder_lu") == pytest.approx(0.0, abs=1e-3)


@pytest.mark.slow
def test_a_compressor_that_is_shown_is_run(tmp_path):
    """The voice through the published detector; without it the print would be 2 LU off."""
    squeeze = Dynamics(threshold_db=-30.0, ratio=6.0, attack_ms=5.0, release_ms=80.0, auto_makeup=False)
    insert = Insert(name="Press", kind="compressor", opaque=False, dynamics=squeeze)
    pressed = VOICE * 10.0 ** (-taken(VOICE, -30.0, 6.0, 5.0, 80.0) / 20.0)
    made = put(pressed, 0.0, -3.0) + put(KIT, 30.0)
    at = printed(tmp_path, made, inserts=(insert,))
    assert of(at, "session_louder_lu") == pytest.approx(0.0, abs=0.1)
    assert of(at, "session_left_db") < -30.0
    assert of(at, "session_shown") is True
    assert of(at, "session_apart_lu") == 0.0
    assert of(printed(tmp_path, made), "session_louder_lu") < -0.5


def said_of_shown(at) -> str:
    found = ask(at, "print", "mix.wav", "session_shown")
    assert isinstance(found, Unknown)
    return found.unknown


def test_what_had_to_be_taken_makes_it_an_estimate(tmp_path):
    """A compressor of which nothing tells whether it makes up for itself, and pan laws that no standard states."""
    squeeze = Dynamics(threshold_db=-30.0, ratio=6.0, attack_ms=5.0, release_ms=80.0)
    insert = Insert(name="Press", kind="compressor", opaque=False, dynamics=squeeze)
    assert "no automatic make-up of Press on Vox" in said_of_shown(printed(tmp_path, MIX, inserts=(insert,)))
    stated = printed(tmp_path, MIX)
    assert "the pan law" in said_of_shown(SessionContext(stated.session, None, stated.audio))


def test_what_is_hidden_makes_it_an_estimate(tmp_path):
    at = printed(tmp_path, MIX * 2.0, bus=(Insert(name="Wall", kind="limiter"),))
    assert of(at, "session_louder_lu") == pytest.approx(6.02, abs=0.01)
    assert "Wall on Mix Bus" in said_of_shown(at)


def beside(folder, samples: np.ndarray, lead_s: float = 0.0) -> SessionContext:
    """The same session without a track for the print, which was named by whoever reviews."""
    at = printed(folder, MIX)
    named = folder / "bounce.wav"
    lead = np.zeros((2, round(max(0.0, lead_s) * RATE)))
    made = np.concatenate((lead, samples[:, round(max(0.0, -lead_s) * RATE) :]), axis=1)
    soundfile.write(named, made.T, RATE, subtype="FLOAT")
    listed = MediaFile(id="named", path="bounce.wav")
    session = at.session.model_copy(update={"channels": tuple(c for c in at.session.channels if c.name != "Mix Print")})
    from mixlint.media import Library

    library = Library(session, folder / "song.session.json", named={"named": named})
    return SessionContext(session, None, library, prints=((listed, "named"),))


@pytest.mark.slow
@pytest.mark.parametrize("lead_s", [0.0, 0.1, 2.0, -1.0])
def test_a_named_print_is_laid_by_its_sound(tmp_path, lead_s):
    """It begins two seconds before the song, or one second into it."""
    at = beside(tmp_path, MIX, lead_s)
    assert of(at, "begins_at_s", "bounce.wav") == pytest.approx(-lead_s, abs=1e-6)
    assert of(at, "session_louder_lu", "bounce.wav") == pytest.approx(0.0, abs=0.3 if lead_s < 0.0 else 1e-3)
    assert isinstance(ask(at, "print", "bounce.wav", "session_late_ms"), Unknown)


def unknown(at) -> str:
    found = ask(at, "print", "mix.wav", "session_louder_lu")
    assert isinstance(found, Unknown)
    return found.unknown


def test_another_song_cannot_be_laid_beside_it(tmp_path):
    other = np.stack([synthesis.noise(9, SECONDS, RATE)] * 2) * 0.1
    assert "nothing in it lies" in unknown(printed(tmp_path, other))


def test_another_sample_rate(tmp_path):
    assert "44100 Hz" in unknown(printed(tmp_path, MIX, rate=44_100))


def test_a_print_that_plays_along(tmp_path):
    media = [write(tmp_path, "v.wav", VOICE), write(tmp_path, "mix.wav", VOICE)]
    clips = (Clip(start_s=0.0, end_s=SECONDS, file="v.wav"),)
    own = (Clip(start_s=0.0, end_s=SECONDS, file="mix.wav"),)
    at = audio_context(tmp_path, media, track("Vox", clips=clips), track("Mix Print", clips=own), mix())
    assert "plays along" in unknown(at)


def test_a_gain_that_is_not_known(tmp_path):
    media = [write(tmp_path, "v.wav", VOICE), write(tmp_path, "mix.wav", VOICE)]
    clips = (Clip(start_s=0.0, end_s=SECONDS, file="v.wav"),)
    own = (Clip(start_s=0.0, end_s=SECONDS, file="mix.wav"),)
    vox = track("Vox", clips=clips, pan=Unknown(unknown="no pan is shown"))
    at = audio_context(tmp_path, media, vox, track("Mix Print", clips=own, output=None), mix())
    assert "Vox" in unknown(at)


@pytest.mark.slow
def test_the_command_holds_a_named_print_against_the_session(tmp_path, monkeypatch):
    monkeypatch.setenv("MIXLINT_CACHE", "")
    beside(tmp_path, MIX * 0.5)
    song = json.loads((tmp_path / "song.session.json").read_text())
    song["channels"] = [one for one in song["channels"] if one["name"] != "Mix Print"]
    (tmp_path / "song.session.json").write_text(json.dumps(song))
    (tmp_path / "mix.wav").unlink()
    house = 'name = "porch-house"\ntakes = ["print-agrees-with-the-session"]\n'
    house += '[pan]\nmono = "equal-power"\nstereo = "balance"\n'
    (tmp_path / "mixlint-standard.toml").write_text(house)
    given = ["review", str(tmp_path / "song.session.json"), "--print", str(tmp_path / "bounce.wav"), "--as", "json"]
    done = CliRunner().invoke(app, given)
    (found,) = json.loads(done.stdout)["sessions"][0]["findings"]
    assert found["verdict"] == "flagged"
    assert "6.02 LU softer than what the session computes to" in found["message"]
    assert isinstance(ask(beside(tmp_path, MIX), "print", "bounce.wav", "session_gain_db"), FactValue)
