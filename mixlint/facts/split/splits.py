"""Where a signal parts: the direct ways that leave one channel and meet again, and what their sum loses.

Two ways with different filters are out of phase around the filters' corners, and their sum can be far less than the
stronger of them alone. The known equalizers of both ways make this a computation. A processor whose settings are
hidden may delay its way, which no export shows.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.analysis.audibility import feeds_content, is_audible
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.paths import paths_of
from mixlint.analysis.tone import acting
from mixlint.routing import TIME_EFFECTS, Edge
from mixlint.routing.matrices import strip_matrices
from mixlint.routing.parallel import DirectPaths
from mixlint.routing.strips import amplitude
from mixlint.session import Channel
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.routing import Gains

    Floats = NDArray[np.float64]

HARMLESS: Final = frozenset({"analyser", "utility", "monitor"})


@dataclass(frozen=True, slots=True)
class Split:
    """A channel that leaves by two direct ways or more.

    Args:
        channel: where they part.
        edges: the first step of each way, the strongest first.
        gains: the level of each way, linear.
        hidden: processors with hidden settings that stand on some of the ways and not on all.
    """

    channel: Channel
    edges: tuple[Edge, ...]
    gains: tuple[float, ...]
    hidden: tuple[str, ...]

    @property
    def second_db(self) -> float:
        """The second way relative to the strongest, dB."""
        from math import log10

        return max(SILENCE_DB, 20.0 * log10(self.gains[1] / self.gains[0]))


@per_session
def splits(context: SessionContext) -> tuple[Split, ...]:
    """Every channel with content at which the direct signal parts, in desk order."""
    routing = context.routing
    ways = paths_of(context)
    found = []
    for channel in context.session.channels:
        edges = [e for e in routing.leaving.get(channel.id, ()) if ways.get(e.to, DirectPaths()).strongest > 0.0]
        if len(edges) < 2 or not is_audible(context, channel) or not feeds_content(context, channel.id):
            continue
        if not ways[channel.id].count:
            continue
        fader = amplitude(channel.fader_db)
        levels = {
            e.number: amplitude(e.level_db) * (fader if e.tap == "post" else 1.0) * ways[e.to].strongest for e in edges
        }
        edges = sorted((e for e in edges if levels[e.number] > 0.0), key=lambda e: (-levels[e.number], e.number))
        if len(edges) >= 2:
            gains = tuple(levels[e.number] for e in edges)
            found.append(Split(channel, tuple(edges), gains, _hidden(context, edges, ways)))
    return tuple(found)


def _hidden(context: SessionContext, edges: list[Edge], ways: dict[str, DirectPaths]) -> tuple[str, ...]:
    """Processors with hidden settings on the channels that some of the two strongest ways pass and not both."""
    passed = [_passed(context, edge.to, ways) for edge in edges[:2]]
    apart = (passed[0] | passed[1]) - (passed[0] & passed[1])
    return tuple(
        f"{insert.name or 'an unnamed processor'} on {context.name(channel.id)}"
        for channel in context.session.channels
        if channel.id in apart
        for insert, reading in acting(context, channel)
        if insert.opaque and reading.word not in TIME_EFFECTS | HARMLESS
    )


def _passed(context: SessionContext, start: str, ways: dict[str, DirectPaths]) -> set[str]:
    """The channels that a direct way from ``start`` on can pass."""
    found, todo = {start}, [start]
    while todo:
        for edge in context.routing.leaving.get(todo.pop(), ()):
            if edge.to not in found and ways.get(edge.to, DirectPaths()).strongest > 0.0:
                found.add(edge.to)
                todo.append(edge.to)
    return found


@per_session
def _by_sixths(context: SessionContext) -> tuple[Floats, Gains]:
    """Every sixth of an octave from 40 Hz to 12 kHz, hertz, and the gains as they stand now there."""
    import numpy as np

    at = 1000.0 * 2.0 ** (np.arange(-28, 22) / 6.0)
    return at, context.routing.gains(at)


def deepest_dip(context: SessionContext, split: Split) -> tuple[float, float]:
    """Where the sum of the ways lies furthest under the strongest of them alone: dB (0 or more) and hertz.

    Looked for at every sixth of an octave from 40 Hz to 12 kHz, both sides added in power.
    """
    import numpy as np

    routing = context.routing
    at, gains = _by_sixths(context)
    strip = strip_matrices([split.channel], routing.legs, routing.laws, None)[0].matrix[0]
    total = np.zeros((at.size, 2), dtype=np.complex128)
    strongest = np.zeros(at.size)
    for edge in split.edges:
        onward = gains.direct[edge.to][0] @ routing.edge_matrix(edge)
        if edge.tap == "post":
            onward = onward @ strip
        sides = onward.sum(axis=-1)
        total += sides
        strongest = np.maximum(strongest, (np.abs(sides) ** 2).sum(axis=-1))
    summed = (np.abs(total) ** 2).sum(axis=-1)
    dip = 10.0 * np.log10(np.maximum(strongest, 1e-20) / np.maximum(summed, 1e-20))
    # A frequency that the filters have taken away has nothing to lose.
    dip = np.where(strongest > strongest.max() * 1e-2, dip, 0.0)
    worst = int(np.argmax(dip))
    return max(0.0, float(dip[worst])), float(at[worst])
