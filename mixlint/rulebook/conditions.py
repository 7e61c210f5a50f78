"""Conditions: checked against the vocabulary when they are loaded, evaluated to yes, no or unknown.

A condition is a TOML table. Each key is a fact with a value it must equal or a table of operators; several keys, and
several operators, must all hold. The keys ``all`` and ``any`` hold lists of conditions, ``not`` holds one::

    { off_centre = { at_least = "limits.off_centre" }, any = [{ role = "bass" }, { role = "kick" }] }

Truth has three values with Kleene's strong tables: ``all`` is no as soon as one part is no, ``any`` is yes as soon as
one part is yes, and what is left is unknown when a part of it is. Unknown carries the reasons of the facts it hangs
on, and of no others.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final, Literal, NamedTuple

from mixlint.facts.declare import Fact, FactKind, FactValue, Row, Table, Value
from mixlint.rulebook.faults import FileFaults, near
from mixlint.rulebook.former_names import no_such_fact
from mixlint.rulebook.operators import LISTING, OPERATORS, Compare, comparison, fitting, limit_shown, member_kind
from mixlint.rulebook.values import Limit, Values, says_roles
from mixlint.session import Unknown

Truth = Literal["yes", "no", "unknown"]

JOINTS: Final = ("all", "any", "not")


class Missing(NamedTuple):
    """A fact that cannot be seen, why, and what would settle it."""

    fact: str
    why: str
    settle: str


class Outcome(NamedTuple):
    """What a condition came to; ``missing`` is empty unless the truth is unknown."""

    truth: Truth
    missing: tuple[Missing, ...] = ()


YES: Final = Outcome("yes")
NO: Final = Outcome("no")


class Consulted(NamedTuple):
    """A fact that was consulted.

    Args:
        fact: its declaration.
        value: its value, or why it is not known.
        limit: what it was held against; None where it was held against nothing.
    """

    fact: Fact
    value: FactValue | Unknown
    limit: Value | None


@dataclass(frozen=True, slots=True, eq=False)
class Asked:
    """A fact that a condition asks for; one object for each fact and limit, so that it is told by its identity.

    Args:
        fact: the fact.
        limit: what its value is held against; None where it is held against nothing.
    """

    fact: Fact
    limit: Value | None


@dataclass(slots=True)
class RowEvaluation:
    """One row held against one condition; every fact consulted is written down once per limit, in order.

    Args:
        table: the table of the row.
        row: the row.
        thorough: look at every part of a condition even when the outcome is already settled, so that each value that
            breaks a limit is shown.
        noted: what was consulted so far.
    """

    table: Table[Any]
    row: Row[Any]
    thorough: bool = False
    noted: dict[Asked, FactValue | Unknown] = field(default_factory=dict)

    @property
    def consulted(self) -> tuple[Consulted, ...]:
        """What was consulted, in order."""
        # Most rows are never shown: what they consulted is put into words only when somebody asks.
        return tuple(Consulted(asked.fact, value, asked.limit) for asked, value in self.noted.items())

    def value(self, asked: Asked) -> FactValue | Unknown:
        """The value of one of the table's facts, written down as consulted."""
        found = self.noted.get(asked)
        if found is None:
            row, name = self.row, asked.fact.name
            # Most facts were asked for before, by another rule: a call less for each.
            found = self.noted[asked] = row.values.get(name) or row.value(name)
        return found


Test = Callable[[RowEvaluation], Outcome]


@dataclass(frozen=True, slots=True)
class Condition:
    """A checked condition.

    Args:
        test: holds it against one row.
        facts: the facts it can consult.
        limits: the limits it can consult.
    """

    test: Test
    facts: tuple[str, ...]
    limits: tuple[str, ...]


class Reader:
    """Reads the conditions of one rule over one table, writing down what does not fit.

    Args:
        table: the table the rule is over.
        limits: the limits in force for the rule.
        file_faults: where faults go.
        own_roles: the roles of the house's own, by name, each with the shipped one that it is like. What a condition
            says of a shipped role it says of those that are like it.
    """

    def __init__(
        self,
        table: Table[Any],
        limits: Mapping[str, Limit],
        file_faults: FileFaults,
        own_roles: Mapping[str, str] | None = None,
    ) -> None:
        self.table = table
        self.values = Values(limits, file_faults, own_roles)
        self.file_faults = file_faults
        self._facts: dict[str, None] = {}
        self._asked: dict[object, Asked] = {}

    def read(self, raw: object, key: str) -> Condition | None:
        """Check a condition.

        Args:
            raw: the condition as TOML gives it.
            key: the place in the rule file it is written under.

        Returns:
            The condition, or None when faults were written down.
        """
        self._facts, self.values.used = {}, {}
        test = self._table(raw, key)
        if test is None:
            return None
        return Condition(test, tuple(self._facts), tuple(self.values.used))

    def _table(self, raw: object, key: str) -> Test | None:
        if not isinstance(raw, Mapping):
            self.file_faults.add(key, "a condition is a table, such as { fact = value }")
            return None
        if not raw:
            self.file_faults.add(key, "an empty condition asks nothing")
            return None
        tests = [self._part(name, value, f"{key}.{name}") for name, value in raw.items()]
        return _joined(tests, every)

    def _part(self, name: str, value: object, key: str) -> Test | None:
        if name in ("all", "any"):
            if not isinstance(value, Sequence) or isinstance(value, str) or not value:
                self.file_faults.add(key, f"{name} holds a list of at least one condition")
                return None
            tests = [self._table(one, f"{key}[{place}]") for place, one in enumerate(value)]
            return _joined(tests, every if name == "all" else some)
        if name == "not":
            test = self._table(value, key)
            return None if test is None else opposite(test)
        fact = self.table.facts.get(name)
        if fact is None:
            self.file_faults.add(key, *no_such_fact(self.table, name, JOINTS))
            return None
        self._facts[name] = None
        if not isinstance(value, Mapping):
            return self._ask(fact, "is", value, key)
        if not value:
            self.file_faults.add(key, "it needs an operator", f"for a {fact.kind}: {', '.join(fitting(fact.kind))}")
            return None
        return _joined([self._ask(fact, op, against, f"{key}.{op}") for op, against in value.items()], every)

    def _ask(self, fact: Fact, operator: str, against: object, key: str) -> Test | None:
        if not self._fits(operator, fact.kind, fact.name, key):
            return None
        if operator in LISTING:
            return self._members(fact, operator, against, key)
        value = self.values.read(fact, fact.kind, operator, against, key)
        if value is None:
            return None
        limit = limit_shown(operator, value)
        if operator == "known":
            return _known(self._ask_for(fact, None), value is True)
        return _asked(self._ask_for(fact, limit), self._comparison(fact, operator, value))

    def _comparison(self, fact: Fact, operator: str, against: Value) -> Compare:
        """The comparison with a value, in which a house's own role is also the shipped one that it is like."""
        compare, like = comparison(operator, against), self.values.own_roles
        if not like or not says_roles(fact):
            return compare
        # Not to be a percussion is to be none by either word.
        both = all if operator == "is_not" else any

        def holds(value: Value) -> bool:
            return both(map(compare, (value, _as_shipped(value, like))))

        return holds

    def _ask_for(self, fact: Fact, limit: Value | None) -> Asked:
        """The one object for a fact and a limit; the type stands in the key because Python takes True for 1."""
        return self._asked.setdefault((fact.name, type(limit), limit), Asked(fact, limit))

    def _members(self, fact: Fact, operator: str, against: object, key: str) -> Test | None:
        """The test of ``every``, ``some`` or ``none`` over a list."""
        kind = member_kind(fact)
        asked = against if isinstance(against, Mapping) else {"is": against}
        if not asked:
            self.file_faults.add(key, "it needs an operator", f"for a {kind}: {', '.join(_member_operators(kind))}")
            return None
        compares: list[Compare] = []
        limits: list[Value] = []
        for inner, value in asked.items():
            place = f"{key}.{inner}" if isinstance(against, Mapping) else key
            if not self._fits(inner, kind, f"each member of {fact.name}", place, _member_operators(kind)):
                continue
            checked = self.values.read(fact, kind, inner, value, place)
            if checked is not None:
                compares.append(self._comparison(fact, inner, checked))
                limits.append(checked)
        if len(compares) < len(asked):
            return None
        limit = limits[0] if len(limits) == 1 else None
        return _asked(self._ask_for(fact, limit), _over_members(operator, compares))

    def _fits(self, operator: str, kind: FactKind, what: str, key: str, fit: Sequence[str] | None = None) -> bool:
        known = list(fit) if fit is not None else fitting(kind)
        if operator in known:
            return True
        if operator not in OPERATORS:
            self.file_faults.add(key, f"there is no operator {operator}", near(operator, known))
        else:
            self.file_faults.add(key, f"{operator} does not fit {what}, a {kind}", f"what fits: {', '.join(known)}")
        return False


def _as_shipped(value: Value, like: Mapping[str, str]) -> Value:
    """A role, or each of a list, as the shipped one that it is like."""
    if isinstance(value, tuple):
        return tuple(like.get(member, member) if isinstance(member, str) else member for member in value)
    return like.get(value, value) if isinstance(value, str) else value


def _member_operators(kind: FactKind) -> list[str]:
    return [name for name in fitting(kind) if name != "known"]


def _joined(tests: Sequence[Test | None], join: Callable[[Sequence[Test]], Test]) -> Test | None:
    whole = [test for test in tests if test is not None]
    if len(whole) < len(tests):
        return None
    return whole[0] if len(whole) == 1 else join(whole)


def every(tests: Sequence[Test]) -> Test:
    """Kleene's *and*: no wins over unknown, unknown over yes.

    Args:
        tests: the parts; of none it is yes.

    Returns:
        The test of the whole, with the reasons of every part that is unknown.
    """

    def test(evaluation: RowEvaluation) -> Outcome:
        return _combined(tests, evaluation, NO, YES)

    return test


def some(tests: Sequence[Test]) -> Test:
    """Kleene's *or*: yes wins over unknown, unknown over no.

    Args:
        tests: the parts; of none it is no.

    Returns:
        The test of the whole, with the reasons of every part that is unknown.
    """

    def test(evaluation: RowEvaluation) -> Outcome:
        return _combined(tests, evaluation, YES, NO)

    return test


def _combined(tests: Sequence[Test], evaluation: RowEvaluation, settles: Outcome, otherwise: Outcome) -> Outcome:
    missing: dict[Missing, None] = {}
    settled = False
    for one in tests:
        outcome = one(evaluation)
        # Yes and no are one object each, so that they are told by their identity.
        if outcome is settles:
            if not evaluation.thorough:
                return settles
            settled = True
        elif outcome.missing:
            missing.update(dict.fromkeys(outcome.missing))
    if settled:
        return settles
    return Outcome("unknown", tuple(missing)) if missing else otherwise


def opposite(inner: Test) -> Test:
    """Kleene's *not*: unknown stays unknown, with the same reasons."""

    def test(evaluation: RowEvaluation) -> Outcome:
        outcome = inner(evaluation)
        if outcome.truth == "unknown":
            return outcome
        return NO if outcome.truth == "yes" else YES

    return test


def _asked(asked: Asked, compare: Compare) -> Test:
    def test(evaluation: RowEvaluation) -> Outcome:
        found = evaluation.value(asked)
        if isinstance(found, Unknown):
            return Outcome("unknown", (Missing(asked.fact.name, found.unknown, found.settle),))
        return YES if compare(found.value) else NO

    return test


def _known(asked: Asked, wanted: bool) -> Test:
    def test(evaluation: RowEvaluation) -> Outcome:
        return YES if (not isinstance(evaluation.value(asked), Unknown)) is wanted else NO

    return test


def _over_members(operator: str, compares: Sequence[Compare]) -> Compare:
    def holds(member: Value) -> bool:
        return all(compare(member) for compare in compares)

    def over(value: Value) -> bool:
        if not isinstance(value, tuple):
            raise TypeError(f"{value!r} is no list: the fact answered with another kind than it declares")
        if operator == "every":
            return all(map(holds, value))
        return any(map(holds, value)) is (operator == "some")

    return over
