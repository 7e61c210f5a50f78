"""The review as SARIF 2.1.0 (OASIS Standard, Errata 01): one run per session.

A row's verdict becomes a result's ``kind``: flagged ``fail``, open ``open``, clear ``pass``, idle ``notApplicable``; a
signed row is a ``fail`` that carries a suppression. Only ``fail`` has a level (section 3.27.10): ``error`` for *hold*,
``warning`` for *look*, ``note`` for *note*. A channel is a logical location;
the session file is the artifact, with a region only when the export is plain text and the line in it is known. A place
inside a container is a related location in a nested artifact.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import PurePath
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from mixlint.reports.json import item_of, plain_json
from mixlint.reports.plain import neutral
from mixlint.reports.several import SARIF_SCHEMA
from mixlint.reports.signed import justification, note_text, sign_notes
from mixlint.reports.words import caution_for
from mixlint.review.findings import Finding, Report, SessionReview

if TYPE_CHECKING:
    from mixlint.reports.review_output import ReviewOutput
    from mixlint.reports.several import Told
    from mixlint.rulebook import Rule


_LEVELS = {"hold": "error", "look": "warning", "note": "note"}
_KINDS = {"open": "open", "clear": "pass", "idle": "notApplicable"}


def write(output: ReviewOutput) -> str:
    """A review in this form."""
    return review_sarif(output.report, output.rules)


def part(output: ReviewOutput, told: Told) -> tuple[Told, str]:
    """The run of one session among several."""
    return told, item_of(write(output), "runs")


def review_sarif(report: Report, rules: Mapping[str, Rule] | None = None) -> str:
    """The report as a SARIF log.

    Args:
        report: the sessions.
        rules: the rules in force by id, for the rules' titles, reasons and remedies.
    """
    runs = [_run(session, report.version, rules or {}, caution_for([session])) for session in report.sessions]
    return plain_json({"$schema": SARIF_SCHEMA, "version": "2.1.0", "runs": runs})


def _run(session: SessionReview, version: str, rules: Mapping[str, Rule], caution: str) -> dict[str, Any]:
    ids = list(dict.fromkeys(f.rule for f in session.findings))
    first = {f.rule: f for f in reversed(session.findings)}
    artifacts = _Artifacts(session)
    results = [_result(f, ids.index(f.rule), artifacts) for f in session.findings]
    driver = {
        "name": "mixlint",
        "version": version,
        "semanticVersion": version,
        "rules": [_rule(first[rule], rules.get(rule)) for rule in ids],
    }
    about = {
        "title": neutral(session.title),
        "standard": neutral(session.standard),
        "outcome": session.outcome,
        "counts": session.counts.model_dump(),
        "assumptions": [neutral(a) for a in session.assumptions],
    }
    if notes := sign_notes(session.signing):
        about["signing"] = {heading: [note_text(note) for note in found] for heading, found in notes}
    if session.baseline is not None:
        about["baseline"] = session.baseline.model_dump()
    if caution:
        about["hearing"] = caution
    return {
        "tool": {"driver": driver},
        "automationDetails": {"id": f"mixlint/{neutral(session.standard)}/{neutral(session.source)}"},
        "invocations": [_invocation(session)],
        "artifacts": artifacts.listed,
        "results": results,
        "columnKind": "unicodeCodePoints",
        "properties": about,
    }


def _invocation(session: SessionReview) -> dict[str, Any]:
    """How the run went; what installed packages failed at is a notification of it (SARIF 2.1.0, 3.20.21)."""
    told = [{"level": "warning", "message": {"text": _said(one)}} for one in session.notes]
    return {"executionSuccessful": True} | ({"toolExecutionNotifications": told} if told else {})


def _rule(finding: Finding, rule: Rule | None) -> dict[str, Any]:
    """The rule's metadata, from the rule itself where it is at hand, else from a finding of it."""
    title = rule.title if rule else finding.title or finding.rule
    described: dict[str, Any] = {"id": finding.rule, "shortDescription": {"text": _said(title)}}
    remedy = rule.remedy.text if rule else finding.remedy
    if rule and rule.why:
        described["fullDescription"] = {"text": _paragraphs(rule.why)}
    if remedy:
        described["help"] = {"text": _said(remedy)}
    grade = rule.grade if rule else finding.grade
    described["defaultConfiguration"] = {"level": _LEVELS[grade]}
    described["properties"] = {"area": finding.area, "grade": grade}
    return described


def _result(finding: Finding, index: int, artifacts: _Artifacts) -> dict[str, Any]:
    kind = _KINDS.get(finding.verdict, "fail")
    result: dict[str, Any] = {
        "ruleId": finding.rule,
        "ruleIndex": index,
        "kind": kind,
        "level": _LEVELS[finding.grade] if kind == "fail" else "none",
        "message": {"text": _message(finding)},
        "locations": [
            {
                "physicalLocation": artifacts.location(finding.where),
                "logicalLocations": [
                    {
                        "name": neutral(finding.subject.name),
                        "fullyQualifiedName": f"{finding.subject.table}/{neutral(finding.subject.name)}",
                        "kind": finding.subject.table,
                    }
                ],
            }
        ],
        "partialFingerprints": {"mixlint/v1": finding.fingerprint},
        "properties": {
            "area": finding.area,
            "grade": finding.grade,
            "verdict": finding.verdict,
            **({"gradeBecause": neutral(finding.grade_because)} if finding.grade_because else {}),
            **({"fineAnswer": finding.fine_answer} if finding.fine_answer else {}),
            **({"cause": finding.cause} if finding.cause else {}),
            "evidence": [e.model_dump(exclude_defaults=True, mode="json") for e in finding.evidence],
            "reasons": [r.model_dump(exclude_defaults=True) for r in finding.reasons],
        },
    }
    nested = artifacts.nested(finding.where)
    if nested is not None:
        result["relatedLocations"] = [{"physicalLocation": nested}]
    if finding.verdict == "signed":
        result["suppressions"] = [
            {"kind": "external", "status": "accepted", "justification": _said(justification(finding))}
        ]
    return result


def _message(finding: Finding) -> str:
    said = _said(finding.message)
    if finding.verdict == "open":
        parts = [_said(r.why) for r in finding.reasons if r.why not in finding.message]
        return " ".join([said or _said(finding.question), *(f"Cannot be seen: {p}." for p in parts)]) or finding.rule
    remedy = f" Remedy: {_said(finding.remedy)}" if finding.remedy and finding.verdict == "flagged" else ""
    return f"{said}{remedy}".strip() or _said(finding.title) or finding.rule


def _said(text: str) -> str:
    """A text that holds no link of its own: ``[shown](target)`` is one in a message (SARIF 2.1.0, 3.11.6)."""
    return neutral(text).replace("](", "] (")


def _paragraphs(text: str) -> str:
    return "\n".join(_said(line) for line in text.strip().split("\n"))


class _Artifacts:
    """The session file and, where findings point into it, the members of its container."""

    def __init__(self, session: SessionReview) -> None:
        self.uri = uri(session.source)
        self.base = re.split(r"[/\\]", session.source)[-1]
        self.listed: list[dict[str, Any]] = [{"location": {"uri": self.uri, "index": 0}}]
        if re.fullmatch(r"sha256:[0-9a-f]{64}", session.digest):
            self.listed[0]["hashes"] = {"sha-256": session.digest.removeprefix("sha256:")}
        self._members: dict[str, int] = {}

    def location(self, where: str) -> dict[str, Any]:
        """The session file, with a region when ``where`` is a line of that very file."""
        place: dict[str, Any] = {"artifactLocation": {"uri": self.uri, "index": 0}}
        file, line = _split(where)
        if line and file == self.base:
            place["region"] = {"startLine": line}
        return place

    def nested(self, where: str) -> dict[str, Any] | None:
        """The member of the container that ``where`` points into, or None when it points at no line of one."""
        file, line = _split(where)
        if not line or file == self.base:
            return None
        name = uri(file)
        if name not in self._members:
            self._members[name] = len(self.listed)
            self.listed.append({"location": {"uri": name, "index": len(self.listed)}, "parentIndex": 0})
        return {
            "artifactLocation": {"uri": name, "index": self._members[name]},
            "region": {"startLine": line},
        }


def _split(where: str) -> tuple[str, int]:
    """``project.xml:118`` as file and line; line 0 when ``where`` is no such place."""
    found = re.fullmatch(r"(.+):([1-9]\d{0,8})", where)
    return (found[1], int(found[2])) if found else (where, 0)


def uri(path: str) -> str:
    """A path as a URI reference (RFC 3986): percent-encoded, relative paths kept relative."""
    pure = PurePath(path)
    if pure.is_absolute():
        return pure.as_uri()
    return quote(pure.as_posix(), safe="/")
