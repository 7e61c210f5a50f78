"""Conditions: checked against the vocabulary when they are loaded, evaluated to yes, no or unknown.

A condition is a TOML table. Each key is a fact with a value it must equal or a table of operators; several keys, and
several operators, must all hold. The keys ``all`` and ``any`` hold lists of conditions, ``not`` holds one::

    { off_centre = { at_least = "limits.off_centre" }, any = [{ role = "bass" }, { role = "kick" }] }

A fact that leads to rows of another table, such as the sends of a channel, is asked by ``every``, ``some``, ``none``
and ``count`` for a condition over that table, in which further ones can stand; of the one row of a kind ``row`` it is
enough to give the condition. ``"{fact}"`` stands for a value of the row that the rule is over, see ``filling``::

    { inserts = { some = { processor = "de-esser", before_it = { none = { processor = "compressor" } } } } }

Truth has three values with Kleene's strong tables: ``all`` is no as soon as one part is no, ``any`` is yes as soon as
one part is yes, and what is left is unknown when a part of it is. Unknown carries the reasons of the facts it hangs
on, and of no others.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, Final

from mixlint.facts.declare import LEADING, Fact, FactKind, Row, Table, Value
from mixlint.rulebook.counting import count_fact, count_operators
from mixlint.rulebook.evaluation import Asked, Holds, RowEvaluation, Test
from mixlint.rulebook.faults import FileFaults, near
from mixlint.rulebook.filling import NotSeen, check_filled, fill, is_filled, is_moved, moved, named_facts
from mixlint.rulebook.former_names import no_such_fact
from mixlint.rulebook.operators import LISTING, OPERATORS, Compare, comparison, fitting, limit_shown, member_kind
from mixlint.rulebook.over_rows import over_rows
from mixlint.rulebook.truth import NO, YES, Missing, Outcome
from mixlint.rulebook.values import Limit, Values, limits_named, says_roles
from mixlint.session import Unknown

JOINTS: Final = ("all", "any", "not")


@dataclass(frozen=True, slots=True)
class Condition:
    """A checked condition.

    Args:
        test: holds it against one row.
        facts: the facts it can consult.
        limits: the limits it can consult.
        elsewhere: the facts of other tables that it can consult.
        fixed: the part of it that names no limit, where another part does: where this is no, so is the whole at any
            limit.
    """

    test: Test
    facts: tuple[str, ...]
    limits: tuple[str, ...]
    elsewhere: tuple[Fact, ...] = ()
    fixed: Test | None = None


class Reader:
    """Reads the conditions of one rule over one table, writing down what does not fit.

    Args:
        table: the table the rule is over.
        limits: the limits in force for the rule.
        file_faults: where faults go.
        own_roles: the roles of the house's own, by name, each with the shipped one that it is like. What a condition
            says of a shipped role it says of those that are like it.
        tables: the vocabulary, in which the rows stand that a fact leads to.
    """

    def __init__(
        self,
        table: Table[Any],
        limits: Mapping[str, Limit],
        file_faults: FileFaults,
        own_roles: Mapping[str, str] | None = None,
        tables: Mapping[str, Table[Any]] | None = None,
    ) -> None:
        self.table = self.over = table
        self.tables = tables or {}
        self.values = Values(limits, file_faults, own_roles)
        self.file_faults = file_faults
        self._facts: dict[str, None] = {}
        self._elsewhere: dict[tuple[str, str], Fact] = {}
        self._asked: dict[object, Asked] = {}

    def read(self, raw: object, key: str) -> Condition | None:
        """Check a condition.

        Args:
            raw: the condition as TOML gives it.
            key: the place in the rule file it is written under.

        Returns:
            The condition, or None when faults were written down.
        """
        self._facts, self._elsewhere, self.values.used = {}, {}, {}
        test = self._table(raw, key)
        if test is None:
            return None
        fixed = self._fixed(raw, key) if self.values.used else None
        return Condition(test, tuple(self._facts), tuple(self.values.used), tuple(self._elsewhere.values()), fixed)

    def _fixed(self, raw: object, key: str) -> Test | None:
        """The test of those parts of a sound condition that name no limit; None where each part does."""
        assert isinstance(raw, Mapping)
        parts = {name: one for name, one in raw.items() if not any(limits_named(one))}
        return self._table(parts, key) if parts else None

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
        if self.table is self.over:
            self._facts[name] = None
        else:
            self._elsewhere[self.table.name, name] = fact
        if fact.kind in LEADING:
            return self._leading(fact, value, key)
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
        if OPERATORS[operator].need == "number" and is_moved(against):
            return self._moved(fact, operator, against, key)
        value = self._read(fact, fact.kind, operator, against, key)
        if value is None:
            return None
        if is_filled(against):
            return _asked_of_its_own(fact, partial(self._comparison, fact, operator), operator, against, value)
        limit = limit_shown(operator, value)
        if operator == "known":
            return _known(self._ask_for(fact, None), value is True)
        return _asked(self._ask_for(fact, limit), self._comparison(fact, operator, value))

    def _moved(self, fact: Fact, operator: str, raw: Any, key: str) -> Test | None:
        """The test of a number against one that lies by so much over or under another."""
        (way,) = set(raw) - {"of"}
        base = self._read(fact, fact.kind, operator, raw["of"], f"{key}.of")
        apart = self.values.apart(fact, fact.kind, raw[way], f"{key}.{way}")
        if base is None or apart is None:
            return None
        by = apart if way == "plus" else -apart

        def against_moved(value: Value) -> Compare:
            return self._comparison(fact, operator, moved(value, by))

        return _asked_of_its_own(fact, against_moved, operator, raw["of"], base, by)

    def _read(self, fact: Fact, kind: FactKind, operator: str, raw: object, key: str) -> Value | None:
        """What is compared with, checked; a stand-in for what a row fills in."""
        if not is_filled(raw):
            return self.values.read(fact, kind, operator, raw, key)
        before = self.file_faults.count
        stand_in = check_filled(raw, self.over, self.tables, fact, kind, key, self.file_faults)
        for name in named_facts(raw):
            self._facts[name.partition(".")[0]] = None
        return self.values.read(fact, kind, operator, stand_in, key) if self.file_faults.count == before else None

    def _leading(self, fact: Fact, raw: object, key: str) -> Test | None:
        """The test of a fact that leads to rows of another table."""
        if not isinstance(raw, Mapping) or not raw:
            asked = f"{fact.name} leads to rows of the table {fact.of}"
            self.file_faults.add(key, asked, f"write {fact.name} = {{ some = {{ fact = value }} }}")
            return None
        if fact.kind == "row" and not set(raw) & {*LISTING, "known"}:
            return self._over_rows(fact, "some", raw, key)
        tests: list[Test | None] = []
        for operator, against in raw.items():
            place = f"{key}.{operator}"
            if not self._fits(operator, fact.kind, fact.name, place):
                tests.append(None)
            elif operator == "known":
                value = self.values.read(fact, fact.kind, operator, against, place)
                tests.append(None if value is None else _known(self._ask_for(fact, None), value is True))
            else:
                tests.append(self._over_rows(fact, operator, against, place))
        return _joined(tests, every)

    def _over_rows(self, fact: Fact, operator: str, raw: object, key: str) -> Test | None:
        """The test of an operator over the rows that a fact leads to."""
        counts: list[Compare] = []
        limit: Value | None = None
        inner: Test | None = every(())
        if operator == "count":
            read = self._count(fact, raw, key)
            if read is None:
                return None
            counts, limit, raw = read
        if raw is not None:
            here, self.table = self.table, self.tables[fact.of]
            inner = self._table(raw, f"{key}.of" if operator == "count" else key)
            self.table = here
        return None if inner is None else over_rows(Asked(fact, limit), operator, inner, counts)

    def _count(self, fact: Fact, raw: object, key: str) -> tuple[list[Compare], Value | None, object] | None:
        """What a count has to keep, the limit shown for it, and the condition on what is counted, if there is one."""
        if not isinstance(raw, Mapping) or not set(raw) - {"of"}:
            self.file_faults.add(
                key, "it needs to say how many", "write count = { at_most = 4 }, with of = … for which"
            )
            return None
        number = count_fact(fact)
        counts: list[Compare] = []
        limits: list[Value | None] = []
        for operator, against in raw.items():
            place = f"{key}.{operator}"
            if operator == "of":
                continue
            if not self._fits(operator, "number", f"a count of {fact.name}", place, count_operators()):
                continue
            value = self.values.read(number, "number", operator, against, place)
            if value is not None:
                counts.append(comparison(operator, value))
                limits.append(limit_shown(operator, value))
        if len(counts) < len(set(raw) - {"of"}):
            return None
        return counts, limits[0] if len(limits) == 1 else None, raw.get("of")

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
        """The test of ``every``, ``some``, ``none`` or ``count`` over a list."""
        kind = member_kind(fact)
        counts: list[Compare] = []
        if operator == "count":
            read = self._count(fact, against, key)
            if read is None:
                return None
            counts, shown, against = read
            if against is None:
                return _asked(self._ask_for(fact, shown), _over_members(operator, (), counts))
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
            if is_filled(value):
                self.file_faults.add(place, "a member of a list is not held against a fact of its row")
                continue
            checked = self.values.read(fact, kind, inner, value, place)
            if checked is not None:
                compares.append(self._comparison(fact, inner, checked))
                limits.append(checked)
        if len(compares) < len(asked):
            return None
        limit = limits[0] if len(limits) == 1 else None
        return _asked(self._ask_for(fact, limit), _over_members(operator, compares, counts))

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

    return Test(
        partial(_combined, [one.outcome for one in tests], NO, YES), _holds([one.holds for one in tests], settles=False)
    )


def some(tests: Sequence[Test]) -> Test:
    """Kleene's *or*: yes wins over unknown, unknown over no.

    Args:
        tests: the parts; of none it is no.

    Returns:
        The test of the whole, with the reasons of every part that is unknown.
    """

    return Test(
        partial(_combined, [one.outcome for one in tests], YES, NO), _holds([one.holds for one in tests], settles=True)
    )


def _holds(tests: Sequence[Holds], *, settles: bool) -> Holds:
    """The short way of :func:`_combined`: a part that comes to ``settles`` settles it, one not known leaves it open."""

    def holds(row: Row[Any], own: Row[Any]) -> bool | None:
        met: bool | None = not settles
        for one in tests:
            found = one(row, own)
            if found is settles:
                return settles
            if found is None:
                met = None
        return met

    return holds


def _combined(
    tests: Sequence[Callable[[RowEvaluation], Outcome]],
    settles: Outcome,
    otherwise: Outcome,
    evaluation: RowEvaluation,
) -> Outcome:
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

    def outcome(evaluation: RowEvaluation) -> Outcome:
        found = inner.outcome(evaluation)
        if found.truth == "unknown":
            return found
        return NO if found.truth == "yes" else YES

    def holds(row: Row[Any], own: Row[Any]) -> bool | None:
        found = inner.holds(row, own)
        return None if found is None else not found

    return Test(outcome, holds)


def _asked(asked: Asked, compare: Compare) -> Test:
    name = asked.fact.name

    def outcome(evaluation: RowEvaluation) -> Outcome:
        found = evaluation.value(asked)
        if isinstance(found, Unknown):
            return Outcome("unknown", (Missing(name, found.unknown, found.settle),))
        return YES if compare(found.value) else NO

    def holds(row: Row[Any], _: Row[Any]) -> bool | None:
        found = row.values.get(name) or row.value(name)
        return None if isinstance(found, Unknown) else compare(found.value)

    return Test(outcome, holds)


def _known(asked: Asked, wanted: bool) -> Test:
    name = asked.fact.name

    def outcome(evaluation: RowEvaluation) -> Outcome:
        return YES if (not isinstance(evaluation.value(asked), Unknown)) is wanted else NO

    def holds(row: Row[Any], _: Row[Any]) -> bool:
        return (not isinstance(row.value(name), Unknown)) is wanted

    return Test(outcome, holds)


def _asked_of_its_own(
    fact: Fact, compares: Callable[[Value], Compare], operator: str, raw: object, stand_in: Value, by: float = 0.0
) -> Test:
    """The test of a fact against what the row that the rule is over fills in, and how far that limit is moved."""

    def outcome(evaluation: RowEvaluation) -> Outcome:
        against = fill(raw, stand_in, evaluation.own, glob=operator == "matches")
        if isinstance(against, NotSeen):
            return Outcome("unknown", (Missing(against.fact, against.why.unknown, against.why.settle),))
        limit = moved(against, by) if by else limit_shown(operator, against)
        return _asked(Asked(fact, limit), compares(against)).outcome(evaluation)

    def holds(row: Row[Any], own: Row[Any]) -> bool | None:
        against = fill(raw, stand_in, own, glob=operator == "matches")
        found = row.value(fact.name)
        if isinstance(against, NotSeen) or isinstance(found, Unknown):
            return None
        return compares(against)(found.value)

    return Test(outcome, holds)


def _over_members(operator: str, compares: Sequence[Compare], counts: Sequence[Compare] = ()) -> Compare:
    def holds(member: Value) -> bool:
        return all(compare(member) for compare in compares)

    def over(value: Value) -> bool:
        if not isinstance(value, tuple):
            raise TypeError(f"{value!r} is no list: the fact answered with another kind than it declares")
        if operator == "every":
            return all(map(holds, value))
        if operator == "count":
            number = sum(map(holds, value))
            return all(compare(number) for compare in counts)
        return any(map(holds, value)) is (operator == "some")

    return over
