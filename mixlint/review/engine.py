"""Rules × tables → findings.

Each rule is held against each row of its table. ``when`` is looked at first: no makes the row idle, unknown leaves it
open. Then ``must``: yes is clear, no is flagged, unknown is open. Nothing here knows what an export can lose: a fact
that a gap in the export touches answers ``Unknown`` itself, and its rows come out open by that alone.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from operator import itemgetter
from typing import Any, Final, NamedTuple

from mixlint.analysis.context import SessionContext
from mixlint.facts.declare import FactValue, Row, Subject
from mixlint.review.causes import with_causes
from mixlint.review.findings import (
    GRAVITY,
    BounceOutcome,
    Counts,
    Evidence,
    Finding,
    Grade,
    GradeCounts,
    Passed,
    Reason,
    Scalar,
    SessionReview,
    SettingValue,
    SubjectRef,
    Verdict,
)
from mixlint.review.fingerprint import NO_ROW, Place, fingerprint, names_in
from mixlint.rulebook.evaluation import Consulted, RowEvaluation
from mixlint.rulebook.rule import Rule
from mixlint.rulebook.standard import Standard
from mixlint.rulebook.truth import Missing
from mixlint.session import Channel
from mixlint.session.maybe import TO_COPY

QUIET: Final[frozenset[Verdict]] = frozenset({"clear", "idle"})
"""The verdicts of the rows that ask for nothing: nearly all of them, in a session that is nearly done."""

MOST_NUMBERS: Final = 4
"""Of more channels than this the numbers of the first are told, and how many there are."""

Met = tuple[Verdict, Grade]
"""A verdict at a grade, by which rows are counted."""

DECIMALS = 6
"""Measured values are rounded to this many decimals in the evidence, so that a report does not differ by machine."""


def review(
    context: SessionContext,
    standard: Standard,
    *,
    source: str,
    digest: str,
    areas: Collection[str] = (),
    leave_out: Collection[str] = (),
    only: Collection[str] = (),
    hold_on: Grade = "hold",
    everything: bool = True,
    passed: list[Passed] | None = None,
) -> SessionReview:
    """Run the rules of ``standard`` over one session.

    Args:
        context: the session, under the house of the same standard.
        standard: the rules in force.
        source: the session file, as a reader knows it.
        digest: the digest of its content.
        areas: only the rules of these areas; of all where there are none.
        leave_out: ids of rules to leave out.
        only: ids of the only rules to run; all others are left out, unless there are none.
        hold_on: the lightest grade of a flagged finding that holds the bounce.
        everything: make a finding of each clear and idle row too; without it they are counted and no more. Sign-offs
            and baselines, which tell rows of one name apart by their order, need every row.
        passed: without it, still takes the name of each clear row, for a form that counts what passed; what such a row
            rests on is never put together.
    """
    rules = rules_chosen(standard, areas=areas, leave_out=leave_out, only=only)
    met: Counter[Met] = Counter()
    found: list[Finding] = []
    clear: list[Passed] = []
    for rule in rules:
        for row in _rows(context, rule):
            met[row.verdict, row.grade] += 1
            if everything or row.verdict not in QUIET:
                found.append(row.finding())
            elif passed is not None and row.verdict == "clear" and isinstance(row, _Judged):
                clear.append(row.named(len(found)))
    causes = with_causes(found, rules)
    findings = sorted_findings(causes)
    if passed is not None:
        passed += _placed(clear, causes)
    return SessionReview(
        source=source,
        title=context.session.title,
        importer=context.session.source.importer,
        digest=digest,
        standard=standard.name,
        outcome=outcome(findings, hold_on),
        counts=_tallied(met),
        assumptions=context.assumptions(),
        findings=tuple(findings),
    )


def _placed(clear: Iterable[Passed], found: Sequence[Finding]) -> list[Passed]:
    """Clear rows in the order of all rows, each with how many findings stand before it there."""
    rows: list[tuple[int, int, str, int, Passed | None]] = [
        *((one.order, GRAVITY[one.grade], one.rule, 2 * at + 1, None) for at, one in enumerate(found)),
        *((one.order, GRAVITY[one.grade], one.rule, 2 * one.behind, one) for one in clear),
    ]
    rows.sort(key=itemgetter(0, 1, 2, 3))
    placed, before = [], 0
    for *_, row in rows:
        if row is None:
            before += 1
        else:
            placed.append(row._replace(behind=before))
    return placed


def rules_chosen(
    standard: Standard, *, areas: Collection[str] = (), leave_out: Collection[str] = (), only: Collection[str] = ()
) -> list[Rule]:
    """The rules of a standard that a review runs, in the standard's order.

    Args:
        standard: the rules in force.
        areas: only the rules of these areas; of all where there are none.
        leave_out: ids of rules to leave out.
        only: ids of the only rules to run; all others are left out, unless there are none.
    """
    return [
        rule
        for rule in standard.rules.values()
        if rule.id not in leave_out and (not only or rule.id in only) and (not areas or rule.area in areas)
    ]


def judged(context: SessionContext, rule: Rule) -> list[Finding]:
    """Hold one rule against one session.

    Args:
        context: the session, under its house.
        rule: the rule.

    Returns:
        One finding per row of the rule's table, in table order; a single idle one when the table has no rows.
    """
    return [row.finding() for row in _rows(context, rule)]


class RowVerdict(NamedTuple):
    """What one row came to under one rule, before sign-offs; the fingerprint is that of the finding it makes."""

    row: Row[Any]
    verdict: Verdict
    grade: Grade
    fingerprint: str


def verdicts(context: SessionContext, rule: Rule) -> list[RowVerdict]:
    """Hold one rule against one session, and make no findings.

    Returns:
        One per row of the rule's table, in table order; none when the table has no rows.
    """
    rows = (one for one in _rows(context, rule) if isinstance(one, _Judged))
    return [RowVerdict(one.row, one.verdict, one.grade, fingerprint(one.place)) for one in rows]


def verdict_on(rule: Rule, row: Row[Any]) -> Met:
    """What one row comes to under one rule, before sign-offs, and at which grade."""
    verdict = _verdict(rule, row)
    return verdict, _graded(rule, row, verdict).grade


def without_quiet(made: SessionReview, passed: list[Passed] | None = None) -> SessionReview:
    """``made`` without its clear and idle rows; the counts keep them, and ``passed`` the names of the clear ones."""
    kept = tuple(finding for finding in made.findings if finding.verdict not in QUIET)
    if passed is not None:
        before = 0
        for one in made.findings:
            if one.verdict == "clear":
                subject = one.subject
                passed.append(Passed(one.area, one.rule, subject.table, subject.name, one.order, one.grade, before))
            before += one.verdict not in QUIET
    return made.model_copy(update={"findings": kept})


def sorted_findings(findings: Iterable[Finding]) -> list[Finding]:
    """Findings in desk order, the graver first on one channel, then by rule."""
    return sorted(findings, key=lambda f: (f.order, GRAVITY[f.grade], f.rule))


def counts(findings: Iterable[Finding]) -> Counts:
    """How many rows came out with each verdict."""
    return _tallied(Counter((finding.verdict, finding.grade) for finding in findings))


def _tallied(counted: Counter[Met]) -> Counts:
    def of(verdict: Verdict) -> int:
        return sum(number for (met, _), number in counted.items() if met == verdict)

    def by_grade(verdict: Verdict) -> GradeCounts:
        return GradeCounts(hold=counted[verdict, "hold"], look=counted[verdict, "look"], note=counted[verdict, "note"])

    return Counts(
        flagged=of("flagged"),
        open=of("open"),
        signed=of("signed"),
        clear=of("clear"),
        idle=of("idle"),
        flagged_by_grade=by_grade("flagged"),
        open_by_grade=by_grade("open"),
    )


def outcome(findings: Iterable[Finding], hold_on: Grade) -> BounceOutcome:
    """What a review comes to.

    Args:
        findings: its findings.
        hold_on: the lightest grade of a flagged finding that holds the bounce.

    Returns:
        ``held`` when a flagged finding is as grave as ``hold_on`` or graver. Else ``look`` when one is flagged at
        *hold* or *look*, or a row of grade *hold* cannot be seen: nobody knows then whether it would hold the bounce.
    """
    return outcome_of(((f.verdict, f.grade) for f in findings), hold_on)


def outcome_of(met: Iterable[Met], hold_on: Grade) -> BounceOutcome:
    """The same of verdicts, each with its grade."""
    rows = set(met)
    flagged = {grade for verdict, grade in rows if verdict == "flagged"}
    if any(GRAVITY[grade] <= GRAVITY[hold_on] for grade in flagged):
        return "held"
    asks = ("open", "hold") in rows
    return "look" if asks or flagged - {"note"} else "clear"


class _Judgement(NamedTuple):
    """What of one row cannot be seen, and what was looked at: ``must``, unless ``when`` settled it."""

    missing: tuple[Missing, ...]
    applies: RowEvaluation
    holds: RowEvaluation | None = None

    @property
    def singled(self) -> Mapping[str, FactValue]:
        """Of the rows that ``must`` leads to, those that break it, by the fact that leads there."""
        return {} if self.holds is None else self.holds.singled

    @property
    def consulted(self) -> tuple[Consulted, ...]:
        """The facts it rests on: those of ``must`` first."""
        if self.holds is None:
            return self.applies.consulted
        return (*self.holds.consulted, *map(_as_circumstance, self.applies.consulted))


def _verdict(rule: Rule, row: Row[Any]) -> Verdict:
    """What a row comes to, without what it rests on."""
    if rule.when is not None:
        applies = rule.when.test.holds(row, row)
        if applies is not True:
            return "open" if applies is None else "idle"
    holds = rule.must.test.holds(row, row)
    return "open" if holds is None else "clear" if holds else "flagged"


def _judge(rule: Rule, row: Row[Any]) -> _Judgement:
    """What the verdict on a row rests on: for the few that are shown."""
    applies = RowEvaluation(rule.table, row)
    if rule.when is not None:
        outcome = rule.when.test(applies)
        if outcome.truth != "yes":
            return _Judgement(outcome.missing, applies)
    holds = RowEvaluation(rule.table, row, thorough=True)
    return _Judgement(rule.must.test(holds).missing, applies, holds)


def _as_circumstance(consulted: Consulted) -> Consulted:
    """A fact of ``when`` beside those of ``must``: it is shown, but it is nothing that the row is held to."""
    return Consulted(consulted.fact, consulted.value, None)


class _Graded(NamedTuple):
    """The grade of one row, why it is another one than the rule's own, and the facts that this rests on."""

    grade: Grade
    because: str = ""
    consulted: tuple[Consulted, ...] = ()


def _graded(rule: Rule, row: Row[Any], verdict: Verdict) -> _Graded:
    """The grade of a row by what it means for the mix; a row that asks for nothing has the rule's own."""
    if verdict in QUIET:
        return _Graded(rule.grade)
    for case in rule.grades:
        sight = RowEvaluation(rule.table, row)
        if case.when.test(sight).truth == "yes":
            return _Graded(case.grade, case.because, tuple(map(_as_circumstance, sight.consulted)))
    return _Graded(rule.grade)


class _Judged(NamedTuple):
    """One row under one rule, judged; its finding is made only where somebody wants to see it."""

    rule: Rule
    row: Row[Any]
    verdict: Verdict
    graded: _Graded
    name: tuple[str, str]

    @property
    def grade(self) -> Grade:
        return self.graded.grade

    @property
    def place(self) -> Place:
        """What its finding is known by."""
        return self.rule.id, self.row.subject.table, *self.name

    def finding(self) -> Finding:
        rule, row, subject, verdict = self.rule, self.row, self.row.subject, self.verdict
        judgement = _judge(rule, row)
        reasons = tuple(Reason(fact=m.fact, why=m.why, settle=m.settle) for m in _once(judgement.missing))
        return Finding(
            rule=rule.id,
            title=rule.title,
            area=rule.area,
            grade=self.grade,
            grade_because=self.graded.because,
            verdict=verdict,
            subject=SubjectRef(table=subject.table, id=subject.id, name=subject.name),
            message=_message(rule, row, verdict, reasons, judgement.singled),
            remedy=rule.remedy.filled(rule.table, row, judgement.singled) if verdict == "flagged" else "",
            question=rule.needs_ears.filled(rule.table, row) if verdict == "open" else "",
            fine_answer=rule.fine_answer if verdict == "open" and rule.needs_ears.text else "",
            evidence=_evidence((*judgement.consulted, *self.graded.consulted), row.context),
            reasons=reasons,
            where=subject.where if verdict in QUIET else _where(subject, judgement.consulted),
            desk="" if verdict in QUIET else _desk(row.context, subject),
            order=subject.order,
            channels=subject.channels,
            fingerprint=fingerprint(self.place),
        )

    def named(self, behind: int) -> Passed:
        rule, subject = self.rule, self.row.subject
        return Passed(rule.area, rule.id, subject.table, subject.name, subject.order, self.grade, behind)


class _Nowhere(NamedTuple):
    """The one idle row of a rule whose table is empty."""

    rule: Rule
    verdict: Verdict = "idle"

    @property
    def grade(self) -> Grade:
        return self.rule.grade

    def finding(self) -> Finding:
        rule = self.rule
        return Finding(
            rule=rule.id,
            title=rule.title,
            area=rule.area,
            grade=rule.grade,
            verdict=self.verdict,
            subject=SubjectRef(table=rule.over, id="", name=f"no {rule.over} in this session"),
            message="The rule does not apply here.",
            fingerprint=fingerprint((rule.id, rule.over, *NO_ROW)),
        )


def _rows(context: SessionContext, rule: Rule) -> Iterator[_Judged | _Nowhere]:
    """The rows of the rule's table, judged, in table order; one that stands for nothing when there are none."""
    rows = rule.table.rows(context)
    if not rows:
        yield _Nowhere(rule)
    for row, name in zip(rows, names_in(context, rule.table), strict=True):
        verdict = _verdict(rule, row)
        yield _Judged(rule, row, verdict, _graded(rule, row, verdict), name)


def _message(
    rule: Rule, row: Row[Any], verdict: Verdict, reasons: tuple[Reason, ...], singled: Mapping[str, FactValue]
) -> str:
    if verdict == "flagged":
        return rule.says.filled(rule.table, row, singled)
    if verdict == "open":
        if rule.says_open.text:
            return rule.says_open.filled(rule.table, row)
        whys = "; ".join(dict.fromkeys(reason.why for reason in reasons))
        ways = (reason.settle.partition(TO_COPY)[0] for reason in reasons)
        settle = "; ".join(dict.fromkeys(way for way in ways if way))
        return f"{row.subject.name}: cannot be seen: {whys}." + (f" To settle it: {settle}." if settle else "")
    if verdict == "clear":
        return f"{rule.title}."
    return "The rule does not apply here."


def _once(missing: Iterable[Missing]) -> list[Missing]:
    """The first of those that give one and the same reason."""
    return list({(m.why, m.settle): m for m in reversed(list(missing))}.values())[::-1]


def _where(subject: Subject, consulted: Iterable[Consulted]) -> str:
    """The place of the first fact that has one more precise than the subject's, else the subject's."""
    for one in consulted:
        if isinstance(one.value, FactValue) and one.limit is not None and one.value.where:
            return one.value.where
    return subject.where


def _desk(context: SessionContext, subject: Subject) -> str:
    """Where a reader finds what a row is about: ``channel 9 in Guitars``; nothing where it is no channel's."""
    found = [context.channels[one] for one in subject.channels if one in context.channels]
    if not found or subject.table in ("session", "media"):
        return ""
    numbers = ", ".join(str(context.order[one.id] + 1) for one in found[:MOST_NUMBERS])
    more = f" and {len(found) - MOST_NUMBERS} more" if len(found) > MOST_NUMBERS else ""
    groups = {group for one in found if (group := _group_name(context, one))}
    inside = f" in {groups.pop()}" if len(groups) == 1 else ""
    return f"channel{'s' if len(found) > 1 else ''} {numbers}{more}{inside}"


def _group_name(context: SessionContext, channel: Channel) -> str:
    """The group that a channel lies in or runs into; nothing where that is the mix bus or not known."""
    output = channel.output if isinstance(channel.output, str) else ""
    for one in (channel.parent, output):
        group = context.channels.get(one) if one else None
        if group is not None and group.kind == "group":
            return context.name(group.id)
    return ""


def _evidence(consulted: Iterable[Consulted], context: SessionContext) -> tuple[Evidence, ...]:
    """What the finding rests on: each fact once per limit; without a limit only where it has none elsewhere."""
    kept = list(consulted)
    limited = {one.fact.name for one in kept if one.limit is not None}
    found: dict[tuple[str, object], Evidence] = {}
    for one in kept:
        if one.limit is not None or one.fact.name not in limited:
            found.setdefault((one.fact.name, one.limit), _one_evidence(one, context))
    return tuple(found.values())


def _one_evidence(consulted: Consulted, context: SessionContext) -> Evidence:
    fact, found = consulted.fact, consulted.value
    settings = tuple(SettingValue(name=s.name, value=context.setting(s), unit=s.unit) for s in fact.settings)
    if not isinstance(found, FactValue):
        return Evidence(
            fact=fact.name,
            value=None,
            unit=fact.unit,
            limit=consulted.limit,
            known="unknown",
            note=found.unknown,
            settings=settings,
        )
    value = tuple(map(_rounded, found.value)) if isinstance(found.value, tuple) else _rounded(found.value)
    return Evidence(
        fact=fact.name,
        value=value,
        unit=fact.unit,
        limit=consulted.limit,
        known=found.how,
        where=found.where,
        note=found.note,
        settings=settings,
    )


def _rounded(value: Scalar) -> Scalar:
    return round(value, DECIMALS) + 0.0 if isinstance(value, float) else value
