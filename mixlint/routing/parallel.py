"""Direct paths: by how many paths without a time effect a channel reaches the mix bus, and the strongest two of them.

Counted in one pass against the flow of the signal, never by listing paths. Levels are those of faders, sends and the
gains of equalizers and dynamics; pans are left out, since they would make two paths of one level look unequal.
"""

from __future__ import annotations

from dataclasses import dataclass

from mixlint.routing.network import Routing
from mixlint.routing.strips import AMBIENT, acting_inserts, amplitude, fader_db, level_gain


@dataclass(frozen=True, slots=True)
class DirectPaths:
    """How one channel reaches the mix bus without a time effect.

    Args:
        count: number of paths.
        strongest, second: linear gain of the two strongest paths; 0 where there is none.
        first_by, second_by: id of the channel each of them enters next.
    """

    count: int = 0
    strongest: float = 0.0
    second: float = 0.0
    first_by: str = ""
    second_by: str = ""


def direct_paths(routing: Routing) -> dict[str, DirectPaths]:
    """Channel id → its paths. A channel that holds an acting reverb or delay ends the direct path."""
    found: dict[str, DirectPaths] = {}
    for channel_id in routing.upstream_order:
        channel = routing.wiring.by_id[channel_id]
        kinds = routing.kinds.get(channel_id, {})
        if any(kinds.get(place) in AMBIENT for place in acting_inserts(channel)):
            found[channel_id] = DirectPaths()
            continue
        inserts = level_gain(channel)
        fader = inserts * amplitude(fader_db(channel))
        if channel_id == routing.wiring.mix_bus:
            found[channel_id] = DirectPaths(1, fader)
            continue
        count = 0
        gains: list[tuple[float, str]] = []
        for edge in routing.leaving.get(channel_id, ()):
            onward = found[edge.to]
            gain = amplitude(edge.level_db) * (fader if edge.tap == "post" else inserts)
            count += onward.count
            gains += [(gain * path, edge.to) for path in (onward.strongest, onward.second) if path > 0.0]
        gains.sort(reverse=True)
        first, second = [*gains, (0.0, ""), (0.0, "")][:2]
        found[channel_id] = DirectPaths(count, first[0], second[0], first[1], second[1])
    return found
