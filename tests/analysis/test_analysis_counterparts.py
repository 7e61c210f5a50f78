"""Which panned parts answer each other."""

from __future__ import annotations

import itertools

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixlint.analysis.counterparts import closeness, counterparts, other_instruments
from mixlint.analysis.partners import partners
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


DENSE = (track("Crunch L", pan=-70.0), track("Crunch R", pan=70.0), track("Lead Gtr", pan=50.0))
"""Guitars that could stand in for a right one on the other side (common practice, no source)."""


@pytest.mark.parametrize(
    ("right", "said"),
    [
        ((track("Rhythm Gtr R", pan=0.0),), "the nearest, Rhythm Gtr R, stands in the centre"),
        ((track("Rhythm Gtr R", pan=80.0, mute=True),), "the nearest, Rhythm Gtr R, is muted"),
        ((track("Rhythm Gtr R", pan=80.0, fader_db=-9.0),), "the nearest, Rhythm Gtr R, is 9 dB quieter"),
        (
            (track("Rhythm Gtr R", pan=80.0, at=(80.0, 140.0)),),
            "the nearest, Rhythm Gtr R, plays with it for only 33 %",
        ),
        ((), "the session has no right one of that name"),
    ],
)
def test_in_a_dense_session_only_the_partner_by_name_answers(right, said):
    at = context(track("Rhythm Gtr L", pan=-80.0, at=(0.0, 100.0)), *right, *DENSE, mix())
    assert value(at, "source", "Rhythm Gtr L", "answered") is False
    assert value(at, "source", "Rhythm Gtr L", "counterpart").startswith(said)


def test_a_partner_in_order_answers_and_nobody_else_takes_it():
    at = context(track("Rhythm Gtr L", pan=-80.0), track("Rhythm Gtr R", pan=80.0), *DENSE, mix())
    assert {c: counterparts(at)[c].other for c in ("Rhythm Gtr L", "Crunch L")} == {
        "Rhythm Gtr L": "Rhythm Gtr R",
        "Crunch L": "Crunch R",
    }
    assert "Lead Gtr" not in counterparts(at)


@pytest.mark.parametrize(
    "partner", [{"pan": Unknown(unknown="not told")}, {"mute": Unknown(unknown="not told"), "pan": 0.0}]
)
def test_a_partner_of_which_pan_or_mute_is_not_known_leaves_the_answer_open(partner):
    at = context(track("Rhythm Gtr L", pan=-80.0), track("Rhythm Gtr R", **partner), *DENSE, mix())
    assert isinstance(ask(at, "source", "Rhythm Gtr L", "answered"), Unknown)


@pytest.mark.parametrize(
    ("names", "expected"),
    [
        (("Gtr L", "Gtr R"), {"Gtr L": "Gtr R", "Gtr R": "Gtr L"}),
        (("E-Git links", "E-Git rechts"), {"E-Git links": "E-Git rechts", "E-Git rechts": "E-Git links"}),
        (("Chitarra sx", "Chitarra dx"), {"Chitarra sx": "Chitarra dx", "Chitarra dx": "Chitarra sx"}),
        (("BV 1 L", "BV 2 R"), {}),
        (("Gtr L", "Piano R"), {}),
        (("Gtr", "Gtr R"), {}),
    ],
)
def test_partners_differ_in_nothing_but_the_side(names, expected):
    """Words for left and right of the languages: common practice, no source."""
    at = context(*(track(name) for name in names), mix())
    assert {one: other.id for one, other in partners(at).items()} == expected


def test_unlike_instruments_answer_each_other_where_no_like_part_is_left():
    at = context(track("Skank Gtr", pan=-60.0), track("Piano", pan=50.0), track("Tambourine", pan=55.0), mix())
    assert {one: near.other for one, near in other_instruments(at).items()} == {"Skank Gtr": "Piano", "Piano": "Piano"}
    assert counterparts(at) == {}


def test_an_instrument_does_not_stand_in_for_a_partner_by_name():
    at = context(track("Gtr L", pan=-60.0), track("Gtr R", pan=0.0), track("Piano", pan=50.0), mix())
    assert other_instruments(at) == {}
