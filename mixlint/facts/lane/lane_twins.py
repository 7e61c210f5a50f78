"""Lanes of two channels that were written as one: the same moves by the same values, from beginning to end.

The faders of two microphones on a piano, of two violins, of the choir's halves are ridden together, and the lane of the
one is a copy of the other's. Where all of it lies seconds later, where one of its moves is missing, or where its points
are there and its moves are not, the copy was dragged or a pass was undone on one of them.
"""

from __future__ import annotations

from bisect import bisect_left
from itertools import pairwise
from operator import attrgetter
from typing import TYPE_CHECKING, Final, NamedTuple, TypeAlias

from mixlint.analysis.activity import any_within, moment_text, overlap_share
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import audio_clips
from mixlint.analysis.named_pairs import paired_by_name
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import ChannelLane
from mixlint.facts.lane.settling import point_values
from mixlint.facts.lane.turns import AT_ONCE, Key, Written, key_of, plays_at, turns, written
from mixlint.naming import pair_kind
from mixlint.session import FADER, Automation, Channel, control_of, is_known
from mixlint.session.control import ON, is_readable, moves, shown_values
from mixlint.units import number_text

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    import numpy as np
    from numpy.typing import NDArray

FACTS: Facts[ChannelLane] = Facts()

FARTHEST: Final = Setting(
    "lane_twins.farthest",
    15.0,
    "s",
    "A lane that lies further behind another is written for another place.",
    lowest=1.0,
)
LEAST_LATE: Final = Setting(
    "lane_twins.least_late", 0.3, "s", "A lane that lies so far behind another comes late.", lowest=0.1
)
LEAST_TRIM: Final = Setting(
    "lane_twins.least_trim", 4.5, "dB", "So far under its twin a half of an instrument has been moved.", lowest=1.0
)
TWIN_SETTINGS: Final = (FARTHEST, LEAST_LATE, LEAST_TRIM, AT_ONCE)

AT_ONCE_S: Final = 0.06
"""Points this near to each other are one: no setting, exporters round to hundredths."""

SAME_VALUE: Final = 0.11
"""Moves that differ by no more are one: no setting, exporters round to tenths."""

LEAST_MOVES: Final = 2
LEAST_SWITCHED: Final = 4
"""So many moves in common make a pattern; of a switch, which knows but two values, more. No settings: what decides is
that nothing else differs."""

SAME_SHARE: Final = 0.8
"""The two halves of an instrument play all the time together: no setting, of other parts nothing is asked."""

AGREES: Final = "agrees"


class Step(NamedTuple):
    """A move of a lane: when it comes to its end, seconds, and by how much it goes."""

    at_s: float
    by: float


def _steps(lane: Automation) -> list[Step]:
    points = list(zip(lane.t, point_values(lane).tolist(), strict=True))
    return [Step(end, after - before) for (_, before), (end, after) in pairwise(points) if abs(after - before) > 1e-6]


@per_session
def _steps_of(_: SessionContext, lane: Automation) -> tuple[Step, ...]:
    """The moves of a lane by their values."""
    return tuple(_steps(lane)) if is_readable(lane) else ()


def _beside(context: SessionContext, channel: Channel, lane: Automation) -> Iterator[Written]:
    """The readable lanes of other channels on the same bus that move the same, and may have been written as one."""
    key = key_of(channel, lane)
    several = _on_the_bus(context).get((key, channel.output)) if key is not None else None
    for one in several.near(context, lane) if several is not None else ():
        if one.channel.id != channel.id:
            yield one


_ByLength: TypeAlias = "dict[int, tuple[NDArray[np.intp], NDArray[np.float64]]]"
"""Length of a row → the places of those that are so long, and these as a matrix."""


class _Lanes(NamedTuple):
    """Readable lanes that move the same on one bus, so that those which may be copies of one are told all at once.

    Args:
        lanes: the lanes.
        lengths: (N,) how many points each has.
        steps, times, points: by how much they step, when their points are, and where these lie over the first.
    """

    lanes: list[Written]
    lengths: NDArray[np.intp]
    steps: _ByLength
    times: _ByLength
    points: _ByLength

    def near(self, context: SessionContext, lane: Automation) -> list[Written]:
        """Those that a lane may have been written with.

        They make the same steps, or have the same points but for a plateau, or have more points; one that stands still
        may have been written with any.
        """
        import numpy as np

        near = (self.lengths > len(lane.t)) | (not moves(lane))
        steps = np.array([step.by for step in _steps_of(context, lane)])
        if steps.size in self.steps and steps.size:
            places, theirs = self.steps[steps.size]
            near[places] |= (np.abs(theirs - steps) <= SAME_VALUE).all(axis=1)
        if len(lane.t) in self.points:
            places, theirs = self.points[len(lane.t)]
            points = np.array([point.by for point in _points(context, lane)])
            few = (np.abs(theirs - points) > SAME_VALUE).sum(axis=1) <= MOST_LOST
            near[places] |= few & (np.abs(self.times[len(lane.t)][1] - np.array(lane.t)) <= AT_ONCE_S).all(axis=1)
        return [self.lanes[at] for at in np.flatnonzero(near)]


@per_session
def _on_the_bus(context: SessionContext) -> dict[tuple[Key, object], _Lanes]:
    """What is moved, and where its channel goes → the readable lanes that move it."""
    import numpy as np

    found: dict[tuple[Key, object], list[Written]] = {}
    for key, several in written(context).items():
        for one in several:
            if is_readable(one.lane):
                found.setdefault((key, one.channel.output), []).append(one)
    return {
        where: _Lanes(
            lanes,
            np.array([len(one.lane.t) for one in lanes]),
            _by_length([[step.by for step in _steps_of(context, one.lane)] for one in lanes]),
            _by_length([list(one.lane.t) for one in lanes]),
            _by_length([[point.by for point in _points(context, one.lane)] for one in lanes]),
        )
        for where, lanes in found.items()
    }


def _by_length(rows: list[list[float]]) -> _ByLength:
    import numpy as np

    places: dict[int, list[int]] = {}
    for at, row in enumerate(rows):
        places.setdefault(len(row), []).append(at)
    return {length: (np.array(of), np.array([rows[at] for at in of])) for length, of in places.items()}


@per_session
def apart_from_twin(context: SessionContext, channel: Channel, lane: Automation) -> str | None:
    """How a lane differs from the one that it was written with, for a reader; None where it does not."""
    if not is_readable(lane) or not is_audible(context, channel):
        return None
    own = _steps_of(context, lane)
    for one in _beside(context, channel, lane):
        if not is_audible(context, one.channel):
            continue
        theirs = _steps_of(context, one.lane)
        name = context.name(one.channel.id)
        found = (
            _late(context, channel, own, one, theirs)
            or _lacking(context, channel, lane, one, own)
            or _odd_value(context, channel, lane, one)
            or _flat(context, channel, lane, one)
        )
        if found:
            return found.format(name=name)
        by = _trimmed(context, channel, lane, own, one, theirs)
        if by:
            return f"stands {number_text(by, 'dB')} under that of {name} from beginning to end, with the same moves"
    return None


def _late(
    context: SessionContext, channel: Channel, own: tuple[Step, ...], one: Written, theirs: tuple[Step, ...]
) -> str | None:
    """Where all moves of a lane come later or sooner by one time; told on the second of the two in desk order."""
    if len(own) != len(theirs) or not own or not _same(own, theirs):
        return None
    named = pair_kind(channel.name, one.channel.name, context.house.vocabulary)
    if len(own) < (LEAST_MOVES if named is None else 1):
        return None
    lags = [mine.at_s - other.at_s for mine, other in zip(own, theirs, strict=True)]
    lag = lags[0]
    if max(lags) - min(lags) > AT_ONCE_S:
        return None
    if not context.setting(LEAST_LATE) <= abs(lag) <= context.setting(FARTHEST):
        return None
    if context.order[channel.id] < context.order[one.channel.id]:
        return None
    # Two players who take turns are lifted alike, one behind the other; what overlaps was meant to be one.
    short = min((b.at_s - a.at_s for a, b in pairwise(own)), default=abs(lag) + 1.0)
    if len(own) <= LEAST_MOVES and abs(lag) >= short:
        return None
    where = moment_text(context, own[0].at_s)
    way = "later" if lag > 0.0 else "sooner"
    return f"makes the same moves as {{name}}, all of them {abs(lag):.1f} s {way}, the first at {where}"


def _same(own: tuple[Step, ...], theirs: tuple[Step, ...]) -> bool:
    return all(abs(mine.by - other.by) <= SAME_VALUE for mine, other in zip(own, theirs, strict=True))


def _lacking(
    context: SessionContext, channel: Channel, lane: Automation, one: Written, own: tuple[Step, ...]
) -> str | None:
    """Where a lane has no other points than another, by the same values, and lacks some of them that make a move."""
    least = LEAST_SWITCHED if lane.scale == "switch" else LEAST_MOVES
    if len(own) < least or len(lane.t) >= len(one.lane.t):
        return None
    mine, theirs = _points(context, lane), _points(context, one.lane)
    if not all(_is_among(point, theirs) for point in mine):
        return None
    far = ON if lane.scale == "switch" else LEAST_RIDE
    here = _values_at(lane, one.lane.t)
    lost = [point for point, value in zip(theirs, here, strict=True) if abs(value - point.by) >= far]
    if not lost or len(lost) > MOST_LOST or not plays_at(context, channel, lost[0].at_s):
        return None
    return f"makes no move at {moment_text(context, lost[0].at_s)}, where {{name}} does; all its points are the other's"


def _odd_value(context: SessionContext, channel: Channel, lane: Automation, one: Written) -> str | None:
    """Where a level has all points of another and one plateau far off; told on the one whose plateau stands alone."""
    if not lane.target.is_level or len(lane.t) != len(one.lane.t) or len(lane.t) < LEAST_PLATEAU:
        return None
    mine, theirs = _points(context, lane), _points(context, one.lane)
    odd: list[int] = []
    for at, (a, b) in enumerate(zip(mine, theirs, strict=True)):
        if abs(a.at_s - b.at_s) > AT_ONCE_S or len(odd) > MOST_LOST:
            return None  # most lanes of one length are no copies: the first points tell
        if abs(a.by - b.by) > SAME_VALUE:
            odd.append(at)
    if not 1 <= len(odd) <= MOST_LOST or odd[-1] - odd[0] >= MOST_LOST or odd[-1] == len(mine) - 1:
        return None
    at = odd[0]
    off = mine[at].by - theirs[at].by
    alone = [abs(points[at].by) > max(abs(p.by) for p in points if p is not points[at]) for points in (mine, theirs)]
    second = context.order[channel.id] > context.order[one.channel.id]
    told_here = alone[0] if alone[0] is not alone[1] else second
    if abs(off) < LEAST_ODD_DB or not told_here or not plays_at(context, channel, mine[at].at_s + AT_ONCE_S):
        return None
    way = "over" if off > 0.0 else "under"
    where = moment_text(context, mine[at].at_s)
    return f"lies {number_text(abs(off), 'dB')} {way} that of {{name}} at {where}, and goes with it everywhere else"


LEAST_PLATEAU: Final = 4
LEAST_ODD_DB: Final = 5.0
"""So many points at the same times are a copy, and so far off a value in it slipped. No settings: what decides is that
all others are the same."""

MOST_LOST: Final = 2
"""So many points in a row make one move there and back: no setting, more is another lane."""

LEAST_RIDE: Final = 2.0
"""A ride by less is not missed, dB or what the lane moves: no setting."""


@per_session
def _points(_: SessionContext, lane: Automation) -> tuple[Step, ...]:
    """The points of a lane by their values over the first."""
    values = point_values(lane).tolist()
    return tuple(Step(at, value - values[0]) for at, value in zip(lane.t, values, strict=True))


def _values_at(lane: Automation, moments: Sequence[float]) -> list[float]:
    """The values of a lane at some moments, over its first."""
    import numpy as np

    first, *then = shown_values(lane, np.asarray([lane.t[0], *moments])).tolist()
    return [value - first for value in then]


def _is_among(point: Step, others: Sequence[Step]) -> bool:
    """True where one of the points of a lane, which are in order of time, is the point of another."""
    for at in range(bisect_left(others, point.at_s - AT_ONCE_S, key=attrgetter("at_s")), len(others)):
        if others[at].at_s - point.at_s > AT_ONCE_S:
            return False
        if _is(point, others[at]):
            return True
    return False


def _is(mine: Step, other: Step) -> bool:
    return abs(mine.at_s - other.at_s) <= AT_ONCE_S and abs(mine.by - other.by) <= SAME_VALUE


def _flat(context: SessionContext, channel: Channel, lane: Automation, one: Written) -> str | None:
    """Where a lane has points where another has them, and stands still."""
    if moves(lane) or not moves(one.lane) or len(lane.t) < (LEAST_POINTS if lane.t[0] <= 0.0 else LEAST_POINTS - 1):
        return None
    if not all(any_within(one.lane.t, at - AT_ONCE_S, at + AT_ONCE_S) for at in lane.t):
        return None
    first = next((turn.at_s for turn in turns(one.lane) if plays_at(context, channel, turn.at_s)), None)
    if first is None:
        return None
    return f"has points where {{name}} has them and stands still, as at {moment_text(context, first)}"


LEAST_POINTS: Final = 3
"""So many points at the same times are a copy, that of the beginning among them: no setting."""


def _trimmed(
    context: SessionContext,
    channel: Channel,
    lane: Automation,
    own: tuple[Step, ...],
    one: Written,
    theirs: tuple[Step, ...],
) -> float:
    """How far the one half of an instrument stands under the other, where both are ridden by the same moves, dB."""
    if lane.target != FADER or len(own) != len(theirs) or len(own) < LEAST_MOVES:
        return 0.0
    if not all(_is(mine, other) for mine, other in zip(own, theirs, strict=True)):
        return 0.0
    if pair_kind(channel.name, one.channel.name, context.house.vocabulary) not in ("registers", "numbers"):
        return 0.0
    under = float(point_values(one.lane)[-1] - point_values(lane)[-1])
    return under if under >= context.setting(LEAST_TRIM) else 0.0


@per_session
def unridden_half(context: SessionContext, channel: Channel, lane: Automation) -> Channel | None:
    """The other half of an instrument that has no fader lane, where this one is ridden; None where there is none."""
    if lane.target != FADER or not is_readable(lane) or len(_steps_of(context, lane)) < LEAST_MOVES:
        return None
    for other, named in paired_by_name(context, channel):
        if other.output != channel.output or other.kind != channel.kind:
            continue
        if control_of(other, FADER).lane is not None:
            continue
        if named != "registers" and not (named == "sides" and _of_one_take(context, channel, other)):
            continue
        if is_audible(context, other) and overlap_share(context, channel.id, other.id) >= SAME_SHARE:
            return other
    return None


def _of_one_take(context: SessionContext, channel: Channel, other: Channel) -> bool:
    """True for two sides of one recording: even faders, and clip for clip the same places of their takes.

    Two doubles are named by side as well, but each is cut line by line to its own length.
    """
    if channel.fader_db != other.fader_db:
        return False
    cuts = [
        [(c.start_s, c.end_s, c.offset_s) for c in audio_clips(one) if is_known(c.offset_s)] for one in (channel, other)
    ]
    return bool(cuts[0]) and cuts[0] == cuts[1] and context.family(channel.id) not in ("vocals", "guitars")


@FACTS.fact(
    "text",
    "How it differs from the lane of another channel that it was written with; or agrees.",
    how="derived",
    settings=TWIN_SETTINGS,
)
def beside_its_twin(row: Row[ChannelLane]) -> FactValue:
    context, item = row.context, row.item
    found = apart_from_twin(context, item.channel, item.lane)
    half = unridden_half(context, item.channel, item.lane) if found is None else None
    if half is not None:
        first = _steps_of(context, item.lane)[0].at_s
        found = f"moves at {moment_text(context, first)}, where {context.name(half.id)}, its other half, has no moves"
    return FactValue(found or AGREES, "derived", row.subject.where)
