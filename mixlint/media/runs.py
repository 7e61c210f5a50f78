"""Stretches where something holds, found block by block as if the file lay in one piece."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


class RunFinder:
    """Finds stretches where a mask holds, over successive blocks."""

    def __init__(self) -> None:
        self._open: int | None = None

    @property
    def idle(self) -> bool:
        """True when no stretch reaches the end of the last block."""
        return self._open is None

    @property
    def opened(self) -> int | None:
        """Where the stretch began that reaches the end of the last block; None when there is none."""
        return self._open

    def feed(self, mask: NDArray[np.bool_], offset: int) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Take the next block.

        Args:
            mask: (n,).
            offset: the position of its first sample in the file.

        Returns:
            Starts and ends (one past the last) in the file of the stretches that closed in this block.
        """
        import numpy as np

        steps = np.diff(mask.view(np.int8), prepend=np.int8(0), append=np.int8(0))
        starts = np.flatnonzero(steps == 1).astype(np.int64) + offset
        ends = np.flatnonzero(steps == -1).astype(np.int64) + offset
        if self._open is not None:
            if starts.size and starts[0] == offset:
                starts[0] = self._open
            else:
                starts = np.concatenate((np.array([self._open], np.int64), starts))
                ends = np.concatenate((np.array([offset], np.int64), ends))
            self._open = None
        if ends.size and ends[-1] == offset + mask.size:
            self._open = int(starts[-1])
            starts, ends = starts[:-1], ends[:-1]
        return starts, ends
