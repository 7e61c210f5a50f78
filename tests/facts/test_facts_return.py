"""What a return puts out: dry signal, low end, and what is not known of either."""

from __future__ import annotations

import pytest

from mixlint.facts import TABLES
from mixlint.session import Automation, Equalizer, EqualizerBand, Insert, Unknown
from tests.facts.small_sessions import ask, bus, context, mix, reverb, send, track, value


def low_cut(freq_hz=150.0, slope=12.0, **more):
    band = EqualizerBand(kind="high-pass", freq_hz=freq_hz, slope_db_per_oct=slope)
    return Insert(name="Filter", kind="equalizer", opaque=False, equalizer=Equalizer(bands=(band,)), **more)


def with_return(*inserts, **more):
    plate = bus("Plate", kind="return", inserts=inserts, **more)
    return context(track("Vox", sends=(send("Plate", -12.0),)), plate, mix())


@pytest.mark.parametrize(
    ("wet", "dry_db"), [(50.0, 0.0), (75.0, -9.542), (90.0, -19.085), (95.0, -25.575), (99.0, -39.913)]
)
def test_dry_of_a_linear_mix_control(wet, dry_db):
    """20 log10((1 − x) / x) for a wet share x (arithmetic identity)."""
    assert value(with_return(reverb(wet)), "return", "Plate", "dry_db") == pytest.approx(dry_db, abs=1e-3)


def test_a_wholly_wet_effect_in_the_row_stops_the_dry_signal():
    at = with_return(reverb(Unknown(unknown="hidden"), name="First"), reverb(100.0, name="Second"))
    assert value(at, "return", "Plate", "dry_db") == -200.0


@pytest.mark.parametrize(("state", "why"), [({"on": False}, "switched off"), ({"loaded": False}, "not loaded")])
def test_an_effect_that_does_not_act_leaves_a_plain_copy(state, why):
    at = with_return(reverb(100.0, **state))
    assert value(at, "return", "Plate", "dry_db") == 0.0
    assert why in ask(at, "return", "Plate", "dry_db").note


def test_a_hidden_mix_control_is_open_with_what_would_settle_it():
    said = ask(with_return(reverb(Unknown(unknown="it is hidden"))), "return", "Plate", "dry_db")
    assert isinstance(said, Unknown)
    assert said.settle


@pytest.mark.parametrize(
    ("freq_hz", "slope", "taken"),
    [(100.0, 12.0, 9.39), (150.0, 12.0, 16.02), (120.0, 24.0, 24.1), (60.0, 12.0, 3.01), (120.0, 6.0, 6.99)],
)
def test_low_cut_by_slope(freq_hz, slope, taken):
    """Butterworth attenuation 10 log10(1 + (fc/60)^2n), the tiny loss at 1 kHz aside (published formula)."""
    at = with_return(low_cut(freq_hz, slope), reverb())
    assert value(at, "return", "Plate", "low_cut_db") == pytest.approx(taken, abs=0.07)


def test_a_low_cut_that_is_off_takes_nothing():
    assert value(with_return(low_cut(on=False), reverb()), "return", "Plate", "low_cut_db") == pytest.approx(0.0)


def test_a_low_cut_on_a_feeding_bus_counts_only_if_it_feeds_nothing_else():
    feed = bus("Feed", output="Plate", inserts=(low_cut(),))
    plate = bus("Plate", kind="return", inserts=(reverb(),))
    alone = context(track("Vox", sends=(send("Feed"),)), feed, plate, mix())
    assert value(alone, "return", "Plate", "low_cut_db") > 15.0
    shared = context(
        track("Vox", sends=(send("Feed"),)), feed.model_copy(update={"sends": (send("Mix"),)}), plate, mix()
    )
    assert value(shared, "return", "Plate", "low_cut_db") == pytest.approx(0.0)


def test_a_hidden_equalizer_leaves_the_low_cut_open():
    at = with_return(Insert(name="Silk EQ", kind="equalizer"), reverb())
    assert isinstance(ask(at, "return", "Plate", "low_cut_db"), Unknown)


def test_a_track_with_an_inserted_reverb_and_a_send_in_works_as_a_return():
    at = context(
        track("Vox", sends=(send("Verb"),)), track("Verb", at=None, legs=2, inserts=(reverb(),)), track("Gtr"), mix()
    )
    assert [row.subject.name for row in TABLES["return"].rows(at)] == ["Verb"]


def test_a_return_fed_by_nothing_that_plays_is_not_fed():
    at = context(track("Vox", at=None, sends=(send("Plate"),)), track("Gtr"), bus("Plate", kind="return"), mix())
    assert value(at, "return", "Plate", "fed") is False


def moved(what: str, t: tuple[float, ...], v: tuple[float, ...]) -> Automation:
    scale = "switch" if what == "on" else "plain"
    return Automation(target=f"insert:0:{what}", scale=scale, t=t, v=v)


@pytest.mark.parametrize(
    ("insert", "lane", "dry_db", "how"),
    [
        (reverb(100.0), moved("wet", (0.0, 30.0), (100.0, 50.0)), 0.0, "to 50 % wet"),  # 20 log10(½ / ½)
        (reverb(40.0), moved("wet", (0.0,), (100.0,)), -200.0, "100 % wet"),  # the lane holds it, not the knob
        (reverb(100.0), moved("wet", (0.0, 61.0), (100.0, 0.0)), -200.0, "100 % wet"),  # after the last clip
        (reverb(100.0), moved("on", (0.0, 30.0), (1.0, 0.0)), 0.0, "switches Old Hall off"),
        (reverb(100.0, on=False), moved("on", (0.0,), (1.0,)), -200.0, "100 % wet"),
        (reverb(100.0), moved("on", (0.0, 30.0), (0.0, 0.0)), 0.0, "is switched off"),
    ],
)
def test_automation_that_brings_dry_signal_in_is_seen(insert, lane, dry_db, how):
    at = with_return(insert, automation=(lane,))
    assert value(at, "return", "Plate", "dry_db") == pytest.approx(dry_db, abs=1e-9)
    assert how in ask(at, "return", "Plate", "dry_db").note


def test_the_span_in_which_dry_signal_is_let_in_is_given():
    at = with_return(reverb(100.0), automation=(moved("wet", (0.0, 30.0, 40.0), (100.0, 50.0, 100.0)),))
    assert ask(at, "return", "Plate", "dry_db").where == "bars 16 to 20, 0:30.0 to 0:40.0"


@pytest.mark.parametrize("kind", ["return", "group"])
def test_a_return_whose_processor_cannot_be_told_is_an_ambience_of_unknown_kind(kind):
    """What passes it counts as no second path and as no direct gain; what it lists does not tell whether it filters."""
    box = Insert(name="Quarry Box", wet=100.0, opaque=False)
    verb = bus("Verb", kind=kind, inserts=(box,))
    at = context(track("Vox", sends=(send("Verb", -6.0),)), verb, mix())
    dry = context(track("Vox"), mix())
    assert value(at, "source", "Vox", "paths") == 1
    assert value(at, "source", "Vox", "second_path_db") == -200.0
    assert value(at, "source", "Vox", "gain_highest_db") == value(dry, "source", "Vox", "gain_highest_db")
    assert value(at, "source", "Vox", "has_ambience") is True
    for fact in ("dry_db", "low_cut_db"):
        assert isinstance(ask(at, "return", "Verb", fact), Unknown)
    assert "a return on which nothing tells what its processor does is taken as ambience" in at.assumptions()


@pytest.mark.parametrize(
    "more", [{"name": "Parallel Crush"}, {"inserts": (Insert(name="Press", kind="compressor", opaque=False),)}]
)
def test_a_parallel_bus_or_a_known_processor_is_no_unknown_ambience(more):
    box = Insert(name="Quarry Box", opaque=False)
    verb = bus(**({"name": "Cloud", "kind": "return", "inserts": (box,)} | more))
    at = context(track("Snare", sends=(send(verb.id, -6.0),)), verb, mix())
    assert value(at, "source", "Snare", "paths") == 2
