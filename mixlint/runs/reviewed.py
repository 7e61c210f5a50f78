"""One session read and reviewed, for what goes on from its review: a sign-off, an approval, a comparison."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from mixlint.runs.paths import shown

if TYPE_CHECKING:
    from mixlint.analysis.context import SessionContext
    from mixlint.review.findings import SessionReview
    from mixlint.review.run import ChecklistRun


@dataclass(frozen=True, slots=True)
class ReviewedSession:
    """A session with its review.

    Args:
        review: the review, with its clear and idle rows.
        context: the session; its audio is closed again.
        sounds: media id to the hash of its sound, for the files that were heard.
    """

    review: SessionReview
    context: SessionContext
    sounds: Mapping[str, str]


def reviewed(
    path: Path,
    run: ChecklistRun,
    *,
    audio: bool,
    hear: bool = True,
    approved: bool = False,
    signed: bool = False,
    stands: bool = False,
    workers: int = 0,
) -> ReviewedSession:
    """Read a session and run the checklist over it.

    Args:
        path: the session file.
        run: the run of the checklist.
        audio: open the audio.
        hear: hash the sound of the audio, too, which takes time.
        approved: hold it against the approval beside it.
        signed: take the sign-offs beside it into account.
        stands: work out where its parts stand in the mix, too, while its audio is open.
        workers: processes that measure audio; 0 measures in this one.

    Raises:
        InputError: the session, its approval or a sign-off file cannot be used.
    """
    from mixlint.analysis.opening import context_for
    from mixlint.comparison.paths import approval_beside
    from mixlint.importers import digest, read
    from mixlint.signoffs.session import under_signoffs

    session = read(path, run.standard.house.vocabulary)
    approval = approval_beside(path) if approved else None
    house = run.standard.house
    with context_for(session, path, house, audio=audio, approved=approval, workers=workers) as context:
        made = run.review(context, source=shown(path), digest=digest(path))
        if signed:
            made = under_signoffs(made, context, path, run)
        if stands:
            from mixlint.analysis.contributions import contributions

            contributions(context)  # kept with the context
        return ReviewedSession(made, context, context.sounds if hear else {})
