"""Clip edges and joins: where a clip starts or stops in the open, where two meet, and whether that can click.

An edge clicks when its first or last sample stands off zero and nothing fades it. What counts is the step, in dBFS
at the mix bus: a step no larger than the signal's own moves from sample to sample around it is part of the wave, and a
step at the start that the sound outgrows tenfold within six milliseconds is the attack itself. Where a clip runs on in
the same file there is no join at all.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from mixlint.analysis.context import MID, SessionContext, per_session
from mixlint.analysis.media_use import header, in_play
from mixlint.session import Channel, Clip, Unknown, is_known
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

FADED_S: Final = 0.001
"""A fade as long as this keeps an edge from clicking (common practice, no source)."""

MEETING_S: Final = 0.001
"""Two clips nearer than this meet."""

RUNS_ON_S: Final = 3e-5
"""A clip that goes on in the same file within this, a sample and a half at 48 kHz, was only split."""

SEEN_S: Final = 0.006
"""How much of the sound beside an edge is looked at."""

LOUDEST: Final = 1e5
"""Beyond this amplitude (+100 dBFS) a floating-point sample is taken for damage, as it is when a file is measured."""

ATTACK: Final = 10.0
"""How many times the sound must outgrow its first sample for that to be an attack."""


@dataclass(frozen=True, slots=True)
class Edge:
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


@dataclass(frozen=True, slots=True)
class Step:
    """What an edge comes to.

    Args:
        edge: the edge.
        level_db: the step in dBFS at the mix bus, SILENCE_DB where a fade or the signal leaves none; Unknown where
            it could not be measured.
        fade_told: false where the export gives no fade, so that one may be there all the same.
    """

    edge: Edge
    level_db: float | Unknown
    fade_told: bool


def edges(channel: Channel) -> tuple[Edge, ...]:
    """The edges of a channel's audio clips in order, joins among them; clips merely split have none."""
    clips = sorted(
        (c for c in channel.clips if c.plays == "audio" and in_play(channel, c)), key=lambda c: (c.start_s, c.end_s)
    )
    found: list[Edge] = []
    last: Clip | None = None
    for clip in clips:
        if last is None or clip.start_s > last.end_s + MEETING_S:
            if last is not None:
                found.append(Edge(last.end_s, "stop", last, None))
            found.append(Edge(clip.start_s, "start", None, clip))
        elif not _runs_on(last, clip):
            found.append(Edge(clip.start_s, "join", last, clip))
        if last is None or clip.end_s >= last.end_s:
            last = clip
    if last is not None:
        found.append(Edge(last.end_s, "stop", last, None))
    return tuple(found)


def _runs_on(before: Clip, after: Clip) -> bool:
    if before.file is None or before.file != after.file or before.gain_db != after.gain_db:
        return False
    if isinstance(before.offset_s, Unknown) or isinstance(after.offset_s, Unknown):
        return False
    if isinstance(before.speed, Unknown) or before.speed != after.speed:
        return False
    meant = before.offset_s + (after.start_s - before.start_s) * before.speed
    return abs(after.offset_s - meant) <= RUNS_ON_S


@per_session
def steps(context: SessionContext, channel: Channel) -> tuple[Step, ...]:
    """Every edge of a channel with its step."""

    found = edges(channel)
    _read_ahead(context, [side for edge in found for side in _bare(edge)])
    return tuple(_step(context, channel, edge) for edge in found)


def _bare(edge: Edge) -> list[tuple[Clip, bool]]:
    """The sides of an edge that no fade covers: the clip, and whether it starts there."""
    out_fade = edge.before.fade_out_s if edge.before else 0.0
    in_fade = edge.after.fade_in_s if edge.after else 0.0
    sides: list[tuple[Clip, bool]] = []
    if edge.before is not None and not _long_enough(out_fade) and not _fades_before(in_fade, edge):
        sides.append((edge.before, False))
    if edge.after is not None and not _long_enough(in_fade):
        sides.append((edge.after, True))
    return sides


def _step(context: SessionContext, channel: Channel, edge: Edge) -> Step:
    import numpy as np

    told = (edge.before is None or is_known(edge.before.fade_out_s)) and (
        edge.after is None or is_known(edge.after.fade_in_s)
    )
    sides = _bare(edge)
    if not sides:
        return Step(edge, SILENCE_DB, told)
    values: list[NDArray[np.float64]] = []
    natural = 0.0
    for clip, starts in sides:
        seen = _beside(context, clip, starts)
        if isinstance(seen, Unknown):
            return Step(edge, seen, told)
        samples = seen * 10.0 ** (_gain_db(context, channel, clip) / 20.0)
        own = float(np.abs(np.diff(samples, axis=1)).max(initial=0.0))
        values.append(samples[:, 0] if starts else samples[:, -1])
        outgrown = float(np.abs(samples).max(initial=0.0)) >= ATTACK * float(np.abs(values[-1]).max(initial=0.0))
        if edge.kind == "start" and outgrown:
            return Step(edge, SILENCE_DB, told)
        natural = max(natural, own)
    meets = len(values) == 2 and values[0].size == values[1].size and not _overlap(edge)
    jumps = [values[1] - values[0]] if meets else values
    jump = max(float(np.abs(one).max(initial=0.0)) for one in jumps)
    return Step(edge, _db(jump) if jump > natural else SILENCE_DB, told)


def _long_enough(fade_s: float | Unknown) -> bool:
    return is_known(fade_s) and abs(fade_s) >= FADED_S


def _fades_before(in_fade: float | Unknown, edge: Edge) -> bool:
    """True when the later clip crossfades in before it starts, so that the earlier one is faded too."""
    return edge.kind == "join" and is_known(in_fade) and in_fade <= -FADED_S


def _overlap(edge: Edge) -> bool:
    """True when the clips do not meet but lie over each other."""
    return edge.before is not None and edge.after is not None and edge.before.end_s > edge.after.start_s + MEETING_S


Stretch = tuple[str, float, float]
"""A file, and a stretch of it in seconds: start and duration."""


def _stretch(context: SessionContext, clip: Clip, starts: bool) -> Stretch | Unknown:
    """The stretch of its file inside a clip beside one of its edges, whole samples long."""
    if clip.file is None:
        return Unknown(unknown="the session names no file for it", settle="listen to the edge")
    if isinstance(clip.offset_s, Unknown):
        return clip.offset_s
    if isinstance(clip.speed, Unknown):
        return clip.speed
    said = header(context, clip.file)
    if isinstance(said, Unknown):
        return said
    rate = said.sample_rate_hz
    first, last = round(clip.offset_s * rate), round((clip.offset_s + (clip.end_s - clip.start_s) * clip.speed) * rate)
    frames = max(1, min(round(SEEN_S * rate), last - first))
    return clip.file, (first if starts else last - frames) / rate, frames / rate


@per_session
def _heard(_context: SessionContext) -> dict[Stretch, NDArray[np.float32] | Unknown]:
    """The stretches read so far."""
    return {}


def _read_ahead(context: SessionContext, sides: list[tuple[Clip, bool]]) -> None:
    """Read what lies beside edges, one pass per file: in a packed archive each pass unpacks the file."""
    if context.audio is None:
        return
    known = _heard(context)
    wanted: dict[str, list[Stretch]] = {}
    for clip, starts in sides:
        stretch = _stretch(context, clip, starts)
        if not isinstance(stretch, Unknown) and stretch not in known:
            wanted.setdefault(stretch[0], []).append(stretch)
    for file, stretches in wanted.items():
        found = context.audio.excerpts(file, [(at, long) for _, at, long in stretches])
        if isinstance(found, Unknown):
            known.update(dict.fromkeys(stretches, found))
        else:
            known.update(zip(stretches, found, strict=True))


def _beside(context: SessionContext, clip: Clip, starts: bool) -> NDArray[np.float64] | Unknown:
    """The samples (legs, n) inside a clip beside one of its edges; Unknown where they cannot be had."""
    import numpy as np

    stretch = _stretch(context, clip, starts)
    if isinstance(stretch, Unknown):
        return stretch
    found = _heard(context)[stretch]
    if isinstance(found, Unknown):
        return found
    # What is no number or far beyond any signal is damage, and is told as such elsewhere.
    return np.where(np.abs(found) <= LOUDEST, found, 0.0).astype(np.float64)


def _gain_db(context: SessionContext, channel: Channel, clip: Clip) -> float:
    """From the file to the mix bus: clip gain, inserts, faders and pans; what is not known counts as 0 dB."""
    from mixlint.signal.decibel import to_db

    way = float(to_db(float(context.gains_now.sides(channel.id)[0, MID].max())))
    return way + (clip.gain_db if is_known(clip.gain_db) else 0.0)


def _db(amplitude: float) -> float:
    from math import log10

    return max(SILENCE_DB, 20.0 * log10(amplitude)) if amplitude > 0.0 else SILENCE_DB
