"""What a fact is compared with: literals and the rule's limits, checked for kind, words and unit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Final

from pydantic import (
    StrictBool,
    StrictFloat,
    StrictInt,
    StrictStr,
    ValidationError,
    ValidatorFunctionWrapHandler,
    WrapValidator,
    field_validator,
)

from mixlint.facts.declare import Fact, FactKind, Value
from mixlint.naming import ROLES, fits_pattern
from mixlint.rulebook.faults import FileFaults, near
from mixlint.rulebook.operators import OPERATORS, member_kind
from mixlint.session.maybe import Frozen
from mixlint.units import DIFFERENCES, PAN, PAN_DISTANCE, UNITS


def _plainly(value: object, check: ValidatorFunctionWrapHandler) -> object:
    """One fault for a value that fits none of several forms, in place of one per form."""
    try:
        return check(value)
    except ValidationError:
        raise ValueError("it should be a finite number, text in quotes, true or false, or a list of these") from None


LimitScalar = StrictBool | StrictInt | StrictFloat | StrictStr
LimitValue = Annotated[LimitScalar | tuple[LimitScalar, ...], WrapValidator(_plainly)]
LimitChanges = Annotated[
    LimitScalar | tuple[LimitScalar, ...] | dict[str, LimitScalar | tuple[LimitScalar, ...]], WrapValidator(_plainly)
]
"""A limit's value, or a table of the limits of one rule."""


OF_LIMITS: Final = "limits."
"""What the name of a limit stands behind in a condition."""


class Limit(Frozen):
    """A number or word that a house may change, with its unit and its meaning."""

    value: LimitValue
    unit: str = ""
    meaning: str = ""

    @field_validator("unit")
    @classmethod
    def _a_unit(cls, unit: str) -> str:
        if unit not in UNITS:
            raise ValueError(f"there is no unit {unit}; there are {', '.join(filter(None, UNITS))}")
        return unit


class Values:
    """Checks what a condition compares with, and looks limits up.

    Args:
        limits: the limits in force for the rule.
        file_faults: where faults go.
        own_roles: the roles of the house's own, by name, each with the shipped one that it is like.
    """

    def __init__(
        self, limits: Mapping[str, Limit], file_faults: FileFaults, own_roles: Mapping[str, str] | None = None
    ) -> None:
        self.limits = limits
        self.file_faults = file_faults
        self.own_roles = own_roles or {}
        self.used: dict[str, None] = {}

    def read(self, fact: Fact, kind: FactKind, operator: str, raw: object, key: str) -> Value | None:
        """The value ``raw`` stands for, checked to fit; None when a fault was written down.

        Args:
            fact: the fact asked.
            kind: the kind compared: the fact's own, or that of the members of a list.
            operator: the operator, known to fit ``kind``.
            raw: a literal, ``"limits.NAME"``, or a list or table of these.
            key: the place in the rule file.
        """
        match OPERATORS[operator].need:
            case "value" if kind == "list":
                return self._choice(fact, raw, key, least=0)
            case "value" | "number":
                return self._one(fact, kind, raw, key)
            case "pair":
                return self._pair(fact, kind, raw, key)
            case "spread":
                return self._spread(fact, kind, raw, key)
            case "choice":
                return self._choice(fact, raw, key, least=1, kind=kind)
            case "pattern":
                return self._patterns(fact, kind, raw, key)
            case "switch":
                return self._switch(raw, key)
            case _:
                raise ValueError(f"{operator} takes a condition, not a value")

    def _resolved(self, fact: Fact, raw: object, key: str, units: Sequence[str]) -> tuple[object, bool]:
        """What ``raw`` stands for, and whether it can be used."""
        if not isinstance(raw, str) or not raw.startswith(OF_LIMITS):
            return raw, True
        name = raw.removeprefix(OF_LIMITS)
        limit = self.limits.get(name)
        if limit is None:
            self.file_faults.add(key, f"no limit {name} is declared in [limits]", near(name, self.limits))
            return None, False
        self.used[name] = None
        if limit.unit not in units:
            hint = f'write unit = "{fact.unit}"' if (limit.unit, fact.unit) == (PAN, PAN_DISTANCE) else ""
            what = f"the limit {name} is {_in(limit.unit)} and the fact {fact.name} {_in(fact.unit)}"
            self.file_faults.add(key, what, hint)
            return None, False
        return limit.value, True

    def _one(
        self, fact: Fact, kind: FactKind, raw: object, key: str, units: Sequence[str] | None = None
    ) -> Value | None:
        value, usable = self._resolved(fact, raw, key, units or (fact.unit,))
        if not usable:
            return None
        if kind == "number" and isinstance(value, int | float) and not isinstance(value, bool):
            return self._finite(value, key)
        if kind == "switch" and isinstance(value, bool):
            return value
        if kind in ("word", "text") and isinstance(value, str):
            return value if kind == "text" else self._word(fact, value, key)
        self.file_faults.add(key, f"{_article(kind)} is compared with {_WANTED[kind]}, not with {_said(value)}")
        return None

    def _finite(self, value: float, key: str) -> float | None:
        if value - value != 0.0:
            self.file_faults.add(key, "it must be a finite number")
            return None
        return value

    def _word(self, fact: Fact, word: str, key: str) -> str | None:
        known = self._words(fact)
        if known and word not in known:
            hint = near(word, known) or f"mixlint facts {fact.table} lists them"
            self.file_faults.add(key, f"{fact.name} never says {word}", hint)
            return None
        return word

    def _words(self, fact: Fact) -> tuple[str, ...]:
        """The words that a fact can say in this house; none where it can say any."""
        return (*fact.words, *self.own_roles) if says_roles(fact) else fact.words

    def _list(self, fact: Fact, raw: object, key: str, units: Sequence[str] | None = None) -> list[object] | None:
        value, usable = self._resolved(fact, raw, key, units or (fact.unit,))
        if not usable:
            return None
        if isinstance(value, str) or not isinstance(value, Sequence):
            self.file_faults.add(key, f"it takes a list, not {_said(value)}")
            return None
        return list(value)

    def _all(self, fact: Fact, kind: FactKind, items: list[object], key: str) -> Value | None:
        checked = [self._one(fact, kind, item, f"{key}[{place}]") for place, item in enumerate(items)]
        found = tuple(item for item in checked if item is not None and not isinstance(item, tuple))
        return found if len(found) == len(items) else None

    def _choice(self, fact: Fact, raw: object, key: str, *, least: int, kind: FactKind | None = None) -> Value | None:
        items = self._list(fact, raw, key)
        if items is None:
            return None
        if len(items) < least:
            self.file_faults.add(key, "the list is empty, so nothing can equal one of it")
            return None
        return self._all(fact, kind or member_kind(fact), items, key)

    def _pair(self, fact: Fact, kind: FactKind, raw: object, key: str) -> Value | None:
        items = self._list(fact, raw, key)
        if items is None:
            return None
        if len(items) != 2:
            self.file_faults.add(key, "it takes two numbers: [low, high]")
            return None
        ends = self._all(fact, kind, items, key)
        if isinstance(ends, tuple) and ends[0] > ends[1]:  # type: ignore[operator]  # both were checked to be numbers
            self.file_faults.add(key, f"the low end {ends[0]} lies above the high end {ends[1]}")
            return None
        return ends

    def _spread(self, fact: Fact, kind: FactKind, raw: object, key: str) -> Value | None:
        if isinstance(raw, Mapping):
            if set(raw) != {"of", "by"}:
                self.file_faults.add(key, "it takes { of = centre, by = spread }")
                return None
            raw = [raw["of"], raw["by"]]
        elif isinstance(raw, str) or not isinstance(raw, Sequence) or len(raw) != 2:
            self.file_faults.add(key, "it takes { of = centre, by = spread } or [centre, spread]")
            return None
        centre = self._one(fact, kind, raw[0], f"{key}.of")
        spread = self.apart(fact, kind, raw[1], f"{key}.by")
        if not isinstance(centre, int | float) or spread is None:
            return None
        return (centre, spread)

    def apart(self, fact: Fact, kind: FactKind, raw: object, key: str) -> float | None:
        """How far two values of a fact lie apart, 0 or more; None when a fault was written down.

        Args:
            fact: the fact asked.
            kind: the kind compared.
            raw: a number or ``"limits.NAME"``.
            key: the place in the rule file.
        """
        found = self._one(fact, kind, raw, key, (fact.unit, *DIFFERENCES.get(fact.unit, ())))
        if not isinstance(found, int | float):
            return None
        if found < 0:
            self.file_faults.add(key, "the spread cannot be negative")
            return None
        return found

    def _patterns(self, fact: Fact, kind: FactKind, raw: object, key: str) -> Value | None:
        value, usable = self._resolved(fact, raw, key, (fact.unit,))
        if not usable:
            return None
        items = [value] if isinstance(value, str) else value
        if not isinstance(items, Sequence) or not items or not all(isinstance(item, str) for item in items):
            self.file_faults.add(key, f"it takes a glob or a list of globs, not {_said(value)}")
            return None
        patterns = tuple(str(item) for item in items)
        words = self._words(fact)
        for pattern in patterns if kind == "word" and words else ():
            if not any(fits_pattern(word, pattern) for word in words):
                self.file_faults.add(key, f"{pattern} matches no word that {fact.name} can say", near(pattern, words))
                return None
        return patterns

    def _switch(self, raw: object, key: str) -> Value | None:
        if isinstance(raw, bool):
            return raw
        self.file_faults.add(key, f"it takes true or false, not {_said(raw)}")
        return None


def limits_named(raw: object) -> Iterator[str]:
    """The limits that a condition, or a part of one, names."""
    if isinstance(raw, str):
        if raw.startswith(OF_LIMITS):
            yield raw.removeprefix(OF_LIMITS)
    elif isinstance(raw, Mapping):
        for one in raw.values():
            yield from limits_named(one)
    elif isinstance(raw, Sequence):
        for one in raw:
            yield from limits_named(one)


def says_roles(fact: Fact) -> bool:
    """True for a fact whose words are roles, ``unread`` aside: it says those of the house's own as well."""
    return not _ROLES.isdisjoint(fact.words) and set(fact.words) >= _ROLES


_ROLES: Final = frozenset(ROLES)


_WANTED: Final[dict[FactKind, str]] = {
    "number": "a number",
    "switch": "true or false",
    "word": "a word in quotes",
    "text": "text in quotes",
    "list": "a list",
}


def _article(kind: FactKind) -> str:
    return "text" if kind == "text" else f"a {kind}"


def _in(unit: str) -> str:
    return f"in {unit}" if unit else "without a unit"


def _said(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Mapping):
        return "a table"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return "a list"
    return f"the text {value!r}" if isinstance(value, str) else str(value)
