"""Names as engineers write them, against what they mean: the lists were written blind, the open data by nobody here.

Open data is read from the folder that ``MIXLINT_NAMES`` names (see the guide); it holds names of real songs and is no
part of the repository.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.naming_measured.calibration import FILE, counted, weak, written
from tests.naming_measured.lists import HERE, Listed, label, lists_in
from tests.naming_measured.scoring import of_a_role, score

OPEN = os.environ.get("MIXLINT_NAMES")

FLOORS = {"roles": (0.86, 0.034), "sides": (0.97, 0.003), "pairs": (0.86, 0.015), "processors": (0.88, 0.018)}
"""Least share right or rightly asked, and most wrong, on the blind sessions: they may only get better."""

OPEN_FLOORS = {
    "roles": (0.95, 0.01),
    "sides": (0.99, 0.001),
    "pairs": (0.88, 0.01),
    "processors": (0.93, 0.012),
    "categories": (0.97, 0.0),
}


def blind() -> list[Listed]:
    return list(lists_in(HERE / "lists"))


def test_there_are_the_lists() -> None:
    lists = blind()
    assert len(lists) == 100
    assert sum(len(one.roles) for one in lists) > 3000


def test_blind_sessions_are_read() -> None:
    """As good as when they were last looked at, with every miss in the message."""
    found = score(blind())
    for subject, (right, wrong) in FLOORS.items():
        told = [one for one in found.missed if one.subject == subject and one.came == "wrong"]
        assert found.share(subject, "right") >= right, (subject, found.table())
        assert found.share(subject, "wrong") <= wrong, told


@pytest.mark.skipif(OPEN is None, reason="MIXLINT_NAMES names no folder of open data")
def test_open_data_is_read() -> None:
    """The bar that stands in the guide."""
    found = score(lists_in(Path(str(OPEN))))
    for subject, (right, wrong) in OPEN_FLOORS.items():
        assert found.share(subject, "right") >= right, (subject, found.table())
        assert found.share(subject, "wrong") <= wrong, (subject, found.table())


@pytest.mark.parametrize(
    ("text", "said", "came"),
    [
        ("kick", "kick", "right"),
        ("kick", None, "open"),
        ("kick", "snare", "wrong"),
        ("bass|synth", "synth", "right"),
        ("ask", None, "right"),
        ("ask", "kick", "wrong"),
        ("room?", None, "right"),
        ("room?", "room", "right"),
        ("lead-vocal", "vocal", "broad"),
        ("kick", "vocal", "wrong"),
    ],
)
def test_labels_are_judged(text: str, said: str | None, came: str) -> None:
    assert of_a_role(label(text), said) == came


def test_a_word_is_weak_where_it_was_wrong_more_than_once_and_often() -> None:
    counts = {"far": (6, 9), "kick": (99, 100), "harp": (0, 1), "sub": (6, 10)}
    assert weak(counts) == {"far": (6, 9), "sub": (6, 10)}
    assert written(counts, "# head\n[precision]\nold = '1 of 2'\n") == (
        "# head\n[precision]\n'far' = '6 of 9'\n'sub' = '6 of 10'\n"
    )


def test_the_shipped_words_that_tell_nothing_alone_are_met_in_the_lists() -> None:
    """The command counts what it says: a word of the blind sessions is among those counted."""
    counts = counted(blind())
    assert counts["kick"][1] > 0
    assert FILE.read_text(encoding="utf-8").startswith("# Words that mean several things")
