"""``mixlint review``: runs the checklist over one or more sessions."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mixlint.cli.completing import rule_ids
from mixlint.cli.options import (
    AreaOption,
    AssumptionsOption,
    ChangedSinceOption,
    ClientOption,
    EngineerOption,
    ForceOption,
    HoldOnOption,
    JobsOption,
    LeaveOutOption,
    NoAudioOption,
    OnOption,
    PagesOption,
    ReviewFormOption,
    StandardOption,
    StoreOption,
)
from mixlint.runs.each_apart import DEFAULT_MINUTES

if TYPE_CHECKING:
    from mixlint.runs.check import Review


def review(
    paths: Annotated[
        list[Path],
        typer.Argument(
            metavar="PATH",
            help="Session files, folders of sessions, folders of stems; addresses of object storage, as "
            "s3://bucket/songs/, with the extra: mixlint[storage]. "
            "Subfolders named after parts or kinds of files (Drums, Vocals, Mono) belong to the set of the folder "
            "above; any other subfolder of audio is a set of its own.",
        ),
    ],
    standard: StandardOption = None,
    form: ReviewFormOption = "text",
    out: PagesOption = None,
    force: ForceOption = False,
    hold_on: HoldOnOption = "hold",
    printed: Annotated[
        Path | None,
        typer.Option(
            "--print",
            metavar="FILE",
            help="The print of the mix, measured and held against the session or the folder of stems. Else one on a "
            "track, beside the session or among the stems, known by its name.",
        ),
    ] = None,
    no_audio: NoAudioOption = False,
    area: AreaOption = None,
    only: Annotated[
        list[str] | None,
        typer.Option(
            "--only", metavar="ID", autocompletion=rule_ids, help="Run this rule, and no others; may be repeated."
        ),
    ] = None,
    leave_out: LeaveOutOption = None,
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
    minutes: Annotated[
        float,
        typer.Option("--minutes", metavar="N", min=0.0001, help="Of several sessions: stop one that takes longer."),
    ] = DEFAULT_MINUTES,
    jobs: JobsOption = None,
    on: OnOption = None,
    revision: ChangedSinceOption = None,
    why: Annotated[bool, typer.Option("--why", help="In the text: also the evidence of each row.")] = False,
    assumptions: AssumptionsOption = False,
    store: StoreOption = None,
    engineer: EngineerOption = None,
    client: ClientOption = None,
    quiet: Annotated[
        bool, typer.Option("--quiet", help="In the text: only the outcome, the counts and what holds the bounce.")
    ] = False,
) -> None:
    """Run the checklist over one session or more."""
    from mixlint import __version__
    from mixlint.cli.guard import UNUSABLE
    from mixlint.cli.out import named, page, put, put_pieces
    from mixlint.cli.review_run import (
        Run,
        Standards,
        Workforce,
        all_at_once,
        alone,
        of_changed,
        put_pages,
        sessions_of,
        storing_in,
        together,
    )
    from mixlint.errors import InputError
    from mixlint.importers.prints import check_print
    from mixlint.media.workers import cores
    from mixlint.reports.forms import review_form
    from mixlint.reports.several import DOCUMENTS
    from mixlint.runs.files import refuse_inputs
    from mixlint.runs.pages import Pages
    from mixlint.runs.part_review import Wanted, since_of
    from mixlint.runs.paths import anything_fetched, refuse_address
    from mixlint.runs.recall import keeping_for
    from mixlint.runs.stream import pieces

    chosen = review_form(form)
    refuse_address(out)
    place, is_folder = named(out, folders=chosen.folders)
    sessions, missing = sessions_of(paths)
    if printed is not None:
        check_print(printed, audio=not no_audio)
        if len(sessions) > 1:
            raise InputError(
                f"one print was named for {len(sessions)} sessions",
                where=str(printed),
                do="review the session that was printed alone",
            )
    inputs = [*paths, *sessions, *(Path(one) for one in (standard, baseline, printed) if one)]
    if not is_folder:
        refuse_inputs(place, inputs, force=force)
    standards = Standards(standard)

    def ready() -> None:
        """One that was named and cannot be used stops the run before anything is reviewed."""
        since_of(baseline)
        if standard is not None:
            from mixlint.rulebook.choosing import known_areas, known_rules

            known_areas(area or (), standards.of(None))
            known_rules([*(only or ()), *(leave_out or ())], standards.of(None))

    in_parts, several = form in DOCUMENTS, len(sessions) > 1 or (on is not None and bool(sessions))
    if revision is not None and anything_fetched():
        raise InputError("git knows nothing of object storage", where=revision, do="leave --changed-since out")
    if revision is not None:
        sessions = of_changed(revision, sessions, standard)
        several = several and bool(sessions)
    workforce = Workforce(jobs, minutes, ready, on)
    wanted = Wanted(
        {
            "audio": not no_audio,
            "areas": area or (),
            "only": only or (),
            "leave_out": leave_out or (),
            "hold_on": hold_on,
            "printed": printed,
            "everything": everything or (chosen.quiet_rows and not in_parts),
            "clear_named": chosen.quiet_rows,
            "pictures": chosen.pictures,
            "keep": store is not None,
            "workers": cores(),
        },
        form,
        page(place),
        everything,
        why,
        assumptions,
        quiet,
        baseline,
        place if is_folder else None,
        standard,
        keeping_for(baseline) if several and in_parts and store is None and not anything_fetched() else None,
        date.today(),
    )
    if not several:
        ready()
    pages = Pages(place, inputs=inputs, force=force) if place and is_folder else None
    run = Run(list(missing), storing=storing_in(store, wanted.check, engineer, client))
    reviews: list[Review] = []
    with run:
        if not several:
            reviews, parts = alone(sessions, standards, wanted, run)
        elif in_parts:
            parts = together(sessions, standards, wanted, workforce, run)
        else:
            reviews, parts = all_at_once(sessions, standards, wanted, workforce, run), iter(())
        if pages is not None and (sessions or run.lost):
            put_pages(pages, parts, run)
        elif in_parts and several:
            document = DOCUMENTS[form](__version__, wanted.page)
            text = pieces(document, (made.part for _, made in parts))
            put_pieces(text, place, exact=chosen.exact, force=force, form=form)
        elif reviews or (revision is not None and chosen.exact and not chosen.pictures and not run.lost):
            from mixlint.runs.report import report
            from mixlint.runs.signing import sign_lines

            written = report(
                reviews,
                form,
                everything=everything,
                why=why,
                assumptions=assumptions,
                quiet=quiet,
                page=wanted.page,
                sign=sign_lines(sessions, standard, audio=not no_audio),
            )
            put(written, place, exact=chosen.exact, force=force, form=form)
    standards.say_unfitted()
    if run.lost:
        raise typer.Exit(UNUSABLE)
    run.end_unstored()
    if run.outcomes["held"]:
        raise typer.Exit(1)
