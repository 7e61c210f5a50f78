"""The markers of a folder of stems: the labelled cue points of its files, each once."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, NamedTuple

from mixlint.session import Marker

MOST_MARKERS: Final = 4096
"""So many are kept of a set: each file is read to as many."""

SAME_S: Final = 1e-3
"""Cue points of one name that lie no further apart are one: rounding of the rates of files."""


class Mark(NamedTuple):
    """A labelled cue point, seconds of the song, and its file."""

    time_s: float
    name: str
    file: str


def markers_of(marks: Iterable[Mark]) -> tuple[Marker, ...]:
    """One marker for each name and time, in the order of time; cue points that differ stay apart."""
    found: list[Marker] = []
    last: dict[str, float] = {}
    for mark in sorted(marks):
        before = last.get(mark.name)
        if before is not None and mark.time_s - before <= SAME_S:
            continue
        last[mark.name] = mark.time_s
        found.append(Marker(time_s=round(mark.time_s, 9), name=mark.name))
        if len(found) == MOST_MARKERS:
            break
    return tuple(found)
