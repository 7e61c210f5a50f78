"""Sign-offs for a reader: who signed what and why, what has lapsed, waits, is unused or ends soon."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from mixlint.reports.plain import neutral
from mixlint.review.findings import Baseline, Finding, Signing, SignNote

MISTAKEN = "tool is wrong"
"""This reason is told apart: it says something about the rule, not about the mix."""


def signed_apart(findings: Iterable[Finding]) -> list[tuple[str, list[Finding]]]:
    """The signed rows under their headings: those that would hold the bounce stay in sight, first."""
    signed = [f for f in findings if f.verdict == "signed"]
    wrong = [f for f in signed if f.signature is not None and f.signature.because.casefold() == MISTAKEN]
    rest = [f for f in signed if f not in wrong]
    groups = [
        ("signed off, and would hold the bounce", [f for f in rest if f.grade == "hold"]),
        ("signed off", [f for f in rest if f.grade != "hold"]),
        ("signed off because the tool is wrong", wrong),
    ]
    return [(heading, found) for heading, found in groups if found]


def signature_text(finding: Finding) -> str:
    """``signed by RM on 2026-03-14: intended sound; until mix 5``, or nothing without a signature."""
    signature = finding.signature
    if signature is None:
        return ""
    did = "answered" if signature.answer else "signed"
    wide = {"part": ", for the whole part", "song": ", for the whole song", "project": ", for the whole project"}
    until = "" if signature.until == "never" else f"; until {signature.until}"
    scope = wide.get(signature.scope, "")
    by = " and ".join(signature.by)
    return neutral(f"{did} by {by} on {signature.on}{scope}: {signature.because}{until}")


def justification(finding: Finding) -> str:
    """The signature, for a program that wants a reason; the message where there is none."""
    return signature_text(finding) or neutral(finding.message) or finding.rule


def sign_notes(signing: Signing) -> list[tuple[str, Sequence[SignNote]]]:
    """What is to be said about sign-offs, under headings; empty ones are left out."""
    groups: list[tuple[str, Sequence[SignNote]]] = [
        ("sign-offs that have lapsed", signing.lapsed),
        ("sign-offs that wait for a second person", signing.waiting),
        ("sign-offs about to end", signing.ending),
        ("sign-offs that nothing asks for", signing.unused),
    ]
    return [(heading, notes) for heading, notes in groups if notes]


def note_text(note: SignNote) -> str:
    """One sign-off and why it is mentioned."""
    about = f"{note.name}: " if note.name else ""
    return neutral(f"{about}{note.why} ({note.rule}, signed by {note.by} on {note.on}: {note.because}; in {note.file})")


def baseline_text(baseline: Baseline) -> str:
    """What was left out because a baseline has it too."""
    count = "1 row is" if baseline.known == 1 else f"{baseline.known} rows are"
    return neutral(f"Held against {baseline.source}: {count} in it too, no worse, and left out here.")
