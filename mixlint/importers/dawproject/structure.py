"""The strips of the desk: tracks with a channel, bare channels, groups and folders in every spelling."""

from __future__ import annotations

from dataclasses import dataclass, field

from mixlint.importers.dawproject.id_map import IdMap
from mixlint.importers.dawproject.import_notes import ImportNotes
from mixlint.importers.dawproject.xml_tree import Node
from mixlint.session import ChannelKind, Unknown


@dataclass(eq=False, slots=True)
class StripDraft:
    """One strip while it is being read.

    ``parent`` is the group strip it is nested under. ``depth`` is 0 at the top of the structure. ``heads`` marks the
    channel inside a channel-less folder that carries the folder's sum.
    """

    id: str
    name: str
    track: Node | None
    channel: Node | None
    depth: int
    folder: tuple[str, ...] = ()
    parent: StripDraft | None = None
    nested: bool = False
    heads: bool = False
    kind: ChannelKind | Unknown = "track"
    output: StripDraft | Unknown | None = None
    targets: list[str] = field(default_factory=list)

    @property
    def node(self) -> Node:
        """The element that stands for the strip: its channel, or its track when it has none."""
        found = self.channel or self.track
        if found is None:
            raise AssertionError("a strip has a track or a channel")
        return found

    @property
    def role(self) -> str:
        """The declared mixer role, in lower case."""
        return self.channel.get("role").lower() if self.channel is not None else ""

    @property
    def content(self) -> frozenset[str]:
        """What the track declares to hold; both separators that occur are understood."""
        text = self.track.get("contentType") if self.track is not None else ""
        return frozenset(text.lower().replace(",", " ").split())


class Structure:
    """All strips in desk order, and the way from an element to its strip."""

    def __init__(self, root: Node, id_map: IdMap, notes: ImportNotes, with_clips: frozenset[str]) -> None:
        self.strips: list[StripDraft] = []
        self.of_node: dict[int, StripDraft] = {}
        self._id_map = id_map
        self._notes = notes
        self._with_clips = with_clips
        self._taken: set[str] = set()
        for structure in root.all("Structure"):
            self._walk(structure, "", 0, (), None)

    def resolve(self, reference: str) -> StripDraft | None:
        """The strip a reference means: by its channel, or by its track."""
        node = self._id_map.node(reference)
        return self.of_node.get(id(node)) if node is not None else None

    def means_track(self, reference: str) -> bool:
        """True when a reference names a track where a channel is due."""
        node = self._id_map.node(reference)
        return node is not None and node.tag == "Track"

    def _walk(self, parent: Node, path: str, depth: int, folder: tuple[str, ...], group: StripDraft | None) -> None:
        # Depth is bounded by the XML reader, so recursion is too.
        for count, node in enumerate(parent.children, start=1):
            here = f"{path}.{count}" if path else str(count)
            if node.tag == "Channel" and parent.tag != "Track":
                self._add(None, node, here, depth, folder, group)
            elif node.tag == "Track":
                self._track(node, here, depth, folder, group)

    def _track(self, node: Node, path: str, depth: int, folder: tuple[str, ...], group: StripDraft | None) -> None:
        channels = list(node.all("Channel"))
        nested = any(True for _ in node.all("Track"))
        if channels:
            strip = self._add(node, channels[0], path, depth, folder, group)
            strip.nested = nested
            for extra, more in enumerate(channels[1:], start=2):
                self._notes.assume(f"{strip.name} has a second mixer channel in the file.", strip.id)
                self._add(node, more, f"{path}+{extra}", depth, folder, group)
            self._walk(node, path, depth + 1, folder, strip)
            return
        name = node.get("name")
        if nested:
            self._folder(node, path, depth, (*folder, name or "folder"), group)
        elif node.get("id") in self._with_clips and node.get("id"):
            strip = self._add(node, None, path, depth, folder, group)
            self._notes.assume(f"{strip.name} has clips but no mixer channel in the file.", strip.id)

    def _folder(self, node: Node, path: str, depth: int, folder: tuple[str, ...], group: StripDraft | None) -> None:
        """A track without a channel that holds tracks: a plain folder, or a group whose sum is one of its tracks."""
        head: Node | None = None
        for track in node.all("Track"):
            channel = track.child("Channel")
            if channel is not None and channel.get("role").lower() == "master" and track.child("Track") is None:
                head = track
                break
        inner = group
        if head is not None:
            place = next(n for n, one in enumerate(node.children, start=1) if one is head)
            channel = head.child("Channel")
            inner = self._add(head, channel, f"{path}.{place}", depth + 1, folder, group)
            inner.heads = True
            self._notes.assume(
                f"{inner.name} was taken as the bus of the folder {folder[-1]}, since it stands in it as its master.",
                inner.id,
            )
        for count, child in enumerate(node.children, start=1):
            if child is head:
                continue
            if child.tag == "Track":
                self._track(child, f"{path}.{count}", depth + 1, folder, inner)
            elif child.tag == "Channel":
                self._add(None, child, f"{path}.{count}", depth + 1, folder, inner)

    def _free_id(self, given: str, path: str) -> str:
        """The id of a strip: its own, or its place, told apart where a file says the like of a place itself."""
        strip_id, count = given or f"at {path}", 1
        while strip_id in self._taken:
            strip_id = f"at {path}" if count == 1 else f"at {path} ({count})"
            count += 1
        return strip_id

    def _add(
        self,
        track: Node | None,
        channel: Node | None,
        path: str,
        depth: int,
        folder: tuple[str, ...],
        group: StripDraft | None,
    ) -> StripDraft:
        node = channel if channel is not None else track
        if node is None:
            raise AssertionError("a strip has a track or a channel")
        given = node.get("id")
        strip_id = self._free_id(given, path)
        self._taken.add(strip_id)
        name = (track.get("name") if track is not None else "") or node.get("name")
        if not name:
            name = "(unnamed)"
            self._notes.assume("A channel has no name in the file.", strip_id)
        if given and strip_id != given:
            self._notes.assume(f"The id {given} occurs twice; {name} is told apart by its place.", strip_id)
        strip = StripDraft(strip_id, name, track, channel, depth, folder, group)
        self.strips.append(strip)
        self.of_node.setdefault(id(node), strip)
        if track is not None:
            self.of_node.setdefault(id(track), strip)
        return strip
