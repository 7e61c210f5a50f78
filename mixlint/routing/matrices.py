"""All strips and all edges as 2×2 matrices at once.

What no automation moves is computed in one batch for the whole session; only what moves is computed per time.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from mixlint.routing.strips import Laws, amplitude, curve, fader_gain, open_now, pan_matrix, standing, unmuted
from mixlint.routing.wiring import Edge
from mixlint.session import Channel, is_known

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.routing.strips import Floats


@dataclass(frozen=True, slots=True)
class Strip:
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
) -> list[Strip]:
    """Fader and pan of each channel."""
    import numpy as np

    unmuted_now = np.array([float(open_now(c)) for c in channels])
    gain = np.array([amplitude(standing(c, "fader", c.fader_db, 0.0)) for c in channels]) * unmuted_now
    pan = np.array([standing(c, "pan", c.pan, 0.0) for c in channels])
    mono = np.array([legs[c.id] == 1 for c in channels], dtype=bool)
    still = _panned(pan, mono, laws)
    found = []
    for k, channel in enumerate(channels):
        targets = {lane.target for lane in channel.automation} if times is not None else set()
        level, place, opened = gain[k : k + 1], still[k : k + 1], unmuted_now[k : k + 1]
        if targets & {"fader", "mute"}:
            level = fader_gain(channel, times)
        if "mute" in targets:
            opened = unmuted(channel, times)
        if "pan" in targets:
            place = pan_matrix(curve(channel, "pan", float(pan[k]), times), legs[channel.id], laws)
        found.append(Strip(level, place, opened))
    return found


def edge_matrices(
    edges: Sequence[Edge], channels: Mapping[str, Channel], legs: Mapping[str, int], laws: Laws
) -> dict[int, NDArray[np.float64]]:
    """Edge number → its gain as it stands now (1, 2, 2), send level and send pan included.

    Into a mono strip a send pan has no place to act: the strip folds what it is sent.
    """
    import numpy as np

    if not edges:
        return {}
    gain = np.array([_gain_now(e, channels[e.source]) for e in edges])
    pan = np.array([_pan_now(e, channels[e.source]) for e in edges])
    mono = np.array([_is_mono(e, legs) for e in edges], dtype=bool)
    plain = np.array([_is_plain(e, legs) for e in edges], dtype=bool)
    still = np.where(plain[:, None, None], np.eye(2), _panned(pan, mono, laws)) * gain[:, None, None]
    return {edge.number: still[k : k + 1] for k, edge in enumerate(edges)}


def moving_edges(
    edges: Sequence[Edge], channels: Mapping[str, Channel], legs: Mapping[str, int], laws: Laws, times: Floats
) -> dict[int, NDArray[np.float64]]:
    """Edge number → its gain at ``times`` (T, 2, 2), for the edges that automation holds."""
    import numpy as np

    found = {}
    for edge in edges:
        channel, what = channels[edge.source], f"send:{edge.send}:"
        if edge.send is None or not any(lane.target.startswith(what) for lane in channel.automation):
            continue
        level = curve(channel, f"{what}level", amplitude(edge.level_db), times)
        on = curve(channel, f"{what}on", float(channel.sends[edge.send].on is not False), times)
        pan = curve(channel, f"{what}pan", edge.pan if is_known(edge.pan) else 0.0, times)
        plain = _is_plain(edge, legs)
        matrix = np.eye(2)[None] if plain else pan_matrix(pan, 1 if _is_mono(edge, legs) else 2, laws)
        found[edge.number] = np.asarray(matrix * (level * (on >= 0.5))[:, None, None])
    return found


def _is_mono(edge: Edge, legs: Mapping[str, int]) -> bool:
    """True where the send pan acts on one leg: taken before the pan of a mono strip."""
    return edge.tap == "pre" and legs[edge.source] == 1


def _is_plain(edge: Edge, legs: Mapping[str, int]) -> bool:
    """True where no send pan acts."""
    return edge.send is None or legs[edge.to] == 1


def _gain_now(edge: Edge, channel: Channel) -> float:
    """The gain of an edge as it stands now: 0 for a send that only automation switches on."""
    if edge.send is None:
        return 1.0
    on, level = channel.sends[edge.send].on, edge.level_db
    if on is not True and standing(channel, f"send:{edge.send}:on", on, 1.0) < 0.5:
        return 0.0
    return amplitude(level if is_known(level) else standing(channel, f"send:{edge.send}:level", level, 0.0))


def _pan_now(edge: Edge, channel: Channel) -> float:
    return edge.pan if is_known(edge.pan) else standing(channel, f"send:{edge.send}:pan", edge.pan, 0.0)


def _panned(pan: Floats, mono: NDArray[np.bool_], laws: Laws) -> NDArray[np.float64]:
    """Pan matrices (N, 2, 2) of strips or sends, some of them mono."""
    import numpy as np

    return np.asarray(np.where(mono[:, None, None], pan_matrix(pan, 1, laws), pan_matrix(pan, 2, laws)))
