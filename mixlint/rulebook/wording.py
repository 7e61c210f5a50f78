"""Messages with facts in them: checked when a rule is loaded, filled in for one row.

``{fact}`` stands for a fact of the rule's table, ``{limits.NAME}`` for a limit and ``{channel}`` for the subject's
name. Numbers are written without their unit, so the text around them says it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from string import Formatter
from typing import Any

from mixlint.facts.declare import Row, Table, Value
from mixlint.rulebook.faults import Pen, near
from mixlint.rulebook.values import Limit
from mixlint.session import Unknown
from mixlint.units import number_text

CHANNEL = "channel"
"""The placeholder for the subject's name."""


@dataclass(frozen=True, slots=True)
class Wording:
    """A checked text. ``parts`` are pairs of plain text and the placeholder after it, empty at the end."""

    text: str
    parts: tuple[tuple[str, str], ...]
    limits: Mapping[str, Limit]

    def filled(self, table: Table[Any], row: Row[Any]) -> str:
        """The text for one row; what the export does not show is written ``unknown``."""
        said = []
        for plain, name in self.parts:
            said.append(plain)
            if name:
                said.append(self._value(name, table, row))
        return "".join(said)

    def _value(self, name: str, table: Table[Any], row: Row[Any]) -> str:
        if name == CHANNEL:
            return row.subject.name
        if name.startswith("limits."):
            name = name.removeprefix("limits.")
            limit = self.limits[name]
            return value_text(limit.value, limit.unit, name)
        answer = row.value(name)
        if isinstance(answer, Unknown):
            return "unknown"
        return value_text(answer.value, table.facts[name].unit, name)


def read_wording(
    text: str, key: str, table: Table[Any], limits: Mapping[str, Limit], pen: Pen, used: dict[str, None]
) -> Wording:
    """Check the placeholders of ``text`` and take it apart; limits it names are added to ``used``."""
    parts: list[tuple[str, str]] = []
    try:
        pieces = list(Formatter().parse(text))
    except ValueError:
        pen(key, "its braces do not pair", "write {{ or }} for a brace in the text")
        return Wording(text, (), limits)
    for plain, name, form, conversion in pieces:
        parts.append((plain, name or ""))
        if name is None:
            continue
        if form or conversion or not name:
            pen(key, "a placeholder holds the name of a fact and nothing else", "write {dry_db}")
        elif name.startswith("limits."):
            limit = name.removeprefix("limits.")
            used[limit] = None
            if limit not in limits:
                pen(key, f"no limit {limit} is declared in [limits]", near(limit, limits))
        elif name != CHANNEL and name not in table.facts:
            hint = near(name, [*table.facts, CHANNEL]) or f"mixlint facts {table.name} lists them"
            pen(key, f"the table {table.name} has no fact {name}", hint)
    return Wording(text, tuple(parts), limits)


def value_text(value: Value, unit: str, name: str = "") -> str:
    """A value for the middle of a sentence, without its unit.

    Args:
        value: what to write.
        unit: its unit. A position in ``pan`` is written ``50 left``, a distance in ``pan`` as a bare number.
        name: the fact's or limit's name, which tells a position (``pan``, ``send_pan``) from a distance.
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):
        return ", ".join(value_text(one, unit, name) for one in value) or "none"
    if unit == "pan":
        return number_text(value, "pan") if "pan" in name.split("_") else number_text(value)
    return number_text(value, unit).removesuffix(unit).rstrip()
