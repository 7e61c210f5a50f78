"""K-weighted energy of a file that comes in chunks."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


class Weighting:
    """K-weighted mean squares per block, and for two legs the mean product of the weighted legs.

    Args:
        legs: the file's channels.
        rate_hz: samples per second.
        hop: samples in a block.
    """

    def __init__(self, legs: int, rate_hz: int, hop: int) -> None:
        from mixlint.signal.loudness import EnergyMeter

        self._legs = legs
        self._hop = hop
        self._meter = EnergyMeter(legs, rate_hz, hop / rate_hz, product=legs == 2)

    def feed(self, chunk: NDArray[np.float32]) -> None:
        """Take the next chunk (legs, whole blocks)."""
        self._meter.feed(chunk)

    def result(self) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """The energies (legs, blocks) and the mean product (blocks,), which is 0 unless there are two legs."""
        import numpy as np

        rows = self._meter.finish() / self._hop
        if self._legs != 2:
            return rows, np.zeros(rows.shape[1])
        return rows[:2].copy(), rows[2].copy()
