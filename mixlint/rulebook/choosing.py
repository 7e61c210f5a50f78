"""Names of rules and areas that a user gives, which the standard in force has to have."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from mixlint.errors import MixlintError, suggestion
from mixlint.rulebook.standard import Standard

MOST_NAMED: Final = 20
"""Of fewer choices than this all are named where none is near."""


def known_areas(areas: Iterable[str], standard: Standard) -> None:
    """Check that the standard has rules of these areas.

    Raises:
        MixlintError: it has none of one.
    """
    for area in areas:
        _known(area, {rule.area for rule in standard.rules.values()}, "area", standard)


def known_rules(rules: Iterable[str], standard: Standard) -> None:
    """Check that the standard has these rules, by id.

    Raises:
        MixlintError: one is not in force there.
    """
    for rule in rules:
        _known(rule, standard.rules, "rule", standard)


def _known(typed: str, known: Iterable[str], what: str, standard: Standard) -> None:
    names = sorted(known)
    if typed in names:
        return
    near = suggestion(typed, names)
    do = f"perhaps {near} is meant" if near else f"choose one of {', '.join(names)}" if len(names) < MOST_NAMED else ""
    raise MixlintError(
        f"the standard {standard.name} has no {what} called {typed!r}", do=do or "see the list that mixlint rules gives"
    )
