"""What a picture is: geometry for its template, the answer it gives, and the same in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mixlint.analysis.context import SessionContext
    from mixlint.facts.channel_sheet import Sheet
    from mixlint.reports.pictures.small_row import SmallBalance
    from mixlint.review.findings import Finding
    from mixlint.rulebook.rule import Rule
    from mixlint.session import Unknown


@dataclass(frozen=True, slots=True)
class Scene:
    """What a picture is drawn from.

    Args:
        context: the session, open; what a picture needs besides is asked of the rooms below.
        findings: the rows of its review, so that a picture can mark each where it is.
        rules: the rules in force, whose limits a picture can draw.
    """

    context: SessionContext
    findings: tuple[Finding, ...] = ()
    rules: tuple[Rule, ...] = ()


@dataclass(frozen=True, slots=True)
class Words:
    """What a picture shows, as a table for whoever does not see it.

    Args:
        head: the titles of the columns.
        rows: a cell for each column; the first one names the row.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture of a session.

    Args:
        name: its row in :data:`mixlint.reports.pictures.KINDS`, and the name of its template and style.
        title: its heading.
        answer: the caption: what an engineer wants to know from it, in a sentence or two.
        drawing: plain geometry, in user units, that the template turns into SVG; it knows nothing of markup.
        words: the same as a table.
        legend: what lines and marks stand for, a short sentence each.
    """

    name: str
    title: str
    answer: str
    drawing: object
    words: Words
    legend: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Missing:
    """A picture that the session gives nothing for.

    Args:
        name, title: as of the picture.
        why: what is missing, a clause without a full stop.
        settle: what would give it, a clause; empty where nothing would.
    """

    name: str
    title: str
    why: str
    settle: str = ""

    @classmethod
    def of(cls, name: str, title: str, unknown: Unknown) -> Missing:
        """From a value that is not known."""
        return cls(name, title, unknown.unknown, unknown.settle)


@dataclass(frozen=True, slots=True)
class Pictures:
    """What the page shows of a session besides its findings.

    Args:
        sheet: the channel sheet; None where there is none to show.
        drawn: the pictures in the order in which they stand, each drawn or with what is missing for it.
        families: the family of parts that each channel belongs to, by the channel's id, where it is read.
        balance: the stereo balance small enough for a row of several sessions.
    """

    sheet: Sheet | None = None
    drawn: tuple[Picture | Missing, ...] = ()
    families: Mapping[str, str] = field(default_factory=dict)
    balance: SmallBalance | None = None
