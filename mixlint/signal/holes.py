"""Holes: samples that stand still in the middle of sound, at zero or at what came last, and blocks that come twice."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

LEAST_S: Final = 5e-4
"""Shorter runs of equal samples come about in quiet bass at a short word."""

CONTEXT_S: Final = 5e-3
QUIETEST: Final = 3e-3
"""Sound of less than −50 dBFS beside a hole is none."""

SHORT_S: Final = 0.01
ALIKE: Final = 4.0
"""Before and behind a hole the sound is as loud within 12 dB: a gate closes on a tail and opens on a stroke."""

HARD: Final = 0.1
SOFT: Final = 0.02
"""The larger and the smaller jump at the edges of a long hole, in peaks of the sound beside it: what was edited or
gated to silence comes there by itself."""

STILL: Final = 0.2
"""Where more of the samples beside it stand still too, standing still is what the wave does."""

BLOCKS: Final = (64, 128, 192, 256, 384, 480, 512, 768, 960, 1024, 2048, 4096)
"""Blocks in which converters and drivers hand samples over, multiples of :data:`STRIDE`."""

STRIDE: Final = 16

CHANCE: Final = 3
"""So many samples behind a block that came twice may equal those a block before by chance; a wave that repeats itself
goes on for longer, or breaks off anywhere."""


class Beside(NamedTuple):
    """The sound beside a run: its peak, its mean step, how much of it stands still, and the sample next to the run."""

    peak: float
    step: float
    still: float
    next: float


def beside(window: NDArray[np.float32], at: int, rate_hz: int, *, before: bool) -> Beside | None:
    """The sound just before sample ``at``, or from it on; None where the window ends too soon."""
    long = max(8, round(CONTEXT_S * rate_hz))
    part = window[at - long : at] if before else window[at : at + long]
    if part.size < long or at < long * before:
        return None
    step = np.abs(np.diff(part))
    return Beside(
        float(np.abs(part).max()), float(step.mean()), float(np.mean(step == 0.0)), float(part[-1 if before else 0])
    )


def is_hole(before: Beside, after: Beside, value: float, length: int, rate_hz: int) -> bool:
    """Whether a run of ``length`` equal samples is a hole in the sound around it."""
    quiet, loud = sorted((before.peak, after.peak))
    if quiet < QUIETEST or max(before.still, after.still) > STILL:
        return False
    jumps = abs(before.next - value), abs(after.next - value)
    if length >= SHORT_S * rate_hz:
        if abs(value) >= HARD * before.peak:
            return True  # it stands still away from zero: nothing that sounds does
        parts = jumps[0] / before.peak, jumps[1] / after.peak
        return loud <= ALIKE * quiet and max(parts) >= HARD and min(parts) >= SOFT
    if loud > ALIKE * quiet or abs(value) >= 0.8 * quiet:
        return False  # an attack, or a wave that is cut off flat
    return max(jumps) >= 3.0 * max(before.step, after.step) or length * min(before.step, after.step) >= loud


def repeats(window: NDArray[np.float32], start: int, end: int) -> list[tuple[int, int]]:
    """Blocks that come twice in a row to the last bit: where the second begins, and the length of the block.

    A wave that goes on repeating itself is none, nor is one with a shorter period of its own.

    Args:
        window: (n,) samples, with twice the longest block before ``start`` where they are there.
        start, end: what part of it is asked about.
    """
    found: list[tuple[int, int]] = []
    thin = window[::STRIDE]
    sounds = thin != 0.0
    for block in BLOCKS:
        lag = block // STRIDE
        if thin.size <= 2 * lag:
            continue
        same = (thin[lag:] == thin[:-lag]) & sounds[lag:]
        least = max(3, lag - 2)
        # So many equal ones in a row, counted by a running sum.
        if int(same.sum()) < least - least // 10:
            continue
        total = np.concatenate(([0], np.cumsum(same)))
        # A wave that goes through zero may lack a few.
        full = np.flatnonzero(total[least:] - total[:-least] >= least - least // 10)
        last = -1
        for one in full.tolist():
            at = (one + lag + least // 2) * STRIDE
            if at < last or at >= window.size or window[at] != window[at - block]:
                continue
            begin, stop = _extent(window, at, block)
            last = stop
            if start <= begin < end and block <= stop - begin <= block + CHANCE and stop < window.size:
                part = window[begin - block : begin]
                if float(np.abs(part).max()) >= QUIETEST and not _periodic(part):
                    found.append((begin, block))
    return found


def _extent(window: NDArray[np.float32], at: int, block: int) -> tuple[int, int]:
    """The run of samples around ``at`` that equal those one block earlier: its first, and one past its last."""
    low, high = max(block, at - 2 * block), min(window.size, at + 2 * block + 1)
    differs = np.flatnonzero(window[low:high] != window[low - block : high - block]) + low
    below, above = differs[differs < at], differs[differs >= at]
    return (int(below[-1]) + 1 if below.size else low), (int(above[0]) if above.size else high)


def _periodic(part: NDArray[np.float32]) -> bool:
    """True where a block repeats a shorter piece of itself."""
    head = part[:12]
    windows = np.lib.stride_tricks.sliding_window_view(part[4:], head.size)
    return bool((windows == head).all(axis=1).any())
