"""Clicks: a sample or a few that stand out of all that is around them, and leave no trace behind.

The second difference takes the bass out of a signal and keeps a click: a sample that stands alone by ``a`` shows as
``2 a``. A drum, a pluck or a consonant is loud in it as well, but goes on being loud for milliseconds; a click is over
before the next group of samples, with quiet on both sides. An attack that begins with a click leaves more sound behind
it than there was before, and is left alone.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

GROUP: Final = 16
"""Samples that are looked at as one: a third of a millisecond at 48 kHz."""

AROUND: Final = 9
"""Groups on either side that have to be quiet: 3 ms at 48 kHz, which no struck or plucked sound falls silent in."""

STANDS_OUT: Final = 6.0
"""How many times larger than anything around it. Of 165 recorded sounds four have such a place: vinyl that crackles,
two that are made of glitches, and one that was spliced; from five times on, loops and a kick would be named as well."""

ATTACK: Final = 1.6
"""So much more sound behind it than before, in amplitude, and it is the beginning of a stroke."""

TOWERS: Final = 1.5
"""So many times higher than any sample around it, and it is a click, whatever begins behind it."""

EDGE: Final = 0.9
"""A jump so large against the highest sample around it is an edge of the wave."""

LEAST: Final = 0.008
"""A smaller click, −42 dBFS, is left alone."""

REACH: Final = GROUP * (AROUND + 3)
"""Samples needed on either side."""


def clicks(window: NDArray[np.float32], start: int, end: int) -> list[tuple[int, float]]:
    """The clicks in a part of a leg.

    Args:
        window: (n,) samples.
        start, end: what part of it is asked about; what lies around it within :data:`REACH` is looked at too.

    Returns:
        Where each stands in the window, and its size in full scale.
    """
    first = max(0, start - REACH)
    part = window[first : min(window.size, end + REACH)]
    count = (part.size - 2) // GROUP
    if count <= 2 * AROUND + 3:
        return []
    step = np.diff(part)
    bend = np.abs(step[1:] - step[:-1])
    most = bend[: count * GROUP]
    while most.size > count:  # by halves: four times as fast as a maximum over short rows
        most = np.maximum(most[::2], most[1::2])
    if most.max() < 2.0 * LEAST:
        return []
    around = np.lib.stride_tricks.sliding_window_view(most, AROUND).max(axis=1)
    middle = np.arange(AROUND + 1, count - AROUND - 1)
    beside = np.maximum(around[middle - AROUND - 1], around[middle + 2])
    here = most[middle]
    alone = (here >= 2.0 * LEAST) & (here >= STANDS_OUT * np.maximum(beside, 1e-4))
    alone &= (here >= most[middle - 1]) & (here > most[middle + 1])
    found = []
    for group in middle[alone].tolist():
        at = first + group * GROUP + int(bend[group * GROUP : (group + 1) * GROUP].argmax()) + 1
        size = float(most[group]) / 2.0
        if start <= at < end and not _begins_a_sound(window, at, size):
            found.append((at, size))
    return found


def _begins_a_sound(window: NDArray[np.float32], at: int, size: float) -> bool:
    """True where a jump belongs to the sound: a stroke begins or ends there, or a wave goes from one side to the other.

    A stroke has much more sound behind it than before, a cut much less. A square wave, and what an amplifier makes of a
    tone, stand near their extremes on both sides of a jump.
    """
    gap, long = GROUP, 8 * GROUP
    before = window[max(0, at - gap - long) : max(0, at - gap)].astype(np.float64)
    after = window[at + gap : at + gap + long].astype(np.float64)
    if not before.size or not after.size:
        return True
    most = max(float(np.abs(before).max()), float(np.abs(after).max()))
    if size >= TOWERS * most:
        return False
    was, is_ = float(np.sqrt(np.mean(before * before))), float(np.sqrt(np.mean(after * after)))
    if is_ > ATTACK * was + 1e-4 or was > 4.0 * is_ + 1e-4:
        return True
    one, other = float(before[-gap:].mean()), float(after[:gap].mean())
    return most > 1e-4 and abs(one - other) >= EDGE * most
