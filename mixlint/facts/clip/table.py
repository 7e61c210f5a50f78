"""The table ``clip``: every clip of every channel; clips alike but for their place are one row."""

from __future__ import annotations

from collections.abc import Iterator

from mixlint.analysis.context import SessionContext
from mixlint.facts.clip import clip_regions, levels, plain, sound, speed, strays
from mixlint.facts.clip.clip_regions import ClipRegion, clip_name
from mixlint.facts.declare import Subject, Table


def _rows(context: SessionContext) -> Iterator[tuple[Subject, ClipRegion]]:
    for region in clip_regions.clip_regions(context):
        channel = region.channel
        name = f"{context.name(channel.id)}: {clip_name(context, region.clip)}"
        where = region.clip.where or channel.where
        subject = Subject(
            "clip", f"{channel.id}:{region.number}", name, where, context.order[channel.id], (channel.id,)
        )
        yield subject, region


CLIP: Table[ClipRegion] = Table(
    "clip",
    "Every clip of every channel; clips alike but for their place are one row.",
    _rows,
    (clip_regions.FACTS, strays.FACTS, speed.FACTS, levels.FACTS, sound.FACTS, plain.FACTS),
)
