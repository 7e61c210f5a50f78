"""Tables and facts of installed packages: entry points of ``mixlint.facts``.

Each leads to a :class:`Table`, or to :class:`Facts` of one of mixlint's own tables. mixlint's own checklist needs none
of them: they are looked for where a house's rules, a user or a program may ask for one.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from copy import copy
from dataclasses import replace
from functools import cache
from math import isfinite
from typing import Any, Final, get_args

from mixlint import extensions
from mixlint.analysis.context import SessionContext
from mixlint.analysis.settings import Setting
from mixlint.extensions import Extension, Origin
from mixlint.facts import TABLES
from mixlint.facts.declare import Answer, Fact, FactKind, Facts, FactValue, How, Subject, Table
from mixlint.session import NotKnown, Unknown

_NAME: Final = re.compile(r"[a-z][a-z0-9_]*")


@cache
def vocabulary() -> Mapping[str, Table[Any]]:
    """Every table by name: mixlint's own, with the facts that installed packages add, and theirs."""
    tables = dict(TABLES)
    found = extensions.installed("mixlint.facts", Facts)
    claims = Counter([claim for one in found for claim in _claims(one.value)])
    settings = {setting.name: setting for table in TABLES.values() for setting in _settings(table)}
    for one in found:
        what = _misfit(one.value, claims, settings)
        if what:
            extensions.fault(one.origin, what)
        else:
            settings.update((setting.name, setting) for setting in _settings(one.value))
            _add(tables, one)
    return tables


def _claims(group: Facts[Any]) -> list[str]:
    """What an addition wants to be called, table and facts, by which two packages can meet."""
    return [group.of] if isinstance(group, Table) else [f"{group.of}.{name}" for name in group.facts]


def _settings(group: Facts[Any]) -> Iterable[Setting]:
    yield from group.settings if isinstance(group, Table) else ()
    for fact in group.facts.values():
        yield from fact.settings


def _misfit(group: Facts[Any], claims: Counter[str], settings: Mapping[str, Setting]) -> str:
    """What does not fit the vocabulary, or nothing."""
    if isinstance(group, Table):
        if group.of in TABLES:
            return f"mixlint itself has a table called {group.of}"
        if not _NAME.fullmatch(group.of):
            return f"{group.of!r} is no name of a table: small letters, digits and underscores"
        if not group.meaning.endswith("."):
            return f"the table {group.of} does not say in a sentence what its rows are"
    elif group.of not in TABLES:
        return f"there is no table {group.of!r} in mixlint to add facts to"
    for fact in group.facts.values():
        if not isinstance(group, Table) and fact.name in TABLES[group.of].facts:
            return f"mixlint itself has a fact {group.of}.{fact.name}"
        if what := _odd(fact):
            return f"the fact {group.of}.{fact.name} {what}"
    for claim in _claims(group):
        if claims[claim] > 1:
            return f"two installed packages have {claim}; take one of them away"
    for setting in _settings(group):
        if settings.get(setting.name, setting) != setting:
            return f"there is another setting called {setting.name}"
    return ""


def _odd(fact: Fact) -> str:
    """What is wrong with a declaration; units are checked where it is made."""
    if fact.kind not in get_args(FactKind) or fact.how not in get_args(How):
        return "has a kind, or a way in which it is known, that there is not"
    if not fact.meaning.endswith("."):
        return "does not say in a sentence what it means"
    return ""


def _add(tables: dict[str, Table[Any]], one: Extension[Facts[Any]]) -> None:
    """Put an addition into the vocabulary; mixlint's own table is copied, and stays as it is."""
    group, origin = one.value, one.origin
    table = copy(group if isinstance(group, Table) else tables[group.of])
    its = {fact.name: _watched(fact, group.of, origin) for fact in group.facts.values()}
    table.facts = its if isinstance(group, Table) else {**table.facts, **its}
    if isinstance(group, Table):
        table.find = extensions.guarded(origin, f"the table {group.of}", _all_rows(table), lambda _: [])
    tables[group.of] = table


def _all_rows(table: Table[Any]) -> Any:
    """How the rows of a table are found, all at once, so that what fails on the way fails here."""
    find = table.find

    def rows(context: SessionContext) -> list[tuple[Subject, Any]]:
        found = list(find(context))
        for subject, _ in found:
            texts = (subject.id, subject.name, subject.where, *subject.channels)
            if subject.table != table.of or not all(isinstance(one, str) for one in texts):
                raise TypeError(f"{subject!r} is no subject of its rows")
        return found

    return rows


def _watched(fact: Fact, table: str, origin: Origin) -> Fact:
    """A fact that is not known where its function fails, or gives what it does not declare."""
    called = f"the fact {table}.{fact.name}"

    def unknown(what: str) -> Answer:
        return Unknown(unknown=f"{origin}: {what}", settle="report it to those who make the package")

    def computed(row: Any) -> Answer:
        given = fact.compute(row)
        value = given.value if isinstance(given, FactValue) else given
        if not isinstance(value, Unknown) and not _fits(fact, value):
            raise TypeError(f"{value!r} is no {fact.kind} that it declares")
        if isinstance(given, FactValue) and not _told(given):
            raise TypeError(f"{given!r} is not told as a value is: how it is known, where, and a note")
        return given

    compute = extensions.guarded(origin, called, computed, unknown, passes=(NotKnown,))
    return replace(fact, table=table, compute=compute, package=origin.package)


def _fits(fact: Fact, value: object) -> bool:
    """Whether a value is of the kind that the fact declares, and one of its words."""
    match fact.kind:
        case "number":
            return isinstance(value, int | float) and not isinstance(value, bool) and isfinite(value)
        case "switch":
            return isinstance(value, bool)
        case "word":
            return isinstance(value, str) and (not fact.words or value in fact.words)
        case "list":
            return (
                isinstance(value, tuple)
                and all(
                    isinstance(one, str | bool) or (isinstance(one, int | float) and isfinite(one)) for one in value
                )
                and all(not fact.words or one in fact.words for one in value)
            )
        case "text":
            return isinstance(value, str)


def _told(given: FactValue) -> bool:
    return given.how in get_args(How) and isinstance(given.where, str) and isinstance(given.note, str)
