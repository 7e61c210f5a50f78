"""A survey of a store in words: its sections as tables, laid out as text or written for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.reports.plain import Page, columns, in_columns, neutral, wrapped
from mixlint.reports.spreadsheet import table_line
from mixlint.reports.words import SHORT, counts_of, with_unit
from mixlint.units import few_text

if TYPE_CHECKING:
    from mixlint.store.survey_model import GroupRow, SessionRow, SignedRow, Survey, WhatIf

Cell = str | int | float | None

NOT_GIVEN: Final = "not given"
MOST_ROWS: Final = 15
"""Of longer sections the text shows so many rows and counts the others: every row stands in the other forms."""
LEAST: Final = 12
"""A column of words is no narrower, terminal columns; where that cannot be, each row stands as a block of lines."""


class Section(NamedTuple):
    """One part of a survey.

    Args:
        title: its heading.
        head: the titles of its columns; the first names the row.
        rows: a cell for each column.
        none: what is said where there are no rows; empty for a section that is left out then.
        note: a sentence under it.
        whole: the text shows all of it.
    """

    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    none: str = ""
    note: str = ""
    whole: bool = False


def sections(survey: Survey, *, whole: bool = False) -> list[Section]:
    """The parts of a survey that have something to say.

    Args:
        survey: the survey.
        whole: every session is listed, and not only those that are held.
    """
    found = [_rules(survey), _sessions(survey, whole=whole), *_signed(survey)]
    for title, what, groups in (
        ("per engineer", "engineer", survey.engineers),
        ("per client", "client", survey.clients),
        ("per standard", "standard", survey.standards),
    ):
        found.append(_groups(title, what, groups))
    found += _what_if(survey)
    left_out = tuple((one.file, one.why) for one in survey.left_out)
    found.append(Section("files that were left out", ("file", "why"), left_out))
    return [one for one in found if one.rows or one.none]


def _rules(survey: Survey) -> Section:
    return Section(
        "rules that fire most, and since when",
        ("rule", "rows", "hold", "look", "notes", "sessions", "since", "asks that"),
        tuple((r.rule, r.rows, r.hold, r.look, r.note, r.sessions, r.since, r.title) for r in survey.rules),
        none="No rule fires in the last review of any session.",
    )


def _sessions(survey: Survey, *, whole: bool) -> Section:
    shown = [one for one in survey.sessions if whole or one.outcome == "held"]
    return Section(
        "sessions" if whole else "sessions that are held",
        ("session", "outcome", "hold", "look", "notes", "open", "reviewed", "standard", "engineer", "client", "path"),
        tuple(_session_row(one) for one in shown),
        none="There is no session." if whole else "No session is held.",
    )


def _session_row(one: SessionRow) -> tuple[Cell, ...]:
    return (
        one.title or one.path,
        SHORT[one.outcome],
        one.hold,
        one.look,
        one.note,
        one.open,
        one.reviewed[:10],
        one.standard,
        one.engineer or NOT_GIVEN,
        one.client or NOT_GIVEN,
        one.path,
    )


def _signed(survey: Survey) -> list[Section]:
    head = ("row", "rule", "session", "signed by", "on", "until", "days", "because")
    notes = tuple(
        (one.name or "(whole session)", one.rule, one.session or one.path, one.state, _by(one.by), one.on, one.why)
        for one in survey.sign_notes
    )
    return [
        Section(
            f"sign-offs that lapse within {counts_of(survey.lapse_within, 'day')}",
            head,
            tuple(map(_signed_row, survey.lapsing)),
            none="None that ends with a day.",
        ),
        Section(
            "signed by whom",
            ("signed by", "rows", "sessions", "would hold"),
            tuple((one.by, one.rows, one.sessions, one.would_hold) for one in survey.signers),
            none="Nothing is signed.",
        ),
        Section("what is signed", head, tuple(map(_signed_row, survey.signed))),
        Section("sign-offs to look at", ("row", "rule", "session", "state", "signed by", "on", "why"), notes),
    ]


def _signed_row(one: SignedRow) -> tuple[Cell, ...]:
    name = one.name or "(whole session)"
    days = "" if one.days is None else one.days
    return (name, one.rule, one.session or one.path, _by(one.by), one.on, one.until, days, one.because)


def _by(signers: Iterable[str]) -> str:
    return " and ".join(signers)


def _groups(title: str, what: str, groups: Sequence[GroupRow]) -> Section:
    rows = tuple((one.name or NOT_GIVEN, one.sessions, one.held, one.look, one.clear, one.flagged) for one in groups)
    return Section(title, (what, "sessions", "held", "look first", "clear", "flagged rows"), rows)


def _what_if(survey: Survey) -> list[Section]:
    if not survey.what_if:
        return []
    return [
        Section(
            "at other limits",
            ("rule", "limit", "flagged", "then", "more", "fewer", "open", "then open", "cannot be told"),
            tuple(map(_what_if_row, survey.what_if)),
            note=(
                "Worked out from the facts of the last review of each session, at the settings that held there. "
                "A sign-off for a whole project that no row has needed yet is not known to the store."
            ),
            whole=True,
        ),
        Section(
            "rows that make the difference",
            ("row", "rule", "session", "at that limit", "grade", "path"),
            tuple(
                (row.name, one.rule, row.session or row.path, said, row.grade, row.path)
                for one in survey.what_if
                for said, rows in (("is flagged", one.come), ("is not flagged any more", one.go))
                for row in rows
            ),
        ),
        Section(
            "rows of which it cannot be told",
            ("why", "rule", "rows"),
            tuple((untold.why, one.rule, untold.rows) for one in survey.what_if for untold in one.untold),
            whole=True,
        ),
        Section(
            "sessions that come to another outcome",
            ("session", "now", "then", "path"),
            tuple(
                (
                    one.session or one.path,
                    SHORT[one.now],
                    "cannot be told" if one.then is None else SHORT[one.then],
                    one.path,
                )
                for one in survey.turns
            ),
            none="No session comes to another outcome.",
        ),
    ]


def _what_if_row(one: WhatIf) -> tuple[Cell, ...]:
    untold = sum(each.rows for each in one.untold)
    flagged = (one.flagged, one.flagged_then, len(one.come), len(one.go))
    return (one.rule, limits_text(one), *flagged, one.open, one.open_then, untold)


def limits_text(one: WhatIf) -> str:
    """``dry_db −30 dB in place of −40 dB``."""
    return "; ".join(
        f"{asked.limit} {with_unit(asked.value, asked.unit)} in place of "
        + few_text([with_unit(was, asked.unit) for was in asked.was], between=" or ")
        for asked in one.limits
    )


def about(survey: Survey) -> list[tuple[str, str]]:
    """What is said on top: label and text."""
    outcomes = survey.outcomes
    said = [("store", survey.store), ("day", survey.day)]
    if survey.first is None or survey.last is None:
        return [*said, ("reviews", "none yet: add some with mixlint review --store")]
    between = survey.first if survey.first == survey.last else f"{survey.first} to {survey.last}"
    said.append(("reviews", f"{counts_of(survey.reviews, 'session')} in {counts_of(survey.runs, 'run')}, {between}"))
    text = f"{outcomes.held} held, {outcomes.look} to look at first, {outcomes.clear} clear"
    said.append(("sessions", f"{len(survey.sessions)}: {text}, each by its last review"))
    if survey.partial:
        one = survey.partial == 1
        text = f"{survey.partial} {'was' if one else 'were'} only ever reviewed in part, and {'is' if one else 'are'}"
        said.append(("left out", f"{text} not counted"))
    return said


# --- text


def survey_text(survey: Survey, page: Page) -> str:
    """The survey to read."""
    lines: list[str] = []
    for label, text in about(survey):
        lines += wrapped(neutral(text), page.width, " " * 10, f"{label:<10}")
    for one in sections(survey):
        lines += ["", *(page.bold(line) for line in wrapped(one.title, page.width, ""))]
        lines += section_lines(one, page) or wrapped(one.none, page.width, "  ", "  ")
        if one.note:
            lines += page.dims(wrapped(one.note, page.width, "  ", "  "))
    return "\n".join(lines) + "\n"


def section_lines(one: Section, page: Page) -> list[str]:
    """The rows of a section under their heads; nothing where there are none."""
    rows = one.rows if one.whole else one.rows[:MOST_ROWS]
    if not rows:
        return []
    cells = [[cell_text(cell) for cell in row] for row in rows]
    rights = {place for place in range(len(one.head)) if all(isinstance(row[place], int | float) for row in rows)}
    widths = column_widths([list(one.head), *cells], rights, page.width - 2)
    lines: list[str] = []
    if widths is None:
        for row in cells:
            lines += [page.bold(line) for line in wrapped(row[0], page.width, "    ", "  ")]
            told = (f"{head} {cell}" for head, cell in zip(one.head[1:], row[1:], strict=True) if cell)
            lines += wrapped("; ".join(told), page.width, "      ", "    ")
    else:
        lines += [f"  {page.dim(line)}" for line in in_columns(one.head, widths, rights)]
        for row in cells:
            lines += [f"  {line}" for line in in_columns(row, widths, rights)]
    if more := len(one.rows) - len(rows):
        lines += wrapped(f"and {more} more: --as csv, json or html has all", page.width, "  ", "  ")
    return lines


def column_widths(rows: Sequence[Sequence[str]], rights: Iterable[int], width: int) -> list[int] | None:
    """The widths of columns that fit into so many terminal columns together; None where they cannot.

    Args:
        rows: all cells, the heads among them.
        rights: columns of numbers, which are not made narrower.
        width: what there is.
    """
    fixed = set(rights)
    widths = [max(1, *(columns(row[place]) for row in rows)) for place in range(len(rows[0]))]
    room = width - 2 * (len(widths) - 1)
    while sum(widths) > room:
        wide = max((place for place in range(len(widths)) if place not in fixed), key=lambda n: widths[n], default=None)
        if wide is None or widths[wide] <= LEAST:
            return None
        widths[wide] -= 1
    return widths


def cell_text(cell: Cell) -> str:
    """A cell as text on one line."""
    return "" if cell is None else neutral(str(cell))


# --- for a spreadsheet


def survey_table(survey: Survey, form: str) -> str:
    """The survey for a spreadsheet: one table below another, each under its title.

    Args:
        survey: the survey.
        form: ``csv`` or ``tsv``.
    """
    head: list[tuple[Cell, ...]] = [(survey.format, survey.day), *about(survey)]
    lines: list[tuple[Cell, ...]] = head
    for one in sections(survey, whole=True):
        lines += [(), (one.title,), one.head, *one.rows]
    return "".join(table_line(line, form) for line in lines)
