"""What a finding is known by from one revision of a session to the next."""

from __future__ import annotations

from collections import Counter
from hashlib import sha256

from mixlint.facts.declare import Subject

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
        name = "" if subject.id == subject.table else " ".join(subject.name.casefold().split())
        self._met[name] += 1
        return (self.rule, subject.table, name, str(self._met[name]))


def fingerprint(place: Place) -> str:
    """The fingerprint of the finding at ``place``."""
    return sha256("\0".join(place).encode("utf-8", "surrogatepass")).hexdigest()[:LENGTH]
