"""What is audible, what is muted, how far automation goes, and what stays unknown: small sessions, hand arithmetic."""

from __future__ import annotations

from typing import Any

import pytest

from mixlint.facts.channel_sheet import sheet
from mixlint.session import Automation, Equalizer, EqualizerBand, Insert, Send, Unknown
from tests.facts.small_sessions import ask, bus, context, mix, reverb, send, track, value

WHY = Unknown(unknown="no value")


def lane(target: str, t: tuple[float, ...], v: tuple[float, ...], scale: str = "switch", **more: Any) -> Automation:
    return Automation(target=target, scale=scale, t=t, v=v, **more)


@pytest.mark.parametrize(
    ("mute", "t", "v", "muted"),
    [
        (False, (0.0,), (1.0,), True),  # a lane of one point holds the mute
        (True, (0.0,), (0.0,), False),
        (True, (0.0, 70.0), (1.0, 0.0), True),  # opens only after the clip, which ends at 60 s
        (False, (0.0, 59.9), (1.0, 0.0), False),  # opens for its last tenth of a second
    ],
)
def test_muted_and_audible_are_two_sides_of_one_answer(mute, t, v, muted):
    at = context(track("Vox", mute=mute, automation=(lane("mute", t, v),)), track("Gtr", at=(0.0, 90.0)), mix())
    assert value(at, "channel", "Vox", "muted") is muted
    assert value(at, "channel", "Vox", "audible") is not muted


def test_a_mix_bus_whose_lane_keeps_it_muted_is_muted():
    at = context(track("Vox"), mix(automation=(lane("mute", (0.0,), (1.0,)),)))
    assert value(at, "mix-bus", "Mix Bus", "muted") is True


@pytest.mark.parametrize(
    ("voice", "more", "reason"),
    [
        ({"mute": WHY}, {}, "the mute of Vox: no value"),
        ({"output": WHY}, {}, "the output of Vox: no value"),
        ({"output": "Bus"}, {"mute": WHY}, "the mute of Bus: no value"),
        ({"output": "Bus"}, {"output": WHY}, "the output of Bus: no value"),
    ],
)
def test_audibility_is_unknown_where_the_export_does_not_show_it(voice, more, reason):
    at = context(track("Vox", **voice), bus("Bus", **more), track("Gtr"), mix())
    for table in ("channel", "track"):
        said = ask(at, table, "Vox", "audible")
        assert isinstance(said, Unknown)
        assert said.unknown == reason
    assert value(at, "channel", "Gtr", "audible") is True


def test_a_path_round_an_unknown_mute_is_enough():
    at = context(track("Vox", sends=(send("Bus"),)), bus("Bus", mute=WHY), mix())
    assert value(at, "channel", "Vox", "audible") is True


def test_without_a_mix_bus_audibility_is_unknown():
    assert isinstance(ask(context(track("Vox", output="Bus"), bus("Bus")), "channel", "Vox", "audible"), Unknown)


def test_automation_of_a_bus_counts_while_what_feeds_it_plays():
    ride = lane("fader", (0.0, 30.0, 70.0), (0.0, 9.0, 12.0), "dB")
    at = context(track("Vox", output="Bus"), track("Gtr", at=(0.0, 90.0)), bus("Bus", automation=(ride,)), mix())
    said = ask(at, "channel", "Bus", "fader_highest_db")
    assert said.value == pytest.approx(9.0)
    assert said.where == "bars 16 to 30, 0:30.0 to 1:00.0"  # 120 bpm: a bar lasts 2 s


@pytest.mark.parametrize("at_s", [60.0, 60.1, 60.2])
def test_automation_just_after_the_clip_does_not_count(at_s):
    ride = lane("fader", (0.0, at_s), (0.0, 9.0), "dB")
    at = context(track("Vox", automation=(ride,)), track("Gtr", at=(0.0, 90.0)), mix())
    assert value(at, "channel", "Vox", "fader_highest_db") == pytest.approx(0.0, abs=1e-9)


def test_a_span_ends_where_the_move_ends():
    ride = lane("fader", (0.0, 10.1, 20.0), (0.0, 6.0, 0.0), "dB")
    at = context(track("Vox", automation=(ride,)), mix())
    assert ask(at, "channel", "Vox", "fader_highest_db").where == "bars 6 to 10, 0:10.1 to 0:20.0"


def test_automation_counts_over_a_clip_shorter_than_a_step():
    ride = lane("fader", (0.0, 5.0), (-3.0, 6.0), "dB")
    at = context(track("Vox", at=(10.3, 10.4), automation=(ride,)), track("Gtr"), mix())
    assert value(at, "channel", "Vox", "fader_highest_db") == pytest.approx(6.0)


def test_a_part_that_is_turned_down_answers_nobody():
    at = context(track("Acoustic Gtr L", pan=-50.0), track("Acoustic Gtr R", pan=50.0, fader_db=-200.0), mix())
    assert value(at, "source", "Acoustic Gtr L", "answered") is False
    assert "does not arrive" in value(at, "source", "Acoustic Gtr L", "counterpart")


def test_a_wet_effect_on_a_part_itself_keeps_its_level():
    """Both guitars bear an effect of their own: wholly wet left, of unknown share right. Both arrive at one level."""
    at = context(
        track("Acoustic Gtr L", pan=-50.0, inserts=(reverb(),)),
        track("Acoustic Gtr R", pan=50.0, inserts=(reverb(WHY),)),
        mix(),
    )
    assert value(at, "source", "Acoustic Gtr L", "answered") is True
    assert value(at, "source", "Acoustic Gtr L", "wet_db") == 60.0


def test_an_unknown_wet_share_on_the_direct_path_leaves_direct_and_wet_unknown():
    at = context(track("Vox", output="Bus"), bus("Bus", inserts=(reverb(WHY),)), mix())
    for fact in ("gain_highest_db", "gain_lowest_db", "wet_db", "wettest_db", "driest_db"):
        said = ask(at, "source", "Vox", fact)
        assert isinstance(said, Unknown), fact
        assert said.unknown == "Old Hall on Bus: no value"
    to_mix = {channel.name: channel.to_mix for channel in sheet(at).channels}
    assert isinstance(to_mix["Vox"], Unknown)


def test_a_filter_beside_a_wet_effect_on_the_part_is_no_low_cut_of_its_ambience():
    cut = Equalizer(bands=(EqualizerBand(kind="high-pass", freq_hz=100.0, slope_db_per_oct=12.0),))
    for share in (100.0, 50.0):
        inserts = (Insert(name="Filter", kind="equalizer", equalizer=cut), reverb(share))
        at = context(track("Vox", inserts=inserts), mix())
        assert value(at, "source", "Vox", "ambience_low_cut_db") == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("fact", ["has_ambience", "wet_db", "wettest_db"])
def test_ambience_is_unknown_where_the_destination_of_a_send_is(fact):
    assert isinstance(ask(context(track("Vox", sends=(Send(to=WHY),)), mix()), "source", "Vox", fact), Unknown)


def test_a_part_alone_in_the_centre_pulls_nothing():
    assert value(context(track("Vox"), mix()), "session", "Harrow Gate", "imbalance_causes") == ()


def test_an_empty_lane_beside_the_one_that_moves_is_passed_over():
    lanes = (lane("pan", (), (), "pan"), lane("pan", (0.0, 9.0), (0.0, -40.0), "pan"))
    assert value(context(track("Vox"), mix(automation=lanes)), "mix-bus", "Mix Bus", "off_centre") == 40.0
