"""The table ``marker``: the named places of the song, in time, and those that its files name."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.context import SessionContext
from mixlint.analysis.file_cues import FileCue, song_cues
from mixlint.analysis.media_use import file_name
from mixlint.facts.channel.plain import written
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.naming import ends_song
from mixlint.session import Unknown, known


class PlacedMarker(NamedTuple):
    """A marker of the session, or a labelled cue point of one of its files where it has none of its own.

    Args:
        name: what it is called.
        time_s: where it stands in the song, seconds.
        place: its place among them, in time, counted from 0.
        cue: the cue point; None for a marker of the session.
    """

    name: str
    time_s: float
    place: int
    cue: FileCue | None = None


def _rows(context: SessionContext) -> Iterator[tuple[Subject, PlacedMarker]]:
    if not context.session.markers:
        yield from _cue_rows(context)
    for place, marker in enumerate(sorted(context.session.markers, key=lambda one: one.time_s)):
        where = moment_text(context, marker.time_s)
        yield Subject("marker", str(place), marker.name, where, -1), PlacedMarker(marker.name, marker.time_s, place)


def _cue_rows(context: SessionContext) -> Iterator[tuple[Subject, PlacedMarker]]:
    """The labelled cue points of the files, each name and time once, as far as it is known where they stand."""
    for place, (at_s, cue) in enumerate(song_cues(context)):
        subject = Subject("marker", str(place), cue.name, moment_text(context, at_s), -1)
        yield subject, PlacedMarker(cue.name, at_s, place, cue)


MARKER: Table[PlacedMarker] = Table(
    "marker",
    "The markers of the session, in time; where it has none, the labelled cue points inside its files.",
    _rows,
)


@MARKER.fact("text", "Its name.")
def name(row: Row[PlacedMarker]) -> str:
    return row.item.name


@MARKER.fact("number", "Where it stands in the song.", unit="s")
def at_s(row: Row[PlacedMarker]) -> float:
    return row.item.time_s


@MARKER.fact("number", "Its place among the markers in time, counted from 1.", how="derived")
def position(row: Row[PlacedMarker]) -> int:
    return row.item.place + 1


@MARKER.fact("number", "The bar it stands in, counted from 1.", how="derived")
def bar(row: Row[PlacedMarker]) -> int:
    return known(row.context.session.timeline).bar(row.item.time_s)[0]


@MARKER.fact("number", "The beat of that bar it stands on, in quarter notes counted from 1.", how="derived")
def beat(row: Row[PlacedMarker]) -> FactValue:
    timeline = known(row.context.session.timeline)
    return FactValue(round(timeline.bar(row.item.time_s)[1], 6), "derived", row.subject.where)


@MARKER.fact("text", "The file whose cue point it is; empty for a marker of the session.")
def file(row: Row[PlacedMarker]) -> str:
    return "" if row.item.cue is None else file_name(row.item.cue.media.path)


@MARKER.fact("number", "Where it stands in the file whose cue point it is.", unit="s", how="measured")
def in_file_s(row: Row[PlacedMarker]) -> float | Unknown:
    if row.item.cue is None:
        return Unknown(unknown="it is a marker of the session")
    return row.item.cue.in_file_s


@MARKER.fact("switch", "Its name says that the song ends there.", how="derived")
def ends_the_song(row: Row[PlacedMarker]) -> bool:
    return ends_song(row.item.name, row.context.house.vocabulary)


@MARKER.fact(
    "word", "How its name is written: all in capitals, all in small letters, or mixed; none without a letter.",
    how="derived", words=("capitals", "small", "mixed", "none"),
)  # fmt: skip
def name_written(row: Row[PlacedMarker]) -> str:
    return written(row.item.name)
