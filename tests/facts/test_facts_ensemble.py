"""The table ``source`` on parts that play together: who stops before the others, who misses an entry.

Every expected time is read off the clips.
"""

from __future__ import annotations

import pytest

from mixlint.facts import House
from mixlint.session import Channel, Clip, Marker
from tests.facts.small_sessions import ask, context, mix, track, value


def part(name: str, *spans: tuple[float, float], off: tuple[float, float] | None = None) -> Channel:
    clips = tuple(Clip(start_s=a, end_s=b) for a, b in spans)
    muted = (Clip(start_s=off[0], end_s=off[1], on=False),) if off else ()
    return track(name, clips=(*clips, *muted))


def stops(*parts: Channel, name: str = "Snare", house: House | None = None) -> float:
    return value(context(*parts, mix(), house=house), "source", name, "stops_early_s")


KIT = (part("Kick", (0.0, 80.0)), part("Hat", (0.0, 80.0)), part("Floor Tom", (30.0, 34.0)))


def test_a_part_of_a_kit_that_stops_before_it():
    assert stops(*KIT, part("Snare", (0.0, 50.0))) == 30.0
    at = context(*KIT, part("Snare", (0.0, 50.0)), mix())
    assert ask(at, "source", "Snare", "stops_early_s").note == "at bar 26, 0:50.0, where Kick and Hat go on"
    assert value(at, "source", "Snare", "stops_in_its_kit") is False
    rooms = context(*KIT, part("Drum Room", (0.0, 80.0)), part("Snare", (0.0, 50.0)), mix())
    assert value(rooms, "source", "Snare", "stops_in_its_kit") is True
    assert value(rooms, "source", "Kick", "stops_early_s") == 0.0


def test_a_clip_that_is_switched_off_does_not_play():
    assert stops(*KIT, part("Snare", (0.0, 50.0), off=(50.0, 80.0))) == 30.0


@pytest.mark.parametrize(
    "spans",
    [
        ((0.0, 80.0),),  # it goes on
        ((0.0, 10.0), (40.0, 50.0)),  # it had lines of its own
        ((0.0, 12.0),),  # too little to be a pattern
    ],
)
def test_what_is_no_early_stop(spans):
    assert stops(*KIT, part("Snare", *spans)) == 0.0


def test_one_companion_makes_no_pattern():
    assert stops(part("Kick", (0.0, 80.0)), part("Snare", (0.0, 50.0))) == 0.0
    one = House(settings={"companions.least_family": 1.0})
    assert stops(part("Kick", (0.0, 80.0)), part("Snare", (0.0, 50.0)), house=one) == 30.0


def test_three_companions_of_any_family_do():
    others = (part("Bass", (0.0, 80.0)), part("Piano", (0.0, 80.0)), part("Lead Vocal", (0.0, 80.0)))
    assert stops(*others, part("Snare", (0.0, 50.0))) == 30.0
    assert stops(*others[:2], part("Snare", (0.0, 50.0))) == 0.0


def test_half_of_a_band_that_stops_at_once_is_an_arrangement():
    on = (part("Bass", (0.0, 80.0)), part("Piano", (0.0, 80.0)), part("Lead Vocal", (0.0, 80.0)))
    off = tuple(part(name, (0.0, 50.0)) for name in ("Kick", "Hat", "Violin"))
    assert stops(*on, *off, part("Snare", (0.0, 50.0))) == 0.0


def missed(*parts: Channel, name: str, markers: tuple[Marker, ...] = ()) -> float:
    return value(context(*parts, mix(), markers=markers), "source", name, "missed_entry_s")


CHORUSES = ((20.0, 30.0), (40.0, 52.0), (60.0, 70.0), (80.0, 90.0))


def without(*at: int) -> tuple[tuple[float, float], ...]:
    return tuple(span for n, span in enumerate(CHORUSES) if n not in at)


@pytest.mark.parametrize(
    ("lacks", "seconds"), [((), 0.0), ((1,), 12.0), ((2,), 10.0), ((0,), 0.0), ((3,), 0.0), ((1, 2), 0.0)]
)
def test_one_entry_in_the_middle_is_missed_and_no_other(lacks, seconds):
    others = (part("Backing Vox High", *CHORUSES), part("Backing Vox Mid", *CHORUSES))
    assert missed(*others, part("Backing Vox Low", *without(*lacks)), name="Backing Vox Low") == seconds


def test_a_twin_alone_is_enough():
    left, right = part("Backing Vox L", *CHORUSES), part("Backing Vox R", *without(1))
    assert missed(left, right, name="Backing Vox R") == 12.0
    assert missed(part("Harmony High", *CHORUSES), part("Backing Vox R", *without(1)), name="Backing Vox R") == 0.0


def marks(*names: str) -> tuple[Marker, ...]:
    times = (0.0, *(edge for span in CHORUSES for edge in span))
    return tuple(Marker(time_s=time, name=name) for time, name in zip(times, names, strict=True))


SECTIONS = marks("Intro", "Chorus 1", "Verse 2", "Chorus 2", "Verse 3", "Chorus 3", "Bridge", "Last Chorus", "Outro")


def test_a_chorus_by_the_markers_that_one_part_misses():
    band = (part("Drums", (0.0, 95.0)), part("Bass", (0.0, 95.0)), part("Lead Vocal", (10.0, 95.0)))
    strings = part("Violin", *without(1))
    assert missed(*band, strings, name="Violin", markers=SECTIONS) == 12.0
    at = context(*band, strings, mix(), markers=SECTIONS)
    assert ask(at, "source", "Violin", "missed_entry_s").note == "Chorus 2 (bars 21 to 26, 0:40.0 to 0:52.0)"
    assert missed(*band, strings, name="Violin") == 0.0
    assert missed(*band, part("Violin", *without(0)), name="Violin", markers=SECTIONS) == 0.0
    assert missed(*band, part("Violin", *without(1), (90.0, 95.0)), name="Lead Vocal", markers=SECTIONS) == 0.0


def test_a_chorus_that_rests_is_no_hole():
    """Of four parts that play in all other choruses, two rest in the second."""
    resting = tuple(part(name, (0.0, 40.0), (52.0, 95.0)) for name in ("Drums", "Bass"))
    going = (part("Lead Vocal", (0.0, 95.0)), part("Piano", (0.0, 95.0)))
    assert missed(*resting, *going, name="Drums", markers=SECTIONS) == 0.0
