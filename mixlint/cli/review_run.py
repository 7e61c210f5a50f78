"""One run of the checklist over several sessions: what holds for all of them, and what was met on the way."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from mixlint.cli.options import HoldOn

if TYPE_CHECKING:
    from mixlint.cli.progress import Progress
    from mixlint.comparison import Approval
    from mixlint.errors import Fault
    from mixlint.reports.pictures import Pictures
    from mixlint.review.findings import Report, SessionReview
    from mixlint.rulebook import Rule, Standard


def sessions_of(paths: list[Path]) -> tuple[list[Path], bool]:
    """The sessions of all paths, each once; true when a path could not be used, which is said on stderr."""
    from mixlint.cli.guard import complain
    from mixlint.cli.inputs import sessions_at
    from mixlint.errors import InputError

    found: dict[Path, Path] = {}
    missing = False
    for path in paths:
        try:
            for one in sessions_at(path):
                found.setdefault(one.resolve(), one)
        except InputError as fault:
            complain(fault)
            missing = True
    return list(found.values()), missing


def one_print_for(printed: Path, sessions: list[Path], *, audio: bool) -> None:
    """Refuse a print that is not there, is no audio file, or was named for several sessions at once.

    Args:
        printed: the file that was named.
        sessions: the sessions under review.
        audio: audio is opened, so that the file can be looked into.

    Raises:
        InputError: it cannot be used.
    """
    from mixlint.errors import InputError
    from mixlint.media.zip_directory import is_audio_name

    if not printed.is_file():
        raise InputError("there is no such file", where=str(printed), do="name the audio file of the mix after --print")
    if not is_audio_name(printed.name):
        raise InputError("this is no audio file", where=str(printed), do="name the audio file of the mix after --print")
    if len(sessions) > 1:
        raise InputError(
            f"one print was named for {len(sessions)} sessions",
            where=str(printed),
            do="review the session that was printed alone",
        )
    if audio:
        from mixlint.media import read_header

        with open(printed, "rb") as file:
            read_header(file, name=str(printed))


class ReviewRun:
    """The choices that hold for every session of one run.

    Args:
        standard: the standard as it was named, or None for the one beside each session.
        area: the only area whose rules are run, or None for all.
        leave_out: ids of rules that are left out.
        hold_on: the lightest grade that holds the bounce.
        baseline: an earlier report or approval, since which only what is new or worse counts; or None.
        audio: audio is opened.
        pictures: each session's sheet and drawings are made.
        quiet_rows: clear and idle rows are made into findings.
        printed: the print of the mix that was named, or None.

    ``rules`` (all that were in force, by id) and ``pictures`` (in the order of the reviews) fill as sessions are
    reviewed.

    Raises:
        MixlintError: the baseline cannot be used.
    """

    def __init__(
        self,
        standard: str | None,
        area: str | None,
        leave_out: frozenset[str],
        hold_on: HoldOn,
        baseline: Path | None,
        *,
        audio: bool,
        pictures: bool,
        quiet_rows: bool,
        printed: Path | None = None,
    ) -> None:
        self.rules: dict[str, Rule] = {}
        self.pictures: list[Pictures] = []
        self._named = standard
        self._area = area
        self._leave_out = leave_out
        self._hold_on = hold_on
        self._audio = audio
        self._draws = pictures
        self._quiet_rows = quiet_rows
        self._printed = printed
        self._day = date.today()
        self._standards: dict[Path, Standard] = {}
        self._told: set[Fault] = set()
        self._baseline = _baseline_at(baseline) if baseline is not None else None

    def over(self, paths: list[Path]) -> tuple[list[SessionReview], bool]:
        """Review every session; one that cannot be used is told on stderr and the rest are still reviewed.

        Returns:
            The reviews, and whether a session could not be used.

        Raises:
            MixlintError: a standard named on the command line, or a rule or area named there, cannot be used.
        """
        from mixlint.cli.guard import complain, say
        from mixlint.cli.progress import Progress
        from mixlint.errors import MixlintError

        if self._named is not None:  # a named standard that cannot be used stops the run before anything is read
            self._standard(None)
        reviews: list[SessionReview] = []
        failed = False
        with Progress(len(paths)) as progress:
            for path in paths:
                progress.step(path.name)
                try:
                    reviews.append(self._one(path, progress))
                except MixlintError as fault:
                    progress.clear()
                    complain(fault)
                    failed = True
                except OSError as fault:
                    progress.clear()
                    say(f"{path}: {fault.strerror or fault}.")
                    failed = True
        return reviews, failed

    def _one(self, path: Path, progress: Progress) -> SessionReview:
        from mixlint.cli.inputs import context_for, shown, tell_unread
        from mixlint.cli.listening import listen_ahead
        from mixlint.comparison.paths import approval_beside
        from mixlint.facts import SessionContext
        from mixlint.importers import digest, read
        from mixlint.review.run import ChecklistRun
        from mixlint.signoffs.paths import signoff_files
        from mixlint.signoffs.session import under_signoffs

        standard = self._standard(path)
        session = read(path, standard.house.vocabulary)
        if any(note.unread for note in session.notes):
            progress.clear()
            tell_unread(session, path)
        approved = approval_beside(path)
        run = ChecklistRun(standard, self._day, self._area, self._leave_out, self._hold_on)
        with context_for(
            session, path, standard.house, audio=self._audio, approved=approved, printed=self._printed
        ) as context:
            if self._area is None:  # the rules of one area may need none of it
                silent = SessionContext(session, standard.house, approved=approved, prints=context.prints)
                listen_ahead(
                    context, progress, lambda: run.review(silent, source=shown(path), digest="", everything=False)
                )
            made = run.review(
                context,
                source=shown(path),
                digest=digest(path),
                everything=self._quiet_rows or self._baseline is not None or bool(signoff_files(path)),
            )
            made = under_signoffs(made, context, path, run)
            if self._baseline is not None:
                made = self._since_baseline(made, standard, *self._baseline)
            if self._draws:  # drawn now, so that no desk is kept beyond its review
                from mixlint.reports.pictures import pictures_of

                self.pictures.append(pictures_of(context))
        return made

    def _since_baseline(
        self, made: SessionReview, standard: Standard, body: Report | Approval, source: str
    ) -> SessionReview:
        from mixlint.review.baseline import baseline_findings, only_new

        return only_new(made, baseline_findings(body, made, source), standard.rules, source, self._hold_on)

    def _standard(self, path: Path | None) -> Standard:
        """The standard for one session, once area and rule ids given on the command line are found in it."""
        from mixlint.cli.inputs import standard_for
        from mixlint.cli.names import known_or_complain
        from mixlint.rulebook import find_standard

        place = find_standard(self._named, path)
        if place in self._standards:
            return self._standards[place]
        standard = standard_for(path, self._named, self._told)
        if self._area is not None:
            known_or_complain(self._area, {r.area for r in standard.rules.values()}, "--area", "area", standard.name)
        for rule in self._leave_out:
            known_or_complain(rule, standard.rules, "--leave-out", "rule", standard.name)
        self._standards[place] = standard
        self.rules |= standard.rules
        return standard


def _baseline_at(path: Path) -> tuple[Report | Approval, str]:
    """An earlier report or approval, and how findings name it."""
    from mixlint.cli.inputs import shown
    from mixlint.review.baseline import read_baseline

    return read_baseline(path), shown(path)
