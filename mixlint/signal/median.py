"""The middle of some values, without what numpy's own function loads.

``np.median`` imports ``numpy.ma`` on its first call, which takes longer than all the medians of a review.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Collection

import numpy as np
from numpy.typing import ArrayLike


def median(values: ArrayLike) -> float:
    """The median: the middle value, or the mean of the middle two.

    Args:
        values: at least one finite number, in any order.

    Raises:
        ValueError: there are no values.
    """
    ordered = np.sort(np.asarray(values, dtype=np.float64), axis=None)
    if not ordered.size:
        raise ValueError("no values have no middle")
    return float((ordered[(ordered.size - 1) // 2] + ordered[ordered.size // 2]) / 2.0)


class Ordered:
    """Values in order, of which the median is asked many times with a few of them left out each time.

    Args:
        values: finite numbers, in any order; there may be none.
    """

    def __init__(self, values: Collection[float]) -> None:
        self._values = sorted(values)

    def __len__(self) -> int:
        return len(self._values)

    def median_without(self, left_out: Collection[float]) -> float | None:
        """The median of the values but for some, in a time that grows with those and not with the values.

        Args:
            left_out: values that are among these, each as often as it is to be left out.

        Returns:
            The middle value, or the mean of the middle two; None where no value is left.

        Raises:
            ValueError: one of them is not among the values, or not so often.
        """
        gone: list[int] = []
        for value, times in Counter(left_out).items():
            first = bisect_left(self._values, value)
            places = range(first, first + times)
            if places[-1] >= len(self._values) or self._values[places[-1]] != value:
                raise ValueError(f"{value} is not among the values {times} times")
            gone.extend(places)
        gone.sort()
        left = len(self._values) - len(gone)
        if not left:
            return None
        return (self._kept((left - 1) // 2, gone) + self._kept(left // 2, gone)) / 2.0

    def _kept(self, place: int, gone: list[int]) -> float:
        """The value at a place among those that are kept."""
        for one in gone:
            if one > place:
                break
            place += 1
        return self._values[place]
