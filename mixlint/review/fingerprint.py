"""What a finding is known by from one revision of a session to the next."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from hashlib import sha256
from typing import NamedTuple

from mixlint.facts.declare import Subject
from mixlint.naming import fold_name
from mixlint.review.findings import Finding

LENGTH = 16
"""Hexadecimal digits of a fingerprint: 64 bits, so that among a million findings two agree by chance once in 37
million times (birthday bound n²/2 ÷ 2⁶⁴)."""

Place = tuple[str, str, str, str]
"""Rule, table, name, and which of several of one name."""


class Fingerprints:
    """What the findings of one rule in one session are known by.

    A fingerprint is made of the rule, the table and the subject's name, letter case and spacing aside. Ids, desk order
    and measured values do not enter, so it survives renumbering, reordering and rounding. Of several subjects with one
    name the second and later are counted in desk order. The one row of a table such as ``session`` is known by the
    table alone, so that a new title does not make it another.
    """

    def __init__(self, rule: str) -> None:
        self.rule = rule
        self._met: Counter[str] = Counter()

    def place(self, subject: Subject) -> Place:
        """What the finding about ``subject`` is known by; call it once per row, in order."""
        name = "" if subject.id == subject.table else fold_name(subject.name)
        self._met[name] += 1
        return (self.rule, subject.table, name, str(self._met[name]))


def fingerprint(place: Place) -> str:
    """The fingerprint of the finding at ``place``."""
    return sha256("\0".join(place).encode("utf-8", "surrogatepass")).hexdigest()[:LENGTH]


class RowKey(NamedTuple):
    """What a row is known by where its id and fingerprint say nothing: in a sign-off, a baseline, another revision.

    Args:
        rule: the rule's id.
        table: the table of the row.
        name: the row's name, folded.
        number: which of several rows of one rule, table and name it is, from 1.
    """

    rule: str
    table: str
    name: str
    number: int


def row_keys(findings: Iterable[Finding]) -> list[RowKey]:
    """What each of the findings of one review is known by, in their order.

    Args:
        findings: all of them, since namesakes are told apart by their order.
    """
    met: Counter[tuple[str, str, str]] = Counter()
    found = []
    for finding in findings:
        key = (finding.rule, finding.subject.table, fold_name(row_name(finding)))
        met[key] += 1
        found.append(RowKey(*key, met[key]))
    return found


def row_name(finding: Finding) -> str:
    """The name a finding's row is known by; ``*`` for the one row of a table, which the table alone tells."""
    return "*" if finding.subject.id == finding.subject.table else finding.subject.name
