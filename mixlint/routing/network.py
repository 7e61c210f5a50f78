"""Gains to the mix bus for every channel at once, in one pass against the flow of the signal.

Two things are carried back from the mix bus:

* the *direct* gain, a complex 2×2 matrix per channel, frequency and time. Parallel paths add as signals do.
* the *ambience*, everything that passed a reverb or delay. Such paths add in power. For an input ``x = [left, right]``
  the energy on side ``i`` is the quadratic form ``xᵀ Q_i x``, so that a mono signal keeps its coherence up to the
  reverb. A reverb spreads what it is fed over both of its legs; a delay keeps the sides.

The mix bus's own inserts, fader and pan are part of the path: the numbers say what leaves the mix bus.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from mixlint.routing.edge_gains import edge_matrices, moving_edges, strip_matrices
from mixlint.routing.loops import Loop, find_loops
from mixlint.routing.strips import (
    AMBIENT,
    ASSUMED_RATE_HZ,
    UNREAD_EFFECT,
    Laws,
    acting_inserts,
    dynamics_gain,
    insert_chain,
    legs_of,
)
from mixlint.routing.unknowns import lost_sends, unknown_gains
from mixlint.routing.wiring import Edge, Reached, Wiring, reached, wire
from mixlint.session import Session, is_known, seen_inserts

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.routing.strips import Floats

InsertKinds = Mapping[str, Mapping[int, str]]
"""Channel id → position of an insert → what the processor does."""


@dataclass(frozen=True)
class Gains:
    """Gains from each channel's input to the output of the mix bus, by channel id.

    T is 1 for a channel on whose paths nothing moves, so that it costs no more than a single moment.

    Args:
        direct: (T or 1, F, 2, 2) complex: ``out = direct @ in`` by every path without a time effect.
        ambience: (T or 1, F, 2, 2, 2) real: for each output side the quadratic form of the input.
    """

    direct: Mapping[str, NDArray[np.complex128]]
    ambience: Mapping[str, NDArray[np.float64]]

    def sides(self, channel: str) -> NDArray[np.float64]:
        """Amplitude left and right (T or 1, F, 2) of the direct paths for a signal that stands on both legs alike."""
        import numpy as np

        return np.asarray(np.abs(self.direct[channel].sum(axis=-1)))

    def ambience_sides(self, channel: str) -> NDArray[np.float64]:
        """Amplitude left and right (T or 1, F, 2) of the ambience of a signal that stands on both legs alike."""
        import numpy as np

        return np.asarray(np.sqrt(np.clip(self.ambience[channel].sum(axis=(-1, -2)), 0.0, None)))


class Routing:
    """The routing graph of one session under given pan laws.

    Args:
        session: the session.
        kinds: what each insert does.
        laws: the pan laws.
        media_legs: widths of media files found by opening them; declared widths are used otherwise.
    """

    def __init__(
        self,
        session: Session,
        kinds: InsertKinds | None = None,
        laws: Laws | None = None,
        media_legs: Mapping[str, int] | None = None,
    ) -> None:
        self.session = session
        self.kinds: InsertKinds = kinds or {}
        self.laws = laws or Laws()
        self.wiring: Wiring = wire(session)
        self.legs: dict[str, int] = {c.id: legs_of(c, session, media_legs) for c in session.channels}
        self.rate_hz = session.sample_rate_hz if is_known(session.sample_rate_hz) else ASSUMED_RATE_HZ

    @cached_property
    def _loops(self) -> tuple[tuple[Loop, ...], frozenset[int], tuple[str, ...]]:
        return find_loops(self.wiring)

    @property
    def loops(self) -> tuple[Loop, ...]:
        """The feedback loops among audible edges."""
        return self._loops[0]

    @cached_property
    def edges(self) -> tuple[Edge, ...]:
        """Audible edges, each loop cut at its weakest."""
        return tuple(e for e in self.wiring.edges if self.wiring.audible(e) and e.number not in self._loops[1])

    @cached_property
    def upstream_order(self) -> tuple[str, ...]:
        """Channel ids, each after everything it feeds: the order in which gains are carried back."""
        return self._loops[2][::-1]

    def gains(self, at_hz: Floats, times: Floats | None = None) -> Gains:
        """Gains to the mix bus at frequencies ``at_hz`` (F,) hertz, static or at ``times`` (T,) seconds."""
        direct: dict[str, NDArray[np.complex128]] = {}
        ambience: dict[str, NDArray[np.float64]] = {}
        for channel_id, through_d, through_a in self.each_gain(at_hz, times):
            direct[channel_id], ambience[channel_id] = through_d, through_a
        return Gains(direct, ambience)

    @cached_property
    def fed(self) -> frozenset[str]:
        """Ids of the channels that others feed, loops cut: those whose gains the others' are made of."""
        return frozenset(edge.to for edge in self.edges)

    def each_gain(
        self, at_hz: Floats, times: Floats | None = None
    ) -> Iterator[tuple[str, NDArray[np.complex128], NDArray[np.float64]]]:
        """The same channel by channel, against the flow: its id, its direct gain and its ambience.

        Held are the gains of the channels in :attr:`fed` alone, so that whoever needs each but once can have many.
        """
        import numpy as np

        direct: dict[str, NDArray[np.complex128]] = {}
        ambience: dict[str, NDArray[np.float64]] = {}
        strips = strip_matrices(self.session.channels, self.legs, self.laws, times)
        strip_of = {channel.id: strip for channel, strip in zip(self.session.channels, strips, strict=True)}
        matrices = self._edge_matrices(times)
        silent = (np.zeros((1, at_hz.size, 2, 2), dtype=np.complex128), np.zeros((1, at_hz.size, 2, 2, 2)))
        for channel_id in self.upstream_order:
            channel, leaving = self.wiring.by_id[channel_id], self.leaving.get(channel_id, ())
            through_d, through_a = _carried(leaving, "post", direct, ambience, matrices) or silent
            if channel_id == self.wiring.mix_bus:
                through_d = through_d + np.eye(2)
            strip = strip_of[channel_id]
            pan, gain = strip.pan[:, None], strip.gain[:, None, None, None]
            through_d = _through(through_d, pan) * gain
            through_a = _conjugated(through_a, pan) * gain[..., None] ** 2
            before = _carried(leaving, "pre", direct, ambience, matrices)
            if before is not None:
                opened = strip.open[:, None, None, None]
                through_d = through_d + before[0] * opened
                through_a = through_a + before[1] * opened[..., None]
            if seen_inserts(channel):
                chain = insert_chain(channel, self.kinds.get(channel_id, {}), at_hz, self.rate_hz)
                forms = through_a + _forms(through_d) if chain.wet.any() else None
                through_d = chain.dry[:, None, None] * through_d
                through_a = (np.abs(chain.dry) ** 2)[:, None, None, None] * through_a
                if forms is not None:
                    wet = chain.wet[:, None, None, None]
                    through_a = through_a + wet * (
                        _spread(forms) if chain.spread and self.legs[channel_id] == 2 else forms
                    )
            if channel_id in self.fed:
                direct[channel_id], ambience[channel_id] = through_d, through_a
            yield channel_id, through_d, through_a

    @cached_property
    def leaving(self) -> dict[str, tuple[Edge, ...]]:
        """Channel id → the audible edges that leave it, loops cut."""
        found: dict[str, list[Edge]] = {}
        for edge in self.edges:
            found.setdefault(edge.source, []).append(edge)
        return {source: tuple(edges) for source, edges in found.items()}

    def downstream(self, start: Iterable[str], through: Callable[[Edge], bool] | None = None) -> Reached:
        """The channels that ``start`` feeds by audible edges; as :meth:`Wiring.downstream`, with loops cut."""
        return reached(start, self.leaving, "to", through)

    def _edge_matrices(self, times: Floats | None) -> dict[int, NDArray[np.float64]]:
        """Edge number → its gain as matrices (T or 1, 2, 2)."""
        if times is None:
            return self._still_edges
        return self._still_edges | moving_edges(self.edges, self.wiring.by_id, self.legs, self.laws, times)

    @cached_property
    def _still_edges(self) -> dict[int, NDArray[np.float64]]:
        return edge_matrices(self.edges, self.legs, self.laws)

    def edge_matrix(self, edge: Edge) -> Floats:
        """The gain of one edge as it stands now, (2, 2)."""
        gain: Floats = self._still_edges[edge.number][0]
        return gain

    @cached_property
    def unknown_on_the_path(self) -> dict[str, tuple[str, ...]]:
        """Channel id → what is not known on its paths to the mix bus, so that its gain cannot be told."""
        return unknown_gains(self)

    @cached_property
    def lost_sends(self) -> dict[str, tuple[str, ...]]:
        """Channel id → sends on its paths to the mix bus of which the export does not say where they lead."""
        return lost_sends(self)


def _carried(
    leaving: Sequence[Edge],
    tap: str,
    direct: Mapping[str, NDArray[np.complex128]],
    ambience: Mapping[str, NDArray[np.float64]],
    matrices: Mapping[int, NDArray[np.float64]],
) -> tuple[NDArray[np.complex128], NDArray[np.float64]] | None:
    """What the edges with this tap carry on: the direct sum (T or 1, F, 2, 2) and the ambience (T or 1, F, 2, 2, 2).

    Edges on which nothing moves, up to the mix bus, are summed in one batch; the others one by one.
    """
    import numpy as np

    still: list[Edge] = []
    total: tuple[NDArray[np.complex128], NDArray[np.float64]] | None = None
    for edge in leaving:
        if edge.tap != tap:
            continue
        if matrices[edge.number].shape[0] == 1 and direct[edge.to].shape[0] == 1 and ambience[edge.to].shape[0] == 1:
            still.append(edge)
            continue
        matrix = matrices[edge.number][:, None]
        carried = _through(direct[edge.to], matrix), _conjugated(ambience[edge.to], matrix)
        total = carried if total is None else (total[0] + carried[0], total[1] + carried[1])
    if not still:
        return total
    stack = np.stack([matrices[edge.number] for edge in still])[:, :, None]  # (edges, 1, 1, 2, 2)
    batch_d = _through(np.stack([direct[edge.to] for edge in still]), stack).sum(axis=0)
    batch_a = _conjugated(np.stack([ambience[edge.to] for edge in still]), stack).sum(axis=0)
    return (batch_d, batch_a) if total is None else (total[0] + batch_d, total[1] + batch_a)


def _forms(matrix: NDArray[np.complex128]) -> NDArray[np.float64]:
    """For each output side the energy form of a direct matrix: ``Q_i = Re(row_iᴴ row_i)``, (…, 2, 2, 2)."""
    import numpy as np

    return np.asarray((matrix[..., :, :, None].conj() * matrix[..., :, None, :]).real)


def _through(direct: NDArray[np.complex128], matrix: Floats) -> NDArray[np.complex128]:
    """``D M``: what direct gains (…, F, 2, 2) read before ``matrix`` (…, 1, 2, 2), which is the same in every band."""
    import numpy as np

    # A product of many rows with one matrix; of many matrices of two by two it takes ten times as long.
    rows = direct.reshape(*direct.shape[:-3], -1, 2) @ matrix[..., 0, :, :]
    return np.asarray(rows.reshape(*rows.shape[:-2], -1, 2, 2))


def _conjugated(form: NDArray[np.float64], matrix: Floats) -> NDArray[np.float64]:
    """``Mᵀ Q M`` for each output side: what the form (…, F, 2, 2, 2) reads before ``matrix`` (…, 1, 2, 2)."""
    import numpy as np

    # As a row, Q passes through the Kronecker product of M with itself: one product, as in _through.
    one = matrix[..., 0, :, :]
    twice = (one[..., :, None, :, None] * one[..., None, :, None, :]).reshape(*one.shape[:-2], 4, 4)
    rows = form.reshape(*form.shape[:-4], -1, 4) @ twice
    return np.asarray(rows.reshape(*rows.shape[:-2], -1, 2, 2, 2))


def _spread(form: NDArray[np.float64]) -> NDArray[np.float64]:
    """The form before a reverb: each input leg feeds both output legs with half its energy, decorrelated."""
    import numpy as np

    mean = (form[..., 0, 0] + form[..., 1, 1]) / 2.0
    return np.asarray(mean[..., None, None] * np.eye(2))


def assumptions(routing: Routing) -> tuple[str, ...]:
    """The assumptions that gains rest on, as sentences for a reader."""
    said = [
        "solo is judged apart: levels are computed as if nothing were soloed",
        "a post-fader send is taken after fader and pan, a pre-fader send before both",
    ]
    opaque = sum(1 for c in routing.session.channels for i in seen_inserts(c) if i.opaque)
    if opaque:
        counted = (
            "1 processor whose settings the export hides is"
            if opaque == 1
            else (f"{opaque} processors whose settings the export hides are")
        )
        said.append(f"{counted} taken at unity gain")
    said += _dynamics(routing)
    said += _unknown_settings(routing)
    if not is_known(routing.session.sample_rate_hz) and any(
        i.equalizer for c in routing.session.channels for i in seen_inserts(c)
    ):
        said.append(f"equalizers are computed at {ASSUMED_RATE_HZ / 1000:.0f} kHz: the export gives no sample rate")
    return tuple(said)


def _dynamics(routing: Routing) -> list[str]:
    """What is taken for compressors, limiters and gates, where they raise or lower a gain or make up for themselves."""
    acting = [i for c in routing.session.channels for i in acting_inserts(c).values() if i.dynamics is not None]
    said = []
    if any(dynamics_gain(insert) != 1.0 for insert in acting):
        said.append(
            "compressors, limiters and gates count with their input and output gains; what they take away is left out"
        )
    made_up = sum(1 for insert in acting if insert.dynamics is not None and insert.dynamics.auto_makeup is True)
    if made_up:
        whose = "1 compressor" if made_up == 1 else f"{made_up} compressors"
        said.append(f"the auto make-up of {whose} is taken to give back what is taken away, and no more")
    return said


def _unknown_settings(routing: Routing) -> list[str]:
    """What is taken for settings that the export leaves out and that no gain stays open for."""
    said = []
    shares = (
        insert.wet
        for channel in routing.session.channels
        for place, insert in acting_inserts(channel).items()
        if routing.kinds.get(channel.id, {}).get(place) in AMBIENT
    )
    if any(UNREAD_EFFECT in kinds.values() for kinds in routing.kinds.values()):
        said.append("a return on which nothing tells what its processor does is taken as ambience")
    if any(not is_known(share) for share in shares):
        said.append("a reverb or delay whose wet share the export does not show is taken as wholly wet")
    if any(not is_known(c.legs) and routing.legs[c.id] == 2 for c in routing.session.channels if c.kind != "vca"):
        said.append("a channel whose width the export does not give is taken as stereo unless its files are mono")
    return said
