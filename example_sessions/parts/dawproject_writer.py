"""Write a session as a DAWproject 1.0 container, the open interchange format for audio sessions.

Elements stand in the order of the published schema: a channel's Devices, Mute, Pan, Sends, Volume; a device's
Parameters, Enabled, State, then its own. Volume is linear with 2 at the top, pan runs from 0 to 1, clips stand in
beats while their content and fades stand in seconds. An equalizer that comes first in its channel gives frequencies
in semitones (69 is 440 Hz), one further down gives hertz: both occur in real exports.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from xml.etree import ElementTree as ET

from mixlint.session import Automation, Channel, Clip, Equalizer, Insert, Send, Session, Timeline

from .archive import stored
from .synth import RATE, Recording

_ROLES = {"track": "regular", "group": "submix", "return": "effect", "master": "master", "vca": "vca"}
_BANDS = {
    "high-pass": "highPass", "low-pass": "lowPass", "band-pass": "bandPass", "high-shelf": "highShelf",
    "low-shelf": "lowShelf", "bell": "bell", "notch": "notch",
}  # fmt: skip


def dawproject(session: Session, recordings: Mapping[str, Recording]) -> bytes:
    """The container's bytes.

    Args:
        session: the session; every level, pan and time in it must be known.
        recordings: the audio each channel's clips play, by channel id, repeated where a clip is longer.

    Returns:
        A ZIP file with stored members: metadata, project, plug-in states, audio.
    """
    writer = _Writer(session, recordings)
    project = writer.project()
    metadata = ET.Element("MetaData")
    for tag in ("Title", "Artist", "Producer", "Comment"):
        ET.SubElement(metadata, tag).text = session.metadata.get(tag.lower(), "")
    members = {"metadata.xml": _xml(metadata), "project.xml": _xml(project)}
    members |= dict(sorted(writer.states.items()))
    members |= {r.path: r.wav() for _, r in sorted(recordings.items())}
    return stored(members)


def _xml(root: ET.Element) -> bytes:
    ET.indent(root, "    ")
    body = ET.tostring(root, encoding="unicode", short_empty_elements=True)
    return f'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n{body}\n'.encode()


def _number(value: float) -> str:
    return f"{value:.6f}"


def _truth(value: bool) -> str:
    return "true" if value else "false"


def _known(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise TypeError(f"this writer needs a known number, not {value!r}")
    return float(value)


def _linear(db: object) -> float:
    return 10 ** (_known(db) / 20)


@dataclass
class _Writer:
    session: Session
    recordings: Mapping[str, Recording]
    states: dict[str, bytes] = field(default_factory=dict)
    _next: int = 0
    _of_channel: dict[str, str] = field(default_factory=dict)
    _of_track: dict[str, str] = field(default_factory=dict)
    _of_target: dict[tuple[str, str], str] = field(default_factory=dict)

    def _id(self) -> str:
        self._next += 1
        return f"id{self._next - 1}"

    @property
    def _timeline(self) -> Timeline:
        if not isinstance(self.session.timeline, Timeline):
            raise TypeError("this writer needs a tempo")
        return self.session.timeline

    def _beats(self, seconds: float) -> str:
        return _number(self._timeline.beat(seconds))

    def project(self) -> ET.Element:
        root = ET.Element("Project", version="1.0")
        ET.SubElement(root, "Application", name="Lower Slate Desk", version="1.0")
        transport = ET.SubElement(root, "Transport")
        tempo, meter = self._timeline.tempos[0], self._timeline.meters[0]
        self._real(transport, "Tempo", tempo.bpm, "bpm", 20.0, 666.0, "Tempo")
        ET.SubElement(
            transport, "TimeSignature",
            denominator=str(meter.unit), numerator=str(meter.beats), id=self._id(),
        )  # fmt: skip
        for channel in self.session.channels:
            self._of_channel[channel.id] = self._id()
        structure = ET.SubElement(root, "Structure")
        for channel in self.session.channels:
            if channel.kind == "group" and channel.declared_role == "master":
                self._channel(structure, channel, name=channel.name)  # a further pair of outputs is a bare channel
            elif channel.parent is None:
                self._track(structure, channel)
        self._arrangement(root)
        return root

    def _track(self, into: ET.Element, channel: Channel) -> None:
        inside = [c for c in self.session.channels if c.parent == channel.id]
        track = ET.SubElement(
            into, "Track",
            contentType="tracks" if inside else "audio", loaded="true", id=self._id(), name=channel.name,
        )  # fmt: skip
        if channel.comment:
            track.set("comment", channel.comment)
        self._of_track[channel.id] = track.attrib["id"]
        self._channel(track, channel)
        for child in inside:
            self._track(track, child)

    def _channel(self, into: ET.Element, channel: Channel, **more: str) -> None:
        it = ET.SubElement(into, "Channel", audioChannels=f"{_known(channel.legs):.0f}")
        if isinstance(channel.output, str):
            it.set("destination", self._of_channel[channel.output])
        it.set("role", channel.declared_role or _ROLES[str(channel.kind)])
        it.set("solo", _truth(channel.solo is True))
        it.set("id", self._of_channel[channel.id])
        it.attrib.update(more)
        if channel.inserts:
            devices = ET.SubElement(it, "Devices")
            for place, insert in enumerate(channel.inserts):
                self._device(devices, channel, insert, place)
        ET.SubElement(it, "Mute", value=_truth(channel.mute is True), id=self._id(), name="Mute")
        self._of_target[channel.id, "pan"] = self._pan(it, channel.pan)
        if channel.sends:
            sends = ET.SubElement(it, "Sends")
            for number, send in enumerate(channel.sends):
                self._send(sends, channel, number, send)
        self._of_target[channel.id, "fader"] = self._real(
            it, "Volume", _linear(channel.fader_db), "linear", 0.0, 2.0, "Volume"
        )

    def _send(self, into: ET.Element, channel: Channel, number: int, send: Send) -> None:
        it = ET.SubElement(into, "Send", destination=self._of_channel[str(send.to)], type=str(send.tap), id=self._id())
        ET.SubElement(it, "Enable", value=_truth(send.on is True), id=self._id())
        self._pan(it, send.pan)
        self._of_target[channel.id, f"send:{number}:level"] = self._real(
            it, "Volume", _linear(send.level_db), "linear", 0.0, 2.0, "Send"
        )

    def _pan(self, into: ET.Element, pan: object) -> str:
        return self._real(into, "Pan", (_known(pan) + 100) / 200, "normalized", 0.0, 1.0, "Pan")

    def _real(
        self, into: ET.Element, tag: str, value: float, unit: str, low: float, high: float, name: str, number: str = ""
    ) -> str:
        it = ET.SubElement(
            into, tag,
            max=_number(high), min=_number(low), unit=unit, value=_number(value), id=self._id(), name=name,
        )  # fmt: skip
        if number:
            it.set("parameterID", number)
        return it.attrib["id"]

    def _device(self, into: ET.Element, channel: Channel, insert: Insert, place: int) -> None:
        if insert.equalizer is not None:
            tag = "Equalizer"
        elif insert.dynamics is not None:
            tag = "Compressor"
        else:
            tag = "ClapPlugin" if insert.kind == "reverb" else "Vst3Plugin"
        it = ET.SubElement(
            into, tag,
            deviceID=insert.device or f"lower-slate-{tag.lower()}", deviceName=insert.name, deviceRole="audioFX",
            loaded=_truth(insert.loaded is True), id=self._id(), name=insert.name,
        )  # fmt: skip
        listed = ET.SubElement(it, "Parameters")
        for p in insert.parameters:
            self._real(listed, "RealParameter", _known(p.value), p.unit, _known(p.low), _known(p.high), p.name, p.id)
        ET.SubElement(it, "Enabled", value=_truth(insert.on is True), id=self._id(), name="On/Off")
        if insert.opaque:
            path = f"plugins/{channel.id}-{place + 1}.state"
            self.states[path] = hashlib.shake_128(path.encode()).digest(96)
            ET.SubElement(it, "State", path=path)
        if insert.equalizer is not None:
            self._bands(it, insert.equalizer, "semitones" if place == 0 else "hertz")
        if insert.dynamics is not None:
            d = insert.dynamics
            self._real(it, "Attack", _known(d.attack_ms) / 1000, "seconds", 0.0, 0.5, "Attack")
            ET.SubElement(it, "AutoMakeup", value=_truth(d.auto_makeup is True), id=self._id(), name="Make-up")
            # The schema gives the ratio in per cent: 0 leaves the level alone, 100 is a limiter.
            self._real(it, "Ratio", 100 * (1 - 1 / _known(d.ratio)), "percent", 0.0, 100.0, "Ratio")
            self._real(it, "Release", _known(d.release_ms) / 1000, "seconds", 0.0, 5.0, "Release")
            self._real(it, "Threshold", _known(d.threshold_db), "decibel", -60.0, 0.0, "Threshold")

    def _bands(self, into: ET.Element, equalizer: Equalizer, unit: str) -> None:
        for band in equalizer.bands:
            # "order" is left out: writers do not agree whether it counts bands or gives the steepness.
            it = ET.SubElement(into, "Band", type=_BANDS[band.kind])
            hertz = _known(band.freq_hz)
            if unit == "semitones":
                pitch = 69 + 12 * math.log2(hertz / 440)
                self._real(it, "Freq", pitch, unit, 15.486821, 135.076232, "Frequency")
            else:
                self._real(it, "Freq", hertz, unit, 20.0, 20_000.0, "Frequency")
            self._real(it, "Gain", _known(band.gain_db), "decibel", -24.0, 24.0, "Gain")
            self._real(it, "Q", _known(band.q), "linear", 0.1, 40.0, "Q")
            ET.SubElement(it, "Enabled", value=_truth(band.on is True), id=self._id(), name="On")

    def _arrangement(self, root: ET.Element) -> None:
        arrangement = ET.SubElement(root, "Arrangement", id=self._id())
        lanes = ET.SubElement(arrangement, "Lanes", timeUnit="beats", id=self._id())
        for channel in self.session.channels:
            if channel.id not in self._of_track:
                continue
            lane = ET.SubElement(lanes, "Lanes", track=self._of_track[channel.id], id=self._id())
            placed = ET.SubElement(lane, "Clips", id=self._id())
            for clip in channel.clips:
                self._clip(placed, clip, self.recordings[channel.id])
            for automation in channel.automation:
                self._points(lane, channel, automation)
        markers = ET.SubElement(arrangement, "Markers", timeUnit="beats", id=self._id())
        for marker in self.session.markers:
            ET.SubElement(markers, "Marker", time=self._beats(marker.time_s), name=marker.name)

    def _clip(self, into: ET.Element, clip: Clip, recording: Recording) -> None:
        it = ET.SubElement(
            into, "Clip",
            time=self._beats(clip.start_s),
            duration=_number(self._timeline.beat(clip.end_s) - self._timeline.beat(clip.start_s)),
            contentTimeUnit="seconds", playStart=_number(_known(clip.offset_s)),
        )  # fmt: skip
        if clip.end_s - clip.start_s > recording.duration_s:
            it.attrib.update(loopStart=_number(0.0), loopEnd=_number(recording.duration_s))
        it.attrib.update(
            fadeTimeUnit="seconds",
            fadeInTime=_number(_known(clip.fade_in_s)),
            fadeOutTime=_number(_known(clip.fade_out_s)),
            enable=_truth(clip.on is True),
            name=clip.name,
        )
        audio = ET.SubElement(
            it, "Audio",
            channels=str(recording.legs), sampleRate=str(RATE), duration=_number(recording.duration_s), id=self._id(),
        )  # fmt: skip
        ET.SubElement(audio, "File", path=recording.path)

    def _points(self, into: ET.Element, channel: Channel, automation: Automation) -> None:
        if automation.scale != "amplitude":
            raise TypeError(f"this writer knows no automation of {automation.target} on {automation.scale}")
        points = ET.SubElement(into, "Points", unit="linear", id=self._id())
        ET.SubElement(points, "Target", parameter=self._of_target[channel.id, str(automation.target)])
        for t, v in zip(automation.t, automation.v, strict=True):
            ET.SubElement(points, "RealPoint", value=_number(v), interpolation=automation.shape, time=self._beats(t))
