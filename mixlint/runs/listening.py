"""Measuring a session's audio before its review, with a word to whoever looks on."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from pathlib import Path

    from mixlint.analysis.context import SessionContext
    from mixlint.review.findings import SessionReview
    from mixlint.session import Session

LONG_S: Final = 600.0
"""From how many seconds of audio on, which take seconds to measure, a reader is told ahead what is known already."""


class Watch:
    """Somebody who may look on while a session is reviewed; this one does not."""

    watched = False
    """Somebody looks on."""

    def was_read(self, session: Session, path: Path) -> None:
        """Hear that the session was read, and what stands in it that could not be."""

    def doing(self, what: str) -> None:
        """Hear what is being done just now; nothing says so no longer."""

    def ahead(self, made: SessionReview) -> None:
        """Hear what the session shows without its sound, where measuring that takes long."""

    def unwanted(self) -> bool:
        """Whether nobody waits for the review any more, so that one beside this process can be broken off."""
        return False


class Unwanted(Exception):
    """A review was broken off, since nobody waits for it any more."""


def listen_ahead(context: SessionContext, watch: Watch, unheard: Callable[[], SessionReview]) -> None:
    """Measure the files that the session plays, so that the review has them ready.

    What is wrong with a file is told by the rules, when they ask for it. Where measuring takes long and somebody looks
    on, what the session shows without its sound is told before.

    Args:
        context: the session.
        watch: is told what is being done.
        unheard: the review of the session without its audio.
    """
    if context.audio is None:
        return
    from mixlint.analysis.media_use import file_name, media_uses

    played = {use.media.id: file_name(use.media.path) for use in media_uses(context) if use.users}
    done = 0

    def begin(due_s: float) -> None:
        if due_s >= LONG_S and watch.watched:
            watch.ahead(unheard())
        watch.doing(f"measuring {len(played)} {'file' if len(played) == 1 else 'files'}")

    def ready(media_id: str) -> None:
        nonlocal done
        done += 1
        watch.doing(f"measured {played[media_id]}, {done} of {len(played)} files")

    context.audio.measure_all(list(played), ready, begin)
    watch.doing("")
