"""``mixlint compare``: what changed between two revisions of a session."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from mixlint.cli.options import CompareFormOption, ForceOption, OutOption, StandardOption


def compare(
    old: Annotated[Path, typer.Argument(metavar="OLD", help="The older session file, or an approval.")],
    new: Annotated[Path, typer.Argument(metavar="NEW", help="The newer session file.")],
    standard: StandardOption = None,
    form: CompareFormOption = "text",
    out: OutOption = None,
    force: ForceOption = False,
    no_audio: Annotated[bool, typer.Option("--no-audio", help="Open no audio; tell files by their names.")] = False,
) -> None:
    """Tell what changed between two exports of a song, and which findings came, went, or turned."""
    from mixlint.analysis.context import SessionContext
    from mixlint.cli.inputs import standard_for
    from mixlint.cli.out import put_result
    from mixlint.comparison import compare as changes_between
    from mixlint.comparison.approval import read_approval
    from mixlint.comparison.paths import APPROVED
    from mixlint.importers.choosing import one_session_at
    from mixlint.media.workers import cores
    from mixlint.reports.compare import comparison_text
    from mixlint.review.compare import approved_findings, comparison_report, earlier_findings
    from mixlint.review.run import ChecklistRun
    from mixlint.runs.files import refuse_inputs
    from mixlint.runs.paths import shown
    from mixlint.runs.reviewed import reviewed

    refuse_inputs(out, [old, new], force=force)
    newer = one_session_at(new)
    run = ChecklistRun(standard_for(newer, standard), date.today())
    drawn = form == "html"
    now = reviewed(newer, run, audio=not no_audio, stands=drawn, workers=cores())
    if old.is_file() and old.name.endswith(APPROVED):
        approval = read_approval(old)
        found = changes_between(
            approval.session, now.context.session, old_contents=approval.contents, new_contents=now.sounds
        )
        before = approved_findings(approval.findings, found.renamed)
        # An approval has no audio: what both bring to the mix is estimated alike.
        contexts = [SessionContext(one, run.standard.house) for one in (approval.session, now.context.session)]
    else:
        was = reviewed(one_session_at(old), run, audio=not no_audio, stands=drawn, workers=cores())
        found = changes_between(
            was.context.session, now.context.session, old_contents=was.sounds, new_contents=now.sounds
        )
        before = earlier_findings(was.review.findings, found.renamed)
        contexts = [was.context, now.context]
    report = comparison_report(run, shown(old), shown(new), found, before, now.review)

    def as_html() -> str:
        from mixlint import __version__
        from mixlint.reports.page.compared import comparison_html
        from mixlint.reports.pictures.moved import Revisions

        return comparison_html(report, Revisions(contexts[0], contexts[1], found.same), __version__)

    put_result(report, lambda page: comparison_text(report, page), form, out, as_html=as_html, force=force)
