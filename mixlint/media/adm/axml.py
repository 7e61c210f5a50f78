"""The chunk ``axml``: programmes, contents, objects and their formats in XML (ITU-R BS.2076).

The document goes through the one way in which mixlint reads XML: a document type is refused, and size, depth, names and
elements are bounded. Elements are known by their names whatever their prefix, wherever in the document they stand.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from typing import Any, Final

from mixlint.errors import BrokenFile, RefusedFile
from mixlint.media.adm.model import (
    KINDS,
    AdmObject,
    ChannelFormat,
    Content,
    Dialogue,
    Loudness,
    Pack,
    Position,
    Programme,
    Track,
)
from mixlint.media.adm.values import factor, number, seconds, switch
from mixlint.media.labels import Stated
from mixlint.media.xml_parser import XmlLimits, feed, make_parser
from mixlint.session import Unknown

LIMITS: Final = XmlLimits(size=64 << 20, token=1 << 20, depth=64, attributes=64, names=4096, elements=2_000_000)
MOST_OF_A_KIND: Final = 10_000
"""Objects, contents, formats and so on, of each kind; the numbers of a file allow 61,439."""

MOST_REFERENCES: Final = 200_000
MOST_FAULTS: Final = 20
_LONGEST_NAME: Final = 200
_LOW_END_HZ: Final = 200.0
"""A loudspeaker channel that is cut off under this is for low frequencies; BS.2094 has 120 Hz."""

_DIALOGUE: Final[dict[str, Dialogue]] = {"0": "none", "1": "dialogue", "2": "mixed"}
_STATED: Final = {
    "integratedLoudness": "integrated_lufs",
    "loudnessRange": "range_lu",
    "maxTruePeak": "true_peak_dbtp",
    "maxMomentary": "momentary_lufs",
    "maxShortTerm": "short_term_lufs",
}
_ID: Final = {
    "audioProgramme": "audioProgrammeID",
    "audioContent": "audioContentID",
    "audioObject": "audioObjectID",
    "audioPackFormat": "audioPackFormatID",
    "audioChannelFormat": "audioChannelFormatID",
    "audioStreamFormat": "audioStreamFormatID",
    "audioTrackFormat": "audioTrackFormatID",
    "audioTrackUID": "UID",
}
_ENCODING: Final = re.compile(rb"""<\?xml[^>]{0,100}?encoding\s*=\s*["']([A-Za-z0-9._-]{1,40})["']""")
_READ_AS_THEY_ARE: Final = {"utf-8", "utf-16", "us-ascii", "ascii", "iso-8859-1"}


class Description:
    """What the document says, and what is wrong with it; gathered while it is read."""

    def __init__(self) -> None:
        self.found: dict[str, dict[str, Any]] = {name: {} for name in _ID}
        self.faults: list[str] = []
        self.unread: Unknown | None = None
        self.whole = True

    def fault(self, text: str) -> None:
        """Note what is wrong, as far as there is room."""
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(text)


def read_axml(body: bytes) -> Description:
    """Read the document, as far as it goes."""
    found = Description()
    said = _ENCODING.match(body.lstrip(b"\xef\xbb\xbf \t\r\n")[:200])
    encoding = said.group(1).decode("ascii").casefold() if said else "utf-8"
    if encoding not in _READ_AS_THEY_ARE:
        found.unread = Unknown(
            unknown=f"its description is written in {encoding}, which is not read", settle="have it written in UTF-8"
        )
        return found
    reader = _Reader(found)
    try:
        feed(reader.parser, io.BytesIO(_trimmed(body)), "axml", LIMITS)
    except BrokenFile as fault:
        found.whole = False
        found.fault(f"its description: {fault.what}")
    except RefusedFile as fault:
        found.whole = False
        found.unread = Unknown(
            unknown=f"its description was not read: {fault.what}",
            settle="have the file written again, or look at it with the program that wrote it",
        )
    return found


def _trimmed(body: bytes) -> bytes:
    """The document without the zeros that writers leave behind it as room."""
    kept = body.rstrip(b"\0")
    if body[:2] in (b"\xff\xfe", b"<\0") and len(kept) % 2:
        kept += b"\0"
    return kept


class _Element:
    """A main element while it is open: its attributes, the texts of its children by name, and what is asked of some."""

    def __init__(self, name: str, attrs: dict[str, str]) -> None:
        self.name = name
        self.attrs = attrs
        self.texts: dict[str, list[str]] = {}
        self.gain_unit = "linear"
        self.loudness: list[Loudness] = []
        self.stated: dict[str, float] = {}
        self.method = ""
        self.blocks = 0
        self.place: dict[str, float] = {}
        self.block_gain = 1.0
        self.low_end = False
        self.other_values = False

    def first(self, child: str) -> str:
        return next(iter(self.texts.get(child, ())), "")

    def numbers(self, child: str) -> tuple[str, ...]:
        return tuple(one.upper() for one in self.texts.get(child, ()))


class _Reader:
    """The handlers of one pass."""

    def __init__(self, found: Description) -> None:
        self.found = found
        self.parser = make_parser("axml")
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._text
        self._open: list[str] = []
        self._attrs: list[dict[str, str]] = []
        self._texts: list[str] | None = None
        self._main: _Element | None = None
        self._main_depth = 0
        self._elements = self._references = 0

    def _start(self, tag: str, attrs: dict[str, str]) -> None:
        name = tag.rpartition(":")[2]
        self._elements += 1
        self._open.append(name)
        self._attrs.append(attrs)
        if len(self._open) > LIMITS.depth or len(attrs) > LIMITS.attributes or self._elements > LIMITS.elements:
            raise _too_much("elements, or goes deeper,")
        if self._main is None:
            if name in _ID:
                self._begin(name, attrs)
        elif name == "audioBlockFormat":
            self._main.blocks += 1
        elif name == "alternativeValueSetIDRef":
            self._main.other_values = True
        self._texts = [] if self._main is not None else None

    def _begin(self, name: str, attrs: dict[str, str]) -> None:
        if _ID[name] not in attrs:
            self.found.fault(f"an element {name} has no number")
        elif len(self.found.found[name]) >= MOST_OF_A_KIND:
            raise _too_much(f"elements {name}")
        else:
            self._main, self._main_depth = _Element(name, attrs), len(self._open)

    def _text(self, data: str) -> None:
        if self._texts is not None:
            self._texts.append(data)

    def _end(self, _: str) -> None:
        name, attrs = self._open.pop(), self._attrs.pop()
        main = self._main
        if main is None:
            return
        text = "".join(self._texts or ()).strip()
        self._texts = None
        below = len(self._open) + 1 - self._main_depth
        if below == 0:
            self._main = None
            self._finish(main)
        elif below == 1:
            self._child(main, name, attrs, text)
        elif self._open[-1] == "loudnessMetadata" and name in _STATED:
            self._try(main, name, text, lambda: main.stated.setdefault(_STATED[name], number(text)))
        elif self._open[-1] == "audioBlockFormat" and main.blocks == 1:
            self._of_block(main, name, attrs, text)

    def _child(self, main: _Element, name: str, attrs: dict[str, str], text: str) -> None:
        if name == "loudnessMetadata":
            main.loudness.append(Loudness(attrs.get("loudnessMethod", "")[:_LONGEST_NAME], Stated(**main.stated)))
            main.stated = {}
        elif name == "gain":
            main.gain_unit = attrs.get("gainUnit", "linear")
            main.texts["gain"] = [text]
        elif name == "frequency" and attrs.get("typeDefinition") == "lowPass":
            self._try(main, name, text, lambda: setattr(main, "low_end", number(text) <= _LOW_END_HZ))
        elif name.endswith(("IDRef", "UIDRef")) or name in ("mute", "dialogue"):
            self._references += 1
            if self._references > MOST_REFERENCES:
                raise _too_much("references")
            main.texts.setdefault(name, []).append(text[:_LONGEST_NAME])

    def _of_block(self, main: _Element, name: str, attrs: dict[str, str], text: str) -> None:
        if name == "position" and attrs.get("bound", "") == "":
            self._try(main, name, text, lambda: main.place.setdefault(attrs.get("coordinate", ""), number(text)))
        elif name == "speakerLabel" and "LFE" in text.upper():
            main.low_end = True
        elif name == "gain":
            unit = attrs.get("gainUnit", "linear")
            self._try(main, name, text, lambda: setattr(main, "block_gain", factor(text, unit)))

    def _try(self, main: _Element, what: str, text: str, act: Callable[[], object]) -> None:
        """Take a value, or note that it is none."""
        try:
            act()
        except ValueError:
            self.found.fault(f"{what} of {_called(main)} is {text[:40]!r}, which is no value")

    def _finish(self, main: _Element) -> None:
        one = main.attrs[_ID[main.name]].strip().upper()
        kept = self.found.found[main.name]
        if one in kept:
            self.found.fault(f"two elements {main.name} have the number {one}")
            return
        kept[one] = _MADE[main.name](self, main, one)

    def _time(self, main: _Element, attr: str) -> float | None:
        text = main.attrs.get(attr)
        if text is None:
            return None
        try:
            return seconds(text)
        except ValueError:
            self.found.fault(f"{attr} of {_called(main)} is {text[:40]!r}, which is no time")
            return None

    def _programme(self, main: _Element, one: str) -> Programme:
        language = main.attrs.get("audioProgrammeLanguage", "")[:_LONGEST_NAME]
        times = self._time(main, "start"), self._time(main, "end")
        contents, loudness = main.numbers("audioContentIDRef"), tuple(main.loudness)
        return Programme(one, _name(main), language, *times, contents, loudness, main.other_values)

    def _content(self, main: _Element, one: str) -> Content:
        language = main.attrs.get("audioContentLanguage", "")[:_LONGEST_NAME]
        said = _DIALOGUE.get(main.first("dialogue"), "not told")
        objects, loudness = main.numbers("audioObjectIDRef"), tuple(main.loudness)
        return Content(one, _name(main), language, said, objects, loudness, main.other_values)

    def _object(self, main: _Element, one: str) -> AdmObject:
        gain, mute, importance = [1.0], [False], [10]
        if said := main.first("gain"):
            self._try(main, "gain", said, lambda: gain.append(factor(said, main.gain_unit)))
        if muted := main.first("mute"):
            self._try(main, "mute", muted, lambda: mute.append(switch(muted)))
        if weight := main.attrs.get("importance", ""):
            self._try(main, "importance", weight, lambda: importance.append(int(weight)))
        return AdmObject(
            one,
            _name(main),
            self._time(main, "start") or 0.0,
            self._time(main, "duration"),
            importance[-1],
            gain[-1],
            mute[-1],
            main.numbers("audioPackFormatIDRef"),
            main.numbers("audioObjectIDRef"),
            main.numbers("audioTrackUIDRef"),
            main.numbers("audioComplementaryObjectIDRef"),
        )

    def _pack(self, main: _Element, one: str) -> Pack:
        return Pack(one, _name(main), _kind(main))

    def _channel(self, main: _Element, one: str) -> ChannelFormat:
        place = main.place
        angles = Position(place["azimuth"], place.get("elevation", 0.0)) if "azimuth" in place else None
        gain = main.block_gain if main.blocks < 2 else None
        return ChannelFormat(one, _name(main), _kind(main), main.blocks, angles, main.low_end, gain)

    def _stream(self, main: _Element, _: str) -> str:
        return next(iter(main.numbers("audioChannelFormatIDRef")), "")

    def _track_stream(self, main: _Element, _: str) -> str:
        return next(iter(main.numbers("audioStreamFormatIDRef")), "")

    def _track(self, main: _Element, one: str) -> Track:
        rate = main.attrs.get("sampleRate", "")
        track, channel, pack = (
            next(iter(main.numbers(f"audio{of}FormatIDRef")), "") for of in ("Track", "Channel", "Pack")
        )
        return Track(one, track, channel, pack, int(rate) if rate.isdecimal() and len(rate) < 8 else 0)


_MADE: Final[dict[str, Callable[[_Reader, _Element, str], Any]]] = {
    "audioProgramme": _Reader._programme,
    "audioContent": _Reader._content,
    "audioObject": _Reader._object,
    "audioPackFormat": _Reader._pack,
    "audioChannelFormat": _Reader._channel,
    "audioStreamFormat": _Reader._stream,
    "audioTrackFormat": _Reader._track_stream,
    "audioTrackUID": _Reader._track,
}


def _name(main: _Element) -> str:
    return main.attrs.get(f"{main.name}Name", "").strip()[:_LONGEST_NAME]


def _kind(main: _Element) -> Any:
    label = main.attrs.get("typeLabel", "").lstrip("0")
    return KINDS.get(label) or KINDS.get(main.attrs.get("typeDefinition", "")) or "unknown"


def _called(main: _Element) -> str:
    return main.attrs[_ID[main.name]][:40]


def _too_much(what: str) -> RefusedFile:
    return RefusedFile(f"it holds more {what} than are read", where="axml")
