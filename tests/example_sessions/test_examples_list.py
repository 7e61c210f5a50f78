"""The example song as a list of channels: the mistakes that were planted in it are found there as well."""

from __future__ import annotations

from pathlib import Path

from example_sessions.parts.mistakes import MISTAKES
from mixlint.analysis.context import SessionContext
from mixlint.importers import read
from mixlint.review.engine import review
from mixlint.review.findings import Finding
from mixlint.rulebook.standard import load_standard

FOLDER = Path(__file__).resolve().parents[2] / "example_sessions"

FOUND_BY = {
    "half-wet reverb": "return-fully-wet",
    "return without low cut": "return-low-cut",
    "unanswered guitar": "pan-answered",
    "leaning mix": "stereo-balanced",
    "solo left on": "nothing-soloed",
    "muted voice": "muted-on-purpose",
    "part that goes nowhere": "reaches-mix-bus",
    "loop between returns": "no-feedback-loop",
}

OF_A_PLANTED_MISTAKE = {("settings-like-their-like", "Gtr R Verb: Quarry Plate Reverb")}
"""The half-wet reverb once more: with its pre-delay unseen, its wet share is all that sets it apart from its like."""


def flagged(name: str) -> dict[tuple[str, str], Finding]:
    session = read(FOLDER / name)
    house = load_standard()
    found = review(SessionContext(session, house.house), house, source="", digest="", everything=False).findings
    return {(one.rule, one.subject.name): one for one in found if one.verdict == "flagged"}


def test_the_eight_mistakes_are_found_in_the_list() -> None:
    rows = flagged("sixpenny-weathervane-flawed.channels.csv")
    assert {mistake.name for mistake in MISTAKES} == set(FOUND_BY)
    assert {rule for rule, _ in rows} >= set(FOUND_BY.values())


def test_the_list_has_no_row_that_the_session_has_not() -> None:
    whole = flagged("sixpenny-weathervane-flawed.session.json")
    rows = flagged("sixpenny-weathervane-flawed.channels.csv")
    assert rows.keys() - whole.keys() == OF_A_PLANTED_MISTAKE
    assert whole.keys() - rows.keys() == set()


def test_the_clean_list_is_clean() -> None:
    assert flagged("sixpenny-weathervane.channels.csv") == {}
