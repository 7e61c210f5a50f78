"""What is left in mono, loudness of the mix, rumble over a whole part: against arithmetic, scipy, libebur128."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from scipy import signal as oracle

from mixlint.session import Channel, Clip, Unknown
from mixlint.signal import synthesis
from tests.facts.audio_sessions import RATE, audio_context, sine, write
from tests.facts.small_sessions import ask, value

SECONDS = 8.0


def track(name: str, **more: object) -> Channel:
    clips = (Clip(start_s=0.0, end_s=SECONDS, file=f"{name}.wav"),)
    return Channel(**{"id": name, "name": name, "kind": "track", "output": "mix", "clips": clips, **more})


MIX = Channel(id="mix", name="Mix", kind="master", output=None)


def test_the_loss_in_mono_is_that_of_half_the_sum(tmp_path: Path) -> None:
    """Bass: both sides alike over 120 Hz, apart under it. Wide: two noises. Against ½ (L + R), arithmetic."""
    n = round(SECONDS * RATE)
    low, high = sine(60.0, SECONDS, 0.3), sine(400.0, SECONDS, 0.3)
    bass = np.stack([low + high, sine(60.0, SECONDS, 0.3, np.pi * 0.75) + high])
    wide = 0.05 * np.random.default_rng(1).standard_normal((2, n))
    media = [write(tmp_path, "Bass.wav", bass.T), write(tmp_path, "Pad.wav", wide.T)]
    at = audio_context(tmp_path, media, track("Bass"), track("Pad", fader_db=-3.0), MIX)
    folded = 20 * np.log10(np.abs(1 + np.exp(0.75j * np.pi)) / 2)  # one sine and itself, 135 degrees later
    assert value(at, "source", "Bass", "low_mono_loss_db") == pytest.approx(-folded, abs=0.05)
    assert value(at, "source", "Pad", "mono_loss_db") == pytest.approx(3.01, abs=0.1)
    assert value(at, "source", "Bass", "mono_loss_db") < 2.5
    mixed = bass + wide * 10 ** (-3 / 20)
    lows = oracle.sosfilt(oracle.butter(8, 200.0, fs=RATE, output="sos"), mixed)
    due = 10 * np.log10(np.mean(lows.mean(axis=0) ** 2) / np.mean(lows**2))
    assert value(at, "mix-bus", "Mix", "low_mono_loss_db") == pytest.approx(-due, abs=0.3)


def test_a_part_turned_over_for_a_while_loses_there(tmp_path: Path) -> None:
    tone = sine(440.0, 20.0)
    right = tone.copy()
    right[12 * RATE :] *= -1.0
    media = [write(tmp_path, "Pad.wav", np.stack([tone, right]).T)]
    clips = (Clip(start_s=0.0, end_s=20.0, file="Pad.wav"),)
    at = audio_context(tmp_path, media, track("Pad", clips=clips), MIX)
    assert value(at, "source", "Pad", "mono_loss_db") == pytest.approx(10 * np.log10(20 / 12), abs=0.1)
    assert value(at, "source", "Pad", "worst_mono_loss_db") > 40.0
    assert "0:1" in value(at, "source", "Pad", "mono_text")


def test_loudness_of_a_mix_is_that_of_its_sum(tmp_path: Path) -> None:
    """Three unlike parts, against libebur128 on their sum in numpy: within 0.6 LU; peaks within 0.01 dB."""
    ebur = pytest.importorskip("pyebur128")
    parts = {
        "Kit": 0.5 * synthesis.kit(1, SECONDS, RATE),
        "Gtr": 0.3 * synthesis.pluck(196.0, 2, SECONDS, RATE),
        "Vox": 0.5 * synthesis.voice(220.0, 3, SECONDS, RATE),
    }
    media = [write(tmp_path, f"{name}.wav", samples) for name, samples in parts.items()]
    at = audio_context(tmp_path, media, *(track(name) for name in parts), MIX)
    total = np.sum(list(parts.values()), axis=0) * np.sqrt(0.5)
    state = ebur.R128State(2, RATE, ebur.MeasurementMode.MODE_I | ebur.MeasurementMode.MODE_S)
    state.add_frames(np.repeat(total, 2).copy(), total.size)
    assert value(at, "mix-bus", "Mix", "integrated_lufs") == pytest.approx(ebur.get_loudness_global(state), abs=0.6)
    assert value(at, "mix-bus", "Mix", "summed_peak_dbfs") == pytest.approx(
        20 * np.log10(np.abs(total).max()), abs=0.01
    )
    assert value(at, "mix-bus", "Mix", "summed_true_peak_dbtp") >= value(at, "mix-bus", "Mix", "summed_peak_dbfs")
    assert value(at, "mix-bus", "Mix", "loudest_short_term_lufs") >= value(at, "mix-bus", "Mix", "integrated_lufs")
    assert 0.0 <= value(at, "mix-bus", "Mix", "loudness_range_lu") < 15.0
    bare = audio_context(tmp_path, [], *(track(name) for name in parts), MIX)
    assert isinstance(ask(bare, "mix-bus", "Mix", "integrated_lufs"), Unknown)


def test_rumble_is_found_wherever_it_is(tmp_path: Path) -> None:
    """A foot at −10 dB under the voice for the first 15 of 48 s; the middle of the recording is clean."""
    seconds = 48.0
    voice = sine(440.0, seconds, 0.25)
    foot = sine(25.0, seconds, 0.25 * 10 ** (-10 / 20))
    foot[15 * RATE :] = 0.0
    media = [write(tmp_path, "Lead Vocal.wav", voice + foot)]
    clips = (Clip(start_s=0.0, end_s=seconds, file="Lead Vocal.wav"),)
    at = audio_context(tmp_path, media, track("Lead Vocal", clips=clips), MIX)
    found = ask(at, "source", "Lead Vocal", "under_lowest_db")
    assert not isinstance(found, Unknown)
    assert found.number == pytest.approx(-10.4, abs=0.4)
    assert "0:00.0" in found.note
    assert value(at, "source", "Lead Vocal", "clean_by_itself") is False


def test_a_part_by_itself(tmp_path: Path) -> None:
    """Peaks by arithmetic, loudness against libebur128 on what arrives, who holds the low end against tones."""
    ebur = pytest.importorskip("pyebur128")
    vox = 0.4 * synthesis.voice(220.0, 1, SECONDS, RATE)
    media = [
        write(tmp_path, "Vocal.wav", vox),
        write(tmp_path, "Bass.wav", sine(63.1, SECONDS, 0.5)),
        write(tmp_path, "Kick.wav", sine(63.1, SECONDS, 0.05)),
    ]
    clips = (Clip(start_s=0.0, end_s=SECONDS, file="Vocal.wav", gain_db=3.0),)
    parts = (track("Vocal", clips=clips, fader_db=-6.0), track("Bass", fader_db=-2.0), track("Kick"))
    at = audio_context(tmp_path, media, *parts, MIX)
    peak = 20 * np.log10(np.abs(vox).max())
    assert value(at, "source", "Vocal", "recorded_peak_dbfs") == pytest.approx(peak + 3.0, abs=0.01)
    assert value(at, "source", "Vocal", "strip_peak_dbfs") == pytest.approx(peak - 3.0 - 3.01, abs=0.01)
    state = ebur.R128State(2, RATE, ebur.MeasurementMode.MODE_I)
    state.add_frames(np.repeat(vox * 10 ** (-3 / 20) * np.sqrt(0.5), 2).copy(), vox.size)
    assert value(at, "source", "Vocal", "arrives_at_lufs") == pytest.approx(ebur.get_loudness_global(state), abs=0.6)
    assert value(at, "mix-bus", "Mix", "kick_over_bass_low_db") == pytest.approx(-18.0, abs=0.05)
    assert value(at, "mix-bus", "Mix", "low_end_over_others_db") > 20.0
