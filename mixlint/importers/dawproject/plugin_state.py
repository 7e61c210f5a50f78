"""A plug-in's saved state: whether it is there, a hash of it, and what its head says; never what its settings are.

A session refers to a file of state for each plug-in. One of the VST 3 preset form has a header of 48 bytes (``VST3``,
version, class id, offset of the chunk list), the chunks, and the list of them (id ``List``, count, then id, offset
and size of each); all numbers are little-endian. The chunk ``Comp`` holds what the plug-in processes by, ``Cont``
what its editor keeps for itself, ``Prog`` a program; ``Info``, where there is one, is an XML text of attributes, of
which ``PlugInCategory`` is the category of the plug-in as it gives it itself. Source: VST 3 Developer Portal, "Preset
Format" and "Persistence", and the published classes ``PresetFile`` and ``PresetAttributes``.

The state of a CLAP plug-in begins with its id and goes on in its own form, and that of an LV2 plug-in is not referred
to by this interchange form: neither gives a category.

The hash is one of the class id and of all chunks but ``Info``, which says who saved it, and ``Cont``; their order, and
where they lie in the file, do not count. A file of any other form is hashed as it is, byte for byte.
"""

from __future__ import annotations

import io
import re
import struct
from collections.abc import Iterable
from hashlib import sha256
from typing import TYPE_CHECKING, Any, BinaryIO, Final, Literal, NamedTuple

from mixlint.errors import BrokenFile, InputError
from mixlint.importers.dawproject.import_notes import ImportNotes
from mixlint.importers.dawproject.media_list import ABSOLUTE
from mixlint.importers.dawproject.values import truth
from mixlint.importers.dawproject.xml_tree import Node
from mixlint.media.container import Container
from mixlint.media.xml_parser import XmlLimits, feed, make_parser, refused
from mixlint.media.zip_directory import clean_name
from mixlint.session import SavedSettings, Unknown

if TYPE_CHECKING:
    from hashlib import _Hash as Hash

SAVED_STATE: Final = "the header of its saved state"
"""The ground of a category that was read here."""

_HEADER: Final = struct.Struct("<4si32sq")
_LIST: Final = struct.Struct("<4si")
_ENTRY: Final = struct.Struct("<4sqq")
_MOST_CHUNKS: Final = 128
"""As many as the published reader takes."""

_NOT_PROCESSED: Final = frozenset({b"Info", b"Cont"})
"""Chunks that the plug-in does not process by."""

_LARGEST: Final = 64 << 20
"""Bytes of a state that is read; what is larger holds samples rather than settings."""

_LARGEST_TOGETHER: Final = 512 << 20
"""Bytes of all the states of a session that are read."""

_PIECE: Final = 1 << 18
"""Bytes that are hashed at a time."""

_LIMITS: Final = XmlLimits(size=64 << 10, token=16 << 10, depth=8, attributes=16, names=256)
_LONGEST_CATEGORY: Final = 256

_ELSEWHERE: Final = Unknown(
    unknown="the file of its settings lies outside the session's folder and was not looked for",
    settle="copy it into the session's folder and export again",
)
_NOT_THERE: Final = Unknown(unknown="the file of its settings is not there")


class Span(NamedTuple):
    """A stretch of a file: where it begins and how many bytes it holds."""

    start: int
    size: int


class SavedState(NamedTuple):
    """What a session says of a plug-in's state.

    Args:
        saved: the file.
        category: the category in its head; empty where there is none.
    """

    saved: SavedSettings
    category: str = ""


class PluginStates:
    """The states that a session refers to.

    Args:
        container: where the session lies.
        packed: true when it is an archive, so that plain paths lie inside it.
        beside: the folder the session lies in, as a container, for files that travel beside an archive.
        notes: where it is told that a state could not be read.
    """

    def __init__(self, container: Container, packed: bool, beside: Container, notes: ImportNotes) -> None:
        self._container = container
        self._packed = packed
        self._beside = beside
        self._notes = notes
        self._left = _LARGEST_TOGETHER
        self._read: dict[tuple[str, str], SavedState] = {}

    def of(self, device: Node, about: str) -> SavedState | None:
        """The state of a device, or None where the session names no file of one.

        Args:
            device: the device's element.
            about: the channel that notes are about.
        """
        element = device.child("State")
        path = element.get("path") if element is not None else ""
        if element is None or not path:
            return None
        clean = clean_name(path)
        if clean is None or ABSOLUTE.match(path):
            return SavedState(SavedSettings(path=path, place="outside", present=_ELSEWHERE, content=_ELSEWHERE))
        inside = self._packed and truth(element.get("external"), False) is not True
        place: Literal["inside", "beside"] = "inside" if inside else "beside"
        if (place, clean) not in self._read:
            name = device.get("name") or device.get("deviceName") or "a processor"
            self._read[place, clean] = self._look(place, clean, name[:80], about)
        return self._read[place, clean]

    def _look(self, place: Literal["inside", "beside"], path: str, name: str, about: str) -> SavedState:
        home = self._container if place == "inside" else self._beside
        found: dict[str, Any] = {"path": path, "place": place}
        if not home.has(path):
            return SavedState(SavedSettings(**found, present=False, content=_NOT_THERE))
        content: str | Unknown
        head, category, damaged = Head(), "", False
        try:
            size = home.size(path)
            if size > min(_LARGEST, self._left):
                content = _too_large(size)
                return SavedState(SavedSettings(**found, present=True, content=content))
            self._left -= size
            with home.open(path) as reader:
                content = _hash_of(reader, sha256(), [Span(0, size)])  # to its end, so that its checksum is held to it
                try:
                    head = head_of(reader, size, home.place(path))
                    if head.plugin:
                        content = _hash_of(reader, sha256(head.plugin.encode()), head.settings)
                    category = category_in(_bytes_of(reader, head.info), home.place(path))
                except InputError as fault:
                    self._tell(name, f"could not be asked for its category: {fault.what}", about)
        except InputError as fault:
            self._tell(name, f"could not be read: {fault.what}", about)
            content = Unknown(unknown=f"the file of its settings cannot be read: {fault.what}")
            damaged = isinstance(fault, BrokenFile)
        saved = SavedSettings(**found, present=True, damaged=damaged, content=content, plugin=head.plugin)
        return SavedState(saved, category)

    def _tell(self, name: str, what: str, about: str) -> None:
        self._notes.lose(f"The saved state of {name} {what}.", about)


def _too_large(size: int) -> Unknown:
    why = f"the file of its settings holds {size} bytes, more than the {_LARGEST} that are read"
    if size <= _LARGEST:
        why = f"the files of settings of this session hold more than the {_LARGEST_TOGETHER} bytes that are read"
    return Unknown(unknown=why, settle="look at its settings in the session")


def _hash_of(reader: BinaryIO, made: Hash, spans: Iterable[Span]) -> str:
    """The hash of some stretches of a file, one after another, piece by piece.

    Args:
        reader: the file.
        made: the hash so far.
        spans: where they lie.
    """
    for span in spans:
        reader.seek(span.start)
        left = span.size
        while left and (piece := reader.read(min(left, _PIECE))):
            made.update(piece)
            left -= len(piece)
    return f"sha256:{made.hexdigest()}"


def _bytes_of(reader: BinaryIO, span: Span | None) -> bytes:
    if span is None:
        return b""
    reader.seek(span.start)
    return reader.read(span.size)


class Head(NamedTuple):
    """The head of a state of the VST 3 preset form; empty of one of another form.

    Args:
        plugin: the id of the class whose settings they are.
        settings: the chunks that the plug-in processes by, by their ids, whatever their order.
        info: the meta information; None where there is none.
    """

    plugin: str = ""
    settings: tuple[Span, ...] = ()
    info: Span | None = None


def head_of(reader: BinaryIO, size: int, where: str) -> Head:
    """What the header and the list of chunks of a VST 3 preset say.

    Args:
        reader: the whole state.
        size: how many bytes it holds.
        where: how messages name it.

    Raises:
        BrokenFile: it begins like a preset, and its lengths or places do not fit.
    """
    start = _bytes_of(reader, Span(0, _HEADER.size))
    if start[:4] != b"VST3":
        return Head()
    if len(start) < _HEADER.size:
        raise _broken("it ends within its header", where)
    _, _, plugin, at = _HEADER.unpack(start)
    if not _HEADER.size <= at <= size - _LIST.size:
        raise _broken("its list of chunks lies outside it", where)
    listed = _bytes_of(reader, Span(at, _LIST.size + _MOST_CHUNKS * _ENTRY.size))
    mark, count = _LIST.unpack_from(listed)
    if mark != b"List" or count < 0:
        raise _broken("there is no list of chunks where its header says", where)
    found: list[tuple[bytes, Span]] = []
    for number in range(min(count, _MOST_CHUNKS)):
        place = _LIST.size + number * _ENTRY.size
        if place + _ENTRY.size > len(listed):
            raise _broken("it ends within its list of chunks", where)
        mark, begins, length = _ENTRY.unpack_from(listed, place)
        if not (_HEADER.size <= begins <= size and 0 <= length <= size - begins):
            raise _broken("one of its chunks lies outside it", where)
        found.append((mark, Span(begins, length)))
    if sum(span.size for _, span in found) > size:
        raise _broken("its chunks lie over each other", where)
    info = next((span for mark, span in found if mark == b"Info"), None)
    settings = sorted((one for one in found if one[0] not in _NOT_PROCESSED), key=lambda one: one[0])
    return Head(_plain(plugin), tuple(span for _, span in settings), info)


def _plain(plugin: bytes) -> str:
    """A class id as text: 32 hexadecimal digits, in whichever order of bytes they were written."""
    text = plugin.decode("ascii", "replace").strip("\x00 ")
    return text if re.fullmatch(r"[0-9A-Fa-f]{32}", text) else plugin.hex()


def category_in(info: bytes, where: str) -> str:
    """The category in the meta information of a VST 3 preset; empty where there is none.

    Args:
        info: the chunk.
        where: how messages name the state.

    Raises:
        BrokenFile: it holds more than meta information needs, or is no XML.
        RefusedFile: it passes a limit.
    """
    if not info:
        return ""
    if len(info) > _LIMITS.size:
        raise _broken(f"its meta information holds more than {_LIMITS.size} bytes", where)
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
    feed(parser, io.BytesIO(info.rstrip(b"\x00 \t\r\n")), where, _LIMITS)
    return found[0].strip()[:_LONGEST_CATEGORY] if found else ""


def _broken(what: str, where: str) -> BrokenFile:
    return BrokenFile(what, where=where, do="save the plug-in's state again")
