"""Gains to the mix bus by hand arithmetic: direct, ambience, pre and post taps, unknowns."""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.routing import Laws, Routing
from mixlint.routing.network import assumptions
from mixlint.routing.parallel import direct_paths
from mixlint.routing.trace import trace
from mixlint.session import Automation, Clip, Dynamics, Equalizer, EqualizerBand, Insert, MediaFile, Session, Unknown
from tests.routing.desks import bus, mix, reverb, send, session, track

AT = np.array([1000.0])


def kinds(context: Session) -> dict[str, dict[int, str]]:
    return {c.id: {k: i.kind for k, i in enumerate(c.inserts) if isinstance(i.kind, str)} for c in context.channels}


def routed(*channels, laws=None) -> Routing:
    context = session(*channels)
    return Routing(context, kinds(context), laws)


def sides_db(routing: Routing, channel: str) -> list[float]:
    return [20 * np.log10(max(s, 1e-12)) for s in routing.gains(AT).sides(channel)[0, 0]]


def test_a_mono_part_at_the_centre_stands_3_db_down_on_each_side():
    """Equal power, W3C StereoPannerNode: cos(π/4) = 0.7071, −3.01 dB."""
    assert sides_db(routed(track("Vox"), mix()), "Vox") == pytest.approx([-3.0103, -3.0103], abs=1e-3)


def test_fifty_left_under_equal_power():
    """cos(π/8) and sin(π/8): −0.69 and −8.34 dB."""
    assert sides_db(routed(track("Gtr", pan=-50.0), mix()), "Gtr") == pytest.approx([-0.688, -8.343], abs=1e-3)


def test_balance_of_a_stereo_part_turns_one_side_down():
    """min(1, 1 − p) left: at 50 right the left leg stands at half, −6.02 dB."""
    assert sides_db(routed(track("Keys", legs=2, pan=50.0), mix()), "Keys") == pytest.approx([-6.0206, 0.0], abs=1e-3)


def test_mono_files_make_a_mono_part_of_a_stereo_channel():
    context = Session(
        channels=(track("Gtr", legs=2, clips=(Clip(start_s=0, end_s=9, file="f"),)), mix()),
        media=(MediaFile(id="f", path="g.wav", legs=1),),
    )
    assert Routing(context).legs["Gtr"] == 1


def test_faders_add_up_along_groups():
    routing = routed(track("Kick", "Drums", fader_db=-4.0), bus("Drums", fader_db=-2.0), mix(fader_db=-1.0))
    assert sides_db(routing, "Kick") == pytest.approx([-10.0103, -10.0103], abs=1e-3)


def test_two_equal_paths_add_6_db():
    """Two coherent equal signals: 20 log10 2 = 6.02 dB."""
    routing = routed(track("Vox", legs=2, sends=(send("Crush"),)), bus("Crush"), mix())
    assert sides_db(routing, "Vox") == pytest.approx([6.0206, 6.0206], abs=1e-3)


def test_a_pre_fader_send_does_not_follow_the_fader():
    routing = routed(
        track("Vox", None, legs=2, fader_db=-30.0, sends=(send("Crush", -5.0, tap="pre"),)), bus("Crush"), mix()
    )
    assert sides_db(routing, "Vox") == pytest.approx([-5.0, -5.0], abs=1e-3)


def test_a_muted_part_never_arrives():
    assert routed(track("Vox", mute=True), mix()).gains(AT).sides("Vox").max() == 0.0


def test_a_wholly_wet_return_adds_ambience_and_no_direct_signal():
    """Power in equals power out of a reverb: both sides at the send level for a signal alike on both legs."""
    routing = routed(
        track("Vox", legs=2, sends=(send("Plate", -10.0),)), bus("Plate", kind="return", inserts=(reverb(),)), mix()
    )
    gains = routing.gains(AT)
    assert sides_db(routing, "Vox") == pytest.approx([0.0, 0.0], abs=1e-9)
    assert 20 * np.log10(gains.ambience_sides("Vox")[0, 0]) == pytest.approx([-10.0, -10.0], abs=1e-9)


def test_a_half_wet_return_leaks_half_of_the_signal():
    """Dry 1 − x = 0.5 of a send at 0 dB, on top of the direct signal: 20 log10 1.5."""
    routing = routed(
        track("Vox", legs=2, sends=(send("Plate"),)), bus("Plate", kind="return", inserts=(reverb(50.0),)), mix()
    )
    assert sides_db(routing, "Vox")[0] == pytest.approx(20 * np.log10(1.5), abs=1e-9)


def test_a_reverb_spreads_and_a_delay_keeps_the_side():
    hard_left = track("Gtr", pan=-100.0, sends=(send("Fx"),))
    spread = routed(hard_left, bus("Fx", kind="return", inserts=(reverb(),)), mix())
    kept = routed(hard_left, bus("Fx", kind="return", inserts=(Insert(name="Echo", kind="delay", wet=100.0),)), mix())
    assert spread.gains(AT).ambience_sides("Gtr")[0, 0] == pytest.approx([0.7071, 0.7071], abs=1e-4)
    assert kept.gains(AT).ambience_sides("Gtr")[0, 0] == pytest.approx([1.0, 0.0], abs=1e-9)


def test_a_low_cut_is_felt_where_it_cuts():
    """Second-order Butterworth high-pass at 100 Hz: −3.01 dB at 100 Hz (−12.3 dB at 50 Hz)."""
    cut = Insert(
        name="Filter",
        kind="equalizer",
        equalizer=Equalizer(bands=(EqualizerBand(kind="high-pass", freq_hz=100.0, slope_db_per_oct=12.0),)),
    )
    routing = routed(track("Vox", legs=2, inserts=(cut,)), mix())
    gains = routing.gains(np.array([100.0, 50.0])).sides("Vox")[0, :, 0]
    assert 20 * np.log10(gains) == pytest.approx([-3.0103, -12.304], abs=0.01)


def test_fader_automation_makes_a_curve():
    ride = Automation(target="fader", scale="dB", shape="hold", t=(0.0, 10.0), v=(0.0, -6.0))
    routing = routed(track("Vox", legs=2, automation=(ride,)), mix())
    gains = routing.gains(AT, np.array([5.0, 15.0])).sides("Vox")[:, 0, 0]
    assert 20 * np.log10(gains) == pytest.approx([0.0, -6.0], abs=1e-9)


def test_an_unknown_fader_on_the_way_is_told():
    routing = routed(track("Vox", "Bus"), bus("Bus", fader_db=Unknown(unknown="no unit")), mix())
    assert routing.unknown_on_the_path["Vox"] == ("the fader of Bus: no unit",)


def test_the_pan_law_of_the_house_is_used():
    routing = routed(track("Vox"), mix(), laws=Laws(mono="linear"))
    assert sides_db(routing, "Vox") == pytest.approx([-6.0206, -6.0206], abs=1e-3)


def test_trace_shows_every_stage_and_ends_where_the_gains_do():
    routing = routed(
        track("Gtr L", "Music", pan=-50.0, fader_db=-6.0, sends=(send("Plate", -12.0),)),
        bus("Music", fader_db=-3.0),
        bus("Plate", kind="return", pan=60.0, inserts=(reverb(),)),
        mix(fader_db=-1.0),
    )
    told = trace(routing, "Gtr L")
    direct, ambience = told.arrivals
    assert direct.path == ("Gtr L", "Music", "Mix")
    assert direct.kind == "direct"
    assert [s.stage for s in direct.stages] == ["fader", "pan", "fader", "pan", "fader", "pan"]
    assert [direct.left_db, direct.right_db] == pytest.approx(sides_db(routing, "Gtr L"), abs=1e-3)
    assert ambience.path == ("Gtr L", "Plate", "Mix")
    assert ambience.kind == "ambience"
    heard = routing.gains(AT).ambience_sides("Gtr L")[0, 0]
    assert [ambience.left_db, ambience.right_db] == pytest.approx(list(20 * np.log10(heard)), abs=1e-3)


def test_trace_of_a_half_wet_return_arrives_both_ways():
    routing = routed(
        track("Vox", None, legs=2, sends=(send("Plate", -6.0),)),
        bus("Plate", kind="return", inserts=(reverb(50.0),)),
        mix(),
    )
    assert {a.kind for a in trace(routing, "Vox").arrivals} == {"direct", "ambience"}


def test_trace_at_a_frequency_passes_the_filters():
    cut = Insert(
        name="Low Cut",
        kind="filter",
        equalizer=Equalizer(bands=(EqualizerBand(kind="high-pass", freq_hz=100.0, slope_db_per_oct=12.0),)),
    )
    routing = routed(track("Vox", legs=2, inserts=(cut,)), mix())
    (arrival,) = trace(routing, "Vox", 50.0).arrivals
    assert arrival.stages[0].stage == "insert Low Cut"
    assert arrival.left_db == pytest.approx(-12.304, abs=0.01)


def dynamics(kind: str, **settings) -> Insert:
    return Insert(name="Ledger Unit", kind=kind, opaque=False, dynamics=Dynamics(threshold_db=-10.0, **settings))


def test_a_limiter_that_is_driven_counts_in_gains_and_in_the_trace():
    """+12 dB in and −1 dB out: 11 dB, on the direct path and on what a reverb behind it is fed."""
    limiter = dynamics("limiter", input_gain_db=12.0, output_gain_db=-1.0)
    plain, driven = (
        routed(track("Vox", inserts=inserts, sends=(send("Plate"),)), bus("Plate", inserts=(reverb(),)), mix())
        for inserts in ((), (limiter,))
    )
    assert sides_db(driven, "Vox") == pytest.approx([side + 11.0 for side in sides_db(plain, "Vox")])
    levels = [[a.left_db for a in trace(routing, "Vox").arrivals] for routing in (plain, driven)]
    assert levels[1] == pytest.approx([level + 11.0 for level in levels[0]], abs=1e-3)
    assert direct_paths(driven)["Vox"].strongest == pytest.approx(10.0 ** (11.0 / 20.0))


def test_what_is_switched_off_adds_no_gain():
    off = dynamics("compressor", output_gain_db=6.0).model_copy(update={"on": False})
    assert sides_db(routed(track("Vox", inserts=(off,)), mix()), "Vox") == pytest.approx([-3.0103] * 2, abs=1e-3)


def test_make_up_gains_are_told_as_assumptions():
    made_up = routed(track("Vox", inserts=(dynamics("compressor", output_gain_db=4.0, auto_makeup=True),)), mix())
    said = assumptions(made_up)
    assert "the auto make-up of 1 compressor is taken to give back what is taken away, and no more" in said
    assert any("input and output gains; what they take away is left out" in line for line in said)
    assert not any("gains" in line for line in assumptions(routed(track("Vox", inserts=(dynamics("gate"),)), mix())))
