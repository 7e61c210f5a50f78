"""One package per table: every fact is declared once, beside the analysis that only it needs.

``mixlint facts`` prints them. What several tables share stands in the room below, ``analysis``. It judges nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeVar

import mixlint.facts.leading.leads  # noqa: F401  # it declares what leads from one table to another
from mixlint.analysis.context import SessionContext
from mixlint.analysis.house import House
from mixlint.facts.ambience_print.table import AMBIENCE_PRINT
from mixlint.facts.change.table import CHANGE
from mixlint.facts.channel.table import CHANNEL
from mixlint.facts.clip.table import CLIP
from mixlint.facts.declare import Fact, Facts, FactValue, Row, Subject, Table
from mixlint.facts.delivery.table import DELIVERY
from mixlint.facts.feed.table import FEED
from mixlint.facts.handover.table import HANDOVER
from mixlint.facts.insert.table import INSERT
from mixlint.facts.lane.table import LANE
from mixlint.facts.loop.table import LOOP
from mixlint.facts.marker.table import MARKER
from mixlint.facts.media.table import MEDIA
from mixlint.facts.microphones.table import MICROPHONES
from mixlint.facts.mix_bus.table import MIX_BUS
from mixlint.facts.mix_print.table import PRINT
from mixlint.facts.object_.table import OBJECT
from mixlint.facts.pair.table import PAIR
from mixlint.facts.parameter.table import PARAMETER
from mixlint.facts.programme.table import PROGRAMME
from mixlint.facts.return_.table import RETURN
from mixlint.facts.send.table import SEND
from mixlint.facts.session.table import SESSION
from mixlint.facts.sides.table import SIDES
from mixlint.facts.source.table import SOURCE
from mixlint.facts.split.table import SPLIT
from mixlint.facts.stem.table import STEM
from mixlint.facts.stems.table import STEMS
from mixlint.facts.track.table import TRACK
from mixlint.facts.twin.table import TWIN

TABLES: dict[str, Table[Any]] = {
    table.name: table
    for table in (
        SESSION,
        CHANNEL,
        SOURCE,
        RETURN,
        AMBIENCE_PRINT,
        SEND,
        FEED,
        INSERT,
        PARAMETER,
        PAIR,
        SIDES,
        MICROPHONES,
        SPLIT,
        TWIN,
        LOOP,
        MIX_BUS,
        TRACK,
        CLIP,
        LANE,
        MARKER,
        MEDIA,
        STEMS,
        STEM,
        PRINT,
        DELIVERY,
        PROGRAMME,
        OBJECT,
        HANDOVER,
        CHANGE,
    )
}
"""Every table of facts by name."""

V = TypeVar("V")


def under_current_names(table: str, values: Mapping[str, V]) -> dict[str, V]:
    """What an older file says of facts, by the names that the facts have now.

    Args:
        table: the name of their table; one that is not there any more renames nothing.
        values: fact name to anything.
    """
    known = TABLES.get(table)
    return {known.renamed.get(name, name) if known else name: value for name, value in values.items()}


__all__ = [
    "TABLES",
    "Fact",
    "FactValue",
    "Facts",
    "House",
    "Row",
    "SessionContext",
    "Subject",
    "Table",
    "under_current_names",
]
