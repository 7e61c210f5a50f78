"""Levels against each other: parts, returns, clips, buses and processors, by hand arithmetic and on recordings."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from mixlint.session import Clip, Dynamics, Equalizer, EqualizerBand, Insert, Unknown
from tests.facts.audio_sessions import RATE, audio_context, sine, write
from tests.facts.small_sessions import ask, bus, context, mix, reverb, send, track, value


def amplitude(db: float) -> float:
    return float(10.0 ** (db / 20.0))


def unit(kind: str, **settings: float) -> Insert:
    return Insert(name="Ledger Unit", kind=kind, opaque=False, dynamics=Dynamics.model_validate(settings))


def played(folder: Path, **levels_db: float):
    """Parts that play one sine of 1 kHz each for ten seconds, at these levels re a peak of 0.5."""
    files = [write(folder, f"{name}.wav", sine(1000.0, 10.0, 0.5 * amplitude(db))) for name, db in levels_db.items()]
    return files, {
        name: (Clip(start_s=0.0, end_s=10.0, file=f"{name}.wav", name=name),) for name in levels_db
    }  # fmt: skip


def test_a_lead_is_measured_against_all_the_others(tmp_path):
    """By hand: −20 dB against two parts at 0 dB, 3.01 dB together: −23.01 dB."""
    files, clips = played(tmp_path, vox=-20.0, bass=0.0, keys=0.0)
    at = audio_context(
        tmp_path, files, track("Lead Vocal", clips=clips["vox"]), track("Bass", clips=clips["bass"]),
        track("Keys", clips=clips["keys"]), mix(),
    )  # fmt: skip
    said = ask(at, "source", "Lead Vocal", "over_the_rest_db")
    assert said.how == "measured"
    assert said.number == pytest.approx(-23.01, abs=0.02)


def test_a_lead_without_audio_is_held_against_the_median_of_the_others():
    """By hand: −20 dB against −6, −4 and −2 dB: −16 dB to the median, and it says what is assumed."""
    others = [track(name, fader_db=db) for name, db in (("Bass", -6.0), ("Keys", -4.0), ("Shaker", -2.0))]
    at = context(track("Lead Vocal", fader_db=-20.0), *others, mix())
    said = ask(at, "source", "Lead Vocal", "over_the_rest_db")
    assert (said.how, said.number) == ("assumed", pytest.approx(-16.0, abs=1e-6))
    assert "one loudness" in said.note


def test_a_return_against_the_dry_sound_that_feeds_it():
    """By hand: two parts sent at −6 dB into a stereo reverb 10 dB up: as much as both dry, and 4 dB.

    A mono part in the centre is 3.01 dB down on each side, dry and on its way alike, so that the powers of both sides
    are as those of one leg.
    """
    hall = bus("Hall", kind="return", fader_db=10.0, inserts=(reverb(),))
    fed = [track(name, sends=(send("Hall", -6.0),)) for name in ("Vocal", "Gtr")]
    at = context(*fed, hall, mix())
    assert value(at, "return", "Hall", "over_its_sources_db") == pytest.approx(4.0, abs=0.05)


def test_a_return_that_sends_before_the_fader_feed_is_left_alone():
    hall = bus("Hall", kind="return", inserts=(reverb(),))
    at = context(track("Vocal", fader_db=-20.0, sends=(send("Hall", tap="pre"),)), hall, mix())
    said = ask(at, "return", "Hall", "over_its_sources_db")
    assert isinstance(said, Unknown)
    assert "before the fader" in said.unknown


def test_phrases_are_measured_as_they_arrive(tmp_path):
    """A take 14 dB quieter is out of line; brought up by its clip gain, or by a ride, it is not."""
    quiet = sine(1000.0, 5.0, 0.5 * amplitude(-14.0))
    files = [write(tmp_path, "a.wav", sine(1000.0, 20.0)), write(tmp_path, "b.wav", quiet)]

    def made(gain: float):
        clips = tuple(
            Clip(
                start_s=6.0 * n, end_s=6.0 * n + 5.0, file=file, name=f"V{n}", gain_db=gain if file == "b.wav" else 0.0
            )
            for n, file in enumerate(("a.wav", "a.wav", "b.wav", "a.wav"))
        )
        return audio_context(tmp_path, files, track("Lead Vocal", clips=clips), mix())

    assert value(made(0.0), "clip", "Lead Vocal: V2", "level_off_part_db") == pytest.approx(-14.0, abs=0.05)
    assert value(made(14.0), "clip", "Lead Vocal: V2", "level_off_part_db") == pytest.approx(0.0, abs=0.05)


def test_a_clip_gain_that_evens_two_takes_is_no_step(tmp_path):
    """A second take 9 dB quieter, brought up by 9 dB; without the recording it is a step of 9 dB."""
    quiet = sine(1000.0, 5.0, 0.5 * amplitude(-9.0))
    files = [write(tmp_path, "a.wav", sine(1000.0, 5.0)), write(tmp_path, "b.wav", quiet)]
    clips = (
        Clip(start_s=0.0, end_s=5.0, file="a.wav", name="A"),
        Clip(start_s=5.0, end_s=10.0, file="b.wav", name="B", gain_db=9.0),
    )
    heard = audio_context(tmp_path, files, track("Bass", clips=clips), mix())
    assert value(heard, "clip", "Bass: B", "gain_step_db") == 0.0
    assert value(context(track("Bass", clips=clips), mix()), "clip", "Bass: B", "gain_step_db") == 9.0


def test_a_fade_over_silence_eats_nothing(tmp_path):
    samples = sine(1000.0, 6.0)
    samples[: 2 * RATE] = 0.0
    files = [write(tmp_path, "late.wav", samples), write(tmp_path, "full.wav", sine(1000.0, 6.0))]
    clips = tuple(
        Clip(start_s=10.0 * n, end_s=10.0 * n + 6.0, file=file.id, name=file.id, fade_in_s=2.0)
        for n, file in enumerate(files)
    )
    at = audio_context(tmp_path, files, track("Lead Vocal", clips=clips), mix())
    assert value(at, "clip", "Lead Vocal: late.wav", "faded_start_s") == 0.0
    assert value(at, "clip", "Lead Vocal: full.wav", "faded_start_s") == 2.0


def test_the_peak_of_a_bus_is_that_of_its_members_in_power(tmp_path):
    """By hand: two peaks of −6.02 dBFS, 3.01 dB down on each side, 3.01 dB together, and 9 dB of fader."""
    files, clips = played(tmp_path, kick=0.0, snare=0.0)
    at = audio_context(
        tmp_path, files, track("Kick", clips=clips["kick"], output="Drums"),
        track("Snare", clips=clips["snare"], output="Drums"), bus("Drums", fader_db=9.0), mix(),
    )  # fmt: skip
    said = ask(at, "channel", "Drums", "expected_peak_dbfs")
    assert (said.how, said.number) == ("measured", pytest.approx(-6.02 + 9.0, abs=0.02))


def test_what_a_limiter_takes_is_off_the_peak_of_the_bus(tmp_path):
    """By hand: 24 dB of clip gain on −6.02 dBFS is 17.98; a limiter at −6 leaves −6, the centre takes 3.01."""
    files, _ = played(tmp_path, kick=0.0)
    clips = (Clip(start_s=0.0, end_s=10.0, file="kick.wav", gain_db=24.0),)
    limited = track("Kick", clips=clips, output="Drums", inserts=(unit("limiter", threshold_db=-6.0),))
    at = audio_context(tmp_path, files, limited, bus("Drums"), mix())
    assert value(at, "channel", "Drums", "expected_peak_dbfs") == pytest.approx(-9.01, abs=0.02)


def test_a_gate_is_held_against_the_peak_that_is_measured(tmp_path):
    """A part that peaks at −26.02 dBFS (0.05): a threshold of −20 never opens, one of −30 does."""
    files = [write(tmp_path, "snare.wav", sine(200.0, 5.0, 0.05))]
    clips = (Clip(start_s=0.0, end_s=5.0, file="snare.wav"),)
    for threshold, over in ((-20.0, 6.02), (-30.0, -3.98)):
        gate = unit("gate", threshold_db=threshold, range_db=-80.0)
        at = audio_context(tmp_path, files, track("Snare", clips=clips, inserts=(gate,)), mix())
        said = ask(at, "insert", "Snare: Ledger Unit", "threshold_over_peak_db")
        assert (said.how, said.number) == ("measured", pytest.approx(over, abs=0.01))


@pytest.mark.parametrize(
    ("threshold", "ratio", "out", "raises"),
    [(-12.0, 3.0, 17.0, 13.0), (-40.0, 8.0, 20.0, -9.75), (0.0, 4.0, 6.0, 6.0)],
)
def test_what_a_compressor_gives_beyond_what_it_takes(threshold, ratio, out, raises):
    """Giannoulis and others 2012, static curve at a peak of −6 dBFS: (1 − 1/R)(−6 − T) is taken above the threshold."""
    own = unit("compressor", threshold_db=threshold, ratio=ratio, output_gain_db=out)
    at = context(track("Bass", inserts=(own,)), mix())
    assert value(at, "insert", "Bass: Ledger Unit", "raises_by_db") == pytest.approx(raises)


def test_filters_take_from_a_recording_what_it_holds(tmp_path):
    """A recording of 4 kHz behind a high cut at 1 kHz, 24 dB per octave: 48 dB by the slope."""
    band = EqualizerBand(kind="low-pass", freq_hz=1000.0, slope_db_per_oct=24.0)
    cut = Insert(name="Swept", kind="filter", opaque=False, equalizer=Equalizer(bands=(band,)))
    clips = (Clip(start_s=0.0, end_s=5.0, file="top.wav"),)
    for hz, lowest, highest in ((4000.0, 45.0, 50.0), (250.0, 0.0, 0.1)):
        files = [write(tmp_path, "top.wav", sine(hz, 5.0))]
        at = audio_context(tmp_path, files, track("Lead Vocal", clips=clips, inserts=(cut,)), mix())
        assert lowest <= value(at, "source", "Lead Vocal", "filtered_away_db") <= highest


def test_a_noise_of_all_octaves_loses_little_to_a_telephone(tmp_path):
    """Pink-like noise between 300 Hz and 3 kHz keeps a good part of its loudness: far from the limit of 12 dB."""
    noise = np.random.default_rng(5).standard_normal(5 * RATE)
    spectrum = np.fft.rfft(noise) / np.sqrt(np.maximum(np.fft.rfftfreq(noise.size, 1.0 / RATE), 20.0))
    pink = np.fft.irfft(spectrum, noise.size)
    files = [write(tmp_path, "voice.wav", 0.3 * pink / np.abs(pink).max())]
    bands = tuple(
        EqualizerBand(kind=kind, freq_hz=hz, slope_db_per_oct=24.0)
        for kind, hz in (("high-pass", 300.0), ("low-pass", 3000.0))
    )
    phone = Insert(name="Phone", kind="filter", opaque=False, equalizer=Equalizer(bands=bands))
    clips = (Clip(start_s=0.0, end_s=5.0, file="voice.wav"),)
    at = audio_context(tmp_path, files, track("Lead Vocal", clips=clips, inserts=(phone,)), mix())
    assert 1.0 < value(at, "source", "Lead Vocal", "filtered_away_db") < 6.0
