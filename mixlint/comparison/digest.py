"""What a mix is, as a hash that ids, order, letter case and rounding do not change.

Sign-off files and approvals hold these hashes, so that what enters them and how it is written must stay as it is.
"""

from __future__ import annotations

from collections.abc import Container, Iterator
from hashlib import sha256
from typing import Any, Final

from mixlint.comparison.curves import in_db
from mixlint.comparison.fields import BAND, CHANNEL, CLIP, DYNAMICS, INSERT, SEND, hashed
from mixlint.comparison.matching import Contents, Revision
from mixlint.comparison.quantities import (
    NOT_KNOWN,
    level_step,
    plain_step,
    step_number,
    time_step,
    whole_step,
    word,
)  # fmt: skip
from mixlint.comparison.saved import saved_hash
from mixlint.comparison.sends import is_idle
from mixlint.comparison.targets import Lanes, automated_controls, automated_send_controls, hashed_target, lanes
from mixlint.naming import fold_name
from mixlint.session import (
    Automation,
    Channel,
    Clip,
    Insert,
    Send,
    Session,
    Timeline,
    Unknown,
    seen_clips,
    seen_inserts,
)
from mixlint.session.control import shown_value, with_controls

LENGTH: Final = 24
"""Hexadecimal digits kept: 96 bits."""

FLAT: Final = 1e-4
"""A point this near to the line between its neighbours says nothing, in the lane's own unit."""


def mix_digest(session: Session) -> str:
    """The hash of what is set in a session, to a tenth of a dB, one pan step and one millisecond.

    Args:
        session: the session; what it leaves unknown counts as one and the same, whatever the reason.

    Returns:
        24 hexadecimal digits.
    """
    revision = Revision(session, {})
    strips = sorted(repr(_strip(revision, channel)) for channel in session.channels)
    tempo: tuple[Any, ...] = ()
    if isinstance(session.timeline, Timeline):
        tempo = tuple((time_step(t.beat), step_number(t.bpm, 0.01), t.ramp) for t in session.timeline.tempos)
    return sha256("\n".join([repr(tempo), *strips]).encode("utf-8", "surrogatepass")).hexdigest()[:LENGTH]


def sound_digest(session: Session, contents: Contents) -> str:
    """The hash of all that the clips of a session play.

    Args:
        session: the session.
        contents: media id to the hash of its sound, for the files that were heard.

    Returns:
        24 hexadecimal digits; empty when nothing was heard.
    """
    used = {clip.file for channel in session.channels for clip in seen_clips(channel) if clip.file is not None}
    sounds = sorted({contents[one] for one in used if one in contents})
    return sha256("\n".join(sounds).encode()).hexdigest()[:LENGTH] if sounds else ""


def _strip(revision: Revision, channel: Channel) -> tuple[Any, ...]:
    moving = lanes(channel)
    return (
        fold_name(channel.name),
        word(channel.kind),
        revision.place(channel),
        *hashed(CHANNEL, channel, automated_controls(moving)),
        _leads_to(revision, channel.output),
        sorted(repr(_send(revision, send, automated_send_controls(moving, n))) for n, send in _sounding(channel)),
        [
            _insert(channel, place, insert)
            for place, insert in enumerate(seen_inserts(_as_lanes_begin(channel, moving)))
        ],
        sorted(repr(_clip(revision, clip)) for clip in seen_clips(channel)),
        sorted(repr(_lane(revision, channel, lane)) for lane in moving.values()),
        *sorted(channel.missing),
    )


def _leads_to(revision: Revision, channel_id: str | Unknown | None) -> str:
    if channel_id is None:
        return "nowhere"
    return NOT_KNOWN if isinstance(channel_id, Unknown) else fold_name(revision.name(channel_id))


def _sounding(channel: Channel) -> Iterator[tuple[int, Send]]:
    return ((n, send) for n, send in enumerate(channel.sends) if not is_idle(channel, n))


def _as_lanes_begin(channel: Channel, moving: Lanes) -> Channel:
    """The channel with the automated settings of its inserts stored as their lanes begin.

    What an exporter stores of them is where they stood when it wrote the file, and their lanes are hashed as such.
    """
    begun = {target: shown_value(lane, lane.v[0]) for target, lane in moving.items() if target.of_insert}
    return with_controls(channel, begun)


def _send(revision: Revision, send: Send, automated: Container[str]) -> tuple[Any, ...]:
    return _leads_to(revision, send.to), *hashed(SEND, send, automated)


def _insert(channel: Channel, place: int, insert: Insert) -> tuple[Any, ...]:
    bands = () if insert.equalizer is None else tuple(hashed(BAND, band) for band in insert.equalizer.bands)
    dynamics = () if insert.dynamics is None else hashed(DYNAMICS, insert.dynamics)
    values = sorted((p.id, plain_step(p.value)) for p in insert.parameters)
    content = saved_hash(channel, place)
    saved = (content,) if content else ()  # nothing, so that the hash of a mix without any stays what it was
    return *hashed(INSERT, insert), bands, dynamics, tuple(map(repr, values)), *saved


def _clip(revision: Revision, clip: Clip) -> tuple[Any, ...]:
    return clip.plays, fold_name(revision.file_name(clip)), *hashed(CLIP, clip)


def _lane(revision: Revision, channel: Channel, lane: Automation) -> tuple[Any, ...]:
    points = _bare(lane)
    if lane.scale == "pan":
        values = [whole_step(v) for _, v in points]
    elif lane.scale in ("dB", "amplitude"):
        values = [level_step(in_db(lane, v)) for _, v in points]
    else:
        values = [plain_step(v) for _, v in points]
    same = len(set(values)) == 1  # one value throughout: when it is said does not matter
    times = [0] if same else [time_step(t) for t, _ in points]
    shape = "" if len(times) == 1 else lane.shape
    target = hashed_target(lane.target, channel, lambda send: _leads_to(revision, send.to))
    return target, shape, tuple(zip(times, values, strict=False))


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
