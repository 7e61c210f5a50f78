"""A session opened for its facts: its audio, the prints of its mix, and the house that it is read in."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mixlint.analysis.context import SessionContext
    from mixlint.analysis.house import House
    from mixlint.analysis.sound_memory import SoundMemory
    from mixlint.comparison import Approval
    from mixlint.session import Session


@contextmanager
def context_for(
    session: Session,
    path: Path | None,
    house: House,
    *,
    audio: bool,
    approved: Approval | None = None,
    printed: Path | None = None,
    workers: int = 0,
    memory: SoundMemory | None = None,
) -> Iterator[SessionContext]:
    """The context of one session, with its audio unless it is not to be opened; files are closed at the end.

    Args:
        session: the session as read, or as built.
        path: its file, or the folder of its stems; None for one that was built and lies nowhere, which has no audio.
        house: the settings of the standard in force.
        audio: open the audio.
        approved: the mix that was approved last.
        printed: the print of the mix that was named; else one beside the session is looked for.
        workers: processes that measure audio; 0 measures in this one (:mod:`mixlint.media.workers`).
        memory: what was worked out of sound in earlier reviews, to be used and added to.
    """
    from mixlint.analysis.context import SessionContext

    if path is None:
        yield SessionContext(session, house, approved=approved)
        return
    from mixlint.importers.prints import prints_for

    prints = prints_for(session, path, printed)
    known = tuple((media, how) for media, how, _ in prints)
    if not audio:
        yield SessionContext(session, house, approved=approved, prints=known)
        return
    from mixlint.media import Library
    from mixlint.media.cache_folder import cache_folder

    named = {media.id: place for media, _, place in prints}
    with Library(session, path, cache_dir=cache_folder(), workers=workers, named=named) as library:
        if memory is not None:
            memory.begin()
        yield SessionContext(session, house, library, approved, known, memory)
