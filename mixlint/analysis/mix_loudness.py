"""How loud the mix is: its programme loudness, and its loudness over time, as the energies of its parts add up.

ITU-R BS.1770-5 and EBU Tech 3341 and 3342, on the grid of half a second instead of overlapping blocks of 0.4 s. Parts
are taken to have nothing in common, so that two recordings of one sound come out up to 3 dB too low; what processors
take or add by level is left out. That makes it a figure for a mix without them, good to about 1 LU.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import time_grid
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.energy import energy_at_mix
from mixlint.session import Unknown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

SHORT_TERM_S: Final = 3.0
"""The window of short-term loudness (EBU Tech 3341), seconds."""


class MixLoudness(NamedTuple):
    """The loudness of the mix.

    Args:
        integrated_lufs: over the song, gated.
        short_term_lufs: the highest in three seconds.
        span: those, seconds of the song.
        range_lu: the loudness range (EBU Tech 3342).
    """

    integrated_lufs: float
    short_term_lufs: float
    span: tuple[float, float]
    range_lu: float


class ShortTerm(NamedTuple):
    """The energy of the mix over time.

    Args:
        steps: (T,) energy of both sides in each step of the time grid.
        starts_s: (W,) where each window of three seconds begins.
        energy: (W,) the mean energy in it.
    """

    steps: Floats
    starts_s: Floats
    energy: Floats


@per_session
def short_term(context: SessionContext) -> ShortTerm | Unknown:
    """The short-term energy of the mix; Unknown where a part is not measured."""
    import numpy as np

    from mixlint.signal.loudness import sliding_mean

    parts = energy_at_mix(context)
    if isinstance(parts, Unknown):
        return parts
    if not parts or not all(part.measured for part in parts):
        return Unknown(unknown="not every part is measured", settle="watch the meter of the mix bus")
    edges = time_grid(context)
    steps = np.sum([part.left + part.right for part in parts], axis=0)
    energy = sliding_mean(steps, _width(context))
    return ShortTerm(steps, edges[: energy.size], energy)


def _width(context: SessionContext) -> int:
    """Steps of the time grid in a window."""
    edges = time_grid(context)
    return max(1, round(SHORT_TERM_S / float(edges[1] - edges[0])))


@per_session
def mix_loudness(context: SessionContext) -> MixLoudness | Unknown:
    """The loudness of the mix; Unknown where a part is not measured or the song is shorter than three seconds."""
    from mixlint.signal.loudness import integrated, loudness, loudness_range

    found = short_term(context)
    if isinstance(found, Unknown):
        return found
    edges, short, whole = time_grid(context), found.energy, integrated(found.steps)
    if not short.size or whole is None:
        return Unknown(unknown="nothing is loud and long enough to have a loudness")
    at = int(short.argmax())
    span = (float(edges[at]), float(edges[at + _width(context)]))
    return MixLoudness(whole, float(loudness(short[at])), span, loudness_range(short) or 0.0)
