"""What was asked of a session's rows, as text and as ``mixlint-rows/1``."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any, Literal

from mixlint.reports.plain import Page, neutral, wrapped
from mixlint.reports.words import KNOWN, with_unit
from mixlint.session import Unknown
from mixlint.session.maybe import Frozen

if TYPE_CHECKING:
    from mixlint.facts.declare import FactValue, Subject, Table

Scalar = float | int | bool | str


class FactAnswer(Frozen):
    """One fact of a row: its value in its unit and how it is known; no value where ``note`` says why there is none."""

    fact: str
    value: Scalar | tuple[Scalar, ...] | None
    unit: str = ""
    known: Literal["declared", "measured", "derived", "assumed", "unknown"]
    where: str = ""
    note: str = ""


class AskedRow(Frozen):
    """One row: what it is about, its place in the export, and what was asked of it."""

    id: str
    name: str
    where: str = ""
    facts: tuple[FactAnswer, ...] = ()


class AskedRows(Frozen):
    """The rows of one table of one session, in desk order: ``mixlint-rows/1``."""

    format: Literal["mixlint-rows/1"] = "mixlint-rows/1"
    table: str
    rows: tuple[AskedRow, ...] = ()


def asked_rows(table: Table[Any], rows: Iterable[tuple[Subject, Mapping[str, FactValue | Unknown]]]) -> AskedRows:
    """Rows and their answers, as a document.

    Args:
        table: their table.
        rows: what each is about, and its answers by fact.
    """
    return AskedRows(
        table=table.name,
        rows=tuple(
            AskedRow(
                id=subject.id,
                name=subject.name,
                where=subject.where,
                facts=tuple(_answer(name, said, table.facts[name].unit) for name, said in answers.items()),
            )
            for subject, answers in rows
        ),
    )


def _answer(fact: str, said: FactValue | Unknown, unit: str) -> FactAnswer:
    if isinstance(said, Unknown):
        return FactAnswer(fact=fact, value=None, unit=unit, known="unknown", note=said.unknown)
    return FactAnswer(fact=fact, value=said.value, unit=unit, known=said.how, where=said.where, note=said.note)


def asked_rows_text(asked: AskedRows, page: Page) -> str:
    """The rows to read, each under its name."""
    lines: list[str] = []
    for row in asked.rows:
        name = neutral(row.name) or "(no name)"
        lines += [page.bold(line) for line in wrapped(name, page.width, "  ", "")]
        for one in row.facts:
            value = "not known" if one.value is None else with_unit(one.value, one.unit)
            note = f"; {one.note}" if one.note else ""
            said = (
                f"{one.fact}: {value} ({KNOWN[one.known]}{note})"
                if one.value is not None
                else f"{one.fact}: {value}{note}"
            )
            lines += wrapped(neutral(said), page.width, "        ", "    ")
        lines.append("")
    return "\n".join(lines) if lines else f"no {asked.table} in this session\n"
