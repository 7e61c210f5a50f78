"""The light tree of a project: only elements a mixer view can use are kept.

Automation points go straight into flat arrays, since a session may hold hundreds of thousands. Line numbers are
expat's own and stay right in long files.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterator, Sequence
from math import nan
from typing import Any, BinaryIO, Final

from mixlint.errors import NotASession, RefusedFile
from mixlint.importers.dawproject.automation_blocks import PLACEHOLDER, AutomationBlockExtractor
from mixlint.media import xml_parser
from mixlint.media.xml_parser import XmlLimits


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
_SWITCHED: Final = {"true": 1.0, "false": 0.0}


def read_tree(reader: BinaryIO, where: str, limits: XmlLimits) -> Node:
    """The kept elements of a ``project.xml``.

    Args:
        reader: the document's bytes.
        where: how messages name the document; lines are added to it.
        limits: what it may hold.

    Raises:
        RefusedFile: a DOCTYPE, or a limit is passed.
        BrokenFile: it is not well-formed.
        NotASession: it is nothing but a point.
    """
    parser = xml_parser.make_parser(where)
    extractor = AutomationBlockExtractor(xml_parser.CHUNK)
    builder = _TreeBuilder(parser, extractor, where, limits)
    parser.StartElementHandler = builder.start
    parser.EndElementHandler = builder.end
    xml_parser.feed(parser, reader, where, limits, extractor)
    return builder.root


class _TreeBuilder:
    """Builds the tree from the parser's calls, one for each tag; elements that are not kept are passed over whole.

    Args:
        parser: asked for line numbers.
        extractor: holds the points that its placeholders stand for.
        where: how messages name the document.
        limits: what it may hold.
    """

    __slots__ = (
        "_deepest", "_depth", "_elements", "_extractor", "_limits", "_most_points", "_open", "_parser", "_points",
        "_skipped", "_where",
    )  # fmt: skip

    def __init__(self, parser: Any, extractor: AutomationBlockExtractor, where: str, limits: XmlLimits) -> None:
        self._parser = parser
        self._extractor = extractor
        self._where = where
        self._limits = limits
        self._most_points = limits.points  # asked at every point, so they are kept at hand
        self._deepest = limits.depth
        self._open: list[Node] = [Node("", {}, 0)]  # kept elements that are still open, above them one for the root
        self._depth = 0
        self._skipped = 0  # how many elements are open that are passed over
        self._elements = 0
        self._points = 0

    @property
    def root(self) -> Node:
        """The outermost element, once the document is read.

        Raises:
            NotASession: it is a point, which is kept nowhere but in its curve.
        """
        if not self._open[0].children:
            raise NotASession(
                "the outermost element is a point of automation", where=self._where, do="export the session again"
            )
        return self._open[0].children[0]

    def start(self, tag: str, attrs: dict[str, str]) -> None:
        """An element begins.

        Raises:
            RefusedFile: a limit is passed.
        """
        self._depth += 1
        if self._skipped:
            self._skipped += 1
            if self._depth > self._deepest:
                raise self._too_deep()
        elif tag in _POINTS:
            self._skipped = 1
            self._add_point(attrs)
        else:
            if self._depth > self._deepest:
                raise self._too_deep()
            if len(attrs) > self._limits.attributes:
                raise self._refuse(f"an element has more than {self._limits.attributes} attributes")
            if tag in _KEPT or self._depth == 1:
                self._keep(tag, attrs)
            else:
                self._skipped = 1
                if tag == PLACEHOLDER:
                    self._add_block(attrs)

    def end(self, _: str) -> None:
        """An element ends."""
        self._depth -= 1
        if self._skipped:
            self._skipped -= 1
        else:
            self._open.pop()

    def _keep(self, tag: str, attrs: dict[str, str]) -> None:
        self._elements += 1
        if self._elements > self._limits.elements:
            raise self._refuse(f"the session holds more than {self._limits.elements} elements")
        make = PointsNode if tag in _POINT_LISTS else Node
        node = make(tag, attrs, self._parser.CurrentLineNumber)
        self._open[-1].add(node)
        if tag in _CLOSED:
            self._skipped = 1
        else:
            self._open.append(node)

    def _add_point(self, attrs: dict[str, str]) -> None:
        """One automation point; one that stands in no list of points is passed over."""
        here = self._open[-1]
        if type(here) is not PointsNode:
            return
        value = attrs.get("value", "")
        try:
            number = _SWITCHED[value] if value in _SWITCHED else float(value)
            time = float(attrs["time"])
        except (ValueError, KeyError):
            number = time = nan
        here.times.append(time)
        here.values.append(number)
        here.holds.append(attrs.get("interpolation") != "linear")
        self._points += 1
        if self._points > self._most_points:
            raise self._too_many_points()

    def _add_block(self, attrs: dict[str, str]) -> None:
        """The points that were taken out, at their placeholder."""
        block = self._extractor.blocks.pop(attrs.get("n", ""), None)
        here = self._open[-1]
        if block is None or type(here) is not PointsNode:
            return
        here.times.extend(block.times)
        here.values.extend(block.values)
        here.holds.extend(block.holds)
        self._points += len(block.times)
        if self._points > self._most_points:
            raise self._too_many_points()

    def _too_many_points(self) -> RefusedFile:
        return self._refuse(f"the session holds more than {self._most_points} automation points")

    def _too_deep(self) -> RefusedFile:
        return self._refuse(f"elements are nested more than {self._deepest} deep")

    def _refuse(self, what: str) -> RefusedFile:
        return xml_parser.refused(what, f"{self._where}:{self._parser.CurrentLineNumber}")
