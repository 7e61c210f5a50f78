"""The table ``source``: the audible parts of the song that play themselves."""

from __future__ import annotations

from collections.abc import Iterator

from mixlint.analysis.audibility import is_audible, is_source
from mixlint.analysis.context import SessionContext
from mixlint.facts.declare import Subject, Table
from mixlint.facts.shared import channel_subject
from mixlint.facts.source import ambience, counterpart, part, paths, placement, tone
from mixlint.session import Channel


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Channel]]:
    return (
        (channel_subject(context, channel, "source"), channel)
        for channel in context.session.channels
        if is_source(context, channel) and is_audible(context, channel)
    )


SOURCE: Table[Channel] = Table(
    "source",
    "Audible parts that play themselves: no buses, no returns, nothing muted.",
    _rows,
    (part.FACTS, placement.FACTS, counterpart.FACTS, ambience.FACTS, paths.FACTS, tone.FACTS),
)
