"""What a clip itself holds: against numpy on the stretch that it plays, scipy, libebur128, and house rules over it."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from scipy import signal as oracle
from typer.testing import CliRunner

from mixlint.cli.app import app
from mixlint.facts import FactValue, SessionContext
from mixlint.session import Clip, Unknown
from mixlint.signal import synthesis
from tests.facts.audio_sessions import RATE, audio_context, sine, write
from tests.facts.small_sessions import ask, mix, track, value

VOICE = 0.25 * synthesis.voice(220.0, 1, 8.0, RATE)
CLIP = "Vox: line"


def playing(folder: Path, samples: np.ndarray, start: float, end: float, *, rate: int = RATE, **more) -> SessionContext:
    """A voice whose one clip plays ``start`` to ``end`` seconds of its file, from 10 s of the song on."""
    media = [write(folder, "take.wav", samples, rate=rate, subtype=more.pop("subtype", "PCM_24"))]
    given = {"offset_s": start, "name": "line"} | more
    clip = Clip(start_s=10.0, end_s=10.0 + end - start, file="take.wav", **given)
    return audio_context(folder, media, track("Vox", clips=(clip,), legs=1 if samples.ndim == 1 else 2), mix())


def of(at: SessionContext, fact: str):
    return value(at, "clip", CLIP, fact)


def cut(samples: np.ndarray, start: float, end: float) -> np.ndarray:
    return samples[round(start * RATE) : round(end * RATE)]


@pytest.mark.slow
def test_peak_and_true_peak_are_those_of_the_stretch_with_its_gain(tmp_path):
    """A click of full scale outside the clip does not count. True peak by scipy's resampling to 32 times the rate."""
    samples = VOICE.copy()
    samples[round(6.0 * RATE)] = 0.99
    at = playing(tmp_path, samples, 2.0, 5.0, gain_db=4.5)
    inside = cut(samples, 2.0, 5.0)
    assert of(at, "peak_dbfs") == pytest.approx(20.0 * np.log10(np.abs(inside).max()) + 4.5, abs=0.01)
    between = np.abs(oracle.resample_poly(inside, 32, 1, window=("kaiser", 12.0))).max()
    assert of(at, "true_peak_dbtp") == pytest.approx(20.0 * np.log10(between) + 4.5, abs=0.05)
    assert of(at, "true_peak_dbtp") >= of(at, "peak_dbfs")


def test_true_peak_of_a_sine_between_its_samples(tmp_path):
    """EBU Tech 3341, case 16: a quarter of the rate at 45 degrees; samples at −9.03 dBFS, the sine at −6.02."""
    samples = sine(RATE / 4.0, 4.0, 0.5, np.pi / 4.0)
    at = playing(tmp_path, samples, 1.0, 3.0)
    assert of(at, "peak_dbfs") == pytest.approx(-9.03, abs=0.01)
    assert of(at, "true_peak_dbtp") == pytest.approx(-6.02, abs=0.4)


@pytest.mark.slow
@pytest.mark.parametrize("rate", [44_100, 48_000])
@pytest.mark.parametrize(("start", "end"), [(0.0, 8.0), (1.23, 6.78)])
def test_loudness_against_libebur128_on_the_cut_stretch(tmp_path, rate, start, end):
    """libebur128 through pyebur128 on the samples that the clip plays, turned up by its gain: ±0.05 LU."""
    ebur = pytest.importorskip("pyebur128")
    samples = 0.25 * synthesis.voice(220.0, 1, 8.0, rate)
    samples[: round(2.0 * rate)] *= 0.03
    at = playing(tmp_path, samples, start, end, rate=rate, gain_db=6.0)
    meter = ebur.R128State(1, rate, ebur.MeasurementMode.MODE_I)
    inside = samples[round(start * rate) : round(end * rate)] * 10.0 ** (6.0 / 20.0)
    meter.add_frames(np.ascontiguousarray(inside), inside.size)
    assert of(at, "loudness_lufs") == pytest.approx(ebur.get_loudness_global(meter), abs=0.05)


def test_the_gate_lies_where_it_lies_behind_the_clip_gain(tmp_path):
    """997 Hz at −72 dBFS lies at −72 + 0.691 − 3.01 − 0.691 LUFS, under the gate of −70; 10 dB up it lies over it."""
    samples = sine(997.0, 4.0, 10.0 ** (-72.0 / 20.0))
    assert of(playing(tmp_path, samples, 0.0, 4.0), "loudness_lufs") == -200.0
    assert of(playing(tmp_path, samples, 0.0, 4.0, gain_db=10.0), "loudness_lufs") == pytest.approx(-65.0, abs=0.1)


def test_a_whole_file_has_the_loudness_of_its_measure(tmp_path):
    at = playing(tmp_path, VOICE, 0.0, 8.0)
    assert at.audio is not None
    measured = at.audio.measure("take.wav")
    assert not isinstance(measured, Unknown)
    assert of(at, "loudness_lufs") == pytest.approx(measured.integrated_lufs, abs=1e-3)


def test_silence_in_the_clip_and_past_its_file(tmp_path):
    """Of 2 s to 10 s of a file of 8 s: silent from 4 s to 5.5 s and from its end on, 3.5 of 8 s."""
    samples = sine(440.0, 8.0, 0.3)
    samples[round(4.0 * RATE) : round(5.5 * RATE)] = 0.0
    at = playing(tmp_path, samples, 2.0, 10.0)
    assert of(at, "silent_percent") == pytest.approx(100.0 * 3.5 / 8.0, abs=0.3)
    found = ask(at, "clip", CLIP, "longest_silence_s")
    assert isinstance(found, FactValue)
    assert found.value == pytest.approx(2.0, abs=0.02)
    assert "0:16.0" in found.note
    loud = playing(tmp_path, sine(440.0, 8.0, 0.3), 0.0, 8.0)
    assert (of(loud, "silent_percent"), of(loud, "longest_silence_s")) == (0.0, 0.0)


def test_silence_hangs_on_the_clip_gain(tmp_path):
    """A tone that peaks at −66 dBFS is silent as shipped (−60), and sounds 12 dB up."""
    samples = sine(440.0, 4.0, 10.0 ** (-66.0 / 20.0))
    assert of(playing(tmp_path, samples, 0.0, 4.0), "silent_percent") == 100.0
    assert of(playing(tmp_path, samples, 0.0, 4.0, gain_db=12.0), "silent_percent") == 0.0


def test_a_faster_clip_keeps_its_own_time(tmp_path):
    """At twice the speed 8 s of a file with 2 s of silence play in 4 s, of which 1 s is silent."""
    samples = sine(440.0, 8.0, 0.3)
    samples[round(4.0 * RATE) : round(6.0 * RATE)] = 0.0
    media = [write(tmp_path, "take.wav", samples)]
    clip = Clip(start_s=0.0, end_s=4.0, offset_s=0.0, file="take.wav", name="line", speed=2.0)
    at = audio_context(tmp_path, media, track("Vox", clips=(clip,)), mix())
    assert of(at, "longest_silence_s") == pytest.approx(1.0, abs=0.02)
    assert of(at, "silent_percent") == pytest.approx(25.0, abs=0.5)


def test_cut_tops_count_inside_the_clip_alone(tmp_path):
    """Driven into full scale from 5 s on: a clip before it has none, one behind it all."""
    samples = VOICE.copy()
    samples[5 * RATE :] = np.clip(samples[5 * RATE :] * 12.0, -1.0, 1.0)
    assert of(playing(tmp_path, samples, 1.0, 4.5), "cut_tops") == 0
    assert of(playing(tmp_path, samples, 5.5, 8.0), "cut_tops") > 50


def test_offset_is_that_of_the_stretch(tmp_path):
    """2 % added from 4 s on."""
    samples = VOICE.copy()
    samples[4 * RATE :] += 0.02
    assert of(playing(tmp_path, samples, 0.0, 3.5), "offset_percent") == pytest.approx(0.0, abs=0.1)
    assert of(playing(tmp_path, samples, 4.5, 8.0, gain_db=6.0), "offset_percent") == pytest.approx(2.0, abs=0.1)
    assert isinstance(ask(playing(tmp_path, samples, 4.5, 4.7), "clip", CLIP, "offset_percent"), Unknown)


def test_correlation_and_mono_loss_of_the_stretch(tmp_path):
    """Against numpy's corrcoef; a leg turned over loses everything, two that have nothing in common 3 dB."""
    one, other = 0.2 * synthesis.noise(1, 8.0, RATE), 0.2 * synthesis.noise(2, 8.0, RATE)
    right = np.concatenate((0.6 * one[: 4 * RATE] + 0.8 * other[: 4 * RATE], -one[4 * RATE :]))
    both = np.stack([one, right], axis=1)
    at = playing(tmp_path, both, 1.0, 3.5)
    assert of(at, "correlation") == pytest.approx(np.corrcoef(cut(one, 1.0, 3.5), cut(right, 1.0, 3.5))[0, 1], abs=0.01)
    # ½ (L + R) of equal powers and correlation r holds (1 + r) / 2 of their mean power.
    assert of(at, "mono_loss_db") == pytest.approx(-10.0 * np.log10((1.0 + 0.6) / 2.0), abs=0.1)
    turned = playing(tmp_path, both, 5.0, 7.0)
    assert of(turned, "correlation") == pytest.approx(-1.0, abs=1e-3)
    assert of(turned, "mono_loss_db") > 40.0
    apart = np.stack([one, other], axis=1)
    assert of(playing(tmp_path, apart, 0.0, 8.0), "mono_loss_db") == pytest.approx(3.01, abs=0.15)


def test_a_clip_of_one_leg_has_no_correlation(tmp_path):
    found = ask(playing(tmp_path, VOICE, 0.0, 4.0), "clip", CLIP, "correlation")
    assert isinstance(found, Unknown)
    assert "two legs" in found.unknown


def test_noise_floor_in_the_rests_of_the_clip(tmp_path):
    """Hiss of −66 dBFS in the first half, −50 in the second; each clip reads its own, its gain added."""
    hiss = np.random.default_rng(3).standard_normal(8 * RATE)
    samples = sine(330.0, 8.0, 0.4)
    for start in (1.0, 3.0, 5.0, 7.0):
        samples[round(start * RATE) : round((start + 0.9) * RATE)] = 0.0
    samples[: 4 * RATE] += 10.0 ** (-66.0 / 20.0) * hiss[: 4 * RATE]
    samples[4 * RATE :] += 10.0 ** (-50.0 / 20.0) * hiss[4 * RATE :]
    assert of(playing(tmp_path, samples, 0.2, 3.95, gain_db=3.0), "noise_floor_dbfs") == pytest.approx(-63.0, abs=1.0)
    assert of(playing(tmp_path, samples, 4.2, 8.0), "noise_floor_dbfs") == pytest.approx(-50.0, abs=1.0)
    none = ask(playing(tmp_path, sine(330.0, 4.0, 0.4), 0.0, 4.0), "clip", CLIP, "noise_floor_dbfs")
    assert isinstance(none, Unknown)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("changed", "reason"),
    [
        ({"offset_s": Unknown(unknown="the export gives no offset")}, "no offset"),
        ({"speed": Unknown(unknown="the clip is warped")}, "warped"),
        ({"gain_db": Unknown(unknown="the gain is a curve")}, "a curve"),
        ({"speed": -1.0}, "backwards"),
        ({"plays": "notes"}, "no audio"),
    ],
)
@pytest.mark.parametrize("fact", ["peak_dbfs", "true_peak_dbtp", "loudness_lufs", "silent_percent", "cut_tops"])
def test_what_cannot_be_followed_is_unknown_with_its_reason(tmp_path, fact, changed, reason):
    found = ask(playing(tmp_path, VOICE, 1.0, 3.0, **changed), "clip", CLIP, fact)
    assert isinstance(found, Unknown)
    assert reason in found.unknown


def test_a_file_that_is_not_there_or_not_listed_is_unknown(tmp_path):
    media = [write(tmp_path, "take.wav", VOICE), write(tmp_path, "gone.wav", VOICE)]
    (tmp_path / "gone.wav").unlink()
    clips = (
        Clip(start_s=0.0, end_s=4.0, file="gone.wav", name="gone"),
        Clip(start_s=4.0, end_s=8.0, file="other.wav", name="unlisted"),
    )
    at = audio_context(tmp_path, media, track("Vox", clips=clips), mix())
    for name in ("gone", "unlisted"):
        assert isinstance(ask(at, "clip", f"Vox: {name}", "true_peak_dbtp"), Unknown)


def test_a_stretch_is_read_once_and_only_when_it_is_asked_for(tmp_path, monkeypatch):
    import mixlint.media.library as library

    calls = []
    real = library.read_stretch
    monkeypatch.setattr(library, "read_stretch", lambda *a: calls.append(a[1:]) or real(*a))
    at = playing(tmp_path, VOICE, 2.0, 5.0)
    of(at, "peak_dbfs"), of(at, "silent_percent"), of(at, "cut_tops")
    assert calls == []
    of(at, "true_peak_dbtp"), of(at, "loudness_lufs"), ask(at, "clip", CLIP, "noise_floor_dbfs")
    assert calls == [(2 * RATE, 5 * RATE)]


HOUSE_RULE = """
id = "lines-lie-in-range"
title = "Lines come up to a level"
area = "levels"
grade = "look"
over = "clip"
when = { sounds = true, plays = "audio" }
must = { loudness_lufs = { at_least = "limits.least" }, true_peak_dbtp = { at_most = -1.0 } }
says = "{name} lies at {loudness_lufs} LUFS and peaks at {true_peak_dbtp} dBTP."
remedy = "Set its clip gain."
why = "The house rides its lines by clip gain before anything else."
[limits.least]
value = -30.0
unit = "LUFS"
meaning = "Least loudness of a line."
[basis]
kind = "common practice"
[[example]]
name = "a line without audio"
verdict = "open"
[example.session]
channels = [
  { name = "Vox", kind = "track", legs = 1, output = "Mix", clips = [
    { start_s = 0.0, end_s = 4.0, name = "line", file = "a.wav" } ] },
  { name = "Mix", kind = "master", output = false },
]
media = [{ id = "a.wav", path = "a.wav" }]
[[example]]
name = "a line far down"
verdict = "flagged"
subject = "Vox: line"
[example.session]
channels = [
  { name = "Vox", kind = "track", legs = 1, output = "Mix", clips = [
    { start_s = 0.0, end_s = 4.0, name = "line", file = "a.wav" } ] },
  { name = "Mix", kind = "master", output = false },
]
media = [{ id = "a.wav", path = "a.wav" }]
[example.sounds]
"a.wav" = { plays = "voice", seconds = 4, peak_dbfs = -40 }
[[example]]
name = "a line in its place"
verdict = "clear"
subject = "Vox: line"
[example.session]
channels = [
  { name = "Vox", kind = "track", legs = 1, output = "Mix", clips = [
    { start_s = 0.0, end_s = 4.0, name = "line", file = "a.wav" } ] },
  { name = "Mix", kind = "master", output = false },
]
media = [{ id = "a.wav", path = "a.wav" }]
[example.sounds]
"a.wav" = { plays = "voice", seconds = 4, peak_dbfs = -8 }
"""


@pytest.mark.slow
def test_a_house_rule_asks_them_through_the_command(tmp_path, monkeypatch):
    """Three lines of one file: as recorded, 30 dB up over full scale, and one whose gain nobody knows."""
    monkeypatch.setenv("MIXLINT_CACHE", "")
    (tmp_path / "lines-lie-in-range.toml").write_text(HOUSE_RULE, encoding="utf-8")
    house = 'name = "porch-house"\ntakes = []\nrules = ["lines-lie-in-range.toml"]'
    (tmp_path / "mixlint-standard.toml").write_text(house, encoding="utf-8")
    media = [write(tmp_path, "take.wav", VOICE)]
    gains = (0.0, 30.0, Unknown(unknown="the gain is a curve"))
    clips = tuple(
        Clip(start_s=8.0 * n, end_s=8.0 * n + 8.0, file="take.wav", offset_s=0.0, name=f"line {n}", gain_db=gain)
        for n, gain in enumerate(gains)
    )
    audio_context(tmp_path, media, track("Vox", clips=clips), mix())
    done = CliRunner().invoke(app, ["review", str(tmp_path / "song.session.json"), "--as", "json", "--everything"])
    assert done.exit_code in (0, 1), done.output
    found = json.loads(done.stdout)["sessions"][0]["findings"]
    assert [one["verdict"] for one in found] == ["clear", "flagged", "open"]
    assert "peaks at 18.2" in found[1]["message"]
    shown = CliRunner().invoke(app, ["rules", "--prove", "--standard", str(tmp_path / "mixlint-standard.toml")])
    assert shown.exit_code == 0, shown.output
