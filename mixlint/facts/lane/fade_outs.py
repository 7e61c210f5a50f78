"""Fades at the end of the song: one that begins behind the music, one that jumps back up, and one in steps."""

from __future__ import annotations

from itertools import pairwise
from typing import Final, NamedTuple

from mixlint.analysis.activity import has_arrangement
from mixlint.analysis.context import SessionContext, per_session
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import ChannelLane, clips_sounding_through
from mixlint.facts.lane.settling import point_values
from mixlint.session import FADER, Automation, Channel
from mixlint.session.control import is_readable, moves
from mixlint.units import clock_text

FACTS: Facts[ChannelLane] = Facts()

UP_DB: Final = -20.0
OUT_DB: Final = -30.0
"""A fade-out goes from above the one to under the other. No settings: it goes from a level to silence."""

LATE_SHARE: Final = 0.7
"""What begins before this share of what plays is no ending: no setting, endings lie in the last tenth."""

SAME_DB: Final = 0.1
"""Points that differ by no more are one level: rounding of the export."""


class FadeOut(NamedTuple):
    """The last fall of a fader from a level to silence.

    Args:
        start_s: where it begins, seconds; of a lane that holds its values, at the point that repeats its level.
        end_s: where it comes to its lowest point.
        music_ends_s: where the last clip ends that sounds through its channel.
        rises_s: where it goes back up behind it; None where it stays down.
        steps: how many points of a lane that holds its values make it; 0 for a fade that is drawn.
    """

    start_s: float
    end_s: float
    music_ends_s: float
    rises_s: float | None
    steps: int


@per_session
def fade_out(context: SessionContext, channel: Channel, lane: Automation) -> FadeOut | None:
    """How a fader fades out at the end of what plays through its channel; None where it does not."""
    if lane.target != FADER or not is_readable(lane) or not moves(lane) or not has_arrangement(context):
        return None
    ends = max((clip.end_s for _, clip in clips_sounding_through(context, channel)), default=0.0)
    values = point_values(lane).tolist()
    last = len(values) - 1
    rises = None
    if last and values[last] > UP_DB and values[last - 1] <= OUT_DB:
        rises, last = lane.t[last], last - 1
    low = last
    while low and values[low - 1] <= values[last] + SAME_DB:
        low -= 1  # points at the bottom draw the fade no longer
    first = low
    while first and values[first - 1] > values[first] + SAME_DB:
        first -= 1
    repeated = first > 0 and abs(values[first - 1] - values[first]) <= SAME_DB
    start = lane.t[first if lane.shape == "linear" or repeated else min(first + 1, low)]
    if values[low] > OUT_DB or values[first] <= UP_DB or start < LATE_SHARE * ends:
        return None
    steps = low - first + repeated if lane.shape != "linear" else 0
    return FadeOut(start, lane.t[low], ends, rises, steps)


def _fade_of(row: Row[ChannelLane]) -> FadeOut | None:
    return fade_out(row.context, row.item.channel, row.item.lane)


@FACTS.fact(
    "number",
    "How long after the last clip has ended its fade-out begins; 0 where it fades music, or fades none out.",
    unit="s",
    how="derived",
)
def fades_after_s(row: Row[ChannelLane]) -> FactValue:
    found = _fade_of(row)
    if found is None or found.steps:
        return FactValue(0.0, "derived", row.subject.where)
    at = clock_text(found.start_s)
    return FactValue(max(0.0, found.start_s - found.music_ends_s), "derived", at, clock_text(found.music_ends_s))


@FACTS.fact(
    "switch", "Another lane of the session still moves after the last clip has ended: its tails are played.",
    how="derived",
)  # fmt: skip
def tails_are_played(row: Row[ChannelLane]) -> bool:
    found, own = _fade_of(row), row.item
    return found is not None and any(
        max(at for (_, before), (at, after) in pairwise(zip(lane.t, lane.v, strict=True)) if before != after)
        > found.music_ends_s
        for channel in row.context.session.channels
        for lane in channel.automation
        if lane is not own.lane and lane.target != FADER and lane.t and moves(lane)
    )


TAIL_S: Final = 5.0
"""So long after the last clip its tails may be heard: no setting, a fader is put back for the next pass much later."""


@FACTS.fact("switch", "Its fade-out jumps back up while the music or its tails are still there.", how="derived")
def fades_up_again(row: Row[ChannelLane]) -> FactValue:
    found = _fade_of(row)
    if found is None or found.rises_s is None:
        return FactValue(False, "derived", row.subject.where)
    at = clock_text(found.rises_s)
    return FactValue(found.rises_s <= found.music_ends_s + TAIL_S, "derived", at, at)


@FACTS.fact(
    "number",
    "How many steps its fade-out is made of, where its lane holds its values from point to point; 0 for a drawn one.",
    how="derived",
)
def fade_steps(row: Row[ChannelLane]) -> FactValue:
    found = _fade_of(row)
    if found is None:
        return FactValue(0, "derived", row.subject.where)
    span = f"{clock_text(found.start_s)} to {clock_text(found.end_s)}"
    return FactValue(found.steps, "derived", clock_text(found.start_s), span)
