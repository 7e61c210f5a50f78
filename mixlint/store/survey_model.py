"""What a survey says, as a document: ``mixlint-survey/1``. Also the models of its JSON."""

from __future__ import annotations

from typing import Literal

from mixlint.review.findings import BounceOutcome, Grade, Scalar
from mixlint.session.maybe import Frozen


class Outcomes(Frozen):
    """How many sessions came to each outcome."""

    held: int = 0
    look: int = 0
    clear: int = 0


class SessionRow(Frozen):
    """One session by its last review of the whole checklist; ``reviewed`` is its time in UTC, ISO 8601.

    ``hold``, ``look`` and ``note`` count its flagged rows, ``open`` what cannot be seen. Engineer and client are null
    where neither the command nor the export nor the standard says.
    """

    title: str
    path: str
    outcome: BounceOutcome
    reviewed: str
    reviews: int
    standard: str
    engineer: str | None = None
    client: str | None = None
    hold: int = 0
    look: int = 0
    note: int = 0
    open: int = 0
    signed: int = 0


class RuleRow(Frozen):
    """One rule that fires: its flagged rows by grade, in how many sessions, and since when.

    ``since`` is the day (UTC) since which the oldest of these rows has been flagged in every review of its session.
    """

    rule: str
    title: str
    area: str
    rows: int
    hold: int = 0
    look: int = 0
    note: int = 0
    sessions: int
    since: str


class SignedRow(Frozen):
    """A sign-off or answer that holds: by whom, until when, and in how many days from the survey's it lapses.

    ``days`` is null where it ends with no day.
    """

    session: str
    path: str
    rule: str
    name: str
    by: tuple[str, ...]
    on: str
    until: str
    days: int | None = None
    scope: str
    because: str
    answer: str = ""


class SignNoteRow(Frozen):
    """A sign-off to look at: lapsed, waiting for a second person, or unused, and why."""

    session: str
    path: str
    rule: str
    name: str
    state: Literal["lapsed", "waiting", "unused"]
    by: tuple[str, ...]
    on: str
    why: str


class SignerRow(Frozen):
    """What one person signed that holds."""

    by: str
    rows: int
    sessions: int
    would_hold: int
    """Of the rows those of grade hold."""


class GroupRow(Frozen):
    """The sessions of one engineer, client or standard; the name is null where nothing says it."""

    name: str | None
    sessions: int
    held: int = 0
    look: int = 0
    clear: int = 0
    flagged: int = 0
    """Flagged rows of all of them."""


class MonthRow(Frozen):
    """The reviews of one month (UTC), those of the whole checklist, by outcome."""

    month: str
    reviews: int
    held: int = 0
    look: int = 0
    clear: int = 0


class LimitAsked(Frozen):
    """A limit that was asked about: the values in force, one for each that a standard lays down, and the other one."""

    limit: str
    was: tuple[Scalar | tuple[Scalar, ...], ...]
    value: Scalar | tuple[Scalar, ...]
    unit: str = ""


class WhatIfRow(Frozen):
    """A row that would fire, or would not any more."""

    session: str
    path: str
    name: str
    grade: Grade
    fingerprint: str


class Untold(Frozen):
    """Why it cannot be told of some rows, and of how many."""

    why: str
    rows: int


class WhatIf(Frozen):
    """One rule at other limits, worked out from what its reviews had asked.

    ``flagged`` and ``open`` count its rows now, ``flagged_then`` and ``open_then`` at the other limits; ``come`` and
    ``go`` are the rows that make the difference of the flagged ones. Rows of which it cannot be told count in neither.
    ``elsewhere`` is the number of sessions whose review did not run the rule.
    """

    rule: str
    limits: tuple[LimitAsked, ...]
    sessions: int
    elsewhere: int = 0
    flagged: int
    flagged_then: int
    open: int
    open_then: int
    come: tuple[WhatIfRow, ...] = ()
    go: tuple[WhatIfRow, ...] = ()
    untold: tuple[Untold, ...] = ()


class OutcomeTurn(Frozen):
    """A session that would come to another outcome; ``then`` is null where that cannot be told."""

    session: str
    path: str
    now: BounceOutcome
    then: BounceOutcome | None


class LeftOutFile(Frozen):
    """A file of the store that was not read, and why."""

    file: str
    why: str


class Survey(Frozen):
    """What a store of reviews tells: ``mixlint-survey/1``.

    The picture is that of the last review of the whole checklist of each session; earlier reviews tell since when.
    ``partial`` is the number of sessions that were only ever reviewed in part. Sessions stand in the order held, look,
    clear, the most rows first.
    """

    format: Literal["mixlint-survey/1"] = "mixlint-survey/1"
    version: str
    store: str
    day: str
    runs: int
    reviews: int
    first: str | None = None
    last: str | None = None
    partial: int = 0
    outcomes: Outcomes = Outcomes()
    sessions: tuple[SessionRow, ...] = ()
    rules: tuple[RuleRow, ...] = ()
    lapse_within: int
    lapsing: tuple[SignedRow, ...] = ()
    signed: tuple[SignedRow, ...] = ()
    signers: tuple[SignerRow, ...] = ()
    sign_notes: tuple[SignNoteRow, ...] = ()
    engineers: tuple[GroupRow, ...] = ()
    clients: tuple[GroupRow, ...] = ()
    standards: tuple[GroupRow, ...] = ()
    months: tuple[MonthRow, ...] = ()
    what_if: tuple[WhatIf, ...] = ()
    turns: tuple[OutcomeTurn, ...] = ()
    left_out: tuple[LeftOutFile, ...] = ()
