"""One session and the sign-offs beside it: which mix it is, what an answer about it rests on, its review under them."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

from mixlint.analysis.context import SessionContext
from mixlint.review.findings import SessionReview
from mixlint.review.run import ChecklistRun
from mixlint.signoffs.paths import signoff_files

_MIX: Final = re.compile(r"(?:^|[^a-z])mix[ _.-]?0*(\d{1,4})(?!\d)", re.IGNORECASE)


def mix_number(session: Path, context: SessionContext) -> int | None:
    """The number of the mix: from the file's name, else the title, else the approval; None where it cannot be told.

    A session that is as it was approved has the approval's number, one that was changed since has the next.

    Args:
        session: the session file.
        context: the session in it, with its approval.
    """
    for text in (session.resolve().stem, context.session.title):
        if found := _MIX.search(text):
            return int(found[1])
    if context.approved is None:
        return None
    from mixlint.comparison.digest import mix_digest
    from mixlint.comparison.saved import saved_alike

    was, now = saved_alike(context.approved.session, context.session)
    same = mix_digest(was) == mix_digest(now)
    return context.approved.mix + (not same)


def content_of(context: SessionContext) -> str:
    """What an answer rests on: the hash of the mix, a slash, and the hash of its sound, or that it was not heard."""
    from mixlint.comparison.digest import mix_digest, sound_digest
    from mixlint.signoffs.lapse import UNHEARD

    return f"{mix_digest(context.session)}/{sound_digest(context.session, context.sounds) or UNHEARD}"


def under_signoffs(made: SessionReview, context: SessionContext, session: Path, run: ChecklistRun) -> SessionReview:
    """``made`` under the sign-offs beside the session and in its project.

    Args:
        made: the review, with its clear and idle rows where there are sign-offs.
        context: the session.
        session: the session file.
        run: the run of the checklist that made the review.

    Raises:
        InputError: a sign-off file cannot be used.
    """
    files = signoff_files(session)
    if not files:
        return made
    from mixlint.signoffs.apply import with_signoffs  # most sessions have no sign-offs
    from mixlint.signoffs.file import signoffs_in
    from mixlint.signoffs.lapse import MixState

    signed = signoffs_in(files)
    asked = any(one.item.answer for one in signed)  # hashing the audio takes time: only when an answer hangs on it
    now = MixState(run.day, mix_number(session, context), content_of(context) if asked else "", context.session)
    names = {channel.id: channel.name for channel in context.session.channels}
    return with_signoffs(made, signed, run, now, names)
