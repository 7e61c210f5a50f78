"""What a house wants to say can be said: wishes written by somebody who had not seen the vocabulary, each as a rule.

``wishes.md`` holds them as they were written, each with a session that keeps it and one that breaks it; ``wishes.toml``
what became of each; ``rules`` the rules, whose examples are those sessions.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from mixlint.facts import SessionContext
from mixlint.review.engine import judged
from mixlint.review.examples import broken_promise, sounds_of
from mixlint.rulebook import load_standard
from mixlint.rulebook.example import example_house, example_session

HERE = Path(__file__).parent
WISHES = tomllib.loads((HERE / "wishes.toml").read_text(encoding="utf-8"))
RULES = {
    name: rule
    for name, rule in load_standard(HERE / "mixlint-standard.toml").rules.items()
    if rule.path.parent == HERE / "rules"
}
WRITTEN = {
    range(1, 21): {"as before": 6, "with new words": 14, "in part": 0, "not": 0},
    range(21, 31): {"as before": 9, "with new words": 0, "in part": 1, "not": 0},
}
"""How many of them could be written without anything new, with something new, less than wholly, and not at all.

The second ten were kept unread until the vocabulary was done.
"""


def test_every_wish_has_its_rule_or_a_reason():
    text = (HERE / "wishes.md").read_text(encoding="utf-8")
    numbers = [int(number) for number in re.findall(r"^## (\d+) ", text, re.MULTILINE)]
    assert list(dict.fromkeys(one["wish"] for one in WISHES.values())) == numbers
    assert {name for name, one in WISHES.items() if one["written"] != "not"} == set(RULES)
    assert all(one["written"] not in ("in part", "not") or one["because"] for one in WISHES.values())


@pytest.mark.parametrize("numbers", WRITTEN, ids=str)
def test_the_count_is_as_told(numbers: range):
    """A wish counts once, however many rules it took."""
    said = list({one["wish"]: one["written"] for one in WISHES.values() if one["wish"] in numbers}.values())
    assert len(said) == len(numbers)
    assert {word: said.count(word) for word in WRITTEN[numbers]} == WRITTEN[numbers]


@pytest.mark.parametrize("name", RULES)
def test_both_sessions_come_out_as_wished(name: str):
    """What keeps the wish is clear, and what breaks it is flagged on the named channels and nowhere else."""
    rule, wish = RULES[name], WISHES[name]
    examples = {example.name: example for example in rule.examples()}
    assert {one: example.verdict for one, example in examples.items()} == {"keeps": "clear", "breaks": "flagged"}
    for example in examples.values():
        assert broken_promise(rule, example) == ""
    session = example_session(examples["breaks"])
    with sounds_of(session, examples["breaks"], rule.path.name) as audio:
        found = judged(SessionContext(session, example_house(examples["breaks"]), audio=audio), rule)
    assert {one.verdict for one in found} <= {"flagged", "clear", "idle"}
    names = {channel.id: channel.name for channel in session.channels}
    told = {names[one] for finding in found if finding.verdict == "flagged" for one in finding.channels}
    assert told - set(wish.get("beside", ())) == set(wish["broken_on"])
    if not wish["broken_on"]:
        assert [one.subject.table for one in found if one.verdict == "flagged"] == ["session"]
