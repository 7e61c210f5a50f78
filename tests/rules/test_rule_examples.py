"""The examples inside the rule files are the rules' tests: each tiny session comes out as its example promises."""

from __future__ import annotations

from pathlib import Path

import pytest

from mixlint.facts import TABLES
from mixlint.resources import folder
from mixlint.review.examples import broken_promise
from mixlint.rulebook import load_standard, shipped_standards

RULES = load_standard(Path(__file__).resolve().parents[1] / "everything.toml").rules
HOUSES = {
    rule.id: rule for name in shipped_standards() for rule in load_standard(name).rules.values() if rule.id not in RULES
}
"""Rules that belong to a shipped standard alone."""


def files() -> set[str]:
    return {path.stem for path in folder("rules").glob("*/*.toml") if path.parent.name not in ("standards", "words")}


def cases() -> list:
    return [
        pytest.param(rule, example, id=f"{rule.id}: {example.name}")
        for rule in [*RULES.values(), *HOUSES.values()]
        for example in rule.examples()
    ]


@pytest.mark.parametrize(("rule", "example"), cases())
def test_the_example_keeps_its_promise(rule, example):
    assert broken_promise(rule, example) == ""


ASKS = {"part-told"}
"""Rules that are never broken, only asked: nothing but the reader can tell."""


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES.keys())
def test_every_rule_shows_good_bad_and_why(rule):
    """A rule without a flagged and a clear (or idle) example is no rule that anyone could learn from."""
    verdicts = {example.verdict for example in rule.examples()}
    # A rule that cannot do without audio has sounds in its examples, or shows its question here and is tried on audio
    # apart. A rule that can only ask shows its question as well.
    silent = not any(example.sounds for example in rule.examples())
    assert ("open" if (rule.needs and silent) or rule.id in ASKS else "flagged") in verdicts
    assert verdicts & {"clear", "idle"}
    assert len(rule.why.split()) > 20


def test_every_file_is_a_rule_of_the_standard_that_holds_everything():
    assert set(RULES) == files()


def test_every_rule_is_over_a_declared_table():
    assert {rule.over for rule in RULES.values()} <= set(TABLES)
