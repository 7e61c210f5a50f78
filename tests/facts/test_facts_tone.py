"""The tone of a part on its path: low cuts against scipy, their order, conflicts of equalizers, rumble."""

from __future__ import annotations

import numpy as np
import pytest
import soundfile
from scipy import signal

from mixlint.analysis.pitches import note_hz
from mixlint.facts import House, SessionContext
from mixlint.media import Library
from mixlint.session import (
    Automation,
    Clip,
    Dynamics,
    Equalizer,
    EqualizerBand,
    Insert,
    MediaFile,
    Session,
    Unknown,
)
from tests.facts.small_sessions import ask, bus, context, mix, track, value


def eq(*bands: EqualizerBand, **more: object) -> Insert:
    return Insert(name="Desk EQ", kind="equalizer", opaque=False, equalizer=Equalizer(bands=bands), **more)


def low_cut(hz: float, slope: float = 12.0) -> EqualizerBand:
    return EqualizerBand(kind="high-pass", freq_hz=hz, slope_db_per_oct=slope)


def bell(gain_db: float, hz: float) -> EqualizerBand:
    return EqualizerBand(kind="bell", freq_hz=hz, gain_db=gain_db, q=1.0)


COMP = Insert(name="Comp", kind="compressor", opaque=False, dynamics=Dynamics(threshold_db=-20.0, ratio=2.0))
HIDDEN = Insert(name="Silk EQ", kind="equalizer")


def test_the_lowest_note_of_a_part_is_the_houses_where_it_gives_one():
    house = House(settings={"lowest_notes.guitar": 85.0})
    at = context(track("Acoustic Gtr"), track("Bass"), mix())
    moved = context(track("Acoustic Gtr"), track("Bass"), mix(), house=house)
    assert [value(at, "source", n, "lowest_note") for n in ("Acoustic Gtr", "Bass")] == ["E2, 82.4 Hz", "45 Hz"]
    assert [value(moved, "source", n, "lowest_note") for n in ("Acoustic Gtr", "Bass")] == ["85 Hz", "45 Hz"]
    assert value(moved, "source", "Acoustic Gtr", "lowest_note_hz") == 85.0


@pytest.mark.parametrize(("cut", "slope", "order"), [(90.0, 12.0, 2), (200.0, 12.0, 2), (120.0, 24.0, 4)])
def test_what_a_low_cut_takes_at_the_lowest_note_is_scipys_butterworth(cut, slope, order):
    at = context(track("Acoustic Gtr", inserts=(eq(low_cut(cut, slope)),)), mix())
    sos = signal.butter(order, cut, "highpass", fs=48_000.0, output="sos")
    _, response = signal.sosfreqz(sos, [note_hz("E2")], fs=48_000.0)
    expected = -20.0 * np.log10(abs(response[0]))
    assert value(at, "source", "Acoustic Gtr", "body_loss_db") == pytest.approx(expected, abs=0.01)


def test_low_cuts_of_the_part_and_its_group_add_up():
    one = context(track("Acoustic Gtr", inserts=(eq(low_cut(90.0)),)), mix())
    two = context(
        track("Acoustic Gtr", output="Guitars", inserts=(eq(low_cut(90.0)),)),
        bus("Guitars", inserts=(eq(low_cut(90.0)),)),
        mix(),
    )
    single = value(one, "source", "Acoustic Gtr", "body_loss_db")
    assert value(two, "source", "Acoustic Gtr", "body_loss_db") == pytest.approx(2.0 * single)


def test_the_highest_low_cut_counts_and_no_low_cut_is_0_hz():
    at = context(track("Vox", inserts=(eq(low_cut(40.0), low_cut(90.0)),)), track("Gtr"), mix())
    assert value(at, "source", "Vox", "low_cut_hz") == 90.0
    assert value(at, "source", "Gtr", "low_cut_hz") == 0.0


def test_a_hidden_equalizer_hides_whether_there_is_a_low_cut_unless_one_is_seen():
    assert isinstance(ask(context(track("Vox", inserts=(HIDDEN,)), mix()), "source", "Vox", "low_cut_hz"), Unknown)
    seen = context(track("Vox", inserts=(HIDDEN, eq(low_cut(80.0)))), mix())
    assert value(seen, "source", "Vox", "low_cut_hz") == 80.0


@pytest.mark.parametrize(
    ("inserts", "order"),
    [
        ((eq(low_cut(80.0)), COMP), "before"),
        ((COMP, eq(low_cut(80.0))), "after"),
        ((eq(bell(2.0, 300.0)), COMP), "none"),
        ((eq(low_cut(80.0)),), "no compressor"),
        ((eq(low_cut(80.0), on=False), COMP, eq(low_cut(80.0))), "after"),
    ],
)
def test_the_order_of_low_cut_and_compressor(inserts, order):
    assert value(context(track("Vox", inserts=inserts), mix()), "source", "Vox", "low_cut_order") == order


def test_a_hidden_filter_ahead_of_the_compressor_leaves_the_order_unknown():
    at = context(track("Vox", inserts=(HIDDEN, COMP, eq(low_cut(80.0)))), mix())
    said = ask(at, "source", "Vox", "low_cut_order")
    assert isinstance(said, Unknown)
    assert "Silk EQ" in said.unknown


def test_of_two_conflicting_moves_the_lesser_counts():
    """At its middle a bell moves by its gain (W3C Audio EQ Cookbook)."""
    at = context(
        track("Gtr", output="Guitars", inserts=(eq(bell(-6.0, 1000.0)),)),
        bus("Guitars", inserts=(eq(bell(4.0, 1000.0)),)),
        mix(),
    )
    assert value(at, "source", "Gtr", "eq_conflict_db") == pytest.approx(4.0, abs=1e-6)
    assert "−6 dB on Gtr against +4 dB on Guitars at 1 000 Hz" in ask(at, "source", "Gtr", "eq_conflict_db").note


def test_moves_of_one_sign_and_switched_off_ones_do_not_conflict():
    along = context(
        track("Gtr", output="Guitars", inserts=(eq(bell(-6.0, 1000.0)),)),
        bus("Guitars", inserts=(eq(bell(-4.0, 1000.0)), eq(bell(9.0, 1000.0), on=False))),
        mix(),
    )
    assert value(along, "source", "Gtr", "eq_conflict_db") == 0.0


def test_rumble_is_the_share_of_energy_under_the_lowest_note(tmp_path):
    """Sines at −10 and −20 dBFS: the lower one holds 1/11 of the energy, −10.41 dB (arithmetic)."""
    t = np.arange(3 * 48_000) / 48_000
    samples = 10.0**-0.5 * np.sin(2.0 * np.pi * 500.0 * t) + 0.1 * np.sin(2.0 * np.pi * 25.0 * t)
    soundfile.write(tmp_path / "voice.wav", samples, 48_000, subtype="FLOAT")
    vox = track("Lead Vocal", clips=(Clip(start_s=0.0, end_s=3.0, file="a"),))
    session = Session(channels=(vox, mix()), media=(MediaFile(id="a", path="voice.wav"),))
    at = SessionContext(session, audio=Library(session, tmp_path))
    assert value(at, "source", "Lead Vocal", "under_lowest_db") == pytest.approx(-10.41, abs=0.2)
    assert value(at, "source", "Lead Vocal", "clean_by_itself") is False


def test_without_audio_nothing_is_clean_by_itself():
    at = context(track("Lead Vocal"), mix())
    assert isinstance(ask(at, "source", "Lead Vocal", "under_lowest_db"), Unknown)
    assert value(at, "source", "Lead Vocal", "clean_by_itself") is False


def held(target: str, at: float, scale: str = "plain") -> Automation:
    return Automation(target=target, scale=scale, t=(0.0,), v=(at,))


OFF_CUT = EqualizerBand(kind="high-pass", freq_hz=200.0, slope_db_per_oct=12.0, on=False)


@pytest.mark.parametrize(
    ("band", "lane", "cut"),
    [
        (OFF_CUT, None, False),
        (OFF_CUT, held("insert:0:band:1:on", 1.0, "switch"), True),
        (low_cut(200.0), held("insert:0:band:1:on", 0.0, "switch"), False),
        (low_cut(20.0), held("insert:0:band:1:freq", 200.0), True),
        (low_cut(200.0), held("insert:0:on", 0.0, "switch"), False),
        (low_cut(200.0), held("insert:0:band:1:on", 1.0, "switch"), True),
    ],
)
def test_a_low_cut_counts_as_automation_holds_it(band, lane, cut):
    """A 12 dB per octave Butterworth at 200 Hz takes 15.5 dB at E2 (scipy), one at 20 Hz or none next to nothing."""
    automation = () if lane is None else (lane,)
    at = context(track("Acoustic Gtr", inserts=(eq(band),), automation=automation), mix())
    sos = signal.butter(2, 200.0, "highpass", fs=48_000.0, output="sos")
    loss = -20.0 * np.log10(abs(signal.sosfreqz(sos, [note_hz("E2")], fs=48_000.0)[1][0]))
    expected = loss if cut else 0.0
    assert value(at, "source", "Acoustic Gtr", "body_loss_db") == pytest.approx(expected, abs=0.05)
    gains = at.routing.gains(np.array([note_hz("E2"), 1000.0])).sides("Acoustic Gtr")[0, :, 0]
    assert 20.0 * np.log10(gains[1] / gains[0]) == pytest.approx(expected, abs=0.05)
