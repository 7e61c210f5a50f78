"""The inserts of a channel that act on the sound, for every table that asks what a strip does to its signal."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.context import SessionContext
from mixlint.naming.reading import Reading
from mixlint.routing import acting_inserts
from mixlint.session import Channel, EqualizerBand, Insert, is_known

FILTER_KINDS: Final = frozenset({"equalizer", "filter", "multi-effect"})
"""Kinds of processor that may hold a low cut."""

SHAPERS: Final = frozenset(
    {"compressor", "limiter", "gate", "expander", "distortion", "modulation", "pitch", "spatial", "multi-effect"}
)
"""Kinds of processor that make another sound of a signal beside the same one without; an equalizer alone does not."""


def active_inserts(context: SessionContext, channel: Channel) -> list[tuple[Insert, Reading]]:
    """The channel's inserts that are switched on and loaded, in signal order, each with what kind of processor it is.

    Their settings are as their controls stand, where automation holds these elsewhere than is stored. A reading whose
    word is None is a processor whose kind neither the export nor its name tells. A switch that the export does not show
    counts as on.
    """
    readings = context.processors[channel.id]
    return [(insert, readings[place]) for place, insert in acting_inserts(channel).items()]


def active_bands(insert: Insert) -> list[EqualizerBand]:
    """The equalizer bands of an insert that are switched on; none where the export shows no bands."""
    return [b for b in insert.equalizer.bands if b.on is not False] if insert.equalizer else []


def may_hide_filter(insert: Insert, reading: Reading) -> bool:
    """True for a processor that may hold a filter which the export does not show.

    That is an equalizer with an active band of unknown frequency, and without any bands in the export a processor of
    :data:`FILTER_KINDS`, or one of unknown kind: what settings it lists does not tell whether one of them is a filter.
    """
    if insert.equalizer is not None:
        return any(not is_known(band.freq_hz) for band in active_bands(insert))
    return reading.word in FILTER_KINDS or reading.word is None


def processor_name(insert: Insert) -> str:
    """The insert's name for a reader; one without a name is an unnamed processor."""
    return insert.name or "an unnamed processor"


def processor_on(context: SessionContext, insert: Insert, strip: Channel, channel: Channel) -> str:
    """The same, with the strip it sits in where that is not ``channel`` itself: ``Old EQ on Drums``."""
    name = processor_name(insert)
    return name if strip.id == channel.id else f"{name} on {context.name(strip.id)}"
