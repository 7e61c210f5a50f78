"""Where a gate cut into a sound: it is loud, and two hundredths of a second later there is nothing; or the reverse."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

WITHIN: Final = 2
"""Cells of a hundredth of a second from sound to silence: a gate shuts in some milliseconds, a room in a tenth of a
second, a consonant leaves the voice to go on in the room."""

STAYS: Final = 3
QUIET_DB: Final = -60.0
SILENT_DB: Final = -75.0
LEAST_CELLS: Final = 50


def chops(peak: Floats, drop_db: float, under_db: float) -> tuple[list[int], list[int]]:
    """The cells with which a sound breaks off, and those with which it breaks in.

    Args:
        peak: (cells,) highest samples, dBFS.
        drop_db: by how much it falls at once, to −60 dBFS and less.
        under_db: how far under the loudest cells it may lie: an end that has died away further is let go.
    """
    sounds = peak > SILENT_DB
    if int(sounds.sum()) < LEAST_CELLS:
        return [], []
    loud = float(np.quantile(peak[sounds], 0.95)) - under_db
    return _ends(peak, loud, drop_db), sorted(peak.size - 1 - at for at in _ends(peak[::-1], loud, drop_db))


def _ends(peak: Floats, loud: float, drop_db: float) -> list[int]:
    windows = np.lib.stride_tricks.sliding_window_view(peak, STAYS).max(axis=1)[WITHIN:]
    here = peak[: windows.size]
    found = np.flatnonzero((here > loud) & (windows < QUIET_DB) & (windows < here - drop_db))
    return [int(at) for number, at in enumerate(found) if number + 1 == found.size or found[number + 1] - at > STAYS]
