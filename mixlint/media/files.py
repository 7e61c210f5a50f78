"""The files of one session: found once, opened for whoever asks, and what went wrong with them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import BinaryIO, Self, TypeVar

from mixlint.errors import InputError
from mixlint.media.adm.model import Adm
from mixlint.media.adm.reading import read_adm
from mixlint.media.audio import read_header
from mixlint.media.container import Container, PlainContainer, open_container
from mixlint.media.content import sound_digest
from mixlint.media.header import Header
from mixlint.media.labels import Labels, read_labels
from mixlint.media.places import LEADS_OUT, OUTSIDE, Place, digest, locate
from mixlint.session import MediaFile, Session, Unknown

T = TypeVar("T")


class Files:
    """A session's audio files, without measuring them.

    Whatever cannot be had is an ``Unknown`` with its reason: a missing file, one outside the session's folder, a
    damaged one. The error behind a damaged or refused file is kept for :meth:`fault`.

    Args:
        session: the session in the neutral form.
        session_path: the session file, or the folder that holds the stems.
        allow_outside: open files outside the session's folder too.
        named: files that the session does not list and that somebody named, by an id of their own; they are opened
            wherever they lie.
    """

    def __init__(
        self,
        session: Session,
        session_path: str | Path,
        *,
        allow_outside: bool = False,
        named: Mapping[str, Path] | None = None,
    ) -> None:
        self.path = Path(session_path)
        self._media = {media.id: media for media in session.media}
        self._allow_outside = allow_outside
        self._named = dict(named or {})
        self._containers: dict[bool, Container] = {}
        self._places: dict[str, Place | Unknown] = {}
        self._lost: dict[str, InputError] = {}  # by media id: not even looked for
        self._faults: dict[Place, InputError] = {}
        self._headers: dict[Place, Header | Unknown] = {}
        self._labels: dict[Place, Labels | Unknown] = {}
        self._described: dict[Place, Adm | Unknown] = {}
        self._digests: dict[Place, str | Unknown] = {}
        self._sounds: dict[Place, str | Unknown] = {}

    @property
    def ids(self) -> tuple[str, ...]:
        """The ids of the session's media files, in its order."""
        return tuple(self._media)

    def place(self, media_id: str) -> Place | Unknown:
        """Where a file lies, or why it cannot be found."""
        if media_id not in self._places:
            self._places[media_id] = self._find(media_id)
        return self._places[media_id]

    def _find(self, media_id: str) -> Place | Unknown:
        named = self._named.get(media_id)
        if named is not None:
            return Place(named.parent, named.name, str(named))
        media = self._media.get(media_id)
        if media is None:
            return Unknown(
                unknown=f"the session lists no audio file {media_id!r}",
                settle="export the session again, with the list of its audio files",
            )
        if not media.path:
            # Inside the session's own file, but in a form that is not read: the importer says which.
            if media.place == "inside" and isinstance(media.present, Unknown):
                return media.present
            return Unknown(unknown="the session gives no path for this file")
        try:
            return locate(media, self._container(media), allow_outside=self._allow_outside)
        except InputError as fault:
            self._lost[media_id] = fault
            return _reason(fault)

    def _container(self, media: MediaFile) -> Container:
        """The archive or compound file for what lies inside it, the folder for what lies beside it."""
        inside = media.place == "inside"
        if inside not in self._containers:
            own = open_container(self.path)
            if not inside and not isinstance(own, PlainContainer):
                own.close()
                own = open_container(self.path.parent)
            self._containers[inside] = own
        return self._containers[inside]

    def note(self, media_id: str) -> str:
        """What had to be assumed to find a file, or empty."""
        place = self.place(media_id)
        return "" if isinstance(place, Unknown) else place.note

    def present(self, media_id: str) -> bool | Unknown:
        """Whether a file is there; Unknown where it is not opened because it lies outside."""
        place = self.place(media_id)
        if isinstance(place, Place):
            return True
        media = self._media.get(media_id)
        if media is None or media_id in self._lost or place in (OUTSIDE, LEADS_OUT, media.present):
            return place
        return False

    def fault(self, media_id: str) -> InputError | None:
        """The error that a damaged or refused file met so far, if it met one."""
        place = self.place(media_id)
        return self._lost.get(media_id) if isinstance(place, Unknown) else self._faults.get(place)

    def header(self, media_id: str) -> Header | Unknown:
        """What a file says of itself; nothing is decoded."""
        return self._once(media_id, self._headers, lambda place, file: read_header(file, name=place.shown))

    def labels(self, media_id: str) -> Labels | Unknown:
        """What a wave file's own chunks say of its sound."""
        return self._once(media_id, self._labels, lambda _, file: read_labels(file))

    def described(self, media_id: str) -> Adm | Unknown:
        """What a file describes of its own legs (ADM); an empty description where it has none."""
        header = self.header(media_id)
        if isinstance(header, Unknown):
            return header
        return self._once(media_id, self._described, lambda _, file: read_adm(file)) if header.has_adm else Adm()

    def digest(self, media_id: str) -> str | Unknown:
        """The hash of a file's bytes, ``sha256:…``."""
        return self._once(media_id, self._digests, lambda _, file: digest(file))

    def sound(self, media_id: str) -> str | Unknown:
        """The hash of a file's samples, ``sha256:…``: the same for the same sound in another wrapping."""
        return self._once(media_id, self._sounds, lambda place, file: sound_digest(file, name=place.shown))

    def _once(
        self, media_id: str, memory: dict[Place, T | Unknown], ask: Callable[[Place, BinaryIO], T]
    ) -> T | Unknown:
        """What ``ask`` finds in a file, asked once per place."""
        place = self.place(media_id)
        if isinstance(place, Unknown):
            return place
        if place not in memory:
            try:
                with place.opened(self._opened(place)) as file:
                    memory[place] = ask(place, file)
            except InputError as fault:
                memory[place] = self._fails(place, fault)
        return memory[place]

    def _opened(self, place: Place) -> Container | None:
        """The open container that holds a place, if it is one of the session's."""
        return next((one for one in self._containers.values() if one.path == place.container), None)

    def _fails(self, place: Place, fault: InputError) -> Unknown:
        self._faults[place] = fault
        return _reason(fault)

    def close(self) -> None:
        """Let go of the session's container."""
        for container in self._containers.values():
            container.close()
        self._containers.clear()

    def __enter__(self) -> Self:
        """The library itself."""
        return self

    def __exit__(self, *_: object) -> None:
        """Close it."""
        self.close()


def _reason(fault: InputError) -> Unknown:
    """An error as the reason why something is not known."""
    return Unknown(unknown=fault.what, settle=fault.do)
