"""What a stretch of a file holds that its measure does not keep over time: true peak, loudness, noise in its rests."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from mixlint.media.audio import BLOCK_FRAMES, AudioFile
from mixlint.media.gathering import RestStore
from mixlint.media.measure import BLOCK_S, RestLevels
from mixlint.media.meter import mend

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


class StretchReading(NamedTuple):
    """One stretch of a file.

    Args:
        energy: (legs, blocks) K-weighted mean squares of its tenths of a second (ITU-R BS.1770-5), the first of which
            begins with it; a last incomplete one is left out.
        true_peak_db: per leg, dBTP (ITU-R BS.1770-5, Annex 2), with silence before and after it.
        rests: per leg, what is left in its rests; empty where no part of it is quiet and even.
    """

    energy: NDArray[np.float64]
    true_peak_db: tuple[float, ...]
    rests: tuple[RestLevels, ...]


def read_stretch(audio: AudioFile, start_frame: int, end_frame: int) -> StretchReading:
    """Read a stretch of an open file once, block by block; what lies beyond the ends of the file is left out.

    Raises:
        BrokenFile: it cannot be decoded.
    """
    import numpy as np

    from mixlint.signal.loudness import EnergyMeter
    from mixlint.signal.true_peak import TruePeakMeter

    header = audio.header
    hop = max(1, round(BLOCK_S * header.sample_rate_hz))
    rate = float(header.sample_rate_hz)
    peaks, rests, weighed = (
        TruePeakMeter(header.legs, rate),
        RestStore(header.legs),
        EnergyMeter(header.legs, rate, hop / rate),
    )
    for chunk in _chunks(audio, max(0, start_frame), min(end_frame, header.frames), hop):
        if header.is_float:
            mend(chunk)
        peaks.feed(chunk)
        weighed.feed(chunk)
        whole = chunk[:, : chunk.shape[1] // hop * hop]
        if whole.shape[1]:
            blocks = whole.reshape(header.legs, -1, hop)
            rests.feed(whole, np.einsum("lbn,lbn->lb", blocks, blocks).astype(np.float64) / hop, hop)
    return StretchReading(weighed.finish() / hop, peaks.true_peak_db(), rests.result(header.sample_rate_hz))


def _chunks(audio: AudioFile, start: int, end: int, hop: int) -> Iterator[NDArray[np.float32]]:
    """The samples (legs, n) of a stretch in chunks of whole blocks but for the last, as many as a file is read in."""
    size = hop * max(1, round(min(BLOCK_FRAMES, BLOCK_FRAMES * 4 // audio.header.legs) / hop))
    for at in range(start, end, size):
        yield audio.excerpt(at, min(size, end - at))
