"""One row held against one condition: what was consulted, and which other rows an answer rests on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from mixlint.facts.declare import Fact, FactValue, Row, Table, Value
from mixlint.rulebook.truth import Outcome
from mixlint.session import Unknown


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
        of: the row that the rule is over, where this one is a row that it leads to.
        singled: the rows that it leads to and that an outcome rests on, by the fact that leads there: those that break
            the rule where it is broken.
    """

    table: Table[Any]
    row: Row[Any]
    thorough: bool = False
    noted: dict[Asked, FactValue | Unknown] = field(default_factory=dict)
    of: Row[Any] | None = None
    singled: dict[str, FactValue] = field(default_factory=dict)

    @property
    def own(self) -> Row[Any]:
        """The row that the rule is over."""
        return self.of or self.row

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


Holds = Callable[[Row[Any], Row[Any]], bool | None]
"""Whether a condition holds of a row, given the row that the rule is over as well; None where it is unknown."""


@dataclass(frozen=True, slots=True)
class Test:
    """What a condition, or a part of it, comes to: yes, no or unknown. It is told in two ways, which always agree.

    Args:
        outcome: with the reasons of what is unknown; what is consulted is written down in the evaluation.
        holds: nothing but whether it holds. Nearly all rows ask for nothing, and nobody sees what they rest on.
    """

    outcome: Callable[[RowEvaluation], Outcome]
    holds: Holds

    def __call__(self, evaluation: RowEvaluation) -> Outcome:
        """The outcome, with what it rests on."""
        return self.outcome(evaluation)
