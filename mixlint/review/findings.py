"""What a review says: findings with their evidence, gathered per session. Also the models of the JSON report."""

from __future__ import annotations

from typing import Final, Literal, NamedTuple

from mixlint.rulebook.rule_file import Grade as Grade
from mixlint.session.maybe import Frozen

GRAVITY: Final[dict[str, int]] = {"hold": 0, "look": 1, "note": 2}
"""Grades from the gravest to the lightest: the one order of them."""

Verdict = Literal["flagged", "open", "signed", "clear", "idle"]
"""Flagged; open (cannot be seen); signed off; clear; idle (the rule does not apply here)."""

BounceOutcome = Literal["held", "look", "clear"]
"""``held``: do not bounce; ``look``: something is flagged to look at, or a question that could hold the bounce is
open; ``clear``: neither."""

Scalar = float | int | bool | str


class SettingValue(Frozen):
    """A setting in force: a number that a house can set, and that a fact rests on."""

    name: str
    value: float
    unit: str = ""


class Evidence(Frozen):
    """One number or word that a finding rests on.

    Args:
        fact: the name of the fact.
        value: its value; None where it is not known.
        unit: its unit.
        limit: what it is held to; None where it only says that the rule applies here.
        known: how it is known.
        where: its place in the export or the song.
        note: a word about the value, or why it is not known.
        settings: the settings in force that the fact rests on.
    """

    fact: str
    value: Scalar | tuple[Scalar, ...] | None
    unit: str = ""
    limit: Scalar | tuple[Scalar, ...] | None = None
    known: Literal["declared", "measured", "derived", "assumed", "unknown"]
    where: str = ""
    note: str = ""
    settings: tuple[SettingValue, ...] = ()


class Reason(Frozen):
    """Why something cannot be seen, and what would settle it."""

    fact: str
    why: str
    settle: str = ""


class SubjectRef(Frozen):
    """What a finding is about."""

    table: str
    id: str
    name: str


class Signature(Frozen):
    """Who signed a finding off and why, or how its question was answered.

    Args:
        because: the reason.
        by: the initials; two where the rule asks for two.
        on: the day, ISO 8601; the later of two.
        until: ``never``, a day, or ``mix N``; the earlier of two.
        scope: what the sign-off covers: finding, part, song or project.
        answer: ``yes`` or ``no`` where a question was asked.
        file: the name of the file it stands in.
    """

    because: str
    by: tuple[str, ...]
    on: str
    until: str = "never"
    scope: str = "finding"
    answer: str = ""
    file: str = ""


class SignNote(Frozen):
    """A sign-off that a reader should look at: lapsed, waiting for a second person, unused, or about to end."""

    rule: str
    table: str
    name: str = ""
    by: str
    on: str
    because: str
    why: str
    file: str = ""


class Signing(Frozen):
    """What is to be said about the sign-offs of one session."""

    lapsed: tuple[SignNote, ...] = ()
    waiting: tuple[SignNote, ...] = ()
    unused: tuple[SignNote, ...] = ()
    ending: tuple[SignNote, ...] = ()


class Baseline(Frozen):
    """What a review was held against, and how many rows it left out because they were there and no worse."""

    source: str
    known: int = 0


class Finding(Frozen):
    """One row judged by one rule.

    ``grade_because`` says why the grade is not the rule's own; ``fine_answer`` which answer to the question is fine,
    where one is asked. ``desk`` is where a reader finds the channel, ``order`` the desk order. ``channels`` are the ids
    of the channels involved. ``cause`` is the fingerprint of the finding this one follows from, where there is one. The
    fingerprint is stable over renumbered ids, order and rounding: it is made of rule, table and name.
    """

    rule: str
    title: str = ""
    area: str
    grade: Grade
    grade_because: str = ""
    verdict: Verdict
    subject: SubjectRef
    message: str
    remedy: str = ""
    question: str = ""
    fine_answer: Literal["yes", "no", ""] = ""
    evidence: tuple[Evidence, ...] = ()
    reasons: tuple[Reason, ...] = ()
    where: str = ""
    desk: str = ""
    order: int = 0
    channels: tuple[str, ...] = ()
    cause: str = ""
    fingerprint: str
    signature: Signature | None = None


class Passed(NamedTuple):
    """A clear row by its name, where nobody wants to see what it rests on.

    Args:
        area, rule: the rule.
        table, name: the row.
        order, grade: as of a finding.
        behind: how many findings stand before it in the order of all rows.
    """

    area: str
    rule: str
    table: str
    name: str
    order: int
    grade: Grade
    behind: int


class GradeCounts(Frozen):
    """How many rows there are at each grade."""

    hold: int = 0
    look: int = 0
    note: int = 0


class Counts(Frozen):
    """How many rows came out with each verdict, and of the flagged and open ones how many at each grade."""

    flagged: int = 0
    open: int = 0
    signed: int = 0
    clear: int = 0
    idle: int = 0
    flagged_by_grade: GradeCounts = GradeCounts()
    open_by_grade: GradeCounts = GradeCounts()


class SessionReview(Frozen):
    """The review of one session. Findings stand in desk order, graver first on one channel.

    ``notes`` says what else a reader should know: installed packages that could not be used.
    """

    source: str
    title: str
    importer: str
    digest: str
    standard: str
    outcome: BounceOutcome
    counts: Counts
    assumptions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    signing: Signing = Signing()
    baseline: Baseline | None = None


class Report(Frozen):
    """Several session reviews in one document: ``mixlint-report/1``."""

    format: Literal["mixlint-report/1"] = "mixlint-report/1"
    version: str
    sessions: tuple[SessionReview, ...] = ()
