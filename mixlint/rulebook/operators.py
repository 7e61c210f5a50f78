"""The operators of a condition: what each fits, what it needs to be compared with, and how it compares.

Numbers that differ by less than one part in 10⁹ count as equal, so that a value carried through binary fractions
(29.999999999999996 for 30) falls on the side a reader expects.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fnmatch import fnmatchcase
from math import isclose
from typing import Final, Literal, NamedTuple

from mixlint.facts.declare import Fact, FactKind, Value
from mixlint.naming import canonical, one_form

Need = Literal["value", "number", "pair", "spread", "choice", "pattern", "switch", "each", "count"]
"""What an operator is compared with: one value of the fact's own kind; a number; ``[low, high]``;
``{of = centre, by = spread}`` or ``[centre, spread]``; a list of values; one glob or a list of them; true or false;
a condition on each member of a list, or on each row; how many of them there are."""

Compare = Callable[[Value], bool]


class Operator(NamedTuple):
    """One operator.

    Args:
        name: what a condition writes.
        need: what it is compared with.
        fits: the kinds of facts it can ask about.
        meaning: what it says of the value, for a reader.
    """

    name: str
    need: Need
    fits: tuple[FactKind, ...]
    meaning: str


_VALUES: Final[tuple[FactKind, ...]] = ("number", "switch", "word", "text", "list")
_ALL: Final[tuple[FactKind, ...]] = (*_VALUES, "row", "rows")
_SEVERAL: Final[tuple[FactKind, ...]] = ("list", "row", "rows")
_NUMBER: Final[tuple[FactKind, ...]] = ("number",)

OPERATORS: Final[dict[str, Operator]] = {
    one.name: one
    for one in (
        Operator("is", "value", _VALUES, "equal to the value"),
        Operator("is_not", "value", _VALUES, "not equal to the value"),
        Operator("at_most", "number", _NUMBER, "the value or less"),
        Operator("at_least", "number", _NUMBER, "the value or more"),
        Operator("below", "number", _NUMBER, "less than the value"),
        Operator("above", "number", _NUMBER, "more than the value"),
        Operator("between", "pair", _NUMBER, "from the first to the second value, both included"),
        Operator("within", "spread", _NUMBER, "no further than `by` from `of`, either way"),
        Operator("one_of", "choice", ("number", "word", "text"), "equal to one of the values"),
        Operator("matches", "pattern", ("word", "text"), "matched by the glob, or one of the globs, case aside"),
        Operator("known", "switch", _ALL, "whether the export shows it at all"),
        Operator("every", "each", _SEVERAL, "true of every one of them; of none at all too"),
        Operator("some", "each", _SEVERAL, "true of one of them or more"),
        Operator("none", "each", _SEVERAL, "true of no one of them"),
        Operator("count", "count", _SEVERAL, "how many there are, or with `of` of how many it is true"),
    )
}

LISTING: Final = ("every", "some", "none", "count")


def fitting(kind: FactKind) -> list[str]:
    """The operators that can ask about a fact of ``kind``."""
    return [one.name for one in OPERATORS.values() if kind in one.fits]


def member_kind(fact: Fact) -> FactKind:
    """What the members of a list are: words where the fact lists them, numbers where it has a unit, else text."""
    if fact.words:
        return "word"
    return "number" if fact.unit else "text"


def same(a: Value, b: Value) -> bool:
    """Equality of two values.

    Args:
        a: one value.
        b: the other.

    Returns:
        True for numbers that differ by no more than one part in 10⁹ (or by 10⁻⁹), for like texts and switches, and
        for lists alike member by member; a switch never equals a number.
    """
    if isinstance(a, tuple) or isinstance(b, tuple):
        return (
            isinstance(a, tuple)
            and isinstance(b, tuple)
            and len(a) == len(b)
            and all(same(x, y) for x, y in zip(a, b, strict=True))
        )
    if isinstance(a, bool) or isinstance(b, bool) or isinstance(a, str) or isinstance(b, str):
        return type(a) is type(b) and a == b
    return isclose(a, b, rel_tol=1e-9, abs_tol=1e-9)


def _same_as(against: Value) -> Compare:
    """What :func:`same` says of a value and this one; a word or a switch, of which most rules ask, without detours."""
    kind = type(against)
    if isinstance(against, str) and not against.isascii():
        return lambda value: isinstance(value, str) and canonical(value) == canonical(against)
    if kind is str or kind is bool:
        return lambda value: type(value) is kind and value == against
    return lambda value: same(value, against)


def comparison(operator: str, against: Value) -> Compare:
    """The comparison that an operator makes.

    Args:
        operator: one of :data:`OPERATORS`, those over lists and ``known`` aside.
        against: what the value is compared with, checked to fit; ``(low, high)`` for ``between`` and
            ``(centre, spread)`` for ``within``.

    Returns:
        A function from a fact's value to whether it holds. It raises ``TypeError`` for a value of another kind than
        the fact declares.

    Raises:
        ValueError: the operator does not compare.
    """
    match operator:
        case "is":
            return _same_as(against)
        case "is_not":
            equal = _same_as(against)
            return lambda value: not equal(value)
        case "one_of":
            choices = [_same_as(choice) for choice in _several(against)]
            return lambda value: any(equal(value) for equal in choices)
        case "matches":
            patterns = [one_form(str(pattern)) for pattern in _several(against)]
            return lambda value: any(fnmatchcase(one_form(str(value)), pattern) for pattern in patterns)
        case "between":
            low, high = (_number(end) for end in _several(against))
            return lambda value: _at_least(_number(value), low) and _at_least(high, _number(value))
        case "within":
            centre, spread = (_number(part) for part in _several(against))
            return lambda value: _at_least(spread, abs(_number(value) - centre))
        case _:
            return _ordered(operator, _number(against))


def _ordered(operator: str, limit: float) -> Compare:
    match operator:
        case "at_most":
            return lambda value: _at_least(limit, _number(value))
        case "at_least":
            return lambda value: _at_least(_number(value), limit)
        case "below":
            return lambda value: not _at_least(_number(value), limit)
        case "above":
            return lambda value: not _at_least(limit, _number(value))
    raise ValueError(f"{operator!r} does not compare")


def limit_shown(operator: str, against: Value) -> Value | None:
    """The limit a reader sees beside the value.

    Args:
        operator: one of :data:`OPERATORS`.
        against: what the value is compared with.

    Returns:
        ``against`` itself; both ends for ``within``; None for ``known``.
    """
    if operator == "known":
        return None
    if operator == "within":
        centre, spread = (_number(part) for part in _several(against))
        return (round(centre - spread, 9), round(centre + spread, 9))
    return against


def _several(value: Value) -> Sequence[float | int | bool | str]:
    return value if isinstance(value, tuple) else (value,)


def _number(value: Value) -> float:
    if isinstance(value, bool | str | tuple):
        raise TypeError(f"{value!r} is no number: the fact answered with another kind than it declares")
    return float(value)


def _at_least(a: float, b: float) -> bool:
    return a > b or isclose(a, b, rel_tol=1e-9, abs_tol=1e-9)
