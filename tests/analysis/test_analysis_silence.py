"""What a mix loses where a channel is silent, by hand. That some losses are graver is common practice, no source."""

from __future__ import annotations

import pytest

from mixlint.facts import FactValue
from mixlint.session import Channel, Send
from tests.facts.small_sessions import ask, bus, context, mix, track, value


def lost(*channels: Channel, of: str) -> tuple[str, str]:
    at = context(*channels, mix())
    found = ask(at, "channel", of, "loss")
    assert isinstance(found, FactValue)
    return str(found.value), found.note


KIT = (track("Kick", output="Drums"), track("Snare", output="Drums"))


@pytest.mark.parametrize("silent", [{"mute": True}, {"fader_db": -200.0}, {}], ids=["muted", "faded", "open"])
def test_a_group_is_lost_with_all_that_comes_through_it_alone(silent: dict[str, object]) -> None:
    """The same whether it is silent now or would be: the question is what hangs on it."""
    assert lost(*KIT, bus("Drums", **silent), track("Piano"), of="Drums") == ("family", "Kick, Snare")
    assert lost(*KIT, track("Hat"), bus("Drums", **silent), of="Drums") == ("group", "Kick, Snare")
    one = (track("Kick", output="Drums"), track("Hat"), bus("Drums", **silent))
    assert lost(*one, of="Drums") == ("part", "Kick")


def test_the_last_of_a_family_takes_the_family_with_it() -> None:
    muted = track("Kick", mute=True)
    assert lost(muted, track("Snare", mute=True), of="Kick") == ("family", "Kick")
    assert lost(muted, track("Snare"), of="Kick") == ("part", "Kick")
    assert lost(muted, of="Kick") == ("part", "Kick")


def test_the_lead_is_lost_unless_another_one_sounds_beside_it() -> None:
    lead = track("Lead Vox", mute=True)
    assert lost(lead, track("Piano"), of="Lead Vox")[0] == "lead"
    assert lost(lead, track("Lead Vox 2"), of="Lead Vox") == ("nothing", "")
    assert lost(lead, track("Lead Vox 2", at=(0.0, 20.0)), of="Lead Vox")[0] == "lead"
    assert lost(lead, track("Lead Vox 2", mute=True), of="Lead Vox")[0] == "lead"


def test_a_part_with_another_path_is_not_lost() -> None:
    kit = [one.model_copy(update={"sends": (Send(to="Mix"),)}) for one in KIT]
    assert lost(*kit, bus("Drums", mute=True), of="Drums") == ("nothing", "")
    assert lost(*KIT, bus("Drums"), bus("Spare", mute=True), of="Spare") == ("nothing", "")


def test_nothing_is_lost_where_the_mix_bus_is_silent_anyway() -> None:
    at = context(track("Kick"), mix(mute=True))
    assert value(at, "channel", "Kick", "loss") == "nothing"
