"""How controls stand and move: mutes and switches under automation, mono strips with effects, what stays untold."""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.routing import Routing, assumptions
from mixlint.routing.trace import trace
from mixlint.session import Automation, Insert, Send, Unknown
from tests.routing.desks import bus, mix, reverb, send, session, track
from tests.routing.test_routing_gains import AT, routed

WHY = Unknown(unknown="no value")


def lane(target: str, t: tuple[float, ...], v: tuple[float, ...], scale: str = "switch") -> Automation:
    return Automation(target=target, scale=scale, t=t, v=v)


@pytest.mark.parametrize(
    ("mute", "t", "v", "silent"),
    [
        (False, (0.0,), (1.0,), True),
        (True, (0.0,), (0.0,), False),
        (False, (0.0, 9.0), (1.0, 1.0), True),
        (True, (0.0, 9.0), (1.0, 0.0), False),
        (True, (), (), True),
    ],
)
def test_a_lane_decides_on_the_mute_though_it_never_moves(mute, t, v, silent):
    """The wiring, the gains over the song and the gains now agree on what is muted throughout."""
    routing = routed(track("Vox", mute=mute, automation=(lane("mute", t, v),)), mix())
    assert ("Vox" in routing.wiring.muted) is silent
    over = routing.gains(AT, np.array([1.0, 20.0])).sides("Vox")
    assert bool(over.max() == 0.0) is silent
    if len(set(v)) < 2:
        assert bool(routing.gains(AT).sides("Vox").max() == 0.0) is silent


def test_an_automated_mute_silences_pre_fader_sends_as_a_fixed_one_does():
    moved = track("Vox", None, legs=2, sends=(send("Bus", tap="pre"),), automation=(lane("mute", (0, 9), (0, 1)),))
    over = routed(moved, bus("Bus"), mix()).gains(AT, np.array([5.0, 15.0])).sides("Vox")
    assert over[:, 0, 0] == pytest.approx([1.0, 0.0])
    closed_now = moved.model_copy(update={"mute": True})
    now = routed(closed_now, bus("Bus"), mix())
    assert now.gains(AT).sides("Vox").max() == 0.0
    assert not trace(now, "Vox").arrivals


def test_a_send_that_only_automation_switches_on_is_silent_now():
    thrown = track("Vox", None, legs=2, sends=(send("Bus", on=False),), automation=(lane("send:0:on", (0, 9), (0, 1)),))
    routing = routed(thrown, bus("Bus"), mix())
    assert routing.gains(AT).sides("Vox").max() == 0.0
    assert routing.gains(AT, np.array([5.0, 15.0])).sides("Vox")[:, 0, 0] == pytest.approx([0.0, 1.0])


def test_a_control_that_is_not_given_stands_where_its_automation_begins():
    ride = lane("fader", (0.0, 9.0), (-6.0, 0.0), "dB")
    routing = routed(track("Vox", legs=2, fader_db=WHY, automation=(ride,)), mix())
    assert not routing.unknown_on_the_path["Vox"]
    assert 20 * np.log10(routing.gains(AT).sides("Vox")[0, 0, 0]) == pytest.approx(-6.0, abs=1e-9)


def test_a_reverb_on_a_mono_return_keeps_its_energy():
    """A mono strip carries one leg: fed by a centred mono part with √½ on either leg it folds to √½, and its own
    centre is √½ again, so that ½ stands on each side; two unlike legs folded to one would lose another 3 dB."""
    for legs, side in ((1, 0.5), (2, np.sqrt(0.5))):
        routing = routed(
            track("Vox", sends=(send("Plate"),)), bus("Plate", kind="return", legs=legs, inserts=(reverb(),)), mix()
        )
        assert routing.gains(AT).ambience_sides("Vox")[0, 0] == pytest.approx([side, side], abs=1e-12)
        wet = [a for a in trace(routing, "Vox").arrivals if a.kind == "ambience"]
        assert [a.left_db for a in wet] == pytest.approx([20 * np.log10(side)], abs=1e-3)


def test_a_half_wet_reverb_on_a_mono_part_splits_it_evenly():
    """Dry ½ and wet ½ of one leg, both through the same centre: ambience and direct sound alike."""
    gains = routed(track("Vox", inserts=(reverb(50.0),)), mix()).gains(AT)
    assert gains.ambience_sides("Vox")[0, 0] == pytest.approx(gains.sides("Vox")[0, 0], abs=1e-12)


@pytest.mark.parametrize(
    ("given", "reason"),
    [
        ({"pan": WHY}, "the pan of the send from Vox to Fx: no value"),
        ({"on": WHY}, "the switch of the send from Vox to Fx: no value"),
        ({"tap": WHY}, "the tap of the send from Vox to Fx: no value"),
        ({"level_db": WHY}, "the send from Vox to Fx: no value"),
    ],
)
def test_what_is_not_known_of_an_open_send_leaves_the_way_open(given, reason):
    fx = bus("Fx", kind="return", inserts=(Insert(name="Echo", kind="delay", wet=100.0),))
    assert routed(track("Vox", sends=(Send(to="Fx", **given),)), fx, mix()).unknown_on_the_path["Vox"] == (reason,)


@pytest.mark.parametrize(
    "fx",
    [
        bus("Fx", None, kind="return"),
        bus("Fx", kind="return", mute=True),
    ],
)
def test_what_never_sounds_leaves_nothing_open(fx):
    unknown = Send(to="Fx", level_db=WHY, pan=WHY, tap=WHY)
    assert not routed(track("Vox", sends=(unknown,)), fx, mix()).unknown_on_the_path["Vox"]


def test_a_closed_send_and_a_pan_into_one_leg_leave_nothing_open():
    closed = (Send(to="Fx", pan=WHY, on=False), Send(to="Fx", pan=WHY, level_db=-200.0), Send(to="One", pan=WHY))
    routing = routed(track("Vox", sends=closed), bus("Fx", kind="return"), bus("One", legs=1), mix())
    assert not routing.unknown_on_the_path["Vox"]


def test_a_send_that_leads_nobody_knows_where_is_told_for_all_that_goes_through():
    lost = Send(to=WHY)
    routing = routed(track("Vox", "Bus"), bus("Bus", sends=(lost, lost.model_copy(update={"on": False}))), mix())
    assert routing.lost_sends["Vox"] == ("where a send of Bus leads: no value",)
    assert routing.lost_sends["Mix"] == ()
    assert not routing.unknown_on_the_path["Vox"]


def test_a_wet_share_and_a_width_that_are_not_given_are_named_as_assumptions():
    hall = Insert(name="Old Hall", kind="reverb", wet=WHY, opaque=False)
    context = session(track("Vox", legs=WHY, inserts=(hall,)), mix())
    said = assumptions(Routing(context, {"Vox": {0: "reverb"}}))
    assert sum("wholly wet" in one or "taken as stereo" in one for one in said) == 2
    assert not any("wholly wet" in one for one in assumptions(routed(track("Vox", inserts=(reverb(),)), mix())))
