"""The examples in rule files, and what happens when one breaks its promise."""

from __future__ import annotations

from typing import Any

import pytest

from mixlint.errors import RulebookError
from mixlint.review.examples import broken_promise
from mixlint.rulebook import Example, load_standard
from mixlint.rulebook.example import example_house, example_session
from mixlint.session import Session, Timeline, Unknown

VOICE = {"name": "Voice", "kind": "track", "output": "Mix", "solo": True, "clips": [{"start_s": 0.0, "end_s": 9.0}]}
MIX = {"name": "Mix", "kind": "master", "output": False}


def example(*channels: dict[str, Any], verdict: str = "flagged", **more: Any) -> Example:
    raw = {"name": "toy", "verdict": verdict, "session": {"channels": [*channels], **more.pop("session", {})}, **more}
    return Example.model_validate(raw)


def test_ids_references_and_nothing_are_filled_in() -> None:
    """Names stand for ids; ``false`` for an output that goes nowhere; 120 in 4/4 unless given."""
    session = example_session(
        example(
            {
                "name": "Voice", "kind": "track", "output": "Mix", "parent": "Band",
                "sends": [{"to": "Plate"}, {"to": "fx"}], "clips": [{"start_s": 0, "end_s": 1, "file": "a.wav"}],
            },
            {"name": "Voice", "kind": "track", "output": {"unknown": "hidden"}},
            {"name": "Plate", "kind": "return", "id": "fx", "output": "Mix"},
            {"name": "Band", "kind": "group"},
            MIX,
            session={"media": [{"path": "a.wav"}, {"path": "b.wav", "id": "m2"}]},
        )
    )  # fmt: skip
    assert [c.id for c in session.channels] == ["Voice", "Voice (2)", "fx", "Band", "Mix"]
    voice, second, _, _, mix = session.channels
    assert (voice.output, voice.parent, [s.to for s in voice.sends]) == ("Mix", "Band", ["fx", "fx"])
    assert isinstance(second.output, Unknown)
    assert mix.output is None
    assert [m.id for m in session.media] == ["a.wav", "m2"]
    assert voice.clips[0].file == "a.wav"
    assert isinstance(session.timeline, Timeline)
    assert (session.timeline.tempos[0].bpm, session.timeline.bar(2.0)) == (120.0, (2, 1.0))


def test_a_whole_session_passes_through_unchanged() -> None:
    """What leaves nothing out is taken as it is."""
    whole = example_session(example(VOICE, MIX))
    again = example_session(example(session=whole.model_dump(mode="json", exclude_defaults=True)))
    assert isinstance(again, Session)
    assert again == whole


@pytest.mark.parametrize(
    ("channel", "said"),
    [
        ({"name": "A", "kind": "track", "output": "Mxi"}, "A leads to Mxi, and there is no such channel"),
        ({"name": "A", "kind": "track", "sends": [{"to": "B"}]}, "A leads to B, and there is no such channel"),
        ({"name": "A", "kind": "trakc"}, "example 'toy'.session.channels.0.kind"),
        ({"name": "A", "kind": "track", "fader": 3.0}, "example 'toy'.session.channels.0.fader"),
    ],
)
def test_a_broken_session_is_told(channel: dict[str, Any], said: str) -> None:
    """An example that leads nowhere by a slip of the pen does not pass for one that goes nowhere on purpose."""
    with pytest.raises(RulebookError) as caught:
        example_session(example(channel), "boat.toml")
    assert said in str(caught.value)
    assert "boat.toml" in str(caught.value)


def test_the_house_of_an_example() -> None:
    """Settings as in a standard file, with its checks."""
    house = example_house(example(house={"intent": {"mono": True}, "roles": {"vx*": "vocal"}}))
    assert (house.intents, house.roles) == ({"mono"}, {"vx*": "vocal"})
    with pytest.raises(RulebookError, match="did you mean vocal"):
        example_house(example(house={"roles": {"vx*": "vocla"}}))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({}, ""),
        ({"subject": "Voice"}, ""),
        ({"subject": "Voice", "expect_message": "Voice is soloed"}, ""),
        ({"subject": "Voice", "expect_message": "is muted"}, "no message says 'is muted'"),
        ({"subject": "Vioce"}, "no row is called Vioce; there is Voice, Mix"),
        ({"subject": "Mix"}, "it is clear"),
        ({"verdict": "clear"}, "where clear is promised"),
        ({"verdict": "clear", "subject": "Mix"}, ""),
        ({"verdict": "open"}, "where open is promised"),
        ({"verdict": "idle"}, "where idle is promised"),
    ],
)
def test_a_promise_is_kept_or_told(more: dict[str, Any], said: str) -> None:
    """Held against a shipped rule over channels: one channel soloed, one not."""
    found = broken_promise(load_standard().rules["nothing-soloed"], example(VOICE, MIX, **more))
    assert bool(found) is bool(said)
    assert said in found
