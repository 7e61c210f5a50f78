"""A survey of a store: counts and lists of the last review of each session, and since when it is so."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING, Any, Final

from mixlint.store.survey_model import (
    GroupRow,
    LeftOutFile,
    MonthRow,
    Outcomes,
    RuleRow,
    SessionRow,
    SignedRow,
    SignerRow,
    SignNoteRow,
    Survey,
)
from mixlint.store.what_if import LimitWish, at_other_limits

if TYPE_CHECKING:
    from mixlint.store.archive import Archive

SURVEYED: Final = ("runs", "sessions", "findings", "signed")
"""The kinds of rows that every survey reads."""
ASKED_AGAIN: Final = ("rules", "judged", "facts")
"""The kinds that a rule at other limits needs beside them."""

_SESSIONS: Final = """
SELECT title, path, outcome, strftime(done, '%Y-%m-%dT%H:%M:%SZ') AS reviewed,
    (SELECT count(*) FROM sessions s WHERE s.place = latest.place AND s.whole) AS reviews,
    standard, engineer, client, flagged_hold AS hold, flagged_look AS look, flagged_note AS note, open, signed
FROM latest
ORDER BY CASE outcome WHEN 'held' THEN 0 WHEN 'look' THEN 1 ELSE 2 END, hold DESC, look DESC, note DESC,
    lower(title), path, place
"""

_RULES: Final = """
WITH reviews AS (SELECT session, place, done FROM sessions WHERE whole),
fired AS (SELECT DISTINCT place, session, done, rule, fingerprint
    FROM findings JOIN reviews USING (session) WHERE verdict = 'flagged'),
standing AS (SELECT fired.* FROM fired SEMI JOIN latest USING (session)),
broken AS (SELECT standing.place, standing.fingerprint, max(reviews.done) AS without
    FROM standing JOIN reviews USING (place)
    ANTI JOIN fired ON fired.session = reviews.session AND fired.fingerprint = standing.fingerprint
    GROUP BY ALL),
since AS (SELECT standing.rule, min(fired.done) AS since
    FROM standing JOIN fired USING (place, fingerprint) LEFT JOIN broken USING (place, fingerprint)
    WHERE broken.without IS NULL OR fired.done > broken.without GROUP BY ALL)
SELECT rule, coalesce(any_value(rule_title), '') AS title, coalesce(any_value(area), '') AS area, count(*) AS rows,
    count(*) FILTER (grade = 'hold') AS hold, count(*) FILTER (grade = 'look') AS look,
    count(*) FILTER (grade = 'note') AS note, count(DISTINCT session) AS sessions,
    strftime(any_value(since), '%Y-%m-%d') AS since
FROM findings SEMI JOIN latest USING (session) JOIN since USING (rule)
WHERE verdict = 'flagged' GROUP BY rule ORDER BY rows DESC, sessions DESC, rule
"""

_SIGNED: Final = """
SELECT title AS session, path, rule, name, signers, coalesce(day, '') AS day, coalesce(until, 'never') AS until,
    coalesce(scope, 'finding') AS scope, coalesce(because, '') AS because, coalesce(answer, '') AS answer,
    try_cast(until AS DATE) - ?::DATE AS days
FROM signed JOIN latest USING (session) WHERE state = 'in force'
ORDER BY days NULLS LAST, lower(title), path, rule, name, signed.fingerprint
"""

_SIGN_NOTES: Final = """
SELECT title AS session, path, rule, name, state, signers, coalesce(day, '') AS day, coalesce(why, '') AS why
FROM signed JOIN latest USING (session) WHERE state IN ('lapsed', 'waiting', 'unused')
ORDER BY state, lower(title), path, rule, name, signers
"""

_SIGNERS: Final = """
SELECT signer, count(*) AS rows, count(DISTINCT place) AS sessions, count(*) FILTER (grade = 'hold') AS would_hold
FROM (SELECT unnest(list_filter(signers, lambda one: one IS NOT NULL)) AS signer, session, fingerprint
        FROM signed WHERE state = 'in force')
    JOIN latest USING (session) JOIN findings USING (session, fingerprint)
GROUP BY signer ORDER BY rows DESC, signer
"""

_MONTHS: Final = """
SELECT strftime(done, '%Y-%m') AS month, count(*) AS reviews, count(*) FILTER (outcome = 'held') AS held,
    count(*) FILTER (outcome = 'look') AS look, count(*) FILTER (outcome = 'clear') AS clear
FROM sessions WHERE whole GROUP BY month ORDER BY month
"""

_GROUPS: Final = """
SELECT {column} AS name, count(*) AS sessions, count(*) FILTER (outcome = 'held') AS held,
    count(*) FILTER (outcome = 'look') AS look, count(*) FILTER (outcome = 'clear') AS clear, sum(flagged)::BIGINT
FROM latest GROUP BY {column} ORDER BY held DESC, sessions DESC, name NULLS LAST
"""

_WHOLE: Final = """
SELECT (SELECT count(*) FROM runs), count(*), strftime(min(done), '%Y-%m-%d'), strftime(max(done), '%Y-%m-%d'),
    (SELECT count(DISTINCT place) FROM sessions ANTI JOIN latest USING (place))
FROM sessions
"""


def survey(
    archive: Archive, *, version: str, store: str, day: date, lapse_within: int, wishes: Sequence[LimitWish] = ()
) -> Survey:
    """What a store tells.

    Args:
        archive: the store, with the kinds :data:`SURVEYED`, and :data:`ASKED_AGAIN` where there are wishes.
        version: mixlint's own.
        store: the folder as it is shown.
        day: the day of the survey, which the ends of sign-offs are held against.
        lapse_within: sign-offs that end within so many days are listed apart.
        wishes: limits to try.

    Raises:
        MixlintError: there is no such rule or limit in it.
        InputError: the store cannot be read.
    """
    ((runs, reviews, first, last, partial),) = archive.ask(_WHOLE).rows
    sessions = [SessionRow(**row) for row in _named(archive, _SESSIONS)]
    counted = {outcome: sum(one.outcome == outcome for one in sessions) for outcome in ("held", "look", "clear")}
    signed = [_signed(row) for row in _named(archive, _SIGNED, [day.isoformat()])]
    what_if, turns = at_other_limits(archive, wishes) if wishes else ((), ())
    return Survey(
        version=version,
        store=store,
        day=day.isoformat(),
        runs=runs,
        reviews=reviews,
        first=first,
        last=last,
        partial=partial,
        outcomes=Outcomes(**counted),
        sessions=tuple(sessions),
        rules=tuple(RuleRow(**row) for row in _named(archive, _RULES)),
        lapse_within=lapse_within,
        lapsing=tuple(one for one in signed if one.days is not None and one.days <= lapse_within),
        signed=tuple(signed),
        signers=tuple(
            SignerRow(by=by, rows=rows, sessions=number, would_hold=hold)
            for by, rows, number, hold in archive.ask(_SIGNERS).rows
        ),
        sign_notes=tuple(_sign_note(row) for row in _named(archive, _SIGN_NOTES)),
        engineers=_groups(archive, "engineer"),
        clients=_groups(archive, "client"),
        standards=_groups(archive, "standard"),
        months=tuple(MonthRow(**row) for row in _named(archive, _MONTHS)),
        what_if=what_if,
        turns=turns,
        left_out=tuple(LeftOutFile(file=one.file, why=one.why) for one in archive.left_out),
    )


def _named(archive: Archive, query: str, given: Sequence[Any] = ()) -> list[dict[str, Any]]:
    """The rows of an answer, each value by the name of its column."""
    answer = archive.ask(query, given)
    return [dict(zip(answer.columns, row, strict=True)) for row in answer.rows]


def _groups(archive: Archive, column: str) -> tuple[GroupRow, ...]:
    return tuple(
        GroupRow(name=name, sessions=sessions, held=held, look=look, clear=clear, flagged=flagged or 0)
        for name, sessions, held, look, clear, flagged in archive.ask(_GROUPS.format(column=column)).rows
    )


def _signed(row: dict[str, Any]) -> SignedRow:
    by, on = tuple(one for one in row.pop("signers") if one is not None), row.pop("day")
    return SignedRow(by=by, on=on, **row)


def _sign_note(row: dict[str, Any]) -> SignNoteRow:
    by, on = tuple(one for one in row.pop("signers") if one is not None), row.pop("day")
    return SignNoteRow(by=by, on=on, **row)
