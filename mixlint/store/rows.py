"""One review as rows of a store: plain values, column by column, before anything is written."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import TYPE_CHECKING, Any, NamedTuple

from mixlint.review.engine import QUIET

if TYPE_CHECKING:
    from mixlint.facts.declare import Value
    from mixlint.review.findings import Finding, SessionReview, Signing, SignNote
    from mixlint.store.kept import Kept

Columns = Mapping[str, list[Any]]
"""Rows, column by column; a column that is left out is null throughout."""


class About(NamedTuple):
    """What a store knows of the review of a session beside the review.

    Args:
        session: how the store names it.
        run: the run.
        done: when it was.
        zone: how far the clock of the machine is from UTC.
        place: a hash of where the session lies as seen from the store.
        whole: the whole checklist was run.
        standard_digest: of the standard.
        engineer: who mixes; None where nothing says.
        client: for whom; None where nothing says.
    """

    session: str
    run: str
    done: datetime
    zone: str
    place: str
    whole: bool
    standard_digest: str
    engineer: str | None
    client: str | None


def session_columns(about: About, made: SessionReview, hold_on: str, kept: Kept) -> Columns:
    """The row of the session."""
    row: dict[str, Any] = {
        "session": about.session,
        "run": about.run,
        "done": about.done,
        "zone": about.zone,
        "place": about.place,
        "whole": about.whole,
        "standard_digest": about.standard_digest,
        "engineer": about.engineer,
        "client": about.client,
        "path": made.source,
        "title": made.title,
        "importer": made.importer,
        "digest": made.digest,
        "outcome": made.outcome,
        "hold_on": hold_on,
        "baseline": made.baseline.source if made.baseline is not None else None,
        "standard": made.standard,
        "channels": len(kept.names),
    }
    counts = made.counts
    row |= {verdict: getattr(counts, verdict) for verdict in ("flagged", "open", "signed", "clear", "idle")}
    for verdict, grades in (("flagged", counts.flagged_by_grade), ("open", counts.open_by_grade)):
        row |= {f"{verdict}_{grade}": getattr(grades, grade) for grade in ("hold", "look", "note")}
    return {name: [value] for name, value in row.items()}


def finding_columns(session: str, findings: Iterable[Finding], kept: Kept) -> Columns:
    """The rows of the findings that are flagged, open or signed off."""
    return _columns(
        {
            "session": session,
            "number": number,
            "rule": one.rule,
            "rule_title": one.title,
            "area": one.area,
            "grade": one.grade,
            "grade_because": one.grade_because,
            "verdict": one.verdict,
            "of_table": one.subject.table,
            "name": one.subject.name,
            "channel": next((kept.names[channel] for channel in one.channels if channel in kept.names), None),
            "family": next((kept.families[channel] for channel in one.channels if channel in kept.families), None),
            "message": one.message,
            "remedy": one.remedy,
            "question": one.question,
            "found_at": one.where,
            "fingerprint": one.fingerprint,
            "cause": one.cause,
            "evidence": _json([evidence.model_dump(mode="json") for evidence in one.evidence]),
            "reasons": _json([reason.model_dump(mode="json") for reason in one.reasons]),
        }
        for number, one in enumerate((one for one in findings if one.verdict not in QUIET), start=1)
    )


def signed_columns(session: str, findings: Iterable[Finding], signing: Signing) -> Columns:
    """The sign-offs and answers that hold for a finding, and those that a reader should look at."""
    rows: list[dict[str, Any]] = [
        {
            "session": session,
            "rule": one.rule,
            "of_table": one.subject.table,
            "name": one.subject.name,
            "fingerprint": one.fingerprint,
            "state": "answered against" if one.verdict == "flagged" else "in force",
            "signers": list(signature.by),
            "day": signature.on,
            "until": signature.until,
            "scope": signature.scope,
            "because": signature.because,
            "answer": signature.answer or None,
            "file": signature.file,
            "why": None,
        }
        for one in findings
        if (signature := one.signature) is not None and one.verdict not in QUIET
    ]
    for state in ("lapsed", "waiting", "unused", "ending"):
        notes: tuple[SignNote, ...] = getattr(signing, state)
        rows += [
            {
                "session": session,
                "rule": note.rule,
                "of_table": note.table,
                "name": note.name,
                "fingerprint": None,
                "state": state,
                "signers": [note.by],
                "day": note.on,
                "until": None,
                "scope": None,
                "because": note.because,
                "answer": None,
                "file": note.file,
                "why": note.why,
            }
            for note in notes
        ]
    return _columns(rows)


def judged_columns(session: str, kept: Kept) -> Columns:
    """Every row under every rule."""
    rows = [kept.rows[one.row] for one in kept.judged]
    return {
        "session": [session] * len(rows),
        "rule": [one.rule for one in kept.judged],
        "row": [one.row for one in kept.judged],
        "of_table": [row.table for row in rows],
        "name": [row.name for row in rows],
        "verdict": [one.verdict for one in kept.judged],
        "grade": [one.grade for one in kept.judged],
        "fingerprint": [one.fingerprint for one in kept.judged],
    }


def fact_columns(kept: Kept) -> Columns:
    """The facts, each once, without the rules that name them."""
    values = [_typed(one.value) for one in kept.facts]
    rows = [kept.rows[one.row] for one in kept.facts]
    return {
        "row": [one.row for one in kept.facts],
        "of_table": [row.table for row in rows],
        "name": [row.name for row in rows],
        "fact": [one.fact for one in kept.facts],
        "kind": ["rows" if one.rows is not None else typed.kind for one, typed in zip(kept.facts, values, strict=True)],
        "number": [typed.number for typed in values],
        "truth": [typed.truth for typed in values],
        "text": [typed.text for typed in values],
        "rows": [None if one.rows is None else list(one.rows) for one in kept.facts],
        "unit": [one.unit for one in kept.facts],
        "how": [one.how or None for one in kept.facts],
        "unknown": [one.unknown or None for one in kept.facts],
    }


class Typed(NamedTuple):
    """A value by its kind."""

    kind: str
    number: float | None = None
    truth: bool | None = None
    text: str | None = None


def _typed(value: Value | None) -> Typed:
    if value is None:
        return Typed("unknown")
    if isinstance(value, bool):
        return Typed("truth", truth=value)
    if isinstance(value, int | float):
        return Typed("number", number=float(value))
    if isinstance(value, str):
        return Typed("text", text=value)
    return Typed("list", text=_json(list(value)))


def _columns(rows: Iterable[Mapping[str, Any]]) -> Columns:
    found: dict[str, list[Any]] = {}
    for row in rows:
        for name, value in row.items():
            found.setdefault(name, []).append(value)
    return found


def _json(body: Any) -> str:
    return json.dumps(body, ensure_ascii=False, separators=(",", ":"))
