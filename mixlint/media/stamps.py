"""Where files of one set begin against each other by their time stamps (EBU Tech 3285)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import Final, NamedTuple

SAME_S: Final = 1e-3
"""Stamps that lie no further apart are one: rounding of the rates of files."""


class StampedSet(NamedTuple):
    """How a set lies by its stamps.

    Args:
        late_s: how much later than the beginning of the set each file begins, seconds; files that have no stamp, or one
            that cannot be of the same run, are left out.
        laid: the files have no beginning in common, and overlap: they are laid out by their stamps.
    """

    late_s: Mapping[str, float]
    laid: bool


def by_stamps(stamps_s: Mapping[str, float | None], longest_s: float) -> StampedSet:
    """Hold the stamps of a set against each other.

    Where most files that carry a stamp share one, the set begins there. Where they do not, and every file has a stamp,
    it begins with the earliest, as long as they overlap; else nothing is told.

    Args:
        stamps_s: seconds since midnight at which each file begins, None without a stamp.
        longest_s: how long the longest file lasts, seconds.
    """
    known = {one: stamp for one, stamp in stamps_s.items() if stamp is not None}
    if not known:
        return StampedSet({}, laid=False)
    counted = Counter(round(stamp / SAME_S) for stamp in known.values())
    usual, times = counted.most_common(1)[0]
    if 2 * times > len(known):
        near = {one: stamp - usual * SAME_S for one, stamp in known.items()}
        late = {one: 0.0 if abs(off) <= SAME_S else off for one, off in near.items() if abs(off) < longest_s}
        return StampedSet(late, laid=False)
    first = min(known.values())
    if len(known) < len(stamps_s) or max(known.values()) - first >= longest_s:
        return StampedSet({}, laid=False)
    return StampedSet({one: stamp - first for one, stamp in known.items()}, laid=True)
