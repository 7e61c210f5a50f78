"""Short sounds that stand alone and come at one distance: a metronome in a microphone, a digital clock."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

STANDS_OUT_DB: Final = 6.0
"""A tick rises by so much over what was there 20 to 80 ms before, and has fallen as far 60 to 120 ms later."""

LOWEST_DB: Final = -65.0
SHORTEST_S: Final = 0.25
LONGEST_S: Final = 1.5
"""Distances of 40 to 240 a minute, which is what metronomes go through."""

NEAR_S: Final = 0.012
"""Peaks are known to 10 ms, so that a tick in time lies this near to its place."""

LEAST: Final = 5


class Regular(NamedTuple):
    """Ticks that come at one distance.

    Args:
        every_s: the distance, seconds.
        first_s: when the first comes, and ``last_s`` the last.
        places: on how many of its places there is one.
        share: of all ticks, how many are on their places, 0 to 1.
        jitter_s: standard deviation of how far they lie from their places.
        level_db: their median level, dBFS.
        spread_db: standard deviation of their levels.
    """

    every_s: float
    first_s: float
    last_s: float
    places: int
    share: float
    jitter_s: float
    level_db: float
    spread_db: float


def ticks(peaks: NDArray[np.float32], cell_s: float) -> Floats:
    """Find short sounds that stand alone.

    Args:
        peaks: (cells,) highest samples of cells of about 10 ms.
        cell_s: the length of a cell.

    Returns:
        (n, 2): seconds, dBFS.
    """
    level = 20.0 * np.log10(np.maximum(peaks.astype(np.float64), 1e-6))
    before, after = 8, 12
    if level.size <= before + after:
        return np.zeros((0, 2))
    windows = np.lib.stride_tricks.sliding_window_view(level, before + after)
    here = windows[:, before]
    earlier = windows[:, :6].max(axis=1)
    later = np.median(windows[:, before + 6 :], axis=1)
    top = (here >= windows[:, before - 1]) & (here >= windows[:, before + 1]) & (here > LOWEST_DB)
    found = top & (here - earlier >= STANDS_OUT_DB) & (here - later >= STANDS_OUT_DB)
    at = np.flatnonzero(found)
    return np.stack([(at + before) * cell_s, here[at]], axis=1)


def regular(found: Floats) -> Regular | None:
    """The one distance at which most of some ticks (n, 2) come; None where fewer than five lie on it."""
    times = found[:, 0]
    if times.size < LEAST:
        return None
    apart = (times[None, :] - times[:, None]).ravel()
    apart = apart[(apart > SHORTEST_S) & (apart < LONGEST_S)]
    best: Regular | None = None
    worth = 0.0
    for distance in np.unique(np.round(apart, 2)):
        for every in (distance, distance / 2.0, distance / 3.0):
            one = _on(found, float(every)) if every >= SHORTEST_S else None
            if one is not None and _worth(one) > worth:
                best, worth = one, _worth(one)
    return best


def _worth(one: Regular) -> float:
    """The more ticks lie on their places, and the fewer places stay empty, the likelier the distance.

    Half a distance has every second place empty: that alone decides between the two.
    """
    filled = one.places / (1.0 + (one.last_s - one.first_s) / one.every_s)
    return one.places * one.share * (1.0 - one.jitter_s / NEAR_S) * float(filled**0.25)


def _on(found: Floats, every: float) -> Regular | None:
    """The ticks that lie on places ``every`` seconds apart, the distance fitted to them."""
    times = found[:, 0]
    first = _phase(times, every)
    for width in (0.02, NEAR_S):
        near = np.abs(_off(times, every, first)) < width
        if np.count_nonzero(near) < LEAST:
            return None
        places = np.round((times[near] - first) / every)
        if places.min() == places.max():
            return None
        every, first = np.polynomial.Polynomial.fit(places, times[near], 1).convert().coef[::-1].tolist()
    near = np.abs(_off(times, every, first)) < NEAR_S
    places = np.unique(np.round((times[near] - first) / every))
    if places.size < LEAST:
        return None
    on = found[near]
    return Regular(
        every_s=every,
        first_s=float(on[0, 0]),
        last_s=float(on[-1, 0]),
        places=int(places.size),
        share=float(np.count_nonzero(near)) / times.size,
        jitter_s=float(np.std(_off(on[:, 0], every, first))),
        level_db=float(np.median(on[:, 1])),
        spread_db=float(np.std(on[:, 1])),
    )


def _off(times: Floats, every: float, first: float) -> Floats:
    return np.asarray((times - first + every / 2.0) % every - every / 2.0)


def _phase(times: Floats, every: float) -> float:
    """Where most ticks stand within a distance."""
    counts, edges = np.histogram(times % every, bins=max(4, int(every / 0.02)), range=(0.0, every))
    most = int(counts.argmax())
    return float(edges[most] + edges[most + 1]) / 2.0
