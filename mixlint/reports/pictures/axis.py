"""Scales, ticks and places of labels that several pictures share: numbers only."""

from __future__ import annotations

from collections.abc import Sequence
from math import log


def apart(wishes: Sequence[float], pitch: float, low: float | None = None, high: float | None = None) -> list[float]:
    """Places at least ``pitch`` apart and nearest to rising ``wishes`` in least squares (isotonic regression).

    Args:
        wishes: where each would stand, rising.
        pitch: the least distance of two neighbours.
        low, high: the first stands no lower and the last no higher, where there is room for all; else they run over
            ``high``.
    """
    blocks: list[tuple[float, int]] = []  # mean of wish − row·pitch, and how many rows share it
    for row, wish in enumerate(wishes):
        mean, count = wish - row * pitch, 1
        while blocks and blocks[-1][0] > mean:
            before, many = blocks.pop()
            mean, count = (before * many + mean * count) / (many + count), many + count
        blocks.append((mean, count))
    spread = [mean for mean, count in blocks for _ in range(count)]
    if high is not None:
        spread = [min(one, high - (len(spread) - 1) * pitch) for one in spread]
    if low is not None:
        spread = [max(one, low) for one in spread]
    return [one + row * pitch for row, one in enumerate(spread)]


def on_log(value: float, first: float, last: float, left: float, right: float) -> float:
    """Where a value stands on a logarithmic scale from ``first`` at ``left`` to ``last`` at ``right``."""
    return left + (right - left) * log(value / first) / log(last / first)
