"""Gain reduction by attack and release: against a detector that is written here, sample by sample, as published."""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.facts import FactValue
from mixlint.session import Clip, Dynamics, Equalizer, EqualizerBand, Insert, Unknown
from mixlint.signal import synthesis
from tests.facts.audio_sessions import RATE, audio_context, write
from tests.facts.small_sessions import ask, mix, track, value

SOUNDS = {
    "pluck": 0.5 * synthesis.pluck(196.0, 1, 6.0, RATE),
    "voice": 0.5 * synthesis.voice(220.0, 1, 6.0, RATE),
    "kit": 0.5 * synthesis.kit(1, 6.0, RATE),
}
ROW = ("insert", "Part: Squeeze")


def squeeze(threshold: float, ratio: float, attack: float | None, release: float | None, **more) -> Insert:
    times = {"attack_ms": attack, "release_ms": release}
    own = Dynamics(threshold_db=threshold, ratio=ratio, **{k: v for k, v in times.items() if v is not None}, **more)
    return Insert(name="Squeeze", kind="compressor", opaque=False, dynamics=own)


def played(folder, samples, *inserts, gain_db: float = 0.0):
    media = [write(folder, "a.wav", samples, subtype="FLOAT")]
    clip = Clip(start_s=0.0, end_s=samples.shape[0] / RATE, file="a.wav", gain_db=gain_db)
    return audio_context(folder, media, track("Part", clips=(clip,), inserts=inserts, legs=samples.ndim), mix())


def taken(samples: np.ndarray, threshold: float, ratio: float, attack_ms: float, release_ms: float) -> np.ndarray:
    """What a compressor takes away of every sample, dB, by eq. 4 (hard knee) and 17 of Giannoulis and others 2012."""
    level = 20.0 * np.log10(np.abs(samples) + 1e-12)
    alpha_a, alpha_r = (np.exp(-1.0 / (ms / 1000.0 * RATE)) for ms in (attack_ms, release_ms))
    out = np.zeros(samples.size)
    held = 0.0
    for n, asked in enumerate(np.maximum(0.0, (1.0 - 1.0 / ratio) * (level - threshold)).tolist()):
        held = alpha_a * held + (1 - alpha_a) * asked if asked > held else alpha_r * held + (1 - alpha_r) * asked
        out[n] = held
    return out


def sounding(samples: np.ndarray, gain_db: float = 0.0) -> np.ndarray:
    """Which samples lie in tenths of a second within 30 dB of the loudest one and over −50 dBFS."""
    hop = RATE // 10
    power = (samples[: samples.size // hop * hop].reshape(-1, hop) ** 2).mean(axis=1)
    level = 10.0 * np.log10(power + 1e-20) + 3.01 + gain_db
    return np.repeat((level > level.max() - 30.0) & (level > -50.0), hop)


@pytest.mark.slow
@pytest.mark.parametrize("sound", SOUNDS)
@pytest.mark.parametrize(("ratio", "attack", "release"), [(2.0, 1.0, 50.0), (4.0, 10.0, 100.0), (8.0, 30.0, 300.0)])
def test_reduction_over_time_is_that_of_the_published_detector(tmp_path, sound, ratio, attack, release):
    """Loudest twentieth and half of the sounding time, within 0.2 dB of every sample worked out apart."""
    samples = SOUNDS[sound]
    at = played(tmp_path, samples, squeeze(-24.0, ratio, attack, release), gain_db=3.0)
    due = taken(samples * 10.0 ** (3.0 / 20.0), -24.0, ratio, attack, release)
    due = due[: sounding(samples).size][sounding(samples, 3.0)]
    assert value(at, *ROW, "reduction_db") == pytest.approx(np.percentile(due, 95.0), abs=0.2)
    assert value(at, *ROW, "usual_reduction_db") == pytest.approx(np.median(due), abs=0.2)
    found = ask(at, *ROW, "reduction_db")
    assert isinstance(found, FactValue)
    assert f"attack of {attack:g} ms" in found.note


@pytest.mark.slow
@pytest.mark.parametrize("sound", SOUNDS)
def test_another_detector_lies_within_the_band_that_is_told(tmp_path, sound):
    """Mean squares over 10 ms before the curve, instead of peaks, at 4:1 and 10/100 ms: inside the fact's own band."""
    samples = SOUNDS[sound]
    at = played(tmp_path, samples, squeeze(-20.0, 4.0, 10.0, 100.0))
    alpha = np.exp(-1.0 / (0.01 * RATE))
    held, power = 0.0, np.zeros(samples.size)
    for n, one in enumerate((samples**2).tolist()):
        held = alpha * held + (1 - alpha) * one
        power[n] = held
    due = taken(np.sqrt(2.0 * power), -20.0, 4.0, 10.0, 100.0)[: sounding(samples).size][sounding(samples)]
    off = value(at, *ROW, "reduction_off_db")
    assert 0.5 < off < 4.0
    assert value(at, *ROW, "reduction_db") == pytest.approx(np.percentile(due, 95.0), abs=off)


def test_what_stands_before_it_is_run_as_well(tmp_path):
    """A low cut of 24 dB per octave at 2 kHz takes a tone of 200 Hz away, so that nothing is left to compress."""
    tone = 0.5 * np.sin(2.0 * np.pi * 200.0 * np.arange(4 * RATE) / RATE)
    band = EqualizerBand(kind="high-pass", freq_hz=2000.0, slope_db_per_oct=24.0)
    cut = Insert(name="Cut", kind="equalizer", opaque=False, equalizer=Equalizer(bands=(band,)))
    behind = played(tmp_path, tone, cut, squeeze(-20.0, 4.0, 5.0, 80.0))
    assert value(behind, *ROW, "reduction_db") == pytest.approx(0.0, abs=0.01)
    alone = played(tmp_path, tone, squeeze(-20.0, 4.0, 5.0, 80.0))
    assert value(alone, *ROW, "reduction_db") > 5.0


def test_both_legs_are_taken_down_together(tmp_path):
    """A loud right leg takes as much of a part with two legs as of itself alone."""
    loud = SOUNDS["voice"]
    both = played(tmp_path, np.stack([0.1 * loud, loud], axis=1), squeeze(-24.0, 4.0, 5.0, 100.0))
    two = value(both, *ROW, "reduction_db")
    one = value(played(tmp_path, loud, squeeze(-24.0, 4.0, 5.0, 100.0)), *ROW, "reduction_db")
    assert two == pytest.approx(one, abs=0.01)


def test_without_times_it_is_the_static_curve_and_says_so(tmp_path):
    found = ask(played(tmp_path, SOUNDS["voice"], squeeze(-20.0, 4.0, None, None)), *ROW, "reduction_db")
    assert isinstance(found, FactValue)
    assert found.note == "by its static curve"


def test_a_limiter_follows_each_peak(tmp_path):
    """A sine of 0.5 (−6.02 dBFS) over −12: a limiter without a ratio takes all of 5.98 dB."""
    tone = 0.5 * np.sin(2.0 * np.pi * 997.0 * np.arange(4 * RATE) / RATE)
    own = Dynamics(threshold_db=-12.0, release_ms=100.0)
    at = played(tmp_path, tone, Insert(name="Squeeze", kind="limiter", opaque=False, dynamics=own))
    assert value(at, *ROW, "reduction_db") == pytest.approx(5.98, abs=0.1)


@pytest.mark.slow
def test_a_long_part_is_run_in_stretches_over_all_of_it(tmp_path):
    """Two minutes, soft in the first and 12 dB louder in the second: half a minute of each is run.

    Against the loudest twentieth of both halves, worked out apart.
    """
    voice = SOUNDS["voice"]
    soft = 10.0 ** (-12.0 / 20.0) * voice
    samples = np.concatenate((np.tile(soft, 10), np.tile(voice, 10)))
    at = played(tmp_path, samples, squeeze(-24.0, 4.0, 10.0, 100.0))
    due = [taken(one, -24.0, 4.0, 10.0, 100.0)[: sounding(one).size][sounding(one)] for one in (soft, voice)]
    assert value(at, *ROW, "reduction_db") == pytest.approx(np.percentile(np.concatenate(due), 95.0), abs=0.5)


@pytest.mark.parametrize(
    ("changed", "reason"),
    [
        ({"opaque": True}, "hidden"),
        ({"dynamics": Dynamics(threshold_db=Unknown(unknown="no threshold is shown"), ratio=4.0)}, "no threshold"),
    ],
)
def test_a_hidden_compressor_stays_unknown(tmp_path, changed, reason):
    insert = squeeze(-20.0, 4.0, 10.0, 100.0).model_copy(update=changed)
    found = ask(played(tmp_path, SOUNDS["voice"], insert), *ROW, "reduction_db")
    assert isinstance(found, Unknown)
    assert reason in found.unknown
