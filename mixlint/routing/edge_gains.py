"""All strips and all edges as 2×2 matrices at once.

What no automation moves is computed in one batch for the whole session; only what moves is computed per time.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from mixlint.routing.strips import Laws, amplitude, amplitude_over, fader_db, pan_matrix, switch_over, unmuted
from mixlint.routing.wiring import Edge
from mixlint.session import FADER, MUTE, PAN, Channel, Unknown, control_of, controls_of_send, is_known
from mixlint.session.control import ON

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.routing.strips import Floats


class StripGains(NamedTuple):
    """Fader and pan of one strip, kept apart: a fader that moves costs a product, where a matrix would cost eight.

    Args:
        gain: (T or 1,) linear, 0 where the strip is muted.
        pan: (T or 1, 2, 2).
        open: (T or 1,) 0 where the strip is muted, else 1: a mute silences what is taken before the fader as well.
    """

    gain: NDArray[np.float64]
    pan: NDArray[np.float64]
    open: NDArray[np.float64]

    @property
    def matrix(self) -> NDArray[np.float64]:
        """Both together, (T or 1, 2, 2)."""
        whole: NDArray[np.float64] = self.pan * self.gain[:, None, None]
        return whole


def strip_matrices(
    channels: Sequence[Channel], legs: Mapping[str, int], laws: Laws, times: Floats | None
) -> list[StripGains]:
    """Fader and pan of each channel."""
    import numpy as np

    open_now = np.array([float(unmuted(c)) for c in channels])
    gain = np.array([amplitude(fader_db(c)) for c in channels]) * open_now
    pan = np.array([_known_or(control_of(c, PAN).now, 0.0) for c in channels])
    mono = np.array([legs[c.id] == 1 for c in channels], dtype=bool)
    still = _panned(pan, mono, laws)
    found = []
    for k, channel in enumerate(channels):
        level, place, opened = gain[k : k + 1], still[k : k + 1], open_now[k : k + 1]
        if times is not None and channel.automation:
            fader, mute, panned = (control_of(channel, target) for target in (FADER, MUTE, PAN))
            if mute.lane is not None:
                opened = 1.0 - switch_over(mute, times, otherwise=False)
            if fader.lane is not None or mute.lane is not None:
                level = amplitude_over(fader, times) * opened
            if panned.lane is not None:
                place = pan_matrix(panned.at(times), legs[channel.id], laws)
        found.append(StripGains(level, place, opened))
    return found


def edge_matrices(edges: Sequence[Edge], legs: Mapping[str, int], laws: Laws) -> dict[int, NDArray[np.float64]]:
    """Edge number → its gain as it stands now (1, 2, 2), send level and send pan included.

    Into a mono strip a send pan has no place to act: the strip folds what it is sent.
    """
    import numpy as np

    if not edges:
        return {}
    gain = np.array([_gain_now(e) for e in edges])
    pan = np.array([_known_or(e.pan, 0.0) for e in edges])
    mono = np.array([_is_mono(e, legs) for e in edges], dtype=bool)
    plain = np.array([_is_plain(e, legs) for e in edges], dtype=bool)
    still = np.where(plain[:, None, None], np.eye(2), _panned(pan, mono, laws)) * gain[:, None, None]
    return {edge.number: still[k : k + 1] for k, edge in enumerate(edges)}


def moving_edges(
    edges: Sequence[Edge], channels: Mapping[str, Channel], legs: Mapping[str, int], laws: Laws, times: Floats
) -> dict[int, NDArray[np.float64]]:
    """Edge number → its gain at ``times`` (T, 2, 2), for the edges that automation holds."""
    import numpy as np

    automated = {
        channel.id: {lane.target.place for lane in channel.automation if lane.target.of_send and lane.t}
        for channel in channels.values()
        if channel.automation
    }
    found = {}
    for edge in edges:
        if edge.send is None or edge.send not in automated.get(edge.source, ()):
            continue
        level, on, pan = controls_of_send(channels[edge.source], edge.send)
        gain = amplitude_over(level, times) * switch_over(on, times, otherwise=True)
        places = pan.at(times) if pan.lane is not None else np.array([_known_or(pan.static, 0.0)])
        matrix = (
            np.eye(2)[None] if _is_plain(edge, legs) else pan_matrix(places, 1 if _is_mono(edge, legs) else 2, laws)
        )
        found[edge.number] = np.asarray(matrix * gain[:, None, None])
    return found


def _is_mono(edge: Edge, legs: Mapping[str, int]) -> bool:
    """True where the send pan acts on one leg: taken before the pan of a mono strip."""
    return edge.tap == "pre" and legs[edge.source] == 1


def _is_plain(edge: Edge, legs: Mapping[str, int]) -> bool:
    """True where no send pan acts."""
    return edge.send is None or legs[edge.to] == 1


def _gain_now(edge: Edge) -> float:
    """The gain of an edge as it stands now: 0 for a send that only automation switches on."""
    if edge.send is None:
        return 1.0
    return 0.0 if is_known(edge.on) and edge.on < ON else amplitude(edge.level_db)


def _known_or(value: float | Unknown, otherwise: float) -> float:
    return otherwise if isinstance(value, Unknown) else value


def _panned(pan: Floats, mono: NDArray[np.bool_], laws: Laws) -> NDArray[np.float64]:
    """Pan matrices (N, 2, 2) of strips or sends, some of them mono."""
    import numpy as np

    return np.asarray(np.where(mono[:, None, None], pan_matrix(pan, 1, laws), pan_matrix(pan, 2, laws)))
