"""Automation lanes: which control each moves, where it ends, and how it steps while its channel sounds."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.groups import vca_members
from mixlint.analysis.media_use import is_active_clip
from mixlint.analysis.settings import Setting
from mixlint.session import Automation, Channel, Clip, Insert, Target, Unknown, is_known
from mixlint.session.control import has_control

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

KINDS: Final = ("fader", "pan", "mute", "send-level", "send-pan", "send-switch", "insert-switch", "insert", "other")

STEP: Final = Setting("automation.step", 5.0, "ms", "A move of a level within this time is a step.")
SILENT: Final = Setting(
    "automation.silent",
    -60.0,
    "dB",
    "Levels under this count as this, so that a step out of silence is not told by its hundreds of decibels.",
)
QUIET: Final = Setting(
    "automation.quiet",
    -40.0,
    "dBFS",
    "A step in sound that stays under this is not heard as one, where it is measured.",
)
LEAST_STEP: Final = Setting(
    "automation.least_step", 0.5, "dB", "A move of a level by no more than this is no step.", lowest=0.0
)
CLIP_EDGE: Final = Setting(
    "automation.clip_edge",
    10.0,
    "ms",
    "A step this near to an end of a clip is at its edge and does not sound; as long before and after a step the "
    "recording is measured.",
    lowest=0.0,
)
STEP_SETTINGS: Final = (STEP, SILENT, QUIET, LEAST_STEP, CLIP_EDGE)


ENDING: Final = Setting(
    "endings.ends", 10.0, "s", "A last move that ends when no more than this is left to play is an ending.", lowest=0.0
)


class LaneControl(NamedTuple):
    """The control that a lane moves.

    Args:
        kind: one of :data:`KINDS`.
        text: the control for a reader.
        missing: why there is no such control, for a reader; empty where there is.
    """

    kind: str
    text: str
    missing: str = ""


class ChannelLane(NamedTuple):
    """One lane with the channel it is on and what it moves."""

    channel: Channel
    lane: Automation
    control: LaneControl


def lane_control(context: SessionContext, channel: Channel, lane: Automation) -> LaneControl:
    """The control that a lane of a channel moves."""
    target = lane.target
    if target.kind == "other":
        return LaneControl("other", str(target), "there is no such control")
    if target.place is None:
        return LaneControl(target.kind, str(target))
    if target.of_send:
        return _send_control(context, channel, target, target.place)
    return _insert_control(channel, target, target.place)


_OF_A_SEND: Final = {"send-level": "level", "send-pan": "pan", "send-switch": "switch"}


def _send_control(context: SessionContext, channel: Channel, target: Target, number: int) -> LaneControl:
    """A control of the channel's send of a number, from 0."""
    what = _OF_A_SEND[target.kind]
    if number >= len(channel.sends):
        return LaneControl(target.kind, f"send {number + 1}, {what}", f"the channel has {len(channel.sends)} sends")
    to = channel.sends[number].to
    if isinstance(to, Unknown):
        return LaneControl(target.kind, f"send {number + 1}, {what}")
    lost = "" if to in context.channels else "the send leads to a channel that is not there"
    return LaneControl(target.kind, f"send to {context.name(to)}, {what}", lost)


def _insert_control(channel: Channel, target: Target, number: int) -> LaneControl:
    """A control of the channel's insert of a number, from 0."""
    kind = "insert-switch" if target.kind == "insert-switch" else "insert"
    what = {"insert-switch": "switch", "insert-wet": "wet"}.get(target.kind, target.name)
    if number >= len(channel.inserts):
        return LaneControl(kind, f"insert {number + 1}, {what}", f"the channel has {len(channel.inserts)} inserts")
    insert = channel.inserts[number]
    text = f"{insert.name}, {_parameter_name(insert, target)}"
    if insert.loaded is False:
        return LaneControl(kind, text, f"{insert.name} was not loaded")
    if target.band is not None and insert.equalizer is not None and not has_control(channel, target):
        return LaneControl(kind, text, f"{insert.name} has no band {target.band[0]}")
    return LaneControl(kind, text)


def _parameter_name(insert: Insert, target: Target) -> str:
    """The control of an insert that a lane moves, for a reader."""
    if target.kind in ("insert-switch", "insert-wet"):
        return "switch" if target.kind == "insert-switch" else "wet share"
    if target.band is not None:
        return _band_setting(insert, *target.band)
    return next((p.name or target.name for p in insert.parameters if p.id == target.name), target.spoken)


_PASS_BANDS: Final = {"high-pass": "low cut", "low-pass": "high cut"}
_BAND_SETTINGS: Final = {"on": "switch", "freq": "frequency", "q": "Q"}


def _band_setting(insert: Insert, number: int, setting: str) -> str:
    """A setting of an equalizer's band, counted from 1, for a reader: ``low cut frequency``, ``band 2 gain``."""
    bands = insert.equalizer.bands if insert.equalizer is not None else ()
    kind = _PASS_BANDS.get(bands[number - 1].kind) if number <= len(bands) else None
    return f"{kind or f'band {number}'} {_BAND_SETTINGS.get(setting, setting)}"


def last_move_s(lane: Automation) -> float:
    """When the lane reaches the value that it keeps to the end, seconds."""
    at = len(lane.v) - 1
    while at > 0 and lane.v[at - 1] == lane.v[-1]:
        at -= 1
    return lane.t[at]


def last_move_length_s(lane: Automation) -> float:
    """How long the lane takes for its last move in one direction, seconds; 0 for a step, or where it never moves."""
    if lane.shape == "hold":
        return 0.0
    at = len(lane.v) - 1
    while at > 0 and lane.v[at - 1] == lane.v[-1]:
        at -= 1
    end = at
    falls = at > 0 and lane.v[at] < lane.v[at - 1]
    while at > 0 and lane.v[at] != lane.v[at - 1] and (lane.v[at] < lane.v[at - 1]) == falls:
        at -= 1
    return lane.t[end] - lane.t[at]


def clips_sounding_through(context: SessionContext, channel: Channel) -> list[tuple[Channel, Clip]]:
    """The clips whose sound passes the channel: its own, else those of what feeds it, or of what it moves as a VCA."""
    if channel.kind == "vca":
        return [one for member in vca_members(context, channel) for one in clips_sounding_through(context, member)]
    own = [(channel, clip) for clip in channel.clips if is_active_clip(channel, clip)]
    if own:
        return own
    feeding = context.routing.wiring.upstream([channel.id])
    return [
        (c, clip) for c in context.session.channels if c.id in feeding for clip in c.clips if is_active_clip(c, clip)
    ]


def content_after_s(context: SessionContext, channel: Channel, from_s: float) -> float:
    """For how long clips sound through the channel after a moment, seconds; overlaps count once."""
    total, reached = 0.0, from_s
    for start, end in sorted((clip.start_s, clip.end_s) for _, clip in clips_sounding_through(context, channel)):
        total += max(0.0, end - max(start, reached))
        reached = max(reached, end)
    return total


def without_ending(context: SessionContext, channel: Channel, lane: Automation) -> Automation | None:
    """A lane without the last move, which is drawn into the end of what plays; None where its last move is not."""
    if lane.shape != "linear" or content_after_s(context, channel, last_move_s(lane)) > context.setting(ENDING):
        return None
    last = max((at for at in range(1, len(lane.t)) if lane.v[at] != lane.v[at - 1]), default=0)
    return lane.model_copy(update={"t": lane.t[:last], "v": lane.v[:last]}) if last else None


class LevelStep(NamedTuple):
    """A level step: its size in dB and where it happens, seconds."""

    db: float
    at_s: float


@per_session
def largest_level_step(context: SessionContext, channel: Channel, lane: Automation) -> LevelStep | None:
    """The largest step of a level lane while sound passes its channel; None where there is none.

    Sound under the setting ``automation.quiet`` does not count where it can be measured; other sound does.
    """
    found = _level_steps(lane, context.setting(STEP) / 1000.0, context.setting(SILENT), context.setting(LEAST_STEP))
    if not found:
        return None
    clips = clips_sounding_through(context, channel)
    inside = _inside(clips, [step.at_s for step in found], context.setting(CLIP_EDGE) / 1000.0)
    sounding = [step for step, sounds in zip(found, inside, strict=True) if sounds]
    sounding.sort(key=lambda step: -step.db)
    return next((step for step in sounding if _sounds_at(context, clips, step.at_s)), None)


def _inside(clips: list[tuple[Channel, Clip]], times: list[float], edge_s: float) -> NDArray[np.bool_]:
    """Which times (N,) in seconds lie inside a clip, further than ``edge_s`` from its ends."""
    import numpy as np

    starts = np.sort([clip.start_s + edge_s for _, clip in clips if clip.end_s - clip.start_s > 2.0 * edge_s])
    ends = np.sort([clip.end_s - edge_s for _, clip in clips if clip.end_s - clip.start_s > 2.0 * edge_s])
    # As many clips sound at a time as have started before it and not ended.
    return np.asarray(np.searchsorted(starts, times, side="left") > np.searchsorted(ends, times, side="right"))


def _level_steps(lane: Automation, step_s: float, silent_db: float, least_db: float) -> list[LevelStep]:
    """The moves of a level lane by more than ``least_db`` within ``step_s``, in order of time."""
    import numpy as np

    times = np.asarray(lane.t)
    values = np.maximum(_values_db(lane), silent_db)
    before = values[:-1]
    if lane.shape == "linear":
        # The earliest point within the time of a step before each point.
        first = np.searchsorted(times, times[1:] - step_s, side="left")
        before = values[np.minimum(first, np.arange(times.size - 1))]
    sizes = np.abs(values[1:] - before)
    if lane.shape == "linear":
        sizes[times[1:] - times[:-1] > step_s] = 0.0
    return [LevelStep(float(sizes[at]), float(times[at + 1])) for at in np.flatnonzero(sizes > least_db)]


def _values_db(lane: Automation) -> Floats:
    """The values (N,) of a level lane's points, dB."""
    import numpy as np

    values = np.asarray(lane.v)
    if lane.scale == "dB":
        return values
    return np.asarray(20.0 * np.log10(np.maximum(values, 1e-10)))


def _sounds_at(context: SessionContext, clips: list[tuple[Channel, Clip]], at_s: float) -> bool:
    """True when a clip, its edges left out, is not known to be quiet at a moment."""
    edge_s = context.setting(CLIP_EDGE) / 1000.0
    return any(
        clip.start_s + edge_s < at_s < clip.end_s - edge_s and not _is_quiet(context, clip, at_s) for _, clip in clips
    )


def _is_quiet(context: SessionContext, clip: Clip, at_s: float) -> bool:
    """True where a clip's file is measured to stay quiet around a moment; False where that cannot be measured."""
    if context.audio is None or clip.file is None or not is_known(clip.offset_s) or not is_known(clip.speed):
        return False
    measure = context.audio.measure(clip.file)
    if isinstance(measure, Unknown):
        return False
    inside = clip.offset_s + (at_s - clip.start_s) * clip.speed
    gain = clip.gain_db if is_known(clip.gain_db) else 0.0
    edge_s = context.setting(CLIP_EDGE) / 1000.0
    return measure.peak_db_between(inside - edge_s, inside + edge_s) + gain < context.setting(QUIET)
