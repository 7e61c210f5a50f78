"""One session's part of a document of several, written where the session is reviewed."""

from __future__ import annotations

from dataclasses import asdict, replace
from importlib import import_module
from typing import TYPE_CHECKING

from mixlint.reports.several import Told
from mixlint.reports.words import grades_text, touches_levels

if TYPE_CHECKING:
    from mixlint.reports.review_output import ReviewOutput
    from mixlint.review.findings import SessionReview


def told_of(review: SessionReview) -> Told:
    """What every form tells of a session outside its part."""
    counts = review.counts
    return Told(
        source=review.source,
        title=review.title,
        outcome=review.outcome,
        counts=counts.model_dump(),
        grades=grades_text(counts),
        cautions=touches_levels(review.findings),
    )


def part_of(output: ReviewOutput, form: str) -> tuple[Told, str]:
    """The part of one session, and what is told of it elsewhere in a document.

    Args:
        output: the review of one session.
        form: a name of :data:`mixlint.reports.several.DOCUMENTS`.
    """
    (review,) = output.report.sessions
    from mixlint.reports.forms import REVIEW_FORMS

    part: tuple[Told, str] = import_module(REVIEW_FORMS[form].module).part(output, told_of(review))
    return part


def page_of(output: ReviewOutput) -> tuple[Told, str]:
    """The page of one session that stands in a folder of pages, and what the index tells of it."""
    from mixlint.reports.page.document import write

    (review,) = output.report.sessions
    balance = output.pictures[0].balance if output.pictures else None
    told = replace(told_of(review), balance=None if balance is None else asdict(balance))
    return told, write(output)
