"""Which findings a reader sees, and under which: grouped by cause, the gravest kept when very many."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from mixlint.reports.words import GRAVITY
from mixlint.review.findings import Finding, Reason, Report, SessionReview

MOST = 40
"""With more flagged rows than this the less grave are counted, not shown (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Group:
    """A finding and those that follow from it."""

    head: Finding
    following: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class OpenGroup:
    """Findings that cannot be seen for one and the same reason."""

    reasons: tuple[Reason, ...]
    findings: tuple[Finding, ...]


def without_quiet(session: SessionReview) -> SessionReview:
    """``session`` without its clear and idle rows; the counts keep them."""
    kept = tuple(f for f in session.findings if f.verdict not in ("clear", "idle"))
    return session.model_copy(update={"findings": kept})


def only_loud(report: Report) -> Report:
    """``report`` without clear and idle rows."""
    return report.model_copy(update={"sessions": tuple(without_quiet(s) for s in report.sessions)})


def by_cause(findings: Iterable[Finding]) -> list[Group]:
    """Flagged findings in desk order, each with those whose cause it is, however far down the chain."""
    flagged = [f for f in findings if f.verdict == "flagged"]
    heads = {f.fingerprint: f for f in flagged}
    following: dict[str, list[Finding]] = {}
    roots: list[Finding] = []
    for finding in flagged:
        root = _root(finding, heads)
        if root is finding:
            roots.append(finding)
        else:
            following.setdefault(root.fingerprint, []).append(finding)
    return [Group(f, tuple(following.get(f.fingerprint, ()))) for f in roots]


def _root(finding: Finding, heads: dict[str, Finding]) -> Finding:
    """The first cause of ``finding`` among ``heads``; a ring of causes stands for itself."""
    here, seen = finding, {finding.fingerprint}
    while here.cause in heads:
        if here.cause in seen:
            return finding
        here = heads[here.cause]
        seen.add(here.fingerprint)
    return here


def gravest(groups: list[Group], most: int | None = MOST) -> tuple[list[Group], Counter[str]]:
    """At most ``most`` rows in desk order, the gravest kept, and how many of each grade were left out."""
    rows = sum(1 + len(g.following) for g in groups)
    if most is None or rows <= most:
        return groups, Counter()
    left, out = most, Counter[str]()
    kept: dict[int, Group] = {}
    for place in sorted(range(len(groups)), key=lambda p: (_gravity(groups[p]), p)):
        group = groups[place]
        if left <= 0:
            out.update(f.grade for f in (group.head, *group.following))
            continue
        shown = tuple(sorted(group.following, key=lambda f: GRAVITY[f.grade])[: left - 1])
        out.update(f.grade for f in group.following if f not in shown)
        kept[place] = Group(group.head, tuple(f for f in group.following if f in shown))
        left -= 1 + len(shown)
    return [kept[p] for p in sorted(kept)], out


def _gravity(group: Group) -> int:
    return min(GRAVITY[f.grade] for f in (group.head, *group.following))


def open_by_reason(findings: Iterable[Finding]) -> list[OpenGroup]:
    """Findings that cannot be seen, brought together by reason, in the desk order of each reason's first."""
    groups: dict[tuple[tuple[str, str], ...], list[Finding]] = {}
    for finding in findings:
        if finding.verdict == "open":
            groups.setdefault(tuple((r.why, r.settle) for r in finding.reasons), []).append(finding)
    return [OpenGroup(found[0].reasons, tuple(found)) for found in groups.values()]
