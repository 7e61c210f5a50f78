"""Runs of true values in a row of switches, and places that lie close together."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def runs(on: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """The first and the last index of each run of true values in ``on`` (T,), in order."""
    turns = np.flatnonzero(np.diff(np.concatenate([[0], on.astype(np.int8), [0]])))
    return [(int(start), int(end) - 1) for start, end in zip(turns[::2], turns[1::2], strict=True)]


def groups(at: NDArray[np.int64], apart: int = 1) -> list[NDArray[np.int64]]:
    """Rising places (n,) split where the next lies more than ``apart`` further on; none for none."""
    return list(np.split(at, np.flatnonzero(np.diff(at) > apart) + 1)) if at.size else []
