"""What a known gate does to the recording it is fed: whether it stays shut over words, and whether it shuts in rests.

Its part is read in peaks of ten milliseconds behind clip gains and the known gains before it. A gate counts as open
while anything within the last tenth of a second came over its threshold: hold and release are seldom in an export.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mixlint.analysis.activity import clips_on
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.insert.processing import HIDDEN, ChannelInsert
from mixlint.routing import acting_inserts
from mixlint.session import Unknown, is_known, known

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FACTS: Facts[ChannelInsert] = Facts()

HELD_CELLS: Final = 10
"""Cells over which a gate is taken to stay open, a tenth of a second: a definition."""

LOUD_PERCENT: Final = 95.0
"""The level that is exceeded in a twentieth of the time stands for how loud a part is: a definition."""

WORDS: Final = Setting(
    "gating.words",
    20.0,
    "dB",
    "What lies no further than this under the loud notes of a part belongs to it.",
    lowest=6.0,
)
RESTS: Final = Setting(
    "gating.rests", 30.0, "dB", "What lies further than this under them is a rest with its noise.", lowest=12.0
)
LEAST_REST_S: Final = 1.0
"""With fewer seconds of rests nothing tells whether a gate shuts in them."""

CELL_S: Final = 0.01
SETTINGS: Final = (WORDS, RESTS)


@per_session
def _levels(context: SessionContext, at: ChannelInsert) -> tuple[Floats, Floats] | Unknown:
    """The peaks (N,) that reach a gate cell by cell, each held for a tenth of a second, and what lies around, dBFS.

    The first looks back alone, as a gate does; the second to both sides, as a listener tells a word from a rest.
    """
    import numpy as np

    if context.audio is None:
        return NOT_OPENED
    if not is_source(context, at.channel):
        return Unknown(unknown="it works on a sum of parts", settle="watch its light through the song")
    gain = 0.0
    for place, insert in acting_inserts(at.channel).items():
        if place >= at.place:
            break
        own = insert.equalizer
        if own is None or not is_known(own.input_gain_db) or not is_known(own.output_gain_db):
            return Unknown(unknown=f"{insert.name or 'a processor'} before it may change the level")
        gain += own.input_gain_db + own.output_gain_db
    found = []
    for clip in clips_on(at.channel):
        if clip.file is None or not is_known(clip.offset_s) or not is_known(clip.gain_db) or clip.speed != 1.0:
            return Unknown(unknown="not every clip can be followed", settle="watch its light through the song")
        measure = context.audio.measure(clip.file)
        if isinstance(measure, Unknown):
            return measure
        first = max(0, round(clip.offset_s / measure.cell_s))
        last = round((clip.offset_s + clip.end_s - clip.start_s) / measure.cell_s)
        cells = measure.peak[:, first:last].max(axis=0).astype(np.float64)
        found.append(cells * 10.0 ** ((clip.gain_db + gain) / 20.0))
    peaks = np.concatenate(found) if found else np.zeros(0)
    if peaks.size <= 2 * HELD_CELLS:
        return Unknown(unknown="no audio clip plays on it")
    back = np.pad(peaks, (HELD_CELLS - 1, 0))
    both = np.pad(peaks, (HELD_CELLS // 2, HELD_CELLS // 2))
    window = np.lib.stride_tricks.sliding_window_view
    held = window(back, HELD_CELLS).max(axis=1)
    around = window(both, HELD_CELLS + 1).max(axis=1)
    floor = 1e-9
    return 20.0 * np.log10(np.maximum(held, floor)), 20.0 * np.log10(np.maximum(around, floor))


def _opens_over(row: Row[ChannelInsert]) -> float:
    """The level over which a gate opens, dBFS."""
    own = known(row.item.insert.dynamics or HIDDEN)
    if row.holds("keyed"):
        known(Unknown(unknown="another channel opens it"))
    return known(own.threshold_db) - known(own.input_gain_db)


@FACTS.fact(
    "number",
    "The share of its part's notes and words, by their level, in which a gate stays shut.",
    unit="%",
    how="measured",
    settings=SETTINGS,
)
def shut_over_words_percent(row: Row[ChannelInsert]) -> FactValue:
    import numpy as np

    held, around = known(_levels(row.context, row.item))
    words = around >= np.percentile(around, LOUD_PERCENT) - row.context.setting(WORDS)
    return FactValue(float(100.0 * np.mean(held[words] < _opens_over(row))), "measured", row.subject.where)


@FACTS.fact(
    "number",
    "The share of its part's rests, by their level, in which a gate stands open.",
    unit="%",
    how="measured",
    settings=SETTINGS,
)
def open_in_rests_percent(row: Row[ChannelInsert]) -> FactValue | Unknown:
    import numpy as np

    held, around = known(_levels(row.context, row.item))
    loud = float(np.percentile(around, LOUD_PERCENT))
    rests = (around < loud - row.context.setting(RESTS)) & (held < loud - row.context.setting(RESTS))
    if rests.sum() * CELL_S < LEAST_REST_S:
        return Unknown(unknown="its part hardly rests")
    noise = float(np.median(held[rests]))
    note = f"its rests lie at {noise:.0f} dBFS"
    return FactValue(float(100.0 * np.mean(held[rests] >= _opens_over(row))), "measured", row.subject.where, note)
