"""What one run of the checklist is: the standard, what of it is run, what holds the bounce, and the day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from mixlint.analysis.context import SessionContext
from mixlint.review.engine import review
from mixlint.review.findings import Grade, SessionReview
from mixlint.rulebook.rule import Rule
from mixlint.rulebook.standard import Standard


@dataclass(frozen=True, slots=True)
class ChecklistRun:
    """The choices that hold for a session's review, for its sign-offs and for its comparison alike.

    Args:
        standard: the standard in force.
        day: the day of the run, which the ends of sign-offs are held against.
        area: only the rules of this area, or None for all.
        leave_out: ids of rules to leave out.
        hold_on: the lightest grade of a flagged finding that holds the bounce.
    """

    standard: Standard
    day: date
    area: str | None = None
    leave_out: frozenset[str] = frozenset()
    hold_on: Grade = "hold"

    @property
    def rules(self) -> dict[str, Rule]:
        """The rules that are run, by id."""
        return {
            rule.id: rule
            for rule in self.standard.rules.values()
            if rule.id not in self.leave_out and self.area in (None, rule.area)
        }

    def review(self, context: SessionContext, *, source: str, digest: str, everything: bool = True) -> SessionReview:
        """Run the checklist over one session.

        Args:
            context: the session, under the house of the same standard.
            source: the session file, as a reader knows it.
            digest: the digest of its content.
            everything: make a finding of each clear and idle row too, which sign-offs and baselines need.
        """
        return review(
            context,
            self.standard,
            source=source,
            digest=digest,
            area=self.area,
            leave_out=self.leave_out,
            hold_on=self.hold_on,
            everything=everything,
        )
