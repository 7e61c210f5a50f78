"""A made-up output form for the tests: how many rows have each verdict, and what else a form is given."""

from __future__ import annotations

from collections import Counter

from mixlint.reports.review_output import ReviewOutput


def write(output: ReviewOutput) -> str:
    """One line per verdict, then the rules in force and the pictures."""
    verdicts = Counter(finding.verdict for session in output.report.sessions for finding in session.findings)
    lines = [f"{verdict} {count}" for verdict, count in sorted(verdicts.items())]
    return "\n".join([*lines, f"rules {len(output.rules)}", f"pictures {len(output.pictures)}", "größer\n"])
