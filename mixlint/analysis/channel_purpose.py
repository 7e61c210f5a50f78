"""What a channel is for: a part of the song, an effect return, a cue mix, or a utility channel outside the song.

A utility channel is one that serves the session and is no part of the song: a cue mix, click, guide, reference,
talkback or timecode. The tables choose their rows by these, so that a click is nobody's finding.
"""

from __future__ import annotations

from collections.abc import Set
from typing import Literal

from mixlint.analysis.activity import has_arrangement, sounding_clips
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.mix_prints import mix_found_by_sound
from mixlint.naming import OUT_OF_THE_MIX, fits_pattern
from mixlint.routing import AMBIENT
from mixlint.session import Channel, seen_clips

StripKind = Literal["source", "group", "return", "mix-bus", "utility", "other"]
"""What a channel is to the song, see :func:`strip_kind`."""


@per_session
def is_cue(context: SessionContext, channel: Channel) -> bool:
    """True for a cue or headphone mix: read as one from its name, or listed as one by the house."""
    if any(fits_pattern(channel.name, pattern) for pattern in context.house.cue):
        return True
    return context.role(channel.id) == "cue"


def is_parallel(context: SessionContext, channel: Channel) -> bool:
    """True for a parallel bus: read as one from its name, or listed as one by the house."""
    by_house = any(fits_pattern(channel.name, pattern) for pattern in context.house.parallel)
    return by_house or context.role(channel.id) == "parallel-bus"


@per_session
def is_utility(context: SessionContext, channel: Channel) -> bool:
    """True when the channel is not part of the song: a cue mix, click, guide, reference or utility channel.

    Among stems so is the one that holds the sum of the others, whatever it is called.
    """
    if is_cue(context, channel) or context.family(channel.id) == "utility":
        return True
    return any(clip.file == one.media.id for one in mix_found_by_sound(context) for clip in seen_clips(channel))


@per_session
def is_source(context: SessionContext, channel: Channel) -> bool:
    """True for a track that plays a part of the song itself: it holds clips, and is no bus and no utility channel."""
    return channel.kind == "track" and holds_clips(context, channel) and not is_utility(context, channel)


@per_session
def is_return(context: SessionContext, channel: Channel) -> bool:
    """True for an effect return: declared as one, or fed by a send and holding a reverb or delay; no cue mix is one."""
    if channel.kind in ("master", "vca") or is_utility(context, channel):
        return False
    if channel.kind == "return":
        return True
    sent = any(edge.kind == "send" for edge in context.routing.wiring.arriving.get(channel.id, ()))
    return sent and any(word in AMBIENT for word in context.kinds.get(channel.id, {}).values())


def strip_kind(context: SessionContext, channel: Channel) -> StripKind:
    """What the channel is to the song: ``utility`` where it is no part of it, ``other`` where nothing feeds it."""
    if is_utility(context, channel):
        return "utility"
    if channel.id == context.routing.wiring.mix_bus:
        return "mix-bus"
    if is_return(context, channel):
        return "return"
    if is_source(context, channel):
        return "source"
    return "group" if channel.kind == "group" or context.routing.wiring.arriving.get(channel.id) else "other"


def carries_content(context: SessionContext, channel_id: str) -> bool:
    """True when the channel plays something itself, or is fed by a channel that does; mutes do not count."""
    return channel_id in _carrying_content(context)


@per_session
def _carrying_content(context: SessionContext) -> Set[str]:
    """Ids of the channels that hold clips and of all that they feed."""
    return context.routing.wiring.downstream(c.id for c in context.session.channels if holds_clips(context, c))


def carries_song(context: SessionContext, channel_id: str, *, with_optional: bool = True) -> bool:
    """True when a part of the song plays on the channel or comes to it before the mix; mutes do not count.

    What only a click, a cue mix or another utility channel feeds carries none, nor what the mix bus puts out to.

    Args:
        context: the session.
        channel_id: the channel.
        with_optional: whether parts count that their house lets stay out of the mix, heard or not.
    """
    return channel_id in _carrying_song(context, with_optional)


@per_session
def _carrying_song(context: SessionContext, with_optional: bool) -> Set[str]:
    """Ids of the channels that parts of the song play on, and of all that these feed before the mix bus."""
    mix_bus = context.routing.wiring.mix_bus
    parts = [c.id for c in context.session.channels if holds_clips(context, c) and not is_utility(context, c)]
    if not with_optional:
        parts = [one for one in parts if OUT_OF_THE_MIX not in context.allowances(one)]
    return context.routing.wiring.downstream(
        parts, lambda edge: edge.source != mix_bus and not is_utility(context, context.channels[edge.source])
    )


def holds_clips(context: SessionContext, channel: Channel) -> bool:
    """True when clips sound on the channel itself.

    Where the export does not show its clips, or has not one, a loaded track that nothing feeds counts as playing.
    """
    if "clips" not in channel.missing and sounding_clips(channel):
        return True
    return (
        ("clips" in channel.missing or not has_arrangement(context))
        and channel.kind == "track"
        and not context.routing.wiring.arriving.get(channel.id)
        and channel.loaded is not False
    )
