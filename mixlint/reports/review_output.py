"""What a review is written from, whatever the form."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mixlint.reports.pictures.picture import Pictures
    from mixlint.reports.plain import Page
    from mixlint.review.findings import Finding, Grade, Passed, Report, SessionReview
    from mixlint.rulebook import Rule

    SignLine = Callable[[SessionReview, Finding], str]


@dataclass(frozen=True, slots=True)
class ReviewOutput:
    """All that a form of a review can be written from.

    Args:
        report: the sessions with their findings; clear and idle rows only where they are wanted.
        page: how wide text is, and whether bold and dim can be used.
        everything: the reader asked for clear and idle rows too.
        why, assumptions, quiet: the reader asked for what rows rest on, for the assumptions, for the holds alone.
        hold_on: the lightest grade that holds the bounce.
        rules: the rules in force by id.
        passed: the clear rows of each session by name, in their order, where they are none of its findings.
        pictures: what is drawn of each session, in the order of the sessions; empty for a form that wants none.
        sign: writes the line for a shell that signs a row off, or answers it; None where there is no session to name.
        back: the place that leads from the page of one session back to all of them; empty where it stands alone.
    """

    report: Report
    page: Page
    everything: bool = False
    hold_on: Grade = "hold"
    rules: Mapping[str, Rule] = field(default_factory=dict)
    passed: Sequence[Sequence[Passed]] = ()
    pictures: Sequence[Pictures] = ()
    why: bool = False
    assumptions: bool = False
    quiet: bool = False
    sign: SignLine | None = None
    back: str = ""
