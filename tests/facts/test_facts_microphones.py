"""Families of microphones by their sound: distances of a kit in the air (343 m/s) with known answers."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from scipy import signal

from mixlint.facts import TABLES, SessionContext
from mixlint.session import Clip, Insert, Parameter, Unknown
from tests.facts.audio_sessions import RATE, audio_context, write
from tests.facts.small_sessions import ask, mix, track, value

SECONDS = 8


def drum(hz: float, noise: float, every: float, first: float, seed: int) -> np.ndarray:
    """Strokes of one drum: a tone that dies away and noise."""
    rng = np.random.default_rng(seed)
    out = np.zeros(SECONDS * RATE)
    t = np.arange(RATE // 4) / RATE
    for start in np.arange(first, SECONDS - 0.3, every):
        at = round((start + 0.004 * rng.normal()) * RATE)
        stroke = np.sin(2 * np.pi * hz * t) * np.exp(-t / 0.08) + noise * rng.normal(size=t.size) * np.exp(-t / 0.03)
        out[max(0, at) : max(0, at) + t.size] += rng.uniform(0.6, 1.0) * stroke
    return out


KICK, SNARE = drum(60.0, 0.1, 1.0, 0.2, 1), drum(190.0, 0.6, 1.0, 0.7, 2)


def after(samples: np.ndarray, ms: float) -> np.ndarray:
    whole = round(ms / 1000.0 * RATE)
    return np.concatenate((np.zeros(whole), samples[: samples.size - whole]))


def hissing(samples: np.ndarray, seed: int) -> np.ndarray:
    return 0.2 * samples + 1e-4 * np.random.default_rng(seed).standard_normal(samples.size)


def kit() -> dict[str, np.ndarray]:
    """Four microphones: the drums hear each other, the overheads hear both from a metre and more."""
    far = signal.butter(1, 3000, fs=RATE, output="sos")
    return {
        "Kick": hissing(KICK + 0.05 * signal.sosfilt(far, after(SNARE, 2.5)), 3),
        "Snare Top": hissing(SNARE + 0.05 * signal.sosfilt(far, after(KICK, 2.5)), 4),
        "OH L": hissing(after(KICK, 4.5) + after(SNARE, 2.8), 5),
        "OH R": hissing(after(KICK, 4.4) + after(SNARE, 3.9), 6),
    }


def heard(folder: Path, sounds: dict[str, np.ndarray], **more: dict) -> SessionContext:
    files, channels = [], []
    for name, samples in sounds.items():
        files.append(write(folder, f"{name}.wav", samples))
        clip = Clip(start_s=0.0, end_s=samples.size / RATE, file=f"{name}.wav")
        channels.append(track(name, clips=(clip,), **more.get(name.replace(" ", "_"), {})))
    return audio_context(folder, files, *channels, mix())


KIT = "Kick, Snare Top, OH L and 1 more"


def test_a_kit_as_it_stands_is_neither_turned_over_nor_late(tmp_path):
    at = heard(tmp_path, kit())
    assert value(at, "microphones", KIT, "turned_over") == ()
    assert value(at, "microphones", KIT, "late") == ()
    assert value(at, "microphones", KIT, "slipping") == ()
    assert value(at, "microphones", KIT, "mono_loss_db") < 1.0
    lags = value(at, "microphones", KIT, "lags")
    assert any(line.startswith("OH L 2.79") and "later than Snare Top" in line for line in lags)
    assert any(line.startswith("OH R 4.40") and "later than Kick" in line for line in lags)


@pytest.mark.slow
@pytest.mark.parametrize("who", ["Kick", "Snare Top", "OH R"])
def test_whoever_is_turned_over_is_named_alone(tmp_path, who):
    sounds = kit()
    sounds[who] = -sounds[who]
    assert value(heard(tmp_path, sounds), "microphones", KIT, "turned_over") == (who,)


@pytest.mark.slow
def test_a_switch_that_turns_it_back_is_counted_in(tmp_path):
    sounds = kit()
    sounds["Snare Top"] = -sounds["Snare Top"]
    switch = Insert(
        name="Trim", kind="utility", opaque=False, parameters=(Parameter(id="p", name="Polarity", value=True),)
    )
    at = heard(tmp_path, sounds, Snare_Top={"inserts": (switch,)})
    assert value(at, "microphones", KIT, "turned_over") == ()
    hidden = heard(tmp_path, sounds, Snare_Top={"inserts": (Insert(name="Iron Preamp"),)})
    said = ask(hidden, "microphones", KIT, "turned_over")
    assert isinstance(said, Unknown)
    assert "Iron Preamp" in said.unknown


@pytest.mark.slow
def test_a_close_microphone_behind_the_overheads_is_late(tmp_path):
    sounds = kit()
    sounds["Snare Top"] = after(sounds["Snare Top"], 6.0)
    at = heard(tmp_path, sounds)
    assert value(at, "microphones", KIT, "late") == ("Snare Top",)
    assert value(at, "microphones", KIT, "late_ms") == pytest.approx(3.2, abs=0.05)


@pytest.mark.slow
def test_a_microphone_moved_halfway_slips_and_is_not_late(tmp_path):
    sounds = kit()
    snare = sounds["Snare Top"]
    sounds["Snare Top"] = np.concatenate((snare[: 4 * RATE], after(snare, 2.0)[4 * RATE :]))
    at = heard(tmp_path, sounds)
    assert value(at, "microphones", KIT, "slipping") == ("Snare Top",)
    assert "0:04" in ask(at, "microphones", KIT, "slipping").note


def test_parts_that_play_together_are_no_family(tmp_path):
    sounds = {"Guitar": hissing(KICK, 7), "Piano": hissing(drum(90.0, 0.2, 1.0, 0.2, 8), 8)}
    assert not TABLES["microphones"].rows(heard(tmp_path, sounds))


def test_without_audio_names_make_the_families():
    from tests.facts.small_sessions import context

    at = context(track("Gtr Body"), track("Gtr Neck"), track("Gtr Room"), mix())
    (row,) = TABLES["microphones"].rows(at)
    assert isinstance(row.value("turned_over"), Unknown)
    assert row.value("heard").value is False


@pytest.mark.slow
def test_the_halves_of_a_stereo_recording_of_opposite_polarity(tmp_path):
    """A piano in two mono files, the right one turned over: the halves share the strings and not their reflections."""
    rng = np.random.default_rng(11)
    t = np.arange(RATE // 5) / RATE
    room = [0.03 * rng.normal(size=t.size) * np.exp(-t / 0.05) for _ in range(2)]
    take = KICK + SNARE
    left, right = (take + signal.fftconvolve(take, one)[: take.size] for one in room)
    at = heard(tmp_path, {"Piano L": hissing(left, 12), "Piano R": hissing(-after(right, 0.5), 13)})
    assert value(at, "microphones", "Piano L and Piano R", "turned_over") == ("Piano R",)
    assert value(at, "microphones", "Piano L and Piano R", "late") == ()
