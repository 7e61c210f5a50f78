"""What the header of a plug-in's saved state says of the plug-in: its category, and nothing of its settings.

A session refers to a file of state for each plug-in. One of the VST 3 preset form has a header of 48 bytes (``VST3``,
version, class id, offset of the chunk list), the chunks, and the list of them (id ``List``, count, then id, offset
and size of each); all numbers are little-endian. The chunk ``Info``, where there is one, is an XML text of attributes,
and ``PlugInCategory`` is the category of the plug-in as it gives it itself. Source: VST 3 Developer Portal, "Preset
Format", and the published classes ``PresetFile`` and ``PresetAttributes``.

The state of a CLAP plug-in begins with its id and goes on in its own form, and that of an LV2 plug-in is not referred
to by this interchange form: neither gives a category.
"""

from __future__ import annotations

import io
import struct
from typing import Final

from mixlint.errors import BrokenFile, InputError
from mixlint.importers.dawproject.import_notes import ImportNotes
from mixlint.importers.dawproject.xml_tree import Node
from mixlint.media.container import Container
from mixlint.media.xml_parser import XmlLimits, feed, make_parser, refused
from mixlint.media.zip_directory import clean_name

SAVED_STATE: Final = "the header of its saved state"
"""The ground of a category that was read here."""

_HEADER: Final = struct.Struct("<4si32sq")
_LIST: Final = struct.Struct("<4si")
_ENTRY: Final = struct.Struct("<4sqq")
_MOST_CHUNKS: Final = 128
"""As many as the published reader takes."""

_LARGEST: Final = 32 << 20
"""Bytes of a state that is read; the list of chunks stands at its end, so that all of it has to be unpacked."""

_LARGEST_TOGETHER: Final = 256 << 20
"""Bytes of all the states of a session that are read."""

_LIMITS: Final = XmlLimits(size=64 << 10, token=16 << 10, depth=8, attributes=16, names=256)
_LONGEST_CATEGORY: Final = 256


class PluginStates:
    """The states that lie in a session's container.

    Args:
        container: where the session lies; nothing outside it is looked for.
        notes: where it is told that a header could not be read.
    """

    def __init__(self, container: Container, notes: ImportNotes) -> None:
        self._container = container
        self._notes = notes
        self._left = _LARGEST_TOGETHER

    def category(self, device: Node, about: str) -> str:
        """The category that the header of a device's state gives; empty where there is no such state or category.

        Args:
            device: the device's element.
            about: the channel that notes are about.
        """
        state = device.child("State")
        path = clean_name(state.get("path")) if state is not None and state.get("path") else None
        if state is None or path is None or state.get("external").lower() in ("true", "1"):
            return ""
        try:
            if not self._container.has(path) or self._container.size(path) > min(_LARGEST, self._left):
                return ""
            data = self._container.read(path, _LARGEST)
            self._left -= len(data)
            return category_in(data, self._container.place(path))
        except InputError as fault:
            name = device.get("name") or device.get("deviceName") or "a processor"
            self._notes.lose(
                f"The saved state of {name[:80]} could not be asked for its category: {fault.what}.", about
            )
            return ""


def category_in(data: bytes, where: str) -> str:
    """The category in the meta information of a VST 3 preset; empty where there is none, or no such preset.

    Args:
        data: the whole state.
        where: how messages name it.

    Raises:
        BrokenFile: it begins like a preset, and its lengths or places do not fit, or its meta information is no XML.
        RefusedFile: its meta information passes a limit.
    """
    if data[:4] != b"VST3":
        return ""
    if len(data) < _HEADER.size:
        raise _broken("it ends within its header", where)
    _, _, _, at = _HEADER.unpack_from(data)
    if not _HEADER.size <= at <= len(data) - _LIST.size:
        raise _broken("its list of chunks lies outside it", where)
    mark, count = _LIST.unpack_from(data, at)
    if mark != b"List" or count < 0:
        raise _broken("there is no list of chunks where its header says", where)
    at += _LIST.size
    for _ in range(min(count, _MOST_CHUNKS)):
        if at + _ENTRY.size > len(data):
            raise _broken("it ends within its list of chunks", where)
        mark, start, size = _ENTRY.unpack_from(data, at)
        at += _ENTRY.size
        if mark == b"Info":
            return _category_in_info(data, start, size, where)
    return ""


def _category_in_info(data: bytes, start: int, size: int, where: str) -> str:
    if not (_HEADER.size <= start <= len(data) and 0 <= size <= len(data) - start):
        raise _broken("its meta information lies outside it", where)
    if size > _LIMITS.size:
        raise _broken(f"its meta information holds more than {_LIMITS.size} bytes", where)
    text = data[start : start + size].rstrip(b"\x00 \t\r\n")
    found: list[str] = []
    depth = 0

    def begin(tag: str, attrs: dict[str, str]) -> None:
        nonlocal depth
        depth += 1
        if depth > _LIMITS.depth or len(attrs) > _LIMITS.attributes:
            raise refused("the meta information holds more than any plug-in needs", where)
        if tag == "Attribute" and attrs.get("id") == "PlugInCategory":
            found.append(attrs.get("value", ""))

    def end(_: str) -> None:
        nonlocal depth
        depth -= 1

    parser = make_parser(where)
    parser.StartElementHandler = begin
    parser.EndElementHandler = end
    feed(parser, io.BytesIO(text), where, _LIMITS)
    return found[0].strip()[:_LONGEST_CATEGORY] if found else ""


def _broken(what: str, where: str) -> BrokenFile:
    return BrokenFile(what, where=where, do="save the plug-in's state again")
