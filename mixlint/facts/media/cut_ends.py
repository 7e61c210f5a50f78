"""Files that begin or end in the middle of sound: the first or the last note was cut off when they were made."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Final

from mixlint.analysis.media_use import MediaUse, audio_clips
from mixlint.analysis.mix_prints import is_set_of_stems
from mixlint.analysis.played_stretches import Played
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.media.heard import played, players
from mixlint.session import Channel, Clip, Timeline
from mixlint.units import SILENCE_DB, number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

FACTS: Facts[MediaUse] = Facts()

EDGE_CELLS: Final = 3
BESIDE_CELLS: Final = 30
"""The first 30 ms are held against the 270 ms behind them, and the last ones against those before."""

GOES_ON_DB: Final = 4.0
"""Sound that is cut is as loud on the other side of the edge: what begins or dies there changes by more."""

STEP: Final = 0.15
"""The sample at the edge, in peaks of the 30 ms: sound that was let out or begins by itself is near zero there."""

LOUD_DB: Final = 25.0
EDGE_S: Final = 0.05
JOIN_S: Final = 0.1
BEATS_S: Final = 0.01


def _edge_db(one: Played, *, end: bool) -> float:
    """How loud a file is where it is cut off, dBFS; −200 where it is not."""
    import numpy as np

    from mixlint.media.measure import decibels

    measure = one.measure
    peak = measure.peak.max(axis=0)
    sounding = peak[peak > 0.0]
    # The last cells of a measure lie behind the end of the file: its last block is filled up with silence.
    count = min(peak.size, int(measure.frames / measure.header.sample_rate_hz / measure.cell_s))
    peak = peak[:count][::-1] if end else peak[:count]
    if peak.size < EDGE_CELLS + BESIDE_CELLS or not sounding.size:
        return SILENCE_DB
    loud = decibels(float(np.quantile(sounding, 0.95)))
    at_edge: NDArray[np.float32] = peak[:EDGE_CELLS]
    edge, beside = (decibels(float(np.median(part))) for part in (at_edge, peak[EDGE_CELLS:BESIDE_CELLS]))
    sample = max(abs(value) for value in (measure.last if end else measure.first))
    cut = sample >= STEP * float(at_edge.max()) and abs(edge - beside) <= GOES_ON_DB and edge >= loud - LOUD_DB
    return edge if cut else SILENCE_DB


@FACTS.fact(
    "number",
    "How loud it begins, where it begins in the middle of sound and a clip plays it from there; −200 where not.",
    unit="dBFS",
    how="measured",
)
def begins_cut_dbfs(row: Row[MediaUse]) -> float:
    one = played(row)
    if not any(part.start_s <= EDGE_S for part in one.parts) or _is_a_loop(row, one):
        return SILENCE_DB
    return _edge_db(one, end=False)


@FACTS.fact(
    "number",
    "How loud it ends, where it ends in the middle of sound and a clip plays it to its end with none behind; −200 "
    "where not.",
    unit="dBFS",
    how="measured",
)
def ends_cut_dbfs(row: Row[MediaUse]) -> FactValue:
    one = played(row)
    end = one.measure.frames / one.measure.header.sample_rate_hz
    joined = {
        id(first)
        for channel in players(row)
        for first, second in pairwise(_in_order(channel))
        if second.start_s - first.end_s < JOIN_S
    }
    last = [part for part in one.parts if part.followed and part.end_s >= end - EDGE_S and id(part.clip) not in joined]
    if not last or _is_a_loop(row, one):
        return FactValue(SILENCE_DB, "measured", row.subject.where)
    return FactValue(_edge_db(one, end=True), "measured", row.subject.where, one.place(row.context, end - 1e-3))


@FACTS.fact("text", "Which of its ends is cut in the middle of sound, and how loud it is there.", how="measured")
def cut_ends_text(row: Row[MediaUse]) -> str:
    begins, ends = row.need("begins_cut_dbfs").number, row.need("ends_cut_dbfs").number
    texts = [f"it begins at {number_text(begins, 'dBFS')}"] if begins > SILENCE_DB else []
    texts += [f"it ends at {number_text(ends, 'dBFS')}"] if ends > SILENCE_DB else []
    return " and ".join(texts) or "it is whole"


@FACTS.fact("switch", "It is one of a folder of stems.", how="derived")
def is_stem(row: Row[MediaUse]) -> bool:
    return is_set_of_stems(row.context)


def _in_order(channel: Channel) -> list[Clip]:
    return sorted(audio_clips(channel), key=lambda clip: clip.start_s)


def _is_a_loop(row: Row[MediaUse], one: Played) -> bool:
    """True for a file that lasts whole bars of four, or is played more than once from its beginning."""
    if sum(part.start_s <= EDGE_S for part in one.parts) > 1:
        return True
    timeline = row.context.session.timeline
    if not isinstance(timeline, Timeline):
        return False
    length = one.measure.frames / one.measure.header.sample_rate_hz
    start = one.parts[0].clip.start_s
    beats = timeline.beat(start + length) - timeline.beat(start)
    whole = round(beats / 4.0) * 4.0
    return whole > 0 and abs(beats - whole) * length / beats <= BEATS_S
