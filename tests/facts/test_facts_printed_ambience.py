"""Ambience against dry sound by prints: against K-weighted energies of what was convolved, worked out with scipy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import signal as oracle

from mixlint.facts import FactValue
from mixlint.session import Clip, Insert, Unknown
from mixlint.signal import synthesis
from mixlint.signal.k_weighting import TABLES_AT_48K
from tests.facts.audio_sessions import RATE, audio_context, write
from tests.facts.small_sessions import ask, bus, mix, send, track, value

SECONDS = 8
VOICE = 0.2 * synthesis.voice(220.0, 1, float(SECONDS), RATE)
GUITAR = 0.2 * synthesis.pluck(147.0, 2, float(SECONDS), RATE)
HALL = Insert(name="Old Hall", kind="reverb")


def room(seed: int, decay_s: float = 0.8) -> np.ndarray:
    """Noise that decays by 60 dB, after 20 ms."""
    count = round(decay_s * RATE)
    tail = np.random.default_rng(seed).normal(size=count) * np.exp(-6.9 * np.arange(count) / count)
    return np.concatenate((np.zeros(round(0.02 * RATE)), tail)) * 0.02


def wet(samples: np.ndarray, seed: int = 5) -> np.ndarray:
    return oracle.fftconvolve(samples, room(seed))[: samples.shape[0]]


def k_energy(samples: np.ndarray) -> np.ndarray:
    """K-weighted mean squares per half second, all legs (tables of ITU-R BS.1770-5)."""
    rows = np.atleast_2d(samples)
    weighed = oracle.sosfilt(TABLES_AT_48K, rows)
    return (weighed.reshape(rows.shape[0], -1, RATE // 2) ** 2).mean(axis=2).sum(axis=0)


def under_lu(dry: np.ndarray, ambience: np.ndarray) -> float:
    """How far ambience lies under dry sound while that passes −70 LUFS and 10 LU under its mean."""
    one, other = k_energy(dry), k_energy(ambience)
    level = -0.691 + 10.0 * np.log10(one + 1e-20)
    heard = level > -70.0
    heard &= level > -0.691 + 10.0 * np.log10(one[heard].mean()) - 10.0
    return float(10.0 * np.log10(one[heard].sum() / other[heard].sum()))


def clip(file: str) -> Clip:
    return Clip(start_s=0.0, end_s=float(SECONDS), file=file)


def of(at, name: str = "Vocal"):
    return value(at, "source", name, "ambience_under_dry_lu")


@pytest.mark.slow
@pytest.mark.parametrize(("dry_db", "wet_db"), [(0.0, 0.0), (-6.0, 3.0), (2.0, -14.0)])
def test_one_part_and_its_print_through_their_faders(tmp_path, dry_db, wet_db):
    """Both measured apart, at the gains of their faders; equal pan laws on both sides cancel out."""
    ambience = wet(VOICE)
    media = [write(tmp_path, "v.wav", VOICE), write(tmp_path, "p.wav", ambience)]
    at = audio_context(
        tmp_path,
        media,
        track("Vocal", clips=(clip("v.wav"),), fader_db=dry_db),
        track("Vocal Hall Print", clips=(clip("p.wav"),), fader_db=wet_db),
        mix(),
    )
    due = under_lu(VOICE * 10.0 ** (dry_db / 20.0), ambience * 10.0 ** (wet_db / 20.0))
    assert of(at) == pytest.approx(due, abs=0.15)


def test_a_print_of_two_legs_with_clip_gain(tmp_path):
    """A stereo print at its own width; a mono part stands 3.01 dB down on each side, which gives its energy once."""
    both = np.stack([wet(VOICE, 5), wet(VOICE, 6)], axis=1)
    media = [write(tmp_path, "v.wav", VOICE), write(tmp_path, "p.wav", both)]
    turned = clip("p.wav").model_copy(update={"gain_db": -4.0})
    at = audio_context(
        tmp_path,
        media,
        track("Vocal", clips=(clip("v.wav"),)),
        track("Vocal Hall Print", clips=(turned,), legs=2),
        mix(),
    )
    assert of(at) == pytest.approx(under_lu(VOICE, both.T * 10.0 ** (-4.0 / 20.0)), abs=0.15)


def shared(folder, voice_db: float, guitar_db: float, **more):
    """Two parts sent to one return, which is muted and printed."""
    print_ = wet(VOICE * 10.0 ** (voice_db / 20.0) + GUITAR * 10.0 ** (guitar_db / 20.0))
    media = [write(folder, f"{n}.wav", s) for n, s in (("v", VOICE), ("g", GUITAR), ("p", print_))]
    return audio_context(
        folder,
        media,
        track("Vocal", clips=(clip("v.wav"),), sends=(send("Plate", voice_db),)),
        track("Guitar", clips=(clip("g.wav"),), sends=(send("Plate", guitar_db),)),
        bus("Plate", kind="return", mute=True, inserts=(HALL,)),
        track("Plate Print", clips=(clip("p.wav"),)),
        *more.get("others", ()),
        mix(),
    )


@pytest.mark.slow
@pytest.mark.parametrize(("voice_db", "guitar_db"), [(0.0, 0.0), (-10.0, 2.0), (6.0, -6.0)])
def test_what_several_parts_feed_is_shared(tmp_path, voice_db, guitar_db):
    """Each part's own convolution, worked out apart: within 2.5 LU."""
    at = shared(tmp_path, voice_db, guitar_db)
    for name, samples, gain in (("Vocal", VOICE, voice_db), ("Guitar", GUITAR, guitar_db)):
        due = under_lu(samples, wet(samples * 10.0 ** (gain / 20.0)))
        assert of(at, name) == pytest.approx(due, abs=2.5)
        assert value(at, "source", name, "ambience_shared") is True
        assert "share" in ask(at, "source", name, "ambience_under_dry_lu").note


def unknown(at, name: str = "Vocal") -> str:
    found = ask(at, "source", name, "ambience_under_dry_lu")
    assert isinstance(found, Unknown)
    return found.unknown


def test_a_live_return_leaves_it_unknown(tmp_path):
    media = [write(tmp_path, "v.wav", VOICE)]
    part = track("Vocal", clips=(clip("v.wav"),), sends=(send("Plate"),))
    at = audio_context(tmp_path, media, part, bus("Plate", kind="return", inserts=(HALL,)), mix())
    assert "plays live (Plate)" in unknown(at)


def test_no_ambience_at_all(tmp_path):
    at = audio_context(tmp_path, [write(tmp_path, "v.wav", VOICE)], track("Vocal", clips=(clip("v.wav"),)), mix())
    assert unknown(at) == "it has no ambience"


def test_a_print_with_its_reverb_still_on(tmp_path):
    media = [write(tmp_path, "v.wav", VOICE), write(tmp_path, "p.wav", wet(VOICE))]
    at = audio_context(
        tmp_path,
        media,
        track("Vocal", clips=(clip("v.wav"),)),
        track("Vocal Hall Print", clips=(clip("p.wav"),), inserts=(HALL,)),
        mix(),
    )
    assert "Old Hall still works" in unknown(at)


def test_a_part_without_audio_may_have_fed_it(tmp_path):
    media = [write(tmp_path, "v.wav", VOICE), write(tmp_path, "p.wav", wet(VOICE))]
    at = audio_context(
        tmp_path,
        media,
        track("Vocal", clips=(clip("v.wav"),), sends=(send("Plate"),)),
        track("Piano", clips=(Clip(start_s=0.0, end_s=8.0, plays="notes"),), sends=(send("Plate"),)),
        bus("Plate", kind="return", mute=True, inserts=(HALL,)),
        track("Plate Print", clips=(clip("p.wav"),)),
        mix(),
    )
    assert "Piano, which has no audio" in unknown(at)


def test_what_hides_its_settings_is_named(tmp_path):
    media = [write(tmp_path, "v.wav", VOICE), write(tmp_path, "p.wav", wet(VOICE))]
    at = audio_context(
        tmp_path,
        media,
        track("Vocal", clips=(clip("v.wav"),), inserts=(Insert(name="Velvet", kind="compressor"),)),
        track("Vocal Hall Print", clips=(clip("p.wav"),)),
        mix(),
    )
    found = ask(at, "source", "Vocal", "ambience_under_dry_lu")
    assert isinstance(found, FactValue)
    assert "Velvet on Vocal taken to leave the level" in found.note
