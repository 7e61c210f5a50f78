"""Clips that do not lie where they were recorded: moved against all others, or one against its own channel.

Most recordings of a session begin at one time, and a clip then lies where its place in the file says. The *origin* of
a clip is its start less its offset into the file. A channel of which every clip has the same other origin was moved as
a whole; one clip with an origin of its own was dragged, or slipped in its frame. Clips that were copied lie whole bars
away from where they were recorded, and say nothing.
"""

from __future__ import annotations

from collections import Counter
from typing import Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.channel_purpose import is_source, is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import is_active_clip
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, Clip, is_known

SHARED_ORIGIN: Final = share_setting(
    "displaced.shared_origin", 70.0, "From this share of the recorded channels on they were recorded together."
)
LEAST_CHANNELS: Final = Setting(
    "displaced.least_channels", 5.0, "", "So many channels of one origin show that a session has one.", lowest=2.0
)
LEAST_CLIPS: Final = Setting(
    "displaced.least_clips", 2.0, "", "So many other clips of one origin show where a channel was recorded.", lowest=1.0
)
FARTHEST: Final = Setting(
    "displaced.farthest", 150.0, "ms", "A channel that lies further off than this was recorded at another time."
)
MOVED_SETTINGS: Final = (SHARED_ORIGIN, LEAST_CHANNELS, FARTHEST)
SLIP_SETTINGS: Final = (SHARED_ORIGIN, LEAST_CHANNELS, LEAST_CLIPS)

SAME_S: Final = 0.0015
"""Two origins this near are one: rounding of the export, no setting."""

LOOSE: Final = frozenset({"sound-effects", "synth", "percussion", "backing-track"})
"""Roles whose clips are placed and not played: samples, loops, beds."""


class Placed(NamedTuple):
    """A clip and where its recording would begin, seconds of the song."""

    clip: Clip
    origin_s: float


def _placed(channel: Channel) -> list[Placed]:
    """The audio clips of a channel that sound at their own speed, with their origins, in order of time."""
    found = [
        Placed(clip, clip.start_s - clip.offset_s)
        for clip in channel.clips
        if clip.plays == "audio"
        and clip.file is not None
        and is_known(clip.offset_s)
        and clip.speed == 1.0
        and is_active_clip(channel, clip)
    ]
    return sorted(found, key=lambda one: one.clip.start_s)


def _commonest(origins: list[float]) -> tuple[float, int]:
    """The origin that most of some share, and how many do."""
    counted = Counter(round(origin / SAME_S) for origin in origins)
    key, _ = counted.most_common(1)[0]
    near = [origin for origin in origins if abs(origin - key * SAME_S) <= 2.0 * SAME_S]
    return sorted(near)[len(near) // 2], len(near)


@per_session
def session_origin(context: SessionContext) -> float | None:
    """When the recordings of the session begin, seconds of the song; None where most of them have no one beginning."""
    own = []
    for channel in context.session.channels:
        placed = _placed(channel) if is_source(context, channel) and not is_utility(context, channel) else []
        if placed:
            own.append(_commonest([one.origin_s for one in placed])[0])
    if len(own) < context.setting(LEAST_CHANNELS):
        return None
    origin, count = _commonest(own)
    enough = count >= context.setting(LEAST_CHANNELS) and 100.0 * count >= context.setting(SHARED_ORIGIN) * len(own)
    return origin if enough else None


@per_session
def moved_s(context: SessionContext, channel: Channel) -> float:
    """By how much every clip of a channel lies off the origin of the session, seconds, positive late; 0 where none."""
    origin, placed = session_origin(context), _placed(channel)
    if origin is None or not placed:
        return 0.0
    own, count = _commonest([one.origin_s for one in placed])
    off = own - origin
    alike = count == len(placed)
    return off if alike and 2.0 * SAME_S < abs(off) <= context.setting(FARTHEST) / 1000.0 else 0.0


class Slip(NamedTuple):
    """One clip that lies off where its channel was recorded, by less than a bar.

    Args:
        seconds: by how much, positive late; 0 where there is none.
        where: the clip, for a reader.
    """

    seconds: float
    where: str


@per_session
def slipped(context: SessionContext, channel: Channel) -> Slip:
    """The clip of a channel that lies furthest off its origin, by less than a bar."""
    none = Slip(0.0, "")
    timeline = context.session.timeline
    placed = _placed(channel)
    if len(placed) < 2 or not is_known(timeline) or context.role(channel.id) in LOOSE:
        return none
    own, count = _commonest([one.origin_s for one in placed])
    shared = session_origin(context)
    if count <= context.setting(LEAST_CLIPS) and (shared is None or abs(own - shared) > 2.0 * SAME_S):
        return none
    if 2 * count <= len(placed):
        return none
    found = none
    for one in placed:
        off = one.origin_s - own
        bar_s = timeline.seconds(timeline.beat(one.clip.start_s) + timeline.meters[0].bar_length) - one.clip.start_s
        others = [two for two in placed if two is not one and two.clip.file == one.clip.file]
        of_its_take = any(abs(two.origin_s - own) <= 2.0 * SAME_S for two in others)
        if of_its_take and 2.0 * SAME_S < abs(off) < 0.97 * bar_s and abs(off) > abs(found.seconds):
            found = Slip(off, moment_text(context, one.clip.start_s))
    return found


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "number",
    "By how much all its clips lie off where the recordings of the session begin, either way; 0 where they do not.",
    unit="ms",
    how="derived",
    settings=MOVED_SETTINGS,
)
def all_moved_ms(row: Row[Channel]) -> FactValue:
    off = moved_s(row.context, row.item)
    return FactValue(1000.0 * abs(off), "derived", row.subject.where, "late" if off > 0.0 else "early")


@FACTS.fact(
    "number",
    "By how much one of its clips lies off the others of its take, by less than a bar; 0 where none does.",
    unit="ms",
    how="derived",
    settings=SLIP_SETTINGS,
)
def clip_slipped_ms(row: Row[Channel]) -> FactValue:
    found = slipped(row.context, row.item)
    way = "late" if found.seconds > 0.0 else "early"
    return FactValue(1000.0 * abs(found.seconds), "derived", found.where, way)
