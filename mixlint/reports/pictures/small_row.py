"""The stereo balance of a session in a row of several, as it was drawn: nothing has to be imported to show it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

WIDTH, HEIGHT = 176, 44
MOST_DB: Final = 6.0
"""The scale to each side, dB: the same in every row, so that two rows can be compared. What leans further runs along
the edge, and the words beside it say how far."""


@dataclass(frozen=True, slots=True)
class SmallBalance:
    """The balance in a row of the index.

    Args:
        said: the same in words: over the song, and where it leans most; or why there is no picture.
        pieces: the line in pieces, up where the left is heavier; it breaks where nothing is judged. None without a
            balance.
        dots: places that are judged alone.
        width, height: the size of the picture, user units.
    """

    said: str
    pieces: tuple[str, ...] = ()
    dots: tuple[tuple[float, float], ...] = ()
    width: int = WIDTH
    height: int = HEIGHT
