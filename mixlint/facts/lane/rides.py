"""Rides of a fader against its own habit: a ride that stays away for the rest, a lone spike or dip, ducking that stops.

A lane is read every tenth of a second, where clips sound through its channel. What counts as usual is worked out from
the lane itself; common practice, no source.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import coverage, playing, song_end_s, time_grid
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.lane.lanes import ENDING, SILENT, clips_sounding_through, without_ending
from mixlint.session import FADER, Automation, Channel, control_of
from mixlint.session.control import shown_values
from mixlint.signal.median import median
from mixlint.signal.runs import runs

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Switches = NDArray[np.bool_]

STEP_S: Final = 0.1
MOST_STEPS: Final = 40_000
"""Most readings of a lane: a bound of work; a song of more than an hour is read more coarsely."""

PLATEAU: Final = Setting(
    "rides.plateau", 1.5, "dB", "A fader that stays within this of where it ends has come to its last level."
)
HABIT_BEFORE: Final = Setting(
    "rides.habit_before", 10.0, "s", "So long it must have played before, for a habit to be known."
)
MOST_AFTER: Final = Setting(
    "rides.most_after",
    65.0,
    "%",
    "Where the last level holds for more than this share of the playing time, it is the habit itself.",
    lowest=0.0,
    highest=100.0,
)
GREAT: Final = Setting(
    "rides.great",
    10.0,
    "dB",
    "A move by so much is no other habit of the part, unless nearly all of it is played so.",
    lowest=0.0,
)
MOST_AFTER_GREAT: Final = Setting(
    "rides.most_after_great",
    85.0,
    "%",
    "The same share for a move as great as that.",
    lowest=0.0,
    highest=100.0,
)
KIN_WINDOW: Final = Setting(
    "rides.kin_window", 8.0, "s", "A like part whose fader goes the same way this near in time shows that it is meant."
)
AROUND: Final = Setting(
    "rides.around", 8.0, "s", "A short excursion is told from the middle level of so much of the song around it."
)
EXCURSION: Final = Setting(
    "rides.excursion", 2.0, "s", "An excursion that lasts longer is a ride, and no spike or dip."
)
CLEAR_OF_EDGES: Final = Setting(
    "rides.clear_of_edges", 0.5, "s", "An excursion so near to an edge of what plays is a fade by hand."
)
DUCKED: Final = Setting("rides.ducked", 3.0, "dB", "A fader this far under its upper level is ducked.")
DUCKED_WHILE: Final = Setting(
    "rides.ducked_while",
    80.0,
    "%",
    "A part that plays in this share of the ducked time may be what it ducks for.",
    lowest=0.0,
    highest=100.0,
)

SUNK: Final = Setting(
    "rides.sunk", 10.0, "dB", "A stretch this far or further under the usual level of a fader is sunk.", lowest=0.0
)
LEAST_SUNK: Final = Setting("rides.least_sunk", 6.0, "s", "A stretch has to last so long to be no dip.", lowest=0.0)
CLOSED: Final = Setting(
    "rides.closed", -40.0, "dB", "Under this a fader is closed, as where a part is taken out by hand."
)
RIDE_SETTINGS: Final = (PLATEAU, HABIT_BEFORE, MOST_AFTER, GREAT, MOST_AFTER_GREAT, KIN_WINDOW, ENDING, SILENT)
SUNK_SETTINGS: Final = (SUNK, LEAST_SUNK, CLOSED, SILENT)
EXCURSION_SETTINGS: Final = (AROUND, EXCURSION, CLEAR_OF_EDGES, SILENT)
DUCK_SETTINGS: Final = (DUCKED, DUCKED_WHILE, SILENT)


class Readings(NamedTuple):
    """A level lane over the song.

    Args:
        times: (N,) seconds, evenly spaced.
        levels: (N,) dB, no lower than the setting ``automation.silent``.
        sounding: (N,) True where clips sound through the channel.
    """

    times: Floats
    levels: Floats
    sounding: Switches

    @property
    def step_s(self) -> float:
        """The time between two readings, seconds."""
        return float(self.times[1] - self.times[0]) if self.times.size > 1 else STEP_S


@per_session
def readings(context: SessionContext, channel: Channel, lane: Automation) -> Readings:
    """A fader lane as it is read over the song."""
    import numpy as np

    end = max(song_end_s(context), STEP_S)
    count = int(min(MOST_STEPS, max(2, round(end / STEP_S))))
    edges = np.linspace(0.0, end, count + 1)
    times = (edges[:-1] + edges[1:]) / 2.0
    spans = [(clip.start_s, clip.end_s) for _, clip in clips_sounding_through(context, channel)]
    sounding = coverage(spans, edges) > 0.5 if spans else np.zeros(count, dtype=bool)
    return Readings(times, np.maximum(shown_values(lane, times), context.setting(SILENT)), sounding)


class Stuck(NamedTuple):
    """A ride that stays where it went until the part ends.

    Args:
        db: how far its last level lies outside of where it was before, dB; positive is louder.
        at_s: when it came there, seconds.
        after_s: for how long it plays there, seconds.
    """

    db: float
    at_s: float
    after_s: float


NOT_STUCK: Final = Stuck(0.0, 0.0, 0.0)


@per_session
def stuck_ride(context: SessionContext, channel: Channel, lane: Automation) -> Stuck:
    """How far a fader ends outside of where it stood before, for the rest of what plays.

    0 dB where it was there before, where the last level is its habit, and where a like part goes the same way.
    """
    found = _stuck_alone(context, channel, lane)
    if found.db == 0.0:
        return found
    family = context.family(channel.id)
    for other in context.session.channels:
        if other.id == channel.id or family is None or context.family(other.id) != family:
            continue
        kin = control_of(other, FADER).lane
        if kin is None or kin.scale not in ("dB", "amplitude"):
            continue
        theirs = _stuck_alone(context, other, kin)
        near = abs(theirs.at_s - found.at_s) <= context.setting(KIN_WINDOW)
        if near and theirs.db * found.db > 0.0 and abs(theirs.db) >= abs(found.db) / 2.0:
            return NOT_STUCK
    return found


@per_session
def _stuck_alone(context: SessionContext, channel: Channel, lane: Automation) -> Stuck:
    """The same by the lane alone."""
    import numpy as np

    read = readings(context, channel, lane)
    heard = np.flatnonzero(read.sounding)
    # A ride that was left somewhere is hidden by the fade that the song ends with.
    body = without_ending(context, channel, lane)
    if body is not None:
        heard = heard[read.times[heard] < body.t[-1]]
    if not heard.size:
        return NOT_STUCK
    levels, times = read.levels[heard], read.times[heard]
    away = np.flatnonzero(np.abs(levels - levels[-1]) > context.setting(PLATEAU))
    if not away.size:
        return NOT_STUCK
    first = int(away[-1]) + 1
    before, after_s = levels[: _last_move(levels, first, context.setting(PLATEAU))], (levels.size - first) * read.step_s
    if before.size * read.step_s < context.setting(HABIT_BEFORE):
        return NOT_STUCK
    ordered = np.sort(before)
    low, high = float(ordered[int(0.05 * ordered.size)]), float(ordered[int(0.95 * (ordered.size - 1))])
    last = float(levels[-1])
    outside = last - high if last > high else last - low if last < low else 0.0
    # A fall as great as that is none that the part had before only because it faded in from below.
    fallen = last - float(ordered[int(FADED_IN * ordered.size)])
    great = fallen <= -context.setting(GREAT)
    outside = min(outside, fallen) if great else outside
    most = context.setting(MOST_AFTER_GREAT if great else MOST_AFTER)
    if 100.0 * (levels.size - first) > most * levels.size:
        return NOT_STUCK
    # A slow descent to the very end leaves no plateau of its own; its last reading lies outside by little.
    return Stuck(outside, float(times[first]), after_s) if outside else NOT_STUCK


FADED_IN: Final = 0.25
"""Up to this share of what was played before, a part may have lain lower while it came in: no setting, it tells a fade
from a habit."""


def _last_move(levels: Floats, first: int, near_db: float) -> int:
    """The index at which the move begins that comes to its end at ``first``: readings before it are what was kept.

    What only creeps the same way before, by no more than ``near_db``, is kept as well.
    """
    import numpy as np

    steps = np.diff(levels[: first + 1])
    way = np.sign(levels[-1] - levels[first - 1])
    away = np.flatnonzero(np.sign(steps) != way)
    start = int(away[-1]) + 1 if away.size else 0
    still = np.flatnonzero(np.abs(levels[start:first] - levels[start]) <= near_db)
    return start + int(still[-1]) if still.size else start


class Excursion(NamedTuple):
    """The greatest short excursion of a fader in one direction.

    Args:
        db: how far it goes from the level around it, dB, 0 or more.
        at_s: where, seconds.
        alike: how many excursions of the lane go at least half as far, this one among them.
    """

    db: float
    at_s: float
    alike: int


@per_session
def excursions(context: SessionContext, channel: Channel, lane: Automation) -> tuple[Excursion, Excursion]:
    """The greatest short excursion upwards and that downwards; 0 dB where there is none."""
    read = readings(context, channel, lane)
    away = read.levels - _middle_around(read, context.setting(AROUND))
    return _excursion(context, read, away), _excursion(context, read, -away)


def _excursion(context: SessionContext, read: Readings, away: Floats) -> Excursion:
    """The greatest short excursion of levels that lie so far (N,) over the middle around them."""
    import numpy as np

    longest = max(1, round(context.setting(EXCURSION) / read.step_s))
    margin = max(1, round(context.setting(CLEAR_OF_EDGES) / read.step_s))
    found: list[tuple[float, float]] = []
    for first, last in runs((away > 1.0) & read.sounding):
        around = read.sounding[max(0, first - margin) : last + 1 + margin]
        whole = first - margin >= 0 and last + margin < read.sounding.size and bool(around.all())
        if last - first + 1 <= longest and whole:
            at = first + int(np.argmax(away[first : last + 1]))
            found.append((float(away[at]), float(read.times[at])))
    if not found:
        return Excursion(0.0, 0.0, 0)
    db, at_s = max(found)
    return Excursion(db, at_s, sum(one >= db / 2.0 for one, _ in found))


def _middle_around(read: Readings, around_s: float) -> Floats:
    """The median (N,) of the levels around each reading."""
    import numpy as np

    half = max(1, round(around_s / 2.0 / read.step_s))
    padded = np.pad(read.levels, half, mode="edge")
    windows = np.lib.stride_tricks.sliding_window_view(padded, 2 * half + 1)
    moving = np.flatnonzero(windows.min(axis=1) != windows.max(axis=1))
    middle = read.levels.copy()
    middle[moving] = np.partition(windows[moving], half, axis=1)[:, half]
    return middle


class Sunk(NamedTuple):
    """The one stretch of a part in which its fader lies far under what is usual.

    Args:
        db: how far, dB; 0 where there is none, or more than one.
        start_s, end_s: from when to when, seconds.
    """

    db: float
    start_s: float
    end_s: float


@per_session
def sunk_stretch(context: SessionContext, channel: Channel, lane: Automation) -> Sunk:
    """The one long stretch in which a fader lies far under its usual level, and comes back from.

    A fader that is lowered again and again is ridden so, and one that is closed takes the part out.
    """
    import numpy as np

    read, none = readings(context, channel, lane), Sunk(0.0, 0.0, 0.0)
    shut = read.levels <= context.setting(CLOSED)
    if not (read.sounding & ~shut).any():
        return none
    usual = median(read.levels[read.sounding & ~shut])
    low = read.sounding & (read.levels <= usual - context.setting(SUNK))
    least = max(1, round(context.setting(LEAST_SUNK) / read.step_s))
    # A fader that is shut for most of a stretch takes the part out; one that only touches the bottom is a lost digit.
    found = [
        (first, last)
        for first, last in runs(low)
        if last - first + 1 >= least and 2 * int(shut[first : last + 1].sum()) < last - first + 1
    ]
    up = np.flatnonzero(read.sounding & ~low)
    if len(found) != 1 or not up.size:
        return none
    first, last = found[0]
    if not up[0] < first <= last < up[-1]:
        return none  # the part begins or ends there: a fade, or a ride that does not come back
    depth = usual - median(read.levels[first : last + 1])
    return Sunk(depth, float(read.times[first]), float(read.times[last]))


class Ducking(NamedTuple):
    """A fader that ducks again and again.

    Args:
        times: how often it ducks.
        last_s: when its last duck ends, seconds.
        gap_s: the longest time it plays between two ducks, seconds.
        after_s: for how long it plays after the last, while what it may duck for plays as well, seconds.
        for_whom: ids of the parts it may duck for.
    """

    times: int
    last_s: float
    gap_s: float
    after_s: float
    for_whom: tuple[str, ...]


NO_DUCKING: Final = Ducking(0, 0.0, 0.0, 0.0, ())


@per_session
def _ducked_for(context: SessionContext) -> tuple[tuple[str, ...], Floats]:
    """Ids of the parts that others are ducked for, and whether each plays in each step of the grid (N, T), 1 or 0.

    A part that plays all the time tells nothing of when it is ducked for, unless it is struck each time.
    """
    import numpy as np

    sources = [c for c in context.session.channels if is_source(context, c)]
    ids = tuple(c.id for c in sources if context.family(c.id) in ("vocals", "speech", "drums"))
    rows = [playing(context, one) > 0.0 for one in ids]
    return ids, np.array(rows, dtype=np.float64).reshape(len(ids), time_grid(context).size - 1)


@per_session
def ducking(context: SessionContext, channel: Channel, lane: Automation) -> Ducking:
    """How a fader ducks under other parts over the song, and for how long it no longer does at the end."""
    import numpy as np

    read = readings(context, channel, lane)
    heard = read.levels[read.sounding]
    if not heard.size:
        return NO_DUCKING
    upper = float(np.sort(heard)[int(0.9 * (heard.size - 1))])
    low = (read.levels < upper - context.setting(DUCKED)) & read.sounding
    ducks = runs(low)
    if len(ducks) < 2:
        return NO_DUCKING
    gaps = [int(read.sounding[a[1] + 1 : b[0]].sum()) for a, b in pairwise(ducks)]
    last = ducks[-1][1]
    edges = time_grid(context)
    at = np.clip(np.searchsorted(edges, read.times, side="right") - 1, 0, edges.size - 2)
    ids, plays = _ducked_for(context)
    # How many of the readings lie in each step of the grid: what a part plays of them is one product.
    behind = read.sounding & (np.arange(low.size) > last)
    ducked, after_last = (np.bincount(at[which], minlength=edges.size - 1) for which in (low, behind))
    while_ducked, after_them = plays @ ducked, plays @ after_last
    for_whom, after = [], 0
    for place in np.flatnonzero(100.0 * while_ducked >= context.setting(DUCKED_WHILE) * int(low.sum())):
        if ids[place] != channel.id:
            for_whom.append(ids[place])
            after = max(after, int(after_them[place]))
    return Ducking(len(ducks), float(read.times[last]), max(gaps) * read.step_s, after * read.step_s, tuple(for_whom))
