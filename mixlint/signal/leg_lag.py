"""How one leg of a pair follows the other: what they share, when, and with which polarity."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

FARTHEST_S: Final = 0.04


def leg_lag(left: NDArray[np.float32], right: NDArray[np.float32], fs: float) -> tuple[float, float]:
    """The lag at which two legs (n,) are most alike.

    Returns:
        By how many samples the right one is later, and the normalized correlation there, −1 to 1; (0, 0) for silence.
    """
    size = 1 << (2 * left.size - 1).bit_length()
    first, second = np.fft.rfft(left, size), np.fft.rfft(right, size)
    energy = float(
        np.einsum("n,n->", left, left, dtype=np.float64) * np.einsum("n,n->", right, right, dtype=np.float64)
    )
    if energy <= 0.0:
        return 0.0, 0.0
    both = np.fft.irfft(second * first.conj(), size)
    reach = min(left.size - 1, round(FARTHEST_S * fs))
    near = np.concatenate((both[-reach:], both[: reach + 1])) / np.sqrt(energy)
    # The farther apart, the less of the two there is in common to add up.
    near /= 1.0 - np.abs(np.arange(-reach, reach + 1)) / left.size
    best = int(np.abs(near).argmax())
    return float(best - reach), float(np.clip(near[best], -1.0, 1.0))
