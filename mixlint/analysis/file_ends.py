"""How a file that holds a whole song begins and ends: in silence, or in the middle of its sound."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.media.measure import decibels
from mixlint.session import Unknown, known
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

FIRST_S: Final = 0.001
"""Before the first note of a print there is some silence: nothing plays within its first millisecond."""

HEAD_S: Final = 0.05
LAST_S: Final = 0.01
BEFORE_S: Final = 0.5
"""A fade makes the last hundredth of a second much softer than the half second before it; a cut does not."""

QUIET_DB: Final = -70.0
"""Where nothing is louder than this there is silence, for the length of it: a definition."""


FILLED_S: Final = 0.1
"""From so long a stretch of exact zeros at its end on, a file was filled up to its length: a definition."""


class FileEnds(NamedTuple):
    """The ends of a file.

    Args:
        first_dbfs: RMS of its first millisecond.
        after_dbfs: RMS of the fifty behind it.
        step: its first sample, as a share of the peak of its first 5 ms: a sound that begins there begins near zero.
        last_dbfs: the peak of its last 10 ms; where digital silence fills the end, the last sample before that.
        before_dbfs: the peak of the half second before those.
        peak_dbfs: its highest sample.
        lead_s: for how long it is silent at its beginning.
        tail_s: for how long at its end.
        length_s: its length.
    """

    first_dbfs: float
    after_dbfs: float
    step: float
    last_dbfs: float
    before_dbfs: float
    peak_dbfs: float
    lead_s: float
    tail_s: float
    length_s: float


@per_session
def file_ends(context: SessionContext, media_id: str) -> FileEnds | Unknown:
    """How a file begins and ends."""
    import numpy as np

    if context.audio is None:
        return Unknown(unknown="the audio was not opened", settle="review it with its audio")
    measure = known(context.audio.measure(media_id))
    length = measure.frames / measure.header.sample_rate_hz
    sounding = np.flatnonzero(measure.peak.max(axis=0) > 0.0)
    end_s = min(length, float(sounding[-1] + 1) * measure.cell_s) if sounding.size else length
    stretches = [(0.0, HEAD_S), (end_s - LAST_S - BEFORE_S, LAST_S + BEFORE_S)]
    head, end = known(context.audio.excerpts(media_id, stretches))
    last = max(1, round(LAST_S * measure.header.sample_rate_hz))
    count = max(1, round(FIRST_S * measure.header.sample_rate_hz))

    def plain(samples: object) -> NDArray[np.float64]:
        piece = np.asarray(samples, dtype=np.float64)
        return np.where(np.abs(piece) < 1e5, piece, 0.0)

    def rms(samples: object) -> float:
        piece = plain(samples)
        return decibels(float(np.sqrt((piece * piece).mean()))) if piece.size else SILENCE_DB

    def peak(samples: object) -> float:
        return decibels(float(np.abs(plain(samples)).max(initial=0.0)))

    loud = np.flatnonzero(measure.peak.max(axis=0) > 10.0 ** (QUIET_DB / 20.0))
    lead = float(loud[0]) * measure.cell_s if loud.size else length
    tail = max(0.0, length - float(loud[-1] + 1) * measure.cell_s) if loud.size else length
    return FileEnds(
        first_dbfs=rms(head[:, :count]),
        after_dbfs=rms(head[:, count:]),
        step=_step(plain(head[:, : 5 * count])),
        last_dbfs=peak(end[:, -last:] if length - end_s < FILLED_S else _last_sample(end)),
        before_dbfs=peak(end[:, :-last]),
        peak_dbfs=max(measure.sample_peak_db),
        lead_s=lead,
        tail_s=tail,
        length_s=length,
    )


def _last_sample(samples: NDArray[np.float32]) -> NDArray[np.float32]:
    """The last sample (legs, 1) that is not zero; what was faded ends near zero, what was cut does not."""
    import numpy as np

    sounding = np.flatnonzero(samples.any(axis=0))
    return samples[:, sounding[-1:]] if sounding.size else samples[:, :0]


def _step(samples: NDArray[np.float64]) -> float:
    """The first sample of (legs, n) as a share of the highest; 0 for silence."""
    import numpy as np

    highest = float(np.abs(samples).max(initial=0.0))
    return float(np.abs(samples[:, 0]).max()) / highest if highest > 0.0 else 0.0
