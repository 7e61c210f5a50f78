"""Channels that are cut together, and the one that keeps its recording where all others change theirs.

Microphones on one performance are edited as one: at a splice all of them go over to another take. One that was left
behind plays the take before, and two performances sound at once.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections import Counter
from itertools import pairwise
from operator import itemgetter
from typing import Final, NamedTuple

from mixlint.analysis.activity import moment_text, span_text
from mixlint.analysis.at_one_time import at_one_time
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import audio_clips, duration_s, file_name, media_of, origin_s
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming.fold import as_read
from mixlint.session import Channel, Clip, is_known

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
        channel: the channel's id.
        changes: the second plays another file than the first.
        origins: when the recordings of both would begin, seconds of the song; None where the export does not tell.
        before: the clip that ends there.
    """

    at_s: float
    channel: str
    changes: bool
    origins: tuple[float, float] | None
    before: Clip


def _splices(channel: Channel) -> list[Splice]:
    """Where audio clips of a channel meet, in order."""
    clips: list[Clip] = sorted((c for c in audio_clips(channel) if c.file is not None), key=lambda c: c.start_s)
    return [
        Splice(after.start_s, channel.id, before.file != after.file, _origins(before, after), before)
        for before, after in pairwise(clips)
        if abs(after.start_s - before.end_s) <= MEETING_S
    ]


def _origins(before: Clip, after: Clip) -> tuple[float, float] | None:
    """When the recordings of two clips would begin, seconds of the song; None where that is not known."""
    if not is_known(before.offset_s) or not is_known(after.offset_s):
        return None
    return origin_s(before), origin_s(after)


SAME_ORIGIN_S: Final = 0.15
"""Recordings of one pass begin this near to each other: machines are started by hand. A definition."""


def _recorded_with(own: float, others: list[float]) -> bool:
    """False where most of some recordings begin at one time and this one at another."""
    near = [other for other in others if abs(other - own) <= SAME_ORIGIN_S]
    if near:
        return True
    middle = sorted(others)[len(others) // 2]
    return 2 * sum(abs(other - middle) <= SAME_ORIGIN_S for other in others) <= len(others)


def _of_their_pass(context: SessionContext, own: Clip, others: list[Clip]) -> bool:
    """False where the files of others are named after one pass, or last equally long, and a clip's file is not as they.

    What was recorded at another time is named after that time, and is as long as what was played then.
    """
    mine, theirs = _pass_words(context, own), [_pass_words(context, other) for other in others]
    counted = Counter(word for words in theirs for word in words)
    common = {word for word, times in counted.items() if 100.0 * times >= context.setting(CHANGED) * len(theirs)}
    if mine and common and not common & mine:
        return False
    length, lengths = _length_s(context, own), [_length_s(context, other) for other in others]
    known_ones = sorted(value for value in lengths if value is not None)
    if length is None or len(known_ones) < len(lengths):
        return True
    middle = known_ones[len(known_ones) // 2]
    alike = sum(abs(value - middle) <= SAME_LENGTH_S for value in known_ones)
    return 100.0 * alike < context.setting(CHANGED) * len(known_ones) or any(
        abs(value - length) <= SAME_LENGTH_S for value in known_ones
    )


SAME_LENGTH_S: Final = 0.5
"""Files of one pass are stopped together: a definition."""


def _pass_words(context: SessionContext, clip: Clip) -> frozenset[str]:
    """The words with a figure in the name of a clip's file, such as ``t4``: they tell the pass, or the part."""
    media = media_of(context, clip.file) if clip.file is not None else None
    name = file_name(media.path).rpartition(".")[0] if media is not None else ""
    return frozenset(word for word in re.split(r"[\W_]+", name.lower()) if any(letter.isdigit() for letter in word))


def _length_s(context: SessionContext, clip: Clip) -> float | None:
    """How long the file of a clip lasts, seconds; None where that is not known."""
    media = media_of(context, clip.file) if clip.file is not None else None
    length = duration_s(context, media) if media is not None else None
    return length if length is not None and is_known(length) else None


@per_session
def _left_behind(context: SessionContext) -> dict[str, tuple[float, int]]:
    """Channel id → the first splice at which it keeps its recording, and how many others change theirs there."""
    cuts = [
        splice for channel in context.session.channels if is_source(context, channel) for splice in _splices(channel)
    ]
    cuts.sort(key=lambda splice: splice.at_s)
    found: dict[str, tuple[float, int]] = {}
    shared: list[tuple[float, dict[str, Splice], set[str]]] = []
    for together in at_one_time(cuts, lambda splice: splice.at_s, SAME_CUT_S):
        channels = {splice.channel: splice for splice in together}
        changed = {splice.channel for splice in together if splice.changes}
        most = 100.0 * len(changed) >= context.setting(CHANGED) * len(channels)
        if changed and most and len(channels) >= context.setting(LEAST_CUT):
            shared.append((together[0].at_s, channels, changed))
    for at_s, channels, changed in shared:
        theirs = [origins for one in changed if (origins := channels[one].origins) is not None]
        for one in channels.keys() - changed:
            own = channels[one].origins
            if (
                own is not None
                and theirs
                and not any(_recorded_with(own[at], [o[at] for o in theirs]) for at in (0, 1))
            ):
                continue  # a part that was printed or played later: it never was in their takes
            if not _of_their_pass(context, channels[one].before, [channels[other].before for other in changed]):
                continue
            if _goes_over(context, one, at_s, shared):
                found.setdefault(one, (at_s, len(changed)))
    return found


def _goes_over(
    context: SessionContext, one: str, at_s: float, shared: list[tuple[float, dict[str, Splice], set[str]]]
) -> bool:
    """False where a channel plays through several of the splices that others share, and goes over at none of them."""
    clips = audio_clips(context.channels[one])
    start, end = min(c.start_s for c in clips), max(c.end_s for c in clips)
    others = [changed for at, _, changed in shared if at != at_s and start < at < end]
    return not others or any(one in changed for changed in others)


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


def _within(moments: list[tuple[float, str]], start_s: float, end_s: float) -> list[tuple[float, str]]:
    """The moments near one of the edges of a hole."""
    near = LONGEST_CROSSFADE_S
    found = []
    for at_s in (start_s, end_s):
        first = bisect_left(moments, at_s - near, key=itemgetter(0))
        found += moments[first : bisect_right(moments, at_s + near, key=itemgetter(0))]
    return found


@per_session
def _holes(context: SessionContext) -> dict[str, tuple[float, float]]:
    """Channel id → its hole between two clips, seconds, where the channels that are cut with it join theirs."""
    gaps: list[tuple[float, float, str]] = []
    joins: list[tuple[float, str]] = []
    steps: dict[tuple[float, str], float] = {}
    longest = context.setting(LONGEST_HOLE)
    for channel in context.session.channels:
        if not is_source(context, channel) or context.family(channel.id) in SUNG:
            continue
        clips = sorted(audio_clips(channel), key=lambda c: c.start_s)
        for before, after in pairwise(clips):
            gap = after.start_s - before.end_s
            origins = _origins(before, after)
            if origins is not None:
                steps[after.start_s, channel.id] = origins[1] - origins[0]
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
        if any(context.family(one) == context.family(channel_id) for one in alike):
            continue  # the other microphone of the part, or its like, rests there too
        own = steps.get((end, channel_id))
        others = [steps[one] for one in _within(joins, start, end) if one in steps and one[1] in inside]
        if own is not None and others and not _recorded_with(own, others):
            continue  # they go over to another take there, and it does not: it was never cut with them
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


LEAST_CROSSED: Final = Setting(
    "takes_in_step.least_crossed",
    2.0,
    "",
    "So many joins of a channel that are crossfaded show how its clips are laid; its like have to have as many.",
    lowest=2.0,
)
LONGEST_OPEN_S: Final = 2.0
"""A hole between crossfades that came open is no longer: a definition."""
MUCH_LONGER: Final = 4.0
"""A rest lasts at least this many times as long as such a hole: a definition."""
CROSSED_S: Final = 0.05
"""Clips that lie over each other by so much are crossfaded, and not just butted: a definition."""
CROSSED_SETTINGS: Final = (LEAST_CROSSED,)


@per_session
def _laid(_context: SessionContext, channel: Channel) -> tuple[int, list[tuple[float, float]]]:
    """How many joins of a channel are crossfaded, and its holes and rests: (from, until) in seconds."""
    clips = sorted(audio_clips(channel), key=lambda c: c.start_s)
    crossed, gaps, end = 0, list[tuple[float, float]](), None
    for clip in clips:
        if end is not None and clip.start_s - end > SHORTEST_HOLE_S:
            gaps.append((end, clip.start_s))
        elif end is not None and CROSSED_S <= end - clip.start_s < clip.end_s - clip.start_s:
            crossed += 1
        end = clip.end_s if end is None else max(end, clip.end_s)
    return crossed, gaps


def _alike(context: SessionContext, one: Channel, other: Channel) -> bool:
    """True for two parts of one role, or where the names do not tell it, of one first word."""
    role = context.role(one.id)
    if role is not None:
        return context.role(other.id) == role
    first, second = as_read(one.name).split(), as_read(other.name).split()
    return bool(first and second) and first[0] == second[0]


@per_session
def _open_join(context: SessionContext, channel: Channel) -> tuple[float, float] | None:
    """The one short hole of a channel all of whose other joins are crossfaded, as those of its like; None without."""
    if not is_source(context, channel) or context.family(channel.id) in SUNG:
        return None
    crossed, gaps = _laid(context, channel)
    short = [gap for gap in gaps if gap[1] - gap[0] <= LONGEST_OPEN_S]
    if crossed < context.setting(LEAST_CROSSED) or len(short) != 1:
        return None
    (hole,) = short
    if any(end - start < MUCH_LONGER * (hole[1] - hole[0]) for start, end in gaps if (start, end) != hole):
        return None
    like = [c for c in context.session.channels if c.id != channel.id and _alike(context, channel, c)]
    theirs = [_laid(context, one) for one in like if is_source(context, one)]
    if any(end - start <= LONGEST_OPEN_S for _, holes in theirs for start, end in holes):
        return None
    others = sum(count for count, _ in theirs)
    return hole if crossed + others >= 2.0 * context.setting(LEAST_CROSSED) else None


@FACTS.fact(
    "number",
    "How long the one hole between its clips lasts where all its other joins, and those of its like, are crossfaded; "
    "0 without one.",
    unit="s",
    how="derived",
    settings=CROSSED_SETTINGS,
)
def open_join_s(row: Row[Channel]) -> FactValue:
    found = _open_join(row.context, row.item)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    where = span_text(row.context, *found)
    return FactValue(found[1] - found[0], "derived", where, where)
