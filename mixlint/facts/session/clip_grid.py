"""Whether the clips start on the bars of the session's tempo, or on the bars of another one.

A tempo or a metre that was left as the program had it, or changed after the clips were cut, shows in the clips
themselves: they start a whole number of bars of the true tempo apart. Clips cut by hand start anywhere and show
nothing.
"""

from __future__ import annotations

from bisect import bisect_right
from math import floor, log2
from typing import TYPE_CHECKING, Final, NamedTuple, TypeVar

from mixlint.analysis.activity import has_arrangement, sounding_clips
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Session, Timeline, Unknown, known
from mixlint.session.timeline import Meter, Tempo
from mixlint.units import number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Switches = NDArray[np.bool_]

TimelineChange = TypeVar("TimelineChange", Tempo, Meter)

LEAST_STARTS: Final = Setting(
    "clip_grid.least_starts",
    6.0,
    "",
    "A stretch of one tempo in which fewer clips start at times of their own tells no grid.",
    lowest=4.0,
)
TOLERANCE: Final = Setting(
    "clip_grid.tolerance", 20.0, "ms", "A clip that starts this near to a bar line starts on it.", lowest=1.0
)
SHORTEST: Final = Setting(
    "clip_grid.shortest",
    1.2,
    "s",
    "Clips that start on a grid finer than this start on beats and tell nothing of the bars.",
    lowest=0.5,
)
GRID_SETTINGS: Final = (LEAST_STARTS, TOLERANCE, SHORTEST)

SAME_S: Final = 5e-3
"""Starts this near are one: parts recorded together. Rounding, no setting."""

WHOLE: Final = 5e-3
"""How near to a whole number of beats counts as one, as a share of a beat: rounding of tempos, no setting."""

ENDS: Final = 3
"""The grid is tried with so many of the last starts as its far end, in case one of them is off it: a bound of work."""

MOST_STEPS: Final = 20_000
"""So many steps of one far end are tried at the most: a bound of work, for a marker far behind any song."""

USUAL_BPM: Final = 75.0
"""Of the tempos that fit a grid, the one from here up to twice as much is named: wording."""

METRES: Final = (4, 3, 5, 7, 6, 2)
"""Beats of a bar that a grid is named by, the commonest first: wording."""


class ClipGrid(NamedTuple):
    """How the clips of a stretch of one tempo stand to its bars.

    Args:
        starts: at how many times clips start.
        on_bars: the share of them that lie on the session's bars, or all as far behind them, 0 … 1.
        on_other: the share that lies on the widest grid of another tempo or metre, 0 … 1; 0 without one.
        step_s: the step of that grid, seconds.
        text: the grid and what it fits, for a reader.
        whole_seconds: every start is a whole second, as times typed by hand are.
    """

    starts: int
    on_bars: float
    on_other: float
    step_s: float
    text: str
    whole_seconds: bool


@per_session
def clip_grid(context: SessionContext) -> ClipGrid | Unknown:
    """The stretch of one tempo in which the fewest clips start on a bar; the whole song where none has clips enough.

    Unknown where the session gives no tempo, or the export holds no clips.
    """
    if not has_arrangement(context):
        return Unknown(unknown="the export holds no clips", settle="export it with its clips")
    timeline = known(context.session.timeline)
    starts = clip_starts_s(context)
    bounds = [timeline.seconds(tempo.beat) for tempo in timeline.tempos[1:]]
    stretches: list[list[float]] = [[] for _ in range(len(bounds) + 1)]
    for start in starts:
        stretches[bisect_right(bounds, start + SAME_S)].append(start)
    least = context.setting(LEAST_STARTS)
    enough = [stretch for stretch in stretches if len(stretch) >= least] or [starts]
    return min((_grid(context, timeline, stretch) for stretch in enough), key=lambda grid: grid.on_bars)


@per_session
def clip_starts_s(context: SessionContext) -> list[float]:
    """When clips of the song's parts start, seconds, each time once."""
    found: list[float] = []
    parts = (c for c in context.session.channels if is_source(context, c))
    for start in sorted(start for part in parts for start, _ in sounding_clips(part)):
        if not found or start > found[-1] + SAME_S:
            found.append(start)
    return found


def _grid(context: SessionContext, timeline: Timeline, starts: list[float]) -> ClipGrid:
    import numpy as np

    times = np.array(starts)
    if not starts:
        return ClipGrid(0, 1.0, 0.0, 0.0, "", False)
    near = context.setting(TOLERANCE) / 1000.0
    lined = sum(on_bar(timeline, t, near) for t in starts) / len(starts)
    at = timeline.beat(starts[0])
    bpm = in_force(timeline.tempos, at).bpm
    quarters = in_force(timeline.meters, at).bar_length
    bar_s = quarters * 60.0 / bpm
    on_bars = max(lined, _share(times, bar_s, near))
    whole = bool((np.abs(times - np.round(times)) < 1e-6).all())
    other = widest_grid(context, times, quarters, bpm)
    return ClipGrid(len(starts), on_bars, other.share, other.step_s, other.text, whole)


class OtherGrid(NamedTuple):
    """The widest grid that is not the session's: the share of times on it, 0 … 1, its step in seconds, and in words."""

    share: float
    step_s: float
    text: str


def widest_grid(context: SessionContext, times: Floats, quarters: float, bpm: float) -> OtherGrid:
    """The widest grid on which most of some times lie, and that is none of the session's bars.

    Args:
        context: the session context.
        times: (N,) seconds, rising.
        quarters: quarter notes in a bar.
        bpm: the tempo in force.
    """
    near, bar_s = context.setting(TOLERANCE) / 1000.0, quarters * 60.0 / bpm
    share, step = _widest(times, bar_s, near, context.setting(SHORTEST))
    return OtherGrid(share, step, _text(step, bpm, quarters, bar_s) if share else "")


def in_force(changes: tuple[TimelineChange, ...], at_beat: float) -> TimelineChange:
    """The tempo or metre in force at a beat; before the first beat of the song the first one is."""
    begun = [change for change in changes if change.beat <= at_beat + WHOLE]
    return begun[-1] if begun else changes[0]


def on_bar(timeline: Timeline, at_s: float, near_s: float) -> bool:
    """True when a time lies this near to a bar line; the beginning of the song is one."""
    return at_s <= near_s or timeline.bar(at_s + near_s)[0] != timeline.bar(at_s - near_s)[0]


def on_bars(timeline: Timeline, at_s: Floats, near_s: float) -> Switches:
    """(N,) what :func:`on_bar` says of each of several times in seconds (N,)."""
    import numpy as np

    apart = timeline.bars(at_s + near_s) != timeline.bars(at_s - near_s)
    return np.asarray(np.logical_or(at_s <= near_s, apart))


def _share(times: Floats, step_s: float, near_s: float) -> float:
    """The share (0 … 1) of times (N,) in seconds that lie a whole number of steps behind the first."""
    import numpy as np

    steps = (times - times[0]) / step_s
    return float((np.abs(steps - np.round(steps)) * step_s <= near_s).mean())


def _widest(times: Floats, bar_s: float, near_s: float, shortest_s: float) -> tuple[float, float]:
    """The widest grid on which most starts lie, and that is none of the bars themselves.

    Returns:
        the share of the starts (0 … 1) and the step in seconds; 0 and 0 where there is none.
    """
    import numpy as np

    spans = times[-ENDS:] - times[0]
    tried = [span / np.arange(1, min(int(span / shortest_s), MOST_STEPS) + 1) for span in spans if span > shortest_s]
    if not tried:
        return 0.0, 0.0
    steps = np.concatenate(tried)
    bars = steps / bar_s
    # A grid that a bar holds a whole number of times is one of beats, one of whole bars is the session's own.
    own = np.minimum(np.abs(bars - np.round(bars)) / bars, np.abs(1.0 / bars - np.round(1.0 / bars)) * bars) < WHOLE
    steps = np.sort(steps[~own])[::-1]
    apart = (times - times[0])[None, :] / steps[:, None]
    shares = (np.abs(apart - np.round(apart)) * steps[:, None] <= near_s).mean(axis=1)
    # The last start and the first lie on every grid that is tried; three on one step are no grid yet.
    counted = np.array([len(set(np.round((times - times[0]) / step).tolist())) > ENDS for step in steps])
    shares = np.where(counted, shares, 0.0)
    if not shares.size or shares.max() <= 0.0:
        return 0.0, 0.0
    at = int(np.argmax(shares >= shares.max() - 1e-9))
    return float(shares[at]), float(steps[at])


def _text(step_s: float, bpm: float, quarters: float, bar_s: float) -> str:
    """A grid against the session's bars, and the tempo and metre that it fits, for a reader."""
    # A step is mostly one, two, four … bars, or three, six …: of each kind one tempo lies in an octave.
    tempos = sorted((_usual(bars * quarters * 60.0 / step_s) for bars in (1, 3)), key=lambda one: abs(log2(one / bpm)))
    fits = " or ".join(number_text(round(one, 1)) for one in tempos) + " bpm"
    beats = step_s * bpm / 60.0
    if abs(beats - round(beats)) < WHOLE * max(1.0, beats):
        metre = next((n for n in METRES if round(beats) % n == 0 and n != quarters), None)
        fits += f", or bars of {metre} beats" if metre else ""
    bars = number_text(round(step_s / bar_s, 2))
    return f"{number_text(step_s, 's')} apart, which is {bars} bars at {number_text(bpm, 'bpm')} and fits {fits}"


def _usual(bpm: float) -> float:
    """A tempo doubled or halved until it lies within the octave that starts at :data:`USUAL_BPM`."""
    return float(bpm * 2.0 ** -floor(log2(bpm / USUAL_BPM)))


FACTS: Facts[Session] = Facts()


@FACTS.fact(
    "number",
    "At how many times clips start, in the stretch of one tempo in which the fewest start on a bar.",
    how="derived",
    settings=GRID_SETTINGS,
)
def clip_starts(row: Row[Session]) -> int:
    return known(clip_grid(row.context)).starts


@FACTS.fact(
    "number",
    "How many of them lie on the session's bars, or all as far behind them.",
    unit="%",
    how="derived",
    settings=GRID_SETTINGS,
)
def clips_on_bars(row: Row[Session]) -> float:
    return 100.0 * known(clip_grid(row.context)).on_bars


@FACTS.fact(
    "number",
    "How many of them lie on the bars of another tempo or metre.",
    unit="%",
    how="derived",
    settings=GRID_SETTINGS,
)
def clips_on_other_bars(row: Row[Session]) -> FactValue:
    grid = known(clip_grid(row.context))
    return FactValue(100.0 * grid.on_other, "derived", "", grid.text)


@FACTS.fact("switch", "All of them start on whole seconds.", how="derived", settings=GRID_SETTINGS)
def clips_on_whole_seconds(row: Row[Session]) -> bool:
    return known(clip_grid(row.context)).whole_seconds
