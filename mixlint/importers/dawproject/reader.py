"""The whole way from a container to a session, one step after another."""

from __future__ import annotations

from typing import Any, TypeAlias

from pydantic import ValidationError

from mixlint.errors import BrokenFile, NotASession
from mixlint.importers.dawproject.automated_parameters import AutomatedParameters
from mixlint.importers.dawproject.automation import read_automation
from mixlint.importers.dawproject.clips import ClipReader
from mixlint.importers.dawproject.clock import Clock, read_clock, read_markers
from mixlint.importers.dawproject.devices import read_inserts
from mixlint.importers.dawproject.dialect import read_dialect
from mixlint.importers.dawproject.document import Document, read_document
from mixlint.importers.dawproject.id_map import IdMap
from mixlint.importers.dawproject.import_notes import ImportNotes
from mixlint.importers.dawproject.lanes import tracks_with_clips, walk_lanes
from mixlint.importers.dawproject.media_list import MediaList
from mixlint.importers.dawproject.mixer import MixerReader
from mixlint.importers.dawproject.outputs import settle_routing
from mixlint.importers.dawproject.plugin_state import PluginStates
from mixlint.importers.dawproject.structure import StripDraft, Structure
from mixlint.importers.dawproject.values import finite, truth
from mixlint.importers.dawproject.xml_tree import Node
from mixlint.media.container import Container, open_container
from mixlint.session import (
    GAPS,
    Automation,
    Channel,
    Clip,
    Insert,
    Marker,
    Session,
    Source,
    Unknown,
    is_known,
)

LOSES = (
    "Pan law, stereo width and polarity switches are not in this form.",
    "Side-chain inputs and the extra outputs of instruments are not in this form.",
    "The settings of plug-ins are not in this form, save for parameters that are automated.",
    "Which channels a VCA moves is not in this form.",
)
CARRIES = GAPS


def read(container: Container) -> Session:
    """Read a session in the open interchange format.

    Args:
        container: the archive, or the bare ``project.xml``.

    Raises:
        NotASession: it holds no project.
        BrokenFile: it is damaged.
        RefusedFile: it is refused for safety.
    """
    notes = ImportNotes()
    document = read_document(container, notes)
    with open_container(container.path.resolve().parent) as beside:
        try:
            media = MediaList(container, document.packed, beside)
            return _session(document, media, PluginStates(container, document.packed, beside, notes), notes)
        except ValidationError as fault:
            first = fault.errors(include_url=False)[0]
            raise BrokenFile(
                f"its figures do not fit together ({first['msg']})",
                where=document.place,
                do="export the session again from the application that made it",
            ) from None


def _session(document: Document, media: MediaList, states: PluginStates, notes: ImportNotes) -> Session:
    root, member = document.root, document.member
    if root.child("Structure") is None:
        raise NotASession(
            "the project has no structure, so there is no channel to read",
            where=document.place,
            do="export the whole session, not a clip or a preset",
        )
    id_map = IdMap(root)
    for twice, count in list(id_map.duplicates.items())[:20]:
        notes.assume(f"The id {twice} occurs {count} times in the file; the first was taken.")
    lanes = list(walk_lanes(root))
    structure = Structure(root, id_map, notes, tracks_with_clips(lanes))
    settle_routing(structure, notes)
    dialect = read_dialect(root, notes)
    clock = read_clock(root, lanes, notes)
    automatable = AutomatedParameters()
    mixer = MixerReader(structure, dialect, automatable, notes, member)
    parts: dict[str, dict[str, Any]] = {}
    for strip in structure.strips:
        parts[strip.id] = {**mixer.read(strip), "inserts": read_inserts(strip, automatable, states, notes, member)}
    clips = _clips(root, structure, ClipReader(clock, id_map, media, notes, member), notes)
    names = {strip.id: strip.name for strip in structure.strips}
    transport = root.child("Transport")
    tempo = transport.child("Tempo") if transport is not None else None
    tempo_id = tempo.get("id") if tempo is not None else ""
    automation = read_automation(lanes, automatable, clock, dialect, names, tempo_id, notes, member)
    channels = tuple(
        _channel(
            strip, parts[strip.id], clips.get(strip.id, ([], None)), automation.get(strip.id, []), media, member, notes
        )
        for strip in structure.strips
    )
    markers = read_markers(lanes, clock)
    return _assemble(document, root, clock, channels, media, markers, notes)


def _assemble(
    document: Document,
    root: Node,
    clock: Clock,
    channels: tuple[Channel, ...],
    media: MediaList,
    markers: tuple[Marker, ...],
    notes: ImportNotes,
) -> Session:
    application = root.child("Application")
    for text in LOSES:
        notes.lose(text)
    return Session(
        title=document.title,
        source=Source(
            importer="dawproject",
            application=application.get("name") if application is not None else "",
            version=application.get("version") if application is not None else "",
        ),
        timeline=clock.timeline,
        markers=markers,
        channels=channels,
        media=media.files(),
        metadata=document.metadata,
        gaps=notes.gaps,
        notes=notes.all(),
    )


Clips: TypeAlias = dict[str, tuple[list[Clip], Unknown | None]]


def _clips(root: Node, structure: Structure, reader: ClipReader, notes: ImportNotes) -> Clips:
    """Channel id → its clips in the order of the song, and why they are not all, where they are not."""
    found: dict[str, list[Clip]] = {}
    for lane in walk_lanes(root):
        if lane.node.tag not in ("Clips", "Audio", "Notes", "Video", "Warps") or not (
            lane.node.children or lane.node.tag == "Notes"
        ):
            continue
        strip = structure.resolve(lane.track) if lane.track else None
        if strip is None:
            notes.lose(
                f"Clips of a track ({lane.track}) that has no channel were left out."
                if lane.track
                else "Clips that belong to no track were left out."
            )
            continue
        found.setdefault(strip.id, []).extend(reader.read(lane, strip))
    for clips in found.values():
        clips.sort(key=lambda clip: (clip.start_s, clip.end_s))
    why = {strip.id: reader.unresolved(strip) for strip in structure.strips if strip.id in found}
    return {one: (clips, why[one]) for one, clips in found.items()}


def _channel(
    strip: StripDraft,
    parts: dict[str, Any],
    found: tuple[list[Clip], Unknown | None],
    automation: list[Automation],
    media: MediaList,
    member: str,
    notes: ImportNotes,
) -> Channel:
    track, (clips, unresolved) = strip.track, found
    output = strip.output.id if isinstance(strip.output, StripDraft) else strip.output
    plays = tuple(word for word in ("audio", "notes") if word in strip.content)
    return Channel(
        id=strip.id,
        name=strip.name,
        kind=strip.kind,
        parent=strip.parent.id if strip.parent is not None else None,
        folder=strip.folder,
        plays=plays,
        legs=_legs(strip, clips, media, parts["inserts"], notes),
        loaded=truth(track.get("loaded"), True) if track is not None else True,
        output=output,
        clips=tuple(clips),
        automation=tuple(automation),
        declared_role=strip.channel.get("role") if strip.channel is not None else "",
        comment=track.get("comment") if track is not None else "",
        missing={"clips": unresolved} if unresolved is not None else {},
        where=f"{member}:{strip.node.line}",
        **parts,
    )


def _legs(
    strip: StripDraft, clips: list[Clip], media: MediaList, inserts: tuple[Insert, ...], notes: ImportNotes
) -> int | Unknown:
    """The strip's width. A declared 2 is written for mono parts too, so the clips' files speak first on tracks."""
    declared = finite(strip.channel.attrs.get("audioChannels")) if strip.channel is not None else None
    if (
        declared is not None
        and declared.is_integer()
        and 1 <= declared <= 64
        and (declared != 2 or strip.kind != "track")
    ):
        return int(declared)
    widths = {
        file.legs
        for clip in clips
        if clip.file is not None and (file := media.get(clip.file)) is not None and is_known(file.legs)
    }
    if widths:
        width = max(widths)
        if width == 1 and declared == 2:
            notes.assume(
                f"{strip.name} is written as 2 channels wide, but its files are mono; it was read as mono.", strip.id
            )
        return width
    if declared == 2:
        if any(one.kind == "instrument" for one in inserts):
            return 2
        return Unknown(
            unknown="the export gives a width of 2, which writers also give for mono parts",
            settle="look at the channel's width",
        )
    return Unknown(unknown="the export does not give the channel's width", settle="look at the channel's width")
