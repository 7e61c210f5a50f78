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
    edges: Sequence[Edge], channels: Mapping[str, Channel], legs: Mapping[str, int], laws: Laws, times: Floats | None
) -> list[NDArray[np.float64]]:
    """The gain of each edge as matrices (T or 1, 2, 2), send level and send pan included.

    Into a mono strip a send pan has no place to act: the strip folds what it is sent.
    """
    import numpy as np

    gain = np.array([_gain_now(e, channels[e.source]) for e in edges])
    pan = np.array([standing(channels[e.source], f"send:{e.send}:pan", e.pan, 0.0) for e in edges])
    mono = np.array([e.tap == "pre" and legs[e.source] == 1 for e in edges], dtype=bool)
    plain = np.array([e.send is None or legs[e.to] == 1 for e in edges], dtype=bool)
    still = np.where(plain[:, None, None], np.eye(2), _panned(pan, mono, laws)) * gain[:, None, None]
    found = []
    for k, edge in enumerate(edges):
        lanes = channels[edge.source].automation
        if times is None or edge.send is None or not any(a.target.startswith(f"send:{edge.send}:") for a in lanes):
            found.append(still[k : k + 1])
        else:
            found.append(_moving_edge(edge, channels[edge.source], bool(plain[k]), bool(mono[k]), laws, times))
    return found


def _gain_now(edge: Edge, channel: Channel) -> float:
    """The gain of an edge as it stands now: 0 for a send that only automation switches on."""
    if edge.send is None:
        return 1.0
    if standing(channel, f"send:{edge.send}:on", channel.sends[edge.send].on, 1.0) < 0.5:
        return 0.0
    return amplitude(standing(channel, f"send:{edge.send}:level", edge.level_db, 0.0))


def _moving_edge(
    edge: Edge, channel: Channel, plain: bool, mono: bool, laws: Laws, times: Floats
) -> NDArray[np.float64]:
    import numpy as np

    send = channel.sends[edge.send or 0]
    level = curve(channel, f"send:{edge.send}:level", amplitude(edge.level_db), times)
    on = curve(channel, f"send:{edge.send}:on", float(send.on is not False), times)
    pan = curve(channel, f"send:{edge.send}:pan", edge.pan if is_known(edge.pan) else 0.0, times)
    matrix = np.eye(2)[None] if plain else pan_matrix(pan, 1 if mono else 2, laws)
    return np.asarray(matrix * (level * (on >= 0.5))[:, None, None])


def _panned(pan: Floats, mono: NDArray[np.bool_], laws: Laws) -> NDArray[np.float64]:
    """Pan matrices (N, 2, 2) of strips or sends, some of them mono."""
    import numpy as np

    return np.asarray(np.where(mono[:, None, None], pan_matrix(pan, 1, laws), pan_matrix(pan, 2, laws)))
