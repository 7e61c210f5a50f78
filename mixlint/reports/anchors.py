"""Where a row is found again: an anchor made of its rule and its name, the same in every report that has the row."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from hashlib import sha256
from itertools import count
from typing import Final

from mixlint.review.findings import Finding, SessionReview

LONGEST: Final = 40
"""Characters of a name that stand in an anchor; behind them a part of the fingerprint tells the rows apart."""

DIGITS: Final = 8
"""Hexadecimal digits of a fingerprint in an anchor, so that two names that are spelt alike there stay two."""


def anchors(findings: Iterable[Finding]) -> dict[int, str]:
    """The anchor of each finding of one review, by the finding's ``id()``; no two are the same.

    ``nothing-soloed--shaker--3f2a9c1b``: the rule, the name in letters that an address takes as they are, and the
    beginning of the fingerprint, which is made of rule, table and name. Ids and order do not enter, so that a link
    holds in the next review. Only of rows that agree in all of it the later ones are told apart by more.
    """
    found: dict[int, str] = {}
    taken: set[str] = set()
    for finding in findings:
        mark = finding.fingerprint[:DIGITS]
        if not re.fullmatch(f"[0-9a-f]{{{DIGITS}}}", mark):
            mark = _digest(finding.fingerprint)
        anchor = "--".join(filter(None, (spelt(finding.rule), spelt(finding.subject.name), mark)))
        if anchor in taken:
            anchor = f"{anchor}--{_digest(finding.subject.id, finding.subject.name, finding.fingerprint)}"
        found[id(finding)] = _free(anchor, taken)
    return found


def session_anchors(reviews: Iterable[SessionReview]) -> list[str]:
    """What opens the anchors of each review of one report: nothing where there is one, so that its links are short."""
    reviews = list(reviews)
    if len(reviews) == 1:
        return [""]
    taken: set[str] = set()
    named = (f"{spelt(review.title) or 'untitled'}--{_digest(review.source)}" for review in reviews)
    return [f"{_free(one, taken)}--" for one in named]


def spelt(name: str, longest: int = LONGEST) -> str:
    """A name in small letters, digits and single hyphens; empty where it has none of them."""
    plain = unicodedata.normalize("NFKD", name[: longest * 4]).casefold()
    return re.sub("[^a-z0-9]+", "-", re.sub("[\u0300-\u036f]", "", plain)).strip("-")[:longest].strip("-")


def _free(wish: str, taken: set[str]) -> str:
    """``wish``, or what comes nearest to it and is not taken; taken from now on."""
    tries = (wish if number == 1 else f"{wish}--{number}" for number in count(1))
    found = next(one for one in tries if one not in taken)
    taken.add(found)
    return found


def _digest(*parts: str) -> str:
    return sha256("\0".join(parts).encode("utf-8", "surrogatepass")).hexdigest()[:DIGITS]
