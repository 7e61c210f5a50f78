"""A file's own description as plain values, in the words of ITU-R BS.2076."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final, Literal, NamedTuple

from mixlint.media.labels import Stated
from mixlint.session import Unknown

SILENT_UID: Final = "ATU_00000000"
"""The number of a track that is silence and stands in no file."""

Kind = Literal["speakers", "object", "scene", "matrix", "binaural", "unknown"]

KINDS: Final[dict[str, Kind]] = {
    "1": "speakers", "2": "matrix", "3": "object", "4": "scene", "5": "binaural",
    "DirectSpeakers": "speakers", "Matrix": "matrix", "Objects": "object", "HOA": "scene", "Binaural": "binaural",
}  # fmt: skip
"""The types of BS.2076: by the last figure of their label, and by their name."""

Dialogue = Literal["none", "dialogue", "mixed", "not told"]


class LegUse(NamedTuple):
    """One entry of the chunk ``chna``: which leg, counted from 1, and the numbers of what it is."""

    leg: int
    uid: str
    track: str
    pack: str


class Loudness(NamedTuple):
    """One ``loudnessMetadata``: by which method, and the figures."""

    method: str
    stated: Stated


class Programme(NamedTuple):
    """One ``audioProgramme``; times in seconds, None for none given."""

    id: str
    name: str
    language: str
    start_s: float | None
    end_s: float | None
    contents: tuple[str, ...]
    loudness: tuple[Loudness, ...]
    other_values: bool


class Content(NamedTuple):
    """One ``audioContent``."""

    id: str
    name: str
    language: str
    dialogue: Dialogue
    objects: tuple[str, ...]
    loudness: tuple[Loudness, ...]
    other_values: bool


class AdmObject(NamedTuple):
    """One ``audioObject``: ``gain`` is a factor, ``importance`` 0 … 10, ``duration_s`` None where it plays on."""

    id: str
    name: str
    start_s: float
    duration_s: float | None
    importance: int
    gain: float
    mute: bool
    packs: tuple[str, ...]
    objects: tuple[str, ...]
    uids: tuple[str, ...]
    instead: tuple[str, ...]


class Position(NamedTuple):
    """Where a loudspeaker stands: degrees to the left and up, both from the front."""

    azimuth: float
    elevation: float


class ChannelFormat(NamedTuple):
    """One ``audioChannelFormat``.

    Args:
        kind: what its samples are.
        blocks: how many positions in time it has.
        position: where its first block stands, as far as it is given in degrees.
        low_end: it is for a low-frequency loudspeaker.
        gain: the factor of its only block; None where several have one.
    """

    id: str
    name: str
    kind: Kind
    blocks: int
    position: Position | None
    low_end: bool
    gain: float | None


class Pack(NamedTuple):
    """One ``audioPackFormat``."""

    id: str
    name: str
    kind: Kind


class Track(NamedTuple):
    """One ``audioTrackUID``: the numbers of its formats, empty for none given, and its sample rate, 0 for none."""

    id: str
    track: str
    channel: str
    pack: str
    rate_hz: int


@dataclass(frozen=True, slots=True)
class Adm:
    """What a file describes.

    Args:
        legs: the entries of ``chna`` that are in use.
        has_legs: there is a ``chna`` chunk.
        unread: why its description in words (``axml``) was not read; None where it was, or where there is none.
        faults: what is damaged, a sentence part each.
    """

    legs: tuple[LegUse, ...] = ()
    has_legs: bool = False
    programmes: dict[str, Programme] = field(default_factory=dict)
    contents: dict[str, Content] = field(default_factory=dict)
    objects: dict[str, AdmObject] = field(default_factory=dict)
    packs: dict[str, Pack] = field(default_factory=dict)
    channels: dict[str, ChannelFormat] = field(default_factory=dict)
    streams: dict[str, str] = field(default_factory=dict)
    track_streams: dict[str, str] = field(default_factory=dict)
    tracks: dict[str, Track] = field(default_factory=dict)
    unread: Unknown | None = None
    faults: tuple[str, ...] = ()

    @property
    def describes(self) -> bool:
        """There is a description at all, whole or not."""
        found = self.has_legs or self.programmes or self.contents or self.objects or self.tracks
        return bool(found or self.unread or self.faults)
