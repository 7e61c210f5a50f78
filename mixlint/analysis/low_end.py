"""What a part's recordings hold in the low end, read from end to end: rumble, and what folding to mono leaves of it.

The files are read in windows of some seconds and brought down to a few kilohertz by plain means of samples. What such a
mean lets fold down into the low end lies beside the new sample rate, 35 dB down at the least, and there is little up
there to begin with. Nothing is filtered or kept, so that a part costs little more than its decoding.
"""

from __future__ import annotations

from math import ceil, log2, sqrt
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import clips_on
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import NOT_OPENED, plain_clips
from mixlint.session import Channel, Unknown, is_known

if TYPE_CHECKING:
    from collections.abc import Iterator

    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media import Library

    Floats = NDArray[np.float64]

FLOOR_HZ: Final = 10.0
"""What lies under this is no sound and no rumble but an offset that drifts, hertz: a definition."""

LOW_END_HZ: Final = 120.0
"""Up to here the low end goes, which one loudspeaker plays for both sides, hertz: a definition (common practice)."""

WINDOW_S: Final = 12.0
"""The longest window, seconds: the time over which a level is told."""

SHORTEST_S: Final = 0.5
"""A clip shorter than this has no low end that could be told, seconds."""

REDUCED_HZ: Final = 6000.0
"""The sample rate to which files are brought down, or a little over it."""

MOST_WINDOWS: Final = 75
"""Windows read of one part, a quarter of an hour: a bound of work. Of a longer part they lie evenly."""

AT_ONCE: Final = 5
"""Windows read in one pass, a minute: a bound of memory."""

SOUNDING_DB: Final = 20.0
"""A window this far under the loudest is a rest, dB: what its level is held against is that of the others."""


class LowWindow(NamedTuple):
    """One window of a part, mean squares with the gain of its clip, 1.0 for full scale.

    Args:
        file: id of the media file.
        at_s: where it begins in the file, seconds.
        song_s: where that is in the song, seconds.
        length_s: its length.
        whole: all of it but the offset, its legs' mean.
        rumble: what lies under the edge that was asked for, its legs' mean.
        legs: (2,) the low end of each leg; alike for a mono file.
        product: the mean product of the two there.
    """

    file: str
    at_s: float
    song_s: float
    length_s: float
    whole: float
    rumble: float
    legs: tuple[float, float]
    product: float


@per_session
def low_windows(context: SessionContext, channel: Channel, edge_hz: float) -> tuple[LowWindow, ...] | Unknown:
    """The windows of a part's plain clips, all through the part, in the order of the song.

    Args:
        context: the session context.
        channel: the part.
        edge_hz: under which its rumble lies.
    """
    if context.audio is None:
        return Unknown(unknown="the audio was not opened", settle="review it with its audio, or listen to its low end")
    wanted = list(_pieces(channel))
    if not wanted:
        return Unknown(unknown="no clip of plain audio plays on it", settle="listen to its low end")
    step = max(1.0, len(wanted) / MOST_WINDOWS)
    wanted = [wanted[int(place * step)] for place in range(int(len(wanted) / step))]
    by_file: dict[str, list[_Piece]] = {}
    for piece in wanted:
        by_file.setdefault(piece.file, []).append(piece)
    found: list[LowWindow] = []
    for file, pieces in by_file.items():
        for first in range(0, len(pieces), AT_ONCE):
            read = _read(context.audio, file, pieces[first : first + AT_ONCE], edge_hz)
            if isinstance(read, Unknown):
                return read
            found += read
    return tuple(sorted(found, key=lambda window: window.song_s))


class _Piece(NamedTuple):
    """A stretch of a file that a clip plays."""

    file: str
    at_s: float
    song_s: float
    length_s: float
    gain: float


def _pieces(channel: Channel) -> Iterator[_Piece]:
    """The windows of a channel's clips; a stretch that several clips play comes once."""
    seen: set[tuple[str, float, float]] = set()
    for clip in plain_clips(channel):
        assert clip.file is not None
        assert is_known(clip.offset_s)
        length = clip.end_s - clip.start_s
        if length < SHORTEST_S:
            continue
        gain = 10.0 ** ((clip.gain_db if is_known(clip.gain_db) else 0.0) / 10.0)
        count = ceil(length / WINDOW_S)
        for place in range(count):
            begin = place * length / count
            key = clip.file, round(clip.offset_s + begin, 3), round(length / count, 3)
            if key not in seen:
                seen.add(key)
                yield _Piece(clip.file, clip.offset_s + begin, clip.start_s + begin, length / count, gain)


def _read(audio: Library, file: str, pieces: list[_Piece], edge_hz: float) -> list[LowWindow] | Unknown:
    """The windows of one file."""
    import numpy as np

    from mixlint.media.meter import mend
    from mixlint.signal.band_levels import band_levels_db

    header = audio.header(file)
    if isinstance(header, Unknown):
        return header
    read = audio.excerpts(file, [(piece.at_s, piece.length_s) for piece in pieces])
    if isinstance(read, Unknown):
        return read
    by = max(1, int(header.sample_rate_hz / REDUCED_HZ))
    rate = header.sample_rate_hz / by

    def under(samples: Floats, top_hz: float) -> float:
        """The mean square of rows (rows, n) from 10 Hz up to a frequency."""
        middle, width = sqrt(FLOOR_HZ * top_hz), log2(top_hz / FLOOR_HZ)
        return float(10.0 ** (band_levels_db(samples, rate, [middle], width)[0] / 10.0))

    found = []
    for piece, samples in zip(pieces, read, strict=True):
        mend(samples)
        count = samples.shape[1] // by
        if not count:
            continue
        whole = float(np.mean(np.var(samples, axis=1, dtype=np.float64)))
        low = samples[:2, : count * by].reshape(min(2, samples.shape[0]), count, by).mean(axis=2, dtype=np.float64)
        left = under(low[:1], LOW_END_HZ)
        right = under(low[1:], LOW_END_HZ) if low.shape[0] == 2 else left
        middle = under(low.mean(axis=0, keepdims=True), LOW_END_HZ)
        product = 2.0 * middle - (left + right) / 2.0
        found.append(
            LowWindow(
                file,
                piece.at_s,
                piece.song_s,
                piece.length_s,
                whole * piece.gain,
                under(low, edge_hz) * piece.gain,
                (left * piece.gain, right * piece.gain),
                product * piece.gain,
            )
        )
    return found


def low_octaves(context: SessionContext, part: Channel, octaves: int) -> Floats | Unknown:
    """The energy (octaves,) of a part's clips in the lowest octave bands from 31.6 Hz on, unweighted, times seconds.

    Of a file with two legs their mean; with the gains of the clips. Unknown where a file is not measured.
    """
    import numpy as np

    from mixlint.signal.octave_bands import CENTRES_HZ, k_weights

    if context.audio is None:
        return NOT_OPENED
    weights = 1.0 / k_weights(CENTRES_HZ[:octaves])
    energy = np.zeros(octaves)
    for clip in clips_on(part):
        measure = Unknown(unknown="a clip names no file") if clip.file is None else context.audio.measure(clip.file)
        if isinstance(measure, Unknown):
            return measure
        gain = 10.0 ** ((clip.gain_db if is_known(clip.gain_db) else 0.0) / 10.0) * (clip.end_s - clip.start_s)
        energy = energy + measure.bands[:, :octaves].mean(axis=0) * weights * gain
    return energy


def sounding_level(windows: tuple[LowWindow, ...]) -> float:
    """The mean square of the windows that are no rest; 0 where all are silent."""
    loudest = max((window.whole for window in windows), default=0.0)
    sounding = [window.whole for window in windows if window.whole >= loudest * 10.0 ** (-SOUNDING_DB / 10.0)]
    return sum(sounding) / len(sounding) if sounding else 0.0
