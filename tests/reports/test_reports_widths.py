"""Every text report on a page of 40 columns and more: nothing sticks out, and nothing is cut away."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from mixlint.analysis.context import SessionContext
from mixlint.comparison import MixChange, Unseen
from mixlint.facts import TABLES
from mixlint.importers import read
from mixlint.reports.catalogue import catalogue, catalogue_text
from mixlint.reports.compare import comparison_text
from mixlint.reports.fact_list import fact_list, fact_list_text
from mixlint.reports.plain import Page, columns
from mixlint.reports.rule_page import rule_page
from mixlint.reports.standard_list import standard_list, standard_list_text
from mixlint.reports.trace import trace_text
from mixlint.review.compare import ComparisonReport, FindingChange
from mixlint.routing.trace import trace
from mixlint.rulebook import Standard, load_standard
from mixlint.rulebook.standard import shipped_standard_files

EXAMPLES = Path(__file__).resolve().parents[2] / "example_sessions"
LONG = "Nylon guitar of the second verse " * 5


@cache
def shipped() -> Standard:
    return load_standard(None, None)


def rules(page: Page) -> str:
    standard = shipped()
    pages = (rule_page(rule, standard.name, page) for rule in list(standard.rules.values())[::9])
    return "\n".join([catalogue_text(catalogue(standard.name, standard.rules.values()), page), *pages])


def traces(page: Page) -> str:
    context = SessionContext(read(EXAMPLES / "sixpenny-weathervane-flawed.session.json"))
    channels = context.session.channels
    return "\n".join(trace_text(trace(context.routing, one.id, 1000.0), page, [LONG]) for one in channels)


def compared(page: Page) -> str:
    turns = tuple(
        FindingChange(came=came, rule="return-fully-wet", table="return", name=LONG, message=LONG, grade="hold")
        for came in ("new", "worse", "better", "gone")
    )
    changes = (MixChange(channel=LONG, channel_id="x", what="level", says=LONG),)
    unseen = (Unseen(channel=LONG, what="level", why=LONG),)
    return comparison_text(
        ComparisonReport(old=LONG, new=LONG, standard=LONG, changes=changes, unseen=unseen, findings=turns), page
    )


REPORTS: dict[str, Callable[[Page], str]] = {
    "rules": rules,
    "facts": lambda page: fact_list_text(fact_list(TABLES.values()), page),
    "standards": lambda page: standard_list_text(standard_list(shipped_standard_files()), page),
    "trace": traces,
    "compare": compared,
}


@pytest.mark.slow
@pytest.mark.parametrize("name", REPORTS)
def test_every_character_of_a_wide_page_is_on_a_narrow_one(name: str) -> None:
    """Headings of columns aside, in the same order; no line sticks out, with weights and colours or without."""
    wide = None
    for width in (40, 76, 140):
        text = REPORTS[name](Page(width))
        for line in text.splitlines():
            assert columns(line) <= width, line
        signs = sorted(re.sub(r"[\s─]|\bat,?\s+after\b|[(),|]", "", text))
        assert wide is None or signs == wide
        wide = signs
        coloured = REPORTS[name](Page(width, weights=True, colours=True))
        assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == text
