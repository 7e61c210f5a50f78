"""The extreme of a curve over the song, and the stretch around it in which the curve stays near it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from mixlint.analysis.activity import stretch_text
from mixlint.analysis.context import SessionContext

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


@dataclass(frozen=True, slots=True)
class Extreme:
    """An extreme value, and the stretch in seconds in which the curve stays near it."""

    value: float
    start_s: float
    end_s: float

    def text(self, context: SessionContext) -> str:
        """The stretch for a reader."""
        return stretch_text(context, self.start_s, self.end_s)


def run_around(near: NDArray[np.bool_], at: int) -> tuple[int, int]:
    """First and last index of the run of true values (T,) around ``at``."""
    first = last = at
    while first > 0 and near[first - 1]:
        first -= 1
    while last + 1 < near.size and near[last + 1]:
        last += 1
    return first, last
