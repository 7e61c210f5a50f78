"""Where a session and its audio lie: a ZIP archive, a compound file, a folder, or a file with what lies beside it.

Nothing is ever extracted, and no name leads out of the container.
"""

from __future__ import annotations

import io
import os
from abc import ABC, abstractmethod
from pathlib import Path
from typing import BinaryIO, Self, cast

from mixlint.errors import BrokenFile, InputError, RefusedFile
from mixlint.media.compound import MAGIC, Compound, Stream, StreamReader
from mixlint.media.disk_names import as_text, on_disk
from mixlint.media.window import MemberReader
from mixlint.media.zip_directory import Limits, clean_name, is_archive, is_junk, read_directory

__all__ = ["Container", "Limits", "open_container"]


class Container(ABC):
    """Named members that can be read but never written.

    Args:
        path: the file or folder it stands for.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.remarks: tuple[str, ...] = ()

    def __enter__(self) -> Self:
        """The container itself."""
        return self

    def __exit__(self, *_: object) -> None:
        """Close it."""
        self.close()

    @abstractmethod
    def names(self) -> tuple[str, ...]:
        """The members' names, relative, with forward slashes, in the order they stand."""

    @abstractmethod
    def has(self, name: str) -> bool:
        """True when ``name`` is a member that may be opened."""

    @abstractmethod
    def size(self, name: str) -> int:
        """The member's size in bytes, unpacked.

        Raises:
            InputError: there is no such member, or its name leads out of the container.
        """

    @abstractmethod
    def open(self, name: str, *, hold: bool = False) -> BinaryIO:
        """A seekable reader over the member.

        Args:
            name: the member.
            hold: keep a fault met while reading in the reader's ``failure`` and end the data there, instead of
                raising; for C libraries that call back into the reader.

        Raises:
            InputError: there is no such member, or its name leads out of the container.
        """

    def close(self) -> None:
        """Let go of the file."""
        return

    def read(self, name: str, limit: int) -> bytes:
        """The whole member.

        Args:
            name: the member.
            limit: the most bytes it may have.

        Raises:
            RefusedFile: it is larger than ``limit``.
            BrokenFile: it is damaged.
        """
        size = self.size(name)
        if size > limit:
            raise RefusedFile(
                f"it holds {size} bytes, more than the {limit} that are read",
                where=self.place(name),
                do="export a smaller session, or split it",
            )
        with self.open(name) as reader:
            return reader.read(size)

    def place(self, name: str) -> str:
        """How messages name a member."""
        return f"{self.path}!{name}"

    def _missing(self, name: str) -> InputError:
        return InputError(f"there is no {name!r} in it", where=str(self.path), do="check the name")


class ZipContainer(Container):
    """A ZIP archive, checked whole before anything in it is read."""

    def __init__(self, path: Path, limits: Limits) -> None:
        super().__init__(path)
        try:
            with path.open("rb") as file:
                self._members, self.remarks = read_directory(file, str(path), limits)
        except OSError as fault:
            raise _unreadable(path, fault) from None

    def names(self) -> tuple[str, ...]:
        """The members' names, junk left out."""
        return tuple(self._members)

    def has(self, name: str) -> bool:
        """True when the archive holds ``name``."""
        return name in self._members

    def size(self, name: str) -> int:
        """The size the directory gives; reading checks it."""
        if name not in self._members:
            raise self._missing(name)
        return self._members[name].size

    def open(self, name: str, *, hold: bool = False) -> BinaryIO:
        """A seekable window on the member, with its own handle on the archive."""
        if name not in self._members:
            raise self._missing(name)
        reader = MemberReader(self.path.open("rb"), self._members[name], self.place(name), hold=hold)
        return cast(BinaryIO, reader)


class PlainContainer(Container):
    """A folder, or a single file with what lies beside it.

    Args:
        path: the folder or the file.
        limits: how many files a folder may hold.
    """

    def __init__(self, path: Path, limits: Limits) -> None:
        super().__init__(path)
        self._limits = limits
        self._single = not path.is_dir()
        self._root = (path.parent if self._single else path).resolve()

    def names(self) -> tuple[str, ...]:
        """The single file's name, or every regular file in the folder, sorted; links that lead out are left out."""
        if self._single:
            return (self.path.name,)
        found: list[str] = []
        for folder, inner, files in os.walk(self._root):
            inner[:] = sorted(one for one in inner if not one.startswith(".") and not is_junk(one))
            for file in sorted(files):
                name = as_text((Path(folder) / file).relative_to(self._root).as_posix())
                if not is_junk(name) and self.has(name):
                    found.append(name)
            if len(found) > self._limits.members:
                raise RefusedFile(
                    f"the folder holds more than {self._limits.members} files",
                    where=str(self.path),
                    do="name the session's own folder",
                )
        return tuple(found)

    def _resolve(self, name: str) -> Path | None:
        clean = clean_name(name)
        if self._single and name == self.path.name:
            return self.path.resolve()  # the reader named it, wherever a link leads
        if clean is None:
            return None
        try:
            full = on_disk(self._root, clean).resolve()
        except (OSError, ValueError, RuntimeError):
            return None
        return full if full.is_relative_to(self._root) else None

    def leads_out(self, name: str) -> bool:
        """True when something of this name is there, but only a link that leads out of the folder gets to it."""
        clean = clean_name(name)
        if clean is None or self._resolve(name) is not None:
            return False
        try:
            return on_disk(self._root, clean).exists()
        except (OSError, ValueError):
            return False

    def _file(self, name: str) -> Path:
        full = self._resolve(name)
        if full is None:
            raise RefusedFile(
                f"{name!r} leads out of the session's folder and is not opened",
                where=str(self.path),
                do="copy the file into the session's folder and export again",
            )
        if not full.is_file():
            raise self._missing(name)
        return full

    def has(self, name: str) -> bool:
        """True when the file is there and lies inside the folder."""
        full = self._resolve(name)
        try:
            return full is not None and full.is_file()
        except OSError:
            return False

    def size(self, name: str) -> int:
        """The file's size."""
        return self._file(name).stat().st_size

    def open(self, name: str, *, hold: bool = False) -> BinaryIO:  # noqa: ARG002 - plain files need no holding
        """The file, opened for reading."""
        full = self._file(name)
        try:
            return full.open("rb")
        except OSError as fault:
            raise _unreadable(full, fault) from None

    def place(self, name: str) -> str:
        """The path a reader would type."""
        return str((self.path.parent if self._single else self.path) / name)


class CompoundContainer(Container):
    """A compound file (:mod:`mixlint.media.compound`): its streams, and the file itself by its name.

    Streams are named as :func:`mixlint.media.compound.member_name` writes it. The directory is read when one is first
    asked for, so that a damaged file is the business of whoever reads it.
    """

    def __init__(self, path: Path) -> None:
        super().__init__(path)
        self._found: Compound | None = None
        self._streams: dict[str, Stream | None] = {}

    def names(self) -> tuple[str, ...]:
        """The file's own name: its streams are asked for by the names that a session gives."""
        return (self.path.name,)

    def _stream(self, name: str) -> Stream | None:
        if name not in self._streams:
            try:
                with self.path.open("rb") as file:
                    self._found = (self._found or Compound(file, str(self.path))).over(file)
                    self._streams[name] = self._found.stream(name)
            except OSError as fault:
                raise _unreadable(self.path, fault) from None
        return self._streams[name]

    def has(self, name: str) -> bool:
        """True when the file holds the stream."""
        return name == self.path.name or self._stream(name) is not None

    def size(self, name: str) -> int:
        """The size the directory gives."""
        if name == self.path.name:
            return self.path.stat().st_size
        if (stream := self._stream(name)) is None:
            raise self._missing(name)
        return len(stream.head) + stream.size

    def open(self, name: str, *, hold: bool = False) -> BinaryIO:  # noqa: ARG002 - a stream is not checked while read
        """A seekable window on the stream, with its own handle on the file."""
        stream = None if name == self.path.name else self._stream(name)
        if stream is None and name != self.path.name:
            raise self._missing(name)
        try:
            file = self.path.open("rb")
        except OSError as fault:
            raise _unreadable(self.path, fault) from None
        return file if stream is None else cast(BinaryIO, StreamReader(file, stream))

    def place(self, name: str) -> str:
        """The file, and what the stream is called."""
        return str(self.path) if name == self.path.name else f"{self.path}!{name.rpartition('/')[2]}"


def open_container(path: Path, limits: Limits | None = None, *, packed: bool = False) -> Container:
    """Open what a session lies in: a ZIP archive, a compound file, a folder, or a file and what lies beside it.

    A ZIP archive and a compound file are known by their bytes, whatever their names.

    Args:
        path: the file or folder.
        limits: what it may hold; the usual limits when left out.
        packed: the file has to be a ZIP archive, since its form is a packed one; any other file is a damaged one.

    Raises:
        InputError: it is missing or cannot be read.
        BrokenFile: a ZIP archive is damaged.
        RefusedFile: a ZIP archive passes a limit or uses a forbidden construct.
    """
    limits = limits or Limits()
    if path.is_dir():
        return PlainContainer(path, limits)
    if path.exists() and not path.is_file():
        raise InputError("this is no regular file", where=str(path), do="name a file or a folder")
    try:
        with path.open("rb") as file:
            size = file.seek(0, io.SEEK_END)
            file.seek(0)
            compound = not packed and file.read(len(MAGIC)) == MAGIC
            packed = packed or (not compound and is_archive(file))
    except OSError as fault:
        raise _unreadable(path, fault) from None
    if packed and size == 0:
        raise BrokenFile("the file is empty", where=str(path), do="copy or export the file again")
    if compound:
        return CompoundContainer(path)
    return ZipContainer(path, limits) if packed else PlainContainer(path, limits)


def _unreadable(path: Path, fault: OSError) -> InputError:
    if isinstance(fault, FileNotFoundError):
        return InputError("there is no such file or folder", where=str(path), do="check the path")
    return InputError(
        f"it cannot be read ({fault.strerror or fault})", where=str(path), do="check the path and its permissions"
    )
