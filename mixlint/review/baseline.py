"""A baseline: an earlier report in JSON, or an approval; and a review that shows only what is new or worse since."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

from pydantic import ValidationError

from mixlint.comparison.approval import MOST_BYTES, Approval, approval_of
from mixlint.errors import BrokenFile, InputError
from mixlint.plain_files import read_plain
from mixlint.review.compare import EarlierFinding, EarlierFindings, approved_findings, earlier_findings, turned
from mixlint.review.engine import counts, outcome
from mixlint.review.findings import Baseline, Finding, Grade, Report, SessionReview
from mixlint.review.fingerprint import row_keys
from mixlint.rulebook.rule import Rule


class Since(NamedTuple):
    """What a review is held against: an earlier report or approval, and how findings name it."""

    body: Report | Approval
    source: str


def read_baseline(path: Path) -> Report | Approval:
    """The report or approval in a file.

    Args:
        path: a report in JSON, or an approval.

    Raises:
        BrokenFile: it is neither, or damaged.
        InputError: it cannot be read.
    """
    do = "make one with mixlint review --as json --out FILE, or with mixlint sign --approve"
    try:
        body = json.loads(read_plain(path, MOST_BYTES).decode("utf-8-sig"))
    except OSError as fault:
        raise InputError(f"it cannot be read ({fault.strerror})", where=str(path), do="check the path") from fault
    except (ValueError, RecursionError) as fault:
        raise BrokenFile("this is no baseline: it is not JSON", where=str(path), do=do) from fault
    form = body.get("format") if isinstance(body, dict) else None
    if form == "mixlint-approval/1":
        return approval_of(body, str(path))
    if form != "mixlint-report/1":
        raise BrokenFile("this is no baseline: neither a report nor an approval", where=str(path), do=do)
    try:
        return Report.model_validate(body)
    except ValidationError as fault:
        place = ".".join(map(str, fault.errors()[0]["loc"]))
        raise BrokenFile(f"this is no report that can be read: {place}", where=str(path), do=do) from fault


def baseline_findings(body: Report | Approval, session: SessionReview, where: str) -> EarlierFindings:
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
        return earlier_findings(body.sessions[0].findings)
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
    return earlier_findings(fits[0].findings) if fits else {}


def _base(source: str) -> str:
    return source.replace("\\", "/").rsplit("/", 1)[-1]


def only_new(
    made: SessionReview, old: EarlierFindings, rules: Mapping[str, Rule], source: str, hold_on: Grade
) -> SessionReview:
    """``made`` without the rows that a baseline has too and that are no worse.

    A row that could not be seen then and cannot be seen now is left out as well; the left out are counted.

    Args:
        made: the review, with its clear and idle rows.
        old: what the baseline knows of the session.
        rules: the rules in force by id, which give margins and say which way is worse.
        source: the baseline, as a reader knows it.
        hold_on: the lightest grade of a flagged finding that holds the bounce.
    """
    rows = list(made.findings)
    kept = []
    for row, key in zip(rows, row_keys(rows), strict=True):
        before = old.get(key)
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


def _is_news(before: EarlierFinding, row: Finding, rules: Mapping[str, Rule]) -> bool:
    if row.verdict == "open":
        return False
    if before.verdict == "open":
        return True
    change = turned(before, row, rules)
    return change is not None and change.came == "worse"
