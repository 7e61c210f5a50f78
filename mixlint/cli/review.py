"""``mixlint review``: runs the checklist over one or more sessions."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mixlint.cli.completing import rule_ids
from mixlint.cli.options import (
    AreaOption,
    AssumptionsOption,
    ClientOption,
    EngineerOption,
    ForceOption,
    HoldOnOption,
    LeaveOutOption,
    NoAudioOption,
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
            help="Session files, folders of sessions, folders of stems. "
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
    from mixlint.cli.guard import NOT_STORED, UNUSABLE, say
    from mixlint.cli.out import named, page, put
    from mixlint.cli.review_run import Standards, end, over, sessions_of, stored
    from mixlint.errors import InputError
    from mixlint.importers.prints import check_print
    from mixlint.media.workers import cores
    from mixlint.reports.forms import review_form
    from mixlint.review.baseline import Since, read_baseline
    from mixlint.rulebook.choosing import known_areas, known_rules
    from mixlint.runs.files import refuse_inputs
    from mixlint.runs.pages import Pages
    from mixlint.runs.paths import shown
    from mixlint.runs.report import report
    from mixlint.runs.signing import sign_lines
    from mixlint.runs.storing import could_not

    chosen = review_form(form)
    place, is_folder = named(out, folders=chosen.folders)
    since = Since(read_baseline(baseline), shown(baseline)) if baseline is not None else None
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
    if standard is not None:  # one that was named and cannot be used stops the run before anything is read
        known_areas(area or (), standards.of(None))
        known_rules([*(only or ()), *(leave_out or ())], standards.of(None))
    arguments = {
        "audio": not no_audio,
        "areas": area or (),
        "only": only or (),
        "leave_out": leave_out or (),
        "hold_on": hold_on,
        "printed": printed,
        "baseline": since,
        "everything": everything or chosen.quiet_rows,
        "pictures": chosen.pictures,
        "keep": store is not None,
        "workers": cores(),
    }
    storing = stored(store, arguments, engineer, client)
    sign = sign_lines(sessions, standard, audio=not no_audio)
    pages = None
    if place and is_folder:
        pages = Pages(place, inputs=inputs, force=force, everything=everything, sign=sign)
    reviews: list[Review] = []
    outcomes: Counter[str] = Counter()
    lost = list(missing)

    def keep(session: Path, made: Review) -> None:
        if pages is not None:
            pages.add(session, made)
        else:
            reviews.append(made)
        if storing is not None:
            storing.add(session, made, standards.of(session))
        outcomes[made.outcome] += 1

    try:
        over(sessions, standards, arguments, minutes, keep, lambda session, why: lost.append((session, why)))
    finally:  # what was reviewed before a stop is kept too
        if storing is not None:
            storing.write()
    if pages is not None:
        end(pages, lost)
    elif reviews:
        written = report(
            reviews,
            form,
            everything=everything,
            why=why,
            assumptions=assumptions,
            quiet=quiet,
            page=page(place),
            sign=sign,
        )
        put(written, place, exact=chosen.exact, force=force, form=form)
    standards.say_unfitted()
    if storing is not None and storing.fault is not None:
        say(could_not(storing.fault))
    if lost:
        raise typer.Exit(UNUSABLE)
    if storing is not None and storing.fault is not None:
        raise typer.Exit(NOT_STORED)
    if outcomes["held"]:
        raise typer.Exit(1)
