"""Measuring a session's audio before its review: on all cores, with a word on what is being read."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mixlint.analysis.context import SessionContext
    from mixlint.cli.progress import Progress


def cores() -> int:
    """How many processes may measure at a time: the cores that this one may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def listen_ahead(context: SessionContext, progress: Progress) -> None:
    """Measure the files that the session plays, so that the review has them ready.

    What is wrong with a file is told by the rules, when they ask for it.
    """
    if context.audio is None:
        return
    from mixlint.analysis.media_use import file_name, media_uses

    played = {use.media.id: file_name(use.media.path) for use in media_uses(context) if use.users}
    done = 0

    def ready(media_id: str) -> None:
        nonlocal done
        done += 1
        progress.doing(f"measured {played[media_id]} ({done} of {len(played)} files)")

    progress.doing(f"measuring {len(played)} files" if len(played) != 1 else f"measuring {next(iter(played.values()))}")
    context.audio.measure_all(list(played), ready)
    progress.doing("")
