"""Which tracks hold the print of an ambience, and what feeds it.

A print is found by its name: audio on the return's own channel; a track that bears the return's name, with or without
words for prints, returns and wet sound, or whose file does; failing a return, a track that its own name calls a reverb
or a delay. What feeds it are the parts sent to the return, through groups too, or whose sends there were switched off
once it was printed; of a print without any the parts that its name holds, and failing these what it sounds like. That a
print bears the name is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import prod
from typing import TYPE_CHECKING, Final

from mixlint.analysis.channel_purpose import is_return, is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import plain_clips
from mixlint.analysis.prints import source_of_print
from mixlint.naming import says_ambience_print, words_of_ambience
from mixlint.routing import Edge
from mixlint.routing.strips import amplitude, amplitude_over, switch_over
from mixlint.session import FADER, MUTE, Channel, Clip, control_of, controls_of_send, is_known, seen_clips

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media.excerpt_comparison import Excerpt

    Floats = NDArray[np.float64]

MOST_SOURCES: Final = 12
"""So many of what feeds a print are told apart, the strongest; the rest would change little."""

DEEPEST: Final = 6
"""Buses in a row that a feed is followed through."""


@dataclass(frozen=True, eq=False)
class AmbienceFeed:
    """A part that feeds an ambience, and one way that it takes.

    Args:
        part: the part.
        way: the edges from the part to the return, in the order of the signal; none where nothing tells of a way.
    """

    part: Channel
    way: tuple[Edge, ...]


@dataclass(frozen=True, eq=False)
class AmbiencePrint:
    """The print of an ambience.

    Args:
        track: the channel whose clips it is.
        of: the return that was printed; None where the session holds none.
        feeds: the parts that feed it, as far as the session or its name tells.
        missing: names of parts that feed it and have no audio to compare with.
    """

    track: Channel
    of: Channel | None
    feeds: tuple[AmbienceFeed, ...]
    missing: tuple[str, ...]


@per_session
def ambience_prints(context: SessionContext) -> tuple[AmbiencePrint, ...]:
    """Every print of an ambience that has a clip to be looked at, in desk order."""
    by_track = {track.id: of for of, track in _printed_returns(context).values()}
    found = []
    for channel in context.session.channels:
        if channel.id in by_track:
            found.append(_of_return(context, channel, by_track[channel.id]))
        elif _is_ambience_alone(context, channel):
            found.append(AmbiencePrint(channel, None, _named_parts(context, channel), ()))
    return tuple(found)


@per_session
def print_of_return(context: SessionContext, channel: Channel) -> AmbiencePrint | None:
    """The print of a return; None where there is none, or it has no clip that can be looked at."""
    return next((one for one in ambience_prints(context) if one.of is not None and one.of.id == channel.id), None)


def _clips_seen(channel: Channel) -> list[Clip]:
    """The clips of which a print can be told: none of a channel whose clips the export does not show."""
    return [] if "clips" in channel.missing else plain_clips(channel)


@per_session
def _printed_returns(context: SessionContext) -> dict[str, tuple[Channel, Channel]]:
    """Id of a return → the return and the channel that holds its print."""
    returns = [c for c in context.session.channels if is_return(context, c)]
    found = {one.id: (one, one) for one in returns if _clips_seen(one)}
    taken: set[str] = set()
    for exactly in (True, False):
        for track in context.session.channels:
            if track.kind != "track" or track.id in taken or is_return(context, track) or not _clips_seen(track):
                continue
            alike = [one for one in returns if one.id not in found and _prints(context, track, one, exactly=exactly)]
            if len(alike) == 1:
                found[alike[0].id] = (alike[0], track)
                taken.add(track.id)
    return found


def _prints(context: SessionContext, track: Channel, of: Channel, *, exactly: bool) -> bool:
    """True where a track bears a return's name and nothing says that it is a part sent there."""
    source = source_of_print(context, track)
    if source is not None and is_return(context, source):
        return source.id == of.id
    if source is not None or any(edge.to == of.id for edge in context.routing.wiring.leaving.get(track.id, ())):
        return False
    wanted, effect = _words(context, of.name)
    for name, said in _names(context, track):
        own, kinds = _words(context, name)
        if own == wanted and (own or kinds) and (kinds == effect or not kinds or not effect) and (said or kinds):
            return True
        if not exactly and own and kinds and kinds == effect and own == wanted - _effect_words(context, of.name):
            return True
    return False


def _effect_words(context: SessionContext, name: str) -> frozenset[str]:
    """The words of a name that say by themselves which effect it is: ``plate``."""
    return frozenset(one for one in _words(context, name)[0] if _words(context, one)[1])


@per_session
def _words(context: SessionContext, name: str) -> tuple[frozenset[str], frozenset[str]]:
    """:func:`words_of_ambience`, which every track and every return ask of each other's names."""
    return words_of_ambience(name, context.house.vocabulary)


@per_session
def _names(context: SessionContext, track: Channel) -> tuple[tuple[str, bool], ...]:
    """What a track and its first file are called, and whether the name or the folder says that it is a print."""
    words = context.house.vocabulary
    folder, _, file = _path(context, track).rpartition("/")
    in_prints = says_ambience_print(folder.rpartition("/")[2], words) if folder else False
    stem = file.rpartition(".")[0]
    return tuple(
        (name, in_prints or says_ambience_print(name, words)) for name in (track.name, *([stem] if stem else []))
    )


def _path(context: SessionContext, track: Channel) -> str:
    """The path of the first file that a track plays, in the order in which the session lists its files."""
    places = _media_places(context)
    first = min((places[clip.file] for clip in plain_clips(track) if clip.file in places), default=None)
    return "" if first is None else context.session.media[first].path.replace("\\", "/")


@per_session
def _media_places(context: SessionContext) -> dict[str | None, int]:
    """Media id → its place among the files of the session."""
    return {media.id: place for place, media in reversed([*enumerate(context.session.media)])}


def _is_ambience_alone(context: SessionContext, channel: Channel) -> bool:
    """True for a track of audio that its own name calls a reverb or a delay, and nothing feeds."""
    if channel.kind != "track" or not is_source(context, channel) or not plain_clips(channel):
        return False
    if context.family(channel.id) != "returns" and not words_of_ambience(channel.name, context.house.vocabulary)[1]:
        return False
    if _hears_a_hall(context, channel):
        return False
    return source_of_print(context, channel) is None and not context.routing.wiring.arriving.get(channel.id)


def _hears_a_hall(context: SessionContext, channel: Channel) -> bool:
    """True for a track that is called a hall beside other microphones that hear the whole: it is one of them."""
    others = (one for one in context.session.channels if one.id != channel.id)
    return context.role(channel.id) == "room" and any(context.family(one.id) == "room-microphones" for one in others)


def _of_return(context: SessionContext, track: Channel, of: Channel) -> AmbiencePrint:
    feeds: list[AmbienceFeed] = []
    missing: list[str] = []
    for feed in _ways(context, of, (), frozenset({of.id, track.id})):
        if plain_clips(feed.part):
            feeds.append(feed)
        elif feed.part.kind == "track":
            missing.append(context.name(feed.part.id))
    if not feeds and not missing:
        feeds = list(_fed_once(context, of, track) or _named_parts(context, track))
    return AmbiencePrint(track, of, tuple(feeds), tuple(dict.fromkeys(missing)))


def _fed_once(context: SessionContext, of: Channel, track: Channel) -> tuple[AmbienceFeed, ...]:
    """The parts whose sends to a return stand switched off: once it is printed, nobody needs them any more."""
    passed = frozenset({of.id, track.id})
    parts: dict[str, Channel] = {}
    for loose in context.routing.wiring.loose:
        source = context.channels[loose.source]
        if source.sends[loose.send].to != of.id or is_return(context, source):
            continue
        own = [source] if plain_clips(source) else [feed.part for feed in _ways(context, source, (), passed)]
        parts |= {part.id: part for part in own if plain_clips(part)}
    return tuple(AmbienceFeed(part, ()) for part in parts.values())


def _ways(
    context: SessionContext, channel: Channel, after: tuple[Edge, ...], passed: frozenset[str]
) -> Iterator[AmbienceFeed]:
    """The ways by which parts come to a channel; other returns are none, since what they put out is not dry."""
    wiring = context.routing.wiring
    for edge in wiring.arriving.get(channel.id, ()):
        source = context.channels[edge.source]
        # A return is muted once it is printed: what it was fed by feeds its print all the same.
        sounds = wiring.audible(edge) or (not after and source.id not in wiring.muted)
        if source.id in passed or not sounds or is_return(context, source):
            continue
        way = (edge, *after)
        if source.kind == "track" and (seen_clips(source) or not wiring.arriving.get(source.id)):
            yield AmbienceFeed(source, way)
        if len(way) < DEEPEST:
            yield from _ways(context, source, way, passed | {source.id})


def _named_parts(context: SessionContext, track: Channel) -> tuple[AmbienceFeed, ...]:
    """The parts that the name of a print without a return holds: ``Guitar L`` of ``Guitar L Verb``."""
    words = context.house.vocabulary
    own = words_of_ambience(track.name, words)[0] - _effect_words(context, track.name)
    if not own:
        return ()
    parts = [one for one in context.session.channels if one.id != track.id and is_dry_part(context, one)]
    named = [(one, words_of_ambience(one.name, words)[0]) for one in parts]
    found = [one for one, part in named if part == own] or [one for one, part in named if own < part]
    return tuple(AmbienceFeed(one, ()) for one in found)


def is_dry_part(context: SessionContext, channel: Channel) -> bool:
    """True for a part with audio of its own that is no print of an ambience."""
    return (
        is_source(context, channel)
        and bool(_clips_seen(channel))
        and not words_of_ambience(channel.name, context.house.vocabulary)[1]
        and context.family(channel.id) != "returns"
    )


def gain_over(context: SessionContext, feed: AmbienceFeed, times: Floats) -> Floats:
    """The amplitude at which a feed comes to its return at ``times`` (T,) seconds of the song, (T,) or (1,).

    What is not known counts as unity: the gains are fitted to the print anyway. Inserts and pans are left out.
    """
    import numpy as np

    total = np.ones(1)
    for edge in feed.way:
        source = context.channels[edge.source]
        mute = control_of(source, MUTE)
        total = total * (1.0 - switch_over(mute, times, otherwise=False))
        if edge.tap == "post":
            total = total * amplitude_over(control_of(source, FADER), times)
        if edge.send is not None:
            controls = controls_of_send(source, edge.send)
            total = total * amplitude_over(controls.level, times) * switch_over(controls.on, times, otherwise=True)
    return np.asarray(total, dtype=np.float64)


def gain_now(feed: AmbienceFeed) -> float:
    """The amplitude of the sends on a feed's way as they stand now."""
    return prod((amplitude(edge.level_db) for edge in feed.way), start=1.0)


def excerpts(channel: Channel, gain: float = 1.0) -> list[Excerpt]:
    """The channel's measurable clips as excerpts, with an amplitude ``gain`` and their own."""
    from mixlint.media.excerpt_comparison import Excerpt

    return [
        Excerpt(c.file, c.start_s, c.end_s, c.offset_s, gain * (amplitude(c.gain_db) if is_known(c.gain_db) else 1.0))
        for c in plain_clips(channel)
        if c.file is not None and is_known(c.offset_s)
    ]
