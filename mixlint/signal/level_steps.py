"""Where a recording changes for good at one instant: its microphone slipped, its preamplifier was touched.

Two clues, each from levels in octave bands over time. The noise of a recording chain lies under all music, evenly, and
no musician changes it: where it steps, and the music with it, the chain was changed. And a microphone beside others on
one performance keeps its distance from them, band by band, whatever is played: where that steps while they go on as
before, it was moved.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

TOP: Final = 7
"""From this octave on, 4 kHz, the noise of a chain lies over the rest of rooms and notes."""

QUIET: Final = 0.03
"""The floor of a stretch is what so much of it lies under."""

EVEN_DB: Final = 1.5
EVEN_SHARE: Final = 0.06
"""A floor of noise: so much of a stretch lies within this of it. Dying notes pass by."""

LOWEST_DB: Final = -125.0
"""Under this lies what a file of 24 bits cannot hold: no noise of a chain."""

BODY: Final = 0.8
LOUD: Final = 0.9
FOLLOWS: Final = 0.4
"""The music steps with the noise, in decibels by so much of it: a band that held music before may reach the noise."""

STRAY: Final = 30

RISING_DB: Final = 3.0

PLACES: Final = 120
"""So many instants are tried: a bound of work; what is found is placed to a tenth of a second afterwards."""

LOUD_DB: Final = 25.0
STABLE_DB: Final = 5.0
"""The others go on as before: their middle and their loud levels stay within this."""

LEAST_SAME: Final = 20
BANDS: Final = 3
LEAST_BANDS: Final = 5
MOST_BANDS: Final = 0.7
UP_ALIKE_DB: Final = 8.0
"""Three bands have to step clearly; and of those that can be told, five and more, most have to step."""


class Step(NamedTuple):
    """A change for good.

    Args:
        at: the first place (index) after it.
        by_db: (bands,) by how much each band changes, NaN where it cannot be told.
        clear_db: how far what is before and after lie apart, beyond their own spread.
        dead: nothing but even noise is left behind it.
    """

    at: int
    by_db: Floats
    clear_db: float
    dead: bool


def floor_step(course: Floats, least: int, least_db: float) -> Step | None:
    """Where the noise of a chain, and the music with it, steps.

    Args:
        course: (bands, n) dB, without places of digital silence.
        least: how many places there have to be on either side.
        least_db: the least step of the noise.
    """
    top = course[TOP:]
    count = top.shape[1]
    best: tuple[float, int, Floats] | None = None
    for at in range(least, count - least + 1, max(1, (count - 2 * least) // PLACES)):
        step = _floors(top, at, least_db)
        if step is not None and (best is None or step[0] > best[0]):
            best = step[0], at, step[1]
    if best is None:
        return None
    size, near, floors = best
    at = _placed(top, near, floors)
    if not least <= at <= count - least or _floors(top, at, least_db) is None:
        return None
    wide = course.max(axis=0)
    dead = is_dead(wide[at:])
    loud = [float(np.quantile(part, BODY)) for part in (wide[:at], wide[at:])]
    if not dead and abs(loud[1] - loud[0]) > PLAYS_ON_DB:
        return None  # it ends there, or begins
    body = np.quantile(course[:, at:], LOUD, axis=1) - np.quantile(course[:, :at], LOUD, axis=1)
    return Step(at, body, size - least_db, dead)


def is_dead(level: Floats) -> bool:
    """Whether levels (n,) in dB are those of even noise, but for what a plug leaves in the first moment."""
    rest = level[DYING:]
    return rest.size > DYING and float(np.ptp(np.quantile(rest, [0.02, 0.98]))) <= DEAD_DB


DYING: Final = 5
DEAD_DB: Final = 4.5
PLAYS_ON_DB: Final = 28.0


def _floors(top: Floats, at: int, least_db: float) -> tuple[float, Floats] | None:
    """How large a step of the noise at ``at`` is, and how large in each band; None for none."""
    before, after = top[:, :at], top[:, at:]
    low = [np.quantile(part, QUIET, axis=1) for part in (before, after)]
    even = [
        (np.abs(part - floor[:, None]) <= EVEN_DB).mean(axis=1) >= EVEN_SHARE
        for part, floor in zip((before, after), low, strict=True)
    ]
    by = low[1] - low[0]
    body = np.quantile(after, BODY, axis=1) - np.quantile(before, BODY, axis=1)
    told = even[0] & even[1] & (np.maximum(*low) > LOWEST_DB)
    sizes = []
    for sign in (-1.0, 1.0):
        steps = told & (sign * by >= least_db) & (sign * body >= np.maximum(FOLLOWS * np.abs(by), 0.5 * least_db))
        # What dies away reaches the noise at the top first; a chain that changes takes as much off the top as below.
        falls = np.diff(sign * by[told]) < -RISING_DB
        if steps.sum() >= 2 and not falls.any():
            sizes.append(float(np.sort(np.abs(by[steps]))[-2]))
    return (max(sizes), by) if sizes else None


def _placed(top: Floats, near: int, by: Floats) -> int:
    """The first place under the louder noise, or one past the last: where the noise steps, to the place."""
    band = int(np.argsort(np.abs(by))[-2])
    row = top[band]
    low = [float(np.quantile(part, QUIET)) for part in (row[:near], row[near:])]
    under = np.flatnonzero(row < max(low) - min(0.5 * abs(low[1] - low[0]), 6.0))
    if low[1] > low[0]:
        under = row.size - 1 - under[::-1]
    # A stray one, at the edge of a fade, has no others near it.
    firm = under[:-2][under[2:] - under[:-2] <= STRAY] if under.size > 2 else under[:0]
    if not firm.size:
        return near
    return int(firm[0]) if low[1] < low[0] else row.size - int(firm[0])


def step_beside(one: Floats, other: Floats, least: int, least_db: float) -> Step | None:
    """Where one of two microphones on a performance changes against the other, which goes on as before.

    Args:
        one, other: (bands, n) dB of the same places in time.
        least: how many places there have to be on either side.
        least_db: the least step.
    """
    loud = other.max(axis=0)
    heard = np.flatnonzero(loud >= np.quantile(loud, 0.95) - LOUD_DB - 5.0) if loud.size else np.zeros(0, np.int64)
    if heard.size < 2 * least:
        return None
    beside = other[:, heard]
    apart = one[:, heard] - beside
    there = (beside > np.quantile(beside, 0.9, axis=1)[:, None] - LOUD_DB) & (beside > -95.0)
    best: tuple[float, int, Floats] | None = None
    for at in _likely(apart, there, least):
        found = _at(apart, beside, there, at, least_db)
        if found is not None and (best is None or found[1] > best[0]):
            best = found[1], at, found[0]
    if best is None:
        return None
    clear, at, by = best
    start = int(heard[min(_steepest(apart, there, at), heard.size - 1)])
    return Step(start, by, clear, is_dead(one.max(axis=0)[start:]))


def _steepest(apart: Floats, there: NDArray[np.bool_], near: int) -> int:
    """The place around ``near`` at which the means of the places just before and behind differ most."""
    around = [at for at in range(near - PLACED, near + PLACED + 1) if SHORT <= at <= apart.shape[1] - SHORT]

    def differ(at: int) -> float:
        means = [
            np.where(there[:, side], apart[:, side], 0.0).sum(axis=1) / np.maximum(there[:, side].sum(axis=1), 1)
            for side in (slice(at - SHORT, at), slice(at, at + SHORT))
        ]
        return float(np.median(np.abs(means[1] - means[0])))

    return max(around, key=differ, default=near)


PLACED: Final = 12
SHORT: Final = 10
"""A step is found over a quarter of a minute, and placed over two seconds: rounding."""


def _likely(apart: Floats, there: NDArray[np.bool_], least: int) -> list[int]:
    """Where means before and after differ most, in four bands together: some places, and those beside them."""
    count = apart.shape[1]
    sums, counts = (
        np.pad(np.cumsum(part, axis=1), ((0, 0), (1, 0))) for part in (np.where(there, apart, 0.0), there.astype(float))
    )
    at = np.arange(least, count - least + 1)
    means, seen = [], []
    for low, high in ((np.maximum(0, at - LONG), at), (at, np.minimum(count, at + LONG))):
        number = counts[:, high] - counts[:, low]
        means.append((sums[:, high] - sums[:, low]) / np.maximum(number, 1.0))
        seen.append(number >= LEAST_SAME)
    score = np.sort(np.where(seen[0] & seen[1], np.abs(means[1] - means[0]), 0.0), axis=0)[-4:].mean(axis=0)
    chosen: list[int] = []
    for place in np.argsort(-score, kind="stable").tolist():
        if all(abs(place - other) > 5 for other in chosen):
            chosen.append(place)
        if len(chosen) == 4:
            break
    return sorted({int(at[min(max(place + by, 0), at.size - 1)]) for place in chosen for by in (-2, -1, 0, 1, 2)})


LONG: Final = 150
"""So many places before and after are held against each other, a quarter of a minute of sound."""


def _at(
    apart: Floats, beside: Floats, there: NDArray[np.bool_], at: int, least_db: float
) -> tuple[Floats, float] | None:
    """By how much each band steps at ``at``, and how clearly the clearest three do."""
    sides = slice(max(0, at - LONG), at), slice(at, at + LONG)
    by, clear = np.full(len(apart), np.nan), np.full(len(apart), -np.inf)
    for band, mask in enumerate(there):
        before, after = (apart[band, side][mask[side]] for side in sides)
        if min(before.size, after.size) < LEAST_SAME:
            continue
        still = [np.quantile(beside[band, side][mask[side]], [0.5, 0.85]) for side in sides]
        if float(np.abs(still[1] - still[0]).max()) > STABLE_DB:
            continue
        was, now = (np.quantile(part, [0.1, 0.5, 0.9]) for part in (before, after))
        by[band] = now[1] - was[1]
        if abs(by[band]) >= least_db:
            clear[band] = now[0] - was[2] if by[band] > 0.0 else was[0] - now[2]
    told = by[~np.isnan(by)]
    if told.size < LEAST_BANDS:
        return None
    same = np.sign(by) == np.sign(np.median(told))
    if float(np.mean(same[~np.isnan(by)] & (np.abs(told) >= 0.75 * least_db))) < MOST_BANDS:
        return None  # another instrument plays there, and they hear it differently
    if float(np.median(told)) > 0.0 and float(np.ptp(told)) > UP_ALIKE_DB:
        return None  # a knob turns all octaves up alike; what enters does not
    clearest = float(np.sort(np.where(same, clear, -np.inf))[-BANDS:].min())
    return (by, clearest) if clearest > 0.0 else None
