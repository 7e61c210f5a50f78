"""Where parts and their ambience stand, and what stands around them."""

from __future__ import annotations

import pytest

from mixlint.facts import TABLES, House
from mixlint.session import Clip, Insert, MediaFile, Parameter, Unknown
from tests.facts.small_sessions import ask, bus, context, mix, reverb, send, track, value


def plate(**more: object):
    return bus("Plate", kind="return", inserts=(reverb(),), **more)


@pytest.mark.parametrize(
    ("pan", "verb_pan", "side"), [(-50.0, -50.0, "same"), (-50.0, 50.0, "opposite"), (40.0, 60.0, "same")]
)
def test_the_side_of_the_ambience_is_seen_from_the_part(pan, verb_pan, side):
    at = context(track("Gtr", pan=pan, sends=(send("Plate"),)), plate(pan=verb_pan), mix())
    assert value(at, "source", "Gtr", "ambience_side") == side
    assert value(at, "source", "Gtr", "ambience_placed") is True


def test_a_shared_return_in_the_centre_has_no_place_and_one_of_its_own_has():
    shared = context(
        track("Gtr L", pan=-50.0, sends=(send("Plate"),)), track("Vox", sends=(send("Plate"),)), plate(), mix()
    )
    assert value(shared, "source", "Gtr L", "ambience_placed") is False
    own = context(track("Gtr L", pan=-50.0, sends=(send("Plate"),)), plate(), mix())
    assert value(own, "source", "Gtr L", "ambience_placed") is True


def test_a_panned_send_gives_the_ambience_a_place():
    at = context(
        track("Gtr L", pan=-50.0, sends=(send("Plate", pan=40.0),)),
        track("Vox", sends=(send("Plate"),)),
        plate(),
        mix(),
    )
    assert value(at, "source", "Gtr L", "ambience_placed") is True


def test_a_twin_stands_on_the_other_side_at_half_the_angle_or_more():
    at = context(track("Lead Vocal 1", pan=-40.0), track("Lead Vocal 2", pan=20.0), mix())
    assert value(at, "source", "Lead Vocal 1", "twin") is True
    near = context(track("Lead Vocal 1", pan=-40.0), track("Lead Vocal 2", pan=15.0), mix())
    assert value(near, "source", "Lead Vocal 1", "twin") is False


def test_the_file_shows_the_legs_and_two_declared_ones_are_no_proof():
    clips = (Clip(start_s=0.0, end_s=9.0, file="a"),)
    mono = context(track("Bass", legs=2, clips=clips), mix(), media=(MediaFile(id="a", path="a.wav", legs=1),))
    assert value(mono, "source", "Bass", "legs") == 1
    assert isinstance(ask(context(track("Bass", legs=2), mix()), "source", "Bass", "legs"), Unknown)
    assert value(context(track("Bass", legs=1), mix()), "source", "Bass", "legs") == 1


def test_rivals_in_the_centre_are_loud_mono_and_sound_with_the_voice():
    vox = track("Lead Vocal", at=(0.0, 40.0))
    counted = [track("Acoustic Gtr", fader_db=-6.0), track("Piano", pan=10.0, fader_db=-3.0)]
    left_out = [
        track("Electric Gtr", fader_db=-6.5),  # more than 6 dB under the voice
        track("Violin", pan=-12.0),  # beside the centre
        track("Organ", legs=2),  # spreads by itself
        track("Flute", at=(21.0, 90.0)),  # plays for less than half of what is sung
        track("Bass"),
        track("Shaker"),
    ]
    at = context(vox, *counted, *left_out, mix())
    assert ask(at, "source", "Lead Vocal", "centre_rivals").note == "Acoustic Gtr, Piano"
    assert value(at, "source", "Lead Vocal", "centre_rivals") == 2


def test_an_unread_name_is_unread_and_leaves_no_rule_open():
    at = context(track("Zorp"), mix())
    assert value(at, "source", "Zorp", "part") == "unread"
    assert value(at, "source", "Zorp", "part_family") == "unread"


def test_the_intents_of_the_house_stand_in_every_table():
    house = House(intents=frozenset({"mono", "hard-panned"}))
    at = context(
        track("Gtr L", pan=-50.0, inserts=(Insert(name="X"),), sends=(send("Plate"),)),
        track("Gtr R", pan=50.0),
        plate(),
        mix(),
        house=house,
    )
    for table, name in (("source", "Gtr L"), ("return", "Plate"), ("insert", "Gtr L: X"), ("pair", "Gtr L and Gtr R")):
        assert value(at, table, name, "intents") == ("hard-panned", "mono")


def test_a_cue_mix_is_no_return():
    phones = bus("Singer Phones", kind="return", output=None)
    at = context(
        track("Vox", sends=(send("Singer Phones", tap="pre"),)), phones, mix(), house=House(cue=("Singer Ph*",))
    )
    assert TABLES["return"].rows(at) == ()


def test_pre_delay_legs_and_feeding_families_of_a_return():
    at = context(
        track("Snare", output="Drums"),
        track("Vox", sends=(send("Plate"),)),
        bus("Drums", sends=(send("Plate"),)),
        bus("Plate", kind="return", inserts=(reverb(pre_delay_ms=30.0),)),
        mix(),
    )
    assert value(at, "return", "Plate", "pre_delay_ms") == 30.0
    assert value(at, "return", "Plate", "legs") == 2
    assert value(at, "return", "Plate", "feeding_families") == ("drums", "vocals")


def test_a_pre_delay_that_is_a_note_value_is_in_time():
    """At 120 bpm a thirty-second lasts 62.5 ms, and a sixteenth triplet 83.3: 70 ms is 12 % over the nearer one."""
    for ms, off in ((62.5, 0.0), (70.0, 12.0), (0.0, 100.0)):
        at = context(
            track("Vox", sends=(send("Plate"),)),
            bus("Plate", kind="return", inserts=(reverb(pre_delay_ms=ms),)),
            mix(),
        )
        assert value(at, "return", "Plate", "pre_delay_off_tempo") == pytest.approx(off)


def test_a_pre_delay_is_read_from_the_parameters_by_its_unit():
    def lists(name: str, number: float, unit: str):
        listed = reverb(parameters=(Parameter(id="9", name=name, value=number, unit=unit),))
        at = context(track("Vox", sends=(send("Plate"),)), bus("Plate", kind="return", inserts=(listed,)), mix())
        return ask(at, "return", "Plate", "pre_delay_ms")

    assert lists("Pre-delay", 0.035, "seconds").value == pytest.approx(35.0)
    assert lists("Predelay", 20.0, "ms").value == pytest.approx(20.0)
    assert isinstance(lists("Pre-delay", 0.2, "normalized"), Unknown)
    assert isinstance(lists("Decay", 1.2, "seconds"), Unknown)
