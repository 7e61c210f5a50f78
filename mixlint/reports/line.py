"""One line per finding, for a pipeline: session, grade, rule, channel and message, parted by tabs.

A session opens with a line that has ``outcome`` in the second field, then the outcome, the title and the counts. In the
second field a flagged row has its grade (``hold``, ``look``, ``note``); the others have their verdict (``open``,
``signed``, ``clear``, ``idle``). No field holds a tab or a line feed, whatever the names in the session hold.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from mixlint.reports.plain import neutral
from mixlint.reports.words import counts_text

if TYPE_CHECKING:
    from mixlint.reports.review_output import ReviewOutput
    from mixlint.reports.several import Told
    from mixlint.review.findings import Report


def write(output: ReviewOutput) -> str:
    """A review in this form."""
    return review_lines(output.report)


def part(output: ReviewOutput, told: Told) -> tuple[Told, str]:
    """The lines of one session among several."""
    from mixlint.reports.plain import without_orders

    return told, without_orders(review_lines(output.report))


def review_lines(report: Report) -> str:
    """The outcome and the findings of every session, these in desk order."""
    lines = []
    for session in report.sessions:
        head = (session.source, "outcome", session.outcome, session.title, counts_text(session.counts))
        lines.append("\t".join(map(neutral, head)) + "\n")
        for finding in session.findings:
            grade = finding.grade if finding.verdict == "flagged" else finding.verdict
            fields = (session.source, grade, finding.rule, finding.subject.name, finding.message)
            lines.append("\t".join(neutral(field) for field in fields) + "\n")
    return "".join(lines)
