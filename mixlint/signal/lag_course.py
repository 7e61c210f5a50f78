"""How the delay between two signals runs through a song: steady, with a step where something was moved, or drifting."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from mixlint.signal.common_sound import NEAR_S, Seen
from mixlint.signal.median import median

Floats = NDArray[np.float64]

LEAST_EACH: Final = 3
"""So many seconds have to agree before and after a step: two can do so by chance."""

CLEAR: Final = 6.0
"""A second counts where its best delay stands so far out of all others, in times their root mean square."""

STRONG: Final = 0.1
FASTEST: Final = 5e-4
"""Two clocks differ by no more than half a thousandth."""


class Course(NamedTuple):
    """A delay that changes.

    Args:
        before_s, after_s: the delay at first and at last, seconds.
        at_s: from when on it is another; for a drift, from where it was followed.
        drifts: it changes evenly, as that of two clocks does.
        to_s: until when it was followed.
    """

    before_s: float
    after_s: float
    at_s: float
    drifts: bool
    to_s: float


def course(seen: Sequence[Seen]) -> Course | None:
    """How the delay changes; None where it is steady, or nothing clear can be said.

    Args:
        seen: what each second shows by itself, in order of time.
    """
    clear = [one for one in seen if one.stands_out >= CLEAR and one.strength >= STRONG]
    if len(clear) < 2 * LEAST_EACH or len(clear) < 0.6 * len(seen):
        return None
    lags, times = np.array([one.lag_s for one in clear]), np.array([one.at_s for one in clear])
    if float((np.abs(lags - median(lags)) <= NEAR_S / 2.0).mean()) >= 0.8:
        return None
    for at in range(LEAST_EACH, len(clear) - LEAST_EACH + 1):
        parts = (lags[:at], lags[at:])
        before, after = (median(part) for part in parts)
        steady = [np.abs(part - middle) <= NEAR_S / 2.0 for part, middle in zip(parts, (before, after), strict=True)]
        apart = abs(after - before) > NEAR_S and all(float(part.mean()) >= 0.85 for part in steady)
        if apart and steady[0][-1] and steady[1][0]:
            return Course(before, after, float(times[at]), False, float(times[-1]))
    slope, start = _line(times, lags)
    on = np.abs(lags - start - slope * times) <= NEAR_S / 2.0
    if float(on.mean()) < 0.8 or abs(slope) > FASTEST:
        return None
    first, last = start + slope * float(times[0]), start + slope * float(times[-1])
    return Course(first, last, float(times[0]), True, float(times[-1])) if abs(last - first) > NEAR_S else None


def _line(times: Floats, lags: Floats) -> tuple[float, float]:
    """The slope and the value at zero of the middle line through some points (Theil 1950, Sen 1968)."""
    one, other = np.triu_indices(times.size, 1)
    slope = median((lags[other] - lags[one]) / (times[other] - times[one]))
    return slope, median(lags - slope * times)
