"""Which sessions git says have changed since a revision: the session itself, or what its review rests on beside it."""

from __future__ import annotations

import os
import subprocess
import unicodedata
from collections.abc import Sequence
from fnmatch import fnmatchcase
from glob import escape
from pathlib import Path
from typing import TYPE_CHECKING, Final

from mixlint.errors import InputError, MixlintError
from mixlint.plain_files import program

if TYPE_CHECKING:
    from mixlint.rulebook import Standard
    from mixlint.session import Session

PATIENCE_S: Final = 120.0
"""How long git may take, seconds."""
_OF_ANOTHER: Final = (
    "GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX", "GIT_COMMON_DIR", "GIT_NAMESPACE",
    "GIT_OBJECT_DIRECTORY", "GIT_ALTERNATE_OBJECT_DIRECTORIES",
)  # fmt: skip
"""What git tells the programs that it runs of its own repository, which need not be that of a session."""


def changed_since(revision: str, sessions: Sequence[Path], standard: str | None) -> list[Path]:
    """The sessions of which something changed since a revision, uncommitted and untracked files counted.

    What counts is the session's own file or folder, the audio and the saved settings that it names, audio beside it
    that may be its print, its sign-offs and its approval, and its standard with all the files that this lists. Where it
    cannot be told whether a change concerns a session, it does. Files that git ignores are none that it tells of.

    Args:
        revision: a commit, or what git takes for one.
        sessions: the sessions.
        standard: the standard as it was named; None for the one beside each session.

    Raises:
        InputError: there is no git, a session lies in no repository of it, or it knows no such revision.
    """
    if not revision or revision.startswith("-") or "\0" in revision:
        raise InputError(
            f"{revision!r} is no revision", do="name a commit, a tag or a branch, such as --changed-since main"
        )
    changes: dict[Path, _Changes] = {}
    tops: dict[Path, Path] = {}
    found = []
    for session in sessions:
        here = session.resolve()
        folder = here if here.is_dir() else here.parent
        if folder not in tops:
            tops[folder] = _top(folder, session)
        top = tops[folder]
        if top not in changes:
            changes[top] = _Changes(top, revision, standard)
        if changes[top].concern(session):
            found.append(session)
    return found


class _Changes:
    """What changed in one repository."""

    def __init__(self, top: Path, revision: str, standard: str | None) -> None:
        commit = _git(top, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}")
        if commit is None:
            raise InputError(
                f"git knows no revision {revision!r} here",
                where=str(top),
                do="name a commit, a tag or a branch that was fetched; a shallow clone has few of them",
            )
        self._standard = standard
        told = _git(top, "diff", "--name-only", "-z", "--no-ext-diff", "--no-renames", commit.decode().strip(), "--")
        untracked = _git(top, "ls-files", "-z", "--others", "--exclude-standard")
        if told is None or untracked is None:
            raise InputError("git does not tell what changed", where=str(top), do="see what git diff says")
        names = [os.fsdecode(name) for name in (told + untracked).split(b"\0") if name]
        self._files = {_folded(top / name) for name in names}
        self._tomls = [one for one in self._files if one.endswith(".toml")]
        self._standards: dict[Path, bool] = {}

    def concern(self, session: Path) -> bool:
        """Whether any of it is a session's."""
        if not self._files:
            return False
        places = {_folded(one) for one in (session.resolve(), session.parent.resolve() / session.name)}
        if any(one in self._files for one in places) or self._records(session):
            return True
        if any(_within(one, place) for one in self._files for place in places):
            return True
        return self._of_standard(session) or self._named(session)

    def _records(self, session: Path) -> bool:
        """Its sign-offs, its approval, the sign-offs of its project, a standard beside or above it."""
        from mixlint.comparison.paths import APPROVED
        from mixlint.rulebook.standard import BESIDE
        from mixlint.signoffs.paths import ENDING, PROJECT

        here = session.resolve()
        own = {here.name, here.stem, f"{here.name}.stems", session.name, session.stem}
        near = [here.with_name(stem + ending) for stem in own for ending in (ENDING, APPROVED)]
        above = [*(here / BESIDE for _ in range(here.is_dir()))]
        above += [folder / name for folder in here.parents for name in (PROJECT, BESIDE)]
        return any(_folded(one) in self._files for one in (*near, *above))

    def _of_standard(self, session: Path) -> bool:
        """The standard in force, and whatever lies below it and may be a part of it."""
        if not self._tomls and self._standard is None:
            return False
        from mixlint.rulebook import find_standard, load_standard

        try:
            place = find_standard(self._standard, session)
            if place not in self._standards:
                standard = load_standard(self._standard, session)
                files = any(_folded(Path(one).resolve()) in self._files for one in standard.files())
                self._standards[place] = files or self._listed(standard)
        except (MixlintError, OSError):
            return True  # it is reviewed, and what is wrong is told
        return self._standards[place]

    def _listed(self, standard: Standard) -> bool:
        """A rule or word file that the standard lists, or listed while it was there."""
        for link in standard.chain:
            base = str(link.path.resolve().parent)
            for pattern in (*link.file.rules, *link.file.words):
                whole = os.path.normpath(os.path.join(escape(base), pattern.replace("\\", "/")))
                meant = _fold(whole).replace(f"**{os.sep}", "*")
                if any(fnmatchcase(one, meant) for one in self._tomls):
                    return True
        return False

    def _named(self, session: Path) -> bool:
        """A file in the session's folder or below that it plays or keeps settings in, or that may be its print."""
        from mixlint.media.zip_directory import is_audio_name

        here = session.resolve()
        if here.is_dir():
            return False
        folder = _folded(here.parent)
        near = [one for one in self._files if _within(one, folder)]
        if any(Path(one).parent == Path(folder) and is_audio_name(one) for one in near):
            return True
        if not near:
            return False
        from mixlint.importers import read

        try:
            named = _files_of(read(session))
        except (MixlintError, OSError):
            return True
        return any(one.rpartition("/")[2] in named for one in (near_one.replace(os.sep, "/") for near_one in near))


def _files_of(session: Session) -> set[str]:
    """The names of the files that a session names, capitals and the encoding of accents aside."""
    from urllib.parse import unquote

    paths = [media.path for media in session.media if media.path]
    for channel in session.channels:
        inserts = channel.inserts if isinstance(channel.inserts, tuple) else ()
        paths += [insert.saved.path for insert in inserts if insert.saved is not None]
    found = set()
    for path in paths:
        for one in (path, unquote(path)):
            found.add(_fold(one.replace("\\", "/").rpartition("/")[2]))
    return found


def _fold(text: str) -> str:
    return unicodedata.normalize("NFC", text).casefold()


def _folded(path: Path) -> str:
    """A path as it is compared: git and the system may tell capitals and accents differently."""
    return _fold(str(path))


def _within(path: str, folder: str) -> bool:
    return path.startswith(folder.rstrip(os.sep) + os.sep)


def _top(folder: Path, session: Path) -> Path:
    found = _git(folder, "rev-parse", "--show-toplevel")
    if found is None:
        raise InputError(
            "it lies in no git repository, so that nothing tells whether it changed",
            where=str(session),
            do="leave --changed-since away",
        )
    return Path(os.fsdecode(found.removesuffix(b"\n")))


def _git(folder: Path, *command: str) -> bytes | None:
    """What git says; None where it says that it cannot.

    Raises:
        InputError: there is none, or it takes too long.
    """
    tool = program("git")
    if tool is None:
        raise InputError("there is no git on the path", do="install it, or leave --changed-since away")
    given = {name: value for name, value in os.environ.items() if name not in _OF_ANOTHER}
    try:
        done = subprocess.run(
            [tool, "-c", "core.fsmonitor=false", "-c", "core.quotePath=false", "-C", str(folder), *command],
            stdin=subprocess.DEVNULL,
            capture_output=True,
            timeout=PATIENCE_S,
            check=False,
            env={**given, "GIT_OPTIONAL_LOCKS": "0", "GIT_TERMINAL_PROMPT": "0"},
        )
    except (OSError, subprocess.SubprocessError) as fault:
        raise InputError(f"git cannot be used: {fault}", where=tool, do="check how it is installed") from fault
    return done.stdout if done.returncode == 0 else None
