"""Whether a number in a finding has got worse or better: what the comparison of reviews and sign-offs share."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from mixlint.naming import fold_name
from mixlint.review.findings import Evidence, Scalar
from mixlint.rulebook.rule import Rule
from mixlint.units import PAN, PAN_DISTANCE

EvidenceValue = Scalar | tuple[Scalar, ...] | None
"""The value or the limit of a fact in the evidence; None where it is not known or has no limit."""

LEVELS: Final = ("dB", "dBFS", "dBTP", "LUFS", "LU")
MARGINS: Final = {**dict.fromkeys(LEVELS, 2.0), PAN: 10.0, PAN_DISTANCE: 10.0, "%": 10.0}
"""By how much a fact must move for a sign-off to lapse where its rule says nothing, by unit."""

SHARE: Final = 0.1
"""The same for units without a fixed margin (Hz, s, ms, bpm, dB/oct, :1), as a share of the value signed."""

PLAIN: Final = 0.1
"""The same for a number without a unit that is no whole number, such as a correlation."""

_HAIR: Final = 1e-9


def moved(was: EvidenceValue, now: Evidence, limit: EvidenceValue, margin: float | None = None, way: int = 0) -> bool:
    """True when a fact has moved far enough to be another: by its margin, and not for the better.

    Args:
        was: the value then.
        now: the fact now.
        limit: the limit it was held to then; None where it had none.
        margin: by how much it must move; by its unit where not given.
        way: 1 where more is worse, −1 where less is; 0 where that cannot be told, and then only a move towards the
            limit and not beyond it is taken for the better.

    Returns:
        True when it has; for switches, words and lists at any change, letter case and order aside.
    """
    value = now.value
    if isinstance(was, bool) or isinstance(value, bool) or was is None or value is None:
        return was != value
    if isinstance(was, tuple) or isinstance(value, tuple):
        return _list_moved(was, value, now.unit, margin)
    if isinstance(was, str) or isinstance(value, str):
        return fold_name(str(was)) != fold_name(str(value))
    step = margin if margin is not None else margin_of(was, now.unit)
    if abs(value - was) < step - _HAIR:
        return False
    if way:
        return (value - was) * way > 0
    edge = nearest_limit(was, limit)
    if edge is None:
        return True
    towards = min(was, edge) <= value <= max(was, edge)
    return not towards  # beyond the limit it may be better or worse: then it is asked again


def margin_of(value: float, unit: str) -> float:
    """By how much a number must move to be another where its rule says nothing, in its own unit.

    Args:
        value: the number that was signed.
        unit: its unit, one of :data:`mixlint.units.UNITS`.
    """
    if unit in MARGINS:
        return MARGINS[unit]
    if unit:
        return abs(value) * SHARE or SHARE
    return 1.0 if float(value).is_integer() else PLAIN


def worse_way(rule: Rule | None, fact: str) -> int:
    """1 where more of a fact is worse under a rule, −1 where less is, 0 where its condition does not say.

    Args:
        rule: the rule, or None where it is not in force any more.
        fact: the name of a fact that its condition may hold to a limit.
    """
    asked = rule.file.must.get(fact) if rule is not None else None
    if not isinstance(asked, Mapping) or not asked:
        return 0
    if set(asked) <= {"at_most", "below"}:
        return 1
    return -1 if set(asked) <= {"at_least", "above"} else 0


def worse(was: float, now: float, limit: EvidenceValue, way: int = 0) -> bool | None:
    """True when a flagged number went further from its limit, False when nearer; None where that cannot be told.

    Args:
        was, now: the number in both reviews.
        limit: the limit it was held to; one number, or a lower and an upper one.
        way: what :func:`worse_way` says of the fact; the limit is looked at only where that is 0.
    """
    if way and was != now:
        return (now - was) * way > 0
    edge = nearest_limit(was, limit)
    if edge is None or was == now:
        return None
    return abs(now - edge) > abs(was - edge)


def nearest_limit(was: float, limit: EvidenceValue) -> float | None:
    """The limit, or that one of two that a value lies nearer to; None where there is no number to be held to."""
    if isinstance(limit, bool) or limit is None or isinstance(limit, str):
        return None
    if isinstance(limit, tuple):
        numbers = [float(one) for one in limit if is_number(one)]
        return min(numbers, key=lambda one: abs(one - was), default=None)
    return float(limit)


def is_number(value: object) -> bool:
    """A number, and not a switch."""
    return isinstance(value, int | float) and not isinstance(value, bool)


def _list_moved(was: EvidenceValue, now: EvidenceValue, unit: str, margin: float | None) -> bool:
    then, here = _listed(was), _listed(now)
    if all(is_number(one) for one in (*then, *here)):
        pairs = zip(sorted(map(float, then)), sorted(map(float, here)), strict=False)
        step = margin if margin is not None else margin_of(0.5, unit)
        return len(then) != len(here) or any(abs(a - b) >= step - _HAIR for a, b in pairs)
    return {fold_name(str(one)) for one in then} != {fold_name(str(one)) for one in here}


def _listed(value: EvidenceValue) -> tuple[float | int | bool | str, ...]:
    if value is None:
        return ()
    return value if isinstance(value, tuple) else (value,)


def fact_words(fact: str) -> str:
    """The name of a fact as it is said in a reason."""
    return fact.replace("_", " ")
