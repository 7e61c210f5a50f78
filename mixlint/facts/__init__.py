"""One file per table: every fact is declared with its name, unit, meaning and how it is known.

It judges nothing.
"""

from mixlint.facts.declare import Answer, Fact, Row, Subject, Table
from mixlint.facts.tables import (  # noqa: F401  they add facts to their tables
    return_effect,
    source_place,
    source_song,
    source_tone,
    track_clips,
)
from mixlint.facts.tables.change import CHANGE
from mixlint.facts.tables.channel import CHANNEL
from mixlint.facts.tables.clip import CLIP
from mixlint.facts.tables.handover import HANDOVER
from mixlint.facts.tables.insert import INSERT
from mixlint.facts.tables.lane import LANE
from mixlint.facts.tables.loop import LOOP
from mixlint.facts.tables.media import MEDIA
from mixlint.facts.tables.mix_bus import MIX_BUS
from mixlint.facts.tables.pair import PAIR
from mixlint.facts.tables.returns import RETURN
from mixlint.facts.tables.sends import SEND
from mixlint.facts.tables.source import SOURCE
from mixlint.facts.tables.split import SPLIT
from mixlint.facts.tables.stems import STEMS
from mixlint.facts.tables.track import TRACK
from mixlint.facts.tables.whole import SESSION
from mixlint.study.desk import Desk
from mixlint.study.house import House

TABLES: dict[str, Table[Row]] = {
    table.name: table
    for table in (
        SESSION,
        CHANNEL,
        SOURCE,
        RETURN,
        SEND,
        INSERT,
        PAIR,
        SPLIT,
        LOOP,
        MIX_BUS,
        TRACK,
        CLIP,
        LANE,
        MEDIA,
        STEMS,
        HANDOVER,
        CHANGE,
    )
}
"""Every table of facts by name."""

__all__ = ["TABLES", "Answer", "Desk", "Fact", "House", "Row", "Subject", "Table"]
