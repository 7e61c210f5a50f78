"""Measured energy on its path to the mix bus: legs that share their sound, folds, speeds, gains, places."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy import signal

from mixlint.analysis.counterparts import level_difference_db
from mixlint.analysis.energy import SourceEnergy, energy_at_mix, measured_energy
from mixlint.facts import House, SessionContext
from mixlint.media import Library
from mixlint.session import Clip, Dynamics, Equalizer, EqualizerBand, Insert, MediaFile, Send, Session, Unknown
from tests.facts.audio_sessions import RATE, sine, write
from tests.facts.small_sessions import bus, mix, reverb, track

WHY = Unknown(unknown="no value")


def measured_context(
    folder: Path, media: list[MediaFile], *channels: Any, house: House | None = None
) -> SessionContext:
    session = Session(media=tuple(media), channels=channels)
    beside = folder / "song.session.json"
    beside.write_text(session.json_text(), encoding="utf-8")
    return SessionContext(session, house, Library(session, beside))


def sides(context: SessionContext, at: int = 4) -> tuple[float, float]:
    """Left and right energy of the only part in one step of half a second."""
    (part,) = energy_at_mix(context)
    assert part.measured
    return float(part.left[at]), float(part.right[at])


def one_leg(folder: Path, name: str = "one.wav") -> tuple[MediaFile, float]:
    """A mono sine, and its K-weighted energy as measured."""
    media = write(folder, name, sine(1000.0, 10.0))
    context = measured_context(folder, [media], track("Vox", clips=(Clip(start_s=0.0, end_s=10.0, file=name),)), mix())
    energy = measured_energy(context, context.channels["Vox"])
    assert isinstance(energy, SourceEnergy)
    return media, float(energy.legs[0, 4])


def stereo(folder: Path, right: np.ndarray) -> tuple[MediaFile, Clip]:
    media = write(folder, "two.wav", np.stack([sine(1000.0, 10.0), right], axis=1))
    return media, Clip(start_s=0.0, end_s=10.0, file="two.wav")


@pytest.mark.slow
@pytest.mark.parametrize(
    ("right", "folded"),
    [
        (sine(1000.0, 10.0), 1.0),  # alike: ½ (s + s) = s
        (-sine(1000.0, 10.0), 0.0),  # turned over: nothing is left
        (sine(1000.0, 10.0, phase=np.pi / 2), 0.5),  # a quarter turn: ¼ (e + e)
        (np.zeros(10 * RATE), 0.25),  # ½ s
    ],
)
def test_a_stereo_file_folds_by_what_its_legs_share(tmp_path, right, folded):
    """½ (L + R), the W3C down-mix; on a mono strip itself, and on a mono bus behind a stereo strip.

    The centre of equal power gives each side half of the energy.
    """
    _, energy = one_leg(tmp_path)
    media, clip = stereo(tmp_path, right)
    mono = measured_context(tmp_path, [media], track("Keys", legs=1, clips=(clip,)), mix())
    through = measured_context(
        tmp_path,
        [media],
        track("Keys", output="Bus", legs=2, clips=(clip,)),
        bus("Bus").model_copy(update={"legs": 1}),
        mix(),
    )
    for context in (mono, through):
        assert sides(context) == pytest.approx((folded * energy / 2.0,) * 2, abs=1e-4 * energy)


@pytest.mark.parametrize(("turn", "left"), [(1.0, 4.0), (-1.0, 0.0)])
def test_a_stereo_panner_brings_both_legs_together(tmp_path, turn, left):
    """Hard left: L + R on the left (W3C StereoPannerNode): alike legs give four times the energy, opposed ones none."""
    _, energy = one_leg(tmp_path)
    media, clip = stereo(tmp_path, turn * sine(1000.0, 10.0))
    strip = track("Keys", legs=2, pan=-100.0, clips=(clip,))
    context = measured_context(tmp_path, [media], strip, mix(), house=House(stereo_pan="stereo-panner"))
    assert sides(context) == pytest.approx((left * energy, 0.0), abs=1e-4 * energy)


def test_a_mono_file_on_a_stereo_strip_stands_on_both_legs_alike(tmp_path):
    """A strip of two files, one of each width, is stereo; its mono file folds to itself again on a mono bus."""
    media, energy = one_leg(tmp_path)
    other, clip = stereo(tmp_path, sine(1000.0, 10.0))
    clips = (Clip(start_s=0.0, end_s=5.0, file="one.wav"), clip.model_copy(update={"start_s": 5.0, "end_s": 9.0}))
    strip = track("Keys", output="Bus", legs=2, clips=clips)
    context = measured_context(tmp_path, [media, other], strip, bus("Bus").model_copy(update={"legs": 1}), mix())
    assert sides(context) == pytest.approx((energy / 2.0,) * 2, rel=1e-4)


def test_speed_and_clip_gain_are_carried(tmp_path):
    """A file that is silent from 5 s on, at double speed from 2 s in: sound for 1.5 s, 6 dB down from the gain."""
    samples = sine(1000.0, 10.0)
    samples[5 * RATE :] = 0.0
    media = write(tmp_path, "half.wav", samples)
    clip = Clip(start_s=10.0, end_s=14.0, file="half.wav", offset_s=2.0, speed=2.0, gain_db=-6.0206)
    context = measured_context(tmp_path, [media], track("Vox", clips=(clip,)), mix())
    _, energy = one_leg(tmp_path)
    (part,) = energy_at_mix(context)
    assert part.left[20:28] == pytest.approx([energy / 8.0] * 3 + [0.0] * 5, rel=0.01, abs=1e-3 * energy)
    assert not part.left[:20].any()


def test_a_clip_that_begins_before_the_song_keeps_its_place(tmp_path):
    samples = sine(1000.0, 10.0)
    samples[: 4 * RATE] = 0.0
    media = write(tmp_path, "late.wav", samples)
    clip = Clip(start_s=-3.0, end_s=7.0, file="late.wav")
    (part,) = energy_at_mix(measured_context(tmp_path, [media], track("Vox", clips=(clip,)), mix()))
    assert (part.left[:4] > 1e-9).tolist() == [False, False, True, True]


@pytest.mark.parametrize("speed", [WHY, -1.0])
def test_a_clip_under_a_warp_map_is_not_measured(tmp_path, speed):
    media, _ = one_leg(tmp_path)
    clip = Clip(start_s=0.0, end_s=10.0, file="one.wav", speed=speed)
    (part,) = energy_at_mix(measured_context(tmp_path, [media], track("Vox", clips=(clip,)), mix()))
    assert not part.measured


def test_mono_and_stereo_parts_compare_by_what_arrives(tmp_path):
    """Centred: e from the mono part, e + e from two legs alike in balance: 3.01 dB."""
    media, _ = one_leg(tmp_path)
    other, clip = stereo(tmp_path, sine(1000.0, 10.0))
    context = measured_context(
        tmp_path,
        [media, other],
        track("Keys", legs=2, clips=(clip,)),
        track("Gtr", clips=(Clip(start_s=0.0, end_s=10.0, file="one.wav"),)),
        mix(),
    )
    apart = level_difference_db(context, context.channels["Keys"], context.channels["Gtr"])
    assert apart == pytest.approx(3.0103, abs=1e-3)


def test_ambience_of_a_stereo_part_folds_on_a_mono_return(tmp_path):
    """Opposed legs cancel on the way into a mono return, so that only the direct sound is left."""
    _, energy = one_leg(tmp_path)
    media, clip = stereo(tmp_path, -sine(1000.0, 10.0))
    plate = bus("Plate", kind="return", inserts=(reverb(),)).model_copy(update={"legs": 1})
    context = measured_context(
        tmp_path, [media], track("Keys", legs=2, clips=(clip,), sends=(Send(to="Plate"),)), plate, mix()
    )
    assert sides(context) == pytest.approx((energy, energy), rel=1e-4)


def test_a_filter_takes_what_the_file_holds_in_its_bands(tmp_path):
    """A file of 63 Hz behind a low-pass at 125 Hz: scipy's Butterworth in the middle of the octave, not at 1 kHz."""
    media = write(tmp_path, "sub.wav", sine(63.0957, 10.0))
    clips = (Clip(start_s=0.0, end_s=10.0, file="sub.wav"),)
    band = EqualizerBand(kind="low-pass", freq_hz=125.0, slope_db_per_oct=12.0)
    cut = Insert(name="Ledger Filter", kind="filter", opaque=False, equalizer=Equalizer(bands=(band,)))
    open_at, closed = (
        sides(measured_context(tmp_path, [media], track("Gtr", clips=clips, inserts=inserts), mix()))
        for inserts in ((), (cut,))
    )
    low_pass = signal.butter(2, 125.0, fs=48_000.0, output="sos")
    expected = abs(signal.sosfreqz(low_pass, [63.0957], fs=48_000.0)[1][0]) ** 2
    assert closed[0] / open_at[0] == pytest.approx(expected, rel=0.01)


def test_a_limiter_counts_with_what_it_is_driven_by(tmp_path):
    """+12 dB in and −3 dB out: 9 dB in all, 10^0.9 in energy."""
    media, energy = one_leg(tmp_path)
    own = Dynamics(threshold_db=-1.0, input_gain_db=12.0, output_gain_db=-3.0)
    limiter = Insert(name="Ledger Limiter", kind="limiter", opaque=False, dynamics=own)
    clips = (Clip(start_s=0.0, end_s=10.0, file="one.wav"),)
    context = measured_context(tmp_path, [media], track("Vox", clips=clips, inserts=(limiter,)), mix())
    assert sides(context)[0] == pytest.approx(energy / 2.0 * 10.0**0.9, rel=1e-6)
