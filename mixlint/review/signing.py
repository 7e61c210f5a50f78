"""A new sign-off: which rows are meant, and the line that signs them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from mixlint.errors import MixlintError
from mixlint.review.findings import Finding
from mixlint.review.lapse import grounds, worst_grounds
from mixlint.review.sign_item import AnswerWord, Scope, SignOff, end_of
from mixlint.review.signed import Names, folded, name_of, numbered
from mixlint.rulebook.rule import Rule


def rows_meant(
    findings: Iterable[Finding], rule: Rule, on: str | None, scope: Scope, *, asked: bool, names: Names
) -> list[Finding]:
    """The rows that a sign-off is meant for: flagged ones, or open ones where a question is answered.

    For scope ``finding`` these are one row, or several of one name.

    Raises:
        MixlintError: there is none, or it is not clear which.
    """
    verdict, word = ("open", "open") if asked else ("flagged", "flagged")
    all_rows = [row for row in findings if row.rule == rule.id]
    rows = [row for row in all_rows if row.verdict == verdict]
    if on is not None:
        wanted = folded(on)
        rows = [row for row in rows if folded(row.subject.name) == wanted] or [
            row for row in rows if wanted in {folded(names.get(one, "")) for one in row.channels}
        ]
    if not rows:
        there = sorted({row.subject.name for row in all_rows if row.verdict == verdict})
        about = f" on {on}" if on is not None else ""
        do = f"it is {word} on {', '.join(there[:8])}" if there else "there is nothing to sign"
        if not there and any(row.verdict == ("flagged" if asked else "open") for row in all_rows):
            do = "it is flagged: sign it off without --answer" if asked else "it is open: answer it with --answer"
        raise MixlintError(f"{rule.id} has no {word} row{about}", do=do)
    if scope == "finding" and len(rows) > 1 and len({folded(row.subject.name) for row in rows}) > 1:
        shown = ", ".join(dict.fromkeys(row.subject.name for row in rows))
        raise MixlintError(
            f"{rule.id} is {word} on {len(rows)} rows", do=f"name one with --on, or widen --scope: {shown}"
        )
    if scope == "part" and on is None and len({folded(row.subject.name) for row in rows}) > 1:
        raise MixlintError("which part is meant?", do="name the channel with --on")
    return rows


def first_unsigned(
    rows: Sequence[Finding], findings: Sequence[Finding], items: Iterable[SignOff], by: str
) -> list[Finding]:
    """Of several rows of one name the first that this person has not signed yet; the first of all when none is left."""
    done = {item.key for item in items if item.signer == by.casefold()}
    for row, number in zip(findings, numbered(findings), strict=True):
        if row in rows and _key(row, number) not in done:
            return [row]
    return [*rows[:1]]


def _key(row: Finding, number: int) -> tuple[str, ...]:
    return (row.rule, "finding", row.subject.table, folded(name_of(row)), str(number))


def new_line(
    rule: Rule,
    rows: Sequence[Finding],
    *,
    because: str,
    by: str,
    day: date,
    until: str,
    scope: Scope,
    answer: AnswerWord | None,
    content: str,
    part: str,
    findings: Sequence[Finding],
) -> SignOff:
    """The line that signs ``rows``.

    Args:
        rule: the rule.
        rows: the rows meant.
        because: the reason.
        by: the initials.
        day: today.
        until: when it ends, as given.
        scope: what it covers.
        answer: the answer, where a question is answered.
        content: what an answer rests on.
        part: the channel's name, for scope ``part``.
        findings: all findings, which tell the first of several of one name from the second.

    Raises:
        MixlintError: the end is none, or has passed.
    """
    try:
        end = end_of(until)
    except ValueError as fault:
        raise MixlintError(str(fault), where="--until", do="give a day, mix N or never") from fault
    if end not in ("never",) and not end.startswith("mix") and date.fromisoformat(end) < day:
        raise MixlintError(f"{end} has passed", where="--until", do="give a day to come")
    first = rows[0]
    number = 1
    name = ""
    if scope == "finding":
        name = name_of(first)
        number = next(n for row, n in zip(findings, numbered(findings), strict=True) if row is first)
    elif scope == "part":
        name = part or first.subject.name
    rests, limits = ({}, {}) if answer else grounds(first) if scope == "finding" else worst_grounds(rows)
    return SignOff(
        rule=rule.id,
        table=first.subject.table,
        name=name,
        number=number,
        because=because,
        by=by,
        on=day,
        until=end,
        scope=scope,
        grade="" if answer else first.grade,
        answer=answer,
        content=content if answer else "",
        rests=rests,
        limits=limits,
    )
