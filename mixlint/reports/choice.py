"""Which findings a reader sees, and under which: grouped by cause, the gravest kept when very many."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace

from mixlint.reports.words import parts_of_name
from mixlint.review.findings import GRAVITY, Finding, Grade, Reason
from mixlint.session.maybe import TO_COPY

MOST = 40
"""With more flagged rows than this the less grave are counted, not shown (common practice, no source)."""

ALIKE = 3
"""So many rows of one rule are said once, with a list of names (common practice, no source)."""

FOLDERS = 3
"""Files of which one thing is said in so many folders are said once, with how many lie in each."""

CAUSES = 4
"""Of more reasons than this that are settled in the same way the first few are said and the others counted."""


FIRST = 3
"""So many things are said to be done first: as many as are kept in mind on the way to the desk (no source)."""


@dataclass(frozen=True, slots=True)
class Group:
    """A finding and those that follow from it; ``alike`` are others of its rule, of which only the names are said."""

    head: Finding
    following: tuple[Finding, ...] = ()
    alike: tuple[Finding, ...] = ()

    @property
    def gravity(self) -> int:
        """That of the gravest of its rows: 0 for *hold*."""
        return min(GRAVITY[f.grade] for f in (self.head, *self.following))


@dataclass(frozen=True, slots=True)
class OpenGroup:
    """Findings that cannot be seen and are settled in the same way; the last of the reasons says how."""

    reasons: tuple[Reason, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing to do before the bounce: a cause to mend, or a question to settle.

    Args:
        head: the row that says it.
        rows: all rows that it mends or settles, the head first.
    """

    head: Finding
    rows: tuple[Finding, ...]

    @property
    def gravity(self) -> int:
        """That of the gravest of its rows: 0 for *hold*."""
        return min(GRAVITY[f.grade] for f in self.rows)


def things_to_do(findings: Iterable[Finding], hold_on: Grade = "hold") -> list[Thing]:
    """What keeps a mix from being clear to bounce, the most urgent first; nothing where it is clear.

    The graver first, what is wrong before what is not known, then what explains more rows, then in desk order. A note
    is housekeeping and waits, unless it holds the bounce; so does a question that could not hold it.

    Args:
        findings: all of one review.
        hold_on: the lightest grade that holds the bounce.
    """
    findings = list(findings)
    lightest = max(GRAVITY["look"], GRAVITY[hold_on])
    found = [Thing(g.head, (g.head, *g.following)) for g in by_cause(findings) if g.gravity <= lightest]
    for group in open_by_reason(findings):
        holding = tuple(f for f in group.findings if f.grade == "hold")
        if holding:
            found.append(Thing(holding[0], holding))
    return sorted(found, key=lambda one: (one.gravity, one.head.verdict == "open", -len(one.rows), one.head.order))


def by_cause(findings: Iterable[Finding]) -> list[Group]:
    """Flagged findings, the gravest first and else in desk order, each with those whose cause it is.

    However far down the chain these are: what follows from a cause stands under it, whatever its own grade.
    """
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
    groups = [Group(f, tuple(following.get(f.fingerprint, ()))) for f in roots]
    return sorted(groups, key=lambda group: group.gravity)


def _root(finding: Finding, heads: dict[str, Finding]) -> Finding:
    """The first cause of ``finding`` among ``heads``; a ring of causes stands for itself."""
    here, seen = finding, {finding.fingerprint}
    while here.cause in heads:
        if here.cause in seen:
            return finding
        here = heads[here.cause]
        seen.add(here.fingerprint)
    return here


def together(groups: Iterable[Group]) -> list[Group]:
    """``groups`` with many rows of one rule brought together at the first, files by folder; causes stand alone.

    Files in many folders stand together too: who has lost them all looks for one drive, and not for each.
    """
    groups = list(groups)
    folders: dict[tuple[str, ...], dict[str, list[Group]]] = {}
    for group in groups:
        if not group.following:
            head = group.head
            of = folders.setdefault((head.rule, head.grade, _shape(head)), {})
            of.setdefault(folder_of(head), []).append(group)
    alike: dict[tuple[str, ...], list[Group]] = {}
    for said, of in folders.items():
        for folder, same in of.items():
            alike.setdefault(said if len(of) >= FOLDERS else (*said, folder), []).extend(same)
    many = {id(same[0]): tuple(one.head for one in same[1:]) for same in alike.values() if len(same) >= ALIKE}
    inside = {finding.fingerprint for rest in many.values() for finding in rest}
    return [replace(g, alike=many.get(id(g), ())) for g in groups if g.head.fingerprint not in inside]


def _shape(finding: Finding) -> str:
    """What a row says, its name and its figures aside: rows of one shape are one thing said of several names."""
    said = finding.message
    if folder := folder_of(finding):
        said = said.replace(f"{folder}/", "").replace(f"{folder}\\", "")
    for part in parts_of_name(finding):
        said = said.replace(part, "‹›")
    if finding.subject.table == "media":
        said = re.split(r"[.;] ", said)[0]  # behind it stands who plays the file, and that is somebody else each time
    return re.sub(r"\d[\d.,:\s]*", "#", said)


def folder_of(finding: Finding) -> str:
    """The folder of the file that a finding is about; empty for every other one, and for a file beside the session."""
    if finding.subject.table != "media":
        return ""
    return finding.where.replace("\\", "/").rpartition("/")[0]


def gravest(groups: list[Group], most: int | None = MOST) -> tuple[list[Group], Counter[str]]:
    """At most ``most`` rows, the gravest kept, and how many of each grade were left out."""
    rows = sum(1 + len(g.following) for g in groups)
    if most is None or rows <= most:
        return groups, Counter()
    left, out = most, Counter[str]()
    kept: dict[int, Group] = {}
    for place in sorted(range(len(groups)), key=lambda p: (groups[p].gravity, p)):
        group = groups[place]
        if left <= 0:
            out.update(f.grade for f in (group.head, *group.following, *group.alike))
            continue
        shown = tuple(sorted(group.following, key=lambda f: GRAVITY[f.grade])[: left - 1])
        out.update(f.grade for f in group.following if f not in shown)
        kept[place] = replace(group, following=tuple(f for f in group.following if f in shown))
        left -= 1 + len(shown)
    return [kept[p] for p in sorted(kept)], out


def open_by_reason(findings: Iterable[Finding]) -> list[OpenGroup]:
    """Findings that cannot be seen, brought together by what settles them: one look at the desk answers a whole group.

    Where nothing is said of settling them the reason itself tells them apart. The group with the gravest finding comes
    first, and in each the gravest finding.
    """
    groups: dict[tuple[str, ...], list[Finding]] = {}
    for finding in findings:
        if finding.verdict == "open":
            groups.setdefault(tuple(_way(r) for r in finding.reasons), []).append(finding)
    found = [OpenGroup(_causes(group), tuple(sorted(group, key=_grade))) for group in groups.values()]
    return sorted(found, key=lambda group: _grade(group.findings[0]))


def way_and_table(reason: Reason) -> tuple[str, tuple[str, ...]]:
    """How a reason is settled, and the lines of a table for a standard that may follow it, to be copied."""
    way, mark, table = reason.settle.partition(TO_COPY)
    return way, (TO_COPY.strip(), *table.split("\n")) if mark else ()


def _way(reason: Reason) -> str:
    return way_and_table(reason)[0] or reason.why


def _grade(finding: Finding) -> int:
    return GRAVITY[finding.grade]


def _causes(findings: list[Finding]) -> tuple[Reason, ...]:
    """The reasons of ``findings``, each once; how to settle them is said once, with the last that it settles."""
    by_settle: dict[str, list[Reason]] = {}
    for reason in (reason for finding in findings for reason in finding.reasons):
        same = by_settle.setdefault(_way(reason), [])
        if reason.why not in [one.why for one in same] or TO_COPY in reason.settle:
            same.append(reason)
    said: list[Reason] = []
    for same in by_settle.values():
        shown = same if len(same) <= CAUSES else same[: CAUSES - 1]
        said += [reason.model_copy(update={"settle": ""}) for reason in shown]
        if len(shown) < len(same):
            said.append(same[0].model_copy(update={"why": f"and {len(same) - len(shown)} more of the kind"}))
        said[-1] = said[-1].model_copy(update={"settle": max((one.settle for one in same), key=len)})
    return tuple(said)
