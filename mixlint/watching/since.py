"""What became of the findings since the last export, at the head of the terminal and of the page."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape
from typing import NamedTuple

from mixlint.reports.compare import turn_text, turns_text
from mixlint.reports.plain import Page, markup_without_orders, neutral
from mixlint.review.compare import FindingChange, earlier_findings, finding_changes
from mixlint.review.findings import Finding, SessionReview
from mixlint.review.fingerprint import row_keys
from mixlint.rulebook.rule import Rule

CURED = {"gone": "cured", "new": "new", "worse": "worse", "better": "better"}
"""What came of a finding, in the order in which it is told, with its heading here."""


class SinceLast(NamedTuple):
    """What became of the findings.

    Args:
        turns: what came, went and turned.
        signed: flagged findings that somebody has signed off since.
        asked, answered: how many questions came, and how many are open no more.
    """

    turns: tuple[FindingChange, ...] = ()
    signed: tuple[str, ...] = ()
    asked: int = 0
    answered: int = 0

    @property
    def counted(self) -> str:
        """How many of each: ``1 cured, 2 new``, or that nothing changed."""
        came = {word: sum(turn.came == key for turn in self.turns) for key, word in CURED.items()}
        came |= {"signed off": len(self.signed), "asked": self.asked, "no longer asked": self.answered}
        said = ", ".join(f"{count} {word}" for word, count in came.items() if count)
        return said or "no finding came or went"


def since(before: SessionReview, now: SessionReview, rules: Mapping[str, Rule]) -> SinceLast:
    """What became of the findings of one review in the next.

    Args:
        before, now: the two reviews.
        rules: the rules in force, which say which way is worse.
    """
    was = {key: row.verdict for key, row in zip(row_keys(before.findings), before.findings, strict=True)}
    here = dict(zip(row_keys(now.findings), now.findings, strict=True))
    signed = [row for key, row in here.items() if row.verdict == "signed" and was.get(key) == "flagged"]
    opened = {key for key, row in here.items() if row.verdict == "open"}
    open_before = {key for key, verdict in was.items() if verdict == "open"}
    return SinceLast(
        tuple(finding_changes(earlier_findings(before.findings), now, rules)),
        tuple(_about(row) for row in signed),
        len(opened - open_before),
        len(open_before - opened),
    )


def _about(row: Finding) -> str:
    return row.message if row.subject.name in row.message else f"{row.subject.name}: {row.message}"


def since_text(found: SinceLast, page: Page) -> str:
    """The same for a terminal.

    Args:
        found: what became of the findings.
        page: the width, and whether bold and dim can be used.
    """
    lines = [f"{found.counted}."]
    lines += turns_text(found.turns, page, CURED)
    if found.signed:
        lines += ["", page.bold("signed off"), *(f"    {neutral(one)}" for one in found.signed)]
    return "\n".join([*lines, ""]) + "\n"


def since_html(found: SinceLast, when: str) -> str:
    """The same as a section of the page.

    Args:
        found: what became of the findings.
        when: when the review stood, and why it was made.
    """
    lines = [
        '<section class="since" aria-label="since the last export">',
        f"<h2>{_shown(when)}: {_shown(found.counted)}</h2>",
    ]
    for came, heading in CURED.items():
        turns = [turn_text(turn) for turn in found.turns if turn.came == came]
        lines += _list(heading, turns)
    lines += _list("signed off", [neutral(one) for one in found.signed])
    return markup_without_orders("\n".join([*lines, "</section>", ""]))


def _list(heading: str, said: list[str]) -> list[str]:
    if not said:
        return []
    return [f"<h3>{heading}</h3>", "<ul>", *(f"<li>{escape(one)}</li>" for one in said), "</ul>"]


def _shown(text: str) -> str:
    return escape(neutral(text))
