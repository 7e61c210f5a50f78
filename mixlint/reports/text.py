"""The review as a track sheet in desk order: channel, where, measured, limit, unit, grade."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from mixlint.reports.choice import ALIKE, Group, by_cause, gravest, open_by_reason, together
from mixlint.reports.plain import Page, columns, neutral, padded, shortened, wrapped
from mixlint.reports.signed import baseline_text, note_text, sign_notes, signature_text, signed_apart
from mixlint.reports.words import (
    CAUTION,
    OUTCOMES,
    counts_text,
    fact_text,
    known_text,
    limit_rows,
    numbers,
    open_text,
    place_text,
    subject_text,
    touches_levels,
    with_unit,
)
from mixlint.review.findings import GRAVITY, Finding, Report, SessionReview

if TYPE_CHECKING:
    from mixlint.reports.review_output import ReviewOutput

NARROW = 76
"""Below this width the place moves from its column to a line of its own."""

ROOMY = 90
"""From this width on the columns of numbers are wider than numbers need; below it the place needs the room."""


@dataclass(frozen=True, slots=True)
class Grid:
    """The widths of the columns; ``where`` 0 means the place has a line of its own."""

    channel: int
    where: int
    measured: int = 12
    limit: int = 12
    unit: int = 6
    grade: int = 5

    @classmethod
    def of(cls, width: int) -> Grid:
        """The grid of a page ``width`` columns wide."""
        if width < NARROW:
            return cls(max(width - 40, 10), 0, 10, 10, 6, 5)
        cell = 12 if width >= ROOMY else 10
        free = width - 21 - 2 * cell
        return cls(free * 45 // 100, free - free * 45 // 100, cell, cell)

    def row(self, channel: str, where: str, measured: str, limit: str, unit: str, grade: str) -> str:
        """One row of the sheet."""
        cells = [padded(channel, self.channel)]
        if self.where:
            cells.append(padded(where, self.where))
        cells += [
            padded(measured, self.measured, right=True),
            padded(limit, self.limit, right=True),
            padded(unit, self.unit),
            padded(grade, self.grade),
        ]
        return "  ".join(cells).rstrip()


def write(output: ReviewOutput) -> str:
    """A review in this form."""
    return review_text(output.report, output.page, everything=output.everything)


def review_text(report: Report, page: Page, *, everything: bool = False) -> str:
    """The whole report.

    Args:
        report: one or several session reviews.
        page: the width, and whether bold and dim can be used.
        everything: also the clear and idle rows, and every flagged row however many there are.
    """
    lines: list[str] = []
    for session in report.sessions:
        lines += [*_session(session, page, everything), ""]
    if len(report.sessions) > 1:
        held = sum(s.outcome == "held" for s in report.sessions)
        lines += [
            f"{len(report.sessions)} sessions: {len(report.sessions) - held} clear to bounce, {held} held.",
            "",
        ]
    if any(touches_levels(s.findings) for s in report.sessions):
        lines += [*wrapped(CAUTION, page.width, ""), ""]
    return "\n".join(lines[:-1]) + "\n" if lines else "\n"


def _session(session: SessionReview, page: Page, everything: bool) -> list[str]:
    grid = Grid.of(page.width)
    lines = _header(session, page)
    groups, left_out = by_cause(session.findings), Counter[str]()
    if not everything:
        groups, left_out = gravest(together(groups))
    if groups:
        lines += ["", page.dim(grid.row("channel", "where", "measured", "limit", "unit", "grade")), page.line]
        said: set[tuple[str, str]] = set()
        for group in groups:
            again = (group.head.rule, group.head.remedy) in said
            said.add((group.head.rule, group.head.remedy))
            lines += [*_group(group, grid, page, again), ""]
        lines.pop()
    if left_out:
        lines += ["", _left_out(left_out)]
    lines += _open(session, page)
    lines += _signed(session, page)
    if everything:
        lines += _quiet(session, page, "clear", "clear")
        lines += _quiet(session, page, "idle", "does not apply here")
    if session.assumptions:
        lines += ["", page.bold("assumed")]
        for one in session.assumptions:
            lines += wrapped(neutral(one), page.width, "      ", "    ")
    lines += ["", *wrapped(f"{counts_text(session.counts)}.", page.width, "")]
    return lines


def _header(session: SessionReview, page: Page) -> list[str]:
    title = neutral(session.title) or "(untitled)"
    pairs = [
        ("session", title),
        ("from", f"{neutral(session.source)} (read as {neutral(session.importer)})"),
        ("standard", neutral(session.standard)),
        ("outcome", OUTCOMES[session.outcome]),
    ]
    lines = [page.line]
    for label, said in pairs:
        body = wrapped(shortened(said, page.width * 2), page.width, " " * 10, f"{label:<10}")
        lines += [page.bold(line) for line in body] if label == "outcome" else body
    return [*lines, page.line]


def _group(group: Group, grid: Grid, page: Page, again: bool) -> list[str]:
    lines = _finding(group.head, grid, page, again)
    if group.following:
        lines.append(page.dim("    and from this follows:"))
        for finding in group.following:
            lines += wrapped(f"{_said(finding)} ({finding.grade})", page.width, "        ", "      ─ ")
            lines += page.dims(wrapped(f"rule {finding.rule}", page.width, "        "))
    if group.alike:
        names = ", ".join(_measured(finding, group.head) for finding in group.alike)
        lines += wrapped(f"{names} ({len(group.alike) + 1} in all)", page.width, "            ", "    the same for  ")
    return lines


def _measured(finding: Finding, head: Finding) -> str:
    """The name, with the number where it is another one than that of the row above."""
    name, rows, above = subject_text(finding), limit_rows(finding), limit_rows(head)
    value = rows[0].value if rows else None
    if isinstance(value, bool) or not isinstance(value, int | float) or (above and value == above[0].value):
        return name
    return f"{name} ({with_unit(value, rows[0].unit)})"


def _finding(finding: Finding, grid: Grid, page: Page, again: bool) -> list[str]:
    """One row and what is said below it; ``again`` when the very remedy stands above already."""
    rows = limit_rows(finding)
    first = rows[0] if rows else None
    where = place_text(finding.where or (first.where if first else ""))
    name = subject_text(finding)
    fits = columns(where) <= grid.where
    lines = [page.bold(grid.row(name, where if fits else "", *numbers(first), finding.grade))]
    if columns(name) > grid.channel and name not in neutral(finding.message):  # cut above: said in full once
        lines += wrapped(name, page.width, "    ")
    if not fits:
        lines += wrapped(where, page.width, "    ")
    for evidence in rows[1:]:
        lines.append(grid.row("", fact_text(evidence.fact), *numbers(evidence), ""))
    lines += wrapped(neutral(finding.message), page.width, "    ")
    if finding.remedy:
        remedy = "as above" if again else neutral(finding.remedy)
        lines += wrapped(remedy, page.width, "            ", "    remedy  ")
    if finding.evidence:
        lines += page.dims(wrapped(known_text(finding), page.width, "            ", "    known   "))
    lines += page.dims([f"    rule    {finding.rule}"])
    return lines


def _said(finding: Finding) -> str:
    """The message, opened by the name where the message does not say it."""
    message, name = neutral(finding.message), subject_text(finding)
    if finding.subject.table == "session":
        return message
    return message if name in message else f"{name}: {message}"


def _left_out(left_out: Counter[str]) -> str:
    grades = ", ".join(f"{left_out[g]} {g}" for g in sorted(left_out, key=lambda g: GRAVITY[g]))
    return f"{left_out.total()} more flagged and not shown ({grades}); --everything shows them."


def _open(session: SessionReview, page: Page) -> list[str]:
    groups = open_by_reason(session.findings)
    if not groups:
        return []
    lines = ["", page.bold("cannot be seen in this export")]
    for group in groups:
        for reason in group.reasons:
            lines += wrapped(neutral(reason.why), page.width, "    ")
            if reason.settle:
                lines += wrapped(neutral(reason.settle), page.width, "      ", "      to settle it: ")
        by_rule: dict[str, list[Finding]] = {}
        for finding in group.findings:
            by_rule.setdefault(finding.rule, []).append(finding)
        for asked in by_rule.values():
            for lead, rest in [(asked[0], asked[1:])] if len(asked) >= ALIKE else [(one, []) for one in asked]:
                lines += wrapped(_asked(lead, rest), page.width, "        ", "      ─ ")
    return lines


def _asked(lead: Finding, rest: list[Finding]) -> str:
    """What to ask of a row, and of which others to ask the same."""
    asks = open_text(lead)
    same = f" The same for {', '.join(map(subject_text, rest))}." if rest else ""
    many = f", {len(rest) + 1} in all" if rest else ""
    said = f": {asks}{same}" if asks else "".join(f", {subject_text(one)}" for one in rest)
    return f"{subject_text(lead)}{said} (rule {lead.rule}, {lead.grade}{many})"


def _signed(session: SessionReview, page: Page) -> list[str]:
    """What was signed off, those that would hold the bounce first, then what is to be said of the sign-offs."""
    lines: list[str] = []
    for heading, findings in signed_apart(session.findings):
        lines += ["", page.bold(heading)]
        for finding in findings:
            lines += wrapped(f"{_said(finding)} (rule {finding.rule}, {finding.grade})", page.width, "      ", "    ")
            if finding.signature is not None:
                lines += page.dims(wrapped(signature_text(finding), page.width, "        ", "      "))
    for heading, notes in sign_notes(session.signing):
        lines += ["", page.bold(heading)]
        for note in notes:
            lines += wrapped(note_text(note), page.width, "      ", "    ")
    if session.baseline is not None:
        lines += ["", *wrapped(baseline_text(session.baseline), page.width, "")]
    return lines


def _quiet(session: SessionReview, page: Page, verdict: str, heading: str) -> list[str]:
    """The clear or idle rows: each rule once, with the names it was asked about."""
    names: dict[str, list[str]] = {}
    for finding in session.findings:
        if finding.verdict == verdict:
            names.setdefault(finding.rule, []).append(subject_text(finding))
    if not names:
        return []
    lines = ["", page.bold(heading)]
    for rule, found in names.items():
        lines += wrapped(f"{rule}: {', '.join(found)}", page.width, "        ", "    ")
    return lines
