"""Labels kept apart, and lines through fewer points: numbers only."""

from __future__ import annotations

from collections.abc import Sequence


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


def straightened(points: Sequence[tuple[float, float]], within: float) -> list[tuple[float, float]]:
    """A line through fewer points, none of the others further from it than ``within`` (Douglas & Peucker 1973).

    Args:
        points: from left to right.
        within: the distance straight up or down.
    """
    kept, open_ = {0, len(points) - 1}, [(0, len(points) - 1)]
    while open_:
        first, last = open_.pop()
        (x1, y1), (x2, y2) = points[first], points[last]
        slope = (y2 - y1) / (x2 - x1) if x2 > x1 else 0.0
        off = [abs(points[at][1] - y1 - slope * (points[at][0] - x1)) for at in range(first + 1, last)]
        if off and max(off) > within:
            middle = first + 1 + off.index(max(off))
            kept.add(middle)
            open_ += [(first, middle), (middle, last)]
    return [points[at] for at in sorted(kept)]
