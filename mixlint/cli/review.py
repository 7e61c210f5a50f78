"""``mixlint review``: runs the checklist over one or more sessions."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from mixlint.cli.options import OutOption, StandardOption

if TYPE_CHECKING:
    from mixlint.comparison import Approval
    from mixlint.reports.html import Pictures
    from mixlint.review.findings import Report, SessionReview
    from mixlint.rulebook import Rule, Standard

Form = Literal["text", "json", "sarif", "junit", "html", "line"]
FORMS = (
    "The form of the output. line: one line per finding for a pipeline, parted by tabs: session, grade (or open, "
    "signed, clear, idle), rule, channel, message."
)


def review(
    paths: Annotated[
        list[Path],
        typer.Argument(metavar="PATH", help="Session files, folders of sessions, folders of stems."),
    ],
    standard: StandardOption = None,
    form: Annotated[Form, typer.Option("--as", help=FORMS)] = "text",
    out: OutOption = None,
    hold_on: Annotated[
        Literal["hold", "look", "note"],
        typer.Option("--hold-on", help="The lightest grade of a flagged row that holds the bounce."),
    ] = "hold",
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
) -> None:
    """Run the checklist. Exit status 0: clear to bounce; 1: held; 2: something cannot be used."""
    from mixlint import __version__
    from mixlint.cli.inputs import shown
    from mixlint.cli.out import put, refuse_inputs
    from mixlint.reports.choice import only_loud
    from mixlint.review.findings import Report

    shows_quiet = everything or form == "junit"  # there a case that passes is a case too
    job = _Job(
        standard,
        area,
        frozenset(leave_out or ()),
        hold_on,
        audio=not no_audio,
        draws=form == "html",
        shows_quiet=shows_quiet,
    )
    if baseline is not None:
        from mixlint.review.baseline import read_baseline

        job.baseline = (read_baseline(baseline), shown(baseline))
    found, unusable = _find(paths)
    refuse_inputs(out, [*paths, *found, *([Path(standard)] if standard else []), *([baseline] if baseline else [])])
    reviews, failed = job.run(found)
    unusable = unusable or failed
    report = Report(version=__version__, sessions=tuple(reviews))
    if not shows_quiet:
        report = only_loud(report)
    if reviews:
        put(_written(report, form, out, job, everything), out, exact=form not in ("text", "line"))
    if unusable:
        raise typer.Exit(2)
    if any(one.outcome == "held" for one in reviews):
        raise typer.Exit(1)


def _find(paths: list[Path]) -> tuple[list[Path], bool]:
    """The sessions of all paths, each once; true when a path could not be used."""
    from mixlint.cli.guard import complain
    from mixlint.cli.inputs import sessions_at
    from mixlint.errors import InputError

    found: dict[Path, Path] = {}
    unusable = False
    for path in paths:
        try:
            for one in sessions_at(path):
                found.setdefault(one.resolve(), one)
        except InputError as fault:
            complain(fault)
            unusable = True
    return list(found.values()), unusable


class _Job:
    """One run of the checklist: the choices that hold for every session, and what was met on the way."""

    def __init__(
        self,
        named: str | None,
        area: str | None,
        leave_out: frozenset[str],
        hold_on: Literal["hold", "look", "note"],
        *,
        audio: bool,
        draws: bool,
        shows_quiet: bool,
    ) -> None:
        self.named = named
        self.area = area
        self.leave_out = leave_out
        self.hold_on = hold_on
        self.audio = audio
        self.draws = draws
        self.shows_quiet = shows_quiet
        self.rules: dict[str, Rule] = {}
        self.pictures: list[Pictures] = []
        self.baseline: tuple[Report | Approval, str] | None = None
        self.day = date.today()
        self._standards: dict[Path, Standard] = {}

    def run(self, paths: list[Path]) -> tuple[list[SessionReview], bool]:
        """Review every session; one that cannot be used is reported and the rest are still reviewed."""
        from mixlint.cli.guard import complain, say
        from mixlint.cli.progress import Progress
        from mixlint.errors import MixlintError

        if self.named is not None:  # a named standard that cannot be used stops the run before anything is read
            self._standard(None)
        reviews: list[SessionReview] = []
        failed = False
        with Progress(len(paths)) as progress:
            for path in paths:
                progress.step(path.name)
                try:
                    reviews.append(self._one(path))
                except MixlintError as fault:
                    progress.clear()
                    complain(fault)
                    failed = True
                except OSError as fault:
                    progress.clear()
                    say(f"{path}: {fault.strerror or fault}.")
                    failed = True
        return reviews, failed

    def _one(self, path: Path) -> SessionReview:
        from mixlint.cli.inputs import context_for, shown
        from mixlint.comparison.paths import approval_beside
        from mixlint.importers import digest, read
        from mixlint.review import review as judge
        from mixlint.review.run import ChecklistRun
        from mixlint.signoffs.paths import signoff_files
        from mixlint.signoffs.session import under_signoffs

        standard = self._standard(path)
        session = read(path)
        approved = approval_beside(path)
        with context_for(session, path, standard.house, audio=self.audio, approved=approved) as context:
            made = judge(
                context,
                standard,
                source=shown(path),
                digest=digest(path),
                area=self.area,
                leave_out=self.leave_out,
                hold_on=self.hold_on,
                everything=self.shows_quiet or self.baseline is not None or bool(signoff_files(path)),
            )
            run = ChecklistRun(standard, self.day, self.area, self.leave_out, self.hold_on)
            made = under_signoffs(made, context, path, run)
            if self.baseline is not None:
                made = self._since_baseline(made, standard)
            if self.draws:  # drawn now, so that no desk is kept beyond its review
                from mixlint.reports.html import pictures_of

                self.pictures.append(pictures_of(context))
        return made

    def _since_baseline(self, made: SessionReview, standard: Standard) -> SessionReview:
        from mixlint.review.baseline import baseline_findings, only_new

        assert self.baseline is not None
        body, source = self.baseline
        return only_new(made, baseline_findings(body, made, source), standard.rules, source, self.hold_on)

    def _standard(self, path: Path | None) -> Standard:
        """The standard for one session, once area and rule ids given on the command line are found in it."""
        from mixlint.cli.inputs import standard_for
        from mixlint.cli.names import known_or_complain
        from mixlint.rulebook import find_standard

        place = find_standard(self.named, path)
        if place in self._standards:
            return self._standards[place]
        standard = standard_for(path, self.named)
        if self.area is not None:
            known_or_complain(self.area, {r.area for r in standard.rules.values()}, "--area", "area", standard.name)
        for rule in self.leave_out:
            known_or_complain(rule, standard.rules, "--leave-out", "rule", standard.name)
        self._standards[place] = standard
        self.rules |= standard.rules
        return standard


def _written(report: Report, form: Form, out: Path | None, job: _Job, everything: bool) -> str:
    """The report in the form asked for; each form is imported only when it is."""
    if form == "json":
        from mixlint.reports.json import model_json

        return model_json(report)
    if form == "line":
        from mixlint.reports.line import review_lines

        return review_lines(report)
    if form == "junit":
        from mixlint.reports.junit import review_junit

        return review_junit(report, job.hold_on)
    if form == "sarif":
        from mixlint.reports.sarif import review_sarif

        return review_sarif(report, job.rules)
    if form == "html":
        from mixlint.reports.html import review_html

        return review_html(report, job.pictures, everything=everything)
    from mixlint.cli.out import page
    from mixlint.reports.text import review_text

    return review_text(report, page(out), everything=everything)
