"""The audio files that a list names, as far as they lie beside it."""

from __future__ import annotations

from pathlib import Path

from mixlint.errors import InputError
from mixlint.importers.media_files import media_file
from mixlint.media import read_header
from mixlint.media.container import open_container
from mixlint.media.zip_directory import is_audio_name
from mixlint.naming.fold import fold_name
from mixlint.session import MediaFile, Note, Unknown


class FilesBeside:
    """Collects the files of a list.

    Args:
        folder: where the list lies; the files are looked for there, by their path or by their name alone.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._found: dict[str, MediaFile] = {}
        self._there: dict[str, str] | None = None
        self._right_beside: dict[str, list[str]] | None = None
        self._faults: list[str] = []

    def add(self, name: str) -> str:
        """The id of a file that a cell names, with what its header tells where it lies beside the list."""
        path = name.replace("\\", "/").strip()
        there = self._names()
        found = there.get(fold_name(path)) or there.get(fold_name(path.rpartition("/")[2]))
        one = found or path
        if one not in self._found:
            self._found[one] = self._read(one) if found else MediaFile(id=one, path=one, place=_place(one))
        return one

    def called(self, channel: str) -> str | None:
        """The file right beside the list that is called like a channel; None where there is none."""
        if self._right_beside is None:
            self._right_beside = {}
            try:
                names = [one.name for one in self._folder.iterdir() if is_audio_name(one.name)]
            except OSError:
                names = []
            for name in names:
                self._right_beside.setdefault(fold_name(name.rpartition(".")[0]), []).append(name)
        alike = self._right_beside.get(fold_name(channel), [])
        return self.add(alike[0]) if len(alike) == 1 else None

    def _names(self) -> dict[str, str]:
        """Folded path and folded name → path, of the audio beside the list; of a name that is there twice none."""
        if self._there is None:
            self._there = {}
            try:
                with open_container(self._folder) as container:
                    names = [name for name in container.names() if is_audio_name(name)]
            except InputError:
                names = []
            twice: set[str] = set()
            for name in names:
                last = fold_name(name.rpartition("/")[2])
                for key in {last, last.rpartition(".")[0]}:
                    if key in self._there:
                        twice.add(key)
                    self._there[key] = name
            for key in twice:
                del self._there[key]
            self._there |= {fold_name(name): name for name in names}
        return self._there

    def _read(self, name: str) -> MediaFile:
        try:
            with open_container(self._folder) as container, container.open(name, hold=True) as reader:
                header = read_header(reader, name=name)
        except InputError as fault:
            self._faults.append(f"{name} could not be read as audio: {fault.what}.")
            return MediaFile(id=name, path=name, present=True)
        return media_file(name, header)

    def legs(self, file: str) -> int | None:
        """How many legs a file has; None where that is not known."""
        legs = self._found[file].legs
        return None if isinstance(legs, Unknown) else legs

    def duration(self, file: str) -> float | None:
        """How long a file is in seconds; None where that is not known."""
        duration = self._found[file].duration_s
        return None if isinstance(duration, Unknown) else duration

    def media(self) -> tuple[MediaFile, ...]:
        """All of them. Where some lie beside the list the others are missing; where none do, nobody looked."""
        here = any(media.present is True for media in self._found.values())
        return tuple(
            media if media.present is True or not here else media.model_copy(update={"present": False})
            for media in self._found.values()
        )

    def notes(self) -> tuple[Note, ...]:
        """What was assumed of the files."""
        said = [Note(text=text) for text in self._faults]
        if any(media.present is True for media in self._found.values()):
            text = "The files beside the list were taken for what its channels play, before processors and faders."
            said.append(Note(text=text))
        return tuple(said)


def _place(path: str) -> str:
    outside = path.startswith("/") or path[1:2] == ":" or ".." in path.split("/")
    return "outside" if outside else "beside"
