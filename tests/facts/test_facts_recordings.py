"""The state of recordings, told of what clips play of them.

What is planted is made here at known samples and levels; how much is planted is the check.
"""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.facts import FactValue
from mixlint.session import Clip, Unknown
from mixlint.signal import synthesis
from tests.facts.audio_sessions import RATE, audio_context, write
from tests.facts.small_sessions import ask, mix, track, value

VOICE = 0.25 * synthesis.voice(220.0, 1, 4.0, RATE)
PLUCK = 0.25 * synthesis.pluck(196.0, 1, 4.0, RATE)


def heard(folder, samples, *clips: Clip, **more):
    """A session in which one part plays a file, all of it or what the clips say."""
    media = [write(folder, "take.wav", samples, **more)]
    legs = 1 if np.ndim(samples) == 1 else 2
    played = clips or (Clip(start_s=0.0, end_s=len(samples) / RATE, file="take.wav"),)
    return audio_context(folder, media, track("Guitar", clips=played, legs=legs), mix())


def sides(left, right):
    return np.stack([left, right], axis=1)


def at(context, fact):
    return value(context, "media", "take.wav", fact)


def test_only_what_a_clip_plays_counts_and_its_place_in_the_song_is_told(tmp_path):
    """A click at 1.5 s and one at 3.2 s of the file; the clip plays 1 to 2 s of it from 10 s on."""
    samples = PLUCK.copy()
    samples[[round(1.5 * RATE), round(3.2 * RATE)]] += 0.5
    found = ask(heard(tmp_path, samples, Clip(start_s=10.0, end_s=11.0, offset_s=1.0, file="take.wav")),
                "media", "take.wav", "clicks")  # fmt: skip
    assert isinstance(found, FactValue)
    assert found.value == 1
    assert found.note.startswith("0:01.5 of the file (bar 6, 0:10.5)")
    assert at(heard(tmp_path, samples), "clicks") == 2


@pytest.mark.parametrize("subtype", ["PCM_16", "PCM_24", "FLOAT"])
def test_tops_cut_off_and_turned_down(tmp_path, subtype):
    cut = np.clip(VOICE * 3.0, -0.4, 0.4)
    context = heard(tmp_path, cut, subtype=subtype)
    assert at(context, "clipped_tops") == 0
    assert at(context, "flat_tops") > 100
    assert "−7.96 dBFS" in ask(context, "media", "take.wav", "cut_tops").note
    assert at(heard(tmp_path, np.clip(VOICE * 12.0, -1.0, 1.0), subtype=subtype), "clipped_tops") > 100
    assert at(heard(tmp_path, np.tanh(VOICE * 12.0), subtype=subtype), "cut_tops") == 0


def test_tops_under_dither(tmp_path):
    """Triangular dither of 16 bit, as it is added when a file is turned down (common practice, no source)."""
    random = np.random.default_rng(1)
    dither = (random.random(VOICE.size) - random.random(VOICE.size)) / 32768.0
    assert at(heard(tmp_path, np.clip(VOICE * 3.0, -0.2, 0.2) + dither, subtype="PCM_16"), "flat_tops") > 100


@pytest.mark.parametrize("samples", [24, 100, 4800])
def test_holes_and_samples_that_stand_still(tmp_path, samples):
    hole, held = PLUCK.copy(), VOICE.copy()
    middle = round(1.37 * RATE)
    hole[middle : middle + samples] = 0.0
    at_peak = round(0.5 * RATE)
    held[at_peak : at_peak + samples] = held[at_peak]
    assert at(heard(tmp_path, hole), "holes") == 1
    assert at(heard(tmp_path, hole), "longest_hole_ms") == pytest.approx(1000.0 * samples / RATE, abs=0.05)
    assert at(heard(tmp_path, held), "holes") + at(heard(tmp_path, held), "clicks") == 1


@pytest.mark.parametrize("block", [64, 256, 1024, 4096])
def test_a_block_that_comes_twice(tmp_path, block):
    samples = VOICE.copy()
    start = round(0.6 * RATE) + 7
    samples[start : start + block] = samples[start - block : start]
    assert at(heard(tmp_path, samples), "holes") == 1
    assert at(heard(tmp_path, samples), "longest_hole_ms") == pytest.approx(1000.0 * block / RATE, abs=0.1)


def test_waves_that_are_made_flat_and_jumping_are_left_alone(tmp_path):
    t = np.arange(2 * RATE) / RATE
    for wave in (np.sign(np.sin(2.0 * np.pi * 110.3 * t)) * 0.5, ((t * 110.0) % 1.0 - 0.5) * 0.9,
                 np.sin(2.0 * np.pi * 50.0 * t), np.sin(2.0 * np.pi * 1000.0 * t) * 0.25):  # fmt: skip
        context = heard(tmp_path, wave, subtype="PCM_16")
        assert [at(context, fact) for fact in ("cut_tops", "holes", "clicks", "bursts")] == [0, 0, 0, 0]


def test_levels_of_the_legs(tmp_path):
    wide = sides(PLUCK, 0.5 * PLUCK + 0.1 * VOICE)
    assert at(heard(tmp_path, sides(PLUCK, 0.1 * PLUCK)), "weaker_leg_db") == pytest.approx(20.0, abs=0.1)
    assert (
        ask(heard(tmp_path, sides(PLUCK, 0.1 * PLUCK)), "media", "take.wav", "weaker_leg_db").note == "the right side"
    )
    assert at(heard(tmp_path, wide), "leg_drop_db") == 0.0
    drop = sides(PLUCK, np.where(np.arange(PLUCK.size) < 2 * RATE, PLUCK, 0.05 * PLUCK))
    assert at(heard(tmp_path, drop), "leg_drop_db") == pytest.approx(26.0, abs=0.5)
    assert "the right side, from bar 2, 0:02" in ask(heard(tmp_path, drop), "media", "take.wav", "leg_drop_db").note


def test_polarity_and_time_of_the_legs(tmp_path):
    turned = np.where(np.arange(PLUCK.size) < 2 * RATE, PLUCK, -PLUCK)
    context = heard(tmp_path, sides(PLUCK, turned))
    assert at(context, "polarity_turns") is True
    assert "from bar 2, 0:02" in ask(context, "media", "take.wav", "polarity_turns").note
    assert at(heard(tmp_path, sides(PLUCK, -0.9 * PLUCK)), "legs_correlation") == pytest.approx(-1.0, abs=1e-3)
    late = heard(tmp_path, sides(PLUCK, synthesis.late(PLUCK, 60.0)))
    assert at(late, "leg_lag_ms") == pytest.approx(60_000.0 / RATE, abs=0.02)
    assert at(heard(tmp_path, sides(PLUCK, VOICE)), "leg_lag_ms") == 0.0
    assert at(heard(tmp_path, sides(PLUCK, PLUCK)), "legs_differ_db") == -200.0


def test_offset_hum_and_noise(tmp_path):
    random = np.random.default_rng(2)
    t = np.arange(VOICE.size) / RATE
    assert at(heard(tmp_path, PLUCK + 0.01), "offset_percent") == pytest.approx(1.0, abs=0.05)
    assert at(heard(tmp_path, np.maximum(PLUCK, -0.05)), "offset_percent") < 0.3  # higher on one side, but no offset
    noise = VOICE + 0.003 * random.standard_normal(VOICE.size)
    assert at(heard(tmp_path, noise), "noise_dbfs") == pytest.approx(-50.5, abs=1.5)
    hum = sum(np.sin(2.0 * np.pi * 60.0 * n * t + n) / n for n in range(1, 7))
    hum = 10.0 ** (-50.0 / 20.0) * hum / np.std(hum)
    context = heard(tmp_path, VOICE + hum + 1e-5 * random.standard_normal(VOICE.size))
    assert at(context, "hum_dbfs") == pytest.approx(-50.0, abs=1.5)
    assert ask(context, "media", "take.wav", "hum_dbfs").note == "60 Hz and its multiples"
    assert at(heard(tmp_path, noise), "hum_dbfs") == -200.0


def test_used_bits_and_where_the_spectrum_ends(tmp_path):
    random = np.random.default_rng(3)
    noise = 0.1 * random.standard_normal(2 * RATE)
    assert at(heard(tmp_path, np.round(noise * 32768.0) / 32768.0), "used_bits") == 16
    assert at(heard(tmp_path, noise), "used_bits") == 24
    assert at(heard(tmp_path, noise, subtype="FLOAT"), "used_bits") == 0
    spectrum = np.fft.rfft(noise)
    spectrum[np.fft.rfftfreq(noise.size, 1.0 / RATE) > 16_000.0] = 0.0
    ended = np.fft.irfft(spectrum, noise.size) + 1e-6 * random.standard_normal(noise.size)
    assert at(heard(tmp_path, ended), "shelf_hz") == pytest.approx(16_000.0, abs=300.0)
    assert at(heard(tmp_path, noise), "shelf_hz") == 0.0


def test_a_burst_and_broken_samples(tmp_path):
    burst = VOICE.copy()
    burst[RATE : RATE + 2400] = np.random.default_rng(4).uniform(-1.0, 1.0, 2400)
    assert at(heard(tmp_path, burst), "bursts") == 1
    broken = VOICE.astype(np.float32)
    broken[[RATE, 3 * RATE]] = np.nan
    assert at(heard(tmp_path, broken, subtype="FLOAT"), "broken_samples") == 2


def test_what_cannot_be_measured_is_not_known_for_that_reason(tmp_path):
    media = [write(tmp_path, "take.flac", PLUCK)]
    path = tmp_path / "take.flac"
    path.write_bytes(path.read_bytes()[:40_000])
    context = audio_context(tmp_path, media, track("Guitar", clips=(Clip(start_s=0.0, end_s=4.0, file="take.flac"),)),
                            mix())  # fmt: skip
    assert value(context, "media", "take.flac", "state") == "damaged"
    assert value(context, "media", "take.flac", "measured") is False
    found = ask(context, "media", "take.flac", "clicks")
    assert isinstance(found, Unknown)
    assert "decoding stops" in found.unknown


def test_nothing_is_assumed_of_a_damaged_file(tmp_path):
    """What rests on its level says so; without audio the same session is estimated."""
    media = [write(tmp_path, f"{side}.flac", PLUCK) for side in "lr"]
    path = tmp_path / "l.flac"
    path.write_bytes(path.read_bytes()[:40_000])
    parts = [
        track(f"Acoustic {side.upper()}", pan=pan, clips=(Clip(start_s=0.0, end_s=4.0, file=f"{side}.flac"),))
        for side, pan in (("l", -60.0), ("r", 60.0))
    ]
    context = audio_context(tmp_path, media, *parts, mix())
    for found in (ask(context, "session", "Harrow Gate", "imbalance_db"),
                  ask(context, "pair", "Acoustic L and Acoustic R", "level_difference_db")):  # fmt: skip
        assert isinstance(found, Unknown)
        assert "decoding stops" in found.unknown
