"""Loudness: K-weighted energy of samples fed in pieces, integrated loudness and loudness range of stored energies.

Source: ITU-R BS.1770-5 (11/2023), Annex 1 (K-weighting, weights, gates); EBU Tech 3342 (range). Loudness is LUFS (the
ITU's LKFS), a range LU. ``None`` is the answer where there is none: nothing passes the gates, or the signal is shorter
than one block.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mixlint.signal.decibel import FLOOR_DB
from mixlint.signal.k_weighting import KWeighting

Floats = NDArray[np.float64]

OFFSET_DB: Final = -0.691
ABSOLUTE_GATE_LUFS: Final = -70.0
RELATIVE_GATE_LU: Final = -10.0
RANGE_GATE_LU: Final = -20.0
SURROUND_WEIGHT: Final = 1.41


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


def passes(energy: Floats, relative_lu: float = RELATIVE_GATE_LU) -> NDArray[np.bool_]:
    """Which energies (n,) lie strictly above the absolute gate and the gate relative to the mean above that."""
    level = loudness(energy)
    above = level > ABSOLUTE_GATE_LUFS
    if not above.any():
        return np.asarray(above)
    return np.asarray(above & (level > float(loudness(energy[above].mean())) + relative_lu))


def _gated(energy: Floats, relative_lu: float) -> Floats:
    return np.asarray(energy[passes(energy, relative_lu)])


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
        energy: weighted energy of windows of 3 s, shape (windows,).

    Returns:
        LU; None when no window passes the gates.
    """
    passed = np.sort(loudness(_gated(np.asarray(energy, dtype=np.float64), RANGE_GATE_LU)))
    if passed.size == 0:
        return None
    # By nearest rank, as in the note of EBU Tech 3342.
    low, high = (int(np.floor((passed.size - 1) * share + 0.5)) for share in (0.10, 0.95))
    return float(passed[high] - passed[low])


def sliding_mean(energy: ArrayLike, count: int) -> Floats:
    """Mean over every ``count`` neighbours along the last axis: (…, n) to (…, n − count + 1), or (…, 0) if too short.

    Hops of 100 ms become gating blocks with ``count`` = 4.
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
        product: of two legs their product is wanted too.
    """

    def __init__(self, legs: int, fs: float, cell_s: float, *, product: bool = False) -> None:
        if not fs * cell_s >= 1.0:
            raise ValueError("a cell must hold at least one sample")
        if product and legs != 2:
            raise ValueError("only two legs have a product")
        self._filter = KWeighting(legs, fs)
        self._product = product
        self._rows = legs + product
        self._cell = fs * cell_s
        self._sums: list[Floats] = []
        self._cells = 0
        self._at = 0
        self._rest = np.zeros(self._rows)
        self._table: Floats | None = None

    def feed(self, samples: ArrayLike) -> None:
        """Take the next samples, shape (legs, n).

        Raises:
            ValueError: another shape, a sample that is not finite, or the meter is finished.
        """
        if self._table is not None:
            raise ValueError("the meter is finished")
        self._add(self._filter.feed(samples))

    def finish(self) -> Floats:
        """The sum of squares of each full cell, (legs, cells); a last part shorter than a cell is left out.

        Where the product was asked for, a third row has the sum of that.
        """
        if self._table is None:
            self._add(self._filter.finish())
            self._table = np.concatenate([np.zeros((self._rows, 0)), *self._sums], axis=1)
        return self._table

    def _add(self, weighted: NDArray[np.floating]) -> None:
        count = weighted.shape[1]
        if count == 0:
            return
        last = int((self._at + count + 0.5) / self._cell) + 1
        bounds = np.floor(np.arange(self._cells + 1, last + 1) * self._cell + 0.5).astype(np.int64)
        ends = bounds[bounds <= self._at + count] - self._at  # where a cell ends within these samples
        starts = np.concatenate([[0], ends[ends < count]])
        terms = np.empty((self._rows, count))
        np.square(weighted, out=terms[: weighted.shape[0]], dtype=np.float64)
        if self._product:
            np.multiply(weighted[0], weighted[1], out=terms[2], dtype=np.float64)
        sums = np.add.reduceat(terms, starts, axis=1)
        sums[:, 0] += self._rest
        if starts.size > ends.size:  # the samples go on into a cell that is not full yet
            self._rest = sums[:, -1].copy()
            sums = sums[:, :-1]
        else:
            self._rest = np.zeros(self._rows)
        self._sums.append(sums)
        self._cells += ends.size
        self._at += count
