"""Findings of two reviews of one song: new, worse, better, gone; and a review that shows only what is new or worse."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from mixlint.errors import InputError
from mixlint.review.engine import counts, outcome
from mixlint.review.findings import GRAVITY, Baseline, Evidence, Finding, Grade, Report, SessionReview
from mixlint.review.lapse import is_number, moved, worse, worse_way
from mixlint.review.sign_item import Value
from mixlint.review.signed import folded, name_of, numbered
from mixlint.revisions import Change, Unseen
from mixlint.revisions.approval import Approval, Noted
from mixlint.rulebook.rule import Rule
from mixlint.session.maybe import Frozen
from mixlint.units import value_text

Came = Literal["new", "worse", "better", "gone"]
Key = tuple[str, str, str, int]


class Turn(Frozen):
    """One finding that came, went, or turned for better or worse."""

    came: Came
    rule: str
    grade: str
    table: str
    name: str
    message: str
    why: str = ""


class Compared(Frozen):
    """What changed between two revisions, and what became of the findings: ``mixlint-compare/1``."""

    format: Literal["mixlint-compare/1"] = "mixlint-compare/1"
    old: str
    new: str
    standard: str
    changes: tuple[Change, ...] = ()
    unseen: tuple[Unseen, ...] = ()
    findings: tuple[Turn, ...] = ()


@dataclass(frozen=True, slots=True)
class Known:
    """One finding of the older review, as far as it is compared."""

    rule: str
    grade: str
    table: str
    name: str
    message: str
    verdict: str
    values: Mapping[str, Value]
    limits: Mapping[str, Value]


def known_findings(findings: Iterable[Finding], renamed: Mapping[str, str] | None = None) -> dict[Key, Known]:
    """The flagged, open and signed findings of a review, by what they are known by.

    Args:
        findings: the findings.
        renamed: older channel name to newer, for findings about a channel that has another name now.
    """
    found: dict[Key, Known] = {}
    rows = list(findings)
    for row, number in zip(rows, numbered(rows), strict=True):
        if row.verdict in ("flagged", "open", "signed"):
            name = (renamed or {}).get(name_of(row), name_of(row))
            found[(row.rule, row.subject.table, folded(name), number)] = Known(
                row.rule, row.grade, row.subject.table, row.subject.name, row.message, row.verdict,
                {e.fact: e.value for e in row.evidence}, {e.fact: e.limit for e in row.evidence},
            )  # fmt: skip
    return found


def approved_findings(noted: Iterable[Noted], renamed: Mapping[str, str] | None = None) -> dict[Key, Known]:
    """The same from an approval."""
    found: dict[Key, Known] = {}
    for one in noted:
        key = (one.rule, one.table, folded((renamed or {}).get(one.name, one.name)))
        number = 1
        while (*key, number) in found:
            number += 1
        found[(*key, number)] = Known(
            one.rule, "", one.table, one.name, "", one.verdict, dict(one.values), dict(one.limits)
        )
    return found


def noted(findings: Iterable[Finding]) -> tuple[Noted, ...]:
    """What an approval keeps of a review."""
    found = []
    for row in findings:
        if row.verdict in ("flagged", "open", "signed"):
            values = {e.fact: e.value for e in row.evidence if e.value is not None}
            limits = {e.fact: e.limit for e in row.evidence if e.limit is not None}
            found.append(
                Noted(
                    rule=row.rule,
                    table=row.subject.table,
                    name=name_of(row),
                    verdict=row.verdict,
                    fingerprint=row.fingerprint,
                    values=values,
                    limits=limits,
                )
            )
    return tuple(found)


def turns(old: Mapping[Key, Known], new: SessionReview, rules: Mapping[str, Rule]) -> list[Turn]:
    """What came, went and turned between two reviews, in the newer one's order, what is gone last."""
    found = []
    rows = list(new.findings)
    seen: set[Key] = set()
    for row, number in zip(rows, numbered(rows), strict=True):
        key = (row.rule, row.subject.table, folded(name_of(row)), number)
        before = old.get(key)
        if row.verdict in ("flagged", "signed"):
            seen.add(key)
            if before is None or before.verdict == "open":
                why = "" if before is None else "it could not be seen before"
                found.append(_turn("new", row, why))
            elif (turn := _turned(before, row, rules)) is not None:
                found.append(turn)
        elif row.verdict == "open":
            seen.add(key)
    for key, before in old.items():
        if key not in seen and before.verdict in ("flagged", "signed"):
            found.append(
                Turn(
                    came="gone",
                    rule=before.rule,
                    grade=before.grade,
                    table=before.table,
                    name=before.name,
                    message=before.message,
                )
            )
    return found


def _turn(came: Came, row: Finding, why: str) -> Turn:
    return Turn(came=came, rule=row.rule, grade=row.grade, table=row.subject.table, name=row.subject.name,
                message=row.message, why=why)  # fmt: skip


def _turned(before: Known, row: Finding, rules: Mapping[str, Rule]) -> Turn | None:
    """How a finding that was there before has turned, or None when it is as it was."""
    came: Came | None = None
    whys = []
    if before.grade in GRAVITY and before.grade != row.grade:
        came = "worse" if GRAVITY[row.grade] < GRAVITY[before.grade] else "better"
        whys.append(f"grade {row.grade}, was {before.grade}")
    for evidence in row.evidence:
        way = _way(before, evidence, rules.get(row.rule))
        if way is None:
            continue
        was, now = (value_text(v, evidence.unit) for v in (before.values.get(evidence.fact), evidence.value))
        whys.append(f"{evidence.fact.replace('_', ' ')} {now}, was {was}")
        came = "worse" if way == "worse" or came == "worse" else "better"
    return _turn(came, row, "; ".join(whys)) if came is not None else None


def _way(before: Known, evidence: Evidence, rule: Rule | None) -> Came | None:
    was, now = before.values.get(evidence.fact), evidence.value
    if evidence.limit is None or not is_number(was) or not is_number(now):
        return None
    assert isinstance(was, int | float)
    assert isinstance(now, int | float)
    margin = rule.margins.get(evidence.fact) if rule is not None else None
    step = evidence.model_copy(update={"value": was + abs(now - was)})  # by how much, whichever way
    if not moved(was, step, None, margin):
        return None
    further = worse(was, now, before.limits.get(evidence.fact), worse_way(rule, evidence.fact))
    return None if further is None else "worse" if further else "better"


def baseline_findings(body: Report | Approval, session: SessionReview, where: str) -> dict[Key, Known]:
    """What a baseline knows of one session.

    Args:
        body: a report of one or several sessions, or an approval.
        session: the session under review.
        where: the baseline file, for faults.

    Raises:
        InputError: the report holds several sessions and none, or more than one, is this one.
    """
    if isinstance(body, Approval):
        return approved_findings(body.findings)
    if len(body.sessions) == 1:
        return known_findings(body.sessions[0].findings)
    base = _base(session.source)
    fits = [s for s in body.sessions if s.source == session.source] or [
        s for s in body.sessions if _base(s.source) == base
    ]
    if len(fits) > 1:
        raise InputError(
            f"{len(fits)} sessions of the baseline are called {base}",
            where=where,
            do="make the baseline with full paths",
        )
    return known_findings(fits[0].findings) if fits else {}


def _base(source: str) -> str:
    return source.replace("\\", "/").rsplit("/", 1)[-1]


def only_new(
    made: SessionReview, old: Mapping[Key, Known], rules: Mapping[str, Rule], source: str, hold_on: Grade
) -> SessionReview:
    """``made`` without the rows that a baseline has too and that are no worse.

    A row that could not be seen then and cannot be seen now is left out as well; the left out are counted.
    """
    rows = list(made.findings)
    kept = []
    for row, number in zip(rows, numbered(rows), strict=True):
        before = old.get((row.rule, row.subject.table, folded(name_of(row)), number))
        if before is None or row.verdict not in ("flagged", "open") or _is_news(before, row, rules):
            kept.append(row)
    baseline = Baseline(source=source, known=len(rows) - len(kept))
    return made.model_copy(
        update={
            "findings": tuple(kept),
            "counts": counts(kept),
            "outcome": outcome(kept, hold_on),
            "baseline": baseline,
        }
    )


def _is_news(before: Known, row: Finding, rules: Mapping[str, Rule]) -> bool:
    if row.verdict == "open":
        return False
    if before.verdict == "open":
        return True
    turn = _turned(before, row, rules)
    return turn is not None and turn.came == "worse"
