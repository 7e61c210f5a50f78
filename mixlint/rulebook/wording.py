"""Messages with facts in them: checked when a rule is loaded, filled in for one row.

``{fact}`` stands for a fact of the rule's table, ``{fact.note}`` for what is said of its value, ``{fact.where}`` for
the place it has, ``{limits.NAME}`` for a limit and ``{channel}`` for the subject's name. Numbers are written without
their unit, so the text around them says it. A note or place that is empty gives way to the value.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from string import Formatter
from types import MappingProxyType
from typing import Any, Final

from mixlint.facts.declare import ECHOES, FactValue, Row, Table
from mixlint.rulebook.faults import FileFaults, near
from mixlint.rulebook.former_names import ECHOES_END, no_such_fact
from mixlint.rulebook.values import Limit
from mixlint.session import Unknown
from mixlint.units import value_text

CHANNEL: Final = "channel"
"""The placeholder for the subject's name."""

LIMITS: Final = "limits."
"""How the placeholder of a limit begins."""


@dataclass(frozen=True, slots=True)
class Wording:
    """A checked text.

    Args:
        text: the text as written.
        parts: pairs of plain text and the placeholder after it, which is empty at the end.
        limits: the limits in force for the rule.
    """

    text: str
    parts: tuple[tuple[str, str], ...]
    limits: Mapping[str, Limit]

    @property
    def facts(self) -> tuple[str, ...]:
        """The facts that the text names, each once."""
        names = (name.partition(".")[0] for _, name in self.parts if name and not name.startswith(LIMITS))
        return tuple(dict.fromkeys(name for name in names if name != CHANNEL))

    def filled(self, table: Table[Any], row: Row[Any], singled: Mapping[str, FactValue] = MappingProxyType({})) -> str:
        """The text for one row; what the export does not show is written ``unknown``.

        Args:
            table: the table the text was checked against.
            row: one of its rows.
            singled: of the rows of other tables that a fact leads to, those that it is about.
        """
        said = []
        for plain, name in self.parts:
            said.append(plain)
            if name:
                said.append(self._value(name, table, row, singled))
        return "".join(said)

    def _value(self, name: str, table: Table[Any], row: Row[Any], singled: Mapping[str, FactValue]) -> str:
        if name == CHANNEL:
            return row.subject.name
        if name.startswith(LIMITS):
            limit = self.limits[name.removeprefix(LIMITS)]
            return value_text(limit.value, limit.unit, bare=True, ends=True)
        fact, _, echo = name.partition(".")
        found = singled.get(fact) or row.value(fact)
        if isinstance(found, Unknown):
            return "unknown"
        said = {"": "", "note": found.note, "where": found.where}[echo]
        return said or value_text(found.value, table.facts[fact].unit, bare=True)


def read_wording(
    text: str, key: str, table: Table[Any], limits: Mapping[str, Limit], file_faults: FileFaults, used: dict[str, None]
) -> Wording:
    """Check the placeholders of a text and take it apart.

    Args:
        text: the text as written.
        key: its place in the rule file.
        table: the table the rule is over.
        limits: the limits in force for the rule.
        file_faults: where faults go.
        used: limits that the text names are added to it.

    Returns:
        The text taken apart; it is to be used only when no fault was added.
    """
    parts: list[tuple[str, str]] = []
    try:
        pieces = list(Formatter().parse(text))
    except ValueError:
        file_faults.add(key, "its braces do not pair", "write {{ or }} for a brace in the text")
        return Wording(text, (), limits)
    for plain, name, form, conversion in pieces:
        if name is None:
            parts.append((plain, ""))
            continue
        parts.append((plain, _now(name, key, table, file_faults)))
        if form or conversion or not name:
            file_faults.add(key, "a placeholder holds the name of a fact and nothing else", "write {dry_db}")
        elif name.startswith(LIMITS):
            limit = name.removeprefix(LIMITS)
            used[limit] = None
            if limit not in limits:
                file_faults.add(key, f"no limit {limit} is declared in [limits]", near(limit, limits))
        else:
            _check_fact(parts[-1][1], key, table, file_faults)
    return Wording(text, tuple(parts), limits)


def _now(name: str, key: str, table: Table[Any], file_faults: FileFaults) -> str:
    """What a placeholder is written as now; the name of a fact that went is still read, with a word about it."""
    now = table.echoes.get(name)
    if now is None or name in table.facts:
        return name
    what = f"{{{name}}} of the table {table.name} is read until version {ECHOES_END}"
    file_faults.notice(key, what, f"write {{{now}}}")
    return now


def _check_fact(name: str, key: str, table: Table[Any], file_faults: FileFaults) -> None:
    """Check a placeholder that stands for a fact, its note or its place."""
    fact, dot, echo = name.partition(".")
    if name != CHANNEL and fact not in table.facts:
        file_faults.add(key, *no_such_fact(table, fact, [CHANNEL]))
    elif dot and echo not in ECHOES:
        asked = " or ".join(f"{{{fact}.{one}}}" for one in ECHOES)
        file_faults.add(key, f"a text can name no {echo or 'nameless part'} of {fact}", f"write {asked}")
