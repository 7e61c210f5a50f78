"""What a mix is, as a hash that ids, order, letter case and rounding do not change."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from hashlib import sha256
from math import floor, log2
from typing import Any, Final

from mixlint.revisions.curves import in_db
from mixlint.revisions.matching import Contents, Revision, folded
from mixlint.revisions.notes import FAINT_DB
from mixlint.revisions.sends import is_idle
from mixlint.session import Automation, Channel, Clip, Insert, Send, Session, Timeline, Unknown

LENGTH: Final = 24
"""Hexadecimal digits kept: 96 bits."""

STEP_DB: Final = 0.1
STEP_PAN: Final = 1.0
STEP_S: Final = 0.001
GOLDEN: Final = 0.6180339887
"""Where in a step its edge lies. No number of few decimals lies there, so rounding does not push one across."""

FLAT: Final = 1e-4
"""A point this near to the line between its neighbours says nothing, in the lane's own unit."""


def mix_digest(session: Session) -> str:
    """The hash of everything that is set in a session, to a tenth of a dB, one pan step and one millisecond."""
    revision = Revision(session, {})
    strips = sorted(repr(_strip(revision, channel)) for channel in session.channels)
    tempo: tuple[Any, ...] = ()
    if isinstance(session.timeline, Timeline):
        tempo = tuple((_step(t.beat, STEP_S), _step(t.bpm, 0.01), t.ramp) for t in session.timeline.tempos)
    return sha256("\n".join([repr(tempo), *strips]).encode("utf-8", "surrogatepass")).hexdigest()[:LENGTH]


def sound_digest(session: Session, contents: Contents) -> str:
    """The hash of all that the clips of a session play; empty when nothing was heard."""
    used = {clip.file for channel in session.channels for clip in channel.clips if clip.file is not None}
    sounds = sorted({contents[one] for one in used if one in contents})
    return sha256("\n".join(sounds).encode()).hexdigest()[:LENGTH] if sounds else ""


def _step(value: object, step: float) -> Any:
    """The number of the step a value lies in; a reason why it is not known counts as one and the same."""
    if isinstance(value, bool) or not isinstance(value, float | int):
        return "not known" if isinstance(value, Unknown) else value
    return floor(value / step + 1.0 - GOLDEN)


def _level(value: object) -> Any:
    return "silent" if isinstance(value, float | int) and value <= FAINT_DB else _step(value, STEP_DB)


def _plain(value: object) -> Any:
    return "not known" if isinstance(value, Unknown) else value


def _strip(revision: Revision, channel: Channel) -> tuple[Any, ...]:
    lanes = {str(lane.target): lane for lane in channel.automation if lane.t}
    return (
        folded(channel.name),
        _plain(channel.kind),
        revision.place(channel),
        None if "fader" in lanes else _level(channel.fader_db),
        None if "pan" in lanes else _step(channel.pan, STEP_PAN),
        None if "mute" in lanes else _plain(channel.mute),
        _plain(channel.solo),
        _lead(revision, channel.output),
        sorted(repr(_send(revision, send, f"send:{n}:level" in lanes)) for n, send in _sounding(channel.sends)),
        [_insert(insert) for insert in channel.inserts],
        sorted(repr(_clip(revision, clip)) for clip in channel.clips),
        sorted(repr(_lane(revision, channel, lane)) for lane in lanes.values()),
    )


def _lead(revision: Revision, target: str | Unknown | None) -> str:
    if target is None:
        return "nowhere"
    return "not known" if isinstance(target, Unknown) else folded(revision.name(target))


def _sounding(sends: Sequence[Send]) -> Iterator[tuple[int, Send]]:
    return ((n, send) for n, send in enumerate(sends) if not is_idle(send))


def _send(revision: Revision, send: Send, rides: bool) -> tuple[Any, ...]:
    level = None if rides else _level(send.level_db)
    return _lead(revision, send.to), level, _step(send.pan, STEP_PAN), _plain(send.tap)


def _insert(insert: Insert) -> tuple[Any, ...]:
    bands = () if insert.equalizer is None else tuple(
        (b.kind, _pitch(b.freq_hz), _level(b.gain_db), _pitch(b.q), _plain(b.on)) for b in insert.equalizer.bands
    )  # fmt: skip
    dynamics = insert.dynamics
    squash = () if dynamics is None else (
        _level(dynamics.threshold_db), _pitch(dynamics.ratio), _pitch(dynamics.attack_ms), _pitch(dynamics.release_ms),
        _level(dynamics.output_gain_db),
    )  # fmt: skip
    values = sorted((p.id, _step(p.value, 1e-3)) for p in insert.parameters)
    return (
        folded(insert.name), _plain(insert.on), _plain(insert.loaded), _step(insert.wet, 1.0), bands, squash,
        tuple(map(repr, values)),
    )  # fmt: skip


def _pitch(value: object) -> Any:
    """A frequency, Q, ratio or time to within about one per cent."""
    return _step(log2(value), 0.015) if isinstance(value, float) and value > 0.0 else _step(value, 0.01)


def _clip(revision: Revision, clip: Clip) -> tuple[Any, ...]:
    times = (clip.start_s, clip.end_s, clip.offset_s, clip.fade_in_s, clip.fade_out_s)
    return (
        clip.plays, folded(revision.file_name(clip)), *(_step(time, STEP_S) for time in times),
        _step(clip.speed, 1e-3), _level(clip.gain_db), _plain(clip.on),
    )  # fmt: skip


def _lane(revision: Revision, channel: Channel, lane: Automation) -> tuple[Any, ...]:
    points = _bare(lane)
    if lane.scale == "pan":
        values = [_step(v, STEP_PAN) for _, v in points]
    elif lane.scale in ("dB", "amplitude"):
        values = [_level(in_db(lane, v)) for _, v in points]
    else:
        values = [_step(v, 1e-3) for _, v in points]
    same = len(set(values)) == 1  # one value throughout: when it is said does not matter
    times = [0] if same else [_step(t, STEP_S) for t, _ in points]
    shape = "" if len(times) == 1 else lane.shape
    return _target(revision, channel, str(lane.target)), shape, tuple(zip(times, values, strict=False))


def _bare(lane: Automation) -> list[tuple[float, float]]:
    """The points without those that lie on the line between their neighbours."""
    points = list(zip(lane.t, lane.v, strict=True))
    kept = points[:1]
    for here, after in zip(points[1:], [*points[2:], None], strict=False):
        before = kept[-1]
        if after is not None and after[0] > before[0] and here[0] > before[0]:
            part = (here[0] - before[0]) / (after[0] - before[0])
            line = before[1] if lane.shape == "hold" else before[1] + part * (after[1] - before[1])
            if abs(here[1] - line) <= FLAT:
                continue
        kept.append(here)
    return kept


def _target(revision: Revision, channel: Channel, target: str) -> str:
    """``send:0:level`` as what it leads to, since the order of sends says nothing."""
    what, *rest = target.split(":")
    if what == "send" and len(rest) > 1 and rest[0].isdigit() and int(rest[0]) < len(channel.sends):
        return f"send to {_lead(revision, channel.sends[int(rest[0])].to)} {rest[1]}"
    return target
