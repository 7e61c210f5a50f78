"""The review as JUnit XML: a suite per session, a case per row.

A flagged row is a failure only when its grade holds the bounce, so that the file and the exit status say the same. One
to look at that holds nothing is skipped with what it says, so that it is seen and not taken for a pass; a note passes.
A row that cannot be seen is skipped with its reason, one that is signed off with the reason for it. Rows whose rule
does not apply are left out unless asked for. The XML is written with lxml by hand, and characters that XML 1.0 does not
allow are replaced first (XML 1.0, production 2, ``Char``).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Literal

from mixlint.reports.plain import markup_without_orders, neutral
from mixlint.reports.signed import baseline_text, justification, note_text, sign_notes
from mixlint.reports.words import caution_for, counts_text, known_text
from mixlint.review.findings import GRAVITY, Finding, Grade, Passed, Report, SessionReview

if TYPE_CHECKING:
    from lxml.etree import _Element

    from mixlint.reports.review_output import ReviewOutput
    from mixlint.reports.several import Told

_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def write(output: ReviewOutput) -> str:
    """A review in this form."""
    return review_junit(output.report, output.hold_on, everything=output.everything, passed=output.passed)


def part(output: ReviewOutput, told: Told) -> tuple[Told, str]:
    """The suite of one session among several, and its sums."""
    text = write(output)
    _, _, behind = text.partition("\n<testsuites ")
    head, _, suite = behind.partition("\n")
    tests, failures, _, skipped = (int(number) for number in re.findall(r'"(\d+)"', head))
    return replace(told, tally=(tests, failures, skipped)), suite.removesuffix("</testsuites>\n")


def review_junit(
    report: Report,
    hold_on: Grade = "hold",
    *,
    everything: bool = False,
    passed: Sequence[Sequence[Passed]] = (),
) -> str:
    """The report as one XML document.

    Args:
        report: the sessions, with their clear rows: a case that passes is a case too.
        hold_on: the lightest grade that holds the bounce.
        everything: also the rows whose rule does not apply.
        passed: the clear rows of each session by name, where they are not among its findings.
    """
    from lxml import etree

    root = etree.Element("testsuites", name="mixlint")
    total, failures, skipped = 0, 0, 0
    for session, clear in zip(report.sessions, passed or [()] * len(report.sessions), strict=True):
        suite = etree.SubElement(root, "testsuite", name=_xml(session.title or session.source))
        _properties(suite, session, caution_for([session]))
        failed = passed_over = 0
        rows = [finding for finding in session.findings if everything or finding.verdict != "idle"]
        for one in _together(rows, clear):
            case = etree.SubElement(suite, "testcase", classname=_class(one.area, one.rule), name=_name(one))
            if isinstance(one, Finding):
                came = _judge(case, one, hold_on)
                failed += came == "failure"
                passed_over += came == "skipped"
        number = len(rows) + len(clear)
        _count(suite, number, failed, passed_over)
        total, failures, skipped = total + number, failures + failed, skipped + passed_over
    _count(root, total, failures, skipped)
    body = etree.tostring(root, encoding="unicode", pretty_print=True)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{markup_without_orders(body)}'


def _together(rows: Sequence[Finding], clear: Sequence[Passed]) -> Iterator[Finding | Passed]:
    """The findings, and between them the clear rows that are known by name alone."""
    named = 0
    for at, finding in enumerate(rows):
        while named < len(clear) and clear[named].behind <= at:
            yield clear[named]
            named += 1
        yield finding
    yield from clear[named:]


def _name(row: Finding | Passed) -> str:
    return _called(row.table, row.name) if isinstance(row, Passed) else _called(row.subject.table, row.subject.name)


@lru_cache(maxsize=4096)  # of a thousand rows a session has, most are of one channel or another
def _called(table: str, name: str) -> str:
    return _xml(f"{table} {name}")


@cache
def _class(area: str, rule: str) -> str:
    return _xml(f"{area}.{rule}")


def _judge(case: _Element, finding: Finding, hold_on: Grade) -> Literal["failure", "skipped", "passed"]:
    """Put the verdict into the case, and say what it comes to."""
    from lxml import etree

    said = _xml(finding.message)
    if finding.verdict == "flagged" and GRAVITY[finding.grade] <= GRAVITY[hold_on]:
        etree.SubElement(case, "failure", type=finding.grade, message=said).text = _details(finding)
        return "failure"
    if finding.verdict == "flagged":
        if finding.grade != "note":
            etree.SubElement(case, "skipped", message=_xml(f"{finding.grade}: {finding.message}"))
        etree.SubElement(case, "system-out").text = _xml(f"{finding.verdict} ({finding.grade}): ") + _details(finding)
        return "passed" if finding.grade == "note" else "skipped"
    if finding.verdict == "open":
        why = "; ".join(f"{r.why}{f' (to settle it: {r.settle})' if r.settle else ''}" for r in finding.reasons)
        etree.SubElement(case, "skipped", message=_xml(f"cannot be seen: {why or finding.message}"))
    elif finding.verdict == "idle":
        etree.SubElement(case, "skipped", message="does not apply here")
    elif finding.verdict == "signed":
        etree.SubElement(case, "skipped", message=_xml(f"signed off ({finding.grade}): {justification(finding)}"))
        etree.SubElement(case, "system-out").text = _details(finding)
    return "passed" if finding.verdict == "clear" else "skipped"


def _details(finding: Finding) -> str:
    parts = (finding.message, f"Remedy: {finding.remedy}" if finding.remedy else "", finding.where, known_text(finding))
    return "\n".join(_xml(part) for part in parts if part)


def _properties(suite: _Element, session: SessionReview, caution: str) -> None:
    from lxml import etree

    found = {
        "source": session.source,
        "digest": session.digest,
        "standard": session.standard,
        "outcome": session.outcome,
        "counts": counts_text(session.counts),
        **{f"assumed {n}": text for n, text in enumerate(session.assumptions, 1)},
        **{f"failed {n}": text for n, text in enumerate(session.notes, 1)},
        **{
            f"{heading} {n}": note_text(note)
            for heading, notes in sign_notes(session.signing)
            for n, note in enumerate(notes, 1)
        },
        **({"baseline": baseline_text(session.baseline)} if session.baseline is not None else {}),
        **({"hearing": caution} if caution else {}),
    }
    holder = etree.SubElement(suite, "properties")
    for name, value in found.items():
        etree.SubElement(holder, "property", name=name, value=_xml(value))


def _count(element: _Element, tests: int, failures: int, skipped: int) -> None:
    for name, value in (("tests", tests), ("failures", failures), ("errors", 0), ("skipped", skipped)):
        element.set(name, str(value))


def _xml(text: str) -> str:
    return _NOT_XML.sub("\N{REPLACEMENT CHARACTER}", neutral(text))
