"""Values of a file as the library gives them, made plain: what cannot be one is None, never an exception of its own."""

from __future__ import annotations

from fractions import Fraction
from math import isfinite
from typing import Any

from mixlint.session.maybe import FARTHEST


def fraction(value: Any) -> Fraction | None:
    """A rational or whole number of the file, exact; None where it is none, or lies beyond any song."""
    numerator, denominator = getattr(value, "numerator", None), getattr(value, "denominator", None)
    if not isinstance(numerator, int) or not isinstance(denominator, int) or denominator == 0:
        return None
    found = Fraction(numerator, denominator)
    return found if abs(found) <= FARTHEST else None


def number(value: Any) -> float | None:
    """A number of the file; None where it is none, or not finite."""
    exact = fraction(value)
    if exact is not None:
        return float(exact)
    if isinstance(value, float) and isfinite(value) and abs(value) <= FARTHEST:
        return value
    return None


def rate(value: Any) -> Fraction | None:
    """A rate of the file, per second; None where it is none, or not above 0."""
    found = fraction(value)
    return found if found is not None and found > 0 else None


def text(value: Any) -> str:
    """A text of the file, without characters that no name has."""
    plain = value if isinstance(value, str) else ""
    return "".join(one for one in plain if one.isprintable() or one in "\t\n").strip()


def auid(thing: Any) -> str:
    """The identity of a definition, in lower case; empty where it has none."""
    return str(getattr(thing, "auid", "") or "").lower()


def attributes(thing: Any, name: str) -> dict[str, Any]:
    """A list of named values that hangs on an object, by name."""
    found: dict[str, Any] = {}
    for one in thing.getvalue(name) or ():
        key = one.getvalue("Name")
        if isinstance(key, str):
            found.setdefault(key, one.getvalue("Value"))
    return found
