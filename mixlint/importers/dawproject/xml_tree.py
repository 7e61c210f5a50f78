"""From hostile bytes to a light tree: one expat pass that refuses what no session needs.

Any DOCTYPE is refused, and with it every entity. Depth, attributes, token length, the number of elements and of
automation points are limited. Only elements a mixer view can use are kept; automation points go straight into flat
arrays, since a session may hold hundreds of thousands. Line numbers are expat's own and stay right in long files.
"""

from __future__ import annotations

from array import array
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, BinaryIO, Final
from xml.parsers import expat

from mixlint.errors import BrokenFile, RefusedFile
from mixlint.importers.dawproject.point_runs import PLACEHOLDER, RunLifter

_CHUNK: Final = 1 << 18


@dataclass(frozen=True, slots=True)
class XmlLimits:
    """What an XML document may hold. ``size`` and ``token`` in bytes."""

    size: int = 256 << 20
    token: int = 1 << 20
    depth: int = 256
    attributes: int = 128
    names: int = 20_000
    elements: int = 600_000
    points: int = 2_000_000


class Node:
    """One kept element: its tag, attributes, line, text and kept children."""

    __slots__ = ("attrs", "children", "line", "tag", "text")

    def __init__(self, tag: str, attrs: dict[str, str], line: int) -> None:
        self.tag = tag
        self.attrs = attrs
        self.line = line
        self.children: Sequence[Node] = ()
        self.text = ""

    def add(self, child: Node) -> None:
        """Append a kept child; most elements never have one, so they get no list."""
        if isinstance(self.children, list):
            self.children.append(child)
        else:
            self.children = [child]

    def get(self, name: str, default: str = "") -> str:
        """An attribute, stripped."""
        value = self.attrs.get(name)
        return default if value is None else value.strip()

    def has(self, name: str) -> bool:
        """True when the attribute stands there and is not empty."""
        return bool(self.attrs.get(name, "").strip())

    def child(self, tag: str) -> Node | None:
        """The first child with this tag."""
        for one in self.children:
            if one.tag == tag:
                return one
        return None

    def all(self, *tags: str) -> Iterator[Node]:
        """The children with one of these tags, in file order."""
        return (one for one in self.children if one.tag in tags)

    def walk(self) -> Iterator[Node]:
        """This element and everything kept below it, in file order."""
        pending = [self]
        while pending:
            here = pending.pop()
            yield here
            pending.extend(reversed(here.children))


class PointsNode(Node):
    """A list of automation points in flat arrays.

    ``holds`` has 1 where the value is kept until the next point and 0 where a straight line leads there. Values that
    are no numbers are NaN here; they are dropped before anything enters the model.
    """

    __slots__ = ("holds", "times", "values")

    def __init__(self, tag: str, attrs: dict[str, str], line: int) -> None:
        super().__init__(tag, attrs, line)
        self.times = array("d")
        self.values = array("d")
        self.holds = bytearray()


_POINT_LISTS: Final = frozenset({"Points", "TempoAutomation"})
_POINTS: Final = frozenset({"RealPoint", "BoolPoint", "IntegerPoint", "EnumPoint", "Point"})
_PARAMETERS: Final = ("RealParameter", "BoolParameter", "IntegerParameter", "EnumParameter")
DEVICE_TAGS: Final = frozenset(
    {
        "Device", "Vst2Plugin", "Vst3Plugin", "ClapPlugin", "AuPlugin", "BuiltinDevice",
        "Equalizer", "Compressor", "NoiseGate", "Limiter",
    }
)  # fmt: skip
_KEPT: Final = frozenset(
    {
        "Project", "Application", "Transport", "Tempo", "TimeSignature", "Structure", "Track", "Channel", "Devices",
        "Mute", "Pan", "Volume", "Sends", "Send", "Enable", "Enabled", "Parameters", "State", "Band", "Freq", "Gain",
        "Q", "Threshold", "Ratio", "Attack", "Release", "InputGain", "OutputGain", "AutoMakeup", "Range",
        "Arrangement", "Lanes", "Clips", "Clip", "Notes", "Audio", "Video", "File", "Warps", "Warp", "Target",
        "Markers", "markers", "Marker", "TimeSignatureAutomation", "TimeSignaturePoint",
        *_PARAMETERS, *_POINT_LISTS, *DEVICE_TAGS,
    }
)  # fmt: skip
_CLOSED: Final = frozenset({"Notes"})
"""Kept without what they hold."""


def read_tree(reader: BinaryIO, where: str, limits: XmlLimits) -> Node:
    """The kept elements of a ``project.xml``.

    Args:
        reader: the document's bytes.
        where: how messages name the document; lines are added to it.
        limits: what it may hold.

    Raises:
        RefusedFile: a DOCTYPE, or a limit is passed.
        BrokenFile: it is not well-formed.
    """
    parser = _parser(where)
    lifter = RunLifter(_CHUNK)
    top = Node("", {}, 0)
    stack: list[Node] = [top]
    depth = skipped = elements = points = 0
    truth = {"true": 1.0, "false": 0.0}
    nan = float("nan")

    def refuse(what: str) -> RefusedFile:
        return _refused(what, f"{where}:{parser.CurrentLineNumber}")

    def start(tag: str, attrs: dict[str, str]) -> None:
        nonlocal depth, skipped, elements, points
        depth += 1
        if skipped:
            skipped += 1
            if depth > limits.depth:
                raise refuse(f"elements are nested more than {limits.depth} deep")
            return
        if tag in _POINTS:
            here = stack[-1]
            if type(here) is PointsNode:
                points += 1
                value = attrs.get("value", "")
                try:
                    number = truth[value] if value in truth else float(value)
                    time = float(attrs["time"])
                except (ValueError, KeyError):
                    number = time = nan
                here.times.append(time)
                here.values.append(number)
                here.holds.append(attrs.get("interpolation") != "linear")
                if points > limits.points:
                    raise refuse(f"the session holds more than {limits.points} automation points")
            skipped = 1
            return
        if depth > limits.depth:
            raise refuse(f"elements are nested more than {limits.depth} deep")
        if len(attrs) > limits.attributes:
            raise refuse(f"an element has more than {limits.attributes} attributes")
        if tag not in _KEPT and depth > 1:
            run = lifter.runs.pop(attrs.get("n", ""), None) if tag == PLACEHOLDER else None
            here = stack[-1]
            if run is not None and type(here) is PointsNode:
                points += len(run.times)
                here.times.extend(run.times)
                here.values.extend(run.values)
                here.holds.extend(run.holds)
            if points > limits.points:
                raise refuse(f"the session holds more than {limits.points} automation points")
            skipped = 1
            return
        elements += 1
        if elements > limits.elements:
            raise refuse(f"the session holds more than {limits.elements} elements")
        make = PointsNode if tag in _POINT_LISTS else Node
        node = make(tag, attrs, parser.CurrentLineNumber)
        stack[-1].add(node)
        if tag in _CLOSED:
            skipped = 1
        else:
            stack.append(node)

    def end(_: str) -> None:
        nonlocal depth, skipped
        depth -= 1
        if skipped:
            skipped -= 1
            return
        stack.pop()

    parser.StartElementHandler = start
    parser.EndElementHandler = end
    _feed(parser, reader, where, limits, lifter)
    return top.children[0]


def read_texts(reader: BinaryIO, where: str, limits: XmlLimits) -> dict[str, str]:
    """The texts of a flat document such as ``metadata.xml``: tag to text, empty ones left out."""
    parser = _parser(where)
    open_tags: list[str] = []
    texts: dict[str, list[str]] = {}

    def start(tag: str, attrs: dict[str, str]) -> None:
        open_tags.append(tag)
        if len(open_tags) > limits.depth or len(attrs) > limits.attributes or len(texts) > limits.attributes:
            raise _refused("the metadata hold more than any session needs", where)

    def end(_: str) -> None:
        open_tags.pop()

    def text(data: str) -> None:
        if len(open_tags) == 2:
            texts.setdefault(open_tags[-1], []).append(data)

    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.CharacterDataHandler = text
    _feed(parser, reader, where, limits)
    joined = {tag: "".join(parts).strip() for tag, parts in texts.items()}
    return {tag: said for tag, said in joined.items() if said}


def _parser(where: str) -> Any:
    parser = expat.ParserCreate()
    parser.buffer_text = True

    def doctype(*_: object) -> None:
        raise _refused("it declares a document type, which no session needs", f"{where}:{parser.CurrentLineNumber}")

    parser.StartDoctypeDeclHandler = doctype
    return parser


def _feed(parser: Any, reader: BinaryIO, where: str, limits: XmlLimits, lifter: RunLifter | None = None) -> None:
    """Give the document to the parser piece by piece, watching what it has to remember."""
    fed = size = 0
    read: Callable[[int], bytes] = reader.read
    try:
        while chunk := read(_CHUNK):
            size += len(chunk)
            if size > limits.size:
                raise _refused(f"it holds more than {limits.size} bytes", where)
            piece = lifter.take(chunk) if lifter else chunk
            fed += len(piece)
            parser.Parse(piece, False)
            # A token still open after this much input is a giant attribute, comment or tag.
            if fed - max(0, parser.CurrentByteIndex) > limits.token + _CHUNK:
                raise _refused(f"one token is longer than {limits.token} bytes", where)
            if len(parser.intern) > limits.names:
                raise _refused(f"it uses more than {limits.names} different names", where)
        parser.Parse(lifter.rest() if lifter else b"", True)
    except expat.ExpatError as fault:
        raise BrokenFile(
            f"it is not well-formed XML ({expat.errors.messages[fault.code]})",
            where=f"{where}:{fault.lineno}",
            do="export the session again from the application that made it",
        ) from None
    except (ValueError, LookupError) as fault:
        raise BrokenFile(
            f"it cannot be read as text ({fault})", where=where, do="export the session again as UTF-8"
        ) from None


def _refused(what: str, where: str) -> RefusedFile:
    return RefusedFile(what, where=where, do="export the session again from the application that made it")
