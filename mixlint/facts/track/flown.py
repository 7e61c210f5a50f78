"""Passages that several channels were given again elsewhere: a chorus flown to its repeat, and the clip that lies off.

Channels recorded together are copied together: the same stretch of each recording is set down at the same times. One
clip that was set down a beat from all others was dragged, and its edges show nothing, since it is as long as theirs.
"""

from __future__ import annotations

from collections import Counter
from typing import Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.at_one_time import at_one_time
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import plain_clips
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.track.displaced import first_bar_s
from mixlint.session import Channel, is_known, known

LEAST_FLOWN: Final = Setting(
    "flown.least", 3.0, "", "So many channels that play one stretch of their recordings at the same times were copied "
    "together.", lowest=2.0,
)  # fmt: skip

SAME_STRETCH_S: Final = 0.02
"""Stretches of recordings whose edges lie this near are one: each may have been trimmed by a hair."""
SAME_PLACE_S: Final = 0.03
"""Places this near are one: what lies nearer to its place was moved by ear, and others ask about it."""


class Given(NamedTuple):
    """A clip of a channel by what it plays.

    Args:
        offset_s: where in its file it begins, seconds.
        length_s: how long it is, seconds.
        start_s: where it lies, seconds.
        channel: the channel's id.
    """

    offset_s: float
    length_s: float
    start_s: float
    channel: str


def _given(channel: Channel) -> list[Given]:
    """The audio clips of a channel at their own speed."""
    return [
        Given(known(clip.offset_s), clip.end_s - clip.start_s, clip.start_s, channel.id)
        for clip in plain_clips(channel)
        if clip.plays == "audio"
    ]


class Flown(NamedTuple):
    """A clip that was not set down with the others.

    Args:
        late_s: by how much it lies behind them, negative before, seconds.
        start_s: where it lies, seconds.
        others: how many lie together.
    """

    late_s: float
    start_s: float
    others: int


@per_session
def flown_apart(context: SessionContext) -> dict[str, Flown]:
    """Channel id → its clip that lies off where all others have the same stretch of their recordings, within a bar."""
    timeline = context.session.timeline
    if not is_known(timeline):
        return {}
    found: dict[str, Flown] = {}
    given = sorted(one for c in context.session.channels if is_source(context, c) for one in _given(c))
    for near in at_one_time(given, lambda one: one.offset_s, SAME_STRETCH_S):
        by_length = sorted(near, key=lambda one: one.length_s)
        for stretch in at_one_time(by_length, lambda one: one.length_s, SAME_STRETCH_S):
            places: dict[str, list[float]] = {}
            for one in stretch:
                places.setdefault(one.channel, []).append(one.start_s)
            if len(places) <= context.setting(LEAST_FLOWN):
                continue
            counted = Counter(round(start / SAME_PLACE_S) for own in places.values() for start in set(own))
            together = [key * SAME_PLACE_S for key, count in counted.items() if count >= len(places) - 1]
            for channel, own in places.items():
                missed = [at for at in together if not any(abs(start - at) <= 2.0 * SAME_PLACE_S for start in own)]
                extra = [start for start in own if not any(abs(start - at) <= 2.0 * SAME_PLACE_S for at in together)]
                if len(missed) != 1 or len(extra) != 1 or len(together) < 2 or len(own) != len(together):
                    continue
                at_s = next(start for one, other in places.items() if one != channel for start in other
                            if abs(start - missed[0]) <= 2.0 * SAME_PLACE_S)  # fmt: skip
                bar_s = first_bar_s(timeline, at_s)
                if abs(extra[0] - at_s) <= 1.02 * bar_s:
                    found.setdefault(channel, Flown(extra[0] - at_s, extra[0], len(places) - 1))
    return found


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "number",
    "By how much one of its clips lies off where all channels that play the same stretch of their recordings have it, "
    "by no more than a bar; 0 where none does.",
    unit="ms",
    how="derived",
    settings=(LEAST_FLOWN,),
)
def flown_apart_ms(row: Row[Channel]) -> FactValue:
    found = flown_apart(row.context).get(row.subject.id)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    where = moment_text(row.context, found.start_s)
    way = "later" if found.late_s > 0.0 else "earlier"
    return FactValue(1000.0 * abs(found.late_s), "derived", where, f"{way} than those of {found.others} channels")
