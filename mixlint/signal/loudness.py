"""Loudness: integrated, momentary, short-term and range, of samples fed in pieces or of stored energies.

Sources: ITU-R BS.1770-5 (11/2023), Annex 1 (K-weighting, weights, gates); EBU Tech 3341 (momentary 0.4 s, short-term
3 s); EBU Tech 3342 (loudness range). Loudness is LUFS (the ITU's LKFS), a range LU. ``None`` is the answer where a
quantity does not exist: nothing passes the gates, or the signal is shorter than one window.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mixlint.signal.decibel import FLOOR_DB
from mixlint.signal.dynamics import percentile
from mixlint.signal.k_weighting import KWeighting

Floats = NDArray[np.float64]

OFFSET_DB: Final = -0.691
ABSOLUTE_GATE_LUFS: Final = -70.0
RELATIVE_GATE_LU: Final = -10.0
RANGE_GATE_LU: Final = -20.0
SURROUND_WEIGHT: Final = 1.41

MOMENTARY_S: Final = 0.4
SHORT_TERM_S: Final = 3.0
HOP_S: Final = 0.1
CELL_S: Final = 0.01
"""Energies are kept for cells of 10 ms, so that the momentary maximum of a short sound is found wherever it begins."""


def channel_weights(legs: int) -> tuple[float, ...]:
    """The weight of each leg after BS.1770-5, Table 3, by the usual order of a file's legs.

    One to three legs: 1.0 each. Five: L, R, C, Ls, Rs. Six: L, R, C, LFE, Ls, Rs, the LFE left out. Any other number
    has no order that could be taken for granted, and every leg counts 1.0.
    """
    if legs == 5:
        return (1.0, 1.0, 1.0, SURROUND_WEIGHT, SURROUND_WEIGHT)
    if legs == 6:
        return (1.0, 1.0, 1.0, 0.0, SURROUND_WEIGHT, SURROUND_WEIGHT)
    return (1.0,) * legs


def weighted_sum(energy: ArrayLike, weights: Sequence[float] | None = None) -> Floats:
    """Σ Gi zi: energies (legs, blocks) to (blocks,).

    Args:
        energy: K-weighted mean squares.
        weights: one per leg; ``channel_weights`` when left out.
    """
    table = np.asarray(energy, dtype=np.float64)
    factors = np.asarray(channel_weights(table.shape[0]) if weights is None else weights, dtype=np.float64)
    if table.ndim != 2 or factors.shape != (table.shape[0],):
        raise ValueError("energies have the shape (legs, blocks), with one weight for each leg")
    return np.asarray(factors @ table)


def loudness(energy: ArrayLike) -> Floats:
    """Loudness of weighted energy, −0.691 + 10 log10 z (BS.1770-5, eq. 2), shaped like it; −200 for silence."""
    power = np.maximum(np.asarray(energy, dtype=np.float64), 10.0 ** (FLOOR_DB / 10.0))
    return np.asarray(np.maximum(OFFSET_DB + 10.0 * np.log10(power), FLOOR_DB))


def _gated(energy: Floats, relative_lu: float) -> Floats:
    """The energies strictly above the absolute gate and the gate relative to the mean above that."""
    passed = energy[loudness(energy) > ABSOLUTE_GATE_LUFS]
    if passed.size == 0:
        return passed
    gate = float(loudness(passed.mean())) + relative_lu
    return np.asarray(passed[loudness(passed) > gate])


def integrated(energy: ArrayLike) -> float | None:
    """Integrated loudness of gating blocks (BS.1770-5, eq. 3 to 7).

    Args:
        energy: weighted energy (``weighted_sum``) of blocks of 400 ms overlapping by 75 %, shape (blocks,).

    Returns:
        LUFS; None when no block passes the gates.
    """
    passed = _gated(np.asarray(energy, dtype=np.float64), RELATIVE_GATE_LU)
    return float(loudness(passed.mean())) if passed.size else None


def loudness_range(energy: ArrayLike) -> float | None:
    """Loudness range (EBU Tech 3342, section 3): 95th minus 10th percentile above −70 LUFS and 20 LU under the mean.

    Not meant for less than about a minute of programme (EBU R 128).

    Args:
        energy: weighted energy of windows of 3 s, one every 100 ms, shape (windows,).

    Returns:
        LU; None when no window passes the gates.
    """
    passed = _gated(np.asarray(energy, dtype=np.float64), RANGE_GATE_LU)
    if passed.size == 0:
        return None
    levels = loudness(passed)
    return percentile(levels, 95.0) - percentile(levels, 10.0)


def sliding_mean(energy: ArrayLike, count: int) -> Floats:
    """Mean over every ``count`` neighbours along the last axis: (…, n) to (…, n − count + 1), or (…, 0) if too short.

    Hops of 100 ms become gating blocks with ``count`` = 4 and short-term windows with 30.
    """
    table = np.asarray(energy, dtype=np.float64)
    if count < 1:
        raise ValueError("a mean needs at least one value")
    if table.shape[-1] < count:
        return np.zeros((*table.shape[:-1], 0))
    total = np.concatenate([np.zeros((*table.shape[:-1], 1)), np.cumsum(table, axis=-1)], axis=-1)
    return np.asarray(np.maximum(total[..., count:] - total[..., :-count], 0.0) / count)


class EnergyMeter:
    """K-weighted energy of each leg in successive cells, of samples fed in pieces.

    Args:
        legs: number of legs.
        fs: sample rate in Hz.
        cell_s: length of a cell; its bounds lie on the nearest samples.
    """

    def __init__(self, legs: int, fs: float, cell_s: float = CELL_S) -> None:
        if not fs * cell_s >= 1.0:
            raise ValueError("a cell must hold at least one sample")
        self._filter = KWeighting(legs, fs)
        self._cell = fs * cell_s
        self._sums: list[Floats] = []
        self._cells = 0
        self._at = 0
        self._rest = np.zeros(legs)
        self._table: Floats | None = None

    def bound(self, cell: int) -> int:
        """The sample with which a cell begins."""
        return math.floor(cell * self._cell + 0.5)

    def feed(self, samples: ArrayLike) -> None:
        """Take the next samples, shape (legs, n).

        Raises:
            ValueError: another shape, a sample that is not finite, or the meter is finished.
        """
        if self._table is not None:
            raise ValueError("the meter is finished")
        self._add(self._filter.feed(samples))

    def finish(self) -> Floats:
        """The sum of squares of each full cell, (legs, cells); a last part shorter than a cell is left out."""
        if self._table is None:
            self._add(self._filter.finish())
            self._table = np.concatenate([np.zeros((self._filter.legs, 0)), *self._sums], axis=1)
        return self._table

    def _add(self, weighted: NDArray[np.floating]) -> None:
        count = weighted.shape[1]
        if count == 0:
            return
        last = int((self._at + count + 0.5) / self._cell) + 1
        bounds = np.floor(np.arange(self._cells + 1, last + 1) * self._cell + 0.5).astype(np.int64)
        ends = bounds[bounds <= self._at + count] - self._at  # where a cell ends within these samples
        starts = np.concatenate([[0], ends[ends < count]])
        sums = np.add.reduceat(np.square(weighted, dtype=np.float64), starts, axis=1)
        sums[:, 0] += self._rest
        if starts.size > ends.size:  # the samples go on into a cell that is not full yet
            self._rest = sums[:, -1].copy()
            sums = sums[:, :-1]
        else:
            self._rest = np.zeros(self._filter.legs)
        self._sums.append(sums)
        self._cells += ends.size
        self._at += count

    def windows(self, cells: int, hop: int) -> Floats:
        """Mean squares of windows of ``cells`` cells, one every ``hop`` cells: (legs, windows). Finishes the meter."""
        table = self.finish()
        total = np.concatenate([np.zeros((table.shape[0], 1)), np.cumsum(table, axis=1)], axis=1)
        first = np.arange(0, table.shape[1] - cells + 1, hop)
        samples = np.floor((first + cells) * self._cell + 0.5) - np.floor(first * self._cell + 0.5)
        return np.asarray(np.maximum(total[:, first + cells] - total[:, first], 0.0) / samples)


class LoudnessMeter:
    """Measures the loudness of a programme fed in pieces.

    Feed it, then read the results; the first reading ends the feeding.

    Args:
        legs: number of legs.
        fs: sample rate in Hz.
        weights: one per leg; ``channel_weights`` when left out.
    """

    def __init__(self, legs: int, fs: float, weights: Sequence[float] | None = None) -> None:
        self._weights = channel_weights(legs) if weights is None else tuple(weights)
        if len(self._weights) != legs:
            raise ValueError("there must be one weight for each leg")
        self._meter = EnergyMeter(legs, fs)

    def feed(self, samples: ArrayLike) -> None:
        """Take the next samples, shape (legs, n), full scale 1.0."""
        self._meter.feed(samples)

    def block_energies(self) -> Floats:
        """K-weighted mean squares of each leg, without its weight, in blocks of 400 ms every 100 ms: (legs, blocks)."""
        return self._windows(MOMENTARY_S, HOP_S)

    def integrated(self) -> float | None:
        """Integrated loudness in LUFS (BS.1770-5); None when nothing passes the gates."""
        return integrated(weighted_sum(self.block_energies(), self._weights))

    def momentary(self) -> Floats:
        """Momentary loudness in LUFS, a window of 400 ms every 10 ms (EBU Tech 3341): (windows,)."""
        return loudness(weighted_sum(self._windows(MOMENTARY_S, CELL_S), self._weights))

    def short_term(self) -> Floats:
        """Short-term loudness in LUFS, a window of 3 s every 10 ms (EBU Tech 3341): (windows,)."""
        return loudness(weighted_sum(self._windows(SHORT_TERM_S, CELL_S), self._weights))

    def momentary_max(self) -> float | None:
        """The highest momentary loudness in LUFS; None under 400 ms."""
        levels = self.momentary()
        return float(levels.max()) if levels.size else None

    def short_term_max(self) -> float | None:
        """The highest short-term loudness in LUFS; None under 3 s."""
        levels = self.short_term()
        return float(levels.max()) if levels.size else None

    def range(self) -> float | None:
        """Loudness range in LU (EBU Tech 3342); None when nothing passes the gates or under 3 s."""
        return loudness_range(weighted_sum(self._windows(SHORT_TERM_S, HOP_S), self._weights))

    def _windows(self, length_s: float, hop_s: float) -> Floats:
        return self._meter.windows(round(length_s / CELL_S), round(hop_s / CELL_S))


def block_energies(samples: ArrayLike, fs: float, block_s: float = MOMENTARY_S, hop_s: float = HOP_S) -> Floats:
    """K-weighted mean squares of each leg, block by block; a last block that is not full is left out.

    Args:
        samples: shape (legs, n), full scale 1.0.
        fs: sample rate in Hz.
        block_s: length of a block in seconds, to the millisecond.
        hop_s: from one block to the next in seconds, to the millisecond.

    Returns:
        shape (legs, blocks).

    Raises:
        ValueError: a length under a millisecond, another shape, or samples that are not finite.
    """
    block_ms, hop_ms = round(1000.0 * block_s), round(1000.0 * hop_s)
    if block_ms < 1 or hop_ms < 1:
        raise ValueError("a block and a hop last a millisecond or more")
    cell_ms = math.gcd(block_ms, hop_ms)
    meter = EnergyMeter(np.shape(samples)[0], fs, cell_ms / 1000.0)
    meter.feed(samples)
    return meter.windows(block_ms // cell_ms, hop_ms // cell_ms)
