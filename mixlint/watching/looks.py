"""What a review hangs on, as it lies on the disk: a look at all of it, to be held against another.

A file is told by its name, place on the disk, size and times, as the system keeps them. Nothing is read, so that a look
costs a millisecond, and a session that is written to just now is not in the way of its writer.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from datetime import date
from pathlib import Path
from typing import Final, NamedTuple

from mixlint.errors import MixlintError

Stamp = tuple[int, ...]
"""What the system tells of a file, times in nanoseconds; empty where there is none."""
Stamps = tuple[tuple[str, Stamp], ...]
"""Files by their paths, each with its stamp."""

MOST_ENTRIES: Final = 20_000
"""So many names of a folder are looked at: a bound of work, and not of what is reviewed."""
DEEPEST: Final = 4
"""So many folders deep word and rule files are looked for below a standard: a bound of work."""


class Look(NamedTuple):
    """All that a review hangs on.

    Args:
        session: the session's own files.
        audio: what it plays, its prints, and those beside it.
        standard: the standard in force with its rules and words, and where one would be found.
        signed: sign-offs and the approval.
        day: the day, which ends sign-offs.
    """

    session: Stamps
    audio: Stamps
    standard: Stamps
    signed: Stamps
    day: date

    def other(self, before: Look) -> tuple[str, ...]:
        """The names of what is not as it was, in the order above."""
        return tuple(name for name, now, was in zip(self._fields, self, before, strict=True) if now != was)

    def same_as_far_as_told(self, before: Look) -> bool:
        """Nothing that both tell of is another, whatever one of them tells besides."""
        for now, was in zip(self[:4], before[:4], strict=True):
            known = dict(was)
            if any(known.get(path, stamp) != stamp for path, stamp in now):
                return False
        return self.day == before.day

    @property
    def there(self) -> bool:
        """Anything of the session is there."""
        return any(stamp for _, stamp in self.session) or any(stamp for _, stamp in self.audio)

    @property
    def empty(self) -> bool:
        """The session is one file, and nothing has been written to it yet."""
        return len(self.session) == 1 and bool(self.session[0][1]) and self.session[0][1][2] == 0

    def folders(self) -> frozenset[Path]:
        """The folders in which something would have to change, as far as they are there."""
        paths = [Path(path) for stamps in self[:4] for path, stamp in stamps if stamp]
        near = {path.parent for path in paths} | {path.parent.parent for path in paths[:1]}
        return frozenset(folder for folder in near if folder.is_dir())


class Known(NamedTuple):
    """What an earlier review has found that the session hangs on, besides what is found by looking.

    Args:
        audio: the files it plays, whether or not they are there.
        standard: the files of the standard in force.
    """

    audio: tuple[str, ...] = ()
    standard: tuple[str, ...] = ()


class Looker:
    """Looks at one session and all it hangs on.

    Args:
        path: the session as it was named: a file, or a folder.
        standard: the standard as it was named.
        printed: the print of the mix that was named.
    """

    def __init__(self, path: Path, standard: str | None, printed: Path | None) -> None:
        self._path, self._standard, self._printed = path, standard, printed

    def look(self, session: Path, known: Known) -> Look:
        """All of it, as it is now.

        Args:
            session: the session that the path stood for last.
            known: what the last review found.
        """
        own, heard = _folder(self._path) if self._path.is_dir() else ([self._path], [])
        place = session.absolute()
        heard += [Path(one) for one in known.audio]
        if not place.is_dir():
            heard += _audio_in(place.parent)
        if self._printed is not None:
            heard.append(self._printed)
        above = place.resolve().parents
        return Look(
            _stamps(own),
            _stamps(heard),
            _stamps([*self._of_standard(place), *map(Path, known.standard)]),
            _stamps(_records(place, above)),
            date.today(),
        )

    def _of_standard(self, session: Path) -> list[Path]:
        from mixlint import resources
        from mixlint.rulebook import find_standard
        from mixlint.rulebook.standard import BESIDE

        found: list[Path] = []
        if self._standard is None:
            start = session.resolve()
            found += [folder / BESIDE for folder in (start, *start.parents)]
        try:
            path = find_standard(self._standard, session)
        except (MixlintError, OSError):
            return found if self._standard is None else [Path(self._standard), *found]
        if not path.is_relative_to(resources.folder("rules")):
            found += [path, *_toml_below(path.absolute().parent, DEEPEST, [MOST_ENTRIES])]
        return found


def _folder(top: Path) -> tuple[list[Path], list[Path]]:
    """The files in a folder that are, or may be, sessions, and its audio."""
    from mixlint.comparison.paths import APPROVED
    from mixlint.importers.entry import is_list
    from mixlint.importers.registry import importer_for, importers_sharing
    from mixlint.media.zip_directory import is_audio_name, is_junk

    own: list[Path] = []
    heard: list[Path] = []
    left = MOST_ENTRIES
    for folder, inner, files in os.walk(top):
        inner[:] = sorted(one for one in inner if not one.startswith(".") and not is_junk(one))
        left -= len(files) + len(inner)
        for name in files:
            file = Path(folder, name)
            if is_junk(name) or name.startswith(".") or name.endswith(APPROVED):
                continue
            if is_audio_name(name):
                heard.append(file)
            elif file.suffix.lower() == ".zip" or is_list(file) or importers_sharing(file) or importer_for(file, b""):
                own.append(file)
        if left < 0:
            break
    return own, heard


def _audio_in(folder: Path) -> list[Path]:
    """The audio files in a folder, one of which may be the print of the mix."""
    from mixlint.importers.prints import MOST_BESIDE
    from mixlint.media.zip_directory import is_audio_name

    found = [one for one in _names(folder) if is_audio_name(one)]
    return [] if len(found) > MOST_BESIDE else [folder / one for one in found]


def _records(session: Path, above: Iterable[Path]) -> list[Path]:
    """Where sign-offs and an approval may lie, whichever of two names they bear."""
    from mixlint.comparison.paths import APPROVED
    from mixlint.signoffs.paths import ENDING, PROJECT

    stems = (session.name, f"{session.name}.stems") if session.is_dir() else (session.stem, session.name)
    own = [session.with_name(stem + ending) for stem in stems for ending in (ENDING, APPROVED)]
    return [*own, *(folder / PROJECT for folder in above)]


def _toml_below(folder: Path, deep: int, left: list[int]) -> Iterator[Path]:
    for name in sorted(_names(folder)):
        left[0] -= 1
        if left[0] < 0:
            return
        path = folder / name
        if name.endswith(".toml"):
            yield path
        elif deep and not name.startswith(".") and path.is_dir() and not path.is_symlink():
            yield from _toml_below(path, deep - 1, left)


def _names(folder: Path) -> list[str]:
    try:
        with os.scandir(folder) as entries:
            return [one.name for one, _ in zip(entries, range(MOST_ENTRIES), strict=False)]
    except OSError:
        return []


def _stamps(paths: Iterable[Path]) -> Stamps:
    return tuple((path, _stamp(path)) for path in sorted({os.path.abspath(one) for one in paths}))


def _stamp(path: str) -> Stamp:
    try:
        found = os.stat(path)
    except (OSError, ValueError):
        return ()
    return (found.st_dev, found.st_ino, found.st_size, found.st_mtime_ns, found.st_ctime_ns)
