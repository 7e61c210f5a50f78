"""Stems that hold one recording under two names, whatever was done to their level, word length or polarity."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.errors import InputError
from mixlint.media.stem_reading import StemAt, stretches
from mixlint.session import Unknown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media import Library

_LIKE: Final = 0.995
"""Levels from tenth to tenth of a second correlate this much before two files are compared by their samples."""

_STRETCH_S: Final = 5.0
_MOST_PAIRS: Final = 64
"""So many pairs at most are compared by their samples: a bound of work."""


class StemCopy(NamedTuple):
    """Two stems of one recording.

    Args:
        first, second: their files.
        gain_db: how much louder the second is.
        turned: its polarity is the other one.
        left_db: what is left of the second when the first is taken away at that gain, relative to it.
    """

    first: str
    second: str
    gain_db: float
    turned: bool
    left_db: float


def stem_copies(library: Library, stems: Sequence[str], most_left_db: float) -> tuple[StemCopy, ...]:
    """Every stem that is a copy of an earlier one, with the first that it copies.

    Args:
        library: the audio.
        stems: the ids of files.
        most_left_db: what may be left over of a copy.
    """

    shapes: dict[str, NDArray[np.float64]] = {}
    for one in stems:
        measure = library.measure(one)
        if not isinstance(measure, Unknown) and float(measure.power.sum()) > 0.0:
            shapes[one] = measure.power.sum(axis=0)
    found: list[StemCopy] = []
    copied: set[str] = set()
    for first, second in _alike(shapes)[:_MOST_PAIRS]:
        if first in copied or second in copied:
            continue
        copy = _compared(library, first, second, shapes[second])
        if copy is not None and copy.left_db <= most_left_db:
            found.append(copy)
            copied.add(second)
    return tuple(found)


def _alike(shapes: dict[str, NDArray[np.float64]]) -> list[tuple[str, str]]:
    """Pairs of files whose levels move alike, by one product of all with all."""
    import numpy as np

    if len(shapes) < 2:
        return []
    names = list(shapes)
    length = max(shape.size for shape in shapes.values())
    table = np.zeros((len(names), length))
    for row, name in zip(table, names, strict=True):
        shape = np.sqrt(shapes[name])
        row[: shape.size] = shape / np.sqrt((shape * shape).sum())
    alike = table @ table.T
    return [(names[a], names[b]) for a, b in zip(*np.nonzero(np.triu(alike > _LIKE, 1)), strict=True)]


def _compared(library: Library, first: str, second: str, shape: NDArray[np.float64]) -> StemCopy | None:
    from math import log10

    import numpy as np

    from mixlint.signal.sum_fit import gain_and_rest

    rates = {h.sample_rate_hz for h in map(library.header, (first, second)) if not isinstance(h, Unknown)}
    if len(rates) != 1:
        return None
    # A block of a measure lasts a tenth of a second.
    count = max(1, min(shape.size, round(_STRETCH_S * 10.0)))
    running = np.concatenate(([0.0], np.cumsum(shape)))
    start = float(np.argmax(running[count:] - running[:-count])) / 10.0
    try:
        for total, parts in stretches(library, second, [StemAt(first)], [start], _STRETCH_S):
            if total.shape != parts[0].shape:
                return None  # one has more legs than left and right: no copy of the other
            gain, rest = gain_and_rest(total, parts[0])
            if gain == 0.0:
                return None
            return StemCopy(first, second, 20.0 * log10(abs(gain)), gain < 0.0, max(-140.0, 10.0 * log10(rest + 1e-14)))
    except InputError:
        return None  # the one that cannot be read is told of as such
    return None
