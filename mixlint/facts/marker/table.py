"""The table ``marker``: the named places of the song, in time."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.context import SessionContext
from mixlint.facts.channel.plain import written
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.naming import ends_song
from mixlint.session import Marker, known


class PlacedMarker(NamedTuple):
    """A marker and its place among those of the session, in time, counted from 0."""

    marker: Marker
    place: int


def _rows(context: SessionContext) -> Iterator[tuple[Subject, PlacedMarker]]:
    for place, marker in enumerate(sorted(context.session.markers, key=lambda one: one.time_s)):
        where = moment_text(context, marker.time_s)
        yield Subject("marker", str(place), marker.name, where, -1), PlacedMarker(marker, place)


MARKER: Table[PlacedMarker] = Table("marker", "The markers of the session: named places of the song, in time.", _rows)


@MARKER.fact("text", "Its name.")
def name(row: Row[PlacedMarker]) -> str:
    return row.item.marker.name


@MARKER.fact("number", "Where it stands.", unit="s")
def at_s(row: Row[PlacedMarker]) -> float:
    return row.item.marker.time_s


@MARKER.fact("number", "Its place among the markers in time, counted from 1.", how="derived")
def position(row: Row[PlacedMarker]) -> int:
    return row.item.place + 1


@MARKER.fact("number", "The bar it stands in, counted from 1.", how="derived")
def bar(row: Row[PlacedMarker]) -> int:
    return known(row.context.session.timeline).bar(row.item.marker.time_s)[0]


@MARKER.fact("number", "The beat of that bar it stands on, in quarter notes counted from 1.", how="derived")
def beat(row: Row[PlacedMarker]) -> FactValue:
    timeline = known(row.context.session.timeline)
    return FactValue(round(timeline.bar(row.item.marker.time_s)[1], 6), "derived", row.subject.where)


@MARKER.fact("switch", "Its name says that the song ends there.", how="derived")
def ends_the_song(row: Row[PlacedMarker]) -> bool:
    return ends_song(row.item.marker.name, row.context.house.vocabulary)


@MARKER.fact(
    "word", "How its name is written: all in capitals, all in small letters, or mixed; none without a letter.",
    how="derived", words=("capitals", "small", "mixed", "none"),
)  # fmt: skip
def name_written(row: Row[PlacedMarker]) -> str:
    return written(row.item.marker.name)
