"""Clips that do not lie where they were recorded: moved against all others, or one against its own channel.

Most recordings of a session begin at one time, and a clip then lies where its place in the file says. The *origin* of
a clip is its start less its offset into the file. A channel of which every clip has the same other origin was moved as
a whole; one clip with an origin of its own was dragged, or slipped in its frame. Clips that were copied lie whole bars
away from where they were recorded, and say nothing.
"""

from __future__ import annotations

from collections import Counter
from operator import itemgetter
from typing import Final, NamedTuple

from mixlint.analysis.activity import moment_text, span_text
from mixlint.analysis.at_one_time import at_one_time
from mixlint.analysis.channel_purpose import is_source, is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import audio_clips, origin_s
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.track.missed_edits import MISSED_EDIT_SETTINGS, left_behind, missed_edits
from mixlint.session import Channel, Clip, Timeline, is_known, known
from mixlint.units import number_text

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

SAME_S: Final = 0.0015
"""Two origins this near are one: rounding of the export, no setting."""

LOOSE: Final = frozenset({"sound-effects", "synth", "percussion", "backing-track"})
"""Roles whose clips are placed and not played: samples, loops, beds."""


def first_bar_s(timeline: Timeline, at_s: float) -> float:
    """How long a bar of the song's first metre lasts at a time, seconds: the reach of a hand that drags."""
    return timeline.seconds(timeline.beat(at_s) + timeline.meters[0].bar_length) - at_s


class Placed(NamedTuple):
    """A clip and where its recording would begin, seconds of the song."""

    clip: Clip
    origin_s: float


def _placed(channel: Channel) -> list[Placed]:
    """The audio clips of a channel that sound at their own speed, with their origins, in order of time."""
    found = [
        Placed(clip, origin_s(clip))
        for clip in audio_clips(channel)
        if clip.file is not None and is_known(clip.offset_s) and clip.speed == 1.0
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
    dragged = _dragged(context, placed)
    if dragged is not None:
        return dragged
    own, count = _commonest([one.origin_s for one in placed])
    shared = session_origin(context)
    at_shared = sum(shared is not None and abs(one.origin_s - shared) <= 2.0 * SAME_S for one in placed)
    if shared is not None and 2 * at_shared >= len(placed):
        own = shared
    elif count <= context.setting(LEAST_CLIPS) or 2 * count <= len(placed):
        return none
    found = none
    for one in placed:
        off = one.origin_s - own
        if abs(off) <= max(2.0 * SAME_S, abs(found.seconds)):
            continue
        bar_s = first_bar_s(timeline, one.clip.start_s)
        others = [two for two in placed if two is not one and two.clip.file == one.clip.file]
        of_its_take = any(abs(two.origin_s - own) <= 2.0 * SAME_S for two in others)
        if of_its_take and abs(off) < 0.97 * bar_s:
            found = Slip(off, moment_text(context, one.clip.start_s))
    return found


LEAST_LOOSE: Final = Setting(
    "displaced.least_loose", 4.0, "", "So many other clips of one file show where it was recorded.",
    lowest=2.0,
)  # fmt: skip
BY_EAR_S: Final = 0.05
"""Clips that were moved by ear lie no further from their place: a definition."""
ONCE_S: Final = 0.1
"""What two clips share of their file beyond this is played twice: a definition."""


def _dragged(context: SessionContext, placed: list[Placed]) -> Slip | None:
    """The one clip of a file that lies far off, where all others of it lie near where they were recorded.

    Those may have been moved by ear, each by a little. A clip that was copied plays what another plays too.
    """
    timeline = context.session.timeline
    by_file: dict[str, list[Placed]] = {}
    for one in placed:
        by_file.setdefault(one.clip.file or "", []).append(one)
    for of_file in by_file.values():
        if len(of_file) <= context.setting(LEAST_LOOSE) or not is_known(timeline):
            continue
        origins = sorted(one.origin_s for one in of_file)
        own = origins[len(origins) // 2]
        off = [one for one in of_file if abs(one.origin_s - own) > BY_EAR_S]
        if len(off) != 1 or all(abs(one.origin_s - own) <= 2.0 * SAME_S for one in of_file if one is not off[0]):
            continue
        late, clip = off[0].origin_s - own, off[0].clip
        bar_s = first_bar_s(timeline, clip.start_s)
        if abs(late) <= 1.02 * bar_s and not any(
            _share_s(clip, two.clip) > ONCE_S for two in of_file if two is not off[0]
        ):
            return Slip(late, moment_text(context, clip.start_s))
    return None


SLIP_SETTINGS: Final = (SHARED_ORIGIN, LEAST_CHANNELS, LEAST_CLIPS, LEAST_LOOSE)


def _share_s(one: Clip, other: Clip) -> float:
    """How much of their file two clips both play, seconds."""
    first, second = known(one.offset_s), known(other.offset_s)
    return min(first + one.end_s - one.start_s, second + other.end_s - other.start_s) - max(first, second)


LEAST_CUT: Final = Setting(
    "displaced.least_cut", 4.0, "", "So many channels whose clips begin at one time are cut together.", lowest=3.0
)
OF_ONE_CUT: Final = share_setting(
    "displaced.of_one_cut", 75.0, "Where this share of them plays one place of its takes, the others should."
)
CUT_SETTINGS: Final = (LEAST_CUT, OF_ONE_CUT)

SAME_START_S: Final = 0.1
"""Clips that begin this near were cut at one time: a crossfade has a length, and a slip is no longer."""


@per_session
def _off_the_cut(context: SessionContext) -> dict[str, Slip]:
    """Channel id → its clip that plays another place of its take than those of the channels that are cut with it."""
    starts = sorted(
        (one.clip.start_s, one.origin_s, channel.id)
        for channel in context.session.channels
        if is_source(context, channel) and context.role(channel.id) not in LOOSE
        for one in _placed(channel)
    )
    origins: dict[str, list[float]] = {}
    for _, origin, channel_id in starts:
        origins.setdefault(channel_id, []).append(origin)
    usual = {one: _commonest(theirs) for one, theirs in origins.items()}
    found: dict[str, Slip] = {}
    for together in at_one_time(starts, itemgetter(0), SAME_START_S):
        if len({one for _, _, one in together}) < context.setting(LEAST_CUT):
            continue
        origin, count = _commonest([origin for _, origin, _ in together])
        if 100.0 * count < context.setting(OF_ONE_CUT) * len(together):
            continue
        for start, own, channel in together:
            off = own - origin
            passed, times = usual[channel]
            if times > 1 and abs(own - passed) <= 2.0 * SAME_S:
                continue  # it was recorded in a pass of its own, and lies where that was
            if 2.0 * SAME_S < abs(off) < FARTHEST_SLIP_S and abs(off) > abs(found.get(channel, Slip(0.0, "")).seconds):
                found[channel] = Slip(off, moment_text(context, start))
    for one, edit in (*missed_edits(context).items(), *left_behind(context).items()):
        if abs(edit.seconds) > abs(found.get(one, Slip(0.0, "")).seconds):
            found[one] = Slip(edit.seconds, moment_text(context, edit.at_s))
    return found


FARTHEST_SLIP_S: Final = 2.0
"""What lies further off is another passage, and no slip, unless the others skip there: a definition."""


class Doubled(NamedTuple):
    """A stretch in which a channel plays one recording on top of itself, seconds: nothing where it nowhere does.

    Args:
        start_s: from when.
        end_s: until when.
        late_s: by how much the copy lies behind; 0 where it lies in place.
    """

    start_s: float
    end_s: float
    late_s: float


def doubled(channel: Channel) -> Doubled:
    """Where a channel plays one recording on top of itself, in place or a little late."""
    placed = _placed(channel)
    for at, one in enumerate(placed):
        for two in placed[at + 1 :]:
            if two.clip.start_s >= one.clip.end_s:
                break
            until = min(one.clip.end_s, two.clip.end_s)
            over, late = until - two.clip.start_s, abs(two.origin_s - one.origin_s)
            shorter = min(one.clip.end_s - one.clip.start_s, two.clip.end_s - two.clip.start_s)
            nudged = late <= NUDGED_COPY_S and over >= MOST_OF_IT * shorter
            if one.clip.file == two.clip.file and (late <= SAME_S or nudged) and over >= LEAST_DOUBLED_S:
                return Doubled(two.clip.start_s, until, late if late > SAME_S else 0.0)
    return Doubled(0.0, 0.0, 0.0)


LEAST_DOUBLED_S: Final = 0.5
"""A crossfade between a clip and its own continuation is shorter."""
NUDGED_COPY_S: Final = 0.15
"""A copy that lies further off is heard as a second voice, and may be one: a definition."""
MOST_OF_IT: Final = 0.8
"""Clips that lie over each other for this share of the shorter are no crossfade: a definition."""

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


@FACTS.fact(
    "number",
    "By how much one of its clips plays off the channels that are cut with it, either way; 0 where none does.",
    unit="ms",
    how="derived",
    settings=(*CUT_SETTINGS, *MISSED_EDIT_SETTINGS),
)
def off_the_cut_ms(row: Row[Channel]) -> FactValue:
    found = _off_the_cut(row.context).get(row.subject.id, Slip(0.0, ""))
    return FactValue(1000.0 * abs(found.seconds), "derived", found.where, "late" if found.seconds > 0.0 else "early")


@FACTS.fact(
    "number", "For how long it plays one recording on top of itself; 0 where it does not.", unit="s", how="derived"
)
def doubled_s(row: Row[Channel]) -> FactValue:
    found = doubled(row.item)
    if found.end_s <= found.start_s:
        return FactValue(0.0, "derived", "")
    where = span_text(row.context, found.start_s, found.end_s)
    late = f"{where}, {number_text(1000.0 * found.late_s)} ms apart: it sounds hollow there"
    note = late if found.late_s else f"{where}: it is 6 dB up there"
    return FactValue(found.end_s - found.start_s, "derived", where, note)
