"""The rows of one session as the page shows them: each with its anchor, its family and what stands below it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.reports.anchors import anchors
from mixlint.reports.choice import FIRST, Group, OpenGroup, by_cause, open_by_reason, things_to_do
from mixlint.reports.signed import signed_apart
from mixlint.reports.words import GRADES
from mixlint.review.findings import GRAVITY, Finding, Grade, Reason, SessionReview

if TYPE_CHECKING:
    from mixlint.reports.review_output import SignLine

FOLD: Final = 60
"""With more rows, or channels, than this they stand folded by family (common practice, no source)."""

WHOLE: Final = "whole session"
OTHER: Final = "no family read"


@dataclass(frozen=True, slots=True)
class Row:
    """One row.

    Args:
        finding: what it says.
        anchor: where it is found.
        families: the families of the channels it is about.
        sign: the line for a shell that signs it off; empty where there is none.
    """

    finding: Finding
    anchor: str
    families: tuple[str, ...]
    sign: str = ""

    @property
    def family(self) -> str:
        """The one that it is folded under: that of the first channel."""
        return self.families[0]


@dataclass(frozen=True, slots=True)
class First:
    """One of the things to do first: its row, and how many others it explains or settles."""

    row: Row
    others: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Cause:
    """A row and those that follow from it."""

    row: Row
    following: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Graded:
    """The flagged rows of one grade.

    Args:
        grade: the grade.
        says: what it asks of the reader.
        families: the causes by family; all under no name where there are few.
    """

    grade: str
    says: str
    families: tuple[tuple[str, tuple[Cause, ...]], ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """Questions that are settled in the same way."""

    reasons: tuple[Reason, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Rows:
    """All rows of a session that ask for something, or did.

    Args:
        first: the things to do first.
        later: how many things more are to be done before the bounce.
        graded: the flagged rows, the gravest first.
        asked: the questions.
        signed: what was signed off, under headings.
        choices: for each filter its values and how many rows each has.
        number: how many rows there are.
    """

    first: tuple[First, ...]
    later: int
    graded: tuple[Graded, ...]
    asked: tuple[Asked, ...]
    signed: tuple[tuple[str, tuple[Row, ...]], ...]
    choices: Mapping[str, Sequence[tuple[str, int]]]
    number: int

    @property
    def folded(self) -> bool:
        """So many that they stand folded by family."""
        return self.number > FOLD


def rows_of(
    review: SessionReview, opens: str, families: Mapping[str, str], hold_on: Grade, sign: SignLine | None = None
) -> Rows:
    """The rows of a review.

    Args:
        review: the review.
        opens: what its anchors begin with.
        families: the family of each channel, by its id.
        hold_on: the lightest grade that holds the bounce.
        sign: writes the line that signs a row off.
    """
    shown = [f for f in review.findings if f.verdict in ("flagged", "open", "signed")]
    at = anchors(review.findings)
    made = {
        id(f): Row(
            f,
            f"{opens}{at[id(f)]}",
            _families(f, families),
            sign(review, f) if sign is not None and f.verdict != "signed" else "",
        )
        for f in shown
    }
    things = things_to_do(shown, hold_on)

    def row(finding: Finding) -> Row:
        return made[id(finding)]

    return Rows(
        first=tuple(First(row(one.head), tuple(map(row, one.rows[1:]))) for one in things[:FIRST]),
        later=len(things[FIRST:]),
        graded=tuple(_graded(by_cause(shown), row, folded=len(shown) > FOLD)),
        asked=tuple(_asked(open_by_reason(shown), row)),
        signed=tuple((heading, tuple(map(row, found))) for heading, found in signed_apart(shown)),
        choices=_choices(made.values()),
        number=len(shown),
    )


def _families(finding: Finding, families: Mapping[str, str]) -> tuple[str, ...]:
    if finding.subject.table == "session":
        return (WHOLE,)
    met = dict.fromkeys(families[one] for one in finding.channels if one in families)
    return tuple(met) or (OTHER,)


def _graded(groups: Iterable[Group], row: Callable[[Finding], Row], *, folded: bool) -> Iterable[Graded]:
    by_grade: dict[int, list[Cause]] = {}
    for group in groups:
        cause = Cause(row(group.head), tuple(map(row, group.following)))
        by_grade.setdefault(group.gravity, []).append(cause)
    for grade, gravity in GRAVITY.items():
        causes = by_grade.get(gravity, [])
        by_family: dict[str, list[Cause]] = {}
        for cause in causes:
            by_family.setdefault(cause.row.family if folded else "", []).append(cause)
        if causes:
            yield Graded(grade, GRADES[grade], tuple((name, tuple(of)) for name, of in by_family.items()))


def _asked(groups: Iterable[OpenGroup], row: Callable[[Finding], Row]) -> Iterable[Asked]:
    return (Asked(group.reasons, tuple(map(row, group.findings))) for group in groups)


def _choices(rows: Iterable[Row]) -> dict[str, list[tuple[str, int]]]:
    rows = list(rows)
    grades = Counter(row.finding.grade for row in rows)
    areas = Counter(row.finding.area for row in rows)
    families = Counter(name for row in rows for name in row.families)
    return {
        "grade": sorted(grades.items(), key=lambda one: GRAVITY[one[0]]),
        "area": sorted(areas.items()),
        "family": sorted(families.items()),
    }
