"""How many of several things something is true of: every, some, none, and counts, where a few of them are not known.

Of each it is known that it is true, that it is not, or neither. What that comes to for all of them follows Kleene as
``any`` and ``all`` do; a count that may be one of several numbers is unknown unless each of them comes to the same.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from mixlint.facts.declare import Fact, FactKind
from mixlint.rulebook.operators import Compare, fitting
from mixlint.rulebook.truth import NO, YES, Missing, Outcome


def count_operators() -> list[str]:
    """The operators that can ask for a count."""
    kind: FactKind = "number"
    return [name for name in fitting(kind) if name != "known"]


def count_fact(fact: Fact) -> Fact:
    """The count of what a fact leads to or lists, as a number that a limit can be held against."""
    return replace(fact, kind="number", unit="", words=(), of="")


def over_all(operator: str, outcomes: Sequence[Outcome], counts: Sequence[Compare] = ()) -> Outcome:
    """What an operator over several things comes to.

    Args:
        operator: ``every``, ``some``, ``none`` or ``count``.
        outcomes: what each of them came to.
        counts: what the count has to keep, for ``count``.

    Returns:
        Yes, no, or unknown with the reasons of all that are not known.
    """
    met = {outcome.truth for outcome in outcomes}
    missing: dict[Missing, None] = {}
    for outcome in outcomes:
        missing.update(dict.fromkeys(outcome.missing))
    unknown = Outcome("unknown", tuple(missing))
    if operator == "count":
        surely = sum(outcome.truth == "yes" for outcome in outcomes)
        at_most = surely + sum(outcome.truth == "unknown" for outcome in outcomes)
        kept = {all(compare(number) for compare in counts) for number in range(surely, at_most + 1)}
        return unknown if len(kept) > 1 else (YES if kept == {True} else NO)
    settled = "no" if operator == "every" else "yes"
    if settled in met:
        return YES if operator == "some" else NO
    if "unknown" in met:
        return unknown
    return NO if operator == "some" else YES


def holds_over_all(
    operator: str, met: Iterable[bool | None], unseen: int, counts: Sequence[Compare] = ()
) -> bool | None:
    """The same as :func:`over_all`, without reasons.

    Args:
        operator: ``every``, ``some``, ``none`` or ``count``.
        met: whether each of them holds, None where that is unknown.
        unseen: so many more there may be, of which nothing is known.
        counts: what the count has to keep, for ``count``.

    Returns:
        Yes, no, or None where it is unknown.
    """
    if operator == "count":
        found = Counter(met)
        surely = found[True]
        kept = {all(compare(n) for compare in counts) for n in range(surely, surely + found[None] + unseen + 1)}
        return None if len(kept) > 1 else kept == {True}
    unknown = unseen > 0
    for one in met:
        if one is None:
            unknown = True
        elif one is (operator != "every"):
            return operator == "some"
    return None if unknown else operator != "some"
