"""The review of one session of many, and its part of the document, made in a process beside the run."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from mixlint.runs.each_apart import Made, Task
from mixlint.runs.listening import Watch

if TYPE_CHECKING:
    from mixlint.errors import Fault
    from mixlint.reports.plain import Page
    from mixlint.reports.several import Told
    from mixlint.review.baseline import Since
    from mixlint.review.findings import SessionReview
    from mixlint.rulebook import Standard
    from mixlint.runs.check import Review
    from mixlint.session import Session


class Wanted(NamedTuple):
    """What is asked about each of many sessions.

    Args:
        check: the arguments of :func:`mixlint.runs.check.check`, but for the standard, the baseline and the watch.
        form: the form of the report.
        page: how wide text is, and whether bold and dim can be used.
        everything, why, assumptions, quiet: as of :func:`mixlint.runs.report.report`.
        baseline: the file that it is held against.
        folder: where the page of each session goes; None for one document of all.
        standard: the standard as it was named.
    """

    check: dict[str, Any]
    form: str
    page: Page
    everything: bool = False
    why: bool = False
    assumptions: bool = False
    quiet: bool = False
    baseline: Path | None = None
    folder: Path | None = None
    standard: str | None = None

    def task(self, session: Path) -> Task:
        """The same for the process beside this one."""
        return Task(session, {"wanted": self}, self.standard)


@dataclass(frozen=True, slots=True)
class PartMade(Made):
    """What the process that asked writes of a session.

    Args:
        told: what the document says of it outside its part.
        text: its part, or its page.
        unread: what stands in the session and could not be read.
        standard: the file of the standard in force.
        notices: what the files of the standard should say otherwise.
        passing: what a user should hear once in a run.
    """

    told: Told | None = None
    text: str = ""
    unread: tuple[str, ...] = ()
    standard: str = ""
    notices: tuple[Fault, ...] = ()
    passing: tuple[str, ...] = ()

    @property
    def part(self) -> tuple[Told, str]:
        """What is told of it, and its part."""
        assert self.told is not None
        return self.told, self.text


class Ear(Watch):
    """Passes on what is told, and keeps what could not be read."""

    def __init__(self, to: Watch) -> None:
        self._to = to
        self.watched = to.watched
        self.unread: tuple[str, ...] = ()

    def was_read(self, session: Session, path: Path) -> None:  # noqa: ARG002 - who asked knows the path
        """Keep it, to be told where the session is told."""
        self.unread = tuple(note.text for note in session.notes if note.unread)

    def doing(self, what: str) -> None:
        """Pass it on."""
        self._to.doing(what)

    def ahead(self, made: SessionReview) -> None:
        """Pass it on."""
        self._to.ahead(made)


def part_here(asked: Task, watch: Watch) -> Made:
    """Review a session and write its part."""
    from mixlint.runs.each_apart import standard_of

    wanted: Wanted = asked.arguments["wanted"]
    standard = standard_of(asked.standard, asked.path)
    ear = Ear(watch)
    return written(wanted, asked.path, standard, reviewed_here(wanted, asked.path, standard, ear), ear.unread)


def reviewed_here(wanted: Wanted, session: Path, standard: Standard, watch: Watch) -> Review:
    """The review."""
    from mixlint.runs.check import check

    return check(session, standard=standard, baseline=since_of(wanted.baseline), watch=watch, **wanted.check)


def written(wanted: Wanted, session: Path, standard: Standard, made: Review, unread: tuple[str, ...]) -> PartMade:
    """Its part of the document, and all else that the process that asked needs."""
    from mixlint import __version__
    from mixlint.extensions import faults
    from mixlint.notices import notices
    from mixlint.reports.parts import page_of, part_of
    from mixlint.reports.review_output import ReviewOutput
    from mixlint.review.findings import Report
    from mixlint.runs.signing import sign_lines

    output = ReviewOutput(
        report=Report.model_construct(version=__version__, sessions=(made.result,)),
        page=wanted.page,
        everything=wanted.everything,
        hold_on=made.hold_on,
        rules=made.rules,
        passed=[made.passed or ()],
        pictures=[] if made.pictures is None else [made.pictures],
        why=wanted.why,
        assumptions=wanted.assumptions,
        quiet=wanted.quiet,
        sign=sign_lines([session], wanted.standard, audio=bool(wanted.check.get("audio", True))),
    )
    if wanted.folder is None:
        told, text = part_of(output, wanted.form)
    else:
        from mixlint.reports.page.names import INDEX, page_name

        name = page_name(made.result.title or session.name.partition(".")[0], session, wanted.folder)
        told, text = page_of(replace(output, back=f"{INDEX}#{name.removesuffix('.html')}"))
        told = replace(told, page=name)
    return PartMade(
        unfitted=made.unfitted,
        told=told,
        text=text,
        unread=unread,
        standard=str(standard.path),
        notices=standard.notices,
        passing=(*(f"{one}. All else works without it" for one in faults()), *notices()),
    )


_BASELINES: Final[dict[Path, Since]] = {}


def since_of(baseline: Path | None) -> Since | None:
    """The baseline in a file, read once however many sessions are held against it.

    Raises:
        InputError: it cannot be used.
    """
    if baseline is None:
        return None
    if baseline not in _BASELINES:
        from mixlint.review.baseline import Since, read_baseline
        from mixlint.runs.paths import shown

        _BASELINES[baseline] = Since(read_baseline(baseline), shown(baseline))
    return _BASELINES[baseline]
