"""``mixlint review``: runs the checklist over one or more sessions."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from mixlint.cli.options import HoldOn, OutOption, ReviewFormOption, StandardOption


def review(
    paths: Annotated[
        list[Path],
        typer.Argument(
            metavar="PATH",
            help="Session files, folders of sessions, folders of stems. "
            "Subfolders named after parts or kinds of files (Drums, Vocals, Mono) belong to the set of the folder "
            "above; any other subfolder of audio is a set of its own.",
        ),
    ],
    standard: StandardOption = None,
    form: ReviewFormOption = "text",
    out: OutOption = None,
    hold_on: Annotated[
        HoldOn,
        typer.Option("--hold-on", help="The lightest grade of a flagged row that holds the bounce."),
    ] = "hold",
    printed: Annotated[
        Path | None,
        typer.Option(
            "--print",
            metavar="FILE",
            help="The print of the mix, measured and held against the session or the folder of stems. Else one on a "
            "track, beside the session or among the stems, known by its name.",
        ),
    ] = None,
    no_audio: Annotated[bool, typer.Option("--no-audio", help="Open no audio; estimate from the settings.")] = False,
    area: Annotated[
        str | None,
        typer.Option("--area", metavar="AREA", help="Only the rules of one area, such as ambience."),
    ] = None,
    leave_out: Annotated[
        list[str] | None,
        typer.Option("--leave-out", metavar="ID", help="Leave this rule out; may be repeated."),
    ] = None,
    baseline: Annotated[
        Path | None,
        typer.Option(
            "--baseline",
            metavar="FILE",
            help="An earlier report in JSON, or an approval: only what is new or worse since then is shown and counts.",
        ),
    ] = None,
    everything: Annotated[
        bool, typer.Option("--everything", help="Also the clear rows and those whose rule does not apply.")
    ] = False,
    why: Annotated[bool, typer.Option("--why", help="In the text: also the evidence of each row.")] = False,
    assumptions: Annotated[
        bool, typer.Option("--assumptions", help="In the text: also what the figures assume, one by one.")
    ] = False,
    quiet: Annotated[
        bool, typer.Option("--quiet", help="In the text: only the outcome, the counts and what holds the bounce.")
    ] = False,
) -> None:
    """Run the checklist. Exit status 0: clear, or look first; 1: held; 2: something cannot be used."""
    from mixlint import __version__
    from mixlint.cli.out import page, put, refuse_inputs
    from mixlint.cli.review_run import ReviewRun, one_print_for, sessions_of
    from mixlint.reports.choice import only_loud
    from mixlint.reports.forms import REVIEW_FORMS
    from mixlint.reports.review_output import ReviewOutput
    from mixlint.review.findings import Report

    chosen = REVIEW_FORMS[form]
    quiet_rows = everything or chosen.quiet_rows
    run = ReviewRun(
        standard,
        area,
        frozenset(leave_out or ()),
        hold_on,
        baseline,
        audio=not no_audio,
        pictures=chosen.pictures,
        quiet_rows=quiet_rows,
        printed=printed,
    )
    sessions, missing = sessions_of(paths)
    if printed is not None:
        one_print_for(printed, sessions, audio=not no_audio)
    read = [*paths, *sessions, *(Path(one) for one in (standard, baseline, printed) if one)]
    refuse_inputs(out, read)
    reviews, failed = run.over(sessions)
    if reviews:
        report = Report(version=__version__, sessions=tuple(reviews))
        output = ReviewOutput(
            report if quiet_rows else only_loud(report),
            page(out),
            everything,
            hold_on,
            run.rules,
            run.pictures,
            why,
            assumptions,
            quiet,
        )
        put(chosen.write(output), out, exact=chosen.exact)
    if missing or failed:
        raise typer.Exit(2)
    if any(one.outcome == "held" for one in reviews):
        raise typer.Exit(1)
