"""The rules that cannot do without audio, tried on recordings made here."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile

from mixlint.facts import SessionContext
from mixlint.media import Library
from mixlint.review.engine import judged
from mixlint.rulebook import load_standard
from mixlint.session import (
    Channel,
    Clip,
    Dynamics,
    Equalizer,
    EqualizerBand,
    Insert,
    MediaFile,
    Session,
    Tempo,
    Timeline,
)

EVERYTHING = Path(__file__).resolve().parents[1] / "everything.toml"

RATE = 48_000
RULES = load_standard(EVERYTHING).rules


def verdict(rule: str, folder: Path, parts: dict[str, tuple[np.ndarray, dict]], subject: str) -> tuple[str, str]:
    """The verdict and the message about ``subject`` when each part plays its samples."""
    channels, media = [], []
    for name, (samples, more) in parts.items():
        path = f"{name}.wav"
        soundfile.write(folder / path, samples, RATE, subtype="FLOAT")
        media.append(MediaFile(id=name, path=path))
        clip = Clip(start_s=0.0, end_s=samples.size / RATE, file=name)
        channels.append(Channel(id=name, name=name, kind="track", legs=1, output="Mix", clips=(clip,), **more))
    channels.append(Channel(id="Mix", name="Mix Bus", kind="master", output=None))
    timeline = Timeline(tempos=(Tempo(bpm=120.0),))
    session = Session(channels=tuple(channels), media=tuple(media), timeline=timeline)
    with Library(session, folder) as audio:
        findings = judged(SessionContext(session, audio=audio), RULES[rule])
    (found,) = [f for f in findings if f.subject.name == subject]
    return found.verdict, found.message


def sine(level_dbfs: float) -> np.ndarray:
    t = np.arange(3 * RATE) / RATE
    return 10.0 ** (level_dbfs / 20.0) * np.sin(2.0 * np.pi * 500.0 * t)


def take(seed: int) -> np.ndarray:
    """Decaying strokes of noise; two seeds are as different as two performances."""
    noise = np.random.default_rng(seed)
    out = np.zeros(6 * RATE)
    for at in (np.cumsum(noise.uniform(0.15, 0.3, 20)) * RATE).astype(int):
        length = min(RATE // 4, out.size - at)
        if length > 0:
            out[at : at + length] += noise.standard_normal(length) * np.exp(-np.arange(length) / (0.05 * RATE))
    return 0.1 * out


def late(samples: np.ndarray, by: int) -> np.ndarray:
    return np.concatenate([np.zeros(by), samples[: samples.size - by]])


def squeezed(level_dbfs: float) -> dict[str, tuple[np.ndarray, dict]]:
    tool = Insert(name="Comp", kind="compressor", opaque=False, dynamics=Dynamics(threshold_db=-20.0, ratio=4.0))
    return {"Lead Vocal": (sine(level_dbfs), {"inserts": (tool,)})}


@pytest.mark.parametrize(("level", "expected"), [(-8.0, "flagged"), (-16.0, "clear")])
def test_compression_gentle(tmp_path, level, expected):
    """4:1 takes three quarters of what is over −20 dBFS: 9 dB at −8, 3 dB at −16."""
    found, message = verdict("compression-gentle", tmp_path, squeezed(level), "Lead Vocal: Comp")
    assert found == expected
    if expected == "flagged":
        assert "takes 9 dB in the loudest twentieth of the time (by its static curve, give or take 3 dB)" in message


@pytest.mark.parametrize(("second", "expected"), [(-take(1), "flagged"), (take(1), "clear"), (take(2), "open")])
def test_polarity_of_pairs(tmp_path, second, expected):
    """Two performances have no delay in common; what is named as a pair of microphones is then asked about."""
    parts = {"Gtr Body": (take(1), {}), "Gtr Neck": (0.8 * second, {})}
    assert verdict("polarity-of-pairs", tmp_path, parts, "Gtr Body and Gtr Neck")[0] == expected


@pytest.mark.slow
@pytest.mark.parametrize(
    ("samples", "expected"), [(72, "flagged"), (576, "flagged"), (38, "clear"), (2, "clear"), (0, "clear")]
)
def test_two_mics_in_time(tmp_path, samples, expected):
    """72 samples at 48 kHz are 1.5 ms, a notch at 333 Hz; 576 are the 12 ms of a DI that was not moved; 38 are 0.79 ms.

    0.79 ms is 27 cm of air: the inside and outside of a kick (common practice, no source).
    """
    parts = {"Gtr Body": (take(1), {}), "Gtr Neck": (0.8 * late(take(1), samples), {})}
    found, message = verdict("two-mics-in-time", tmp_path, parts, "Gtr Body and Gtr Neck")
    assert found == expected
    if samples == 72:
        assert "Gtr Neck lies 1.50 ms behind Gtr Body" in message
        assert "near 333 Hz" in message


@pytest.mark.parametrize(("rumble_dbfs", "expected"), [(-20.0, "flagged"), (-60.0, "clear")])
def test_low_cut_in_place_spares_a_clean_recording(tmp_path, rumble_dbfs, expected):
    """A voice at 500 Hz and −10 dBFS, and a foot on the stand at 25 Hz: 10 or 50 dB under it."""
    t = np.arange(3 * RATE) / RATE
    foot = 10.0 ** (rumble_dbfs / 20.0) * np.sin(2.0 * np.pi * 25.0 * t)
    bell = EqualizerBand(kind="bell", freq_hz=500.0, gain_db=-1.0)
    tool = Insert(name="EQ", kind="equalizer", opaque=False, equalizer=Equalizer(bands=(bell,)))
    parts = {"Lead Vocal": (sine(-10.0) + foot, {"inserts": (tool,)})}
    assert verdict("low-cut-in-place", tmp_path, parts, "Lead Vocal")[0] == expected


def test_every_rule_of_these_areas_that_needs_audio_is_tried_here():
    areas = ("phase", "dynamics", "tone", "width", "ambience")
    needing = {rule.id for rule in RULES.values() if rule.needs and rule.area in areas and not _has_sounds(rule)}
    assert needing == set()


def _has_sounds(rule) -> bool:
    """True for a rule whose own examples carry sounds: it is tried there."""
    return any(example.sounds for example in rule.examples())
