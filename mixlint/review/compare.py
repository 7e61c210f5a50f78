"""What became of the findings from one review of a song to another: new, worse, better, gone."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal, NamedTuple, TypeAlias

from mixlint.comparison import Comparison, MixChange, Unseen
from mixlint.comparison.approval import ApprovedFinding
from mixlint.facts import under_current_names
from mixlint.naming import fold_name
from mixlint.review.findings import GRAVITY, Evidence, Finding, SessionReview
from mixlint.review.fingerprint import RowKey, row_keys, row_name
from mixlint.review.run import ChecklistRun
from mixlint.review.worsening import EvidenceValue, fact_words, is_number, moved, worse, worse_way
from mixlint.rulebook.rule import Rule
from mixlint.session.maybe import Frozen
from mixlint.units import value_text

Came = Literal["new", "worse", "better", "gone"]


class FindingChange(Frozen):
    """One finding that came, went, or turned for better or worse."""

    came: Came
    rule: str
    grade: str
    table: str
    name: str
    message: str
    why: str = ""


class ComparisonReport(Frozen):
    """What changed between two revisions, and what became of the findings: ``mixlint-compare/1``."""

    format: Literal["mixlint-compare/1"] = "mixlint-compare/1"
    old: str
    new: str
    standard: str
    changes: tuple[MixChange, ...] = ()
    unseen: tuple[Unseen, ...] = ()
    findings: tuple[FindingChange, ...] = ()


class EarlierFinding(NamedTuple):
    """One finding of the older review, as far as it is compared."""

    rule: str
    grade: str
    table: str
    name: str
    message: str
    verdict: str
    values: Mapping[str, EvidenceValue]
    limits: Mapping[str, EvidenceValue]


EarlierFindings: TypeAlias = Mapping[RowKey, EarlierFinding]
"""The findings of an older review, by what they are known by."""


def comparison_report(
    run: ChecklistRun, old: str, new: str, found: Comparison, before: EarlierFindings,
    made: SessionReview,
) -> ComparisonReport:  # fmt: skip
    """What changed between two revisions, with what became of the findings.

    Args:
        run: the run of the checklist that reviewed the newer revision, and the older one unless it was approved.
        old, new: the two files, as a reader knows them.
        found: what changed.
        before: the findings of the older revision.
        made: the review of the newer one.
    """
    return ComparisonReport(
        old=old,
        new=new,
        standard=run.standard.name,
        changes=found.changes,
        unseen=found.unseen,
        findings=tuple(finding_changes(before, made, run.standard.rules)),
    )


def earlier_findings(findings: Iterable[Finding], renamed: Mapping[str, str] | None = None) -> EarlierFindings:
    """The flagged, open and signed findings of a review, by what they are known by.

    Args:
        findings: the findings.
        renamed: older channel name to newer, for findings about a channel that has another name now.
    """
    found: dict[RowKey, EarlierFinding] = {}
    rows = list(findings)
    for row, key in zip(rows, row_keys(rows), strict=True):
        if row.verdict in ("flagged", "open", "signed"):
            name = row_name(row)
            table = row.subject.table
            values = under_current_names(table, {e.fact: e.value for e in row.evidence})
            limits = under_current_names(table, {e.fact: e.limit for e in row.evidence})
            found[key._replace(name=fold_name((renamed or {}).get(name, name)))] = EarlierFinding(
                row.rule, row.grade, table, row.subject.name, row.message, row.verdict, values, limits
            )
    return found


def approved_findings(approved: Iterable[ApprovedFinding], renamed: Mapping[str, str] | None = None) -> EarlierFindings:
    """The same from an approval.

    Args:
        approved: what the approval keeps of its review.
        renamed: older channel name to newer.
    """
    found: dict[RowKey, EarlierFinding] = {}
    for one in approved:
        key = RowKey(one.rule, one.table, fold_name((renamed or {}).get(one.name, one.name)), 1)
        while key in found:
            key = key._replace(number=key.number + 1)
        values, limits = (under_current_names(one.table, held) for held in (one.values, one.limits))
        found[key] = EarlierFinding(one.rule, "", one.table, one.name, "", one.verdict, values, limits)
    return found


def findings_to_approve(findings: Iterable[Finding]) -> tuple[ApprovedFinding, ...]:
    """What an approval keeps of a review."""
    found = []
    for row in findings:
        if row.verdict in ("flagged", "open", "signed"):
            values = {e.fact: e.value for e in row.evidence if e.value is not None}
            limits = {e.fact: e.limit for e in row.evidence if e.limit is not None}
            found.append(
                ApprovedFinding(
                    rule=row.rule,
                    table=row.subject.table,
                    name=row_name(row),
                    verdict=row.verdict,
                    fingerprint=row.fingerprint,
                    values=values,
                    limits=limits,
                )
            )
    return tuple(found)


def finding_changes(old: EarlierFindings, new: SessionReview, rules: Mapping[str, Rule]) -> list[FindingChange]:
    """What came, went and turned between two reviews, in the newer one's order, what is gone last.

    Args:
        old: the findings of the older review, from :func:`earlier_findings` or :func:`approved_findings`.
        new: the newer review.
        rules: the rules in force by id, which give margins and say which way is worse.
    """
    found = []
    rows = list(new.findings)
    seen: set[RowKey] = set()
    for row, key in zip(rows, row_keys(rows), strict=True):
        before = old.get(key)
        if row.verdict in ("flagged", "signed"):
            seen.add(key)
            if before is None or before.verdict == "open":
                why = "" if before is None else "it could not be seen before"
                found.append(_change("new", row, why))
            elif (change := turned(before, row, rules)) is not None:
                found.append(change)
        elif row.verdict == "open":
            seen.add(key)
    for key, before in old.items():
        if key not in seen and before.verdict in ("flagged", "signed"):
            found.append(
                FindingChange(
                    came="gone",
                    rule=before.rule,
                    grade=before.grade,
                    table=before.table,
                    name=before.name,
                    message=before.message,
                )
            )
    return found


def _change(came: Came, row: Finding, why: str) -> FindingChange:
    return FindingChange(came=came, rule=row.rule, grade=row.grade, table=row.subject.table, name=row.subject.name,
                message=row.message, why=why)  # fmt: skip


def turned(before: EarlierFinding, row: Finding, rules: Mapping[str, Rule]) -> FindingChange | None:
    """How a finding that was there before has turned, or None when it is as it was.

    Args:
        before: the finding then.
        row: the finding now.
        rules: the rules in force by id.
    """
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
        whys.append(f"{fact_words(evidence.fact)} {now}, was {was}")
        came = "worse" if way == "worse" or came == "worse" else "better"
    return _change(came, row, "; ".join(whys)) if came is not None else None


def _way(before: EarlierFinding, evidence: Evidence, rule: Rule | None) -> Came | None:
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
