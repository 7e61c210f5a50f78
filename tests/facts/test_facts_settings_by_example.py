"""Settings of newer facts: with the house's number, a rule's own example comes out the other way."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from mixlint.facts import SessionContext
from mixlint.review.engine import judged
from mixlint.review.examples import sounds_of
from mixlint.rulebook import load_standard
from mixlint.rulebook.example import example_house, example_session
from tests.facts.settings_by_example import BY_EXAMPLE

STANDARD = load_standard(Path(__file__).resolve().parents[1] / "everything.toml")


@pytest.mark.parametrize("name", BY_EXAMPLE)
def test_a_flagged_example_is_clear_with_the_house_s_number(name: str, tmp_path: Path) -> None:
    case = BY_EXAMPLE[name]
    rule = STANDARD.rules[case.rule]
    assert name in {setting.name for setting in rule.settings}
    example = next(one for one in rule.examples() if one.name == case.example)
    house = example_house(example, rule.path.name)
    session = example_session(example, rule.path.name)
    for settings, expected in ((house.settings, "flagged"), ({**house.settings, name: case.set_to}, case.then)):
        with sounds_of(session, example, rule.path.name) as audio:
            findings = judged(SessionContext(session, replace(house, settings=settings), audio), rule)
        assert [f.verdict for f in findings if f.subject.name == example.subject] == [expected]
