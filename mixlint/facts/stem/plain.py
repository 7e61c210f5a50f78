"""Where a stem begins and what song it is of, for rules of a house."""

from __future__ import annotations

from mixlint.facts.declare import Facts, Row
from mixlint.session import MediaFile, Unknown

FACTS: Facts[MediaFile] = Facts()


@FACTS.fact("text", "The title of the song: the name of the folder, unless it has one of its own; empty for none.")
def song(row: Row[MediaFile]) -> str:
    return row.context.session.title


@FACTS.fact("number", "Where it starts: 0, or by its time stamp where the set is laid out by these.", unit="s")
def starts_s(row: Row[MediaFile]) -> float | Unknown:
    starts = [clip.start_s for one in row.context.session.channels for clip in one.clips if clip.file == row.item.id]
    return min(starts) if starts else Unknown(unknown="the file was not opened")
