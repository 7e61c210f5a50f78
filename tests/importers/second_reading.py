"""A second reading of a document of the open interchange form: by lxml alone, from the schema's own words.

It shares no line with the importer. It says what stands in the file, as plainly as can be: where the form leaves
something open, or a writer is known to mean something else, it says None, and nothing is held against it.

Source: the published ``Project.xsd`` and the documentation of its reference implementation (version 1.0).
"""

from __future__ import annotations

import zipfile
from bisect import bisect_right
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from math import isclose, log, log10
from pathlib import Path
from typing import Any

from lxml import etree

SILENCE = -200.0
PLUGINS = ("Device", "Vst2Plugin", "Vst3Plugin", "ClapPlugin", "AuPlugin", "BuiltinDevice", "Equalizer", "Compressor",
           "NoiseGate", "Limiter")  # fmt: skip
TIMELINES = (
    "Timeline",
    "Lanes",
    "Notes",
    "Clips",
    "ClipSlot",
    "Markers",
    "markers",
    "Warps",
    "Audio",
    "Video",
    "Points",
)
POINTS = ("RealPoint", "BoolPoint", "EnumPoint", "IntegerPoint")

Element = Any
"""An element of lxml's; there are no types for it here."""

Clock = Callable[[float], float]
"""A time on some timeline to seconds of the song."""


@dataclass
class BandRead:
    """One band of an equalizer."""

    kind: str
    freq_hz: float | None
    gain_db: float | None
    q: float | None
    on: bool


@dataclass
class SendRead:
    """One send: the id of the element it names, and how it is set."""

    to: str
    level_db: float | None
    pan: float | None
    tap: str
    on: bool


@dataclass
class InsertRead:
    """One processor."""

    name: str
    on: bool
    loaded: bool
    bands: list[BandRead] | None


@dataclass
class LaneRead:
    """The automation of one control: what is moved, when, and where to: decibels, −100 to +100, or 0 and 1."""

    moves: str
    times_s: list[float]
    values: list[float | None]


@dataclass
class StripRead:
    """One channel of the file."""

    name: str
    id: str
    track_id: str
    fader_db: float | None
    pan: float | None
    mute: bool | None
    solo: bool
    output: str
    sends: list[SendRead] = field(default_factory=list)
    inserts: list[InsertRead] = field(default_factory=list)
    clips: list[tuple[float, float, str]] = field(default_factory=list)
    lanes: list[LaneRead] = field(default_factory=list)


@dataclass
class Owned:
    """A parameter that can be automated: whose it is, what it is, and its element."""

    strip: StripRead
    what: str
    element: Element


@dataclass
class DocumentRead:
    """The whole document, channels in the order they stand."""

    tempo_bpm: float
    strips: list[StripRead]
    markers: list[tuple[float, str]]


def document_of(path: Path) -> bytes:
    """The bytes of ``project.xml``, from an archive or a bare document."""
    if zipfile.is_zipfile(path):
        with zipfile.ZipFile(path) as archive:
            return archive.read("project.xml")
    return path.read_bytes()


def second_reading(text: bytes) -> DocumentRead:
    """Read a document."""
    root = etree.fromstring(text.lstrip(b"\xef\xbb\xbf"), etree.XMLParser(resolve_entities=False, no_network=True))
    return _Reading(root).read()


def number(text: str | None) -> float | None:
    """A number as the form spells it."""
    try:
        return float(text) if text is not None else None
    except ValueError:
        return None


def decibels(parameter: Element, point: Element | None = None, unit: str | None = None) -> float | None:
    """A level: linear amplitude, decibels or per cent; None for what says none.

    Args:
        parameter: the level.
        point: a point of its automation, where that is asked for.
        unit: the unit of that automation, where it states one.
    """
    value, top = number((point if point is not None else parameter).get("value")), number(parameter.get("max"))
    unit = unit or parameter.get("unit")
    if value is None:
        return None
    if unit == "decibel":
        return max(SILENCE, value)
    if unit == "percent" or (unit == "linear" and top is not None and top >= 100.0):
        value /= 100.0
    elif unit != "linear":
        return None
    return max(SILENCE, 20.0 * log10(value)) if value > 0.0 else SILENCE


def position(
    parameter: Element | None, both_ways: bool, point: Element | None = None, unit: str | None = None
) -> float | None:
    """A pan, −100 to +100; one that is missing stands in the middle.

    Args:
        parameter: the element.
        both_ways: pans of this file that state no range run from −1.
        point: a point of its automation, where that is asked for.
        unit: the unit of that automation, where it states one.
    """
    if parameter is None:
        return 0.0
    low, high = (number(parameter.get(one)) for one in ("min", "max"))
    value = number((point if point is not None else parameter).get("value"))
    if value is None:
        return None
    if low is not None and high is not None:
        return 200.0 * (value - low) / (high - low) - 100.0
    unit = unit or parameter.get("unit")
    if unit == "linear" or (unit == "normalized" and both_ways):
        return 100.0 * value
    return {"normalized": 200.0 * value - 100.0, "percent": 2.0 * value - 100.0}.get(unit)


def switched(parameter: Element | None, otherwise: bool | None) -> bool | None:
    """A switch; ``otherwise`` where there is none, and where it says nothing."""
    return {"true": True, "1": True, "false": False, "0": False}.get(
        parameter.get("value", "") if parameter is not None else "", otherwise
    )


class _Reading:
    """Everything that is needed while one document is read."""

    def __init__(self, root: Element) -> None:
        self.root = root
        self.by_id: dict[str, Element] = {}
        for element in root.iter():
            if isinstance(element.tag, str) and element.get("id"):
                self.by_id.setdefault(element.get("id"), element)
        self.both_ways = any(
            (number(pan.get("value")) or 0.0) < 0.0 and pan.get("min") is None for pan in root.iter("Pan")
        )
        element = root.find("Transport/Tempo")
        self.tempo = (number(element.get("value")) if element is not None else None) or 120.0
        self.beats, self.seconds, self.bpms, self.ramps = self._tempo_map()

    def read(self) -> DocumentRead:
        channels = [one for one in self.root.iter("Channel") if _within(one, "Structure")]
        strips = [self._strip(one) for one in channels]
        of_element = dict(zip(map(id, channels), strips, strict=True))
        by_track = {one.track_id: one for one in strips if one.track_id}
        owner = self._owners(channels, of_element)
        markers: list[tuple[float, str]] = []
        for arrangement in self.root.iter("Arrangement"):
            for child in arrangement:
                if child.tag in TIMELINES:
                    self._lanes(child, "beats", "", by_track, owner, markers)
        return DocumentRead(self.tempo, strips, sorted(markers))

    # --- the desk

    def _strip(self, channel: Element) -> StripRead:
        track = channel.getparent() if channel.getparent().tag == "Track" else None
        volume = channel.find("Volume")
        return StripRead(
            name=(track.get("name") if track is not None else "") or channel.get("name") or "",
            id=channel.get("id", ""),
            track_id=track.get("id", "") if track is not None else "",
            fader_db=decibels(volume) if volume is not None else None,
            pan=position(channel.find("Pan"), self.both_ways),
            mute=switched(channel.find("Mute"), False if channel.find("Mute") is None else None),
            solo=channel.get("solo") in ("true", "1"),
            output=channel.get("destination", ""),
            sends=[self._send(one) for one in channel.iterfind("Sends/Send")],
            inserts=[_insert(one) for one in channel.iterfind("Devices/*") if one.tag in PLUGINS],
        )

    def _send(self, send: Element) -> SendRead:
        volume, on = send.find("Volume"), switched(send.find("Enable"), True)
        return SendRead(
            to=send.get("destination", ""),
            level_db=decibels(volume) if volume is not None else None,
            pan=position(send.find("Pan"), self.both_ways),
            tap=send.get("type", "post"),
            on=on is not False,
        )

    def _owners(self, channels: list[Element], strips: dict[int, StripRead]) -> dict[str, Owned]:
        """The id of each parameter that can be automated → its channel, and what it is."""
        found: dict[str, Owned] = {}
        for channel in channels:
            strip = strips[id(channel)]
            named = [("fader", channel.find("Volume")), ("pan", channel.find("Pan")), ("mute", channel.find("Mute"))]
            for place, send in enumerate(channel.iterfind("Sends/Send")):
                parts = (("level", "Volume"), ("pan", "Pan"), ("on", "Enable"))
                named += [(f"send:{place}:{word}", send.find(tag)) for word, tag in parts]
            for what, element in named:
                if element is not None and element.get("id"):
                    found.setdefault(element.get("id"), Owned(strip, what, element))
        return found

    # --- time

    def _tempo_map(self) -> tuple[list[float], list[float], list[float], list[bool]]:
        """Beats, seconds, tempos, and whether each runs in a straight line to the next."""
        points: list[tuple[float, float, bool]] = []
        for element in self.root.iter("TempoAutomation"):
            points += [
                (float(one.get("time")), float(one.get("value")), one.get("interpolation") == "linear")
                for one in element.iter("RealPoint")
            ]
        points.sort(key=lambda one: one[0])
        if not points or points[0][0] > 0.0:
            points.insert(0, (0.0, points[0][1] if points else self.tempo, False))
        seconds = [0.0]
        for (beat, bpm, ramp), (after, bpm_after, _) in zip(points, points[1:], strict=False):
            seconds.append(seconds[-1] + _lasts(after - beat, bpm, bpm_after if ramp else bpm))
        return [p[0] for p in points], seconds, [p[1] for p in points], [p[2] for p in points]

    def second(self, beat: float) -> float:
        """The second of a beat: one beat lasts 60 / tempo, and a tempo in a straight line is integrated."""
        place = max(0, bisect_right(self.beats, beat) - 1)
        gone, bpm = beat - self.beats[place], self.bpms[place]
        if self.ramps[place] and place + 1 < len(self.beats):
            whole = self.beats[place + 1] - self.beats[place]
            return self.seconds[place] + _lasts(gone, bpm, bpm + (self.bpms[place + 1] - bpm) * gone / whole)
        return self.seconds[place] + _lasts(gone, bpm, bpm)

    def beat(self, second: float) -> float:
        """The beat of a second, by halving."""
        low, high = 0.0, 1.0
        while self.second(high) < second:
            high *= 2.0
        for _ in range(80):
            middle = (low + high) / 2.0
            low, high = (middle, high) if self.second(middle) < second else (low, middle)
        return low if second >= 0.0 else second * self.bpms[0] / 60.0

    def _clock(self, unit: str) -> Clock:
        return self.second if unit == "beats" else lambda time: time

    # --- the timeline

    def _lanes(
        self,
        here: Element,
        unit: str,
        track: str,
        by_track: dict[str, StripRead],
        owner: dict[str, Owned],
        markers: list[tuple[float, str]],
    ) -> None:
        unit, track = here.get("timeUnit", unit), here.get("track", track)
        if here.tag == "Lanes":
            for child in here:
                if child.tag in TIMELINES:
                    self._lanes(child, unit, track, by_track, owner, markers)
        elif here.tag == "Clips" and track in by_track:
            for clip in here.iterchildren("Clip"):
                by_track[track].clips += self._clip(clip, unit, self._clock(unit), (-1e12, 1e12))
        elif here.tag in ("Markers", "markers"):
            clock = self._clock(unit)
            markers += [(clock(float(m.get("time"))), m.get("name", "")) for m in here.iterchildren("Marker")]
        elif here.tag == "Points":
            target, clock = here.find("Target"), self._clock(unit)
            owned = owner.get(target.get("parameter", "") if target is not None else "")
            points = [one for one in here if one.tag in POINTS]
            if owned is not None and points:
                times = [clock(float(one.get("time"))) for one in points]
                values = [self._value(owned, one, here.get("unit")) for one in points]
                owned.strip.lanes.append(LaneRead(owned.what, times, values))

    def _value(self, owned: Owned, point: Element, unit: str | None) -> float | None:
        if owned.what == "fader" or owned.what.endswith("level"):
            return decibels(owned.element, point, unit)
        if owned.what.endswith("pan"):
            return position(owned.element, self.both_ways, point, unit)
        return {"true": 1.0, "false": 0.0}.get(point.get("value", ""))

    def _clip(
        self, clip: Element, unit: str, clock: Clock, window: tuple[float, float]
    ) -> Iterator[tuple[float, float, str]]:
        """What is heard of a clip and of what lies in it: from, to (seconds of the song), and what plays."""
        start, inner_unit = float(clip.get("time")), clip.get("contentTimeUnit", unit)
        begin = number(clip.get("playStart")) or 0.0
        content = next((one for one in clip if one.tag in TIMELINES), None)
        if clip.get("reference"):
            content = self.by_id.get(clip.get("reference"))
        from_s = clock(start)
        length = number(clip.get("duration"))
        if length is not None:
            to_s = clock(start + length)
        elif number(clip.get("playStop")) is not None:
            to_s = self._later(from_s, float(clip.get("playStop")) - begin, inner_unit)
        else:
            to_s = 1e12
        window = (max(window[0], from_s), min(window[1], to_s))
        if content is None:
            return
        loop = (number(clip.get("loopStart")), number(clip.get("loopEnd")))
        rounds = [(from_s, begin, to_s)]
        if loop[0] is not None and loop[1] is not None and loop[1] > loop[0] and begin < loop[1]:
            rounds, at, position_in = [], from_s, begin
            while at < window[1] - 1e-9 and len(rounds) < 10_000:
                end = min(to_s, self._later(at, loop[1] - position_in, inner_unit))
                rounds.append((at, position_in, end))
                at, position_in = end, loop[0]
        for at, inner, end in rounds:
            here = (max(window[0], at), min(window[1], end))
            if here[1] - here[0] > 1e-9:
                yield from self._content(content, inner_unit, self._from(at, inner, inner_unit), here)

    def _later(self, from_s: float, by: float, unit: str) -> float:
        return from_s + by if unit == "seconds" else self.second(self.beat(from_s) + by)

    def _from(self, at_s: float, inner: float, unit: str) -> Clock:
        """The clock of a clip's content, whose position ``inner`` is heard at ``at_s``."""
        if unit == "seconds":
            return lambda time: at_s + time - inner
        beat = self.beat(at_s)
        return lambda time: self.second(beat + time - inner)

    def _content(
        self, content: Element, unit: str, clock: Clock, window: tuple[float, float]
    ) -> Iterator[tuple[float, float, str]]:
        own = content.get("timeUnit", unit)
        if own != unit and content.tag != "Warps":  # its own times run in another unit, from the same zero
            unit, clock = own, self._from(clock(0.0), 0.0, own)
        if content.tag == "Clips":
            for one in content.iterchildren("Clip"):
                yield from self._clip(one, unit, clock, window)
        elif content.tag in ("Lanes", "Warps"):
            for child in content:
                if child.tag in TIMELINES:
                    yield from self._content(child, unit, clock, window)
        elif content.tag in ("Audio", "Video"):
            file = content.find("File")
            yield window[0], window[1], file.get("path", "") if file is not None else ""
        elif content.tag == "Notes":
            yield window[0], window[1], "notes"


def _lasts(beats: float, bpm: float, to_bpm: float) -> float:
    """How long some beats last while the tempo goes from one to another in a straight line over beats."""
    if isclose(bpm, to_bpm):
        return 60.0 * beats / bpm
    return 60.0 * beats * log(to_bpm / bpm) / (to_bpm - bpm)


def _insert(device: Element) -> InsertRead:
    bands = [_band(one) for one in (*device.iterfind("Band"), *device.iterfind("Bands/Band"))]
    return InsertRead(
        name=device.get("name") or device.get("deviceName") or "",
        on=switched(device.find("Enabled"), True) is not False,
        loaded=device.get("loaded", "true") in ("true", "1"),
        bands=bands if device.tag == "Equalizer" else None,
    )


def _band(band: Element) -> BandRead:
    freq, gain, q = (band.find(tag) for tag in ("Freq", "Gain", "Q"))
    hertz = number(freq.get("value")) if freq is not None else None
    if hertz is not None and freq is not None and freq.get("unit") == "semitones":
        hertz = 440.0 * 2.0 ** ((hertz - 69.0) / 12.0)
    return BandRead(
        kind=band.get("type", ""),
        freq_hz=hertz,
        gain_db=number(gain.get("value")) if gain is not None else None,
        q=number(q.get("value")) if q is not None else None,
        on=switched(band.find("Enabled"), True) is not False,
    )


def _within(element: Element, tag: str) -> bool:
    return any(one.tag == tag for one in element.iterancestors())
