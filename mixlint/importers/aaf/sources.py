"""From a clip to the file that it plays: along the mobs that refer to each other, and the place in the file."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, Final, NamedTuple

from mixlint.importers.aaf.ids import SOUND
from mixlint.importers.aaf.import_notes import ImportNotes
from mixlint.importers.aaf.media_list import MediaList
from mixlint.importers.aaf.values import auid, fraction, rate, text
from mixlint.session import Unknown

LONGEST_CHAIN: Final = 40
"""How many mobs a clip is followed through to its file."""


class Source(NamedTuple):
    """What a clip plays.

    Args:
        name: of the clip, or of what it plays.
        file: id of the media file; None where the AAF leads to none.
        offset_s: the place in the file, seconds.
        legs: how many legs of it.
    """

    name: str
    file: str | None
    offset_s: Fraction | Unknown
    legs: int | Unknown


class Sources:
    """Follows references.

    Args:
        library: the module whose objects these are.
        content: what the file holds of mobs and essence.
        media: where files are entered.
        notes: where to say what could not be found.
    """

    def __init__(self, library: Any, content: Any, media: MediaList, notes: ImportNotes) -> None:
        self._kinds = library.components
        self._mob_kinds = library.mobs
        self._media = media
        self._notes = notes
        self._mobs: dict[str, Any] = {}
        self._slots: dict[str, dict[int, Any]] = {}
        for one in content.getvalue("Mobs") or ():
            self._mobs.setdefault(str(one.getvalue("MobID")), one)
        self.composition_kind = library.mobs.CompositionMob

    def mob(self, mob_id: Any) -> Any:
        """The mob with an id, or None."""
        return self._mobs.get(str(mob_id)) if mob_id is not None else None

    def slot(self, mob: Any, slot_id: Any) -> Any:
        """The track of a mob with an id, or None."""
        key = str(mob.getvalue("MobID"))
        if key not in self._slots:
            slots: dict[int, Any] = {}
            for one in mob.getvalue("Slots") or ():
                slots.setdefault(one.getvalue("SlotID"), one)
            self._slots[key] = slots
        return self._slots[key].get(slot_id)

    def source(self, clip: Any, begin_s: Fraction, channel: str) -> Source:
        """What a clip plays that is of no composition.

        Args:
            clip: the clip.
            begin_s: the place in what it refers to at its start, seconds.
            channel: id of its channel, for notes.
        """
        name, at = "", begin_s
        mob = self.mob(clip.getvalue("SourceID"))
        slot_id = clip.getvalue("SourceMobSlotID")
        seen: set[tuple[str, Any]] = set()
        while mob is not None:
            name = name or text(mob.getvalue("Name"))
            key = (str(mob.getvalue("MobID")), slot_id)
            if key in seen or len(seen) > LONGEST_CHAIN:
                self._notes.add(
                    "{n} clips refer to media in a circle; what they play is open.", about=channel, loses=True
                )
                break
            seen.add(key)
            slot = self.slot(mob, slot_id)
            inside = rate(slot.getvalue("EditRate")) if slot is not None else None
            if slot is not None and inside is not None:
                at += (fraction(slot.getvalue("Origin")) or Fraction(0)) / inside
            if isinstance(mob, self._mob_kinds.SourceMob) and self._media.is_file(mob):
                return self._file(mob, name, at)
            if slot is None or inside is None:
                break
            after = self._next(slot.getvalue("Segment"), at, inside)
            if after is None:
                break
            one, at = after
            slot_id, mob = one.getvalue("SourceMobSlotID"), self.mob(one.getvalue("SourceID"))
        self._notes.add("{n} clips lead to no file: their sound is not told by the AAF.", about=channel, loses=True)
        unknown = Unknown(unknown="the AAF does not lead to the clip's file", settle="export it with its media")
        return Source(name, None, unknown, unknown)

    def _next(self, segment: Any, at_s: Fraction, inside: Fraction) -> tuple[Any, Fraction] | None:
        """The clip of a mob's segment that plays at a time, and the time in what it refers to."""
        kinds = self._kinds
        for _ in range(LONGEST_CHAIN):
            if isinstance(segment, kinds.SourceClip):
                return segment, at_s + (fraction(segment.getvalue("StartTime")) or Fraction(0)) / inside
            inner: Any = None
            if isinstance(segment, kinds.Sequence):
                inner, at_s = self._at(segment, at_s, inside)
            elif isinstance(segment, kinds.EssenceGroup):
                inner = next(iter(segment.getvalue("Choices") or ()), None)
            elif isinstance(segment, kinds.Selector):
                inner = segment.getvalue("Selected")
            elif isinstance(segment, kinds.OperationGroup):
                inner = next(iter(segment.getvalue("InputSegments") or ()), None)
            if inner is None:
                return None
            segment = inner
        return None

    def _at(self, sequence: Any, at_s: Fraction, inside: Fraction) -> tuple[Any, Fraction]:
        """The component of a sequence at a time, and the time in it."""
        begin = Fraction(0)
        found: tuple[Any, Fraction] = (None, at_s)
        for one in sequence.getvalue("Components") or ():
            length = (fraction(one.getvalue("Length")) or Fraction(0)) / inside
            if isinstance(one, self._kinds.Transition):
                begin -= length
                continue
            if found[0] is None or begin <= at_s:
                found = one, at_s - begin
            begin += length
            if begin > at_s:
                break
        return found

    def _file(self, mob: Any, name: str, at_s: Fraction) -> Source:
        """A clip of a file, with how many of the file's legs it plays."""
        media = self._media.add(mob)
        sounds = sum(1 for one in mob.getvalue("Slots") or () if _is_sound(one))
        legs = media.legs
        if sounds > 1 and legs != 1:
            # Each leg has a track of its own, and the clip plays one: a file is read whole.
            legs = Unknown(
                unknown="its clips play single legs of files that have several",
                settle="export the files of mono tracks as mono",
            )
        return Source(
            name or media.path, media.id, at_s if at_s >= 0 else Unknown(unknown="it begins before its file"), legs
        )


def _is_sound(slot: Any) -> bool:
    segment = slot.getvalue("Segment")
    return segment is not None and auid(segment.getvalue("DataDefinition")) in SOUND
