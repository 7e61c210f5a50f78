"""What the files of a channel hold over the song, octave by octave."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import plain_clips
from mixlint.analysis.shared_looks import LONGEST_S, first_s
from mixlint.session import Channel, Unknown, known
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

STEP_S: Final = 0.1
"""The grid: that of the measures."""

SILENT_DB: Final = -115.0
"""Under this a file holds digital silence or its dither: a definition."""


@per_session
def octave_course(context: SessionContext, channel: Channel) -> Floats:
    """(10, T) levels in octaves of what a channel's files hold in every tenth of a second of the song, clip gain on."""
    import numpy as np

    assert context.audio is not None
    begin = first_s(context)
    clips = plain_clips(channel)
    end = min(max((clip.end_s for clip in clips), default=begin), begin + LONGEST_S)
    out = np.full((10, max(0, round((end - begin) / STEP_S))), SILENCE_DB)
    for clip in clips:
        assert clip.file is not None
        measure = context.audio.measure(clip.file)
        if isinstance(measure, Unknown):
            continue
        gain = 0.0 if isinstance(clip.gain_db, Unknown) else clip.gain_db
        first, last = round((clip.start_s - begin) / STEP_S), round((min(clip.end_s, end) - begin) / STEP_S)
        last = min(last, out.shape[1])
        offset = known(clip.offset_s) + begin + first * STEP_S - clip.start_s
        at = np.round((offset + np.arange(max(0, last - first)) * STEP_S) / measure.block_s).astype(np.int64)
        here = (at >= 0) & (at < measure.course.shape[1])
        out[:, first:last][:, here] = measure.course[:, at[here]].astype(np.float64) + gain
    return out
