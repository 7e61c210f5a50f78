"""Prints by name: which track holds the rendered audio of which other channel, and which of the two plays.

A track says by its name that it is a print (``Pad print``, ``Drums bounced``, ``Piano frozen``); what is left of the
name is the channel that it was rendered from. That both have one name is common practice, no source.
"""

from __future__ import annotations

from typing import Final

from mixlint.analysis.activity import length_of, merged, sounding_clips
from mixlint.analysis.audibility import is_heard
from mixlint.analysis.channel_purpose import is_source, is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import is_active_clip
from mixlint.analysis.settings import Setting
from mixlint.naming import (
    family_of,
    is_alternate,
    is_direct,
    is_frozen,
    is_instrument_audio,
    is_print,
    pair_kind,
    without_print_number,
    without_print_words,
)
from mixlint.session import Channel

LEAST_BESIDE: Final = Setting(
    "prints.least_beside",
    25.0,
    "%",
    "From this share of the shorter one's time on in which both play, a print plays beside its source.",
    lowest=0.0,
    highest=100.0,
)


@per_session
def source_of_print(context: SessionContext, channel: Channel) -> Channel | None:
    """The channel that a track is the print of by its name; None where it is no print, or that channel is not there.

    A word such as audio or stem makes a print of a bus, or of a track that an instrument plays, alone.
    """
    words = context.house.vocabulary
    if channel.kind != "track" or not any(clip.plays == "audio" for clip in channel.clips):
        return None
    rendered = is_print(channel.name, words) or is_frozen(channel.name, words)
    if not rendered and not is_instrument_audio(channel.name, words):
        return None
    names = (channel.name, without_print_number(channel.name, words)) if rendered else (channel.name,)
    for name in names:
        wanted = without_print_words(name, words, of_instrument=True)
        for other in context.session.channels if wanted else ():
            if other.id == channel.id or is_utility(context, other) or other.kind in ("master", "vca"):
                continue
            if is_print(other.name, words) or is_frozen(other.name, words):
                continue
            if without_print_words(other.name, words, of_instrument=True) != wanted:
                continue
            if rendered or other.kind in ("group", "return") or any(clip.plays == "notes" for clip in other.clips):
                return other
    return None


@per_session
def _prints(context: SessionContext) -> dict[str, list[Channel]]:
    """Channel id to the prints of it, in desk order."""
    found: dict[str, list[Channel]] = {}
    for channel in context.session.channels:
        source = source_of_print(context, channel)
        if source is not None:
            found.setdefault(source.id, []).append(channel)
    return found


def live_source(context: SessionContext, channel: Channel) -> Channel | None:
    """The channel that a track is the print of, where both are heard in the mix at the same time; else None."""
    source = source_of_print(context, channel)
    if source is None or not is_heard(context, channel) or not is_heard(context, source):
        return None
    printed = [(c.start_s, c.end_s) for c in channel.clips if c.plays == "audio" and is_active_clip(channel, c)]
    spans = _played_into(context, source, channel)
    together = sum(max(0.0, min(a[1], b[1]) - max(a[0], b[0])) for a in printed for b in spans)
    shorter = min(length_of(printed), length_of(spans))
    return source if shorter > 0.0 and together >= context.setting(LEAST_BESIDE) / 100.0 * shorter else None


def _played_into(context: SessionContext, source: Channel, channel: Channel) -> list[tuple[float, float]]:
    """When parts other than the print ``channel`` sound through its source, seconds; a print can go through its bus."""
    feeding = context.routing.wiring.upstream([source.id], lambda edge: edge.source != channel.id)
    parts = [context.channels[one] for one in feeding]
    return merged([span for part in parts if is_heard(context, part) for span in sounding_clips(part)])


def stand_in(context: SessionContext, channel: Channel) -> str:
    """The channel that makes a mute of this one meant: its print that plays, what it is a print of, or its amplifier.

    A channel that its name calls an alternate, a mock-up or unused is muted by that. A direct signal is kept muted
    beside the amplifier or microphone it belongs to, for another one later; that of a bass is a part of its sound.

    Returns:
        The name of that channel, or that another version plays; empty where there is none.
    """
    source = source_of_print(context, channel)
    if source is not None:
        return context.name(source.id)
    for one in _prints(context).get(channel.id, ()):
        if is_heard(context, one):
            return context.name(one.id)
    words = context.house.vocabulary
    if is_alternate(channel.name, words):
        return "another version"
    if not is_direct(channel.name, words) or family_of(context.role(channel.id) or "") == "bass":
        return ""
    for other in context.session.channels:
        amplified = is_source(context, other) and is_heard(context, other) and not is_direct(other.name, words)
        if amplified and pair_kind(channel.name, other.name, words) == "microphones":
            return context.name(other.id)
    return ""
