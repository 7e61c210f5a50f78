"""The table ``channel`` on VCAs: how far one takes down what it moves, and what is known to lie inside it."""

from __future__ import annotations

import pytest

from mixlint.facts import House
from mixlint.session import Automation, Channel, Unknown
from tests.facts.small_sessions import ask, bus, context, mix, track, value


def vca(name: str = "Drum VCA", **more) -> Channel:
    return Channel(id=name, name=name, kind="vca", output=None, **more)


def lane(target: str, scale: str, *points: tuple[float, float]) -> Automation:
    times, values = zip(*points, strict=True)
    return Automation(target=target, scale=scale, t=times, v=values)


def cut(*lanes: Automation, house: House | None = None, **more) -> tuple[float, str]:
    at = context(track("Kick"), mix(), vca(automation=lanes, **more), house=house)
    found = ask(at, "channel", "Drum VCA", "vca_cut_db")
    return found.number, found.note


@pytest.mark.parametrize(
    ("stored", "db", "note"),
    [
        ({}, 0.0, "stands open"),
        ({"fader_db": 3.0}, 0.0, "stands open"),
        ({"fader_db": -20.0}, 20.0, "stands at \u221220 dB"),
        ({"fader_db": -3.0, "mute": True}, 200.0, "is muted"),
        ({"fader_db": Unknown(unknown="not shown"), "mute": Unknown(unknown="not shown")}, 0.0, "stands open"),
    ],
)
def test_how_far_a_vca_takes_down_what_it_moves(stored, db, note):
    assert cut(**stored) == (db, note)


def test_its_automation_counts_by_where_it_leaves_it():
    assert cut(lane("mute", "switch", (0.0, 0.0), (30.0, 1.0))) == (200.0, "is muted from bar 16, 0:30.0 on")
    assert cut(lane("mute", "switch", (0.0, 0.0), (30.0, 1.0), (40.0, 0.0))) == (0.0, "stands open")
    assert cut(lane("fader", "dB", (0.0, 0.0), (30.0, -15.0)))[0] == 15.0
    assert cut(lane("fader", "dB", (0.0, -25.0))) == (25.0, "stands at \u221225 dB")


def test_a_fade_at_the_end_of_the_song_leaves_nothing():
    """It ends 3 s before the song does, and the house may ask about less."""
    ended = lane("fader", "dB", (0.0, 0.0), (57.0, -60.0))
    assert cut(ended)[0] == 0.0
    assert cut(ended, house=House(settings={"vca.least_left": 2.0}))[0] == 60.0


def test_what_lies_inside_it_are_its_members_whatever_is_between():
    inside = (bus("Drums", parent="Drum VCA"), track("Kick", output="Drums", parent="Drums"))
    at = context(vca(mute=True), *inside, mix())
    found = ask(at, "channel", "Drum VCA", "vca_moves_nothing")
    assert (found.value, found.note) == (False, "Drums, Kick")
    assert value(context(vca(), track("Spare", at=None, parent="Drum VCA"), track("Kick"), mix()),
                 "channel", "Drum VCA", "vca_moves_nothing") is True  # fmt: skip


def test_where_nothing_lies_inside_it_its_name_is_no_more_than_a_hint():
    at = context(bus("Drum Bus"), track("Kick", output="Drum Bus"), vca(mute=True), mix())
    found = ask(at, "channel", "Drum VCA", "vca_moves_nothing")
    assert isinstance(found, Unknown)
    assert found.unknown == "which channels Drum VCA moves is not in the export; by its name perhaps Drum Bus"
    plain = ask(context(track("Kick"), vca("All"), mix()), "channel", "All", "vca_moves_nothing")
    assert isinstance(plain, Unknown)
    assert plain.unknown == "which channels All moves is not in the export"


def test_whether_automation_moves_it():
    moved = vca(automation=(lane("fader", "dB", (0.0, 0.0), (30.0, -15.0)),))
    held = vca(automation=(lane("fader", "dB", (0.0, -15.0)),))
    ridden = [value(context(track("Kick"), mix(), one), "channel", "Drum VCA", "vca_ridden") for one in (moved, held)]
    assert ridden == [True, False]


def test_another_strip_is_no_vca():
    assert isinstance(ask(context(track("Kick"), mix()), "channel", "Kick", "vca_cut_db"), Unknown)
