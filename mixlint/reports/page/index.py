"""The first page of several sessions: an album, a course or an archive, what needs attention first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.reports.few_words import SHORT, counts_of
from mixlint.reports.page.environment import rendered
from mixlint.reports.pictures.small_row import MOST_DB
from mixlint.reports.plain import neutral
from mixlint.units import few_text

if TYPE_CHECKING:
    from mixlint.reports.pictures.small_row import SmallBalance
    from mixlint.review.findings import BounceOutcome, Counts

MOST_HELD: Final = 5
"""So many sessions that are held are named above the table."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One session in the index.

    Args:
        page: the name of its page, beside the index.
        title: what it is called.
        source: its file as it was named.
        outcome: what it came to.
        counts: its rows.
        balance: its stereo balance over time; None where nothing was drawn of it.
    """

    page: str
    title: str
    source: str
    outcome: BounceOutcome
    counts: Counts
    balance: SmallBalance | None = None


@dataclass(frozen=True, slots=True)
class Lost:
    """A session that could not be reviewed: its file as it was named, and why."""

    source: str
    why: str


def index_html(entries: Sequence[Entry], lost: Sequence[Lost], version: str) -> str:
    """The index as an HTML document.

    Args:
        entries: the sessions that were reviewed.
        lost: those that could not be.
        version: mixlint's own.
    """
    ordered = in_order(entries)
    return rendered(
        "index.html.j2",
        (),
        styles=("index.css.j2",),
        entries=ordered,
        lost=sorted(lost, key=lambda one: (one.source.casefold(), one.source)),
        count=counts_of(len(entries) + len(lost), "session"),
        answer=_answer(ordered, lost),
        short=SHORT,
        most_db=f"{MOST_DB:.0f}",
        version=version,
        caution="",
    )


def in_order(entries: Sequence[Entry]) -> list[Entry]:
    """What needs attention first: held, look, clear; in each the most rows at hold, then at look, then by name."""

    def key(one: Entry) -> tuple[int, int, int, str, str]:
        by_grade = one.counts.flagged_by_grade
        name = one.title or one.source
        return (*SHORT,).index(one.outcome), -by_grade.hold, -by_grade.look, name.casefold(), one.source

    return sorted(entries, key=key)


def _answer(entries: Sequence[Entry], lost: Sequence[Lost]) -> str:
    """Which sessions are held, how many ask for a look, how many are clear, and how many could not be reviewed."""
    held = [neutral(one.title or one.source) for one in entries if one.outcome == "held"]
    looks, clear = (sum(one.outcome == outcome for one in entries) for outcome in ("look", "clear"))
    verb = "is" if len(held) == 1 else "are"
    parts = [f"{len(held)} {verb} held: {few_text(held, MOST_HELD)}" if held else "None is held"]
    if looks:
        parts.append(f"{looks} to look at first")
    if clear:
        parts.append(f"{clear} clear to bounce")
    if lost:
        parts.append(f"{len(lost)} could not be reviewed")
    return "; ".join(parts) + "."
