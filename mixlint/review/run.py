"""What one run of the checklist is: the standard, what of it is run, what holds the bounce, and the day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from mixlint.analysis.context import SessionContext
from mixlint.review.engine import review, rules_chosen
from mixlint.review.findings import Grade, Passed, SessionReview
from mixlint.rulebook.rule import Rule
from mixlint.rulebook.standard import Standard


@dataclass(frozen=True, slots=True)
class ChecklistRun:
    """The choices that hold for a session's review, for its sign-offs and for its comparison alike.

    Args:
        standard: the standard in force.
        day: the day of the run, which the ends of sign-offs are held against.
        areas: only the rules of these areas; of all where there are none.
        leave_out: ids of rules to leave out.
        only: ids of the only rules to run; all others are left out, unless there are none.
        hold_on: the lightest grade of a flagged finding that holds the bounce.
    """

    standard: Standard
    day: date
    areas: frozenset[str] = frozenset()
    leave_out: frozenset[str] = frozenset()
    hold_on: Grade = "hold"
    only: frozenset[str] = frozenset()

    @property
    def rules(self) -> dict[str, Rule]:
        """The rules that are run, by id."""
        chosen = rules_chosen(self.standard, areas=self.areas, leave_out=self.leave_out, only=self.only)
        return {rule.id: rule for rule in chosen}

    @property
    def whole(self) -> bool:
        """The whole checklist is run, but for single rules that are left out."""
        return not self.areas and not self.only

    def review(
        self,
        context: SessionContext,
        *,
        source: str,
        digest: str,
        everything: bool = True,
        passed: list[Passed] | None = None,
    ) -> SessionReview:
        """Run the checklist over one session.

        Args:
            context: the session, under the house of the same standard.
            source: the session file, as a reader knows it.
            digest: the digest of its content.
            everything: make a finding of each clear and idle row too, which sign-offs and baselines need.
            passed: without it, still takes the name of each clear row.
        """
        return review(
            context,
            self.standard,
            source=source,
            digest=digest,
            areas=self.areas,
            leave_out=self.leave_out,
            only=self.only,
            hold_on=self.hold_on,
            everything=everything,
            passed=passed,
        )
