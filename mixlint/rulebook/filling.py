"""Values of the row in a condition: ``"{fader_db}"`` where a number stands, ``"PRINT {name}"`` where a text does.

As in the texts of a rule, what stands in curly brackets is a fact of the row that the rule is over; within a condition
on other rows, such as the sends of a channel, it still is that row's. ``"{output.name}"`` is a fact of the one row that
another fact leads to. So two facts, or two rows, are held against each other. In a glob the value stands for itself: an
asterisk in a channel's name is an asterisk.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any, Final, NamedTuple

from mixlint.facts.declare import Fact, FactKind, FactValue, Row, Scalar, Table, Value
from mixlint.rulebook.faults import FileFaults
from mixlint.rulebook.former_names import no_such_fact
from mixlint.session import Unknown
from mixlint.units import DIFFERENCES, value_text

_HOLE: Final = re.compile(r"\{([^{}]*)\}")
_GLOB: Final = re.compile(r"[*?\[]")


class NotSeen(NamedTuple):
    """A fact in curly brackets that is not known, and why."""

    fact: str
    why: Unknown


def is_filled(raw: object) -> bool:
    """True where a fact in curly brackets stands in what a condition compares with."""
    if isinstance(raw, str):
        return _HOLE.search(raw) is not None
    if isinstance(raw, Mapping):
        return any(map(is_filled, raw.values()))
    return isinstance(raw, Sequence) and any(map(is_filled, raw))


def is_moved(raw: object) -> bool:
    """True for ``{ of = …, plus = … }`` or ``{ of = …, minus = … }``: a number so far over or under another."""
    return isinstance(raw, Mapping) and set(raw) in ({"of", "plus"}, {"of", "minus"})


def moved(value: Value, by: float) -> Value:
    """A number that lies so far over another one; anything else as it is."""
    return value + by if isinstance(value, int | float) and not isinstance(value, bool) else value


def named_facts(raw: object) -> list[str]:
    """The facts that it names, in order."""
    if isinstance(raw, str):
        return _HOLE.findall(raw)
    several = raw.values() if isinstance(raw, Mapping) else raw if isinstance(raw, Sequence) else ()
    return [name for one in several for name in named_facts(one)]


def _fact_named(
    name: str, own: Table[Any], tables: Mapping[str, Table[Any]], key: str, file_faults: FileFaults
) -> Fact | None:
    """The fact that a name in curly brackets stands for, by way of those that lead to one row; None after a fault."""
    table = own
    *ways, last = name.split(".")
    for way in ways:
        fact = table.facts.get(way)
        if fact is None or fact.kind != "row":
            what = no_such_fact(table, way) if fact is None else (f"{way} does not lead to one row", "")
            file_faults.add(key, *what)
            return None
        table = tables[fact.of]
    if last not in table.facts:
        file_faults.add(key, *no_such_fact(table, last))
        return None
    return table.facts[last]


def check_filled(
    raw: object,
    own: Table[Any],
    tables: Mapping[str, Table[Any]],
    fact: Fact,
    kind: FactKind,
    key: str,
    file_faults: FileFaults,
) -> object:
    """Check the facts in curly brackets.

    Args:
        raw: what a condition compares with.
        own: the table that the rule is over.
        tables: the vocabulary.
        fact: the fact that is compared.
        kind: the kind that is compared: its own, or that of the members of a list.
        key: the place in the rule file.
        file_faults: where faults go.

    Returns:
        The same with a value in place of each fact that fits as it will, to be checked in its turn.
    """
    if isinstance(raw, Mapping):
        return {n: check_filled(one, own, tables, fact, kind, f"{key}.{n}", file_faults) for n, one in raw.items()}
    if not isinstance(raw, str):
        if not isinstance(raw, Sequence):
            return raw
        return [check_filled(one, own, tables, fact, kind, f"{key}[{n}]", file_faults) for n, one in enumerate(raw)]
    for name in named_facts(raw):
        theirs = _fact_named(name, own, tables, key, file_faults)
        if theirs is None:
            continue
        whole = raw == f"{{{name}}}"
        if theirs.kind in ("list", "row", "rows") or (kind != "text" and theirs.kind != kind):
            what = f"{{{name}}} is a {theirs.kind}, and does not fit where a {kind} stands"
            file_faults.add(key, what, f"a fact of the table {own.name} that is a {kind}")
        elif kind != "text" and not whole:
            file_faults.add(key, f"a {kind} is {{{name}}} alone, without other text")
        elif kind == "number" and theirs.unit not in (fact.unit, *DIFFERENCES.get(fact.unit, ())):
            units = (theirs.unit or "no unit", fact.unit or "none")
            file_faults.add(key, f"{{{name}}} is in {units[0]} and {fact.name} in {units[1]}")
    if not is_filled(raw):
        return raw
    match kind:
        case "number":
            return 0.0
        case "switch":
            return True
        case "word" if fact.words:
            return fact.words[0]
        case _:
            return _HOLE.sub("a", raw)


def fill(raw: object, checked: Value, row: Row[Any], *, glob: bool) -> Value | NotSeen:
    """What is compared with, for one row.

    Args:
        raw: what the condition says.
        checked: the same as read from it, with a stand-in in place of each fact.
        row: the row that the rule is over.
        glob: it is a pattern, in which a value stands for itself.

    Returns:
        The value, or the first fact that is not known.
    """
    if isinstance(checked, tuple):
        if isinstance(raw, Mapping):
            raws: Sequence[object] = [raw["of"], raw["by"]]
        else:
            raws = [raw] if isinstance(raw, str) or not isinstance(raw, Sequence) else raw
        several: list[Scalar] = []
        for one, stand_in in zip(raws, checked, strict=True):
            found = _filled(one, stand_in, row, glob=glob)
            if isinstance(found, NotSeen):
                return found
            several.append(found)
        return tuple(several)
    return _filled(raw, checked, row, glob=glob)


def _filled(raw: object, stand_in: Scalar, row: Row[Any], *, glob: bool) -> Scalar | NotSeen:
    if not isinstance(raw, str) or not is_filled(raw):
        return stand_in
    values: dict[str, Scalar] = {}
    units: dict[str, str] = {}
    for name in named_facts(raw):
        there: Row[Any] = row
        *ways, last = name.split(".")
        for way in ways:
            led_to = there.rows(way)
            if isinstance(led_to, Unknown):
                return NotSeen(name, led_to)
            if not led_to:
                return NotSeen(name, Unknown(unknown=f"{there.subject.name} has no {way.replace('_', ' ')}"))
            there = led_to[0]
        found = there.value(last)
        if isinstance(found, Unknown):
            return NotSeen(name, found)
        if isinstance(found, FactValue) and not isinstance(found.value, tuple):
            values[name], units[name] = found.value, there.table.facts[last].unit
    if not isinstance(stand_in, str):
        return next(iter(values.values()))

    def said(hole: re.Match[str]) -> str:
        value = values[hole[1]]
        text = value_text(value, units[hole[1]], bare=True)
        return _GLOB.sub(lambda sign: f"[{sign[0]}]", text) if glob else text

    return _HOLE.sub(said, raw)
