"""Outputs of a list that lead round in a circle, so that what is in it gets nowhere."""

from __future__ import annotations

from collections.abc import Sequence

from mixlint.importers.channel_list.cells import shown
from mixlint.session import Channel


def circles(channels: Sequence[Channel]) -> list[list[Channel]]:
    """The rings of two channels or more in which each puts out to the next, each ring once, from its first row."""
    by_id = {one.id: one for one in channels}
    seen: set[str] = set()
    found: list[list[Channel]] = []
    for first in channels:
        way: dict[str, int] = {}
        one: Channel | None = first
        while one is not None and one.id not in seen and one.id not in way:
            way[one.id] = len(way)
            one = by_id.get(one.output) if isinstance(one.output, str) else None
        if one is not None and one.id in way:
            ring = [by_id[each] for each, at in way.items() if at >= way[one.id]]
            if len(ring) > 1:
                found.append(ring)
        seen |= way.keys()
    return found


def fed_by(ring: Sequence[Channel], channels: Sequence[Channel]) -> list[Channel]:
    """The channels that get nowhere else than into a ring."""
    caught = {one.id for one in ring}
    grown = True
    while grown:
        more = {one.id for one in channels if isinstance(one.output, str) and one.output in caught} - caught
        grown = bool(more)
        caught |= more
    inside = {one.id for one in ring}
    return [one for one in channels if one.id in caught - inside]


def circle_said(ring: Sequence[Channel], cells: Sequence[str], channels: Sequence[Channel]) -> str:
    """What is said of a ring: the cells, who is in it, who feeds it, and what would be right.

    Args:
        ring: the channels of it, each puts out to the next.
        cells: where each says so.
        channels: all channels.
    """
    way = " to ".join(shown(one.name) for one in (*ring, ring[0]))
    fed = [shown(one.name) for one in fed_by(ring, channels)][:6]
    lost = f", and what feeds it ({', '.join(fed)}) gets nowhere" if fed else ""
    master = next((one.name for one in channels if one.kind == "master"), "")
    right = f"one of them to {shown(master)}" if master else "one of them to the mix bus"
    return f"{', '.join(cells)}: the outputs go round in a circle, {way}{lost}. Right would be {right}."
