"""Controls and targets: what a fader, pan, mute, send or insert stands at, now and over the song. By hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixlint.session import (
    FADER,
    MUTE,
    PAN,
    Automation,
    Channel,
    Dynamics,
    Equalizer,
    EqualizerBand,
    Insert,
    Parameter,
    Send,
    Target,
    Unknown,
    channel_now,
    control_of,
    controls_of_send,
    inserts_now,
)

UNKNOWN = Unknown(unknown="the export gives no level")


def lane(target: str, *points: tuple[float, float], scale: str = "dB", shape: str = "hold") -> Automation:
    times, values = zip(*points, strict=True) if points else ((), ())
    return Automation(target=target, scale=scale, shape=shape, t=times, v=values)


def strip(*lanes: Automation, **more: object) -> Channel:
    return Channel(id="a", name="Vox", kind="track", automation=lanes, **more)


@pytest.mark.parametrize(
    "text",
    [
        "fader",
        "pan",
        "mute",
        "send:0:level",
        "send:12:pan",
        "send:3:on",
        "insert:0:on",
        "insert:1:wet",
        "insert:2:Mix A",
        "insert:0:band:1:on",
        "insert:0:band:12:freq",
        "insert:0:band:0:freq",
        "insert:0:threshold",
    ],
)
def test_a_target_is_printed_as_it_was_parsed(text: str):
    assert str(Target.parse(text)) == text
    assert Target.parse(text).kind != "other"


@pytest.mark.parametrize(
    "text",
    ["", "volume", "send", "send:level", "send:x:level", "send:0:colour", "insert:0:", "send:-1:on", "send:²:on"],
)
def test_a_text_that_names_no_control_is_kept_whole(text: str):
    assert Target.parse(text) == Target("other", None, text)
    assert str(Target.parse(text)) == text


def test_a_number_that_no_strip_reaches_names_no_control():
    """A number of thousands of digits cannot be turned into an integer at all."""
    assert Target.parse(f"send:{'9' * 5000}:level").kind == "other"


@given(st.text(max_size=40))
def test_parsing_never_fails_and_settles(text: str):
    once = Target.parse(text)
    assert Target.parse(str(once)) == once


def test_a_target_is_text_in_json():
    one = lane("send:3:level", (0.0, -6.0))
    assert one.model_dump(mode="json")["target"] == "send:3:level"
    assert Automation.model_validate_json(one.model_dump_json()) == one
    assert Automation.model_json_schema()["properties"]["target"]["type"] == "string"


def test_a_lane_of_one_point_holds_the_control_against_what_is_stored():
    fader = control_of(strip(lane("fader", (0.0, -10.0)), fader_db=0.0), FADER)
    assert fader.held
    assert not fader.moves
    assert fader.now == -10.0
    assert fader.lowest == fader.highest == -10.0
    assert fader.static == 0.0


def test_a_lane_that_moves_leaves_what_is_stored_as_it_stands_now():
    fader = control_of(strip(lane("fader", (0.0, -10.0), (9.0, -4.0)), fader_db=-1.0), FADER)
    assert fader.moves
    assert fader.now == -1.0
    assert (fader.lowest, fader.highest) == (-10.0, -4.0)


def test_a_control_that_is_not_stored_stands_where_its_lane_begins():
    pan = control_of(strip(lane("pan", (0.0, -30.0), (9.0, 30.0), scale="pan"), pan=UNKNOWN), PAN)
    assert pan.now == -30.0
    assert pan.unknown is None
    assert control_of(strip(pan=UNKNOWN), PAN).unknown == UNKNOWN


def test_a_lane_without_points_is_none():
    fader = control_of(strip(lane("fader"), fader_db=-3.0), FADER)
    assert fader.lane is None
    assert fader.now == -3.0


def test_the_first_of_two_lanes_counts():
    fader = control_of(strip(lane("fader", (0.0, -10.0)), lane("fader", (0.0, -20.0))), FADER)
    assert fader.now == -10.0


def test_an_amplitude_is_read_in_decibels():
    """20 log10 0.5 = −6.0206."""
    fader = control_of(strip(lane("fader", (0.0, 0.5), scale="amplitude")), FADER)
    assert fader.now == pytest.approx(-6.0206, abs=1e-4)
    assert fader.at(np.array([0.0, 5.0])) == pytest.approx([-6.0206, -6.0206], abs=1e-4)


def test_a_control_over_time_is_read_on_the_lane_and_holds_beyond_its_ends():
    fader = control_of(strip(lane("fader", (10.0, 0.0), (20.0, -10.0), shape="linear")), FADER)
    found = fader.at(np.array([0.0, 10.0, 15.0, 20.0, 99.0]))
    assert found == pytest.approx([0.0, 0.0, -5.0, -10.0, -10.0])
    still = control_of(strip(fader_db=-3.0), FADER)
    assert still.at(np.array([0.0, 9.0])) == pytest.approx([-3.0, -3.0])
    assert np.isnan(control_of(strip(fader_db=UNKNOWN), FADER).at(np.array([0.0]))).all()


def test_a_switch_that_automation_turns_can_be_both():
    mute = control_of(strip(lane("mute", (0.0, 1.0), (9.0, 0.0), scale="switch")), MUTE)
    assert mute.can_be_on is True
    assert mute.can_be_off is True
    stuck = control_of(strip(lane("mute", (0.0, 1.0), scale="switch"), mute=False), MUTE)
    assert stuck.can_be_off is False
    unseen = Unknown(unknown="no mute in the export")
    assert control_of(strip(mute=unseen), MUTE).can_be_on == unseen


@pytest.mark.parametrize(
    ("on", "level", "lanes", "found"),
    [
        (True, -12.0, (), True),
        (False, -12.0, (), False),
        (True, -200.0, (), False),
        (False, -12.0, (lane("send:0:on", (0.0, 1.0), scale="switch"),), True),
        (True, -12.0, (lane("send:0:on", (0.0, 0.0), scale="switch"),), False),
        (False, -12.0, (lane("send:0:on", (0.0, 0.0), (9.0, 1.0), scale="switch"),), True),
        (True, -200.0, (lane("send:0:level", (0.0, -200.0), (9.0, -6.0)),), True),
        (True, -6.0, (lane("send:0:level", (0.0, -200.0)),), False),
        (Unknown(unknown="no switch"), -6.0, (), Unknown(unknown="no switch")),
        (Unknown(unknown="no switch"), -200.0, (), False),
        (True, UNKNOWN, (), True),
    ],
)
def test_a_send_is_open_when_its_switch_and_its_level_ever_let_it(on, level, lanes, found):
    channel = strip(*lanes, sends=(Send(to="b", on=on, level_db=level),))
    assert controls_of_send(channel, 0).can_be_open == found


def test_every_control_of_an_insert_is_found():
    insert = Insert(
        name="Old Hall", on=False, wet=40.0, parameters=(Parameter(id="7", value=2.5), Parameter(id="8", value="Wide"))
    )
    channel = strip(inserts=(insert,))
    assert control_of(channel, Target.insert(0, "on")).now == 0.0
    assert control_of(channel, Target.insert(0, "wet")).now == 40.0
    assert control_of(channel, Target.insert(0, "7")).now == 2.5
    assert isinstance(control_of(channel, Target.insert(0, "8")).now, Unknown)


EQUALIZER = Equalizer(
    bands=(
        EqualizerBand(kind="high-pass", freq_hz=90.0, q=0.7, slope_db_per_oct=12.0, on=False),
        EqualizerBand(kind="bell", freq_hz=UNKNOWN, gain_db=-3.0),
    ),
    input_gain_db=1.5,
)
DYNAMICS = Dynamics(threshold_db=-18.0, ratio=3.0, attack_ms=10.0, release_ms=120.0, knee_db=6.0, auto_makeup=True)


@pytest.mark.parametrize(
    ("word", "found"),
    [
        ("band:1:on", 0.0), ("band:1:freq", 90.0), ("band:1:gain", 0.0), ("band:1:q", 0.7), ("band:1:slope", 12.0),
        ("band:2:on", 1.0), ("band:2:freq", UNKNOWN), ("band:2:gain", -3.0), ("inputgain", 1.5), ("outputgain", 0.0),
    ],
)  # fmt: skip
def test_every_setting_of_an_equalizer_is_a_control(word: str, found: object):
    channel = strip(inserts=(Insert(name="Desk EQ", equalizer=EQUALIZER),))
    control = control_of(channel, Target.insert(0, word))
    assert control.now == found
    assert control.is_switch is word.endswith(":on")


@pytest.mark.parametrize(
    ("word", "found"),
    [
        ("threshold", -18.0), ("ratio", 3.0), ("attack", 10.0), ("release", 120.0), ("knee", 6.0),
        ("inputgain", 0.0), ("outputgain", 0.0), ("automakeup", 1.0),
    ],
)  # fmt: skip
def test_every_setting_of_dynamics_is_a_control(word: str, found: float):
    channel = strip(inserts=(Insert(name="Comp", dynamics=DYNAMICS),))
    assert control_of(channel, Target.insert(0, word)).now == found


def test_a_setting_wins_over_a_parameter_that_bears_its_name():
    """An importer may list the figure as written beside the setting that was read from it."""
    written = Parameter(id="ratio", value=66.7, unit="percent")
    channel = strip(inserts=(Insert(name="Comp", dynamics=DYNAMICS, parameters=(written,)),))
    assert control_of(channel, Target.insert(0, "ratio")).now == 3.0
    bare = strip(inserts=(Insert(name="Comp", parameters=(written,)),))
    assert control_of(bare, Target.insert(0, "ratio")).now == 66.7


def test_a_parameter_may_bear_the_name_of_a_bands_setting_where_there_is_no_band():
    channel = strip(inserts=(Insert(name="Old EQ", parameters=(Parameter(id="band:1:freq", value=0.4),)),))
    assert control_of(channel, Target.insert(0, "band:1:freq")).now == 0.4


def test_inserts_stand_as_automation_holds_them():
    lanes = (
        lane("insert:0:on", (0.0, 1.0), scale="switch"),
        lane("insert:0:band:1:on", (0.0, 1.0), scale="switch"),
        lane("insert:0:band:2:freq", (0.0, 2500.0), scale="plain"),
        lane("insert:0:band:2:gain", (0.0, 0.5), scale="amplitude"),
        lane("insert:1:wet", (0.0, 100.0), scale="plain"),
        lane("insert:1:7", (0.0, 0.0), (9.0, 1.0), scale="plain"),
    )
    stored = (
        Insert(name="Desk EQ", on=False, equalizer=EQUALIZER),
        Insert(name="Hall", wet=30.0, parameters=(Parameter(id="7", value=0.25),)),
    )
    equalizer, hall = inserts_now(strip(*lanes, inserts=stored))
    assert equalizer.on is True
    assert equalizer.equalizer is not None
    low_cut, bell = equalizer.equalizer.bands
    assert low_cut.on is True
    assert (bell.freq_hz, bell.gain_db) == (2500.0, pytest.approx(-6.0206, abs=1e-4))
    assert hall.wet == 100.0
    assert hall.parameters[0].value == 0.25  # what moves stands as it is stored


def test_inserts_that_nothing_automates_are_those_stored():
    channel = strip(lane("fader", (0.0, -6.0)), inserts=(Insert(name="Desk EQ"),))
    assert inserts_now(channel) is channel.inserts


def test_a_channel_stands_as_automation_holds_it():
    lanes = (
        lane("fader", (0.0, -10.0)),
        lane("mute", (0.0, 0.0), scale="switch"),
        lane("send:1:on", (0.0, 1.0), scale="switch"),
        lane("send:7:level", (0.0, -3.0)),
    )
    sends = (Send(to="b", level_db=-6.0, on=False), Send(to="c", level_db=-6.0, on=False))
    now = channel_now(strip(*lanes, fader_db=0.0, mute=True, sends=sends))
    assert (now.fader_db, now.mute, [send.on for send in now.sends]) == (-10.0, False, [False, True])


@pytest.mark.parametrize(
    ("target", "scale"),
    [("fader", "plain"), ("fader", "unknown"), ("pan", "plain"), ("send:0:level", "pan"), ("insert:0:wet", "unknown")],
)
def test_automation_in_figures_of_no_known_unit_tells_nothing(target: str, scale: str):
    """Nor does what is stored: the automation moves the control away from it."""
    channel = strip(
        lane(target, (0.0, 0.7), scale=scale), sends=(Send(to="b"),), inserts=(Insert(name="Hall", wet=100.0),)
    )
    control = control_of(channel, Target.parse(target))
    assert control.unknown is not None
    assert control.now == control.lowest == control.highest == control.unknown
    assert np.isnan(control.at(np.array([0.0]))).all()


@pytest.mark.parametrize("text", ["send:0:level", "insert:4:on", "insert:0:none", "insert:0:band:1:on", "whatever"])
def test_a_control_that_is_not_there_is_unknown(text: str):
    assert control_of(strip(), Target.parse(text)).unknown is not None
