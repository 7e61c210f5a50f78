"""How a fact is declared: once, with its table, name, unit, meaning, how it is known, and its function.

A fact's function takes one row and answers with a plain value, a :class:`FactValue` when it has a place or a note to
show, or an ``Unknown``. A value that it needs and that is not known it takes through
:func:`mixlint.session.known` (or :meth:`Row.need` for another fact): the fact is then unknown for that very reason.
Everything is lazy: a fact that no rule asks for is never computed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from typing import Any, Generic, Literal, TypeVar, cast

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.analysis.value import FactValue, How, Scalar, Value
from mixlint.session import NotKnown, NotShown, Unknown
from mixlint.units import UNITS

__all__ = ["Compute", "Fact", "FactKind", "FactValue", "Facts", "How", "Row", "Scalar", "Subject", "Table", "Value"]

FactKind = Literal["number", "switch", "word", "text", "list"]

ECHOES = ("note", "where")
"""What a text may name of a fact beside its value: ``{arrives.note}``, ``{step_db.where}``."""


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


Item = TypeVar("Item")
Item_co = TypeVar("Item_co", covariant=True)


@dataclass(slots=True, eq=False)
class Row(Generic[Item_co]):
    """One row of a table: its subject, what it is made of (``item``), and the facts already worked out."""

    context: SessionContext
    subject: Subject
    item: Item_co
    table: Table[Any]
    values: dict[str, FactValue | Unknown] = field(default_factory=dict)

    def value(self, name: str) -> FactValue | Unknown:
        """The value of one of the row's facts, worked out once."""
        found = self.values.get(name)
        if found is None:
            fact = self.table.facts[name]
            try:
                given = fact.compute(self)
            except NotKnown as missing:
                given = missing.unknown
            found = given if isinstance(given, FactValue | Unknown) else FactValue(given, fact.how, self.subject.where)
            self.values[name] = found
        return found

    def need(self, name: str) -> FactValue:
        """The same for a fact that cannot do without it.

        Raises:
            NotKnown: it is not known; the fact that asked is then unknown for the same reason.
        """
        found = self.value(name)
        if isinstance(found, Unknown):
            raise NotKnown(found)
        return found

    def holds(self, name: str) -> bool:
        """True when a switch is known to be on."""
        found = self.value(name)
        return isinstance(found, FactValue) and found.value is True


Answer = Value | FactValue | Unknown
AnswerT = TypeVar("AnswerT", bound=Answer)
Compute = Callable[[Any], Answer]


@dataclass(frozen=True, slots=True)
class Fact:
    """The declaration of one fact.

    Args:
        table: the name of its table.
        name: what conditions and texts call it.
        kind: what its value is.
        unit: of a number, or of each number of a list; one of :data:`mixlint.units.UNITS`.
        meaning: what it says, as a sentence.
        how: how it is known unless its value says otherwise.
        compute: works it out for one row.
        words: what a ``word`` fact, or a list of words, can say.
        settings: the numbers that decide it and that a house can set.
        package: the installed package that adds it; empty for mixlint's own.
    """

    table: str
    name: str
    kind: FactKind
    unit: str
    meaning: str
    how: How
    compute: Compute
    words: tuple[str, ...] = ()
    settings: tuple[Setting, ...] = ()
    package: str = ""


class Facts(Generic[Item]):
    """Facts of one subject, in the order they are declared; a table is made of one or several of these.

    Args:
        table: the name of their table: of a table itself, or of one of mixlint's that a package adds facts to.
    """

    def __init__(self, table: str = "") -> None:
        self.facts: dict[str, Fact] = {}
        self.echoes: dict[str, str] = {}
        """Names that were facts of their own once → what a text writes in their place, such as ``arrives.note``."""
        self.renamed: dict[str, str] = {}
        """Names by which facts were known once → their names now."""
        self.of = table
        """The name of their table; empty for a group that a table of mixlint takes up."""

    def fact(
        self,
        kind: FactKind,
        meaning: str,
        *,
        unit: str = "",
        how: How = "declared",
        words: Iterable[str] = (),
        settings: Iterable[Setting] = (),
        once: str = "",
    ) -> Callable[[Callable[[Row[Item]], AnswerT]], Callable[[Row[Item]], AnswerT]]:
        """Declare the decorated function as the fact of its own name.

        Args:
            kind: what its value is.
            meaning: what it says, as a sentence.
            unit: of a number, or of each number of a list; a pan position is in ``pan``, and how far two positions
                lie apart, or one from the centre, in ``pan distance``.
            how: how it is known unless its value says otherwise.
            words: what a ``word`` fact, or a list of words, can say.
            settings: every number that decides it, itself or through another fact, and that a house can set.
            once: the name it bore before; a rule that uses it is told the new one.

        Raises:
            ValueError: the unit is none, or the fact is declared twice.
        """
        if unit not in UNITS:
            raise ValueError(f"{unit!r} is not a unit of mixlint.units")

        def declare(compute: Callable[[Row[Item]], AnswerT]) -> Callable[[Row[Item]], AnswerT]:
            name = compute.__name__
            if name in self.facts:
                raise ValueError(f"the fact {self.of}.{name} is declared twice")
            self.facts[name] = Fact(self.of, name, kind, unit, meaning, how, compute, tuple(words), tuple(settings))
            if once:
                self.renamed[once] = name
            return compute

        return declare

    def echo(self, name: str, written: str) -> None:
        """Keep the name of a fact that went for the texts of house rules, which are told to write otherwise.

        Args:
            name: the name of the fact that only repeated another one's note or place.
            written: what a text writes now: ``fact.note`` or ``fact.where``.
        """
        self.echoes[name] = written


class Table(Facts[Item]):
    """A named table: how its rows are found, and its facts in the order they were declared.

    Args:
        name: what rules call it.
        meaning: what its rows are, as a sentence.
        rows: finds the rows of a session: the subject of each and what it is made of.
        groups: facts declared elsewhere that belong to it.
        settings: the numbers that decide which rows there are and that a house can set.
    """

    def __init__(
        self,
        name: str,
        meaning: str,
        rows: Callable[[SessionContext], Iterable[tuple[Subject, Item]]],
        groups: Iterable[Facts[Item]] = (),
        settings: Iterable[Setting] = (),
    ) -> None:
        super().__init__(name)
        self.settings = tuple(settings)
        self.name = name
        self.meaning = meaning
        self.find = rows
        """Finds the rows of a session."""
        for group in groups:
            for fact in group.facts.values():
                if fact.name in self.facts:
                    raise ValueError(f"the fact {name}.{fact.name} is declared twice")
                self.facts[fact.name] = replace(fact, table=name)
            self.echoes |= group.echoes
            self.renamed |= group.renamed

    def rows(self, context: SessionContext) -> tuple[Row[Item], ...]:
        """The rows of a session, made once; none where it hangs on something not shown which rows there are."""
        try:
            return cast("tuple[Row[Item], ...]", _rows_of(context, self))
        except NotShown:
            return ()

    def make_rows(self, context: SessionContext) -> tuple[Row[Item], ...]:
        """The rows of a session, made anew."""
        return tuple(Row(context, subject, item, self) for subject, item in self.find(context))


@per_session
def _rows_of(context: SessionContext, table: Table[Any]) -> tuple[Row[Any], ...]:
    return table.make_rows(context)
