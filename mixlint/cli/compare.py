"""``mixlint compare``: what changed between two revisions of a session."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mixlint.cli.options import FormOption, OutOption, StandardOption

if TYPE_CHECKING:
    from mixlint.analysis.context import SessionContext
    from mixlint.review.findings import SessionReview
    from mixlint.rulebook import Standard


def compare(
    old: Annotated[Path, typer.Argument(metavar="OLD", help="The older session file, or an approval.")],
    new: Annotated[Path, typer.Argument(metavar="NEW", help="The newer session file.")],
    standard: StandardOption = None,
    form: FormOption = "text",
    out: OutOption = None,
    no_audio: Annotated[bool, typer.Option("--no-audio", help="Open no audio; tell files by their names.")] = False,
) -> None:
    """Tell what changed between two exports of a song, and which findings came, went, or turned.

    Exit status 0, whether or not anything changed; 2 when something cannot be used.
    """
    from mixlint.cli.inputs import one_session_at, shown, standard_for
    from mixlint.cli.out import put_result, refuse_inputs
    from mixlint.reports.compare import comparison_text
    from mixlint.review.revisions import Compared, approved_findings, known_findings, turns
    from mixlint.revisions import compare as changes_between
    from mixlint.revisions.approval import read_approval
    from mixlint.revisions.model import APPROVED

    refuse_inputs(out, [old, new])
    newer = one_session_at(new)
    house = standard_for(newer, standard)
    made, sounds, context = _reviewed(newer, house, audio=not no_audio)
    approved = read_approval(old) if old.is_file() and old.name.endswith(APPROVED) else None
    if approved is not None:
        found = changes_between(approved.session, context.session, old_contents=approved.contents, new_contents=sounds)
        before = approved_findings(approved.findings, found.renamed)
    else:
        older = one_session_at(old)
        was, contents, old_desk = _reviewed(older, house, audio=not no_audio)
        found = changes_between(old_desk.session, context.session, old_contents=contents, new_contents=sounds)
        before = known_findings(was.findings, found.renamed)
    compared = Compared(
        old=shown(old),
        new=shown(new),
        standard=house.name,
        changes=found.changes,
        unseen=found.unseen,
        findings=tuple(turns(before, made, house.rules)),
    )
    put_result(compared, lambda page: comparison_text(compared, page), form, out)


def _reviewed(path: Path, standard: Standard, *, audio: bool) -> tuple[SessionReview, dict[str, str], SessionContext]:
    """The review of one revision, its sounds, and its desk with the audio closed again."""
    from mixlint.cli.inputs import context_for, shown
    from mixlint.importers import digest, read
    from mixlint.review import review

    session = read(path)
    with context_for(session, path, standard.house, audio=audio) as context:
        made = review(context, standard, source=shown(path), digest=digest(path))
        return made, context.sounds, context
