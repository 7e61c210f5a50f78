"""Stereo: correlation, mid and side, what a mono fold loses, and the energy left and right over time.

All of it follows from three mean squares of a stretch: E[L²], E[R²] and E[LR] (``Moments``), so that a long file is
read once, in blocks. Levels are dB; −200 is silence.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mixlint.signal.decibel import FLOOR_DB, power_to_db

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Moments:
    """Mean squares of a stretch: left E[L²], right E[R²] and the product E[LR]; full scale is 1.0."""

    left: float
    right: float
    product: float

    @property
    def correlation(self) -> float | None:
        """E[LR]/√(E[L²]E[R²]): +1 identical, 0 unrelated, −1 inverted. None when a side is silent: then it has none."""
        if power_to_db(self.left) <= FLOOR_DB or power_to_db(self.right) <= FLOOR_DB:
            return None
        return max(-1.0, min(1.0, self.product / math.sqrt(self.left * self.right)))

    @property
    def mono_loss_db(self) -> float:
        """Level of the fold 0.5 (L + R) re the mean power of the legs: 10 log10((1 + 2E[LR]/(E[L²] + E[R²]))/2).

        0 for two equal legs, −3.01 for unrelated legs of any level or a silent side, −200 when the fold cancels.
        A silent pair loses nothing: 0.
        """
        both = self.left + self.right
        if power_to_db(both) <= FLOOR_DB:
            return 0.0
        return power_to_db((1.0 + 2.0 * self.product / both) / 2.0)

    @property
    def level_difference_db(self) -> float:
        """Left minus right in dB; positive is heavier on the left."""
        return power_to_db(self.left) - power_to_db(self.right)

    @property
    def width_db(self) -> float:
        """Side over mid in dB, with M = (L + R)/2 and S = (L − R)/2: −200 for dual mono, +200 for an inverted pair."""
        mid = power_to_db((self.left + self.right + 2.0 * self.product) / 4.0)
        side = power_to_db((self.left + self.right - 2.0 * self.product) / 4.0)
        return max(FLOOR_DB, min(-FLOOR_DB, side - mid))


def _pair(samples: ArrayLike) -> NDArray[np.floating]:
    pair = np.asarray(samples)
    if pair.ndim != 2 or pair.shape[0] != 2:
        raise ValueError("stereo samples have the shape (2, n)")
    if not np.isfinite(pair).all():
        raise ValueError("samples must be finite numbers")
    return pair


def moments(samples: ArrayLike) -> Moments:
    """The mean squares of stereo samples of shape (2, n); zeros for no samples."""
    left, right = _pair(samples).astype(np.float64)
    if left.size == 0:
        return Moments(0.0, 0.0, 0.0)
    n = left.size
    return Moments(_product(left, left) / n, _product(right, right) / n, _product(left, right) / n)


def _product(a: Floats, b: Floats) -> float:
    """Σ a b. Not ``a @ b``: that wakes a thread for every core, which costs more than it gives on shared cores."""
    return float(np.einsum("i,i->", a, b))


def correlation(samples: ArrayLike) -> float | None:
    """Correlation −1 … +1 of stereo samples (2, n) at lag 0; None when a side is silent."""
    return moments(samples).correlation


def mono_loss_db(samples: ArrayLike) -> float:
    """What the fold 0.5 (L + R) of stereo samples (2, n) loses against the mean power of its legs, dB (0 or less)."""
    return moments(samples).mono_loss_db


def mid_side(samples: ArrayLike) -> Floats:
    """Mid (L + R)/2 and side (L − R)/2 of stereo samples (2, n), as (2, n)."""
    left, right = _pair(samples).astype(np.float64)
    return np.stack([(left + right) / 2.0, (left - right) / 2.0])


def left_right(mid_and_side: ArrayLike) -> Floats:
    """Back from mid and side (2, n) to left M + S and right M − S (2, n)."""
    mid, side = _pair(mid_and_side).astype(np.float64)
    return np.stack([mid + side, mid - side])


@dataclass(frozen=True, slots=True)
class BlockMoments:
    """Mean squares per block, arrays of shape (blocks,): E[L²], E[R²], E[LR]; full scale is 1.0."""

    left: Floats
    right: Floats
    product: Floats

    @property
    def level_difference_db(self) -> Floats:
        """Left minus right in dB per block; 0 where both are silent, ±200 at most."""
        return power_to_db(self.left) - power_to_db(self.right)

    @property
    def correlation(self) -> tuple[Floats, NDArray[np.bool_]]:
        """Correlation per block, and where it exists: it is 0 and False where a side is silent."""
        floor = 10.0 ** (FLOOR_DB / 10.0)
        there = (self.left > floor) & (self.right > floor)
        root = np.sqrt(np.where(there, self.left * self.right, 1.0))
        return np.where(there, np.clip(self.product / root, -1.0, 1.0), 0.0), there

    @property
    def whole(self) -> Moments:
        """The blocks taken together."""
        if self.left.size == 0:
            return Moments(0.0, 0.0, 0.0)
        return Moments(float(self.left.mean()), float(self.right.mean()), float(self.product.mean()))


class StereoMeter:
    """Measures a stereo signal fed in pieces: whole moments, and moments of successive blocks.

    Args:
        fs: sample rate in Hz.
        block_s: length of a block in seconds; blocks follow each other without overlap.
    """

    def __init__(self, fs: float, block_s: float = 0.4) -> None:
        self._size = max(1, round(fs * block_s))
        self._rest = np.zeros((2, 0))
        self._blocks: list[Floats] = []
        self._sums = np.zeros(3)
        self._n = 0

    def feed(self, samples: ArrayLike) -> None:
        """Take the next samples, shape (2, n).

        Raises:
            ValueError: another shape, or a sample that is infinite or not a number.
        """
        pair = _pair(samples).astype(np.float64)
        self._n += pair.shape[1]
        self._sums += [_product(pair[0], pair[0]), _product(pair[1], pair[1]), _product(pair[0], pair[1])]
        pair = np.concatenate([self._rest, pair], axis=1)
        whole = pair.shape[1] // self._size
        self._rest = pair[:, whole * self._size :].copy()
        left, right = pair[:, : whole * self._size].reshape(2, whole, self._size)
        self._blocks.append(np.stack([(left * left).mean(1), (right * right).mean(1), (left * right).mean(1)]))

    def whole(self) -> Moments:
        """Moments of everything fed so far."""
        left, right, product = (self._sums / max(self._n, 1)).tolist()
        return Moments(left, right, product)

    def blocks(self) -> BlockMoments:
        """Moments of the full blocks so far; a last part shorter than a block is left out."""
        left, right, product = np.concatenate([np.zeros((3, 0)), *self._blocks], axis=1)
        return BlockMoments(left, right, product)


def level_difference_db(left: ArrayLike, right: ArrayLike) -> Floats:
    """Left minus right in dB of two arrays of energies of one shape; 0 where both are silent."""
    first = np.atleast_1d(np.asarray(left, dtype=np.float64))
    second = np.atleast_1d(np.asarray(right, dtype=np.float64))
    return power_to_db(first) - power_to_db(second)
