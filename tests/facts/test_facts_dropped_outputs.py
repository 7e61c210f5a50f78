"""Outputs that the export dropped leave sends and returns unknown; a part whose ambience alone arrives is found."""

from __future__ import annotations

from mixlint.facts import TABLES
from mixlint.session import Session, Unknown
from tests.facts.small_sessions import bus, context, mix, reverb, send, track, value

LOST = Unknown(unknown="the export gives no output")


def answered(at, table, name, fact):
    row = next(r for r in TABLES[table].rows(at) if r.subject.name == name)
    return row.value(fact)


def dropped(*channels):
    """A session whose export dropped every output."""
    whole = context(*(c.model_copy(update={"output": LOST}) for c in channels))
    whole.session = Session.model_validate({**whole.session.model_dump(), "gaps": ("outputs",)})
    return whole


def test_a_send_is_open_where_the_outputs_are_not_in_the_export():
    at = dropped(track("Vox", sends=(send("Hall"),)), bus("Hall", kind="return", inserts=(reverb(),)), mix())
    assert isinstance(answered(at, "send", "Vox → Hall", "arrives"), Unknown)


def test_a_muted_return_is_known_to_be_silent_all_the_same():
    hall = bus("Hall", kind="return", inserts=(reverb(),), mute=True)
    at = dropped(track("Vox", sends=(send("Hall"),)), hall, mix())
    assert value(at, "send", "Vox → Hall", "arrives") is False


def test_one_output_that_is_not_known_leaves_its_sends_open():
    hall = bus("Hall", kind="return", inserts=(reverb(),), output=LOST)
    at = context(track("Vox", sends=(send("Hall"),)), hall, mix())
    assert isinstance(answered(at, "send", "Vox → Hall", "arrives"), Unknown)


def test_a_return_fed_by_a_group_is_open_where_the_group_lost_its_feeds():
    drums = bus("Drums", sends=(send("Squash"),))
    at = dropped(track("Kick"), drums, bus("Squash", kind="return"), mix())
    assert isinstance(answered(at, "return", "Squash", "fed"), Unknown)


def test_a_part_that_arrives_only_through_a_reverb_does_not_reach_the_mix():
    hall = bus("Hall", kind="return", inserts=(reverb(),))
    at = context(track("Vox", output=None, sends=(send("Hall"),)), hall, mix())
    assert value(at, "channel", "Vox", "reaches_mix") is True
    assert value(at, "channel", "Vox", "only_ambience") is True
    assert "only its ambience" in value(at, "channel", "Vox", "path_ends")


def test_a_part_that_leaves_by_a_send_to_a_bus_arrives():
    at = context(track("Kick", output=None, sends=(send("Drums"),)), bus("Drums"), mix())
    assert value(at, "channel", "Kick", "only_ambience") is False


def test_a_return_is_no_part_and_has_ambience_alone_by_nature():
    hall = bus("Hall", kind="return", inserts=(reverb(),))
    at = context(track("Vox", sends=(send("Hall"),)), hall, mix())
    assert value(at, "channel", "Hall", "only_ambience") is False
