"""Clip boundaries: where a clip starts or stops in the open, where two meet, and whether that can click.

A boundary clicks when its first or last sample stands off zero and nothing fades it. What counts is the step, in dBFS
at the mix bus: a step no larger than the signal's own moves from sample to sample around it is part of the wave, and a
step at the start that the sound outgrows tenfold within six milliseconds is the attack itself. Where a clip runs on in
the same file there is no join at all.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from mixlint.analysis.context import MID, SessionContext, per_session
from mixlint.analysis.media_use import audio_clips, header
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, Clip, Unknown, is_known, known
from mixlint.units import SILENCE_DB, clock_text, few_text, number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

SHORTEST_FADE: Final = Setting(
    "boundaries.shortest_fade", 1.0, "ms", "A fade as long as this keeps the edge of a clip from clicking."
)
MEETING: Final = Setting(
    "boundaries.meeting", 1.0, "ms", "Two clips with no more than this between them, or over each other, meet."
)
ATTACK_WINDOW: Final = Setting(
    "boundaries.attack_window", 6.0, "ms", "How much of the sound beside an edge is looked at, its attack among it."
)
ATTACK_FACTOR: Final = Setting(
    "boundaries.attack_factor",
    10.0,
    "",
    "How many times a sound must outgrow its first sample within that window for the step to be its attack.",
)
STEPS: Final = (SHORTEST_FADE, MEETING, ATTACK_WINDOW, ATTACK_FACTOR)

RUNS_ON_S: Final = 3e-5
"""A clip that goes on in the same file within this, a sample and a half at 48 kHz, was only split: exporters round."""


class ClipBoundary(NamedTuple):
    """A place where clips start, stop or meet.

    Args:
        at_s: where, seconds of the song.
        kind: the clip starts from silence, stops into it, or two meet.
        before: the clip that stops there.
        after: the clip that starts there.
    """

    at_s: float
    kind: Literal["start", "stop", "join"]
    before: Clip | None
    after: Clip | None


class BoundaryStep(NamedTuple):
    """What a boundary comes to.

    Args:
        boundary: the boundary.
        level_db: the step in dBFS at the mix bus, SILENCE_DB where a fade or the signal leaves none; Unknown where
            it could not be measured.
        fade_given: false where the export gives no fade, so that one may be there all the same.
    """

    boundary: ClipBoundary
    level_db: float | Unknown
    fade_given: bool


def clip_boundaries(context: SessionContext, channel: Channel) -> tuple[ClipBoundary, ...]:
    """The boundaries of a channel's audio clips in order, joins among them; clips merely split have none."""
    clips = sorted(audio_clips(channel), key=lambda c: (c.start_s, c.end_s))
    meeting_s = context.setting(MEETING) / 1000.0
    found: list[ClipBoundary] = []
    last: Clip | None = None
    for clip in clips:
        if last is None or clip.start_s > last.end_s + meeting_s:
            if last is not None:
                found.append(ClipBoundary(last.end_s, "stop", last, None))
            found.append(ClipBoundary(clip.start_s, "start", None, clip))
        elif not _runs_on(last, clip):
            found.append(ClipBoundary(clip.start_s, "join", last, clip))
        if last is None or clip.end_s >= last.end_s:
            last = clip
    if last is not None:
        found.append(ClipBoundary(last.end_s, "stop", last, None))
    return tuple(found)


def _runs_on(before: Clip, after: Clip) -> bool:
    """True when the second clip goes on in the file where the first one stops, at its gain and speed."""
    if before.file is None or before.file != after.file or before.gain_db != after.gain_db:
        return False
    if isinstance(before.offset_s, Unknown) or isinstance(after.offset_s, Unknown):
        return False
    if isinstance(before.speed, Unknown) or before.speed != after.speed:
        return False
    due = before.offset_s + (after.start_s - before.start_s) * before.speed
    return abs(after.offset_s - due) <= RUNS_ON_S


@per_session
def boundary_steps(context: SessionContext, channel: Channel) -> tuple[BoundaryStep, ...]:
    """Every boundary of a channel with its step."""
    found = clip_boundaries(context, channel)
    _read_ahead(context, [side for boundary in found for side in _bare(context, boundary)])
    return tuple(_step(context, channel, boundary) for boundary in found)


def _bare(context: SessionContext, boundary: ClipBoundary) -> list[tuple[Clip, bool]]:
    """The sides of a boundary that no fade covers: the clip, and whether it starts there."""
    before, after = boundary.before, boundary.after
    shortest_s = context.setting(SHORTEST_FADE) / 1000.0
    out_fade = before.fade_out_s if before else 0.0
    in_fade = after.fade_in_s if after else 0.0
    # The later clip may crossfade in before it starts, so that the earlier one is faded too.
    fades_before = boundary.kind == "join" and is_known(in_fade) and in_fade <= -shortest_s
    sides: list[tuple[Clip, bool]] = []
    if before is not None and not (is_known(out_fade) and abs(out_fade) >= shortest_s) and not fades_before:
        sides.append((before, False))
    if after is not None and not (is_known(in_fade) and abs(in_fade) >= shortest_s):
        sides.append((after, True))
    return sides


def _step(context: SessionContext, channel: Channel, boundary: ClipBoundary) -> BoundaryStep:
    """What a boundary of a channel comes to."""
    before, after = boundary.before, boundary.after
    given = (before is None or is_known(before.fade_out_s)) and (after is None or is_known(after.fade_in_s))
    sides = _bare(context, boundary)
    if not sides:
        return BoundaryStep(boundary, SILENCE_DB, given)
    level = _step_db(context, channel, boundary, sides)
    return BoundaryStep(boundary, level, given)


def _step_db(
    context: SessionContext, channel: Channel, boundary: ClipBoundary, sides: list[tuple[Clip, bool]]
) -> float | Unknown:
    """The step from one sample to the next over a boundary, dBFS at the mix bus, as ``sides`` leave it unfaded.

    Returns:
        the step, SILENCE_DB where it is part of the wave or the attack itself; Unknown where the audio cannot be read.
    """
    import numpy as np

    values: list[NDArray[np.float64]] = []
    natural = 0.0
    factor = context.setting(ATTACK_FACTOR)
    for clip, starts in sides:
        read = _beside(context, clip, starts)
        if isinstance(read, Unknown):
            return read
        samples = read * 10.0 ** (_gain_db(context, channel, clip) / 20.0)
        own = float(np.abs(np.diff(samples, axis=1)).max(initial=0.0))
        values.append(samples[:, 0] if starts else samples[:, -1])
        outgrown = float(np.abs(samples).max(initial=0.0)) >= factor * float(np.abs(values[-1]).max(initial=0.0))
        if boundary.kind == "start" and outgrown:
            return SILENCE_DB
        natural = max(natural, own)
    meets = len(values) == 2 and values[0].size == values[1].size and not _overlap(context, boundary)
    jumps = [values[1] - values[0]] if meets else values
    jump = max(float(np.abs(one).max(initial=0.0)) for one in jumps)
    return _db(jump) if jump > natural else SILENCE_DB


def _overlap(context: SessionContext, boundary: ClipBoundary) -> bool:
    """True when the clips do not meet but lie over each other."""
    before, after = boundary.before, boundary.after
    if before is None or after is None:
        return False
    return before.end_s > after.start_s + context.setting(MEETING) / 1000.0


FileStretch = tuple[str, float, float]
"""A file, and a stretch of it in seconds: start and duration."""


@per_session
def _stretch_beside(context: SessionContext, clip: Clip, starts: bool) -> FileStretch | Unknown:
    """The stretch of its file inside a clip beside one of its edges, whole samples long.

    Unknown where the export or the file does not say where it lies.
    """
    if clip.file is None:
        return Unknown(unknown="the session names no file for it", settle="listen to the edge")
    offset, speed = known(clip.offset_s), known(clip.speed)
    rate = known(header(context, clip.file)).sample_rate_hz
    first, last = round(offset * rate), round((offset + (clip.end_s - clip.start_s) * speed) * rate)
    frames = max(1, min(round(context.setting(ATTACK_WINDOW) / 1000.0 * rate), last - first))
    return clip.file, (first if starts else last - frames) / rate, frames / rate


@per_session
def _read(_context: SessionContext) -> dict[FileStretch, NDArray[np.float32] | Unknown]:
    """The stretches read so far."""
    return {}


def _read_ahead(context: SessionContext, sides: list[tuple[Clip, bool]]) -> None:
    """Read what lies beside boundaries, one pass per file: in a packed archive each pass unpacks the file."""
    if context.audio is None:
        return
    read = _read(context)
    wanted: dict[str, list[FileStretch]] = {}
    for clip, starts in sides:
        stretch = _stretch_beside(context, clip, starts)
        if not isinstance(stretch, Unknown) and stretch not in read:
            wanted.setdefault(stretch[0], []).append(stretch)
    for file, stretches in wanted.items():
        found = context.audio.excerpts(file, [(at, long) for _, at, long in stretches])
        if isinstance(found, Unknown):
            read.update(dict.fromkeys(stretches, found))
        else:
            read.update(zip(stretches, found, strict=True))


def _beside(context: SessionContext, clip: Clip, starts: bool) -> NDArray[np.float64] | Unknown:
    """The samples (legs, n) inside a clip beside one of its edges; Unknown where they cannot be had."""
    import numpy as np

    from mixlint.media.meter import LOUDEST

    stretch = _stretch_beside(context, clip, starts)
    if isinstance(stretch, Unknown):
        return stretch
    found = _read(context)[stretch]
    if isinstance(found, Unknown):
        return found
    # What is no number or far beyond any signal is damage, as it is when a file is measured.
    return np.where(np.abs(found) <= LOUDEST, found, 0.0).astype(np.float64)


def _gain_db(context: SessionContext, channel: Channel, clip: Clip) -> float:
    """From the file to the mix bus, dB: clip gain, inserts, faders and pans; what is not known counts as 0 dB."""
    from mixlint.signal.decibel import to_db

    path = float(to_db(float(context.gains_now.sides(channel.id)[0, MID].max())))
    return path + (clip.gain_db if is_known(clip.gain_db) else 0.0)


def _db(amplitude: float) -> float:
    """``amplitude`` re full scale in dBFS, no less than SILENCE_DB."""
    from math import log10

    return max(SILENCE_DB, 20.0 * log10(amplitude)) if amplitude > 0.0 else SILENCE_DB


FACTS: Facts[Channel] = Facts()

NAMED_OVER_DB: Final = -60.0
"""Steps under this are not named, dBFS: wording, since what is judged is the largest."""

_KINDS: Final = {"start": "a start", "stop": "a stop", "join": "a join"}


def _edges(row: Row[Channel]) -> tuple[BoundaryStep, ...]:
    return tuple(s for s in boundary_steps(row.context, row.item) if s.boundary.kind != "join")


def _joins(row: Row[Channel]) -> tuple[BoundaryStep, ...]:
    return tuple(s for s in boundary_steps(row.context, row.item) if s.boundary.kind == "join")


def _level(step: BoundaryStep) -> float:
    """The step's level, dBFS; silence where it could not be measured."""
    return step.level_db if is_known(step.level_db) else SILENCE_DB


def _largest(row: Row[Channel], found: Iterable[BoundaryStep]) -> FactValue:
    """The largest step that was measured, with its place."""
    worst = max((s for s in found if is_known(s.level_db)), key=_level, default=None)
    if worst is None or worst.level_db == SILENCE_DB:
        return FactValue(SILENCE_DB, "measured", row.subject.where)
    clip = worst.boundary.after or worst.boundary.before
    assert clip is not None
    where = clip.where or row.subject.where
    return FactValue(_level(worst), "measured", where, f"at {clock_text(worst.boundary.at_s)}")


def _all_measured(found: Iterable[BoundaryStep]) -> bool:
    for step in found:
        known(step.level_db)
    return True


def _fades_given(found: Iterable[BoundaryStep]) -> bool | Unknown:
    missing = sum(not step.fade_given for step in found)
    if not missing:
        return True
    edges = "one edge" if missing == 1 else f"{missing} edges"
    return Unknown(
        unknown=f"the export gives no fade at {edges}, and some exporters leave out the small fades a program adds",
        settle="listen to the edges, or look at their fades",
    )


def _places(found: Iterable[BoundaryStep]) -> str:
    """Where the steps are that are worth naming, the largest first."""
    loud = sorted((s for s in found if _level(s) > NAMED_OVER_DB), key=_level, reverse=True)
    texts = [
        f"{_KINDS[s.boundary.kind]} at {clock_text(s.boundary.at_s)} ({number_text(_level(s), 'dBFS')})" for s in loud
    ]
    return few_text(texts)


@FACTS.fact(
    "number",
    "The largest step at a clip edge without a fade, at the mix bus.",
    unit="dBFS",
    how="measured",
    settings=STEPS,
)
def edge_step_dbfs(row: Row[Channel]) -> FactValue:
    return _largest(row, (s for s in _edges(row) if s.fade_given))


@FACTS.fact(
    "number",
    "The largest step at a clip edge for which the export gives no fade.",
    unit="dBFS",
    how="measured",
    settings=STEPS,
)
def unsure_edge_dbfs(row: Row[Channel]) -> FactValue:
    return _largest(row, (s for s in _edges(row) if not s.fade_given))


@FACTS.fact("switch", "Every edge that no fade covers was measured.", how="measured", settings=STEPS)
def edges_measured(row: Row[Channel]) -> bool:
    return _all_measured(_edges(row))


@FACTS.fact("switch", "The export gives the fade of every edge.", settings=STEPS)
def edge_fades_given(row: Row[Channel]) -> bool | Unknown:
    return _fades_given(_edges(row))


@FACTS.fact("text", "Where clips start or stop abruptly, the largest step first.", how="measured", settings=STEPS)
def abrupt_edges(row: Row[Channel]) -> str:
    return _places(_edges(row))


@FACTS.fact(
    "number",
    "The largest step where two clips meet without a crossfade.",
    unit="dBFS",
    how="measured",
    settings=STEPS,
)
def join_step_dbfs(row: Row[Channel]) -> FactValue:
    return _largest(row, (s for s in _joins(row) if s.fade_given))


@FACTS.fact(
    "number",
    "The largest step at a join for which the export gives no fade.",
    unit="dBFS",
    how="measured",
    settings=STEPS,
)
def unsure_join_dbfs(row: Row[Channel]) -> FactValue:
    return _largest(row, (s for s in _joins(row) if not s.fade_given))


@FACTS.fact("switch", "Every join that no crossfade covers was measured.", how="measured", settings=STEPS)
def joins_measured(row: Row[Channel]) -> bool:
    return _all_measured(_joins(row))


@FACTS.fact("switch", "The export gives the fades at every join.", settings=STEPS)
def join_fades_given(row: Row[Channel]) -> bool | Unknown:
    return _fades_given(_joins(row))


@FACTS.fact("text", "Where clips meet with a jump, the largest first.", how="measured", settings=STEPS)
def abrupt_joins(row: Row[Channel]) -> str:
    return _places(_joins(row))


@FACTS.fact("number", "How many places there are where two of its clips meet.", how="derived", settings=STEPS)
def joins(row: Row[Channel]) -> int:
    return len(_joins(row))
