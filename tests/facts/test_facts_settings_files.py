"""The files of settings that a session names for its processors: whether they are there, and which are alike."""

from __future__ import annotations

from typing import Any

import pytest

from mixlint.session import Insert, SavedSettings, Unknown
from tests.facts.small_sessions import ask, context, mix, track, value

OUTSIDE = Unknown(unknown="the file of its settings lies outside the session's folder and was not looked for")


def kept(path: str = "a.bin", **more: Any) -> Insert:
    return Insert(name="Tape", saved=SavedSettings(path=path, **more))


@pytest.mark.parametrize(
    ("insert", "named", "word"),
    [
        (Insert(name="Tape"), False, "none"),
        (kept(present=True, content="sha256:1"), True, "there"),
        (kept(present=True, damaged=True), True, "damaged"),
        (kept(present=False), True, "absent"),
        (kept(present=OUTSIDE, place="outside"), True, OUTSIDE.unknown),
        (kept(present=False, place="beside"), True, "the session was read without the files that belong to it"),
    ],
)
def test_whether_the_file_is_there(insert: Insert, named: bool, word: str) -> None:
    at = context(track("Vox", inserts=(insert,)), mix())
    assert value(at, "insert", "Vox: Tape", "settings_kept") is named
    found = ask(at, "insert", "Vox: Tape", "settings_file")
    assert found.unknown.startswith(word) if isinstance(found, Unknown) else found.value == word


def test_one_that_is_missing_while_another_lies_beside_it_is_absent() -> None:
    """Then the files did come along, and just this one stayed behind."""
    there = Insert(name="Plate", saved=SavedSettings(path="b.bin", place="beside", present=True, content="sha256:1"))
    at = context(track("Vox", inserts=(kept(present=False, place="beside"), there)), mix())
    assert value(at, "insert", "Vox: Tape", "settings_file") == "absent"


def test_equal_settings_are_told_and_what_they_are_is_not() -> None:
    at = context(
        track("Vox", inserts=(kept(present=True, content="sha256:1"), Insert(name="EQ"))),
        track("Dbl", inserts=(kept("b.bin", present=True, content="sha256:1"),)),
        track("Gtr", inserts=(kept("c.bin", present=True, content="sha256:2"),)),
        track("Bass", inserts=(kept("d.bin", present=True, content=Unknown(unknown="too large")),)),
        mix(),
    )
    assert value(at, "insert", "Vox: Tape", "settings_alike") == ("Dbl: Tape",)
    assert value(at, "insert", "Gtr: Tape", "settings_alike") == ()
    assert value(at, "insert", "Vox: EQ", "settings_alike") == ()
    assert ask(at, "insert", "Bass: Tape", "settings_alike").unknown == "too large"
