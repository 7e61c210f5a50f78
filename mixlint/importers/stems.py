"""A folder of audio files as a session: one channel per file, all into one mix bus."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Final, NamedTuple

from mixlint.errors import InputError, NotASession
from mixlint.importers.media_files import media_file
from mixlint.importers.stem_marks import Mark, markers_of
from mixlint.importers.stem_sets import sets_of
from mixlint.media import read_header
from mixlint.media.container import Container
from mixlint.media.disk_names import as_text
from mixlint.media.labels import Labels, read_labels
from mixlint.media.stamps import StampedSet, by_stamps
from mixlint.media.zip_directory import is_audio_name
from mixlint.naming.stem_names import StemKind, StemName, read_stem_names
from mixlint.session import Channel, Clip, Gap, MediaFile, Note, Session, Source, Unknown

LOSES = (
    "A folder of stems shows no faders, pans, sends, inserts or automation: all of that is printed into the files.",
    "It shows no groups, returns or tempo.",
)
CARRIES: tuple[Gap, ...] = ("clips",)
"""What else a desk has is no gap: it is printed into the files, and a stem plays at 0 dB and in the centre."""

MIX_BUS = "mix-bus"

PLAIN_LEGS: Final = 2
"""A file that says what its legs are and has more than two holds no stem: they are not left and right."""


def read(container: Container) -> Session:
    """Read a folder of stems, with the subfolders that belong to it (:mod:`mixlint.importers.stem_sets`).

    Args:
        container: the folder.

    Raises:
        NotASession: there is no audio in it.
    """
    path, names = container.path, container.names()
    sets = sets_of(names)
    audio = sets.get("", ())
    if not audio:
        raise NotASession(
            "the folder holds no session and no audio files",
            where=str(path),
            do="name a session file, or a folder with session files or stems in it",
        )
    title = as_text(path.resolve().name)
    said = read_stem_names([Path(name).name for name in audio], title)
    read = {name: _facts(container, name) for name in audio}
    kinds = _kinds(audio, said, {name for name, one in read.items() if one.delivery})
    song = [name for name in audio if kinds[name] in ("part", "mix")]
    longest = max((_length_s(read[name].file) for name in song), default=0.0)
    stamped = by_stamps({name: read[name].stamp_s for name in song if read[name].said is not None}, longest)
    notes = [
        Note(text="The files were taken as stems that sum at 0 dB and centre, as stems are meant to."),
        Note(text="A mix bus was assumed, which all stems run into.", about=MIX_BUS),
        *(Note(text=text, loses=True) for text in LOSES),
    ]
    others = [name for name in names if not is_audio_name(name)]
    if others:
        notes.append(Note(text=f"The folder also holds {len(others)} files that are no audio; they were passed over."))
    left = sum(1 for name in names if is_audio_name(name)) - len(audio)
    if left:
        notes.append(Note(text=f"{left} audio files in its subfolders were taken for other sets, or for put aside."))
    markers = markers_of(mark for name in song for mark in _marks(name, read[name], stamped))
    if markers:
        notes.append(Note(text=f"{len(markers)} markers are the labelled cue points inside the files."))
    if stamped.laid:
        notes.append(Note(text="The files begin at different times by their time stamps, and were laid out by these."))
    channels, media = [], []
    for name in audio:
        file, why = read[name].file, read[name].why
        media.append(file)
        channels.append(_channel(name, said[Path(name).name].part, kinds[name], file, _start_s(name, stamped)))
        if kinds[name] != "part":
            how = "by what it says of its legs" if kinds[name] == "delivery" else "by its name"
            text = f"{name} is {_KINDS[kinds[name]]} {how} and was kept apart from the stems."
            notes.append(Note(text=text, about=name))
        if why:
            notes.append(Note(text=f"{name} could not be read as audio: {why}.", about=name))
    rates = {file.sample_rate_hz for file in media if not isinstance(file.sample_rate_hz, Unknown)}
    master = Channel(id=MIX_BUS, name="Mix bus", kind="master", legs=2, output=None)
    return Session(
        title=title,
        source=Source(importer="stems"),
        sample_rate_hz=rates.pop() if len(rates) == 1 else Unknown(unknown="the stems do not share one sample rate"),
        timeline=Unknown(unknown="a folder of stems gives no tempo"),
        markers=markers,
        channels=(*channels, master),
        media=tuple(media),
        notes=tuple(notes),
    )


_KINDS: Final[dict[StemKind, str]] = {
    "mix": "a print of the mix",
    "version": "another version of the mix",
    "reference": "a mix to compare with",
    "delivery": "a delivery with legs of its own (ADM)",
}


def _kinds(audio: tuple[str, ...], said: dict[str, StemName], deliveries: set[str]) -> dict[str, StemKind]:
    """What each file holds; where nothing else is left, other versions of the mix are the stems of it."""
    kinds = {name: said[Path(name).name].kind for name in audio}
    apart: dict[str, StemKind] = dict.fromkeys(deliveries, "delivery")
    left = {name: kind for name, kind in kinds.items() if name not in apart}
    if "part" not in left.values():
        versions = "version" in left.values()
        left = {name: "part" if kind == "version" or not versions else kind for name, kind in left.items()}
    return left | apart


class _Read(NamedTuple):
    """One file.

    Args:
        file: what the session says of it.
        why: why it cannot be read.
        delivery: it is a delivery and no stem.
        said: what its chunks say; None where it cannot be read.
        stamp_s: seconds since midnight at which it begins; None without a stamp.
    """

    file: MediaFile
    why: str = ""
    delivery: bool = False
    said: Labels | None = None
    stamp_s: float | None = None


def _facts(container: Container, name: str) -> _Read:
    """Legs, rate, duration and labels from the file's chunks, or why it has none."""
    try:
        with container.open(name, hold=True) as reader:
            header = read_header(reader, name=name)
            said = read_labels(reader)
    except InputError as fault:
        unknown = Unknown(unknown=f"the file could not be read as audio ({fault.what})", settle="print the stem again")
        file = MediaFile(id=name, path=name, present=True, legs=unknown, sample_rate_hz=unknown, duration_s=unknown)
        return _Read(file, fault.what)
    stamp = None if isinstance(header.time_reference, Unknown) else header.time_reference / header.sample_rate_hz
    delivery = header.has_adm and header.legs > PLAIN_LEGS
    return _Read(media_file(name, header), delivery=delivery, said=said, stamp_s=stamp)


def _length_s(file: MediaFile) -> float:
    return 0.0 if isinstance(file.duration_s, Unknown) else file.duration_s


def _start_s(name: str, stamped: StampedSet) -> float:
    """When a file begins in the song: at its beginning, unless the set is laid out by its stamps."""
    return stamped.late_s.get(name, 0.0) if stamped.laid else 0.0


def _marks(name: str, read: _Read, stamped: StampedSet) -> Iterator[Mark]:
    """The labelled cue points of a file that lie in it, seconds of the song."""
    rate = read.file.sample_rate_hz
    if read.said is None or isinstance(rate, Unknown):
        return
    for cue in read.said.cues:
        in_file_s = cue.sample / rate
        at_s = in_file_s + stamped.late_s.get(name, 0.0)
        if cue.label and in_file_s <= _length_s(read.file) and at_s >= 0.0:
            yield Mark(at_s, cue.label, name)


def _channel(name: str, part: str, kind: StemKind, file: MediaFile, start_s: float) -> Channel:
    clips: tuple[Clip, ...] = ()
    if not isinstance(file.duration_s, Unknown):
        end_s = round(start_s + file.duration_s, 9)
        start_s = round(start_s, 9)
        clips = (Clip(start_s=start_s, end_s=end_s, file=file.id, fade_in_s=0.0, fade_out_s=0.0, where=name),)
    return Channel(
        id=name,
        name=part,
        kind="track",
        folder=tuple(name.split("/")[:-1]),
        plays=("audio",),
        legs=file.legs,
        output=MIX_BUS if kind == "part" else None,
        declared_role="" if kind == "part" else kind,
        clips=clips,
        where=name,
    )
