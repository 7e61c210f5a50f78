"""Which panned parts answer each other."""

from __future__ import annotations

import itertools

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixlint.analysis.counterparts import closeness, counterparts
from mixlint.session import Automation, Unknown
from tests.facts.small_sessions import ask, context, mix, track, value


def test_two_guitars_answer_each_other():
    at = context(track("Acoustic Gtr L", pan=-50.0), track("Acoustic Gtr R", pan=50.0), mix())
    assert value(at, "source", "Acoustic Gtr L", "counterpart") == "Acoustic Gtr R"
    assert value(at, "source", "Acoustic Gtr R", "answered") is True


@pytest.mark.parametrize(
    ("other", "mismatch"),
    [
        ({"pan": 0.0}, "stands in the centre"),
        ({"pan": -40.0}, "stands 40 left"),
        ({"pan": 20.0}, "stands only 20 right"),
        ({"pan": 50.0, "at": (40.0, 100.0)}, "plays with it for only 33 % of the time"),
        ({"pan": 50.0, "fader_db": -9.0}, "is 9 dB quieter"),
    ],
)
def test_what_keeps_two_parts_from_being_counterparts_is_named(other, mismatch):
    at = context(track("Acoustic Gtr L", pan=-50.0), track("Acoustic Gtr R", **other), mix())
    assert value(at, "source", "Acoustic Gtr L", "answered") is False
    assert mismatch in value(at, "source", "Acoustic Gtr L", "counterpart")


def test_unlike_parts_do_not_answer():
    at = context(track("Acoustic Gtr L", pan=-50.0), track("Backing Vox", pan=50.0), mix())
    assert value(at, "source", "Acoustic Gtr L", "counterpart") == "no like part in the session"


def test_of_three_guitars_the_best_two_are_paired():
    """The doubled pair at 60 belongs together; the third guitar, quieter and nearer the middle, stays alone."""
    at = context(
        track("Acoustic Gtr 1", pan=-60.0),
        track("Acoustic Gtr 2", pan=60.0),
        track("Acoustic Gtr 3", pan=35.0, fader_db=-4.0),
        mix(),
    )
    assert value(at, "source", "Acoustic Gtr 1", "counterpart") == "Acoustic Gtr 2"
    assert value(at, "source", "Acoustic Gtr 3", "answered") is False


def test_names_alike_but_for_the_side_are_like_parts():
    at = context(track("Qwarp L", pan=-50.0), track("Qwarp R", pan=50.0), mix())
    assert value(at, "source", "Qwarp L", "answered") is True


def test_a_part_of_unknown_role_leaves_the_answer_unknown():
    at = context(track("Qwarp", pan=-50.0), track("Zonk", pan=50.0), mix())
    assert isinstance(ask(at, "source", "Qwarp", "answered"), Unknown)


@pytest.mark.slow
@given(st.lists(st.tuples(st.integers(-100, 100), st.integers(-9, 0)), min_size=2, max_size=7))
def test_the_matching_is_the_best_there_is(parts):
    """Against a search through all pairings: as many pairs as possible, and of those the greatest total closeness."""
    channels = [track(f"Acoustic Gtr {k}", pan=float(p), fader_db=float(f)) for k, (p, f) in enumerate(parts)]
    at = context(*channels, mix())
    found = counterparts(at)
    fits = nx.Graph()
    for one, other in itertools.combinations(channels, 2):
        near = closeness(at, one, other)
        if not near.mismatches and min(abs(one.pan), abs(other.pan)) >= 15.0:
            fits.add_edge(one.id, other.id, weight=near.score)
    best = (0, 0.0)
    edges = list(fits.edges(data="weight"))
    for size in range(len(channels) // 2 + 1):
        for chosen in itertools.combinations(edges, size):
            ends = [end for a, b, _ in chosen for end in (a, b)]
            if len(set(ends)) == len(ends):
                best = max(best, (size, sum(weight for _, _, weight in chosen)))
    assert len(found) == 2 * best[0]
    assert sum(near.score for near in found.values()) / 2 == pytest.approx(best[1])


def test_a_part_is_judged_at_its_mean_automated_position():
    """The right guitar stands in the centre on its fader strip and is ridden to 50 right for the whole song."""
    ride = Automation(target="pan", scale="pan", t=(0.0, 0.5), v=(49.0, 50.0))
    at = context(track("Acoustic Gtr L", pan=-50.0), track("Acoustic Gtr R", pan=0.0, automation=(ride,)), mix())
    assert value(at, "source", "Acoustic Gtr L", "counterpart") == "Acoustic Gtr R"


def test_a_counterpart_that_is_faded_down_for_most_of_the_song_does_not_answer():
    fade = Automation(target="fader", scale="dB", t=(0.0, 5.0), v=(0.0, -30.0))
    at = context(track("Acoustic Gtr L", pan=-50.0), track("Acoustic Gtr R", pan=50.0, automation=(fade,)), mix())
    assert value(at, "source", "Acoustic Gtr L", "answered") is False


@pytest.mark.parametrize("count", [3, 9, 25, 40])
def test_like_parts_are_counted_all_however_many(count):
    """Neither itself nor those in the centre are among them; the bound of work on pairing does not cut the count."""
    singers = [track(f"Choir {n}", pan=-60.0 + 120.0 * n / (count - 1)) for n in range(count)]
    at = context(*singers, track("Choir Solo", pan=0.0), track("Banjo", pan=40.0), mix())
    off_centre = sum(abs(singer.pan) >= 15.0 for singer in singers)
    assert value(at, "source", "Choir 0", "like_parts") == off_centre - 1
    assert value(at, "source", "Choir Solo", "like_parts") == off_centre
