"""Write a session in the open interchange format the way different exporters do.

A style is described by what it does: how it writes levels and pans, groups and buses, ids, outputs, time and clips.
The writer covers what a mixer view needs; it is the other end of the round-trip tests.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable
from dataclasses import dataclass
from math import log2
from typing import Literal
from xml.sax.saxutils import quoteattr

from mixlint.session import Automation, Channel, Clip, Insert, Send, Session, Timeline, Unknown
from mixlint.units import SILENCE_DB


@dataclass(frozen=True)
class Style:
    """What one kind of exporter does."""

    name: str
    level: Literal["linear 0..2", "linear 0..1 unclamped", "linear 0..200", "percent", "decibel"] = "linear 0..2"
    send_level: Literal["linear", "linear 12 dB low", "decibel"] = "linear"
    pan: Literal["0..1", "0..1 no range", "-1..1 no range", "percent no range", "-100..100"] = "0..1"
    send_pan: Literal["as pan", "normalized -1..1"] = "as pan"
    groups: Literal["master role", "submix role", "vca role", "inner master"] = "master role"
    master: Literal["track", "bare channel"] = "track"
    returns: Literal["track", "bare channel"] = "track"
    roles: bool = True
    outputs: bool = True
    output_names: Literal["channel", "track"] = "channel"
    unit: Literal["beats", "seconds"] = "beats"
    clips: Literal["plain", "nested warps", "extra lanes", "reference"] = "plain"
    frequency: Literal["semitones", "hertz"] = "semitones"
    backwards: bool = False
    enable: Literal["when off", "always"] = "when off"
    points: Literal["in lanes", "at root"] = "in lanes"
    point_units: bool = True
    markers: Literal["Markers", "markers"] = "Markers"
    encoding: Literal["utf-8", "utf-8-sig", "utf-16"] = "utf-8"
    phantom_sends: bool = False


STYLES: tuple[Style, ...] = (
    Style("everything by the book"),
    Style("groups as submix, buses bare, in seconds", groups="submix role", master="bare channel",
          returns="bare channel", unit="seconds", clips="extra lanes", backwards=True, enable="always"),
    Style("decibels, pans without a range", level="decibel", send_level="decibel", pan="0..1 no range",
          frequency="hertz", markers="markers", encoding="utf-8-sig"),
    Style("per cent in disguise, outputs name tracks", level="linear 0..200", pan="-100..100",
          output_names="track", points="at root", encoding="utf-16"),
    Style("converter: no outputs, sends low, masters inside folders", level="linear 0..1 unclamped",
          send_level="linear 12 dB low", send_pan="normalized -1..1", groups="inner master", outputs=False,
          markers="markers"),
    Style("pans −1 to 1 under a wrong unit", pan="-1..1 no range", level="percent", clips="nested warps"),
    Style("groups declared as VCA, clips by reference", groups="vca role", clips="reference", pan="percent no range",
          point_units=False),
    Style("sends to everything, themselves included", phantom_sends=True, clips="nested warps"),
)  # fmt: skip


class Element:
    """A small XML writer: attributes that are None are left out."""

    def __init__(self, tag: str, *children: Element | None, **attrs: str | float | None) -> None:
        self.tag = tag
        self.attrs = {key: value for key, value in attrs.items() if value is not None}
        self.children = [child for child in children if child is not None]

    def add(self, *children: Element | None) -> Element:
        """Append children; None is passed over."""
        self.children += [child for child in children if child is not None]
        return self

    def write(self, out: io.StringIO, backwards: bool, indent: int = 0) -> None:
        """Write with one element per line; ``backwards`` turns the order of children of different tags around."""
        attrs = "".join(f" {key.rstrip('_')}={quoteattr(_text(key, value))}" for key, value in self.attrs.items())
        pad = " " * indent
        if not self.children:
            out.write(f"{pad}<{self.tag}{attrs}/>\n")
            return
        out.write(f"{pad}<{self.tag}{attrs}>\n")
        for child in _turned(self.children) if backwards and self.tag in _ANY_ORDER else self.children:
            child.write(out, backwards, indent + 2)
        out.write(f"{pad}</{self.tag}>\n")


_IDENTITIES = frozenset({"id", "destination", "parameter", "track", "reference"})


def _text(name: str, value: str | float) -> str:
    """An attribute as it is written: in an id of XML no colon may stand."""
    if name in _IDENTITIES and isinstance(value, str):
        return value.replace(":", ".")
    return value if isinstance(value, str) else repr(value)


_ANY_ORDER = ("Project", "Track", "Channel", "Send", "Equalizer", "Band", "Arrangement", "Points")
"""Elements whose children may stand in any order; in the others the order says something."""


def _turned(children: list[Element]) -> Iterable[Element]:
    tags = list(dict.fromkeys(child.tag for child in children))
    return (child for tag in reversed(tags) for child in children if child.tag == tag)


class Exporter:
    """Writes one session in one style."""

    def __init__(self, session: Session, style: Style) -> None:
        self.session = session
        self.style = style
        assert isinstance(session.timeline, Timeline)
        self.timeline: Timeline = session.timeline
        self.by_id = {channel.id: channel for channel in session.channels}

    def archive(self) -> bytes:
        """The packed session."""
        packed = io.BytesIO()
        with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
            archive.writestr("metadata.xml", f"<MetaData><Title>{self.session.title}</Title></MetaData>")
            archive.writestr("project.xml", self.xml())
        return packed.getvalue()

    def xml(self) -> bytes:
        """The ``project.xml``."""
        out = io.StringIO()
        out.write(f'<?xml version="1.0" encoding="{self.style.encoding.removesuffix("-sig").upper()}"?>\n')
        first = self.timeline.tempos[0]
        metre = self.timeline.meters[0]
        Element(
            "Project",
            Element("Application", name="writer", version="1"),
            Element(
                "Transport",
                Element("Tempo", unit="bpm", value=first.bpm, id="tempo"),
                Element("TimeSignature", numerator=str(metre.beats), denominator=str(metre.unit), id="metre"),
            ),
            self._structure(),
            self._arrangement(),
            Element("Scenes", Element("Scene", Element("Lanes", Element("ClipSlot", track="t:x")))),
            version="1.0",
        ).write(out, self.style.backwards)
        return out.getvalue().encode(self.style.encoding)

    # --- structure

    def _structure(self) -> Element:
        top = Element("Structure")
        for channel in self.session.channels:
            if channel.parent is None:
                top.add(self._strip(channel))
        return top

    def _strip(self, channel: Channel) -> Element:
        members = [one for one in self.session.channels if one.parent == channel.id]
        style = self.style
        bare = (channel.kind == "master" and style.master == "bare channel") or (
            channel.kind == "return" and style.returns == "bare channel"
        )
        if channel.kind == "vca" or bare:
            return self._channel(channel, named=True)
        if channel.kind == "group" and style.groups == "inner master":
            folder = Element("Track", contentType="tracks", name="Folder of " + channel.name, id="f:" + channel.id)
            folder.add(self._track(channel, "audio"))
            return folder.add(*(self._strip(one) for one in members))
        content = "audio tracks" if channel.kind == "group" else " ".join(channel.plays) or "audio"
        return self._track(channel, content).add(*(self._strip(one) for one in members))

    def _track(self, channel: Channel, content: str) -> Element:
        return Element(
            "Track", self._channel(channel, named=False), contentType=content, name=channel.name, id="t:" + channel.id,
            loaded="true" if channel.loaded is True else "false", comment=channel.comment,
        )  # fmt: skip

    def _channel(self, channel: Channel, *, named: bool) -> Element:
        style = self.style
        role = {"track": "regular", "return": "effect", "master": "master", "vca": "vca"}.get(str(channel.kind))
        if channel.kind == "group":
            role = {"submix role": "submix", "vca role": "vca"}.get(style.groups, "master")
        destination = None
        if style.outputs and isinstance(channel.output, str):
            destination = channel.output
            target = self.by_id[channel.output]
            as_track = style.output_names == "track" and not (
                (target.kind == "master" and style.master == "bare channel") or target.kind == "vca"
            )
            destination = "t:" + destination if as_track else destination
        sends = list(channel.sends)
        element = Element("Channel", id=channel.id, role=role, destination=destination, solo=_bool(channel.solo))
        if channel.legs in (1, 2):
            element.attrs["audioChannels"] = str(channel.legs)
        if named:
            element.attrs["name"] = channel.name
        if channel.inserts:
            element.add(Element("Devices", *(self._insert(channel, n, one) for n, one in enumerate(channel.inserts))))
        element.add(Element("Mute", value=_bool(channel.mute), id=f"{channel.id}:mute"))
        element.add(self._pan(channel.pan, f"{channel.id}:pan"))
        boxes = [self._send(channel, number, send) for number, send in enumerate(sends)]
        if style.phantom_sends and channel.kind in ("track", "return"):
            boxes += [self._phantom(one.id) for one in self.session.channels if one.kind == "return"]
        if boxes:
            element.add(Element("Sends", *boxes))
        element.add(self._level(channel.fader_db, f"{channel.id}:fader", style.level))
        return element

    def _phantom(self, to: str) -> Element:
        level = Element("Volume", unit="linear", value="0.000000", min="0.000000", max="1.000000")
        return Element("Send", Element("Enable", value="false"), level, destination=to, type="post")

    def _send(self, channel: Channel, number: int, send: Send) -> Element:
        style = self.style
        element = Element("Send", destination=str(send.to), type=str(send.tap), id=f"{channel.id}:send{number}")
        if style.enable == "always" or send.on is False:
            element.add(Element("Enable", value=_bool(send.on), id=f"{channel.id}:send{number}:on"))
        identity = f"{channel.id}:send{number}"
        if style.send_pan == "normalized -1..1":
            assert isinstance(send.pan, float)
            element.add(
                Element("Pan", unit="normalized", value=send.pan / 100.0, min=-1.0, max=1.0, id=identity + ":pan")
            )
        else:
            element.add(self._pan(send.pan, identity + ":pan"))
        raised = style.send_level == "linear 12 dB low"
        written = "decibel" if style.send_level == "decibel" else "linear 0..1 unclamped"
        assert isinstance(send.level_db, float)
        level = send.level_db - 12.0 if raised and send.level_db > SILENCE_DB else send.level_db
        return element.add(self._level(level, identity + ":level", written))

    def level_value(self, level_db: float, written: str) -> float:
        """A level as the style writes it."""
        if written == "decibel":
            return level_db
        amplitude = 0.0 if level_db <= SILENCE_DB else 10.0 ** (level_db / 20.0)
        return amplitude * 100.0 if written in ("linear 0..200", "percent") else amplitude

    def _level(self, level_db: float | Unknown, identity: str, written: str) -> Element:
        assert isinstance(level_db, float)
        element = Element("Volume", id=identity)
        value = self.level_value(level_db, written)
        if written == "decibel":
            element.attrs |= {"unit": "decibel", "value": "-inf" if level_db <= SILENCE_DB else value}
        elif written == "percent":
            element.attrs |= {"unit": "percent", "value": value}
        else:
            top = {"linear 0..2": 2.0, "linear 0..1 unclamped": 1.0}.get(written, 200.0)
            element.attrs |= {"unit": "linear", "value": value, "min": 0.0, "max": top}
        return element

    def pan_value(self, pan: float) -> float:
        """A pan as the style writes it."""
        half = (pan + 100.0) / 200.0
        return {"-1..1 no range": pan / 100.0, "percent no range": 100.0 * half, "-100..100": pan}.get(
            self.style.pan, half
        )

    def _pan(self, pan: float | Unknown, identity: str) -> Element:
        assert isinstance(pan, float)
        element = Element("Pan", value=self.pan_value(pan), id=identity)
        element.attrs["unit"] = {"percent no range": "percent", "-100..100": "linear"}.get(self.style.pan, "normalized")
        if self.style.pan == "0..1":
            element.attrs |= {"min": 0.0, "max": 1.0}
        elif self.style.pan == "-100..100":
            element.attrs |= {"min": -100.0, "max": 100.0}
        return element

    def _insert(self, channel: Channel, number: int, insert: Insert) -> Element:
        tag = "Equalizer" if insert.equalizer is not None else "Vst3Plugin"
        element = Element(
            tag, deviceName=insert.name, deviceRole="audioFX", loaded=_bool(insert.loaded), deviceID=insert.device
        )
        element.add(Element("Parameters"))
        if self.style.enable == "always" or insert.on is False:
            element.add(Element("Enabled", value=_bool(insert.on), id=f"{channel.id}:insert{number}:on"))
        if insert.saved is not None:
            element.add(Element("State", path=insert.saved.path))
        for band in insert.equalizer.bands if insert.equalizer is not None else ():
            first, *rest = band.kind.split("-")
            assert isinstance(band.freq_hz, float)
            assert isinstance(band.gain_db, float)
            assert isinstance(band.q, float)
            semitones = self.style.frequency == "semitones"
            element.add(
                Element(
                    "Band",
                    Element(
                        "Freq",
                        unit=self.style.frequency,
                        value=69.0 + 12.0 * log2(band.freq_hz / 440.0) if semitones else band.freq_hz,
                    ),
                    Element("Gain", unit="decibel", value=band.gain_db),
                    Element("Q", unit="linear", value=band.q),
                    Element("Enabled", value=_bool(band.on)),
                    type=first + "".join(word.capitalize() for word in rest),
                )
            )
        return element

    # --- arrangement

    def _time(self, seconds: float) -> float:
        return seconds if self.style.unit == "seconds" else self.timeline.beat(seconds)

    def _arrangement(self) -> Element:
        root = Element("Lanes", timeUnit=self.style.unit, id="lanes")
        shared = Element("Lanes", id="shared")
        for channel in self.session.channels:
            lane = Element("Lanes", track="t:" + channel.id, id="lane:" + channel.id)
            if channel.clips:
                clips = Element("Clips", id="clips:" + channel.id)
                for number, clip in enumerate(channel.clips):
                    clips.add(self._clip(channel, number, clip, shared))
                lane.add(clips)
            points = [self._points(channel, one) for one in channel.automation]
            if self.style.points == "at root":
                for one in points:
                    one.attrs["track"] = "t:" + channel.id
                root.add(*points)
            else:
                lane.add(*points)
            root.add(lane)
        marks = Element(self.style.markers, id="marks")
        marks.add(*(Element("Marker", time=self._time(one.time_s), name=one.name) for one in self.session.markers))
        arrangement = Element("Arrangement", root, id="arrangement")
        if self.session.markers:
            if self.style.markers == "markers":
                root.add(marks)
            else:
                marks.attrs["timeUnit"] = self.style.unit
                arrangement.add(marks)
        if len(self.timeline.tempos) > 1:
            tempo = Element("TempoAutomation", Element("Target", parameter="tempo"), timeUnit="beats", id="tempo-map")
            for one in self.timeline.tempos:
                shape = "linear" if one.ramp else "hold"
                tempo.add(Element("RealPoint", time=one.beat, value=one.bpm, interpolation=shape))
            arrangement.add(tempo)
        if len(self.timeline.meters) > 1:
            metres = Element("TimeSignatureAutomation", timeUnit="beats", id="metre-map")
            for one in self.timeline.meters:
                metres.add(
                    Element("TimeSignaturePoint", time=one.beat, numerator=str(one.beats), denominator=str(one.unit))
                )
            arrangement.add(metres)
        if shared.children:
            root.add(shared)  # referred-to timelines lie on a lane of no track
        return arrangement

    def _clip(self, channel: Channel, number: int, clip: Clip, shared: Element) -> Element:
        style = self.style
        start, end = self._time(clip.start_s), self._time(clip.end_s)
        element = Element("Clip", time=start, duration=end - start, name=clip.name)
        if clip.on is False or style.enable == "always":
            element.attrs["enable"] = _bool(clip.on)
        if isinstance(clip.fade_in_s, float) and isinstance(clip.fade_out_s, float):
            element.attrs |= {"fadeTimeUnit": "seconds", "fadeInTime": clip.fade_in_s, "fadeOutTime": clip.fade_out_s}
        if clip.plays == "notes":
            content = Element("Notes")
            return element.add(Element("Lanes", content) if style.clips == "extra lanes" else content)
        assert isinstance(clip.offset_s, float)
        file = next(one for one in self.session.media if one.id == clip.file)
        audio = Element(
            "Audio",
            Element("File", path=file.path, external="true" if file.place == "beside" else None),
            channels=str(file.legs), sampleRate=_whole(file.sample_rate_hz), duration=str(file.duration_s),
        )  # fmt: skip
        if style.clips == "nested warps":
            # The inner clip begins where the file begins; the outer one cuts its window out of it.
            length = clip.offset_s + clip.end_s - clip.start_s
            warps = Element("Warps", audio, contentTimeUnit="seconds", timeUnit="seconds")
            warps.add(Element("Warp", time=0.0, contentTime=0.0), Element("Warp", time=length, contentTime=length))
            inner = Element("Clip", warps, time=0.0, duration=length, contentTimeUnit="seconds", playStart=0.0)
            element.attrs |= {"contentTimeUnit": "seconds", "playStart": clip.offset_s}
            return element.add(Element("Clips", inner, timeUnit="seconds"))
        element.attrs |= {"contentTimeUnit": "seconds", "playStart": clip.offset_s}
        if style.clips == "reference":
            identity = f"shared:{channel.id}:{number}"
            audio.attrs["id"] = identity
            shared.add(audio)
            element.attrs["reference"] = identity
            return element
        return element.add(Element("Lanes", audio) if style.clips == "extra lanes" else audio)

    def _points(self, channel: Channel, automation: Automation) -> Element:
        style = self.style
        kind, *rest = str(automation.target).split(":")
        identity = f"{channel.id}:{kind}" if not rest else f"{channel.id}:send{rest[0]}:{rest[1]}"
        element = Element("Points", Element("Target", parameter=identity), id="points:" + identity)
        raised = 12.0 if rest and style.send_level == "linear 12 dB low" else 0.0
        written = style.level
        if rest:
            written = "decibel" if style.send_level == "decibel" else "linear 0..1 unclamped"
        unit = None
        for time, value in zip(automation.t, automation.v, strict=True):
            at = self._time(time)
            if automation.scale == "switch":
                element.add(Element("BoolPoint", time=at, value=_bool(value >= 0.5)))
                continue
            if automation.scale == "pan":
                unit = {"percent no range": "percent", "-100..100": "linear"}.get(style.pan, "normalized")
                value = self.pan_value(value)
            else:
                unit = {"decibel": "decibel", "percent": "percent"}.get(written, "linear")
                value = self.level_value(value - raised if value > SILENCE_DB else value, written)
            element.add(Element("RealPoint", time=at, value=value, interpolation=automation.shape))
        if style.point_units and unit is not None:
            element.attrs["unit"] = unit
        return element


def _whole(value: object) -> str:
    return str(int(value)) if isinstance(value, float) and value.is_integer() else str(value)


def _bool(value: object) -> str:
    return "true" if value is True else "false"
