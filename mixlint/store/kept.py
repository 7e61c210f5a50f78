"""What a store keeps of one review beside its findings: every row that was judged, and the facts that its rule names.

With them the question of a rule can be put again, at another limit. So more is kept than what a verdict rested on: all
that the conditions of a rule name and that was worked out. Where a limit decides whether a rule applies at all, the
facts behind that limit are worked out for it, which a review alone has no use for.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, NamedTuple

from mixlint.facts.declare import Fact, FactValue, Row, Table, Value
from mixlint.review.engine import RowVerdict, verdicts
from mixlint.rulebook.evaluation import RowEvaluation
from mixlint.rulebook.filling import named_facts
from mixlint.rulebook.operators import LISTING
from mixlint.rulebook.values import limits_named
from mixlint.session import Unknown

if TYPE_CHECKING:
    from mixlint.analysis.context import SessionContext
    from mixlint.rulebook.rule import Rule

Raw = Mapping[str, Any]
"""A condition as a rule file has it."""


class KeptRow(NamedTuple):
    """A row of a table; its number is its place among the rows kept."""

    table: str
    name: str


class KeptFact(NamedTuple):
    """A fact of a row.

    Args:
        row: the number of the row.
        fact: its name.
        unit: its unit.
        value: its value; None where it is not known.
        how: how it is known; empty where it is not.
        unknown: why it is not known; of a fact that leads to rows, why there may be more of them.
        rows: the numbers of the rows that it leads to; None where it leads to none by its kind.
    """

    row: int
    fact: str
    unit: str
    value: Value | None
    how: str
    unknown: str = ""
    rows: tuple[int, ...] | None = None


class KeptAsk(NamedTuple):
    """That a rule names a fact of a row, and the limit it is held against; None for a fixed value or none."""

    rule: str
    fact: int
    limit: str | None


class KeptVerdict(NamedTuple):
    """What a row came to under a rule, before sign-offs."""

    rule: str
    row: int
    verdict: str
    grade: str
    fingerprint: str


@dataclass(frozen=True, slots=True)
class Kept:
    """All that is kept of one review beside the report.

    Args:
        rows: the rows, of which the others say the numbers.
        facts: the facts.
        asked: which rule names which of them.
        judged: every row under every rule that was run.
        names: the channels' names by id, in desk order.
        families: the family of parts of each channel that has one, by id.
        metadata: what the export says of itself.
        audio: audio was opened.
    """

    rows: Sequence[KeptRow] = ()
    facts: Sequence[KeptFact] = ()
    asked: Sequence[KeptAsk] = ()
    judged: Sequence[KeptVerdict] = ()
    names: Mapping[str, str] = field(default_factory=dict)
    families: Mapping[str, str] = field(default_factory=dict)
    metadata: Mapping[str, str] = field(default_factory=dict)
    audio: bool = False


def kept_of(context: SessionContext, rules: Iterable[Rule]) -> Kept:
    """What is kept of a session that was reviewed, while it is open.

    Args:
        context: the session.
        rules: the rules that were run.
    """
    found = _Keeping(context)
    for rule in rules:
        found.add(rule)
    session = context.session
    families = {one.id: context.family(one.id) for one in session.channels}
    return Kept(
        rows=found.rows,
        facts=found.facts,
        asked=list(found.asked),
        judged=found.judged,
        names={one.id: one.name for one in session.channels},
        families={channel: family for channel, family in families.items() if family is not None},
        metadata=dict(session.metadata),
        audio=context.audio is not None,
    )


class _Keeping:
    """Gathers rule by rule; rows and facts that several rules ask for are kept once."""

    def __init__(self, context: SessionContext) -> None:
        self.context = context
        self.rows: list[KeptRow] = []
        self.facts: list[KeptFact] = []
        self.asked: dict[KeptAsk, None] = {}
        self.judged: list[KeptVerdict] = []
        self._numbers: dict[int, int] = {}
        self._alive: list[Row[Any]] = []
        """The rows, so that no other takes the identity of one."""
        self._places: dict[tuple[int, str], int] = {}
        self._plans: dict[tuple[int, str], list[_Ask]] = {}

    def add(self, rule: Rule) -> None:
        """Keep what one rule judged and named."""
        raws = tuple(_conditions(rule))
        for judged in verdicts(self.context, rule):
            row = judged.row
            number = self._number(row)
            self.judged.append(KeptVerdict(rule.id, number, judged.verdict, judged.grade, judged.fingerprint))
            self._keep(rule.id, row, row, raws, work=_hangs_on_a_limit(rule, judged))

    def _number(self, row: Row[Any]) -> int:
        number = self._numbers.get(id(row))
        if number is None:
            number = self._numbers[id(row)] = len(self.rows)
            self._alive.append(row)
            self.rows.append(KeptRow(row.table.name, row.subject.name))
        return number

    def _keep(self, rule: str, own: Row[Any], row: Row[Any], raws: Iterable[Raw], *, work: bool) -> None:
        """Keep the facts that a rule asks a row for, and those of the rows that they lead to.

        Args:
            rule: the rule.
            own: the row that it is held against.
            row: this one, or one that a fact of it leads to.
            raws: the conditions that it is asked for.
            work: facts that nobody has asked for yet are worked out.
        """
        for ask in (ask for raw in raws for ask in self._plan(raw, row.table)):
            for way in ask.filled:
                self._follow(rule, own, way, work=work)
            if ask.fact not in row.values and not (work and _worked_out(row, ask.fact)):
                continue
            place = self._fact(row, ask.fact)
            for limit in ask.limits or (None,):
                self.asked[KeptAsk(rule, place, limit)] = None
            for inner in row.led_to.get(ask.fact, ()) if ask.inner else ():
                self._keep(rule, own, inner, ask.inner, work=work)

    def _plan(self, raw: Raw, table: Table[Any]) -> list[_Ask]:
        """What a condition asks the rows of a table for; worked out once for all of them."""
        plan = self._plans.get((id(raw), table.name))
        if plan is None:
            plan = self._plans[id(raw), table.name] = list(_named(raw, table))
        return plan

    def _follow(self, rule: str, row: Row[Any], way: Sequence[str], *, work: bool) -> None:
        """Keep what is named in curly brackets, ``{output.name}``, step by step."""
        for at, name in enumerate(way):
            if name not in row.values and not (work and _worked_out(row, name)):
                return
            self.asked[KeptAsk(rule, self._fact(row, name), None)] = None
            led_to = row.led_to.get(name, ())
            if at + 1 == len(way) or not led_to:
                return
            row = led_to[0]

    def _fact(self, row: Row[Any], name: str) -> int:
        number = self._number(row)
        place = self._places.get((number, name))
        if place is None:
            place = self._places[number, name] = len(self.facts)
            fact, found, more = row.table.facts[name], row.values[name], row.open_ends.get(name)
            rows = tuple(map(self._number, row.led_to[name])) if name in row.led_to else None
            if isinstance(found, FactValue):
                unknown = more.unknown if more is not None else ""
                self.facts.append(KeptFact(number, name, fact.unit, found.value, found.how, unknown, rows))
            else:
                self.facts.append(KeptFact(number, name, fact.unit, None, "", found.unknown, rows))
        return place


def _worked_out(row: Row[Any], name: str) -> bool:
    """Work a fact out that the review had no use for; a fault of one may not cost the review."""
    try:
        return isinstance(row.value(name), FactValue | Unknown)
    except Exception:  # noqa: BLE001 - it was asked outside of what its rule foresees, and is then not kept
        return False


# --- what a rule asks


class _Ask(NamedTuple):
    """A fact that a condition names.

    Args:
        fact: its name.
        limits: the limits of the rule that it is held against.
        filled: facts of the rule's own row that stand in what it is held against, each by the way there.
        inner: what is asked of the rows that it leads to: conditions over their table.
    """

    fact: str
    limits: tuple[str, ...] = ()
    filled: tuple[tuple[str, ...], ...] = ()
    inner: tuple[Raw, ...] = ()


def _conditions(rule: Rule) -> Iterator[Raw]:
    """Its conditions as its file has them: ``when``, ``must``, and those of its grades where these count."""
    if rule.file.when is not None:
        yield rule.file.when
    yield rule.file.must
    if rule.grades:
        yield from (case.when for case in rule.file.grades)


def _named(raw: Raw, table: Table[Any]) -> Iterator[_Ask]:
    """The facts of a table that a condition names."""
    for name, value in raw.items():
        if name in ("all", "any"):
            for one in value:
                yield from _named(one, table)
        elif name == "not":
            yield from _named(value, table)
        else:
            yield _one_ask(table.facts[name], value)


def _one_ask(fact: Fact, value: Any) -> _Ask:
    ways = tuple(tuple(way.split(".")) for way in named_facts(value))
    if not fact.of:
        return _Ask(fact.name, tuple(dict.fromkeys(limits_named(value))), ways)
    if fact.kind == "row" and not set(value) & {*LISTING, "known"}:
        return _Ask(fact.name, (), ways, (value,))
    inner: list[Raw] = []
    limits: list[str] = []
    for operator, against in value.items():
        if operator == "known":
            continue
        asked = against.get("of") if operator == "count" else against
        if operator == "count":
            limits += limits_named({key: one for key, one in against.items() if key != "of"})
        if asked:
            inner.append(asked)
    return _Ask(fact.name, tuple(dict.fromkeys(limits)), ways, tuple(inner))


def _hangs_on_a_limit(rule: Rule, judged: RowVerdict) -> bool:
    """True where the row might come to something else at another limit, by facts that its review had no use for."""
    if not rule.limits:
        return False
    if judged.verdict != "idle":
        return True
    if rule.when is None or not rule.when.limits:
        return False
    return rule.when.fixed is None or rule.when.fixed(RowEvaluation(rule.table, judged.row)).truth != "no"
