"""Where a channel stands at the mix bus. Equal power: W3C Web Audio API, StereoPannerNode Panning, for a mono input."""

from __future__ import annotations

import pytest

from mixlint.analysis.context import SessionContext
from mixlint.analysis.place_at_mix import Place, place_at_mix
from mixlint.session import Channel, Insert, Send, Session


def placed(channel: str = "a", **changes: object) -> Place | None:
    """The place of a mono or stereo part with a pan and an output, a reverb return, and a group that leans 50 right."""
    part = {"id": "a", "name": "A", "kind": "track", "legs": 1, "output": "mix", **changes}
    hall = Insert(name="Hall", kind="reverb", wet=100.0)
    session = Session(
        channels=(
            Channel.model_validate(part),
            Channel(id="hall", name="Hall", kind="return", legs=2, output="mix", inserts=(hall,)),
            Channel(id="g", name="Group", kind="group", legs=2, output="mix", pan=50.0),
            Channel(id="mix", name="Mix", kind="master", legs=2, output=None),
        )
    )
    return place_at_mix(SessionContext(session), channel)


@pytest.mark.parametrize("pan", [-100.0, -37.0, 0.0, 12.5, 100.0])
def test_a_part_stands_where_it_is_panned(pan: float) -> None:
    found = placed(pan=pan)
    assert found is not None
    assert found[:3] == pytest.approx((pan, pan, pan), abs=1e-6)
    assert found.power == pytest.approx(1.0, abs=1e-6)
    assert not found.wet


def test_the_strips_on_the_way_move_it() -> None:
    """A balance that leans right takes from the left side alone."""
    found, straight = placed(output="g"), placed()
    assert found is not None
    assert straight is not None
    assert found.at > straight.at == pytest.approx(0.0, abs=1e-6)
    assert found.power < straight.power


def test_a_stereo_part_has_two_sides_and_a_silent_one_has_no_place() -> None:
    found = placed(legs=2)
    assert found is not None
    assert found[:3] == pytest.approx((0.0, -100.0, 100.0), abs=1e-6)
    assert placed(mute=True) is None
    assert placed(output=None) is None


def test_what_is_sent_into_a_reverb_alone_arrives_by_it() -> None:
    found = placed(output=None, sends=(Send(to="hall", level_db=0.0, tap="pre"),))
    assert found is not None
    assert found.wet
    assert found.at == pytest.approx(0.0, abs=1e-6)
    hall = placed("hall")
    assert hall is not None
    assert hall.wet
