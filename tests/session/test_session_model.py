"""The neutral model: unknowns, refusals, the native JSON."""

from __future__ import annotations

import json

import pytest
from pydantic import ValidationError

from mixlint.session import Automation, Channel, Clip, MediaFile, Session, Unknown, is_known
from mixlint.session.partial import NotShown, PartialChannel, guarded


def test_native_json_comes_back_the_same():
    session = Session(
        title="Harrow Gate",
        channels=(
            Channel(id="a", name="Gitarre £", kind="track", output=None, pan=Unknown(unknown="no unit")),
            Channel(id="m", name="Mix", kind="master"),
        ),
    )
    assert Session.model_validate_json(session.json_text()) == session


def test_native_json_names_its_format_first():
    assert list(json.loads(Session(title="x").json_text()))[0] == "format"


@pytest.mark.parametrize("bad", ["NaN", "Infinity", "-Infinity", "1e999"])
def test_numbers_that_are_none_never_enter(bad):
    """RFC 8259 section 6 has neither NaN nor infinity."""
    text = '{"format":"mixlint-session/1","channels":[{"id":"a","name":"A","kind":"track","fader_db":%s}]}' % bad
    with pytest.raises(ValidationError):
        Session.model_validate_json(text)


def test_an_unknown_key_is_refused():
    with pytest.raises(ValidationError, match="fader"):
        Channel.model_validate({"id": "a", "name": "A", "kind": "track", "fader": -3})


def test_two_channels_cannot_share_an_id():
    with pytest.raises(ValidationError, match="share the id 'a'"):
        Session(channels=(Channel(id="a", name="A", kind="track"), Channel(id="a", name="B", kind="track")))
    with pytest.raises(ValidationError, match="share the id"):
        Session(media=(MediaFile(id="f", path="a.wav"), MediaFile(id="f", path="b.wav")))


def test_automation_lists_run_side_by_side():
    with pytest.raises(ValidationError, match="as long as each other"):
        Automation(target="fader", scale="dB", t=(0.0, 1.0), v=(0.0,))
    with pytest.raises(ValidationError, match="backwards"):
        Automation(target="fader", scale="dB", t=(1.0, 0.0), v=(0.0, 0.0))


def test_a_clip_cannot_end_before_it_starts():
    with pytest.raises(ValidationError, match="before it starts"):
        Clip(start_s=2.0, end_s=1.0)


def test_unknown_is_not_known():
    assert not is_known(Unknown(unknown="why"))
    assert is_known(0.0)


def test_a_channel_that_lists_what_is_missing_can_be_hashed():
    """Facts hold channels in sets; found by the proof in sound, which met a channel that could not be hashed."""
    missing = {"clips": Unknown(unknown="the export shows none")}
    one, other = (Channel(id="a", name="A", kind="track", missing=missing) for _ in range(2))
    assert {one, other} == {one}


def test_a_session_whose_clips_are_hidden_is_guarded_twice_alike() -> None:
    """The review without sound guards what is guarded already; the first strip may be the one that hides its clips."""
    hidden = Channel(
        id="a",
        name="A",
        kind="track",
        clips=(Clip(start_s=0.0, end_s=1.0),),
        missing={"clips": Unknown(unknown="one could not be resolved")},
    )
    once = guarded(Session(channels=(hidden,)))
    again = guarded(once)
    assert [type(one) for one in again.channels] == [PartialChannel]
    with pytest.raises(NotShown):
        _ = again.channels[0].clips


def test_what_a_strip_states_is_kept_where_the_export_shows_no_others() -> None:
    """A strip that says it is not muted, in a list without a column of mutes: written and read, it still says so."""
    strips = (Channel(id="a", name="A", kind="track", mute=False), Channel(id="b", name="B", kind="track"))
    session = Session(channels=strips, gaps=("mutes",))
    again = Session.model_validate_json(session.json_text())
    assert again == session
    assert (again.channels[0].mute, is_known(again.channels[1].mute)) == (False, False)
