"""The mix bus: which it is, what acts on it, and what goes past it."""

from __future__ import annotations

import pytest

from mixlint.facts import House
from mixlint.session import Automation, Insert, Unknown
from tests.facts.small_sessions import ask, bus, context, mix, track, value


def test_without_a_master_the_mix_bus_is_unknown():
    at = context(track("Vocal", output=None))
    assert value(at, "mix-bus", "the mix bus", "shown") is False
    assert isinstance(ask(at, "mix-bus", "the mix bus", "fader_db"), Unknown)


def test_other_masters_count_when_something_that_plays_goes_there():
    other = bus("Out 3-4", kind="master", output=None)
    for where, others in (("Out 3-4", ("Out 3-4",)), ("Mix", ())):
        at = context(track("Vocal"), track("Guitar"), track("Drums", output=where), mix(), other)
        assert value(at, "mix-bus", "Mix Bus", "others") == others


@pytest.mark.parametrize(
    ("insert", "listening", "limiters", "processors"),
    [
        (Insert(name="Room Correction"), ("Room Correction",), (), ("Room Correction",)),
        (Insert(name="Correction", on=False), (), (), ()),
        (Insert(name="Loudness Meter"), (), (), ()),
        (Insert(name="Brick", kind="limiter"), (), ("Brick",), ("Brick",)),
        (Insert(name="Brick", kind="limiter", loaded=False), (), (), ()),
        (Insert(name="Trim", kind="utility"), (), (), ("Trim",)),
    ],
)
def test_what_acts_on_the_mix_bus(insert, listening, limiters, processors):
    at = context(track("Vocal"), mix(inserts=(insert,)))
    answers = [value(at, "mix-bus", "Mix Bus", fact) for fact in ("for_listening", "limiters", "processors")]
    assert answers == [listening, limiters, processors]


def test_a_processor_of_unknown_kind_leaves_it_unknown_and_the_house_settles_it():
    heron = Insert(name="Grey Heron")
    assert isinstance(ask(context(track("V"), mix(inserts=(heron,))), "mix-bus", "Mix Bus", "for_listening"), Unknown)
    house = House(processors={"grey heron": "monitor"})
    at = context(track("V"), mix(inserts=(heron,)), house=house)
    assert value(at, "mix-bus", "Mix Bus", "for_listening") == ("Grey Heron",)


def test_a_pan_that_automation_moves_counts_at_its_furthest():
    lane = Automation(target="pan", scale="pan", t=(0.0, 1.0), v=(0.0, -20.0))
    assert value(context(track("V"), mix(automation=(lane,))), "mix-bus", "Mix Bus", "off_centre") == 20.0


def test_a_reference_counts_muted_or_not():
    at = context(track("Vocal"), track("Reference", mute=True), mix())
    assert value(at, "mix-bus", "Mix Bus", "references") == ("Reference",)
