"""Partners by name: which part is called the right of a part called left, whatever becomes of either."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mixlint.analysis.activity import has_arrangement, sounding_clips
from mixlint.analysis.channel_purpose import is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.naming import name_without_side, side_of
from mixlint.session import Channel

if TYPE_CHECKING:
    from collections.abc import Mapping


@per_session
def partners(context: SessionContext) -> Mapping[str, Channel]:
    """Channel id → its partner, for every track whose name and another's differ in nothing but the side they tell.

    Mutes, clips, pans and levels do not count: a partner that is silent is one all the same. Of several tracks of one
    name the first belongs to the first in desk order.
    """
    words = context.house.vocabulary
    sides: dict[str, dict[str, list[Channel]]] = {}
    for channel in context.session.channels:
        side = side_of(channel.name, words)
        if side is None or channel.kind != "track" or is_utility(context, channel):
            continue
        sides.setdefault(name_without_side(channel.name, words), {}).setdefault(side, []).append(channel)
    found: dict[str, Channel] = {}
    for there in sides.values():
        for left, right in zip(there.get("left", ()), there.get("right", ()), strict=False):
            found[left.id], found[right.id] = right, left
    return found


def waits_for_partner(context: SessionContext, channel: Channel) -> bool:
    """True where the name of a track tells a side, and the session has no partner for it."""
    return side_of(channel.name, context.house.vocabulary) is not None and channel.id not in partners(context)


def plays_nothing(context: SessionContext, channel: Channel) -> bool:
    """True for a track that was not loaded, or of whose clips none is switched on, in a session that has clips."""
    if not has_arrangement(context):
        return False
    fed = context.routing.wiring.arriving.get(channel.id)
    return channel.loaded is False or not (sounding_clips(channel) or fed)
