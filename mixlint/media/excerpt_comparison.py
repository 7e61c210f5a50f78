"""Excerpts of audio compared: clips laid on the song's timeline, a print held against what feeds it.

Costs far more than a measure, so nothing here happens unless a fact asks for it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.session import Unknown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike, NDArray

    from mixlint.media.library import Library
    from mixlint.signal.dry_leak import LeakEstimate, LeakFault

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


def rate_of(library: Library, pieces: Sequence[Excerpt]) -> int | Unknown:
    """The sample rate that all pieces share, Hz."""
    rates = set()
    for media in dict.fromkeys(piece.media for piece in pieces):
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

    rate = rate_of(library, pieces)
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


def leak(
    library: Library, dry: Sequence[Excerpt], printed: Sequence[Excerpt], *, slack_s: float = 0.0
) -> LeakEstimate | Unknown:
    """How much dry signal a printed return carries (:func:`mixlint.signal.dry_leak.estimate_leak`).

    Args:
        library: the session's audio.
        dry: what feeds the return, with the gains of its sends.
        printed: the return's print.
        slack_s: how far the print may lie off the sample.
    """
    from mixlint.signal.dry_leak import SHORTEST_S, estimate_leak

    pair = _pair(library, dry, printed)
    if isinstance(pair, Unknown):
        return pair
    one, other, rate = pair
    if one.shape[0] > other.shape[0]:
        one = one.mean(axis=0, keepdims=True)
    found = estimate_leak(one, other, rate, slack_s=slack_s)
    if found.fault is None:
        return found
    reasons: dict[LeakFault, str] = {
        "too-short": f"the signals share less than {SHORTEST_S:g} s",
        "dry-silent": "the dry signal is silent",
        "print-silent": "the printed return is silent",
        "narrow-band": "the dry signal fills too little of the spectrum",
        "no-common-leg": "no leg has both a dry signal and a print",
    }
    return Unknown(unknown=reasons[found.fault], settle="print the return alone, over a busy stretch")


def band_levels(
    library: Library, pieces: Sequence[Excerpt], centres_hz: ArrayLike, octaves: float = 1.0 / 3.0
) -> NDArray[np.float64] | Unknown:
    """Level in bands of the busiest stretch, dB, shape (bands,) (:func:`mixlint.signal.band_levels.band_levels_db`)."""
    from mixlint.signal.band_levels import band_levels_db

    stretch = busiest(library, pieces)
    if isinstance(stretch, Unknown):
        return stretch
    rate = rate_of(library, pieces)
    if isinstance(rate, Unknown):
        return rate
    samples = lay(library, pieces, *stretch)
    return samples if isinstance(samples, Unknown) else band_levels_db(samples, rate, centres_hz, octaves)


def _pair(
    library: Library, one: Sequence[Excerpt], other: Sequence[Excerpt]
) -> tuple[NDArray[np.float32], NDArray[np.float32], int] | Unknown:
    """Both over the stretch in which the first sounds most, and their sample rate."""
    rate = rate_of(library, [*one, *other])
    if isinstance(rate, Unknown):
        return rate
    stretch = busiest(library, _shared(one, other))
    if isinstance(stretch, Unknown):
        return stretch
    first, second = lay(library, one, *stretch), lay(library, other, *stretch)
    if isinstance(first, Unknown):
        return first
    return second if isinstance(second, Unknown) else (first, second, rate)


def _shared(one: Sequence[Excerpt], other: Sequence[Excerpt]) -> list[Excerpt]:
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
