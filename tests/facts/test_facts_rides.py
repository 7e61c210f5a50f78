"""Rides of a fader against its own habit; every expectation is read off the points that are drawn."""

from __future__ import annotations

import pytest

from mixlint.session import Automation
from tests.facts.small_sessions import ask, context, mix, track, value


def ridden(*points: tuple[float, float]) -> Automation:
    times, levels = zip(*points, strict=True)
    return Automation(target="fader", scale="dB", shape="linear", t=times, v=levels)


def asked(name: str, lane: Automation, fact: str, *others, at=(0.0, 60.0)):
    return value(context(track(name, automation=(lane,), at=at), *others, mix()), "lane", f"{name}: fader", fact)


def test_a_ride_that_stays_lies_outside_of_where_it_was():
    """−4 dB, to −12 at 36 s: 8 dB under all before it, for 24 s."""
    lane = ridden((0.0, -4.0), (35.0, -4.0), (36.0, -12.0))
    assert asked("Bass", lane, "stuck_db") == pytest.approx(8.0)
    assert asked("Bass", lane, "stuck_for_s") == pytest.approx(24.2, abs=0.2)  # within 1.5 dB a little before
    said = ask(context(track("Bass", automation=(lane,)), mix()), "lane", "Bass: fader", "stuck_db")
    assert said.note == "quieter"


def test_where_it_was_before_it_may_end():
    lane = ridden((0.0, -12.0), (8.0, -12.0), (8.1, -4.0), (40.0, -4.0), (40.1, -12.0))
    assert asked("Bass", lane, "stuck_db") == 0.0


def test_a_level_that_holds_for_most_of_the_song_is_the_habit():
    assert asked("Pad", ridden((0.0, -14.0), (15.0, -14.0), (16.0, -4.0)), "stuck_db") == 0.0


def test_a_like_part_that_goes_the_same_way_shows_that_it_is_meant():
    lane = ridden((0.0, -4.0), (35.0, -4.0), (36.0, -12.0))
    other = track("Electric Gtr", automation=(ridden((0.0, -4.0), (38.0, -4.0), (39.0, -10.0)),))
    assert asked("Acoustic Gtr", lane, "stuck_db", other) == 0.0
    late = track("Electric Gtr", automation=(ridden((0.0, -4.0), (50.0, -4.0), (51.0, -10.0)),))
    assert asked("Acoustic Gtr", lane, "stuck_db", late) == pytest.approx(8.0)


@pytest.mark.parametrize(("by", "fact"), [(12.0, "spike_db"), (-20.0, "dip_db")])
def test_a_short_excursion_is_told_from_the_level_around_it(by, fact):
    lane = ridden((0.0, -6.0), (30.0, -6.0), (30.1, -6.0 + by), (30.6, -6.0 + by), (30.7, -6.0))
    assert asked("Keys", lane, fact) == pytest.approx(abs(by))
    assert asked("Keys", lane, "spikes" if by > 0.0 else "dips") == 1
    assert asked("Keys", lane, "dip_db" if by > 0.0 else "spike_db") == 0.0


def test_a_ride_of_three_seconds_is_no_spike():
    assert asked("Keys", ridden((0.0, -6.0), (30.0, -6.0), (30.1, 6.0), (33.1, 6.0), (33.2, -6.0)), "spike_db") == 0.0


def test_an_excursion_where_the_clip_ends_is_no_hole():
    lane = ridden((0.0, -6.0), (29.5, -6.0), (29.6, -60.0), (30.0, -60.0))
    assert asked("Keys", lane, "dip_db", at=(0.0, 30.0)) == 0.0


def test_ducking_that_stops_is_timed_from_the_last_duck():
    """Eight ducks of two seconds every four; the voice goes on after the last, at 34.2 s, for 25.8 s."""
    points = [(0.0, -6.0)]
    for n in range(8):
        start = 4.0 + 4.0 * n
        points += [(start, -6.0), (start + 0.2, -14.0), (start + 2.0, -14.0), (start + 2.2, -6.0)]
    lane, voice = ridden(*points), track("Lead Vocal")
    assert asked("Pad", lane, "ducks", voice) == 8
    assert asked("Pad", lane, "unducked_s", voice) == pytest.approx(25.9, abs=0.3)
    assert asked("Pad", lane, "unducked_gaps", voice) == pytest.approx(25.9 / 1.95, rel=0.1)
    assert asked("Pad", lane, "unducked_s", track("Lead Vocal", at=(0.0, 34.0))) == 0.0


def test_a_slide_is_measured_to_the_foot_of_the_step_that_ends_it():
    """From −11 to −5 dB over 50 s, and at once down to −9: it goes up by 6 dB, and not by 2."""
    lane = ridden((0.0, -7.0), (20.0, -7.0), (20.6, -11.0), (90.0, -11.0), (140.0, -5.0), (140.0, -9.0))
    assert asked("Steel", lane, "slides_for_s", at=(0.0, 160.0)) == pytest.approx(50.0)
    assert asked("Steel", lane, "slides_by_db", at=(0.0, 160.0)) == pytest.approx(6.0)
