"""Channels, clips, automation and the session that holds them."""

from __future__ import annotations

import json
from typing import Final, Literal, Self

from pydantic import Field, model_validator

from mixlint.session.gaps import FIELDS, GAPS, Gap, Held, not_shown
from mixlint.session.maybe import FARTHEST, Figure, Frozen, Level, Pan, Rate, Unknown
from mixlint.session.processor import Insert
from mixlint.session.target import TargetText
from mixlint.session.timeline import Marker, Timeline
from mixlint.units import LOUDEST_DB

ChannelKind = Literal["track", "group", "return", "master", "vca"]
"""A desk strip: a recorded or played part, a bus, an effect return, the mix bus, or a fader that carries no audio."""

Scale = Literal["dB", "amplitude", "pan", "switch", "plain", "unknown"]
"""What automation values mean: decibels, linear amplitude (1.0 = 0 dB), −100…+100, 0/1, the control's own unit, or
figures in a unit that the export does not tell."""

_REACH: Final[dict[Scale, tuple[float, float]]] = {"dB": (-FARTHEST, LOUDEST_DB), "pan": (-100.0, 100.0)}
"""The lowest and highest value that automation can have on a scale."""


class Automation(Frozen):
    """One automated parameter as two parallel lists: times in seconds and values.

    ``target`` is ``fader``, ``pan``, ``mute``, ``send:N:level``, ``send:N:pan``, ``send:N:on`` (N counts the
    channel's sends from 0), ``insert:N:on``, ``insert:N:wet``, ``insert:N:band:K:on`` (``freq`` in hertz, ``gain`` in
    decibels, ``q``, ``slope``; K counts the equalizer's bands from 1), a setting of dynamics such as
    ``insert:N:threshold`` (``ratio``, ``attack``, ``release``, ``knee``, ``range``, ``inputgain``, ``outputgain``,
    ``automakeup``, in the units of these fields), or ``insert:N:ID`` for a listed parameter.
    ``shape`` ``hold`` keeps a value until the next point; ``linear`` draws a straight line on ``scale``.
    Two points at one time make a step.
    """

    target: TargetText
    scale: Scale
    shape: Literal["hold", "linear"] = "hold"
    t: tuple[float, ...]
    v: tuple[float, ...]
    where: str = ""

    @model_validator(mode="after")
    def _parallel(self) -> Self:
        if len(self.t) != len(self.v):
            raise ValueError(f"t has {len(self.t)} points and v has {len(self.v)}; they must be as long as each other")
        if sorted(self.t) != list(self.t):  # sorting what is sorted is one pass in C; a lane may hold many points
            raise ValueError("times must not run backwards")
        if self.t:
            if max(-self.t[0], self.t[-1]) > FARTHEST:
                raise ValueError(f"a time of {max(-self.t[0], self.t[-1]):g} s is no place in a song")
            low, high = _REACH.get(self.scale, (-FARTHEST, FARTHEST))
            if min(self.v) < low or max(self.v) > high:
                raise ValueError(f"values on the scale {self.scale} run from {low:g} to {high:g}")
        return self


class Send(Frozen):
    """A send: ``to`` a channel id, ``level_db`` re unity, ``pan`` −100…+100, taken before or after the fader."""

    to: str | Unknown
    level_db: Level | Unknown = 0.0
    pan: Pan | Unknown = 0.0
    tap: Literal["pre", "post"] | Unknown = "post"
    on: bool | Unknown = True
    id: str = ""
    where: str = ""


class Clip(Frozen):
    """A stretch of a channel's timeline that plays, nested clips flattened.

    Args:
        start_s: where it starts in the song, seconds.
        end_s: where it ends, seconds.
        file: id of the media file it plays, or None for notes.
        offset_s: the position in the file at the clip's start, seconds of the file.
        speed: seconds of the file played per second of the song (1.0 = as recorded), or Unknown under a warp map.
        fade_in_s, fade_out_s: fade lengths; a negative ``fade_in_s`` is a crossfade that begins before the clip.
        gain_db: clip gain.
        on: false when the clip itself is muted.
    """

    start_s: Figure
    end_s: Figure
    name: str = ""
    plays: Literal["audio", "notes", "video", "unknown"] = "audio"
    file: str | None = None
    offset_s: Figure | Unknown = 0.0
    speed: Figure | Unknown = 1.0
    fade_in_s: Figure | Unknown = Unknown(unknown="the export gives no fade")
    fade_out_s: Figure | Unknown = Unknown(unknown="the export gives no fade")
    gain_db: Level | Unknown = 0.0
    on: bool | Unknown = True
    where: str = ""

    @model_validator(mode="after")
    def _forwards(self) -> Self:
        if self.end_s < self.start_s:
            raise ValueError(f"the clip ends at {self.end_s} s before it starts at {self.start_s} s")
        return self


class MediaFile(Frozen):
    """An audio file the session refers to.

    ``place`` says where it lies: ``inside`` the session's own container, ``beside`` (a path relative to the session)
    or ``outside`` (an absolute or climbing path, which does not travel with the session).
    """

    id: str
    path: str
    place: Literal["inside", "beside", "outside"] = "beside"
    present: bool | Unknown = Unknown(unknown="not looked for")
    legs: int | Unknown = Unknown(unknown="the export does not give the number of legs")
    sample_rate_hz: Rate | Unknown = Unknown(unknown="the export does not give the file's sample rate")
    duration_s: Figure | Unknown = Unknown(unknown="the export does not give the file's duration")


class Channel(Frozen):
    """One strip of the desk. ``output`` None means: declared to go nowhere.

    Args:
        parent: id of the channel it is grouped under (nesting), whether or not audio goes there.
        folder: names of the plain folders it lies in, outermost first.
        legs: 1 for mono, 2 for stereo.
        fader_db: −200 is fully down.
        pan: −100 (left) … +100 (right).
        plays: what is recorded on it, as the export declares.
        automation_mode: what the strip's automation is set to.
        declared_role: the mixer role as the file has it, verbatim.
        missing: the lists that the export does not show for this channel, or not wholly, each with the reason; what
            stands in them is what could be read.
        colour: its colour as the file writes it, such as ``#a03c2d``; empty where it gives none.
        armed: it is armed for recording.
        where: the place in the export, such as ``project.xml:118``.
    """

    id: str
    name: str
    kind: ChannelKind | Unknown
    parent: str | None = None
    folder: tuple[str, ...] = ()
    plays: tuple[Literal["audio", "notes"], ...] = ()
    legs: int | Unknown = Unknown(unknown="the export does not give the channel's width")
    fader_db: Level | Unknown = 0.0
    pan: Pan | Unknown = 0.0
    mute: bool | Unknown = False
    solo: bool | Unknown = False
    loaded: bool | Unknown = True
    output: str | Unknown | None = Unknown(unknown="the export gives no output")
    sends: tuple[Send, ...] = ()
    inserts: tuple[Insert, ...] = ()
    clips: tuple[Clip, ...] = ()
    automation: tuple[Automation, ...] = ()
    automation_mode: Literal["off", "read", "touch", "latch", "write"] | Unknown = Unknown(
        unknown="the export does not tell what automation is set to", settle="look at the automation mode"
    )
    declared_role: str = ""
    comment: str = ""
    missing: dict[Held, Unknown] = Field(default_factory=dict)
    colour: str = ""
    armed: bool | Unknown = Unknown(
        unknown="the export does not tell what is armed", settle="look at the record buttons"
    )
    where: str = ""

    def __hash__(self) -> int:
        """Equal channels have one id; what is missing stands in a table, which has no hash of its own."""
        return hash(self.id)


class Note(Frozen):
    """Something the importer assumed, or could not carry over.

    ``about`` is a channel id, or empty for the session; ``loses`` marks what the form cannot express, ``unread`` what
    stands in the file and could not be read, for somebody to correct. ``assumes`` names what of that channel was taken
    for lack of anything in the file, so that nobody is blamed for it.
    """

    text: str
    about: str = ""
    loses: bool = False
    unread: bool = False
    assumes: Literal["", "output"] = ""


class Source(Frozen):
    """Where the session came from: the importer's name and what wrote the file, as the file has it.

    ``form`` is what was read, for a reader, where that explains what is missing: ``a list of channels``.
    """

    importer: str = "json"
    form: str = ""
    application: str = ""
    version: str = ""


class Session(Frozen):
    """A whole mix session in the neutral form. Channels stand in desk order.

    ``gaps`` names what the form cannot hold, or the exporter seems to have dropped altogether, as far as the importer
    saw it: ``outputs`` when no channel of several has one, ``automation`` when points aim at nothing that is in the
    file, ``pans`` when the form has no place for them. What is left out reads as unknown on every channel that does
    not state it.
    """

    format: Literal["mixlint-session/1"] = "mixlint-session/1"
    title: str = ""
    source: Source = Source()
    sample_rate_hz: Rate | Unknown = Unknown(unknown="the export gives no session sample rate")
    timeline: Timeline | Unknown = Unknown(unknown="the export gives no tempo")
    markers: tuple[Marker, ...] = ()
    channels: tuple[Channel, ...] = ()
    media: tuple[MediaFile, ...] = ()
    metadata: dict[str, str] = Field(default_factory=dict)
    gaps: tuple[Gap, ...] = ()
    notes: tuple[Note, ...] = ()

    @model_validator(mode="after")
    def _unique_ids(self) -> Self:
        for what, ids in (("channel", [c.id for c in self.channels]), ("media", [m.id for m in self.media])):
            seen: set[str] = set()
            for one in ids:
                if one in seen:
                    raise ValueError(f"two {what} entries share the id {one!r}")
                seen.add(one)
        return self

    @model_validator(mode="after")
    def _left_out(self) -> Self:
        """A gap is no setting: what no channel states, for want of a place, reads as unknown and not as its default."""
        gaps = [gap for gap in GAPS if gap in self.gaps and (gap in FIELDS or gap in ("inserts", "clips"))]
        if gaps:
            channels = tuple(_without(channel, gaps, self.source.form) for channel in self.channels)
            object.__setattr__(self, "channels", channels)
        return self

    def channel(self, channel_id: str) -> Channel | None:
        """The channel with this id, or None."""
        return next((c for c in self.channels if c.id == channel_id), None)

    def json_text(self) -> str:
        """The native JSON form, stable to the byte: two-space indent, defaults left out, a newline at the end.

        A default that a channel states is written where what is left out would read as unknown.
        """
        body = {"format": self.format, **self.model_dump(mode="json", exclude_defaults=True)}
        for field in (FIELDS[gap] for gap in self.gaps if gap in FIELDS):
            for written, channel in zip(body.get("channels", ()), self.channels, strict=True):
                if field in channel.model_fields_set:
                    written.setdefault(field, channel.__dict__[field])
        return json.dumps(body, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _without(channel: Channel, gaps: list[Gap], form: str) -> Channel:
    """The channel with everything unknown that belongs to a gap and that it does not state."""
    changed: dict[str, object] = {}
    missing = dict(channel.missing)
    for gap in gaps:
        if gap in FIELDS:
            if FIELDS[gap] not in channel.model_fields_set:
                changed[FIELDS[gap]] = not_shown(gap, form)
        elif (gap == "inserts" and not channel.inserts) or (gap == "clips" and not channel.clips):
            missing.setdefault(gap, not_shown(gap, form))
    if missing != channel.missing:
        changed["missing"] = missing
    return channel.model_copy(update=changed) if changed else channel
