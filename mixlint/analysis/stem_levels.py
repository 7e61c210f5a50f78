"""At which gain stems are in the print of their mix: what all have in common, and stretch by stretch."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import log10
from typing import TYPE_CHECKING, Final

from mixlint.media.stem_reading import StemAt

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.signal.sum_fit import Products, SumFit

ABSENT: Final = 0.1
"""A stem whose gain in the print is under this is not in it: a definition, 20 dB."""

LOCAL_S: Final = 4.0
"""How long a stretch is in which a stem is held against the print by itself."""

_PAN_LAWS_DB: Final = (0.0, 3.01, 4.5, 6.02)
"""How much lower a desk lays a part of one leg on two."""


def common_gains(
    fitted: SumFit, found: Products, placed: Sequence[StemAt], one_leg: Sequence[bool]
) -> tuple[float, float]:
    """The gain that the stems have in common: of those of two legs or more, and of those of one.

    A desk lays a mono stem on two legs by its pan law, so that all of those may stand lower by the same. Where a third
    of the stems stand in the print as they are, nothing is common but unity.
    """
    import numpy as np

    energy = np.einsum("bii->i", found.own) * fitted.gains**2
    usable = (np.abs(fitted.gains) > ABSENT) & (np.abs(fitted.gains) > 4.0 * fitted.spread)
    mono = np.asarray(one_leg)
    levels = np.abs(fitted.gains) * np.array([of_sides(stem) for stem in placed])

    def middle(those: NDArray[np.bool_]) -> float | None:
        picked = np.flatnonzero(usable & those)
        if picked.size == 0:
            return None
        gains = levels[picked]
        if np.count_nonzero(np.abs(gains - 1.0) < 0.01) * 3 >= picked.size:
            return 1.0
        order = np.argsort(gains)
        weight = np.cumsum(np.sqrt(energy[picked][order]))
        return float(gains[order][np.searchsorted(weight, weight[-1] / 2.0)])

    wide, narrow = middle(~mono), middle(mono)
    if wide is None or narrow is None:
        one = wide or narrow or 1.0
        return one, one
    apart = abs(20.0 * log10(narrow / wide))
    return (wide, narrow) if min(abs(law - apart) for law in _PAN_LAWS_DB) < 0.15 else (wide, wide)


def of_sides(stem: StemAt) -> float:
    """How loud a stem of one leg is on the print's two, relative to one that stands on both as it is."""
    return float(((stem.sides[0] ** 2 + stem.sides[1] ** 2) / 2.0) ** 0.5)


def in_stretches(at: int, found: Products, fitted: SumFit) -> tuple[tuple[tuple[float, float], ...], float]:
    """The stretches in which a stem sounds and is not in the print, though it is elsewhere; and for how long it is.

    In each stretch all gains are fitted anew. A stretch counts where the stem is loud enough for its gain to be told.
    """
    import numpy as np

    gain = float(fitted.gains[at])
    if abs(gain) < ABSENT:
        return (), 0.0
    size = max(1, round(LOCAL_S / found.block_s))
    total = float(found.own[:, at, at].sum())
    alone = np.array([one not in fitted.copies for one in range(found.own.shape[1])])
    off: list[tuple[float, float]] = []
    matched = 0.0
    for start in range(0, found.whole.size, size):
        piece = slice(start, start + size)
        own, shared = found.own[piece].sum(axis=0), found.shared[piece].sum(axis=0)
        here = float(own[at, at])
        if here < 1e-3 * total * size / found.whole.size:
            continue
        scale = np.sqrt(np.maximum(np.diag(own), 1e-30))
        even = own / np.outer(scale, scale)
        kept = np.flatnonzero((np.diag(own) > 1e-9 * here) & alone)
        inverse = np.linalg.pinv(even[np.ix_(kept, kept)], rcond=1e-8)
        local = (inverse @ (shared[kept] / scale[kept])) / scale[kept]
        mine = int(np.flatnonzero(kept == at)[0])
        left = max(float(found.whole[piece].sum()) - float(local @ shared[kept]), 0.0)
        error = np.sqrt(max(float(inverse[mine, mine]), 0.0) * left / (400.0 * LOCAL_S)) / scale[at]
        if error > 0.15 * abs(gain):
            continue
        seconds = (min(start + size, found.whole.size) - start) * found.block_s
        if abs(local[mine]) < 0.5 * abs(gain):
            off.append((start * found.block_s, start * found.block_s + seconds))
        else:
            matched += seconds
    return _joined(off), matched


def _joined(spans: list[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """Stretches that follow each other, as one."""
    if not spans:
        return ()
    breaks = [at + 1 for at, (one, other) in enumerate(pairwise(spans)) if other[0] > one[1] + 1e-6]
    edges = [0, *breaks, len(spans)]
    return tuple((spans[a][0], spans[b - 1][1]) for a, b in pairwise(edges))
