"""The print of the mix that was named for a review, or that lies beside the session under its name."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal

from mixlint.errors import InputError

if TYPE_CHECKING:
    from mixlint.session import MediaFile, Session

MOST_BESIDE: Final = 200
"""Of a folder with more audio files than this beside the session none is looked at: those are its recordings."""


def prints_for(
    session: Session, path: Path, printed: Path | None
) -> list[tuple[MediaFile, Literal["named", "beside"], Path]]:
    """The prints of the mix outside the session: each file, how it is known, and where it lies.

    Beside a session file a print is known by its name: words for the mix and of the session's own name, and nothing
    else. Of several versions the one with the highest number counts.

    Args:
        session: the session as read.
        path: its file, or the folder of its stems.
        printed: the file that was named for the review.
    """
    from mixlint.session import MediaFile

    if printed is not None:
        place = printed.resolve()
        inside = next((m for m in session.media if _lies_at(path, m.path, place)), None)
        media = inside or MediaFile(id=f"print:{printed.name}", path=str(printed), place="outside", present=True)
        return [(media, "named", place)]
    if path.is_dir():
        return []
    return [
        (MediaFile(id=f"print:{file.name}", path=file.name, place="beside", present=True), "beside", file.resolve())
        for file in _beside(session, path)
    ]


def check_print(printed: Path, *, audio: bool) -> None:
    """See that a print that was named is there and is an audio file.

    Args:
        printed: the file.
        audio: audio is opened, so that the file can be looked into.

    Raises:
        InputError: it cannot be used.
    """
    from mixlint.media.zip_directory import is_audio_name

    if not printed.is_file():
        raise InputError("there is no such file", where=str(printed), do="name the audio file of the mix")
    if not is_audio_name(printed.name):
        raise InputError("this is no audio file", where=str(printed), do="name the audio file of the mix")
    if audio:
        from mixlint.media import read_header

        with open(printed, "rb") as file:
            read_header(file, name=str(printed))


def _lies_at(path: Path, member: str, place: Path) -> bool:
    top = path if path.is_dir() else path.parent
    return (top / member).resolve() == place


def _beside(session: Session, path: Path) -> list[Path]:
    from mixlint.media.zip_directory import is_audio_name, is_junk
    from mixlint.naming.fold import as_read
    from mixlint.naming.stem_names import read_stem_names

    listed = {media.path.replace("\\", "/").rpartition("/")[2] for media in session.media}
    try:
        with os.scandir(path.parent) as entries:
            names = sorted(
                one.name
                for one in entries
                if is_audio_name(one.name) and not is_junk(one.name) and one.name not in listed and one.is_file()
            )
    except OSError:
        return []  # the folder cannot be listed: nothing beside the session is known
    if len(names) > MOST_BESIDE:
        return []
    title = path.name.partition(".")[0] + " " + session.title
    found = [(said.version, name) for name in names if (said := read_stem_names([name], title)[name]).kind == "mix"]
    if _has_company(path):  # of several sessions in one folder a mix belongs to the one it is named after
        own = frozenset(as_read(title).split())
        found = [(version, name) for version, name in found if own & frozenset(as_read(name).split())]
    highest = max((version for version, _ in found), default=0)
    newest = [name for version, name in found if version == highest]
    return [path.parent / newest[0]] if len(newest) == 1 else []


def _has_company(path: Path) -> bool:
    """True where another file of the session's form lies beside it."""
    return any(one.is_file() and not one.samefile(path) for one in path.parent.glob(f"*{path.suffix}"))
