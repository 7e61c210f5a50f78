"""Clips that begin or end inside a sound: the recording goes on as loud on the other side of the cut.

Editors cut in rests, right before an attack, or where a new one begins; where they stop a note on purpose, they fade
it, or cut several parts at one time. What is left is a clip whose edge was dragged a little too far: the beginning of a
word is gone, or the end of a note. A recording is looked at in its peaks of ten milliseconds on either side.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import audio_clips
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.track.clip_boundaries import MEETING, clip_boundaries
from mixlint.session import Channel, Clip, Timeline, Unknown, is_known, known
from mixlint.units import SILENCE_DB, few_text, number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media import Measure

FACTS: Facts[Channel] = Facts()

GOES_ON: Final = Setting(
    "cut_notes.goes_on",
    150.0,
    "ms",
    "So long a sound has to go on beyond a cut to be cut.",
    lowest=50.0,
    highest=1000.0,
)
AS_LOUD: Final = Setting(
    "cut_notes.as_loud", 8.0, "dB", "What lies further than this under the sound before the cut has died away."
)
ONSET: Final = Setting("cut_notes.onset", 4.0, "dB", "A rise by this within 30 ms beside a cut is a new sound.")
LOUD_ENOUGH: Final = Setting(
    "cut_notes.loud_enough",
    18.0,
    "dB",
    "What lies further than this under the loudest of its recording is spill or breath.",
)
QUIETEST: Final = Setting("cut_notes.quietest", -45.0, "dBFS", "What peaks under this is nobody's word.")
ON_PURPOSE: Final = Setting(
    "cut_notes.on_purpose", 30.0, "ms", "An edge with a fade as long as this was cut so on purpose."
)
TOGETHER: Final = Setting(
    "cut_notes.together", 30.0, "ms", "Edges of two more channels this close show that all are stopped on purpose."
)
SETTINGS: Final = (GOES_ON, AS_LOUD, ONSET, LOUD_ENOUGH, QUIETEST, ON_PURPOSE, TOGETHER, MEETING)

RUN: Final = 3
"""Cells over which a peak is held, so that the wave of a low note makes no dips: a definition."""

HABIT: Final = 5
HABIT_SHARE: Final = 0.5
"""So many edges inside sounds, and this share of all, are no slips: the part is chopped, or gated by its clips."""

OTHERS: Final = 2
"""So many other channels make a stop that is arranged."""

GRID_S: Final = 0.003
"""An edge this close to a bar line was set on it, seconds: samples and beds are cut so."""


class CutNote(NamedTuple):
    """An edge inside a sound: which one, when, and how loud the recording goes on beyond it, dBFS."""

    starts: bool
    clip: Clip
    at_s: float
    dbfs: float


@per_session
def _edges(context: SessionContext) -> tuple[list[tuple[float, str]], list[tuple[float, str]]]:
    """When clips start, and when they stop, in order, with the channel of each."""
    starts, stops = [], []
    for channel in context.session.channels:
        for clip in audio_clips(channel):
            starts.append((clip.start_s, channel.id))
            stops.append((clip.end_s, channel.id))
    return sorted(starts), sorted(stops)


def _arranged(context: SessionContext, channel: Channel, at_s: float, starts: bool) -> bool:
    """True for an edge at which others start or stop as well, or which lies on a bar line."""
    near = context.setting(TOGETHER) / 1000.0
    edges = _edges(context)[0 if starts else 1]
    found = edges[bisect_left(edges, (at_s - near, "")) : bisect_right(edges, (at_s + near, "\U0010ffff"))]
    if len({one for _, one in found} - {channel.id}) >= OTHERS:
        return True
    timeline = context.session.timeline
    return isinstance(timeline, Timeline) and timeline.bar(at_s - GRID_S)[0] != timeline.bar(at_s + GRID_S)[0]


@per_session
def cut_notes(context: SessionContext, channel: Channel) -> tuple[CutNote, ...] | Unknown:
    """The edges of a channel's clips that lie inside a sound; Unknown without audio."""
    if context.audio is None:
        return Unknown(unknown="the audio was not opened", settle="listen to the beginnings and ends of its clips")
    found: list[CutNote] = []
    last, asked = SILENCE_DB, 0
    for boundary in clip_boundaries(context, channel):
        if boundary.kind == "join":
            last = boundary.at_s
            continue
        starts = boundary.kind == "start"
        clip = boundary.after if starts else boundary.before
        assert clip is not None
        close = starts and boundary.at_s - last < context.setting(GOES_ON) / 1000.0
        if not starts:
            last = boundary.at_s
        if close or clip.file is None or not is_known(clip.offset_s) or clip.speed != 1.0:
            continue
        fade = clip.fade_in_s if starts else clip.fade_out_s
        if is_known(fade) and fade * 1000.0 >= context.setting(ON_PURPOSE):
            continue
        measure = context.audio.measure(clip.file)
        if isinstance(measure, Unknown):
            return measure
        asked += 1
        level = _goes_on(context, measure, clip, starts)
        if level is not None and not _arranged(context, channel, boundary.at_s, starts):
            found.append(CutNote(starts, clip, boundary.at_s, level))
    if len(found) >= HABIT and len(found) >= HABIT_SHARE * asked:
        return ()
    return tuple(found)


def _goes_on(context: SessionContext, measure: Measure, clip: Clip, starts: bool) -> float | None:
    """How loud at least a recording goes on beyond an edge of a clip, dBFS; None where it does not."""
    import numpy as np

    peak = measure.peak.max(axis=0)
    offset = known(clip.offset_s)
    begin, end = (round(at / measure.cell_s) for at in (offset, offset + clip.end_s - clip.start_s))
    long = round(context.setting(GOES_ON) / 1000.0 / measure.cell_s)
    edge = begin if starts else end
    around = peak[max(0, edge - long - 1) : edge + long + 1]
    if edge - long < 1 or edge + long + 1 > peak.size or around.size < 2 * long:
        return None  # the recording begins or ends there
    held = np.lib.stride_tricks.sliding_window_view(around, RUN).max(axis=1)
    middle = held.size // 2
    before, after = held[: middle - 1], held[middle + 1 :]
    within, beyond = (after, before) if starts else (before, after)
    least = float(beyond.min())
    own, loudest = float(within.max()), float(peak.max())
    floor = max(
        own * 10.0 ** (-context.setting(AS_LOUD) / 20.0),
        loudest * 10.0 ** (-context.setting(LOUD_ENOUGH) / 20.0),
        10.0 ** (context.setting(QUIETEST) / 20.0),
    )
    if least < floor or least > own * 10.0 ** (context.setting(AS_LOUD) / 20.0):
        return None
    if _rises(held, context.setting(ONSET)):
        return None
    return float(20.0 * np.log10(least))


def _rises(held: NDArray[np.float32], onset_db: float) -> bool:
    """True where peaks (n,) rise by an onset within three cells."""
    import numpy as np

    rise = held[RUN:] / np.maximum(held[:-RUN], 1e-9)
    return bool(rise.max(initial=0.0) >= 10.0 ** (onset_db / 20.0))


@FACTS.fact(
    "number",
    "How many edges of its clips lie inside a sound that goes on beyond them: beginnings and ends that are cut off.",
    how="measured",
    settings=SETTINGS,
)
def edges_inside_sounds(row: Row[Channel]) -> FactValue:
    found = known(cut_notes(row.context, row.item))
    texts = [
        f"{'the start' if one.starts else 'the end'} in {moment_text(row.context, one.at_s)} "
        f"(its recording goes on at {number_text(one.dbfs, 'dBFS')})"
        for one in sorted(found, key=lambda one: -one.dbfs)
    ]
    return FactValue(len(found), "measured", row.subject.where, few_text(texts, between="; "))
