"""Runs of true values in a row of switches."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def runs(on: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """The first and the last index of each run of true values in ``on`` (T,), in order."""
    turns = np.flatnonzero(np.diff(np.concatenate([[0], on.astype(np.int8), [0]])))
    return [(int(start), int(end) - 1) for start, end in zip(turns[::2], turns[1::2], strict=True)]
