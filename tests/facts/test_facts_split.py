"""Where a signal splits: how far the sum of the paths falls, against scipy's filters."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import signal

from mixlint.facts import TABLES, House
from mixlint.session import Dynamics, Equalizer, EqualizerBand, Insert, Unknown
from tests.facts.small_sessions import ask, bus, context, mix, reverb, send, track, value


def low_cut(hz: float, slope: float = 24.0) -> Insert:
    band = EqualizerBand(kind="high-pass", freq_hz=hz, slope_db_per_oct=slope)
    return Insert(name="Desk EQ", kind="equalizer", opaque=False, equalizer=Equalizer(bands=(band,)))


def parted(level_db: float, *inserts: Insert, house: House | None = None):
    return context(
        track("Kick", output="Drums"),
        bus("Drums", sends=(send("Crush", level_db),)),
        bus("Crush", kind="return", inserts=inserts),
        mix(),
        house=house,
    )


@pytest.mark.parametrize("level_db", [0.0, -6.0])
def test_the_dip_of_a_parallel_low_cut_is_that_of_scipys_butterworth(level_db):
    """|1 + g·H| against the stronger path, H from scipy.signal.butter, on a fine grid from 40 Hz to 12 kHz."""
    at = parted(level_db, low_cut(150.0))
    sos = signal.butter(4, 150.0, "highpass", fs=48_000.0, output="sos")
    hz = np.geomspace(40.0, 12_000.0, 4000)
    _, response = signal.sosfreqz(sos, hz, fs=48_000.0)
    path = 10.0 ** (level_db / 20.0) * response
    deepest = float((20.0 * np.log10(np.maximum(1.0, np.abs(path)) / np.abs(1.0 + path))).max())
    found = value(at, "split", "Drums", "dip_db")
    # The fact looks at sixths of an octave, so it may miss the very bottom by a little.
    assert deepest - 1.5 < found <= deepest + 0.01
    assert 100.0 < value(at, "split", "Drums", "dip_hz") < 200.0


def test_paths_without_filters_add_up_and_lose_nothing():
    at = parted(-6.0)
    assert value(at, "split", "Drums", "dip_db") == pytest.approx(0.0, abs=1e-9)
    assert value(at, "split", "Drums", "second_db") == pytest.approx(-6.0, abs=1e-9)


def test_a_filter_that_both_paths_pass_makes_no_dip():
    both = context(
        track("Kick", output="Drums"),
        bus("Drums", output="All", sends=(send("Crush"),)),
        bus("Crush", output="All"),
        bus("All", inserts=(low_cut(150.0),)),
        mix(),
    )
    assert value(both, "split", "Drums", "dip_db") == pytest.approx(0.0, abs=1e-9)


def test_a_hidden_processor_on_one_path_leaves_it_unknown_and_a_known_one_does_not():
    said = ask(parted(-6.0, Insert(name="Velvet", kind="compressor")), "split", "Drums", "dip_db")
    assert isinstance(said, Unknown)
    assert "Velvet on Crush" in said.unknown
    known = Insert(name="Desk", kind="compressor", opaque=False, dynamics=Dynamics(threshold_db=-20.0, ratio=4.0))
    assert value(parted(-6.0, known), "split", "Drums", "dip_db") == pytest.approx(0.0, abs=1e-9)


def test_ambience_and_muted_paths_are_no_split():
    wet = context(track("Vox", sends=(send("Plate"),)), bus("Plate", kind="return", inserts=(reverb(),)), mix())
    assert TABLES["split"].rows(wet) == ()
    muted = context(track("Kick", sends=(send("Crush"),)), bus("Crush", kind="return", mute=True), mix())
    assert TABLES["split"].rows(muted) == ()


def test_a_parallel_bus_is_known_by_the_house():
    assert value(parted(-6.0), "split", "Drums", "by") == "Mix Bus and Crush"
    assert value(parted(-6.0, house=House(parallel=("crush",))), "split", "Drums", "parallel") is True


def test_channels_with_the_same_paths_share_a_row_and_the_worst_counts():
    """Five parts feed one parallel bus: one question, not five."""
    parts = [track(f"Tom {n}", sends=(send("Crush", -3.0 * n),)) for n in range(1, 6)]
    at = context(*parts, bus("Crush", kind="return", inserts=(low_cut(150.0),)), mix())
    (row,) = TABLES["split"].rows(at)
    assert row.subject.name == "Tom 1, Tom 2, Tom 3 and 2 more"
    assert row.subject.channels == ("Tom 1", "Tom 2", "Tom 3", "Tom 4", "Tom 5")
    alone = context(parts[0], bus("Crush", kind="return", inserts=(low_cut(150.0),)), mix())
    assert value(at, "split", row.subject.name, "dip_db") == pytest.approx(value(alone, "split", "Tom 1", "dip_db"))
    assert value(at, "split", row.subject.name, "second_db") == pytest.approx(-3.0)


COMPRESSOR = Insert(name="Old Press", kind="compressor", opaque=False, dynamics=Dynamics(threshold_db=-30.0, ratio=8.0))
UNREAD = Insert(name="Grey Box")


@pytest.mark.parametrize(
    ("group", "beside", "doubled"),
    [
        ((), (), True),
        ((), (COMPRESSOR,), False),
        ((), (UNREAD,), False),
        ((), (low_cut(150.0),), True),
        ((COMPRESSOR,), (), True),  # the main path is shaped, and the bare one beside it is not
        ((COMPRESSOR,), (COMPRESSOR,), False),
        ((), (COMPRESSOR.model_copy(update={"on": False}),), True),
    ],
)
def test_a_path_is_another_sound_by_what_acts_on_it_beside_the_main_one(group, beside, doubled):
    """Common practice, no source: a parallel bus is made by dynamics or distortion on it."""
    at = context(
        track("Kick", output="Drums", sends=(send("Weight", 3.0),)),
        bus("Drums", inserts=group),
        bus("Weight", inserts=beside),
        mix(),
    )
    assert value(at, "split", "Kick", "doubled") is doubled
    if doubled:
        assert value(at, "split", "Kick", "double_db") == pytest.approx(-3.0)


def test_a_path_through_a_cue_mix_is_told_of_the_cue_mix():
    at = context(track("Kick", sends=(send("Cue Mix"),)), bus("Cue Mix"), mix())
    assert value(at, "split", "Kick", "doubled") is False
    other = context(track("Kick", sends=(send("Spare"),)), bus("Spare"), mix())
    assert value(other, "split", "Kick", "doubled") is True
