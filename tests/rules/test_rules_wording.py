"""How rules speak: the trade's words, true minus signs, a basis that says what it rests on, pages that read whole."""

from __future__ import annotations

import re

import pytest

from mixlint.reports.plain import Page
from mixlint.reports.rule_page import rule_page
from mixlint.rulebook import load_standard, shipped_standards
from mixlint.units import number_text

RULES = {rule.id: rule for name in shipped_standards() for rule in load_standard(name).rules.values()}
"""Every shipped rule: what one checklist leaves out another one takes."""
NEVER = re.compile(
    r"\b(errors?|warnings?|violat\w+|issues?|polic(?:y|ies)|auto-?fix\w*|lint\w*|scores?|invalid|fail\w*|bugs?|users?)\b",
    re.IGNORECASE,
)
"""Words that findings do not use."""

ASCII_MINUS = re.compile(r"(?<![\w\d.,/+-])-\d|\s-\s|\^\(-")
NO_SPACE = re.compile(r"\d(?:dB|Hz|kHz|ms|LUFS|%)")
WITHIN_A_WORD = re.compile(r"\{[^}]*\}|Outs? 3-4")


def texts(rule) -> dict[str, str]:
    """Everything in a rule file that a reader may see, its names of channels and placeholders aside."""
    said = {
        "title": rule.title, "says": rule.says.text, "remedy": rule.remedy.text,
        "asks": rule.needs_ears.text, "why": rule.why,
        "open": rule.says_open.text, "basis": f"{rule.basis.title} {rule.basis.clause} {rule.basis.note}",
    }  # fmt: skip
    said |= {f"limit {name}": limit.meaning for name, limit in rule.limits.items()}
    said |= {f"example {one.name}": one.name for one in rule.examples()}
    return {key: WITHIN_A_WORD.sub("…", text) for key, text in said.items()}


@pytest.mark.parametrize("rule", RULES.values(), ids=lambda rule: rule.id)
def test_a_rule_speaks_the_trades_words(rule):
    for where, text in texts(rule).items():
        assert NEVER.findall(text) == [], where
        assert ASCII_MINUS.findall(text) == [], where
        assert NO_SPACE.findall(text) == [], where


@pytest.mark.parametrize("rule", RULES.values(), ids=lambda rule: rule.id)
def test_sentences_end_and_questions_ask(rule):
    assert rule.says.text.endswith(".")
    assert rule.remedy.text.endswith(".")
    assert not rule.title.endswith(".")
    assert not rule.needs_ears.text or rule.needs_ears.text.endswith("?")
    assert all(limit.meaning.endswith(".") for limit in rule.limits.values())


ASKS = re.compile(r"(Is|Are|Do|Does|Has|Have|Can) ")
"""How a question begins that can be answered by yes or no."""


@pytest.mark.parametrize("rule", [r for r in RULES.values() if r.needs_ears.text], ids=lambda rule: rule.id)
def test_a_question_can_be_answered_by_yes_or_no_and_says_which_is_fine(rule):
    assert ASKS.match(rule.needs_ears.text)
    assert rule.needs_ears.text.count("?") == 1
    assert "fine_answer" in rule.file.model_fields_set


STILTED = re.compile(
    r"\b(wholly|closed ring|low lines?|word length|longer word|shorter word|folds to a comb|bears? a name|unanswered|"
    r"keeps its low end|eats the ends|are uneven|on (its|their) way|put the output|one leg|two legs|most legs)\b",
    re.IGNORECASE,
)
"""Phrases that engineers stumbled over."""


@pytest.mark.parametrize("rule", RULES.values(), ids=lambda rule: rule.id)
def test_a_rule_speaks_as_an_assistant_engineer_would(rule):
    said = (rule.title, rule.says.text, rule.remedy.text, rule.needs_ears.text, rule.says_open.text)
    assert [STILTED.findall(text) for text in said if STILTED.search(text)] == []


@pytest.mark.parametrize("rule", RULES.values(), ids=lambda rule: rule.id)
def test_a_published_basis_names_its_text_and_clause(rule):
    if rule.basis.kind == "published":
        assert rule.basis.title
        assert rule.basis.clause
    else:
        assert not rule.basis.title


@pytest.mark.parametrize("rule", RULES.values(), ids=lambda rule: rule.id)
def test_a_page_reads_whole(rule):
    """No clause without its value, every fact told, and every limit that a text names with its number."""
    said = " ".join(rule_page(rule, "pre-bounce", Page(100)).split())
    assert " is ." not in said
    assert "is None" not in said
    assert "What these words mean" in said
    for limit in rule.limits.values():
        if isinstance(limit.value, float) and limit.unit not in ("pan", ":1"):
            assert number_text(limit.value, limit.unit) in said
