"""The ways a part itself takes to a bus, as gains that can be laid on its samples: no returns, no ambience.

The processors of a strip act on both legs alike, so that a way is one complex response over frequency, the same all the
time, and one 2×2 matrix over time.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.channel_purpose import is_return
from mixlint.analysis.context import SessionContext, per_session
from mixlint.routing import Edge, acting_inserts
from mixlint.session import Channel, Insert, Unknown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

MOST_WAYS: Final = 8
"""Ways from one part to one bus that are followed: a bound of work, far over what a session has."""


class DryWay(NamedTuple):
    """One way of a part to a bus.

    Args:
        channels: the channels passed, the part first and the bus last.
        edges: the edges between them.
        to_input: it ends at the input of the bus, before its processors and its fader.
    """

    channels: tuple[Channel, ...]
    edges: tuple[Edge, ...]
    to_input: bool = False

    @property
    def strips(self) -> tuple[Channel, ...]:
        """The channels whose processors and faders are passed."""
        return self.channels[:-1] if self.to_input else self.channels


def is_dry(context: SessionContext, edge: Edge) -> bool:
    """True for an audible edge on which a part itself goes on, and not its ambience."""
    return context.routing.wiring.audible(edge) and not is_return(context, context.channels[edge.to])


@per_session
def dry_ways(context: SessionContext, part: Channel, bus: Channel) -> tuple[DryWay, ...] | Unknown:
    """The ways of a part to a bus; Unknown where a loop is among them, or far too many."""
    wiring = context.routing.wiring
    inside = wiring.upstream([bus.id], partial(is_dry, context))
    found: list[DryWay] = []
    todo: list[DryWay] = [DryWay((part,), ())]
    while todo:
        way = todo.pop()
        here = way.channels[-1]
        if here.id == bus.id:
            found.append(way)
            continue
        for edge in wiring.leaving.get(here.id, ()):
            if edge.to not in inside or not is_dry(context, edge):
                continue
            to = context.channels[edge.to]
            if to in way.channels or len(found) + len(todo) >= MOST_WAYS:
                return Unknown(
                    unknown=f"{context.name(part.id)} reaches it by too many paths", settle="watch its meter"
                )
            todo.append(DryWay((*way.channels, to), (*way.edges, edge)))
    return tuple(found)


def unknown_processor(context: SessionContext, way: DryWay) -> tuple[Channel, Insert] | None:
    """The first processor on a way that changes the samples in a way that is not known; None where none does.

    Known are equalizers, meters, and plain gains.
    """
    for channel in way.strips:
        kinds = context.kinds[channel.id]
        for place, insert in acting_inserts(channel).items():
            if insert.equalizer is None and kinds.get(place) != "analyser":
                return channel, insert
    return None


def response_of(context: SessionContext, way: DryWay, at_hz: Floats, rate_hz: float) -> NDArray[np.complex128] | None:
    """What the equalizers of a way make of a signal at frequencies (F,) in hertz: complex (F,), None where flat."""
    import numpy as np

    from mixlint.routing.strips import insert_chain

    total = np.ones(at_hz.shape, dtype=np.complex128)
    for channel in way.strips:
        if channel.inserts:
            total = total * insert_chain(channel, context.kinds[channel.id], at_hz, rate_hz).dry
    return None if np.allclose(total, 1.0, atol=1e-9) else total


def matrices_of(context: SessionContext, way: DryWay, times: Floats) -> Floats:
    """What faders, pans, mutes and sends of a way do at ``times`` (T,) seconds: (T or 1, 2, 2) ``out = M @ in``."""
    import numpy as np

    from mixlint.routing.edge_gains import edge_matrices, moving_edges, strip_matrices

    routing = context.routing
    edges = list(way.edges)
    still = edge_matrices(edges, routing.legs, routing.laws)
    gains = still | moving_edges(edges, context.channels, routing.legs, routing.laws, times)
    strips = strip_matrices(way.strips, routing.legs, routing.laws, times)
    total = np.eye(2)[None]
    for place, strip in enumerate(strips):
        edge = edges[place] if place < len(edges) else None
        before_fader = edge is not None and edge.tap == "pre"
        total = strip.open[:, None, None] * total if before_fader else strip.matrix @ total
        if edge is not None:
            total = gains[edge.number] @ total
    return np.asarray(total)
