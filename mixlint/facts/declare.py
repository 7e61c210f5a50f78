"""How a fact is declared: once, with its table, name, unit, meaning, how it is known, and its function.

A table function takes one row and answers with a plain value, an :class:`Answer` when it has a place or a note to
show, or an ``Unknown``. Everything is lazy: a fact that no rule asks for is never computed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Generic, Literal, TypeVar

from mixlint.session import Unknown
from mixlint.study.answer import Answer, How, Scalar, Value
from mixlint.units import UNITS

if TYPE_CHECKING:
    from mixlint.study.desk import Desk

__all__ = ["Answer", "Compute", "Fact", "FactKind", "How", "Row", "Scalar", "Subject", "Table", "Value"]

FactKind = Literal["number", "switch", "word", "text", "list"]


@dataclass(frozen=True, slots=True)
class Subject:
    """What a row is about: its table, the id and name a reader knows it by, and its place in the export.

    ``order`` is the desk order, so that findings can be listed the way a desk is read. ``channels`` are the ids of
    the channels the row stands for, by which findings with one cause are brought together.
    """

    table: str
    id: str
    name: str
    where: str = ""
    order: int = 0
    channels: tuple[str, ...] = ()


@dataclass(slots=True)
class Row:
    """One row of a table: its subject, what it is made of, and the answers already computed."""

    desk: Desk
    subject: Subject
    item: Any
    answers: dict[str, Answer | Unknown] = field(default_factory=dict)


R = TypeVar("R", bound=Row)
Compute = Callable[[Any], Value | Answer | Unknown]


@dataclass(frozen=True, slots=True)
class Fact:
    """The declaration of one fact. ``words`` lists what a ``word`` fact, or a list of words, can say."""

    table: str
    name: str
    kind: FactKind
    unit: str
    meaning: str
    how: How
    compute: Compute
    words: tuple[str, ...] = ()


class Table(Generic[R]):
    """A named table: how its rows are found, and its facts in the order they were declared."""

    def __init__(self, name: str, meaning: str, rows: Callable[[Desk], Iterable[R]]) -> None:
        self.name = name
        self.meaning = meaning
        self._rows = rows
        self.facts: dict[str, Fact] = {}

    def rows(self, desk: Desk) -> tuple[R, ...]:
        """The rows of ``desk``, made once."""
        return desk.remembered(f"rows of {self.name}", lambda: tuple(self._rows(desk)))

    def fact(
        self,
        kind: FactKind,
        meaning: str,
        *,
        unit: str = "",
        how: How = "declared",
        words: Iterable[str] = (),
    ) -> Callable[[Callable[[R], Value | Answer | Unknown]], Callable[[R], Value | Answer | Unknown]]:
        """Declare the decorated function as the fact of its own name."""
        if unit not in UNITS:
            raise ValueError(f"{unit!r} is not a unit of mixlint.units")

        def declare(
            compute: Callable[[R], Value | Answer | Unknown],
        ) -> Callable[[R], Value | Answer | Unknown]:
            name = compute.__name__
            if name in self.facts:
                raise ValueError(f"the fact {self.name}.{name} is declared twice")
            self.facts[name] = Fact(self.name, name, kind, unit, meaning, how, compute, tuple(words))
            return compute

        return declare

    def answer(self, row: R, name: str) -> Answer | Unknown:
        """The answer of one fact for one row, computed once."""
        known = row.answers.get(name)
        if known is None:
            fact = self.facts[name]
            said = fact.compute(row)
            known = said if isinstance(said, Answer | Unknown) else Answer(said, fact.how, row.subject.where)
            row.answers[name] = known
        return known
