"""The computed mix against a desk written here in numpy: clips, gains, pans, sends, buses, and processors by scipy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import signal as oracle

from mixlint.analysis.computed_mix import AHEAD_S, STRETCH_S, ComputedMix, computed_mix
from mixlint.session import Automation, Clip, Dynamics, Equalizer, EqualizerBand, Insert, Unknown
from mixlint.signal import synthesis
from tests.facts.audio_sessions import RATE, audio_context, write
from tests.facts.small_sessions import bus, mix, send, track
from tests.facts.test_facts_insert_reduction import taken

SECONDS = 5.0
VOICE = 0.2 * synthesis.voice(220.0, 1, SECONDS, RATE)
GUITAR = 0.2 * synthesis.pluck(147.0, 2, SECONDS, RATE)
WIDE = np.stack([GUITAR, 0.5 * VOICE])


def whole(file: str, **more) -> Clip:
    return Clip(start_s=0.0, end_s=SECONDS, file=file, **more)


def desk(folder, *channels, **files):
    media = [write(folder, f"{n}.wav", s.T if s.ndim == 2 else s, subtype="FLOAT") for n, s in files.items()]
    found = computed_mix(audio_context(folder, media, *channels))
    assert isinstance(found, ComputedMix), found
    return found


def put(samples: np.ndarray, pan: float, gain_db: float = 0.0) -> np.ndarray:
    """A mono signal by the equal-power law: cos and sin of a quarter turn, −3.01 dB in the centre."""
    angle = (pan + 100.0) / 200.0 * np.pi / 2.0
    return np.outer([np.cos(angle), np.sin(angle)], samples) * 10.0 ** (gain_db / 20.0)


def assert_sums_to(found: ComputedMix, due: np.ndarray, abs_: float = 1e-5) -> None:
    assert found.starts_s == (0.0,)
    got = found.samples[0]
    assert np.abs(got - due[:, : got.shape[1]]).max() < abs_


def test_parts_at_their_gains_and_pans(tmp_path):
    """Clip gain, fader, pan, and a fade of a second as a straight line."""
    found = desk(
        tmp_path,
        track("Vox", clips=(whole("v.wav", gain_db=3.0, fade_in_s=1.0),), fader_db=-6.0, pan=-30.0),
        track("Gtr", clips=(whole("g.wav"),), pan=60.0),
        mix(fader_db=-2.0),
        v=VOICE,
        g=GUITAR,
    )
    ramp = np.clip(np.arange(VOICE.size) / RATE, 0.0, 1.0)
    due = put(VOICE * ramp, -30.0, -3.0) + put(GUITAR, 60.0)
    assert_sums_to(found, due * 10.0 ** (-2.0 / 20.0))
    assert found.hidden == ()
    assert found.assumed == ("the pan law of mono strips",)
    assert found.off_lu == pytest.approx(0.1)


def test_a_send_before_the_fader_and_a_bus(tmp_path):
    """A pre-fader send at −8 dB to a bus with its fader at +4, the part itself at −20."""
    found = desk(
        tmp_path,
        track("Vox", clips=(whole("v.wav"),), fader_db=-20.0, pan=0.0, sends=(send("Bus", -8.0, tap="pre"),)),
        bus("Bus", fader_db=4.0),
        mix(),
        v=VOICE,
    )
    sent = put(VOICE, 0.0, -8.0 + 4.0)
    assert_sums_to(found, put(VOICE, 0.0, -20.0) + sent)


def test_an_equalizer_and_a_compressor_on_a_bus(tmp_path):
    """Two parts through a low cut (scipy) and a compressor that hears both legs (the published detector)."""
    cut = EqualizerBand(kind="high-pass", freq_hz=300.0, slope_db_per_oct=12.0, q=0.7071067811865476)
    squeeze = Dynamics(threshold_db=-24.0, ratio=4.0, attack_ms=10.0, release_ms=100.0, output_gain_db=3.0)
    inserts = (
        Insert(name="Cut", kind="equalizer", opaque=False, equalizer=Equalizer(bands=(cut,))),
        Insert(name="Glue", kind="compressor", opaque=False, dynamics=squeeze),
    )
    found = desk(
        tmp_path,
        track("Vox", clips=(whole("v.wav"),), output="Bus", pan=-100.0),
        track("Gtr", clips=(whole("g.wav"),), output="Bus", pan=100.0),
        bus("Bus", inserts=inserts),
        mix(),
        v=VOICE,
        g=GUITAR,
    )
    both = oracle.sosfilt(oracle.butter(2, 300.0, "high", fs=RATE, output="sos"), np.stack([VOICE, GUITAR]))
    gain = 10.0 ** ((3.0 - taken(np.abs(both).max(axis=0), -24.0, 4.0, 10.0, 100.0)) / 20.0)
    got, due = found.samples[0], both * gain
    left = ((got - due) ** 2).sum() / (due**2).sum()
    assert 10.0 * np.log10(left) < -35.0
    assert found.hidden == ()
    assert 0.6 < found.off_lu < 3.0


def test_a_fader_that_moves(tmp_path):
    """A straight line in dB from 0 to −12 over the song."""
    ride = Automation(target="fader", scale="dB", shape="linear", t=(0.0, SECONDS), v=(0.0, -12.0))
    found = desk(tmp_path, track("Vox", clips=(whole("v.wav"),), automation=(ride,)), mix(), v=VOICE)
    at = np.arange(VOICE.size) / RATE
    assert_sums_to(found, put(VOICE * 10.0 ** (-12.0 * at / SECONDS / 20.0), 0.0), 1e-3)


def test_a_part_of_two_legs(tmp_path):
    found = desk(tmp_path, track("Room", clips=(whole("w.wav"),), legs=2), mix(), w=WIDE)
    assert_sums_to(found, WIDE)


def test_what_is_hidden_is_named(tmp_path):
    found = desk(
        tmp_path,
        track("Vox", clips=(whole("v.wav"),), inserts=(Insert(name="Velvet"),), sends=(send("Hall"),)),
        track("Keys", clips=(Clip(start_s=0.0, end_s=4.0, plays="notes"),)),
        bus("Hall", kind="return", inserts=(Insert(name="Old Hall", kind="reverb", wet=100.0),)),
        mix(),
        v=VOICE,
    )
    assert_sums_to(found, put(VOICE, 0.0))
    assert found.hidden == (
        "Keys, some of which cannot be read",
        "Velvet on Vox, which hides its settings",
        "Old Hall on Hall, whose ambience is left out",
    )


def test_a_long_song_is_computed_in_stretches_over_all_of_it(tmp_path):
    """A minute and a half: six stretches of five seconds, each as at its place in the song."""
    samples = np.tile(VOICE, 18) * np.repeat(np.linspace(0.1, 1.0, 18), VOICE.size)
    clip = Clip(start_s=0.0, end_s=90.0, file="v.wav")
    found = desk(tmp_path, track("Vox", clips=(clip,)), mix(), v=samples)
    assert len(found.starts_s) == 6
    assert min(found.starts_s) > AHEAD_S
    due = put(samples, 0.0)
    for start, got in zip(found.starts_s, found.samples, strict=True):
        first = round(start * RATE)
        assert got.shape[1] == round(STRETCH_S * RATE)
        assert np.abs(got - due[:, first : first + got.shape[1]]).max() < 1e-5


def test_muted_and_unrouted_parts_are_not_in_it(tmp_path):
    found = desk(
        tmp_path,
        track("Vox", clips=(whole("v.wav"),)),
        track("Gtr", clips=(whole("g.wav"),), mute=True),
        track("Idea", clips=(whole("g.wav"),), output=None),
        mix(),
        v=VOICE,
        g=GUITAR,
    )
    assert_sums_to(found, put(VOICE, 0.0))


def test_a_gain_that_is_not_known_leaves_the_mix_unknown(tmp_path):
    media = [write(tmp_path, "v.wav", VOICE)]
    part = track("Vox", clips=(whole("v.wav"),), fader_db=Unknown(unknown="no fader is shown"))
    found = computed_mix(audio_context(tmp_path, media, part, mix()))
    assert isinstance(found, Unknown)
    assert "Vox" in found.unknown
