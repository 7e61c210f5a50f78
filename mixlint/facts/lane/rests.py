"""Lifts and throws that lie where nothing plays: they were made for something else, and slipped.

A fader goes up for a solo and down behind it; a send is thrown open for a word. Where the clips rest all through such a
stretch, nobody hears what it was made for, and what it was made for goes without.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final, NamedTuple

from mixlint.analysis.activity import has_arrangement, span_text, within_s
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.borders import moves_of
from mixlint.facts.lane.lanes import ChannelLane
from mixlint.facts.lane.rides import CLOSED
from mixlint.facts.lane.settling import control_class, spans_of
from mixlint.facts.lane.throws import THROWN
from mixlint.session import Automation, Channel
from mixlint.session.control import is_readable, moves, shown_values

FACTS: Facts[ChannelLane] = Facts()

LEAST_LIFT: Final = Setting("rests.least_lift", 1.5, "dB", "A fader that goes up by so much is lifted.", lowest=0.5)
LEAST_LONG: Final = Setting("rests.least_long", 4.0, "s", "A lift has to last so long to be for a part.", lowest=0.5)
MOST_HEARD: Final = share_setting(
    "rests.most_heard", 5.0, "A lift in which its channel plays for no more than this lies over a rest."
)
LEAST_THROWS: Final = Setting(
    "rests.least_throws", 2.0, "", "So many throws that fall on what plays show what they are for.", lowest=1.0
)
REST_SETTINGS: Final = (LEAST_LIFT, LEAST_LONG, MOST_HEARD, LEAST_THROWS, CLOSED)

BACK: Final = 0.3
"""A lane that comes back to within this share of the lift is back: no setting, hands are inexact."""


class Idle(NamedTuple):
    """A lift or a throw over a rest, from when to when, seconds."""

    start_s: float
    end_s: float


@per_session
def idle_lift(context: SessionContext, channel: Channel, lane: Automation) -> Idle | None:
    """The one lift or throw of a lane that lies where nothing plays, or the first of throws that nearly all do."""
    kind = control_class(channel, lane.target)
    if kind != "fader" and kind not in THROWN:
        return None
    spans = spans_of(context, channel, lane)
    if not has_arrangement(context) or not spans or not is_readable(lane) or not moves(lane):
        return None
    idle, heard = [], 0
    for up, down in pairwise(moves_of(context, channel, lane)):
        by = up.after - up.before
        if by <= 0.0 or abs(down.after - up.before) > BACK * by:
            continue
        start, end = up.end_s, down.start_s
        # What opens from shut is a part that comes in; its clips are another matter.
        opened = up.before <= context.setting(CLOSED) or by < context.setting(LEAST_LIFT)
        if kind == "fader" and (
            end - start < context.setting(LEAST_LONG) or opened or _plays_so(lane, spans, up.after - by / 2.0)
        ):
            continue
        if 100.0 * within_s(spans, start, end) <= context.setting(MOST_HEARD) * (end - start):
            idle.append(Idle(start, end))
        else:
            heard += 1
    if kind == "fader":
        return idle[0] if len(idle) == 1 else None
    # One throw among others slipped by itself; where all fall into rests, the lane slipped as a whole.
    alone = len(idle) == 1 and heard >= context.setting(LEAST_THROWS)
    return idle[0] if alone or (len(idle) > context.setting(LEAST_THROWS) and heard * 3 <= len(idle)) else None


def _plays_so(lane: Automation, spans: list[tuple[float, float]], level: float) -> bool:
    """True where a part is played above a level for some time: that is a level of the part, and no lift."""
    import numpy as np

    times = np.concatenate([np.arange(start, end, STEP_S) for start, end in spans])
    return int((shown_values(lane, times) > level).sum()) * STEP_S > LEAST_PLAYED_S


STEP_S: Final = 0.25
"""How finely a lane is read: a bound of work."""

LEAST_PLAYED_S: Final = 4.0
"""So long is more than the edges of a move: no setting."""


@FACTS.fact(
    "number",
    "How long the one lift or throw lasts that lies where nothing plays through its channel; 0 where none does.",
    unit="s",
    how="derived",
    settings=REST_SETTINGS,
)
def lifted_over_rest_s(row: Row[ChannelLane]) -> FactValue:
    found = idle_lift(row.context, row.item.channel, row.item.lane)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    where = span_text(row.context, found.start_s, found.end_s)
    return FactValue(found.end_s - found.start_s, "derived", where, where)
