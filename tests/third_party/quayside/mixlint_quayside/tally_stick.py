"""A form of a report: a notch for each flagged row of a session."""

from __future__ import annotations

from mixlint.reports.review_output import ReviewOutput


def write(output: ReviewOutput) -> str:
    """One line a session."""
    return "".join(f"{one.title}: {'|' * one.counts.flagged} ({one.outcome})\n" for one in output.report.sessions)
