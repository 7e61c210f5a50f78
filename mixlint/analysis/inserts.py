"""The inserts of a channel that act on the sound, for every table that asks what a strip does to its signal."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.context import SessionContext
from mixlint.naming import Reading, fold_name, read_processor
from mixlint.naming.fold import as_read
from mixlint.naming.setting_reading import number_of
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
    readings = context.processors[channel.id]  # raises where the export does not show the inserts
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


def is_keyed(insert: Insert) -> bool:
    """True for a processor that is keyed by another channel, as its name says or those of its parameters."""
    said = {word for text in (insert.name, *(p.name for p in insert.parameters)) for word in fold_name(text).split()}
    return any(word in _KEYED or word.strip("()[]") in _KEYED for word in said)


_KEYED: Final = frozenset(
    {"key", "keyed", "(key:", "sidechain", "side-chain", "sc", "duck", "ducker", "ducking", "pump"}
)


def processor_name(insert: Insert) -> str:
    """The insert's name for a reader; one without a name is an unnamed processor."""
    return insert.name or "an unnamed processor"


def processor_on(context: SessionContext, insert: Insert, strip: Channel, channel: Channel) -> str:
    """The same, with the strip it sits in where that is not ``channel`` itself: ``Old EQ on Drums``."""
    name = processor_name(insert)
    return name if strip.id == channel.id else f"{name} on {context.name(strip.id)}"


def listening_aids(context: SessionContext, channel: Channel) -> list[Insert]:
    """The inserts acting on a channel that are there for listening alone: a correction, a dim, a mono switch.

    One that is declared as a plain tool, a utility or a width control, is one where its name says so.
    """
    return [
        insert for insert, reading in active_inserts(context, channel) if is_listening_aid(context, insert, reading)
    ]


def is_listening_aid(context: SessionContext, insert: Insert, reading: Reading) -> bool:
    """True for an insert that is there for listening alone, switched on or off; see :func:`listening_aids`."""
    return reading.word == "monitor" or (reading.word in _PLAIN_TOOLS and _named_for_listening(context, insert))


_PLAIN_TOOLS: Final = frozenset({"utility", "spatial", None})
"""Kinds of processor that can be a switch for listening under another name."""


def _named_for_listening(context: SessionContext, insert: Insert) -> bool:
    """True for a tool called a mono check or the like, as on a mix bus, that makes its sound mono as it is set.

    What names or lists a frequency makes the low end mono for good; a width that is not 0 leaves its sides.
    """
    named = read_processor(
        Insert(name=insert.name), context.house.processors, on="master", vocabulary=context.house.vocabulary
    )
    if named.word != "monitor":
        return False
    numbers = [found for parameter in insert.parameters if (found := number_of(parameter)) is not None]
    if any(unit == "Hz" for _, unit in numbers) or any(text.isdigit() for text in as_read(insert.name).split()):
        return False
    if any(unit == "%" and value != 0.0 for value, unit in numbers):
        return False
    switches = [parameter.value for parameter in insert.parameters if isinstance(parameter.value, bool)]
    return not switches or any(switches)
