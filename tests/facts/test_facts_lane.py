"""The table ``lane``: what automation moves, where it ends, how it steps."""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.facts import House
from mixlint.session import Automation, Clip, Insert, Unknown
from tests.facts.audio_sessions import audio_context, sine, write
from tests.facts.small_sessions import ask, bus, context, mix, send, track, value


def fader(*points: tuple[float, float], shape: str = "linear", scale: str = "dB", target: str = "fader") -> Automation:
    times, values = zip(*points, strict=True)
    return Automation(target=target, scale=scale, shape=shape, t=times, v=values)


def automated(lane: Automation, *, at: tuple[float, float] = (0.0, 60.0), house: House | None = None, **more):
    return context(track("Vocal", at=at, automation=(lane,), **more), mix(), house=house)


def test_a_step_of_two_points_at_one_time():
    at = automated(fader((0.0, -5.0), (30.0, -5.0), (30.0, -17.0)))
    assert value(at, "lane", "Vocal: fader", "step_db") == pytest.approx(12.0)
    assert ask(at, "lane", "Vocal: fader", "step_db").note == "bar 16, 0:30.0"


def test_amplitudes_step_in_decibels():
    """From 1.0 to 0.5 is 20 log10 2 = 6.02 dB."""
    at = automated(fader((0.0, 1.0), (30.0, 1.0), (30.0, 0.5), scale="amplitude"))
    assert value(at, "lane", "Vocal: fader", "step_db") == pytest.approx(20.0 * np.log10(2.0))


@pytest.mark.parametrize(("takes_s", "step"), [(0.004, 12.0), (0.006, 0.0), (0.5, 0.0)])
def test_a_ramp_within_five_milliseconds_is_a_step(takes_s, step):
    at = automated(fader((0.0, -5.0), (30.0, -5.0), (30.0 + takes_s, -17.0)))
    assert value(at, "lane", "Vocal: fader", "step_db") == pytest.approx(step)


def test_held_points_step_however_far_apart_they_are():
    assert value(automated(fader((0.0, -5.0), (30.0, -9.0), shape="hold")), "lane", "Vocal: fader", "step_db") == 4.0


def test_a_step_out_of_silence_counts_from_sixty_decibels_down():
    at = automated(fader((0.0, -200.0), (30.0, -5.0), shape="hold"))
    assert value(at, "lane", "Vocal: fader", "step_db") == 55.0


def test_a_step_between_clips_or_at_their_edge_does_not_sound():
    clips = (Clip(start_s=0.0, end_s=29.0), Clip(start_s=30.0, end_s=60.0))
    at = context(track("Vocal", clips=clips, automation=(fader((0.0, -5.0), (30.0, -17.0), shape="hold"),)), mix())
    assert value(at, "lane", "Vocal: fader", "step_db") == 0.0


def test_a_step_in_a_quiet_passage_does_not_count(tmp_path):
    """The file falls to −50 dBFS after its first second."""
    wave = np.concatenate([sine(200.0, 1.0, 0.5), sine(200.0, 1.0, 10 ** (-50 / 20))])
    file = write(tmp_path, "v.wav", wave)

    def stepped(at_s: float) -> float:
        lane = fader((0.0, -5.0), (at_s, -17.0), shape="hold")
        channel = track("Vocal", clips=(Clip(start_s=0.0, end_s=2.0, file=file.id),), automation=(lane,))
        return value(audio_context(tmp_path, [file], channel, mix()), "lane", "Vocal: fader", "step_db")

    assert (stepped(0.5), stepped(1.5)) == (12.0, 0.0)


def test_a_bus_sounds_while_what_feeds_it_plays():
    lane = fader((0.0, 0.0), (30.0, -12.0), shape="hold")
    for played, step in (((0.0, 60.0), 12.0), ((40.0, 60.0), 0.0)):
        at = context(track("Vocal", at=played, output="Band"), bus("Band", automation=(lane,)), mix())
        assert value(at, "lane", "Band: fader", "step_db") == step


def test_where_a_lane_settles_and_what_plays_after_it():
    lane = fader((0.0, -5.0), (20.0, -5.0), (21.5, -80.0), (50.0, -80.0))
    at = automated(lane)
    assert value(at, "lane", "Vocal: fader", "last_move") == 21.5
    assert value(at, "lane", "Vocal: fader", "last_move_takes_s") == 1.5
    assert value(at, "lane", "Vocal: fader", "content_after") == pytest.approx(38.5)
    assert value(at, "lane", "Vocal: fader", "ends_at_db") == -80.0


def test_overlapping_clips_count_once_in_what_plays_after():
    clips = (Clip(start_s=0.0, end_s=40.0), Clip(start_s=30.0, end_s=50.0))
    lane = fader((0.0, 0.0), (35.0, 1.0), shape="hold", scale="switch", target="mute")
    at = context(track("Vocal", clips=clips, automation=(lane,)), mix())
    assert value(at, "lane", "Vocal: mute", "content_after") == pytest.approx(15.0)


def test_without_an_arrangement_it_stays_open():
    at = context(track("Vocal", at=None, automation=(fader((0.0, -5.0), (30.0, -17.0)),)), mix())
    assert isinstance(ask(at, "lane", "Vocal: fader", "content_after"), Unknown)
    assert isinstance(ask(at, "lane", "Vocal: fader", "step_db"), Unknown)


def test_a_send_ends_over_the_level_it_mostly_keeps():
    """−30 dB for 40 of 60 s, then −8 dB."""
    lane = fader((0.0, -30.0), (40.0, -8.0), shape="hold", target="send:0:level")
    at = context(track("Vocal", automation=(lane,), sends=(send("Echo", -30.0),)), bus("Echo", kind="return"), mix())
    assert value(at, "lane", "Vocal: send to Echo, level", "ends_over_db") == pytest.approx(22.0)


@pytest.mark.parametrize(("stands", "off"), [(-2.0, 3.0), (-5.5, 0.0), (-10.0, 4.0)])
def test_how_far_a_fader_is_from_its_lane(stands, off):
    """The lane passes −6 to −5 dB."""
    at = automated(fader((0.0, -6.0), (30.0, -5.0)), fader_db=stands)
    assert value(at, "lane", "Vocal: fader", "static_off_db") == pytest.approx(off)


@pytest.mark.parametrize(
    ("target", "name", "missing"),
    [
        ("send:0:level", "Vocal: send to Echo, level", ""),
        ("send:3:level", "Vocal: send 4, level", "the channel has 1 sends"),
        ("insert:0:on", "Vocal: Slate Gate, switch", ""),
        ("insert:1:wet", "Vocal: Lost Room, wet share", "Lost Room was not loaded"),
        ("insert:9:wet", "Vocal: insert 10, wet", "the channel has 2 inserts"),
        ("knob", "Vocal: knob", "there is no such control"),
    ],
)
def test_a_control_that_is_missing_is_named_with_the_reason(target, name, missing):
    channel = track(
        "Vocal",
        automation=(fader((0.0, 0.0), (1.0, 1.0), target=target, scale="plain"),),
        sends=(send("Echo"),),
        inserts=(Insert(name="Slate Gate"), Insert(name="Lost Room", loaded=False)),
    )
    at = context(channel, bus("Echo", kind="return"), mix())
    assert value(at, "lane", name, "control_found") is (missing == "")
    assert ask(at, "lane", name, "control_found").note == missing


def test_the_house_says_from_where_on_a_move_is_a_step():
    lane = fader((0.0, -5.0), (30.0, -5.4), shape="hold")
    assert value(automated(lane), "lane", "Vocal: fader", "step_db") == 0.0
    finer = automated(lane, house=House(settings={"automation.least_step": 0.3}))
    assert value(finer, "lane", "Vocal: fader", "step_db") == pytest.approx(0.4)


def test_the_house_says_how_near_to_an_end_of_a_clip_a_step_sounds():
    """The step is 5 ms before the end of the clip."""
    lane = fader((0.0, -5.0), (59.995, -17.0), shape="hold")
    assert value(automated(lane), "lane", "Vocal: fader", "step_db") == 0.0
    nearer = automated(lane, house=House(settings={"automation.clip_edge": 1.0}))
    assert value(nearer, "lane", "Vocal: fader", "step_db") == pytest.approx(12.0)
