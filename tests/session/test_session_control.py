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
    Insert,
    Parameter,
    Send,
    Target,
    Unknown,
    control_of,
    controls_of_send,
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


@pytest.mark.parametrize("text", ["send:0:level", "insert:4:on", "insert:0:none", "whatever"])
def test_a_control_that_is_not_there_is_unknown(text: str):
    assert control_of(strip(), Target.parse(text)).unknown is not None
