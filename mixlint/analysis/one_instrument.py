"""Two channels of one instrument: its low and its high microphone, and the direct signal beside what is heard of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from mixlint.analysis.audibility import is_heard
from mixlint.analysis.automation_range import position_of
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.groups import parts_by_family
from mixlint.analysis.named_pairs import paired_by_name
from mixlint.analysis.partners import partners
from mixlint.analysis.settings import Setting
from mixlint.naming import is_direct, pair_kind, side_of, stem_of
from mixlint.session import Channel, is_known
from mixlint.units import CENTRED

HALVED: Final = frozenset({"keys", "plucked", "percussion", "synths"})
"""Families of instruments that are so wide that their low and their high half have a microphone each."""

LEAST_PAIRS: Final = Setting(
    "microphones.least_pairs",
    2.0,
    "",
    "So many other pairs of microphones that each stand on one side show how those of one instrument are panned.",
    lowest=1.0,
)


@per_session
def _halves(context: SessionContext) -> Mapping[str, Channel]:
    """Channel id → the other half of its instrument, by their names: low and high, treble and bass."""
    found: dict[str, Channel] = {}
    for family, parts in parts_by_family(context).items():
        if family not in HALVED:
            continue
        places = {part.id: at for at, part in enumerate(parts)}
        for at, one in enumerate(parts):
            for other, kind in paired_by_name(context, one):
                if kind == "registers" and places.get(other.id, -1) > at:
                    found.setdefault(one.id, other)
                    found.setdefault(other.id, one)
    return found


def half_beside(context: SessionContext, channel: Channel) -> Channel | None:
    """The other half of an instrument that a channel is the low or the high half of."""
    return _halves(context).get(channel.id)


def left_alone(context: SessionContext, channel: Channel) -> Channel | None:
    """What is heard of an instrument without a channel: its other half or side, or nothing but its direct signal."""
    half = half_beside(context, channel) or partners(context).get(channel.id)
    if half is not None and is_heard(context, half):
        return half
    words = context.house.vocabulary
    if not is_source(context, channel) or is_direct(channel.name, words):
        return None
    family = context.family(channel.id)
    heard = [
        other
        for other, kind in paired_by_name(context, channel)
        if kind == "microphones"
        and context.family(other.id) == family
        and is_source(context, other)
        and is_heard(context, other)
    ]
    return heard[0] if heard and all(is_direct(other.name, words) for other in heard) else None


@per_session
def close_pairs(context: SessionContext) -> tuple[tuple[Channel, Channel], ...]:
    """Pairs of channels that are two microphones of one instrument: of one name but for its last word, cut as one.

    A name that more than two channels share is a section's, and sides and halves are pictures of their own.
    """
    words = context.house.vocabulary
    named: dict[str, list[Channel]] = {}
    for channel in context.session.channels:
        said = stem_of(channel.name, words).split()
        if is_source(context, channel) and is_heard(context, channel) and len(said) > 1:
            named.setdefault(" ".join(said[:-1]), []).append(channel)
    return tuple(
        (one, other)
        for one, other in (pair for pair in named.values() if len(pair) == 2)
        if context.family(one.id) == context.family(other.id)
        and context.family(one.id) not in APART
        and not (side_of(one.name, words) or side_of(other.name, words))
        and pair_kind(one.name, other.name, words) in (None, "microphones")
        and _edges(one) == _edges(other)
    )


APART: Final = frozenset({"drums", "vocals", "speech", "room-microphones", "sound-effects"})
"""Families whose parts of one name are several instruments, or several people."""


def _edges(channel: Channel) -> list[tuple[float, float]]:
    return [(round(clip.start_s, 2), round(clip.end_s, 2)) for clip in channel.clips if clip.on is not False]


@per_session
def torn_apart(context: SessionContext, channel: Channel) -> Channel | None:
    """The microphone on the other side of the one instrument, where those of all others stand on one side each."""
    split: list[tuple[Channel, Channel]] = []
    together = 0
    for one, other in close_pairs(context):
        here, there = position_of(context, one), position_of(context, other)
        if not is_known(here) or not is_known(there):
            return None
        if here * there < 0.0 and min(abs(here), abs(there)) >= CENTRED:
            split.append((one, other))
        else:
            together += 1
    if len(split) != 1 or together < context.setting(LEAST_PAIRS) or channel not in split[0]:
        return None
    return split[0][1] if channel.id == split[0][0].id else None
