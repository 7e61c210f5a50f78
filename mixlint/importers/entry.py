"""From a path to a session: which form it is, which sessions a folder holds, and a digest of what was read."""

from __future__ import annotations

import gc
import hashlib
import os
from collections.abc import Iterator
from contextlib import contextmanager
from os import PathLike
from pathlib import Path
from typing import Final

from mixlint.errors import InputError, NotASession, RefusedFile
from mixlint.extensions import faults
from mixlint.importers.bounds import bounded
from mixlint.importers.registry import (
    HEAD,
    LIST,
    STEMS,
    all_titles,
    importer_for,
    importer_of_archive,
    importers_sharing,
    keeps,
)
from mixlint.importers.stem_sets import sets_of
from mixlint.media.container import open_container
from mixlint.media.disk_names import as_text, on_disk
from mixlint.media.zip_directory import is_audio_name, is_junk
from mixlint.naming.vocabulary import SHIPPED, Vocabulary
from mixlint.session import Session

_EDGE_BYTES: Final = 1 << 16
LEAST_DESCRIBED: Final = 0.5
"""A list that names a smaller share of a set of stems describes something else. No setting: it decides no verdict."""

MAX_FILES: Final = 200_000


def read(path: str | PathLike[str], words: Vocabulary = SHIPPED) -> Session:
    """Read a session file, a folder with one session in it, or a folder of stems.

    Nothing is extracted or written, and nothing outside the session's folder is opened. What the file does not show is
    an :class:`mixlint.session.Unknown` in the place of a value; what was assumed or lost is told in ``notes``, also
    where a name is too long to be one, and cut (:mod:`mixlint.importers.bounds`).

    Args:
        path: the file or folder.
        words: the words of the house, for forms that a person writes.

    Returns:
        The session in the neutral form: channels in desk order, times in seconds, levels in dB, pans −100 … +100.

    Raises:
        NotASession: there is no session mixlint knows.
        BrokenFile: it is damaged.
        RefusedFile: it is refused for safety.
        InputError: it is missing or cannot be read.
    """
    path = Path(path)
    if path.is_dir():
        found = discover(path)
        if path in found:
            return bounded(STEMS.read(path))
        if len(found) > 1:
            raise InputError(f"the folder holds {len(found)} sessions", where=str(path), do="name one of them")
        path = found[0]
    head = _head(path)
    importer = importer_for(path, head)
    if importer is None:
        from mixlint.importers.near_misses import known_by_content

        members = _members(path, head)
        importer = importer_of_archive(members or ())
        if importer is None and known_by_content(head) is None:
            importer = next(iter(importers_sharing(path)), None)
        if importer is None:
            raise _unknown_kind(path, head, members)
    with _collector_at_rest():
        return bounded(importer.read(path, words))


@contextmanager
def _collector_at_rest() -> Iterator[None]:
    """Reading makes very many objects that all stay; looking for cycles among them again and again only costs time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def discover(path: Path) -> list[Path]:
    """The sessions a path means, sorted: the file itself, the session files in a folder, or the folders of stems in it.

    Where there are no session files, archives that hold a project are taken (beside one they are copies of it); where
    there are none either, each set of stems (:mod:`mixlint.importers.stem_sets`) is one, by its folder.

    Raises:
        NotASession: the folder holds neither sessions nor audio.
        InputError: the path does not exist.
    """
    if not path.is_dir():
        if not path.exists():
            raise _missing(path)
        return [path]
    found: list[Path] = []
    audio: list[str] = []
    archives: list[Path] = []
    count = 0
    for folder, inner, files in os.walk(path):
        inner[:] = sorted(one for one in inner if not one.startswith(".") and not is_junk(one))
        count += len(files)
        if count > MAX_FILES:
            raise RefusedFile(
                f"the folder holds more than {MAX_FILES} files", where=str(path), do="name the folder of the sessions"
            )
        for name in sorted(files):
            file = Path(folder) / name
            if is_junk(name):
                continue
            if is_audio_name(name):
                audio.append(as_text(file.relative_to(path).as_posix()))
            elif is_session_file(file):
                found.append(file)
            elif file.suffix.lower() == ".zip":
                archives.append(file)
    lists = [file for file in found if is_list(file)]
    if len(lists) < len(found):  # a list beside sessions is about them
        return [file for file in found if file not in lists]
    if lists and not audio:
        return lists
    if not lists and (archived := [file for file in archives if _holds_session(file)]):
        return archived
    if audio:
        return _described(path, sets_of(audio), lists)
    raise NotASession(
        "the folder holds no session and no audio files",
        where=str(path),
        do="name a session file, or a folder with session files or stems in it",
    )


def _described(path: Path, sets: dict[str, tuple[str, ...]], lists: list[Path]) -> list[Path]:
    """The sets of stems in a folder, each by the list that describes it where there is one, else by its folder.

    A list belongs to the set of the folder that it lies in when it names half of its files or more, by path or by the
    name of a channel; any other list beside audio is passed over.
    """
    found: list[Path] = []
    for folder, files in sets.items():
        home = on_disk(path, folder) if folder else path
        own = []
        for one in lists:
            if one.parent == home:
                there = sum(media.present is True for media in LIST.read(one).media)
                if there >= LEAST_DESCRIBED * len(files):
                    own.append(one)
        found += own or [home]
    return found


def is_list(file: Path) -> bool:
    """True for a file whose suffix is one of lists of channels."""
    return file.suffix.lower() in LIST.shared_suffixes


def is_session_file(file: Path) -> bool:
    """True for a file of a form that is read, by its name or its first bytes."""
    if not file.is_file():
        return False
    head = _head(file) if importers_sharing(file) else b""
    return importer_for(file, head) is not None


def _holds_session(file: Path) -> bool:
    """Whether an archive under any name holds a session; one that is damaged or refused holds none."""
    try:
        return file.is_file() and importer_of_archive(_members(file, _head(file)) or ()) is not None
    except InputError:
        return False


def _members(path: Path, head: bytes) -> tuple[str, ...] | None:
    """The names in a ZIP archive; None for a file of another kind.

    Raises:
        BrokenFile: the archive is damaged.
        RefusedFile: it is refused for safety.
    """
    if not head.startswith(b"PK"):
        return None
    with open_container(path) as container:
        return container.names()


def what_it_keeps(path: Path) -> str:
    """What a user would lose if a file were written over: ``a session``, ``a recording``, or nothing.

    Args:
        path: the file, known by its name or by its first bytes; it may be missing.

    Raises:
        InputError: it cannot be read, so that nothing is known of it.
    """
    kept = keeps(path, _head(path) if path.is_file() else b"")
    return kept or ("a session" if _holds_session(path) else "")


def digest(path: Path) -> str:
    """``sha256:…`` of what was read.

    Of a file, its bytes. Of a folder of stems, its audio files' names, sizes and first and last 64 KiB, so that
    gigabytes need not be read twice.

    Raises:
        InputError: it cannot be read.
    """
    total = hashlib.sha256()
    try:
        if path.is_dir():
            found = discover(path)
            if path not in found:
                for one in found:
                    total.update(digest(one).encode())
                return f"sha256:{total.hexdigest()}"
            for file in _of_set(path):
                size = file.stat().st_size
                total.update(f"{file.relative_to(path).as_posix()}\0{size}\0".encode("utf-8", "surrogateescape"))
                with file.open("rb") as stream:
                    total.update(stream.read(_EDGE_BYTES))
                    stream.seek(max(0, size - _EDGE_BYTES))
                    total.update(stream.read(_EDGE_BYTES))
        else:
            _regular(path)
            with path.open("rb") as stream:
                while chunk := stream.read(1 << 20):
                    total.update(chunk)
    except OSError as fault:
        raise _unreadable(path, fault) from None
    return f"sha256:{total.hexdigest()}"


def _of_set(path: Path) -> list[Path]:
    """The audio files of the set of stems whose folder this is."""
    with open_container(path) as container:
        return [on_disk(path, name) for name in sets_of(container.names()).get("", ())]


def _head(path: Path) -> bytes:
    _regular(path)
    try:
        with path.open("rb") as stream:
            return stream.read(HEAD)
    except OSError as fault:
        raise _unreadable(path, fault) from None


def _regular(path: Path) -> None:
    """A pipe or a device could keep a reader waiting for ever."""
    if path.exists() and not path.is_file():
        raise InputError("this is no regular file", where=str(path), do="name a file or a folder")


def _missing(path: Path) -> InputError:
    return InputError("there is no such file or folder", where=str(path), do="check the path")


def _unreadable(path: Path, fault: OSError) -> InputError:
    if isinstance(fault, FileNotFoundError):
        return _missing(path)
    return InputError(
        f"it cannot be read ({fault.strerror or fault})", where=str(path), do="check the path and its permissions"
    )


def _unknown_kind(path: Path, head: bytes, members: tuple[str, ...] | None) -> NotASession:
    if is_audio_name(path.name):
        return NotASession(
            "this is one audio file, not a session",
            where=str(path),
            do="name the folder it lies in to read it as stems",
        )
    from mixlint.importers.near_misses import near_miss

    near = near_miss(path, head, members)
    failed = [str(one) for one in faults() if one.origin.group == "mixlint.importers"]
    return NotASession(
        (near.what if near else "this kind of file is not read")
        + "".join(f"; an installed form cannot be used: {one}" for one in failed),
        where=str(path),
        do=near.do if near else f"give {all_titles()}",
    )
