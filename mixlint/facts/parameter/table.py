"""The table ``parameter``: the settings that processors list by name, as the export shows them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from mixlint.analysis.context import SessionContext
from mixlint.facts.declare import Row, Subject, Table
from mixlint.session import Channel, NotKnown, Parameter, Unknown, inserts_now
from mixlint.units import value_text


class ListedParameter(NamedTuple):
    """A parameter with the channel and the insert that it is of; the insert's place is counted from 0."""

    channel: Channel
    place: int
    parameter: Parameter


def _rows(context: SessionContext) -> Iterator[tuple[Subject, ListedParameter]]:
    for channel in context.session.channels:
        for place, insert in enumerate(inserts_now(channel)):
            for number, one in enumerate(insert.parameters):
                name = f"{context.name(channel.id)}: {insert.name or f'insert {place + 1}'}: {one.name or one.id}"
                where = insert.where or channel.where
                subject = Subject(
                    "parameter", f"{channel.id}:{place}:{number}", name, where, context.order[channel.id], (channel.id,)
                )
                yield subject, ListedParameter(channel, place, one)


PARAMETER: Table[ListedParameter] = Table(
    "parameter", "The settings that processors list by name, each as the export shows it.", _rows
)


@PARAMETER.fact("text", "Its name, else its identifier in the file.")
def name(row: Row[ListedParameter]) -> str:
    return row.item.parameter.name or row.item.parameter.id


@PARAMETER.fact("number", "Its value where that is a number, in its own unit; 1 and 0 for on and off.")
def number(row: Row[ListedParameter]) -> float | Unknown:
    given = _given(row)
    return Unknown(unknown=f"{name(row)} is a word, {given}") if isinstance(given, str) else float(given)


def _given(row: Row[ListedParameter]) -> float | bool | int | str:
    given: float | bool | int | str | Unknown = row.item.parameter.value
    if isinstance(given, Unknown):
        raise NotKnown(given)
    return given


@PARAMETER.fact("text", "Its value as text: a word, a number, yes or no.")
def value(row: Row[ListedParameter]) -> str:
    return value_text(_given(row))


@PARAMETER.fact("text", "Its unit as the file writes it; empty where it gives none.")
def its_unit(row: Row[ListedParameter]) -> str:
    return row.item.parameter.unit
