"""The table ``source``: the audible parts of the song that play themselves."""

from __future__ import annotations

from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext
from mixlint.facts.declare import Table
from mixlint.facts.shared import channel_rows
from mixlint.facts.source import (
    ambience,
    by_section,
    counterpart,
    ensemble,
    in_time,
    level,
    loudness,
    mono,
    noted,
    part,
    paths,
    peers,
    performance,
    placement,
    printed_ambience,
    processing,
    tone,
    width,
)
from mixlint.session import Channel


def _is_audible_source(context: SessionContext, channel: Channel) -> bool:
    """True for a part of the song that plays itself and is audible."""
    return is_source(context, channel) and is_audible(context, channel)


SOURCE: Table[Channel] = Table(
    "source",
    "Audible parts that play themselves: no buses, no returns, nothing muted.",
    channel_rows("source", _is_audible_source),
    (
        part.FACTS,
        placement.FACTS,
        counterpart.FACTS,
        ambience.FACTS,
        paths.FACTS,
        tone.FACTS,
        level.FACTS,
        loudness.FACTS,
        mono.FACTS,
        by_section.FACTS,
        ensemble.FACTS,
        performance.FACTS,
        in_time.FACTS,
        noted.FACTS,
        peers.FACTS,
        width.FACTS,
        processing.FACTS,
        printed_ambience.FACTS,
    ),
)
