"""Which of several masters is the mix bus, a VCA that is sent to, and pans that all stand at 0 without a range."""

from __future__ import annotations

from pathlib import Path

from tests.importers.documents import channel, session_of, told, track

PHONES = '<Channel id="hp" name="Phones" role="master"/>'
BARE = '<Channel id="m" name="Main" role="master"/>'
LOOSE = '<Pan unit="normalized" value="{}"/>'


def test_of_several_bare_masters_the_one_that_most_go_out_to_is_the_mix_bus(tmp_path: Path) -> None:
    """A pair of headphone outputs that stands first in the file is not taken for the mix bus."""
    session = session_of(tmp_path, PHONES + track("Kick") + track("Bass") + track("Click", to="hp"), master=BARE)
    assert channel(session, "Main").kind == "master"
    assert channel(session, "Phones").kind == "group"
    assert told(session, "Main was taken as the mix bus")


def test_of_masters_alike_the_first_is_the_mix_bus(tmp_path: Path) -> None:
    session = session_of(tmp_path, PHONES + track("Kick", to=None), master=BARE)
    assert channel(session, "Phones").kind == "master"


def test_a_vca_that_is_sent_to_carries_audio(tmp_path: Path) -> None:
    sends = '<Sends><Send destination="v" type="post"><Volume unit="linear" value="1" min="0" max="1"/></Send></Sends>'
    session = session_of(tmp_path, track("Kick", sends) + '<Channel id="v" name="Cue" role="vca"/>')
    assert channel(session, "Cue").kind == "group"
    assert told(session, "yet channels send to it", "v")


def test_pans_that_all_stand_at_0_without_a_range_are_the_centre(tmp_path: Path) -> None:
    """By the schema 0 of a normalized value is the left end; a mix that is wholly left in every strip is none."""
    centre = LOOSE.format("0.0")
    session = session_of(tmp_path, "".join(track(name, centre) for name in ("Kick", "Bass", "Vox")))
    assert [channel(session, name).pan for name in ("Kick", "Bass", "Vox")] == [0.0, 0.0, 0.0]
    assert told(session, "Every pan in this file is 0")


def test_one_pan_elsewhere_keeps_0_at_the_left(tmp_path: Path) -> None:
    pans = {"Kick": "0.5", "Gtr": "0.0", "Keys": "0.0"}
    session = session_of(tmp_path, "".join(track(name, LOOSE.format(pan)) for name, pan in pans.items()))
    assert [channel(session, name).pan for name in pans] == [0.0, -100.0, -100.0]
    assert not told(session, "Every pan")
