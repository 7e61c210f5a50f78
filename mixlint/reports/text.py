"""The review to read in the last minutes: what holds the bounce, what to look at, what to ask, then housekeeping."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from mixlint.reports.choice import ALIKE, Group, by_cause, folder_of, gravest, open_by_reason, together, way_and_table
from mixlint.reports.parts import told_of
from mixlint.reports.plain import Page, neutral, without_orders, wrapped
from mixlint.reports.several import Text, Told, table_row
from mixlint.reports.signed import baseline_text, note_text, sign_notes, signature_text, signed_apart
from mixlint.reports.words import (
    GRADES,
    OUTCOMES,
    counts_of,
    counts_text,
    found_at,
    grades_text,
    known_text,
    limit_rows,
    measured_text,
    open_text,
    opened_by_name,
    subject_text,
    touches_levels,
    with_unit,
)
from mixlint.review.findings import GRAVITY, Finding, Grade, Report, SessionReview

if TYPE_CHECKING:
    from mixlint.reports.review_output import ReviewOutput

MOST_NAMES: Final = 12
"""Of more names than this that one thing is said of, the others are counted."""

MOST_FOLDERS: Final = 4
"""Of more folders than this the files in the others are counted together."""

MOST_LATER: Final = 4
"""Of more questions of the grade *note* than this the number is said."""

LABEL: Final = "          "
"""What stands below a label such as ``outcome``."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a reader asked for.

    Args:
        everything: also the clear and idle rows, and every flagged row however many there are.
        why: what each row rests on.
        assumptions: the assumptions one by one.
        quiet: the outcome, the counts and what holds the bounce, and no more.
    """

    everything: bool = False
    why: bool = False
    assumptions: bool = False
    quiet: bool = False


def write(output: ReviewOutput) -> str:
    """A review in this form."""
    wanted = Wanted(output.everything, output.why, output.assumptions, output.quiet)
    return review_text(output.report, output.page, wanted, output.hold_on)


def review_text(report: Report, page: Page, wanted: Wanted | None = None, hold_on: Grade = "hold") -> str:
    """The whole report.

    Args:
        report: one or several session reviews.
        page: the width, and whether bold and dim can be used.
        wanted: what the reader asked for; the usual report without it.
        hold_on: the lightest grade that holds the bounce.
    """
    wanted = wanted or Wanted()
    document = Text(report.version, page)
    parts = [document.joined(*_part(session, page, wanted, hold_on)) for session in report.sessions]
    return "".join(parts) + document.ended() if parts else "\n"


def part(output: ReviewOutput, told: Told) -> tuple[Told, str]:
    """One session among several."""
    del told
    wanted = Wanted(output.everything, output.why, output.assumptions, output.quiet)
    told, text = _part(output.report.sessions[0], output.page, wanted, output.hold_on)
    return told, without_orders(text)


def _part(session: SessionReview, page: Page, wanted: Wanted, hold_on: Grade) -> tuple[Told, str]:
    shown = list(_shown(session, wanted, hold_on))
    told = replace(told_of(session), cautions=touches_levels(shown))
    text = "".join(f"{line}\n" for line in _session(session, page, wanted, hold_on))
    return replace(told, row=table_row(told, page)), text


def _shown(session: SessionReview, wanted: Wanted, hold_on: Grade) -> Iterable[Finding]:
    """The rows that ask for something and are shown."""
    return (f for f in session.findings if not wanted.quiet or _holds(f, hold_on))


def _holds(finding: Finding, hold_on: Grade) -> bool:
    return finding.verdict == "flagged" and GRAVITY[finding.grade] <= GRAVITY[hold_on]


def _session(session: SessionReview, page: Page, wanted: Wanted, hold_on: Grade) -> list[str]:
    lines = _header(session, page)
    groups, left_out = by_cause(session.findings), Counter[str]()
    if not wanted.everything:
        groups, left_out = gravest(together(groups))
    if wanted.quiet:
        lines += _graded(groups, [g for g in GRAVITY if GRAVITY[g] <= GRAVITY[hold_on]], page, wanted)
        return [*lines, *_failed(session, page)]
    lines += _graded(groups, ["hold", "look"], page, wanted)
    lines += _open(session, page, wanted)
    lines += _graded(groups, ["note"], page, wanted)
    if left_out:
        lines += ["", *wrapped(_left_out(left_out), page.width, "")]
    lines += _signed(session, page)
    if wanted.everything:
        lines += _quiet(session, page, "clear", "clear")
        lines += _quiet(session, page, "idle", "not applicable")
    lines += _assumed(session, page, wanted)
    lines += _failed(session, page)
    return [*lines, "", *wrapped(f"{counts_text(session.counts)}.", page.width, "")]


def _header(session: SessionReview, page: Page) -> list[str]:
    title = neutral(session.title) or "(untitled)"
    pairs = [
        ("session", title),
        ("from", f"{neutral(session.source)} (read as {neutral(session.importer)})"),
        ("standard", neutral(session.standard)),
        ("outcome", OUTCOMES[session.outcome]),
        ("rows", grades_text(session.counts)),
    ]
    lines = [page.line]
    for label, said in pairs:
        body = wrapped(said, page.width, LABEL, f"{label:<10}")
        lines += [page.graded(line, session.outcome) for line in body] if label == "outcome" else body
    return [*lines, page.line]


def _graded(groups: list[Group], grades: Iterable[str], page: Page, wanted: Wanted) -> list[str]:
    """The blocks of some grades, each grade under its heading."""
    lines: list[str] = []
    for grade in grades:
        found = [group for group in groups if group.gravity == GRAVITY[grade]]
        if found:
            lines += ["", page.graded(f"{grade}: {GRADES[grade]}", grade)]
            said: dict[str, str] = {}
            for group in found:
                lines += _group(group, page, wanted, said.get(group.head.rule) == group.head.remedy)
                said[group.head.rule] = group.head.remedy
    return lines


def _group(group: Group, page: Page, wanted: Wanted, again: bool) -> list[str]:
    """One cause: its row, what follows from it, others of its kind by name; ``again`` when its remedy stands above."""
    finding = group.head
    place = found_at(finding)
    page_of_rule = f"mixlint rules {finding.rule}"
    said = f"{_said(finding)} ({place})" if place else _said(finding)
    if again or not finding.remedy:
        said = f"{said} ({page_of_rule})"
    lines = [page.bold(line) for line in wrapped(said, page.width, "      ", "    ")]
    if finding.grade_because:
        lines += wrapped(f"{finding.grade}, since {neutral(finding.grade_because)}", page.width, "      ")
    if group.alike:
        names = [_measured(one, finding) for one in group.alike]
        more = f" and {len(names) - MOST_NAMES} more" if len(names) > MOST_NAMES else ""
        listed = f"{', '.join(names[:MOST_NAMES])}{more} ({len(names) + 1} in all{_by_folder(group)})"
        lines += wrapped(listed, page.width, "        ", "      the same for ")
    for one in group.following:
        lines += wrapped(_with_rule(one), page.width, "        ", "      with it: ")
    if wanted.why and finding.evidence:
        lines += page.dims(wrapped(known_text(finding), page.width, "        ", "      evidence  "))
        if measured := measured_text(finding):
            lines += page.dims(wrapped(measured, page.width, "        ", "      limit     "))
    if again or not finding.remedy:
        return lines
    joined = f"{neutral(finding.remedy).removesuffix('.')}. ({page_of_rule})"
    return [*lines, *wrapped(joined, page.width, "        ", "      → ")]


def _by_folder(group: Group) -> str:
    """How many of the files of a group lie in each folder; empty where they lie in one."""
    met = Counter(folder_of(one) for one in (group.head, *group.alike))
    if len(met) < 2:
        return ""
    most = met.most_common(MOST_FOLDERS)
    told = [f"{many} in {neutral(folder) or 'the folder of the session'}" for folder, many in most]
    rest = met.total() - sum(many for _, many in most)
    return f": {', '.join(told)}{f' and {rest} elsewhere' if rest else ''}"


def _heading(text: str, page: Page) -> list[str]:
    return [page.bold(line) for line in wrapped(text, page.width, "  ", "")]


def _with_rule(finding: Finding) -> str:
    """What a row says, with its grade and the command that shows its rule."""
    return f"{_said(finding)} ({finding.grade}, mixlint rules {finding.rule})"


def _measured(finding: Finding, head: Finding) -> str:
    """The name, with the number where it is another one than that of the row above."""
    name, rows, above = subject_text(finding), limit_rows(finding), limit_rows(head)
    value = rows[0].value if rows else None
    if isinstance(value, bool) or not isinstance(value, int | float) or (above and value == above[0].value):
        return name
    return f"{name} ({with_unit(value, rows[0].unit)})"


def _said(finding: Finding) -> str:
    """The message, opened by the name where the message does not say it."""
    return opened_by_name(finding, neutral(finding.message))


def _left_out(left_out: Counter[str]) -> str:
    grades = ", ".join(f"{left_out[g]} {g}" for g in sorted(left_out, key=lambda g: GRAVITY[g]))
    return f"{left_out.total()} more flagged and not shown ({grades}); --everything shows them."


def _assumed(session: SessionReview, page: Page, wanted: Wanted) -> list[str]:
    if not session.assumptions:
        return []
    if not wanted.assumptions:
        said = f"{counts_of(len(session.assumptions), 'assumption')} behind these figures: --assumptions lists them."
        return ["", *page.dims(wrapped(said, page.width, ""))]
    lines = ["", page.bold("assumed")]
    for one in session.assumptions:
        lines += wrapped(neutral(one), page.width, "      ", "    ")
    return lines


def _failed(session: SessionReview, page: Page) -> list[str]:
    """What installed packages failed at; all else is as it would be without them."""
    lines = ["", page.bold("installed packages that failed")] if session.notes else []
    for one in session.notes:
        lines += wrapped(neutral(one), page.width, "      ", "    ")
    return lines


def _open(session: SessionReview, page: Page, wanted: Wanted) -> list[str]:
    """The questions; where those of housekeeping are many they are counted: they wait until there is time for them."""
    asked = [finding for finding in session.findings if finding.verdict == "open"]
    now = [finding for finding in asked if finding.grade != "note"]
    if wanted.everything or len(asked) - len(now) <= MOST_LATER:
        now = asked
    if not asked:
        return []
    groups = open_by_reason(now)
    lines = ["", *_heading("questions: not in the export, so look or listen", page)]
    for group in groups:
        for reason in group.reasons:
            lines += wrapped(neutral(reason.why), page.width, "    ")
            if reason.settle:
                way, table = way_and_table(reason)
                lines += wrapped(neutral(way), page.width, "      ", "      to settle it: ")
                lines += [f"        {neutral(line)}" for line in table]  # as it stands, so that it can be copied
        by_rule: dict[str, list[Finding]] = {}
        for finding in group.findings:
            by_rule.setdefault(finding.rule, []).append(finding)
        for same in by_rule.values():
            for lead, rest in [(same[0], same[1:])] if len(same) >= ALIKE else [(one, []) for one in same]:
                lines += wrapped(_asked(lead, rest), page.width, "        ", "      ─ ")
    if later := len(asked) - len(now):
        more = "more " if now else ""
        lines += wrapped(f"{later} {more}questions of housekeeping; --everything asks them", page.width, "    ")
    return lines


def _asked(lead: Finding, rest: list[Finding]) -> str:
    """What to ask of a row, and of which others to ask the same."""
    asks = open_text(lead)
    same = f" The same for {', '.join(map(subject_text, rest))}." if rest else ""
    many = f", {len(rest) + 1} in all" if rest else ""
    said = f"{opened_by_name(lead, asks)}{same}" if asks else ", ".join(map(subject_text, (lead, *rest)))
    fine = f"{lead.fine_answer} is fine; " if asks and lead.fine_answer else ""
    return f"{said} ({fine}{lead.grade}{many}, mixlint rules {lead.rule})"


def _signed(session: SessionReview, page: Page) -> list[str]:
    """What was signed off, those that would hold the bounce first, then what is to be said of the sign-offs."""
    lines: list[str] = []
    for heading, findings in signed_apart(session.findings):
        lines += ["", *_heading(heading, page)]
        for finding in findings:
            lines += wrapped(_with_rule(finding), page.width, "      ", "    ")
            if finding.signature is not None:
                lines += page.dims(wrapped(signature_text(finding), page.width, "        ", "      "))
    for heading, notes in sign_notes(session.signing):
        lines += ["", *_heading(heading, page)]
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
