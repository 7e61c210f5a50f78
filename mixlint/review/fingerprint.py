"""What a finding is known by from one revision of a session to the next."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from hashlib import sha256
from typing import Any, Final, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.facts.declare import Table
from mixlint.naming import fold_name
from mixlint.review.findings import Finding

LENGTH = 16
"""Hexadecimal digits of a fingerprint: 64 bits, so that among a million findings two agree by chance once in 37
million times (birthday bound n²/2 ÷ 2⁶⁴)."""

Place = tuple[str, str, str, str]
"""Rule, table, name, and which of several of one name."""


@per_session
def names_in(context: SessionContext, table: Table[Any]) -> tuple[tuple[str, str], ...]:
    """What the rows of a table are told apart by, whatever rule is held against them: name and number, in table order.

    Ids, desk order and measured values do not enter, so a fingerprint survives renumbering, reordering and rounding.
    Letter case and spacing do not count; of several subjects with one name the second and later are counted in desk
    order. The one row of a table such as ``session`` has no name, so that a new title does not make it another.
    """
    met: Counter[str] = Counter()
    found: list[tuple[str, str]] = []
    for row in table.rows(context):
        name = "" if row.subject.id == row.subject.table else fold_name(row.subject.name)
        met[name] += 1
        found.append((name, str(met[name])))
    return tuple(found)


NO_ROW: Final = ("", "1")
"""What stands for a name and number where a table has no rows."""


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
