"""A whole composition as a session. This runs in the worker, with the library at hand."""

from __future__ import annotations

import struct
from pathlib import Path
from typing import Any, Final

from mixlint.errors import BrokenFile, NotASession, RefusedFile
from mixlint.importers.aaf.composition import Composition
from mixlint.importers.aaf.ids import SOUND
from mixlint.importers.aaf.import_notes import ImportNotes
from mixlint.importers.aaf.losses import CARRIES, FORM, LOSES
from mixlint.importers.aaf.marks import audio_rate, markers, start_timecode
from mixlint.importers.aaf.media_list import MediaList
from mixlint.importers.aaf.sources import Sources
from mixlint.importers.aaf.tracks import TrackReader
from mixlint.importers.aaf.values import auid, rate, text
from mixlint.media.container import open_container
from mixlint.session import GAPS, Channel, Gap, MediaFile, Note, Session, Source, Unknown
from mixlint.session.gaps import FIELDS

MIX_BUS: Final = "mix-bus"
MOST_TRACKS: Final = 5_000
"""Tracks before a file is refused."""


def session_of(path: Path) -> Session:
    """The session in an AAF.

    Args:
        path: the file.

    Raises:
        NotASession: it holds no composition with tracks of sound.
        BrokenFile: its header tells of more than the file can hold.
        RefusedFile: it holds more than any session.
    """
    import aaf2

    _check_header(path)
    with aaf2.open(str(path), "r") as opened:
        header = opened.header
        return _assembled(aaf2, header, header.getvalue("Content"), path)


def _check_header(path: Path) -> None:
    """Refuse a header whose chain of tables is longer than the file: the library would follow it for ever.

    Where the figures stand is told by the format of compound files ([MS-CFB] 2.2).
    """
    with path.open("rb") as file:
        head = file.read(512)
    if len(head) < 512:
        return  # the library tells what is wrong with it
    (shift,), (tables,) = struct.unpack_from("<H", head, 30), struct.unpack_from("<L", head, 72)
    if shift > 20 or tables > path.stat().st_size >> shift:
        raise BrokenFile("its header tells of more than the file holds", where=str(path), do="export the AAF again")


def _assembled(library: Any, header: Any, content: Any, path: Path) -> Session:
    notes = ImportNotes()
    mob = _composition(library, content, notes)
    slots = _sound_slots(library, mob)
    if not slots:
        raise NotASession(
            "its composition has no tracks of sound", where=str(path), do="export the AAF with its audio tracks"
        )
    if len(slots) > MOST_TRACKS:
        raise RefusedFile(f"it has {len(slots)} tracks, more than the {MOST_TRACKS} that are read", where=str(path))
    media = MediaList(library, content, open_container(path.resolve().parent))
    composition = Composition(library, Sources(library, content, media, notes), notes)
    tracks = TrackReader(library, composition, notes, MIX_BUS)
    channels: list[Channel] = []
    taken: set[str] = {MIX_BUS}
    for number, slot in enumerate(slots, 1):
        channel_id = f"track-{slot.getvalue('SlotID')}"
        while channel_id in taken:
            channel_id += "-again"
        taken.add(channel_id)
        channels.append(tracks.channel(slot, channel_id, number))
    master = Channel(id=MIX_BUS, name="Mix bus", kind="master", legs=2, output=None)
    application, version = _writer(header)
    start = start_timecode(library, mob)
    return Session(
        title=text(mob.getvalue("Name")) or path.stem,
        source=Source(importer="aaf", form=FORM, application=application, version=version),
        sample_rate_hz=_sample_rate(slots, media.files()),
        timeline=Unknown(unknown="an AAF gives no tempo"),
        markers=markers(library, mob),
        channels=(*channels, master),
        media=media.files(),
        metadata={"start timecode": start} if start else {},
        gaps=_gaps(channels),
        notes=(*_said(composition, media), *notes.notes()),
    )


def _composition(library: Any, content: Any, notes: ImportNotes) -> Any:
    """The composition that is the session: a top one, and the one with the most tracks of sound of several."""
    mobs = list(content.getvalue("Mobs") or ()) if content is not None else []
    found = [mob for mob in mobs if isinstance(mob, library.mobs.CompositionMob)]
    if not found:
        raise NotASession("it holds no composition", do="export the session, and not only its media, as AAF")
    top = [mob for mob in found if mob.getvalue("UsageCode") == "Usage_TopLevel"]
    best = max(top or found, key=lambda mob: len(_sound_slots(library, mob)))
    if len(top) > 1 or (not top and len(found) > 1):
        notes.add(
            f"It holds {len(top or found)} compositions; “{text(best.getvalue('Name'))}” was read, which has the most"
            " tracks of sound.",
            loses=True,
        )
    return best


def _sound_slots(library: Any, mob: Any) -> list[Any]:
    """The tracks of sound, by their numbers where each has one of its own."""
    found = [
        slot
        for slot in mob.getvalue("Slots") or ()
        if isinstance(slot, library.mobslots.TimelineMobSlot)
        and (segment := slot.getvalue("Segment")) is not None
        and auid(segment.getvalue("DataDefinition")) in SOUND
    ]
    numbers = [slot.getvalue("PhysicalTrackNumber") for slot in found]
    if all(isinstance(one, int) for one in numbers) and len(set(numbers)) == len(numbers):
        found.sort(key=lambda slot: int(slot.getvalue("PhysicalTrackNumber")))
    return found


def _sample_rate(slots: list[Any], media: tuple[MediaFile, ...]) -> float | Unknown:
    of_tracks = [found for slot in slots if (found := rate(slot.getvalue("EditRate"))) is not None]
    told = audio_rate(of_tracks)
    if told is not None:
        return told
    of_files = {file.sample_rate_hz for file in media if not isinstance(file.sample_rate_hz, Unknown)}
    if len(of_files) == 1:
        return of_files.pop()
    return Unknown(unknown="the AAF counts in frames of pictures, and its files do not share one sample rate")


def _writer(header: Any) -> tuple[str, str]:
    """What wrote the file last, and its version, as the file has it."""
    known = list(header.getvalue("IdentificationList") or ())
    if not known:
        return "", ""
    return text(known[-1].getvalue("ProductName")), text(known[-1].getvalue("ProductVersionString"))


def _gaps(channels: list[Channel]) -> tuple[Gap, ...]:
    """What is not shown: what the form has no place for, and the controls of which no track says a thing.

    Outputs and groups are none, although no AAF has them: all tracks were taken to run into the mix bus.
    """
    silent = {gap for gap, field in FIELDS.items() if not any(field in one.model_fields_set for one in channels)}
    left_out = {gap for gap in GAPS if gap not in (*CARRIES, "outputs", "groups")}
    return tuple(gap for gap in GAPS if gap in left_out | silent)


def _said(composition: Composition, media: MediaList) -> list[Note]:
    """What was assumed for all tracks, and what the form loses."""
    notes = [
        Note(text="A mix bus was assumed, which all tracks run into at 0 dB.", about=MIX_BUS),
        *(Note(text=text_, loses=True) for text_ in LOSES),
    ]
    if composition.curves.bent:
        notes.append(Note(text="Curved moves were taken as straight lines between their points."))
    notes += [
        Note(text=f"No locator leads to {name}; the file of that name beside the AAF was taken for it.")
        for name in media.assumed.values()
    ]
    return notes
