"""The arrangement's lanes, walked once: each timeline with the time unit and the track it inherits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from mixlint.importers.dawproject.xml_tree import Node

TimeUnit = Literal["beats", "seconds"]


@dataclass(frozen=True, slots=True)
class Lane:
    """One timeline of the arrangement, outside any clip; ``tempo`` marks what stands in a tempo automation."""

    node: Node
    unit: TimeUnit
    track: str
    tempo: bool = False


def time_unit(text: str, inherited: TimeUnit) -> TimeUnit:
    """The unit that a timeline counts in.

    Args:
        text: the attribute as written; anything but ``beats`` or ``seconds`` inherits.
        inherited: the unit around it.
    """
    if text == "beats":
        return "beats"
    return "seconds" if text == "seconds" else inherited


def walk_lanes(root: Node) -> Iterator[Lane]:
    """Every timeline of the arrangement in file order; clips are not entered. Beats are the format's default."""
    for arrangement in root.all("Arrangement"):
        unit = time_unit(arrangement.get("timeUnit"), "beats")
        pending = [Lane(one, unit, "") for one in reversed(arrangement.children)]
        while pending:
            lane = pending.pop()
            node = lane.node
            unit = time_unit(node.get("timeUnit"), lane.unit)
            here = Lane(node, unit, node.get("track") or lane.track, lane.tempo or node.tag == "TempoAutomation")
            yield here
            if node.tag in ("Lanes", "TempoAutomation"):
                pending.extend(Lane(one, unit, here.track, here.tempo) for one in reversed(node.children))


def tracks_with_clips(lanes: list[Lane]) -> frozenset[str]:
    """The references of tracks on whose lanes something lies."""
    return frozenset(
        lane.track
        for lane in lanes
        if lane.track
        and (lane.node.tag in ("Audio", "Notes", "Warps") or (lane.node.tag == "Clips" and lane.node.children))
    )
