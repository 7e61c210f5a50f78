"""``mixlint survey``: what a store of reviews tells."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from mixlint.cli.options import ForceOption, OutOption, SurveyFormOption, typed


def survey(
    folder: Annotated[
        Path, typer.Argument(metavar="FOLDER", help="The store, as mixlint review --store was given it.")
    ],
    form: SurveyFormOption = "text",
    out: OutOption = None,
    force: ForceOption = False,
    lapse_within: Annotated[
        int,
        typer.Option(
            "--lapse-within",
            metavar="DAYS",
            min=0,
            max=36500,
            help="List sign-offs that end within so many days apart.",
        ),
    ] = 14,
    what_if: Annotated[
        list[str] | None,
        typer.Option(
            "--what-if",
            metavar="RULE.LIMIT=VALUE",
            help="How a rule would come out at another limit: which rows more or fewer, which sessions to another "
            "outcome; worked out from the facts that are stored, and said where it cannot be told; may be repeated.",
        ),
    ] = None,
    sql: Annotated[
        str | None,
        typer.Option(
            "--sql",
            metavar="QUERY",
            help="In place of the survey the answer to a query in DuckDB's SQL over the views runs, sessions, "
            "findings, signed, judged, facts, rules, and latest, the last review of each session. It can only read.",
        ),
    ] = None,
) -> None:
    """Tell what a studio's reviews come to: what fires most and since when, what is held, signed, about to lapse."""
    from mixlint import __version__
    from mixlint.cli.out import put_result
    from mixlint.errors import MixlintError
    from mixlint.reports.survey import survey_table, survey_text
    from mixlint.runs.files import refuse_inputs
    from mixlint.runs.paths import shown
    from mixlint.store.archive import Archive
    from mixlint.store.survey import ASKED_AGAIN, SURVEYED
    from mixlint.store.survey import survey as surveyed
    from mixlint.store.what_if import wish

    refuse_inputs(out, [folder], force=force)
    if sql is not None:
        if what_if or form == "html":
            what = "the answer to a query is a table"
            raise MixlintError(what, where="--sql", do="ask for it as text, json, csv or tsv, and without --what-if")
        _answered(folder, typed(sql) or "", form, out, force=force)
        return
    wishes = [wish(typed(one) or "") for one in what_if or ()]
    archive = Archive(folder, (*SURVEYED, *(ASKED_AGAIN if wishes else ())))
    made = surveyed(
        archive,
        version=__version__,
        store=shown(folder),
        day=date.today(),
        lapse_within=lapse_within,
        wishes=wishes,
    )

    def as_html() -> str:
        from mixlint.reports.page.surveyed import survey_html

        return survey_html(made)

    put_result(
        made,
        lambda page: survey_text(made, page),
        form,
        out,
        as_html=as_html,
        as_table=lambda form: survey_table(made, form),
        force=force,
    )


def _answered(folder: Path, query: str, form: str, out: Path | None, *, force: bool) -> None:
    """Write the answer to a query; files that were left out are told beside it."""
    from mixlint.cli.guard import say
    from mixlint.cli.out import put_result
    from mixlint.reports.query import query_answer, query_table, query_text
    from mixlint.store.archive import Archive, kinds_named

    archive = Archive(folder, kinds_named(query))
    made = query_answer(archive.query(query))
    for one in archive.left_out:
        say(f"{folder / one.file}: {one.why}; it was left out.")
    put_result(
        made, lambda page: query_text(made, page), form, out, as_table=lambda form: query_table(made, form), force=force
    )
