"""The table ``track``: edges, joins, takes and leftovers, measured on files written for the purpose."""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.facts import FactValue, SessionContext
from mixlint.session import Clip, Insert, Unknown
from tests.facts.audio_sessions import RATE, audio_context, sine, write
from tests.facts.small_sessions import ask, context, mix, track, value

QUARTER = np.pi / 2.0
UNFADED = {"fade_in_s": 0.0, "fade_out_s": 0.0}


def stereo(name: str, *clips: Clip, **more):
    """A stereo strip in the centre: the balance law passes it at 0 dB, so that the file's levels are the mix's."""
    return track(name, clips=clips, legs=2, **more)


def db(amplitude: float) -> float:
    return 20.0 * float(np.log10(amplitude))


def test_a_clip_that_starts_at_the_crest_steps_by_its_amplitude(tmp_path):
    """A sine of 100 Hz and amplitude 0.25 that starts at its crest: 20 log10 0.25 = −12.04 dBFS."""
    wave = np.stack([sine(100.0, 1.0, 0.25, QUARTER)] * 2, axis=1)
    wave[-2000:] *= np.linspace(1.0, 0.0, 2000)[:, None]
    file = write(tmp_path, "crest.wav", wave)
    at = audio_context(tmp_path, [file], stereo("Vocal", Clip(start_s=2.0, end_s=3.0, file=file.id, **UNFADED)), mix())
    assert value(at, "track", "Vocal", "edge_step_dbfs") == pytest.approx(db(0.25), abs=0.01)
    assert value(at, "track", "Vocal", "abrupt_edges") == "a start at 0:02.0 (−12 dBFS)"


def test_the_step_is_given_at_the_level_of_the_mix(tmp_path):
    """Clip gain −6 dB and fader −10 dB: 16 dB less."""
    file = write(tmp_path, "crest.wav", np.stack([sine(100.0, 1.0, 0.25, QUARTER)] * 2, axis=1))
    clip = Clip(start_s=0.0, end_s=1.0, file=file.id, gain_db=-6.0, **UNFADED)
    at = audio_context(tmp_path, [file], stereo("Vocal", clip, fader_db=-10.0), mix())
    assert value(at, "track", "Vocal", "edge_step_dbfs") == pytest.approx(db(0.25) - 16.0, abs=0.02)


@pytest.mark.parametrize("start_s", [0.0, 0.123456, 1.0 / 3.0, 0.49999])
def test_the_last_sample_of_the_file_counts_wherever_the_clip_begins(tmp_path, start_s):
    """The file ends at the crest; a sample of silence read behind its end would hide the step."""
    frames = RATE // 4 + 120 + 1  # 25 periods of 480 samples and a quarter of one
    file = write(tmp_path, "end.wav", np.stack([sine(100.0, 1.0, 0.25)[:frames]] * 2, axis=1))
    start_s = start_s / 4.0
    clip = Clip(
        start_s=0.0, end_s=frames / RATE - start_s, offset_s=start_s, file=file.id, fade_in_s=0.01, fade_out_s=0.0
    )
    at = audio_context(tmp_path, [file], stereo("Vocal", clip), mix())
    assert value(at, "track", "Vocal", "edge_step_dbfs") == pytest.approx(db(0.25), abs=0.01)


def test_a_clip_cut_at_a_zero_crossing_does_not_step(tmp_path):
    """From one zero crossing to another there is nothing but the wave's own slope."""
    file = write(tmp_path, "zero.wav", sine(100.0, 1.0))
    at = audio_context(
        tmp_path, [file], track("Vocal", clips=(Clip(start_s=0.0, end_s=0.5, file=file.id, **UNFADED),)), mix()
    )
    assert value(at, "track", "Vocal", "edge_step_dbfs") == -200.0


def test_a_hit_cut_at_its_attack_does_not_count(tmp_path):
    """60 Hz reach their crest in 4.2 ms, 33 dB over the first sample, which alone would step by −37 dBFS (mono)."""
    hit = sine(60.0, 0.5, 0.9, np.arcsin(0.02 / 0.9)) * np.exp(-np.arange(RATE // 2) / 3000.0)
    file = write(tmp_path, "hit.wav", hit)
    cut = Clip(start_s=0.0, end_s=0.5, file=file.id, fade_in_s=0.0, fade_out_s=0.01)
    late = cut.model_copy(update={"offset_s": 0.004, "end_s": 0.4})
    steps = [
        value(audio_context(tmp_path, [file], track("Kick", clips=(clip,)), mix()), "track", "Kick", "edge_step_dbfs")
        for clip in (cut, late)
    ]
    assert steps[0] == -200.0
    assert steps[1] > -10.0


def test_a_fade_the_export_leaves_out_stays_open(tmp_path):
    """The step is loud, but a program may fade there all the same."""
    file = write(tmp_path, "crest.wav", sine(100.0, 1.0, 0.25, QUARTER))
    at = audio_context(tmp_path, [file], track("Vocal", clips=(Clip(start_s=0.0, end_s=1.0, file=file.id),)), mix())
    assert value(at, "track", "Vocal", "edge_step_dbfs") == -200.0
    assert value(at, "track", "Vocal", "unsure_edge_dbfs") > -20.0
    assert isinstance(ask(at, "track", "Vocal", "edge_fades_given"), Unknown)


def two(tmp_path, phase: float, **join) -> SessionContext:
    """Two clips of the same sine that meet at 1 s, the second begun at ``phase``."""
    one, other = (
        write(tmp_path, "one.wav", sine(100.0, 1.0, 0.25)),
        write(tmp_path, "two.wav", sine(100.0, 1.0, 0.25, phase)),
    )
    clips = (
        Clip(start_s=0.0, end_s=1.0, file="one.wav", fade_in_s=0.01, fade_out_s=join.get("out", 0.0)),
        Clip(start_s=1.0, end_s=2.0, file="two.wav", fade_in_s=join.get("into", 0.0), fade_out_s=0.01),
    )
    return audio_context(tmp_path, [one, other], track("Vocal", clips=clips, legs=2), mix())


def test_a_join_that_goes_on_in_the_wave_has_no_jump(tmp_path):
    """100 whole periods, and the next clip begins where the last one ended."""
    at = two(tmp_path, 0.0)
    assert value(at, "track", "Vocal", "joins") == 1
    assert value(at, "track", "Vocal", "join_step_dbfs") == -200.0


def test_a_join_from_zero_to_the_crest_jumps_by_the_amplitude(tmp_path):
    """The last sample before the join is −sin(2π·100/48000)·0.25 = −0.0033: the jump is 0.2533.

    A mono part in the centre loses 10 log10 2 = 3.01 dB (W3C Web Audio, StereoPannerNode, equal power).
    """
    at = two(tmp_path, QUARTER)
    assert value(at, "track", "Vocal", "join_step_dbfs") == pytest.approx(
        db(0.25 + 0.25 * np.sin(2 * np.pi / 480)) - 10.0 * np.log10(2.0), abs=0.01
    )


@pytest.mark.parametrize("join", [{"into": -0.01}, {"into": 0.005, "out": 0.005}])
def test_crossfaded_joins_do_not_jump(tmp_path, join):
    assert value(two(tmp_path, QUARTER, **join), "track", "Vocal", "join_step_dbfs") == -200.0


def test_a_clip_that_was_split_has_no_join():
    clips = (
        Clip(start_s=0.0, end_s=5.0, offset_s=1.0, file="a", **UNFADED),
        Clip(start_s=5.0, end_s=9.0, offset_s=6.0, file="a", **UNFADED),
    )
    assert value(context(track("Vocal", clips=clips), mix()), "track", "Vocal", "joins") == 0
    changed = (clips[0], clips[1].model_copy(update={"gain_db": -3.0}))
    assert value(context(track("Vocal", clips=changed), mix()), "track", "Vocal", "joins") == 1


def test_damaged_samples_make_no_step(tmp_path):
    """A float file may hold what is no number, and infinity."""
    wave = np.zeros(RATE)
    wave[0], wave[-1] = np.inf, np.nan
    file = write(tmp_path, "bad.wav", wave, subtype="FLOAT")
    at = audio_context(
        tmp_path, [file], track("Vocal", clips=(Clip(start_s=0.0, end_s=1.0, file=file.id, **UNFADED),)), mix()
    )
    assert value(at, "track", "Vocal", "edge_step_dbfs") == -200.0
    assert value(at, "track", "Vocal", "edges_measured") is True


def test_without_audio_an_unfaded_edge_is_not_measured():
    at = context(track("Vocal", clips=(Clip(start_s=0.0, end_s=5.0, file="a", **UNFADED),)), mix())
    assert isinstance(ask(at, "track", "Vocal", "edges_measured"), Unknown)


@pytest.mark.parametrize(
    ("name", "part"),
    [
        ("Lead Vox take 2", "lead vox"),
        ("Lead Vox_tk03", "lead vox"),
        ("Gtr.02", "gtr"),
        ("Vox (alt)", "vox"),
        ("Gang Vox take 2", None),
        ("Vox Dbl take 1", None),
        ("Take 2", None),
        ("Salt", None),
        ("Bass", None),
    ],
)
def test_a_name_tells_of_which_part_it_is_a_take(name, part):
    """Common practice, no source."""
    from mixlint.naming import take_of

    assert take_of(name) == part


def test_muted_clips_under_a_sounding_one_are_alternatives():
    clips = (
        Clip(start_s=0.0, end_s=10.0),
        Clip(start_s=2.0, end_s=4.0, on=False),
        Clip(start_s=10.0, end_s=12.0, on=False),
    )
    at = context(track("Vocal", clips=clips), mix())
    assert value(at, "track", "Vocal", "muted_clips") == 1
    assert value(at, "track", "Vocal", "muted_at") == "bar 6, 0:10.0 to 0:12.0"


def test_a_track_is_in_use_that_plays_or_is_fed_and_was_loaded():
    at = context(
        track("Empty", at=None),
        track("Fed", at=None),
        track("Feeds", output="Fed"),
        track("Lost", loaded=False),
        mix(),
    )
    assert [value(at, "track", n, "in_use") for n in ("Empty", "Fed", "Feeds", "Lost")] == [False, True, True, False]


def test_a_print_covers_nine_tenths_of_the_notes():
    """54 s of 60 s is 90 %; 53 s is not."""
    notes = (Clip(start_s=0.0, end_s=60.0, plays="notes"),)

    def printed(length_s: float):
        beside = track("Piano_print", clips=(Clip(start_s=0.0, end_s=length_s, on=False),))
        return value(context(track("Piano", clips=notes), beside, mix()), "track", "Piano", "printed")

    assert (printed(54.0), printed(53.0)) == (True, False)


def test_an_instrument_without_notes_leaves_its_print_open():
    synth = track("Pad", at=None, inserts=(Insert(name="Glass Organ", kind="instrument"),))
    at = context(synth, track("Vocal"), mix())
    assert value(at, "track", "Pad", "by_instrument") is True
    assert isinstance(ask(at, "track", "Pad", "printed"), Unknown)
    assert isinstance(ask(at, "track", "Vocal", "by_instrument"), FactValue)
