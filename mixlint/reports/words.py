"""How values, verdicts and places are said to a reader; the caution about hearing."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from mixlint import units
from mixlint.reports.few_words import CAUTION as CAUTION
from mixlint.reports.few_words import SHORT as SHORT
from mixlint.reports.few_words import counts_of as counts_of
from mixlint.reports.plain import neutral
from mixlint.review.findings import BounceOutcome, Counts, Evidence, Finding, SessionReview
from mixlint.session import Unknown

OUTCOMES: Final[dict[BounceOutcome, str]] = {
    "held": "held: do not bounce yet",
    "look": "look first: nothing holds the bounce; look at the rows below before you bounce",
    "clear": "clear to bounce",
}

GRADES = {"hold": "do not bounce", "look": "look before you bounce", "note": "housekeeping"}
KNOWN: Final = {
    "declared": "from the export",
    "derived": "calculated",
    "measured": "measured",
    "assumed": "assumed",
    "unknown": "not known",
}
"""How a value is known, for a reader."""

LEVEL_UNITS = frozenset({"dB", "dBFS", "dBTP", "LUFS", "LU"})
_LEVEL_WORDS = re.compile(
    r"\b(gains?|levels?|loud\w*|louder|quiet\w*|faders?|trims?|boosts?|raise|lower|turn (up|down)|dB|LUFS|"
    r"unmute|mute|limiter|volume|headroom|ceiling|solo|sends?|wet|dry|play|listen|pan)\b",
    re.IGNORECASE,
)

Scalars = bool | int | float | str | tuple[bool | int | float | str, ...]
Sayable = Scalars | Unknown | None

NOT_SEEN: Final = "not seen"


def value_text(value: Sayable, unit: str = "", *, ends: bool = True) -> str:
    """A value without its unit, as it stands in a column: ``−9.5``, ``50 left``, ``yes``, ``−1 … 1``.

    Args:
        value: what to write; names from a session are made safe.
        unit: its unit, one of :data:`mixlint.units.UNITS`.
        ends: two numbers are the ends of a range, as in a limit.
    """
    return neutral(units.value_text(_seen(value), unit, bare=True, ends=ends, unknown=NOT_SEEN))


def with_unit(value: Sayable, unit: str = "", *, ends: bool = True) -> str:
    """A value with its unit: ``−9.5 dB``, ``50 left``, ``4:1``; the arguments are those of :func:`value_text`."""
    return neutral(units.value_text(_seen(value), unit, ends=ends, unknown=NOT_SEEN))


def _seen(value: Sayable) -> Scalars | None:
    return None if isinstance(value, Unknown) else value


def fact_text(fact: str) -> str:
    """A fact's name as words, its unit aside: ``worst_stretch_db`` reads ``worst stretch``."""
    for end in ("_db", "_hz", "_s", "_ms", "_lufs", "_lu", "_dbtp", "_dbfs"):
        if fact.endswith(end):
            return fact.removesuffix(end).replace("_", " ")
    return fact.replace("_", " ")


def found_at(finding: Finding) -> str:
    """Where a reader finds it: the channel's number and group, and where in the song; a file by its path."""
    rows = limit_rows(finding)
    where = finding.where or (rows[0].where if rows else "")
    in_export = re.fullmatch(r".+:\d+", where) is not None
    said_already = in_export or where in finding.message
    return ", ".join(one for one in (neutral(finding.desk), "" if said_already else neutral(where)) if one)


def measured_text(finding: Finding) -> str:
    """What was measured and its limit, where these are numbers: ``dry −9.5 dB, limit −40 dB``; else nothing."""
    said = []
    for one in limit_rows(finding):
        if isinstance(one.value, bool | str) or one.value is None or one.limit is None:
            continue
        limit = with_unit(one.limit, one.unit)
        said.append(f"{fact_text(one.fact)} {with_unit(one.value, one.unit, ends=False)}, limit {limit}")
    return "; ".join(said)


def known_text(finding: Finding) -> str:
    """What the finding rests on, by how: ``from the export: dry −9.5 dB (wet share 50 %); calculated: fed yes``."""
    groups: dict[str, dict[str, list[str]]] = {}
    for evidence in finding.evidence:
        said = with_unit(evidence.value, evidence.unit, ends=False)
        name = fact_text(evidence.fact)
        known = KNOWN[evidence.known]
        by_note = groups.setdefault(known, {})
        by_note.setdefault(neutral(evidence.note), []).append(name if said == NOT_SEEN else f"{name} {said}")
    return "; ".join(f"{known}: {', '.join(_noted(*one) for one in found.items())}" for known, found in groups.items())


def _noted(note: str, said: list[str]) -> str:
    return ", ".join(said) + (f" ({note})" if note else "")


def subject_text(finding: Finding) -> str:
    """What stands in the first column: the channel's name, or that the whole session is meant."""
    return "(whole session)" if finding.subject.table == "session" else neutral(finding.subject.name)


def parts_of_name(finding: Finding) -> list[str]:
    """The names that a subject's name is made of, longest first: both channels of a pair, the channel of a lane."""
    return sorted(filter(None, re.split(r" → |: | and ", finding.subject.name)), key=len, reverse=True)


def opened_by_name(finding: Finding, said: str) -> str:
    """What is said of a row, opened by its name where not all of that stands in it; as it is of a whole session."""
    parts = (re.escape(neutral(part)) for part in parts_of_name(finding))
    if finding.subject.table == "session" or all(re.search(rf"(?<!\w){part}(?!\w)", said) for part in parts):
        return said
    return f"{subject_text(finding)}: {said}"


def open_text(finding: Finding) -> str:
    """What to ask of a row that cannot be seen; nothing where the reasons, which stand apart, say it all."""
    if finding.question:
        return neutral(finding.question)
    if any(reason.why in finding.message for reason in finding.reasons):
        return ""
    return neutral(finding.message)


def limit_rows(finding: Finding) -> list[Evidence]:
    """The evidence that stands in the columns: the first value, and others that have a unit and a limit."""
    return [e for n, e in enumerate(finding.evidence) if n == 0 or (e.limit is not None and e.unit)]


def counts_text(counts: Counts) -> str:
    """The counts in words: ``2 hold, 1 look, 3 notes, 1 question, 31 clear, 12 not applicable``."""
    parts = [grades_text(counts)]
    if counts.signed:
        parts.append(f"{counts.signed} signed off")
    return ", ".join([*parts, f"{counts.clear} clear", f"{counts.idle} not applicable"])


def grades_text(counts: Counts) -> str:
    """What asks for something, by grade: ``4 hold, 3 look, 1 note, 13 questions (2 of them hold)``."""
    by_grade = counts.flagged_by_grade
    asks = counts_of(counts.open, "question")
    if counts.open_by_grade.hold:
        asks += f" ({counts.open_by_grade.hold} could hold the bounce)"
    return f"{by_grade.hold} hold, {by_grade.look} look, {counts_of(by_grade.note, 'note')}, {asks}"


def touches_levels(findings: Iterable[Finding]) -> bool:
    """True when following any of ``findings`` could change how loud something plays."""
    return any(
        any(e.unit in LEVEL_UNITS for e in f.evidence) or says_levels(f"{f.remedy} {f.question}")
        for f in findings
        if f.verdict not in ("clear", "idle") and (f.remedy or f.question)
    )


def says_levels(text: str) -> bool:
    """True when a remedy or question speaks of levels, or of playing something."""
    return _LEVEL_WORDS.search(text) is not None


def caution_for(sessions: Iterable[SessionReview]) -> str:
    """The caution about hearing when any remedy touches levels, else nothing."""
    return CAUTION if any(touches_levels(s.findings) for s in sessions) else ""
