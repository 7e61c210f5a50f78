"""Channels that are cut together, and the one that keeps its recording where all others change theirs.

Microphones on one performance are edited as one: at a splice all of them go over to another take. One that was left
behind plays the take before, and two performances sound at once.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from itertools import pairwise
from operator import itemgetter
from typing import Final, NamedTuple

from mixlint.analysis.activity import moment_text, span_text
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import audio_clips
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.track.one_cut import at_one_time
from mixlint.session import Channel, Clip

LEAST_CUT: Final = Setting(
    "takes_in_step.least_cut", 4.0, "", "So many channels that are cut at one time are edited as one.", lowest=3.0
)
CHANGED: Final = share_setting(
    "takes_in_step.changed", 75.0, "Where this share of them goes over to another file, the others should."
)
STEP_SETTINGS: Final = (LEAST_CUT, CHANGED)

MEETING_S: Final = 0.3
"""Two clips with no more than this between them, or over each other in a crossfade, meet: a definition."""
SAME_CUT_S: Final = 0.06
"""Cuts this near are one: a crossfade has a length."""


class Splice(NamedTuple):
    """A place where two clips of a channel meet.

    Args:
        at_s: when, seconds.
        changes: the second plays another file than the first.
    """

    at_s: float
    changes: bool


def _splices(channel: Channel) -> list[Splice]:
    """Where audio clips of a channel meet, in order."""
    clips: list[Clip] = sorted((c for c in audio_clips(channel) if c.file is not None), key=lambda c: c.start_s)
    return [
        Splice(after.start_s, before.file != after.file)
        for before, after in pairwise(clips)
        if abs(after.start_s - before.end_s) <= MEETING_S
    ]


@per_session
def _left_behind(context: SessionContext) -> dict[str, tuple[float, int]]:
    """Channel id → the first splice at which it keeps its recording, and how many others change theirs there."""
    cuts = [
        (splice.at_s, splice.changes, channel.id)
        for channel in context.session.channels
        if is_source(context, channel)
        for splice in _splices(channel)
    ]
    found: dict[str, tuple[float, int]] = {}
    for together in at_one_time(sorted(cuts), itemgetter(0), SAME_CUT_S):
        channels = {one for _, _, one in together}
        changed = {one for _, changes, one in together if changes}
        most = 100.0 * len(changed) >= context.setting(CHANGED) * len(channels)
        for one in channels - changed if most and len(channels) >= context.setting(LEAST_CUT) else ():
            found.setdefault(one, (together[0][0], len(changed)))
    return found


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "number",
    "How many channels go over to another recording at a splice at which it keeps its own; 0 where it goes with them.",
    how="derived",
    settings=STEP_SETTINGS,
)
def left_behind_by(row: Row[Channel]) -> FactValue:
    found = _left_behind(row.context).get(row.subject.id)
    if found is None:
        return FactValue(0, "derived", row.subject.where)
    at_s, others = found
    where = moment_text(row.context, at_s)
    return FactValue(others, "derived", where, where)


LONGEST_HOLE: Final = Setting(
    "takes_in_step.longest_hole",
    8.0,
    "s",
    "A hole up to this, where the others join, was made by an edge that was dragged.",
)
SHORTEST_HOLE_S: Final = 0.03
"""Less is no hole but a rounding of the export."""

SUNG: Final = frozenset({"vocals", "speech"})
"""Families whose clips are trimmed phrase by phrase: a rest of theirs is none of the others' splices."""

LONGEST_CROSSFADE_S: Final = 0.1
"""An edge of the hole lies this near to the splice of the others: a crossfade has a length."""

HOLE_SETTINGS: Final = (LEAST_CUT, LONGEST_HOLE)


def _near(moments: list[tuple[float, str]], at_s: float, within_s: float) -> set[str]:
    """Ids of the channels of which a moment lies near a time.

    Args:
        moments: times in seconds, ascending, each with the id of its channel.
        at_s: the time, seconds.
        within_s: how near, seconds.
    """
    # Twice as far is looked through as counts, so that no rounding of the bounds leaves one out.
    first = bisect_left(moments, at_s - 2.0 * within_s, key=itemgetter(0))
    last = bisect_right(moments, at_s + 2.0 * within_s, key=itemgetter(0))
    return {one for time, one in moments[first:last] if abs(time - at_s) <= within_s}


@per_session
def _holes(context: SessionContext) -> dict[str, tuple[float, float]]:
    """Channel id → its hole between two clips, seconds, where the channels that are cut with it join theirs."""
    gaps: list[tuple[float, float, str]] = []
    joins: list[tuple[float, str]] = []
    longest = context.setting(LONGEST_HOLE)
    for channel in context.session.channels:
        if not is_source(context, channel) or context.family(channel.id) in SUNG:
            continue
        clips = sorted(audio_clips(channel), key=lambda c: c.start_s)
        for before, after in pairwise(clips):
            gap = after.start_s - before.end_s
            if SHORTEST_HOLE_S < gap <= longest:
                gaps.append((before.end_s, after.start_s, channel.id))
            elif gap <= SHORTEST_HOLE_S:
                joins.append((after.start_s, channel.id))
    joins.sort()
    opens = sorted((start, one) for start, _, one in gaps)
    found: dict[str, tuple[float, float]] = {}
    for start, end, channel_id in gaps:
        inside = _near(joins, start, LONGEST_CROSSFADE_S) | _near(joins, end, LONGEST_CROSSFADE_S)
        inside.discard(channel_id)
        alike = _near(opens, start, SAME_CUT_S) - {channel_id}
        if len(inside) >= context.setting(LEAST_CUT) - 1.0 and 4 * len(alike) <= len(inside):
            found.setdefault(channel_id, (start, end))
    return found


@FACTS.fact(
    "number",
    "How long a hole between two of its clips lasts where the channels cut with it join theirs; 0 without one.",
    unit="s",
    how="derived",
    settings=HOLE_SETTINGS,
)
def hole_at_the_cut_s(row: Row[Channel]) -> FactValue:
    found = _holes(row.context).get(row.subject.id)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    where = span_text(row.context, *found)
    return FactValue(found[1] - found[0], "derived", where, where)
