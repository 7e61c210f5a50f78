"""What the figures of a review assume, as a reader is told it."""

from __future__ import annotations

import pytest

from mixlint.facts import SessionContext
from mixlint.session import Channel, Note, Session

NAMES = ("Kick", "Snare", "Hat", "Ride", "Tom")


def noted(*notes: tuple[str, str]) -> tuple[str, ...]:
    channels = tuple(Channel(id=name.lower(), name=name, kind="track") for name in NAMES)
    session = Session(channels=channels, notes=tuple(Note(text=text, about=about) for about, text in notes))
    bare = SessionContext(session.model_copy(update={"notes": ()})).assumptions()
    told = SessionContext(session).assumptions()
    assert told[: len(bare)] == bare
    return told[len(bare) :]


@pytest.mark.parametrize(
    ("notes", "told"),
    [
        ([("kick", "its pan has no unit")], ["Kick: its pan has no unit"]),
        ([("kick", "no unit"), ("snare", "no unit")], ["Kick and Snare: no unit"]),
        ([("kick", "no unit"), ("snare", "no unit"), ("hat", "no unit")], ["Kick, Snare and Hat: no unit"]),
        (
            [(name.lower(), f"The send of {name} was read as linear.") for name in NAMES],
            ["The send of Kick, Snare, Hat and 2 more was read as linear."],
        ),
        ([("", "No tempo."), ("kick", "no unit"), ("", "No tempo.")], ["No tempo.", "Kick: no unit"]),
        ([("gone", "no unit")], ["no unit"]),
        ([("kick", "no unit"), ("kick", "no unit")], ["Kick: no unit"]),
    ],
)  # fmt: skip
def test_a_note_that_several_channels_share_is_said_once(notes: list[tuple[str, str]], told: list[str]) -> None:
    assert list(noted(*notes)) == told
