"""Measuring a session's audio before its review: on all cores, with a word on what is being read."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from mixlint.analysis.context import SessionContext
    from mixlint.cli.progress import Progress
    from mixlint.review.findings import SessionReview

LONG_S: Final = 600.0
"""From how many seconds of audio on, which take seconds to measure, a reader is told ahead what is known already."""

MOST_AHEAD: Final = 3
"""How many rows are told ahead."""


def cores() -> int:
    """How many processes may measure at a time: the cores that this one may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def listen_ahead(context: SessionContext, progress: Progress, unheard: Callable[[], SessionReview]) -> None:
    """Measure the files that the session plays, so that the review has them ready.

    What is wrong with a file is told by the rules, when they ask for it. Where measuring takes long and somebody looks
    on, what the session shows without its sound is told before.

    Args:
        context: the session.
        progress: says what is being done.
        unheard: the review of the session without its audio.
    """
    if context.audio is None:
        return
    from mixlint.analysis.media_use import file_name, media_uses

    played = {use.media.id: file_name(use.media.path) for use in media_uses(context) if use.users}
    done = 0

    def begin(due_s: float) -> None:
        if due_s >= LONG_S and progress.watched:
            progress.clear()
            _tell_ahead(unheard())
        progress.doing(f"measuring {len(played)} {'file' if len(played) == 1 else 'files'}")

    def ready(media_id: str) -> None:
        nonlocal done
        done += 1
        progress.doing(f"measured {played[media_id]}, {done} of {len(played)} files")

    context.audio.measure_all(list(played), ready, begin)
    progress.doing("")


def _tell_ahead(made: SessionReview) -> None:
    """The outcome without the sound, and the first rows that hold, on stderr."""
    from mixlint.cli.guard import say
    from mixlint.reports.words import OUTCOMES, counts_of

    holds = [one for one in made.findings if one.verdict == "flagged" and one.grade == "hold"]
    lines = [one.message for one in holds[:MOST_AHEAD]]
    if len(holds) > MOST_AHEAD:
        lines.append(f"and {counts_of(len(holds) - MOST_AHEAD, 'more row')} at hold")
    say("\n".join([f"before the audio is measured: {OUTCOMES[made.outcome]}", *lines]))
