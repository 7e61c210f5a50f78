"""Prints by name: which track holds the rendered audio of which other channel, and which of the two plays.

A track says by its name that it is a print (``Pad print``, ``Drums bounced``, ``Piano frozen``); what is left of the
name is the channel that it was rendered from. That both have one name is common practice, no source.
"""

from __future__ import annotations

from functools import partial
from typing import Final

from mixlint.analysis.activity import coverage, length_of, merged, sounding_clips, time_grid, within_s
from mixlint.analysis.audibility import is_heard
from mixlint.analysis.channel_purpose import is_return, is_source, is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import audio_clips
from mixlint.analysis.settings import Setting
from mixlint.naming import (
    is_alternate,
    is_direct,
    is_frozen,
    is_instrument_audio,
    is_print,
    is_stem,
    name_words,
    pair_kind,
    says_left_out,
    without_print_number,
    without_print_words,
    words_without_print,
    words_without_source,
)
from mixlint.naming.fold import as_read
from mixlint.session import FADER, MUTE, Channel, control_of, seen_clips

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

    The name without the words for prints is that channel's, however it is written; failing that, the longest name of a
    channel of the same role that is a part of it: ``Lead Vox tuned print`` is one of ``Lead Vox``. A word such as audio
    or stem makes a print of a bus, or of a track that an instrument plays, alone.
    """
    words = context.house.vocabulary
    if channel.kind != "track" or not any(clip.plays == "audio" for clip in seen_clips(channel)):
        return None
    rendered = is_print(channel.name, words) or is_frozen(channel.name, words)
    if not rendered and not is_instrument_audio(channel.name, words):
        return None
    others = [
        other
        for other in context.session.channels
        if other.id != channel.id
        and _can_be_printed(context, other)
        and (rendered or other.kind in ("group", "return") or any(clip.plays == "notes" for clip in seen_clips(other)))
    ]
    names = (channel.name, without_print_number(channel.name, words)) if rendered else (channel.name,)
    for alike in (lambda name: without_print_words(name, words, of_instrument=True), partial(_words, context)):
        for name in names:
            wanted = alike(name)
            found = next((other for other in others if wanted and alike(other.name) == wanted), None)
            if found is not None:
                return found
    wanted_words = _words(context, channel.name)
    for other in others if rendered else ():
        source = words_without_source(other.name, words)
        if source is not None and source == wanted_words:
            return other
    if not rendered:
        return _mixed_down(context, channel)
    return _named_within(context, channel, others) or _return_of(context, channel, others)


def _return_of(context: SessionContext, channel: Channel, others: list[Channel]) -> Channel | None:
    """The return of which a track is the print: the one whose comment names it, or the one of an echo or reverb that
    shares a word of its name, where no other channel does.
    """
    returns = [other for other in others if is_return(context, other)]
    named = as_read(channel.name)
    told = [other for other in returns if f" {named} " in f" {as_read(other.comment or '')} "]
    if len(told) == 1:
        return told[0]
    own = frozenset(word for word in _words(context, channel.name) if len(word) > 2)
    sharing = [other for other in others if own & _words(context, other.name)]
    return sharing[0] if len(sharing) == 1 and is_return(context, sharing[0]) else None


def _words(context: SessionContext, name: str) -> frozenset[str]:
    return words_without_print(name, context.house.vocabulary)


def _mixed_down(context: SessionContext, channel: Channel) -> Channel | None:
    """The finished two-track that a track is one stem of by its name: ``Beat`` of ``Beat stem 808``.

    A two-track that is made without some parts, as ``Beat (no 808)``, lies beside their stems.
    """
    words = context.house.vocabulary
    if not is_stem(channel.name, words):
        return None
    own = _words(context, channel.name)
    for other in context.session.channels:
        finished = other.id != channel.id and context.role(other.id) == "backing-track"
        less = says_left_out(other.name, words)
        if finished and not is_stem(other.name, words) and not less and own & _words(context, other.name):
            return other
    return None


def _can_be_printed(context: SessionContext, channel: Channel) -> bool:
    """True for a part or bus of the song that is no print itself."""
    words = context.house.vocabulary
    if is_utility(context, channel) or channel.kind in ("master", "vca"):
        return False
    return not is_print(channel.name, words) and not is_frozen(channel.name, words)


def _named_within(context: SessionContext, channel: Channel, others: list[Channel]) -> Channel | None:
    """Of channels of the same role the one with the longest name that the print's name holds and adds words to."""
    name, role = _words(context, channel.name), context.role(channel.id)
    numbers = frozenset(word for word in name if word.isdigit() or len(word) == 1)
    found = [
        (len(part), other)
        for other in others
        if role is not None
        and context.role(other.id) == role
        and (part := _words(context, other.name))
        and part < name
        and numbers <= part
    ]
    longest = max((size for size, _ in found), default=0)
    best = [other for size, other in found if size == longest]
    return best[0] if len(best) == 1 else None


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
    printed = [(c.start_s, c.end_s) for c in audio_clips(channel)]
    spans = _played_into(context, source, channel)
    shorter = min(length_of(printed), length_of(spans))
    together = _beside_s(context, source, printed, spans)
    return source if shorter > 0.0 and together >= context.setting(LEAST_BESIDE) / 100.0 * shorter else None


def _beside_s(
    context: SessionContext, source: Channel, printed: list[tuple[float, float]], spans: list[tuple[float, float]]
) -> float:
    """For how long a print plays while its source does, seconds; where automation holds that shut it does not."""
    import numpy as np

    mute, fader = control_of(source, MUTE), control_of(source, FADER)
    if not mute.moves and not fader.moves:
        return sum(within_s(spans, start, end) for start, end in printed)
    edges = time_grid(context)
    middles = (edges[:-1] + edges[1:]) / 2.0
    shut = np.zeros(middles.size, dtype=bool)
    if mute.moves:
        shut |= mute.at(middles) > 0.5
    if fader.moves:
        shut |= fader.at(middles) <= SHUT_DB
    both = np.minimum(coverage(merged(printed), edges), coverage(merged(spans), edges))
    return float((both * np.diff(edges))[~shut].sum())


SHUT_DB: Final = -60.0
"""A fader at this or under is shut: a definition."""


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
    worn = context.family(channel.id) == "speech"  # a lapel microphone beside the one in front of a speaker
    if not (worn or is_direct(channel.name, words)) or context.family(channel.id) == "bass":
        return ""
    for other in context.session.channels:
        amplified = is_source(context, other) and is_heard(context, other) and not is_direct(other.name, words)
        if amplified and (
            pair_kind(channel.name, other.name, words) == "microphones" or _direct_of(context, channel, other)
        ):
            return context.name(other.id)
    return ""


def _direct_of(context: SessionContext, channel: Channel, other: Channel) -> bool:
    """True where all words of a direct signal's name but that for it stand in another part's: ``Ac Ines DI`` beside
    ``Ac Gtr Ines``.
    """
    words = context.house.vocabulary
    own = name_words(channel.name, words) - words.marks.get("direct", frozenset())
    alike = context.family(channel.id) == context.family(other.id)
    return alike and bool(own) and own <= name_words(other.name, words)
