"""A small vocabulary for tests of the rulebook and the review: a table of boats whose facts are given by hand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any
from weakref import WeakKeyDictionary

from mixlint.analysis.context import SessionContext
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import FactValue, Row, Subject, Table, Value
from mixlint.session import Session, Unknown

HIDDEN = Unknown(unknown="nobody wrote it down", settle="ask the harbour")

SHALLOW_DB = Setting("harbour.shallow_db", 3.0, "dB", "From this depth on the harbour is too shallow.", lowest=0.0)
CROWDED = Setting(
    "harbour.crowded", 8.0, "", "From so many boats on the harbour is crowded.", "the harbour master's book"
)
FAR = Setting(
    "quay.far", 40.0, "pan distance", "From this distance from the middle on a boat lies apart.", highest=100.0
)
"""Numbers that a harbour can set."""

FLEETS: WeakKeyDictionary[SessionContext, tuple[Mapping[str, Any], ...]] = WeakKeyDictionary()

Given = Value | FactValue | Unknown


def toy_desk(*boats: Mapping[str, Any], title: str = "Harbour") -> SessionContext:
    """A desk whose table ``boat`` has one row per mapping of fact to value; a fact left out is hidden."""
    context = SessionContext(Session(title=title))
    FLEETS[context] = boats
    return context


def toy_row(**given: Given) -> Row[Mapping[str, Any]]:
    """One row of the table ``boat``."""
    return BOAT.rows(toy_desk(given))[0]


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Mapping[str, Any]]]:
    for place, boat in enumerate(FLEETS.get(context, ())):
        name = str(boat.get("name", f"Boat {place + 1}"))
        channels = tuple(boat.get("channels", (f"b{place}",)))
        subject = Subject("boat", f"b{place}", name, f"log:{place}", boat.get("order", place), channels)
        yield subject, boat


BOAT: Table[Mapping[str, Any]] = Table("boat", "Boats in the harbour.", _rows)


def _given(row: Row[Mapping[str, Any]], fact: str) -> Given:
    found: Given = row.item.get(fact, HIDDEN)
    return found


@BOAT.fact("text", "The boat's name.")
def name(row: Row[Mapping[str, Any]]) -> Given:
    return row.subject.name


@BOAT.fact("number", "How deep it sits.", unit="dB")
def depth_db(row: Row[Mapping[str, Any]]) -> Given:
    return _given(row, "depth_db")


@BOAT.fact("number", "Its loudest horn.", unit="LUFS")
def horn_lufs(row: Row[Mapping[str, Any]]) -> Given:
    return _given(row, "horn_lufs")


@BOAT.fact("number", "Where it lies, left to right.", unit="pan")
def pan(row: Row[Mapping[str, Any]]) -> Given:
    return _given(row, "pan")


@BOAT.fact("number", "How far from the middle it lies.", unit="pan distance")
def off_centre(row: Row[Mapping[str, Any]]) -> Given:
    return _given(row, "off_centre")


@BOAT.fact("number", "How many oars.")
def oars(row: Row[Mapping[str, Any]]) -> Given:
    return _given(row, "oars")


@BOAT.fact("switch", "It floats.", how="derived")
def afloat(row: Row[Mapping[str, Any]]) -> Given:
    return _given(row, "afloat")


@BOAT.fact("switch", "It touches the ground.", how="derived", settings=(SHALLOW_DB,))
def aground(row: Row[Mapping[str, Any]]) -> Given:
    depth = row.value("depth_db")
    return depth if isinstance(depth, Unknown) else float(depth.value) >= row.context.setting(SHALLOW_DB)  # type: ignore[arg-type]


@BOAT.fact("text", "What the harbour master says of it.", how="derived", settings=(SHALLOW_DB, CROWDED), once="verdict")
def remark(row: Row[Mapping[str, Any]]) -> Given:
    return FactValue("stay out", "derived", "log:9", f"more than {row.context.setting(SHALLOW_DB):g} dB deep")


BOAT.echo("depth_how", "depth_db.note")
BOAT.echo("depth_at", "depth_db.where")


@BOAT.fact("word", "How it moves.", words=("sail", "oar", "steam"))
def drive(row: Row[Mapping[str, Any]]) -> Given:
    return _given(row, "drive")


@BOAT.fact("text", "What is painted on it.")
def motto(row: Row[Mapping[str, Any]]) -> Given:
    return _given(row, "motto")


@BOAT.fact("list", "The flags it flies.", words=("red", "green", "white"))
def flags(row: Row[Mapping[str, Any]]) -> Given:
    return _given(row, "flags")


@BOAT.fact("list", "The tones of its bell.", unit="Hz")
def bells(row: Row[Mapping[str, Any]]) -> Given:
    return _given(row, "bells")


@BOAT.fact("list", "Who is aboard.")
def crew(row: Row[Mapping[str, Any]]) -> Given:
    return _given(row, "crew")


QUAY: Table[Mapping[str, Any]] = Table("quay", "Quays; there are none.", lambda _desk: (), settings=(FAR,))


@QUAY.fact("text", "The quay's name.")
def quay_name(row: Row[Mapping[str, Any]]) -> Given:
    return row.subject.name


TOYS: dict[str, Table[Mapping[str, Any]]] = {"boat": BOAT, "quay": QUAY}
