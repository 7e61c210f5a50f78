"""What a review needs to know of the files beside a session: sign-offs, the approval, the number of the mix."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from os.path import isfile  # unlike Path.is_file it takes a name that is too long for one of no file
from pathlib import Path
from typing import TYPE_CHECKING, Final

from mixlint.analysis.context import SessionContext
from mixlint.review.findings import Grade, SessionReview
from mixlint.review.sign_paths import files_for
from mixlint.revisions.model import APPROVED, beside
from mixlint.rulebook.rule import Rule
from mixlint.rulebook.standard import Standard

if TYPE_CHECKING:
    from mixlint.revisions import Approval

UNHEARD: Final = "unheard"
_MIX: Final = re.compile(r"(?:^|[^a-z])mix[ _.-]?0*(\d{1,4})(?!\d)", re.IGNORECASE)


def approval_beside(session: Path) -> Approval | None:
    """The approval beside a session, where there is one.

    Raises:
        InputError: it is there and cannot be used.
    """
    path = beside(session, APPROVED)
    if not isfile(path):
        return None
    from mixlint.revisions.approval import read_approval

    return read_approval(path)


def rules_to_run(standard: Standard, area: str | None, leave_out: Iterable[str]) -> dict[str, Rule]:
    """The rules of a standard that one review runs."""
    out = frozenset(leave_out)
    return {r.id: r for r in standard.rules.values() if r.id not in out and area in (None, r.area)}


def mix_number(session: Path, context: SessionContext) -> int | None:
    """The number of the mix: from the file's name, else the title, else the approval; None where it cannot be told.

    A session that is as it was approved has the approval's number, one that was changed since has the next.
    """
    for text in (session.resolve().stem, context.session.title):
        if found := _MIX.search(text):
            return int(found[1])
    if context.approved is None:
        return None
    from mixlint.revisions.content import mix_digest

    same = mix_digest(context.approved.session) == mix_digest(context.session)
    return context.approved.mix + (not same)


def content_of(context: SessionContext) -> str:
    """What an answer rests on: the hash of the mix and the hash of its sound, or that it was not heard."""
    from mixlint.revisions.content import mix_digest, sound_digest

    return f"{mix_digest(context.session)}/{sound_digest(context.session, context.sounds) or UNHEARD}"


def under_signs(
    made: SessionReview,
    context: SessionContext,
    standard: Standard,
    session: Path,
    *,
    day: date,
    area: str | None = None,
    leave_out: Iterable[str] = (),
    hold_on: Grade = "hold",
) -> SessionReview:
    """``made`` under the sign-offs beside the session and in its project.

    Raises:
        InputError: a sign-off file cannot be used.
    """
    files = files_for(session)
    if not files:
        return made
    from mixlint.review.lapse import Today
    from mixlint.review.sign_file import signed_in
    from mixlint.review.signed import with_signs

    signed = signed_in(files)
    asked = any(one.item.answer for one in signed)  # hashing the audio takes time: only when an answer hangs on it
    now = Today(day, mix_number(session, context), content_of(context) if asked else "")
    return with_signs(
        made,
        signed,
        standard.rules,
        now,
        names={channel.id: channel.name for channel in context.session.channels},
        ran=rules_to_run(standard, area, leave_out),
        hold_on=hold_on,
    )
