"""A new sign-off: which rows are meant, what it rests on, and the line that signs them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from mixlint.errors import MixlintError
from mixlint.naming import fold_name
from mixlint.review.findings import Evidence, Finding
from mixlint.review.fingerprint import row_keys, row_name
from mixlint.review.worsening import EvidenceValue, is_number, nearest_limit
from mixlint.rulebook.rule import Rule
from mixlint.session import Session
from mixlint.signoffs.apply import Names
from mixlint.signoffs.line import AnswerWord, Scope, SignOff, end_of
from mixlint.signoffs.saved_settings import settings_hash

Values = dict[str, EvidenceValue]


def rows_meant(
    findings: Iterable[Finding], rule: Rule, on: str | None, scope: Scope, *, asked: bool, names: Names
) -> list[Finding]:
    """The rows that a sign-off is meant for: flagged ones, or open ones where a question is answered.

    For scope ``finding`` these are one row, or several of one name.

    Args:
        findings: all findings of the review.
        rule: the rule to sign.
        on: the name of the row or channel meant, or None.
        scope: what is to be covered.
        asked: a question is to be answered.
        names: the channels' names by id.

    Raises:
        MixlintError: there is none, or it is not clear which.
    """
    verdict, word = ("open", "open") if asked else ("flagged", "flagged")
    all_rows = [row for row in findings if row.rule == rule.id]
    rows = [row for row in all_rows if row.verdict == verdict]
    if on is not None:
        wanted = fold_name(on)
        rows = [row for row in rows if fold_name(row.subject.name) == wanted] or [
            row for row in rows if wanted in {fold_name(names.get(one, "")) for one in row.channels}
        ]
    if not rows:
        there = sorted({row.subject.name for row in all_rows if row.verdict == verdict})
        about = f" on {on}" if on is not None else ""
        do = f"it is {word} on {', '.join(there[:8])}" if there else "there is nothing to sign"
        if not there and any(row.verdict == ("flagged" if asked else "open") for row in all_rows):
            do = "it is flagged: sign it off without --answer" if asked else "it is open: answer it with --answer"
        raise MixlintError(f"{rule.id} has no {word} row{about}", do=do)
    if scope == "finding" and len(rows) > 1 and len({fold_name(row.subject.name) for row in rows}) > 1:
        shown = ", ".join(dict.fromkeys(row.subject.name for row in rows))
        raise MixlintError(
            f"{rule.id} is {word} on {len(rows)} rows", do=f"name one with --on, or widen --scope: {shown}"
        )
    if scope == "part" and on is None and len({fold_name(row.subject.name) for row in rows}) > 1:
        raise MixlintError("which part is meant?", do="name the channel with --on")
    return rows


def first_unsigned(
    rows: Sequence[Finding], findings: Sequence[Finding], items: Iterable[SignOff], by: str
) -> list[Finding]:
    """Of several rows of one name the first that one person has not signed yet; the first of all when none is left.

    Args:
        rows: the rows meant.
        findings: all findings, which tell namesakes apart by their order.
        items: what the file holds already.
        by: the person's initials.
    """
    done = {item.key for item in items if item.signer == fold_name(by)}
    for row, key in zip(findings, row_keys(findings), strict=True):
        if row in rows and (key.rule, "finding", key.table, key.name, str(key.number)) not in done:
            return [row]
    return [*rows[:1]]


@dataclass(frozen=True, slots=True)
class Wish:
    """What somebody wants to sign, as it was asked for.

    Args:
        rule: the rule's id.
        because: the reason.
        by: the initials.
        day: the day it is signed.
        on: the name of the row or channel meant, or None where it goes without saying.
        until: when it ends: a day, ``mix N`` or ``never``.
        scope: what it covers.
        answer: the answer, where a question is answered.
    """

    rule: str
    because: str
    by: str
    day: date
    on: str | None = None
    until: str = "never"
    scope: Scope = "finding"
    answer: AnswerWord | None = None


def new_signoff(
    wish: Wish, rows: Sequence[Finding], findings: Sequence[Finding], content: str = "", session: Session | None = None
) -> SignOff:
    """The sign-off of ``rows`` that was wished for.

    Args:
        wish: what is signed, by whom and why.
        rows: the rows meant, one or more.
        findings: all findings, which tell the first of several of one name from the second.
        content: what an answer rests on: the hash of the mix and of its sound.
        session: the session under review; None where its saved settings are of no account.

    Raises:
        MixlintError: the end is none, or has passed.
    """
    first = rows[0]
    number = 1
    name = ""
    if wish.scope == "finding":
        name = row_name(first)
        number = next(key.number for row, key in zip(findings, row_keys(findings), strict=True) if row is first)
    elif wish.scope == "part":
        name = wish.on or first.subject.name
    rests, limits = ({}, {}) if wish.answer else grounds(first) if wish.scope == "finding" else worst_grounds(rows)
    return SignOff(
        rule=wish.rule,
        table=first.subject.table,
        name=name,
        number=number,
        because=wish.because,
        by=wish.by,
        on=wish.day,
        until=_end(wish),
        scope=wish.scope,
        grade="" if wish.answer else first.grade,
        answer=wish.answer,
        content=content if wish.answer else "",
        settings=settings_hash(session, first, wish.scope) if session is not None and not wish.answer else "",
        rests=rests,
        limits=limits,
    )


def _end(wish: Wish) -> str:
    try:
        end = end_of(wish.until)
    except ValueError as fault:
        raise MixlintError(str(fault), where="--until", do="give a day, mix N or never") from fault
    if end != "never" and not end.startswith("mix") and date.fromisoformat(end) < wish.day:
        raise MixlintError(f"{end} has passed", where="--until", do="give a day to come")
    return end


def grounds(finding: Finding) -> tuple[Values, Values]:
    """What a sign-off of one finding rests on: the value of every fact, and the limits they are held to."""
    known = [evidence for evidence in finding.evidence if evidence.value is not None]
    rests: Values = {evidence.fact: evidence.value for evidence in known}
    limits: Values = {evidence.fact: evidence.limit for evidence in known if _is_held(evidence)}
    return rests, limits


def _is_held(evidence: Evidence) -> bool:
    """The evidence has a limit that a number can be held to."""
    limit = evidence.limit
    return is_number(evidence.value) and (is_number(limit) or isinstance(limit, tuple))


def worst_grounds(findings: Iterable[Finding]) -> tuple[Values, Values]:
    """What a wider sign-off rests on: of each number with a limit the value farthest from it.

    Where there is no such number it is what is held to a limit otherwise, words and switches, else whatever is known: a
    value that all rows have, or each of the values that they have.

    Raises:
        MixlintError: there is nothing that such a line could rest on, so that it would never lapse.
    """
    findings = tuple(findings)
    rests: Values = {}
    limits: Values = {}
    for finding in findings:
        for evidence in finding.evidence:
            value = evidence.value
            if not _is_held(evidence) or not isinstance(value, int | float):
                continue
            edge = nearest_limit(value, evidence.limit) or 0.0
            before = rests.get(evidence.fact)
            if not isinstance(before, int | float) or abs(value - edge) > abs(before - edge):
                rests[evidence.fact], limits[evidence.fact] = value, evidence.limit
    rests = rests or _said_of(findings, held=True) or _said_of(findings, held=False)
    if not rests:
        raise MixlintError(
            "these rows rest on nothing that such a line could keep", do="sign them one by one, with --on"
        )
    return rests, limits


def _said_of(findings: Iterable[Finding], *, held: bool) -> Values:
    """What is known of some rows, other than in numbers: of each fact the one value that it has, or each of them.

    Args:
        findings: the rows.
        held: only facts that the rule holds to a limit.
    """
    said: dict[str, dict[EvidenceValue, None]] = {}
    for finding in findings:
        for evidence in finding.evidence:
            value = evidence.value
            if value is not None and not is_number(value) and (evidence.limit is not None or not held):
                said.setdefault(evidence.fact, {})[value] = None
    found: Values = {}
    for fact, values in said.items():
        several = tuple(value for value in values if value is not None and not isinstance(value, tuple))
        if len(values) == 1:
            found[fact] = next(iter(values))
        elif len(several) == len(values):
            found[fact] = tuple(sorted(several, key=str))
    return found
