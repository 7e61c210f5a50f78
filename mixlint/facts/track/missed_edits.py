"""An edit of the song that one channel was left out of: it runs on in its recording where all others skip.

Channels that were recorded together are shortened together: at the edit each of them goes over to the same later place
of its recording. One that was not selected plays on, and from there on it is bars away from all others. A passage that
was copied looks alike but for one thing: what is played behind the cut is played a second time elsewhere.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from itertools import pairwise
from operator import itemgetter
from typing import Final, NamedTuple

from mixlint.analysis.at_one_time import at_one_time
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import origin_s, plain_clips
from mixlint.analysis.settings import Setting, share_setting
from mixlint.session import Channel, Clip, known

LEAST_SKIPPING: Final = Setting(
    "missed_edits.least_skipping", 3.0, "", "So many channels that skip to one place were edited as one.", lowest=2.0
)
SKIPPING: Final = share_setting(
    "missed_edits.skipping", 80.0, "Where this share of those recorded together skips, the others should."
)
MISSED_EDIT_SETTINGS: Final = (LEAST_SKIPPING, SKIPPING)

SAME_S: Final = 0.003
"""Places in recordings this near are one: rounding of the export."""
MEETING_S: Final = 0.3
"""Two clips with no more than this between them, or over each other in a crossfade, meet: a definition."""
SAME_CUT_S: Final = 0.1
"""Cuts this near are one: a crossfade has a length."""
KIT_SHARE: Final = 2
"""More than this many times as many microphones of a kit skip as stay, whatever the rest of the band does: a
definition."""


class Skip(NamedTuple):
    """Where two clips of a channel meet, and where the recordings of both begin.

    Args:
        at_s: when, seconds.
        before_s: when the recording of the first clip would begin, seconds of the song.
        after_s: the same of the second.
        channel: the channel.
        again: what the second clip plays is played by another clip of the channel too.
    """

    at_s: float
    before_s: float
    after_s: float
    channel: Channel
    again: bool


@per_session
def _ordered(_context: SessionContext, channel: Channel) -> list[Clip]:
    """The plain audio clips of a channel in order of time."""
    return sorted((c for c in plain_clips(channel) if c.plays == "audio"), key=lambda c: c.start_s)


@per_session
def _parts(context: SessionContext) -> list[Channel]:
    return [c for c in context.session.channels if is_source(context, c) and _ordered(context, c)]


def _played_again(clip: Clip, clips: list[Clip]) -> bool:
    """True when half of what a clip plays, or more, is played by another of its channel at another time."""
    start = known(clip.offset_s)
    end = start + clip.end_s - clip.start_s
    for other in clips:
        if other is clip or other.file != clip.file or abs(origin_s(other) - origin_s(clip)) <= SAME_S:
            continue
        there = known(other.offset_s)
        shared = min(end, there + other.end_s - other.start_s) - max(start, there)
        if 2.0 * shared >= end - start:
            return True
    return False


@per_session
def _skips(context: SessionContext) -> list[Skip]:
    """All places where two clips of one file meet that do not run on, in order of time."""
    found = []
    for channel in _parts(context):
        clips = _ordered(context, channel)
        for before, after in pairwise(clips):
            if before.file != after.file or abs(after.start_s - before.end_s) > MEETING_S:
                continue
            one, two = origin_s(before), origin_s(after)
            if abs(one - two) > SAME_S:
                found.append(Skip(after.start_s, one, two, channel, _played_again(after, clips)))
    return sorted(found, key=itemgetter(0))


def _at(context: SessionContext, channel: Channel, at_s: float) -> tuple[float, float] | None:
    """Where the recordings begin that a channel plays before and behind a cut; None where it rests at one of them."""
    clips = _ordered(context, channel)
    starts = [c.start_s for c in clips]
    first = bisect_left(starts, at_s - SAME_CUT_S) - 1
    last = bisect_right(starts, at_s + SAME_CUT_S) - 1
    if first < 0 or clips[first].end_s < at_s - MEETING_S or clips[last].end_s <= at_s + MEETING_S:
        return None
    return origin_s(clips[first]), origin_s(clips[last])


class MissedEdit(NamedTuple):
    """An edit that a channel was left out of.

    Args:
        seconds: by how much it is late from there on, negative where early.
        at_s: when the others skip, seconds.
    """

    seconds: float
    at_s: float


@per_session
def missed_edits(context: SessionContext) -> dict[str, MissedEdit]:
    """Channel id → the first edit that it was left out of."""
    found: dict[str, MissedEdit] = {}
    for together in at_one_time(_skips(context), itemgetter(0), SAME_CUT_S):
        ways = [(round(skip.before_s / SAME_S), round(skip.after_s / SAME_S)) for skip in together]
        way, count = Counter(ways).most_common(1)[0]
        if count < context.setting(LEAST_SKIPPING):
            continue
        one = together[ways.index(way)]
        before, after = one.before_s, one.after_s
        alike = [s for s in together if abs(s.before_s - before) <= SAME_S and abs(s.after_s - after) <= SAME_S]
        if any(s.again for s in alike):
            continue
        for channel, own in _left_out(context, alike, before, after):
            found.setdefault(channel.id, MissedEdit(own - after, alike[0].at_s))
    return found


def _left_out(
    context: SessionContext, skips: list[Skip], before_s: float, after_s: float
) -> list[tuple[Channel, float]]:
    """The channels recorded with some that skip which do not skip with them, and where their recordings begin then."""
    moved = {s.channel.id for s in skips}
    stay = []
    for channel in _parts(context):
        own = None if channel.id in moved else _at(context, channel, skips[0].at_s)
        if own is not None and abs(own[0] - before_s) <= 2.0 * SAME_S and abs(own[1] - after_s) > 2.0 * SAME_S:
            stay.append((channel, own[1]))
    if 100.0 * len(moved) >= context.setting(SKIPPING) * (len(moved) + len(stay)):
        return stay
    kit = [one for one in stay if context.family(one[0].id) == "drums"]
    drums = [one for one in moved if context.family(one) == "drums"]
    enough = len(drums) >= context.setting(LEAST_SKIPPING) and len(drums) > KIT_SHARE * len(kit)
    return kit if enough else []


@per_session
def left_behind(context: SessionContext) -> dict[str, MissedEdit]:
    """Channel id → its clip that lies at another time than the same place of the recording does on all its companions.

    They play and begin that place at one time, and it at another; everywhere else it begins the same places when they
    do. A song of a live set that was moved as a whole, but for one channel whose clip was locked, looks so.
    """
    begun: dict[int, list[tuple[Channel, Clip]]] = {}
    for channel in _parts(context):
        for clip in _ordered(context, channel):
            begun.setdefault(round(known(clip.offset_s) / SAME_S), []).append((channel, clip))
    found: dict[str, MissedEdit] = {}
    for key, there in begun.items():
        if key * SAME_S < LEAST_INTO_S or len(there) <= context.setting(LEAST_SKIPPING):
            continue
        time, count = Counter(round(clip.start_s / SAME_S) for _, clip in there).most_common(1)[0]
        if count != len(there) - 1 or len({channel.id for channel, _ in there}) != len(there):
            continue
        channel, clip = next((a, b) for a, b in there if round(b.start_s / SAME_S) != time)
        others = {round(one.start_s / SAME_S) for one in _ordered(context, channel) if one is not clip}
        peers = [other for other, _ in there if other.id != channel.id]
        theirs = [{round(one.start_s / SAME_S) for one in _ordered(context, peer)} for peer in peers]
        with_them = bool(others) and all(2 * len(others & times) >= len(others) for times in theirs)
        late = clip.start_s - next(b.start_s for a, b in there if a is peers[0])
        if with_them and abs(late) > SAME_CUT_S:
            found.setdefault(channel.id, MissedEdit(late, clip.start_s))
    return found


LEAST_INTO_S: Final = 1.0
"""Files that were cut to their clips begin with them, wherever those lie: no setting."""
