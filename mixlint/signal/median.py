"""The middle of some values, without what numpy's own function loads.

``np.median`` imports ``numpy.ma`` on its first call, which takes longer than all the medians of a review.
"""

from __future__ import annotations

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
