"""One channel's paths to the mix bus, stage by stage, the strongest first.

The signal traced stands on both legs alike, at unity gain. What it becomes is carried as a 2×2 covariance of the two
legs, so that direct paths keep their coherence and a reverb loses it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from heapq import heappop, heappush
from itertools import count
from typing import TYPE_CHECKING, Final, Literal

from mixlint.routing.edge_gains import strip_matrices
from mixlint.routing.network import Routing
from mixlint.routing.strips import (
    AMBIENT,
    acting_inserts,
    amplitude,
    dynamics_gain,
    fader_db,
    filter_response,
    level_gain,
    trim_gain,
    unmuted,
    wet_share,
)
from mixlint.routing.trace_model import Arrival, Stage, Trace
from mixlint.routing.wiring import Edge
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Covariance = NDArray[np.complex128]

MOST_PATHS: Final = 24
"""Paths shown; the strongest come first, so what is left out is weaker than all of them."""

MOST_STEPS: Final = 20_000
"""Partial paths looked at before the search ends."""


@dataclass(frozen=True)
class TracedPath:
    """A path so far: the channels passed, the stages, and the signal as direct and as ambience."""

    channels: tuple[str, ...]
    stages: tuple[Stage, ...]
    direct: Covariance
    ambience: Covariance
    kind: Literal["direct", "ambience"] = "direct"


def trace(routing: Routing, channel_id: str, at_hz: float = 1000.0) -> Trace:
    """Every path of a channel's own signal to the output of the mix bus, up to ``MOST_PATHS`` of them.

    Args:
        routing: the routing graph.
        channel_id: the channel whose signal is followed.
        at_hz: the frequency at which filters are read, hertz.
    """
    import numpy as np

    start = TracedPath((), (), np.ones((2, 2), dtype=np.complex128), np.zeros((2, 2), dtype=np.complex128))
    arrivals: list[Arrival] = []
    promise = _promises(routing)
    ticket = count()
    todo: list[tuple[float, int, float, str, TracedPath]] = [
        (-promise.get(channel_id, 0.0), next(ticket), 1.0, channel_id, start)
    ]
    while todo and len(arrivals) < MOST_PATHS and next(ticket) < MOST_STEPS:
        _, _, so_far, here, path = heappop(todo)
        for after in _through_inserts(routing, here, path, at_hz):
            out = _through_fader(routing, here, after)
            before = after if unmuted(routing.wiring.by_id[here]) else _moved(after, 0.0)
            if here == routing.wiring.mix_bus:
                arrivals.append(_arrived(out))
            inserts = so_far * level_gain(routing.wiring.by_id[here])
            strip = inserts * amplitude(fader_db(routing.wiring.by_id[here]))
            for edge in routing.leaving.get(here, ()):
                begun, signal = (inserts, before) if edge.tap == "pre" else (strip, out)
                gained = begun * amplitude(edge.level_db)
                onward = gained * promise.get(edge.to, 0.0)
                heappush(todo, (-onward, next(ticket), gained, edge.to, _along(routing, edge, signal)))
    return Trace(channel=routing.wiring.by_id[channel_id].name, at_hz=at_hz, arrivals=tuple(arrivals))


def _promises(routing: Routing) -> dict[str, float]:
    """Channel id → the gain of its strongest single path to the mix bus, filters and pans aside; 0 where none leads."""
    best: dict[str, float] = {}
    for channel_id in routing.upstream_order:
        inserts = level_gain(routing.wiring.by_id[channel_id])
        fader = inserts * amplitude(fader_db(routing.wiring.by_id[channel_id]))
        found = fader if channel_id == routing.wiring.mix_bus else 0.0
        for edge in routing.leaving.get(channel_id, ()):
            strip = fader if edge.tap == "post" else inserts
            found = max(found, strip * amplitude(edge.level_db) * best.get(edge.to, 0.0))
        best[channel_id] = found
    return best


def _through_inserts(routing: Routing, channel_id: str, path: TracedPath, at_hz: float) -> list[TracedPath]:
    """The paths out of a channel's inserts: direct and, past a time effect, ambience."""
    import numpy as np

    channel = routing.wiring.by_id[channel_id]
    kinds = routing.kinds.get(channel_id, {})
    direct, ambience = path.direct, path.ambience
    path = replace(path, channels=(*path.channels, channel.name))
    # A stage is shown for the kind of signal it concerns; both lists run through the same inserts.
    stages: dict[str, tuple[Stage, ...]] = {"direct": path.stages, "ambience": path.stages}
    frequency = np.array([at_hz])
    for place, insert in acting_inserts(channel).items():
        if kinds.get(place) in AMBIENT:
            share = wet_share(insert)
            fed = direct + ambience
            wet = share**2 * (_reverberated(fed, routing.legs[channel_id]) if kinds[place] == "reverb" else fed)
            ambience = (1.0 - share) ** 2 * ambience + wet
            direct = (1.0 - share) ** 2 * direct
        elif insert.equalizer is not None:
            power = float(np.abs(filter_response(insert, frequency, routing.rate_hz)[0]) ** 2)
            direct, ambience = direct * power, ambience * power
        else:
            power = (dynamics_gain(insert) * trim_gain(insert)) ** 2
            direct, ambience = direct * power, ambience * power
        stages["direct"] += (_stage(channel.name, f"insert {insert.name}", direct),)
        stages["ambience"] += (_stage(channel.name, f"insert {insert.name}", ambience if ambience.any() else direct),)
    nothing = np.zeros((2, 2), dtype=np.complex128)
    found = []
    if path.kind == "direct" and np.trace(direct).real > 0.0:
        found.append(replace(path, stages=stages["direct"], direct=direct, ambience=nothing))
    if np.trace(ambience).real > 0.0:
        found.append(replace(path, stages=stages["ambience"], direct=nothing, ambience=ambience, kind="ambience"))
    return found


def _reverberated(fed: Covariance, legs: int) -> Covariance:
    """What a reverb makes of what it is fed: two unlike legs of equal energy, or one leg on a mono strip."""
    import numpy as np

    if legs == 2:
        return np.asarray(np.eye(2) * np.trace(fed) / 2.0)
    fold = np.full((2, 2), 0.5)
    return np.asarray(fold @ fed @ fold.T)


def _through_fader(routing: Routing, channel_id: str, path: TracedPath) -> TracedPath:
    channel = routing.wiring.by_id[channel_id]
    (strip,) = strip_matrices((channel,), routing.legs, routing.laws, None)
    pan = strip.matrix[0]
    level = amplitude(fader_db(channel))
    fader = _moved(path, level)
    stages = (*path.stages, _stage(channel.name, "fader", _now(fader)))
    after = replace(path, direct=pan @ path.direct @ pan.T, ambience=pan @ path.ambience @ pan.T)
    return replace(after, stages=(*stages, _stage(channel.name, "pan", _now(after))))


def _moved(path: TracedPath, gain: float) -> TracedPath:
    return replace(path, direct=path.direct * gain**2, ambience=path.ambience * gain**2)


def _along(routing: Routing, edge: Edge, path: TracedPath) -> TracedPath:
    matrix = routing.edge_matrix(edge)
    after = replace(path, direct=matrix @ path.direct @ matrix.T, ambience=matrix @ path.ambience @ matrix.T)
    if edge.kind == "output":
        return after
    name = routing.wiring.by_id[edge.source].name
    to = routing.wiring.by_id[edge.to].name
    return replace(after, stages=(*after.stages, _stage(name, f"{edge.tap}-fader send to {to}", _now(after))))


def _now(path: TracedPath) -> Covariance:
    return path.direct if path.kind == "direct" else path.ambience


def _arrived(path: TracedPath) -> Arrival:
    left, right = _sides(_now(path))
    return Arrival(path=path.channels, kind=path.kind, left_db=left, right_db=right, stages=path.stages)


def _stage(at: str, stage: str, covariance: Covariance) -> Stage:
    left, right = _sides(covariance)
    return Stage(at=at, stage=stage, left_db=left, right_db=right)


def _sides(covariance: Covariance) -> tuple[float, float]:
    """Level left and right in dB re the traced signal; silence is −200."""
    from math import log10

    powers = (max(float(covariance[k, k].real), 0.0) for k in (0, 1))
    left, right = (max(SILENCE_DB, 10.0 * log10(p)) if p > 1e-20 else SILENCE_DB for p in powers)
    return round(left, 4), round(right, 4)
