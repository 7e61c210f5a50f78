"""What cables, radio links and telephones leave in a recording: bursts of crackle, bursts of noise, legs that drop out.

All of it is told from cells of a hundredth of a second: their peaks, and how sharply the wave bends in them, at most
and on the average.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from mixlint.signal.runs import groups

Floats = NDArray[np.float64]

APART: Final = 8
"""Cells without crackle that end a burst."""

DENSE: Final = 0.35
"""So much of a burst crackles; plucks and strokes bend sharply in one cell, and again a beat later."""

USUAL: Final = 0.9
MOSTLY: Final = 0.8
"""A file may crackle for a fifth of its time."""

SILENT_DB: Final = -90.0


class Burst(NamedTuple):
    """Cells that go together: the first, how many, and the highest level in them, dBFS."""

    start: int
    length: int
    level_db: float


def crackles(most: Floats, mean: Floats, peak: Floats, sharp_db: float, over_db: float, least: int) -> list[Burst]:
    """Bursts of crackle in one leg.

    Args:
        most, mean: (cells,) the largest and the mean bend of each cell, dB.
        peak: (cells,) highest samples, dBFS.
        sharp_db: from so far over the mean of its cell on a bend is a crackle's.
        over_db: so far it has to stand over what is usual in the file.
        least: so many cells make a burst.
    """
    sounds = most > SILENT_DB
    if not sounds.any():
        return []
    usual = float(np.quantile(most[sounds], MOSTLY))
    found = (most - mean >= sharp_db) & (most >= usual + over_db) & (most > LEAST_DB)
    bursts = []
    for cells in groups(np.flatnonzero(found), APART):
        length = int(cells[-1] - cells[0]) + 1
        if cells.size >= least and cells.size >= DENSE * length:
            bursts.append(Burst(int(cells[0]), length, float(peak[cells].max())))
    return bursts


LEAST_DB: Final = -45.0
"""Weaker bends are not heard as crackle."""

WHITE_DB: Final = -6.5
"""The mean bend of white noise lies 2 dB under its peak, that of clipped or filtered noise a little more."""

SPREAD_DB: Final = 2.5
"""A cell of it may hold a peak that is so much higher."""

NOT_WHITE_DB: Final = -14.0
EVEN_DB: Final = 5.5
SHORTEST: Final = 4
LONGEST: Final = 60
UNDER_LOUD_DB: Final = 25.0


def noise_bursts(mean: Floats, peak: Floats) -> list[Burst]:
    """Short bursts of even white noise that begin and end at once, in a sound that is not white: a radio link breaks.

    Args:
        mean: (cells,) the mean bend of each cell, dB.
        peak: (cells,) highest samples, dBFS.
    """
    sounds = peak > SILENT_DB + 10.0
    if not sounds.any():
        return []
    least = max(-50.0, float(np.quantile(peak[sounds], USUAL)) - UNDER_LOUD_DB)
    white = np.where(sounds, mean - peak, -np.inf)
    found = []
    for cells in groups(np.flatnonzero((white > WHITE_DB - SPREAD_DB) & (peak > least))):
        first, last = int(cells[0]), int(cells[-1])
        if not SHORTEST <= cells.size <= LONGEST or first < 3 or last + 3 >= peak.size:
            continue
        beside = max(float(white[first - 3 : first - 1].max()), float(white[last + 2 : last + 4].max()))
        even = float(np.ptp(peak[cells[1:-1]])) <= EVEN_DB and float(np.median(white[cells])) > WHITE_DB
        if even and abs(float(peak[first + 1] - peak[last - 1])) <= EVEN_DB and beside < NOT_WHITE_DB:
            found.append(Burst(first, int(cells.size), float(peak[cells].max())))
    return found


STEADY_DB: Final = 8.0
LONGEST_DROP: Final = 60
SHORTEST_DROP: Final = 2
BESIDE: Final = 5


def drops(leg: Floats, other: Floats, drop_db: float) -> list[Burst]:
    """Where one leg drops under the other for a moment and is back at once.

    Args:
        leg, other: (cells,) highest samples of two legs, dBFS.
        drop_db: by how much more than usual.
    """
    loud = np.maximum(leg, other)
    sounds = loud > max(-60.0, float(np.quantile(loud, USUAL)) - UNDER_LOUD_DB) if loud.size else loud > 0.0
    if int(sounds.sum()) < 50:
        return []
    apart = leg - other
    usual = float(np.median(apart[sounds]))
    # Legs that part again and again, as those of a delay from side to side do, do not tell a cable.
    if float(np.quantile(np.abs(apart[sounds] - usual), USUAL)) > STEADY_DB:
        return []
    found = []
    for cells in groups(np.flatnonzero(sounds & (apart < usual - drop_db))):
        first, last = int(cells[0]), int(cells[-1])
        if not SHORTEST_DROP <= cells.size <= LONGEST_DROP or first < BESIDE or last + BESIDE >= apart.size:
            continue
        before, after = apart[first - BESIDE : first], apart[last + 1 : last + 1 + BESIDE]
        if max(float(np.abs(np.median(part) - usual)) for part in (before, after)) <= STEADY_DB:
            found.append(Burst(first, int(cells.size), float(other[cells].max())))
    return found


FRAME_HZ: Final = 26.0 / 0.12
"""A telephone of the second generation sends in one of eight slots of a frame of 120/26 ms, 216.67 times a second (ETSI
TS 100 908, clause 5)."""

PARTIALS: Final = (1, 2, 3, 5, 6)
"""The edges of a slot of 577 µs bend the wave; at four times the frame's rate its two edges cancel."""

STANDS_OUT: Final = 6.5


def of_a_telephone(samples: Floats, fs: float) -> bool:
    """Whether a stretch (n,) bends sharply 217 times a second, as exactly as a telephone sends, somewhere in it."""
    bend = np.abs(np.diff(samples, 2))
    size = int(WINDOW_S * fs)
    return any(_sends(bend[at : at + size], fs) for at in range(0, bend.size - size + 1, size // 3))


WINDOW_S: Final = 0.3
"""It sends in groups, which need not go on in step with each other."""

PADDED: Final = 8
NEAR_HZ: Final = 0.4


def _sends(bend: Floats, fs: float) -> bool:
    size = bend.size
    spectrum = np.abs(np.fft.rfft((bend - bend.mean()) * np.hanning(size), PADDED * size))
    width = fs / size / PADDED
    at = []
    for number in PARTIALS:
        centre, reach = round(number * FRAME_HZ / width), 2 * PADDED
        part = spectrum[centre - reach : centre + reach + 1]
        beside = np.concatenate(
            (spectrum[centre - 12 * PADDED : centre - 6 * PADDED], spectrum[centre + 6 * PADDED : centre + 12 * PADDED])
        )
        if part.size and float(part.max()) >= STANDS_OUT * float(np.median(beside)):
            at.append((centre - reach + int(part.argmax())) * width / number)
    if len(at) < len(PARTIALS) - 1:
        return False
    exact = np.abs(np.array(at) - FRAME_HZ) <= NEAR_HZ
    return int(exact.sum()) >= len(PARTIALS) - 1
