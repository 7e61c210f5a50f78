"""Excerpts of audio: clips laid on the song's timeline, and where they sound most.

Costs far more than a measure, so nothing here happens unless a fact asks for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.session import Unknown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media.library import Library

LONGEST_S: Final = 30.0
"""How much of the song is looked at, seconds: the stretch where most sounds."""

_STEP_S: Final = 0.5
_FINEST: Final = 20_000


@dataclass(frozen=True, slots=True)
class Excerpt:
    """A stretch of a file on the song's timeline, at the speed it was recorded.

    Args:
        media: id of the media file.
        start_s: where it starts in the song.
        end_s: where it ends in the song.
        offset_s: the place in the file that sounds at ``start_s``.
        gain: amplitude.
    """

    media: str
    start_s: float
    end_s: float
    offset_s: float = 0.0
    gain: float = 1.0


def rate_of(library: Library, media_ids: Iterable[str]) -> int | Unknown:
    """The sample rate that all files share, Hz."""
    rates = set()
    for media in dict.fromkeys(media_ids):
        header = library.header(media)
        if isinstance(header, Unknown):
            return header
        rates.add(header.sample_rate_hz)
    if len(rates) != 1:
        told = " and ".join(f"{rate} Hz" for rate in sorted(rates)) or "none"
        return Unknown(
            unknown=f"the files do not share one sample rate ({told})" if rates else "there is no audio to look at",
            settle="convert them to the session's sample rate" if rates else "",
        )
    return int(rates.pop())


def lay(
    library: Library, pieces: Sequence[Excerpt], start_s: float, duration_s: float
) -> NDArray[np.float32] | Unknown:
    """The sum of pieces over a stretch of the song, to the sample; fades are not drawn.

    Returns:
        (1, n) when every file is mono, else (2, n), where a mono file stands on both legs and legs beyond the second
        are left out. Unknown when a file cannot be read, or rates differ.
    """
    import numpy as np

    rate = rate_of(library, (piece.media for piece in pieces))
    if isinstance(rate, Unknown):
        return rate
    first, count = round(start_s * rate), round(duration_s * rate)
    out = np.zeros((2, count), dtype=np.float32)
    mono = True
    for piece in pieces:
        begin, end = max(first, round(piece.start_s * rate)), min(first + count, round(piece.end_s * rate))
        if end <= begin:
            continue
        at_s = piece.offset_s + (begin - round(piece.start_s * rate)) / rate
        part = library.excerpt(piece.media, at_s, (end - begin) / rate)
        if isinstance(part, Unknown):
            return part
        mono = mono and part.shape[0] == 1
        out[:, begin - first : end - first] += part[:2] * np.float32(piece.gain)
    return out[:1] if mono else out


def busiest(library: Library, pieces: Sequence[Excerpt], length_s: float = LONGEST_S) -> tuple[float, float] | Unknown:
    """Start and duration in the song of the stretch, ``length_s`` long at most, in which the pieces sound most."""
    import numpy as np

    if not pieces:
        return Unknown(unknown="there is no audio to look at")
    begin, end = min(p.start_s for p in pieces), max(p.end_s for p in pieces)
    if end - begin <= length_s:
        return begin, max(0.0, end - begin)
    count = min(_FINEST, int(np.ceil((end - begin) / _STEP_S)))
    edges = np.linspace(begin, end, count + 1)
    total = np.zeros(count)
    for piece in pieces:
        measure = library.measure(piece.media)
        if isinstance(measure, Unknown):
            return measure
        inside = np.clip(edges, piece.start_s, piece.end_s) - piece.start_s + piece.offset_s
        total += measure.energy_at(inside).mean(axis=0) * np.diff(inside) * piece.gain**2
    running = np.concatenate(([0.0], np.cumsum(total)))
    width = max(1, min(count, int(length_s / (edges[1] - edges[0]))))
    return float(edges[int(np.argmax(running[width:] - running[:-width]))]), length_s


def shared(one: Sequence[Excerpt], other: Sequence[Excerpt]) -> list[Excerpt]:
    """The parts of ``one`` between the beginning and the end of ``other``."""
    if not other:
        return []
    begin, end = min(p.start_s for p in other), max(p.end_s for p in other)
    out = []
    for p in one:
        start, stop = max(p.start_s, begin), min(p.end_s, end)
        if stop > start:
            out.append(Excerpt(p.media, start, stop, p.offset_s + start - p.start_s, p.gain))
    return out
