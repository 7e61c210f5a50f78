"""The list of facts that rules can ask about, as text and as ``mixlint-facts/1``."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any, Literal

from mixlint.reports.plain import Page, columns, wrapped
from mixlint.session.maybe import Frozen

if TYPE_CHECKING:
    from mixlint.facts.declare import Table


class FactEntry(Frozen):
    """One fact: its table, name, kind of value, unit, meaning, how it is known, its words, and the package it is of.

    ``package`` is empty for mixlint's own. Of a row or rows ``of`` is the table which they are of.
    """

    table: str
    name: str
    kind: Literal["number", "switch", "word", "text", "list", "row", "rows"]
    unit: str
    meaning: str
    how: Literal["declared", "measured", "derived", "assumed"]
    words: tuple[str, ...] = ()
    package: str = ""
    of: str = ""


class TableEntry(Frozen):
    """One table: its name and what its rows are."""

    name: str
    meaning: str


class FactList(Frozen):
    """Tables and their facts in the order they are declared: ``mixlint-facts/1``."""

    format: Literal["mixlint-facts/1"] = "mixlint-facts/1"
    tables: tuple[TableEntry, ...] = ()
    facts: tuple[FactEntry, ...] = ()


def fact_list(tables: Iterable[Table[Any]]) -> FactList:
    """The tables and their facts, as a document."""
    found = list(tables)
    return FactList(
        tables=tuple(TableEntry(name=t.name, meaning=t.meaning) for t in found),
        facts=tuple(
            FactEntry(
                table=f.table,
                name=f.name,
                kind=f.kind,
                unit=f.unit,
                meaning=f.meaning,
                how=f.how,
                words=f.words,
                package=f.package,
                of=f.of,
            )
            for t in found
            for f in t.facts.values()
        ),
    )


def fact_list_text(said: FactList, page: Page) -> str:
    """The vocabulary as a reader's word list, table by table."""
    lines: list[str] = []
    for table in said.tables:
        lines += [page.bold(table.name), *wrapped(table.meaning, page.width, "    ")]
        for fact in said.facts:
            if fact.table != table.name:
                continue
            of = f", of the package {fact.package}" if fact.package else ""
            kind = f"{fact.kind} in {fact.unit}" if fact.unit else fact.kind
            if fact.of:
                kind = f"{fact.kind} of the table {fact.of}"
            lines += ["", *_head(fact.name, f"{kind}, {fact.how}{of}", page)]
            lines += wrapped(fact.meaning, page.width, "        ")
            if fact.words:
                lines += wrapped(", ".join(fact.words), page.width, " " * 15, "        says:  ")
        lines.append("")
    return "\n".join(lines)


def _head(name: str, kind: str, page: Page) -> list[str]:
    """The name of a fact and what its value is, which is dim; on lines of its own where the page is narrow."""
    beside = f"    {name}  "
    if columns(beside) + columns(kind) <= page.width:
        return [f"{beside}{page.dim(kind)}"]
    return [*wrapped(name, page.width, " " * 6, " " * 4), *page.dims(wrapped(kind, page.width, " " * 8))]
