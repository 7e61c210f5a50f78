"""The answer to a query of a store: as text, as ``mixlint-query/1``, and for a spreadsheet."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from math import isfinite
from typing import TYPE_CHECKING, Any, Literal

from pydantic import JsonValue

from mixlint.reports.plain import Page, wrapped
from mixlint.reports.spreadsheet import table_line
from mixlint.reports.survey import Cell, Section, section_lines
from mixlint.session.maybe import Frozen

if TYPE_CHECKING:
    from mixlint.store.archive import Answer


class QueryColumn(Frozen):
    """A column: its name, and its type as DuckDB calls it."""

    name: str
    type: str


class QueryAnswer(Frozen):
    """The answer to a query: ``mixlint-query/1``. Times are text in ISO 8601, and so is a number that is none."""

    format: Literal["mixlint-query/1"] = "mixlint-query/1"
    columns: tuple[QueryColumn, ...]
    rows: tuple[tuple[JsonValue, ...], ...] = ()


def query_answer(answer: Answer) -> QueryAnswer:
    """The answer as a document."""
    return QueryAnswer(
        columns=tuple(QueryColumn(name=name, type=type_) for name, type_ in zip(*answer[:2], strict=True)),
        rows=tuple(tuple(map(_plain, row)) for row in answer.rows),
    )


def _plain(value: Any) -> JsonValue:
    """A value of a database as JSON has it."""
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        return value if isfinite(value) else str(value)
    if isinstance(value, Decimal):
        return _plain(float(value))
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    if isinstance(value, dict):
        return {str(name): _plain(one) for name, one in value.items()}
    return value.hex() if isinstance(value, bytes) else str(value)


def query_text(answer: QueryAnswer, page: Page) -> str:
    """The answer to read, every row of it."""
    head = tuple(one.name for one in answer.columns)
    rows = tuple(tuple(map(_cell, row)) for row in answer.rows)
    lines = section_lines(Section("", head, rows, whole=True), page) if head else []
    return "\n".join(lines or wrapped("no rows", page.width, "")) + "\n"


def query_table(answer: QueryAnswer, form: str) -> str:
    """The answer for a spreadsheet.

    Args:
        answer: the answer.
        form: ``csv`` or ``tsv``.
    """
    lines: list[tuple[Cell, ...]] = [tuple(one.name for one in answer.columns)]
    lines += [tuple(map(_cell, row)) for row in answer.rows]
    return "".join(table_line(line, form) for line in lines)


def _cell(value: JsonValue) -> Cell:
    """A value in a cell: lists and structures as JSON."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None or isinstance(value, str | int | float):
        return value
    import json

    return json.dumps(value, ensure_ascii=False)
