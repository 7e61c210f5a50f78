"""The review of one session of many, and its part of the document, made in a process beside the run."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from mixlint.runs.each_apart import Made, Task
from mixlint.runs.listening import Watch

if TYPE_CHECKING:
    from mixlint.errors import Fault
    from mixlint.reports.plain import Page
    from mixlint.reports.several import Told
    from mixlint.review.baseline import Since
    from mixlint.review.findings import Passed, SessionReview
    from mixlint.rulebook import Standard
    from mixlint.runs.check import Review
    from mixlint.runs.kept import Span
    from mixlint.runs.recall import Keeping
    from mixlint.runs.witness import Leaf, Witness
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
        keeping: where reviews are kept; None where they are not.
        day: the day that the ends of sign-offs are held against; today unless given.
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
    keeping: Keeping | None = None
    day: date | None = None

    def task(self, session: Path) -> Task:
        """The same for the process beside this one."""
        return Task(session, {"wanted": self}, self.standard)


class Seen(NamedTuple):
    """A review with what it rests on, to be kept.

    Args:
        result: the review.
        passed: its clear rows by name, where they were asked for.
        leaves: what was read and looked at.
        span: the days for which it holds.
    """

    result: SessionReview
    passed: tuple[Passed, ...] | None
    leaves: tuple[Leaf, ...]
    span: Span


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
        stored: the review, for a store, with what is kept beside it as :class:`~mixlint.runs.each_apart.Made` has it.
        seen: the review to be kept, where another machine made it.
    """

    told: Told | None = None
    text: str = ""
    unread: tuple[str, ...] = ()
    standard: str = ""
    notices: tuple[Fault, ...] = ()
    passing: tuple[str, ...] = ()
    stored: SessionReview | None = None
    seen: Seen | None = None

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
    wanted: Wanted = asked.arguments["wanted"]
    ear = Ear(watch)
    if wanted.keeping is None:
        return _part(wanted, asked, ear)
    return _again(wanted, asked.path, wanted.keeping) or _kept(wanted, asked.path, wanted.keeping, ear)


def part_far(asked: Task, watch: Watch) -> Made:
    """The same on another machine, which hands back what is to be kept."""
    wanted: Wanted = asked.arguments["wanted"]
    ear = Ear(watch)
    if wanted.keeping is None:
        return _part(wanted, asked, ear)
    part, seen = _part_seen(wanted, asked.path, ear)
    return replace(part, seen=seen)


def _part(wanted: Wanted, asked: Task, ear: Ear) -> PartMade:
    from mixlint.runs.each_apart import standard_of

    standard = standard_of(asked.standard, asked.path)
    made = _reviewed(wanted, asked.path, standard, ear, wanted.day)
    return written(wanted, asked.path, standard, made, ear.unread)


def _reviewed(wanted: Wanted, session: Path, standard: Standard, watch: Watch, day: date | None = None) -> Review:
    from mixlint.runs.check import check

    since = since_of(wanted.baseline)
    return check(session, standard=standard, baseline=since, watch=watch, day=day, **wanted.check)


def _again(wanted: Wanted, session: Path, keeping: Keeping) -> PartMade | None:
    """The part written of a review that was kept when another form was asked for; None where there is none."""
    from mixlint.runs.check import Review
    from mixlint.runs.each_apart import standard_of
    from mixlint.runs.recall import keep_part, review_before

    before = review_before(keeping, wanted, session)
    if before is None:
        return None
    standard = standard_of(wanted.standard, session)
    hold_on, everything = wanted.check.get("hold_on", "hold"), bool(wanted.check.get("everything"))
    unfitted = before.said["unfitted"]
    made = Review(before.result, standard.rules, hold_on, everything, None, unfitted, before.passed)
    part = replace(written(wanted, session, standard, made, ()), **before.said)
    keep_part(keeping, wanted, session, part, before.entry.leaves, before.entry.span)
    return part


def _kept(wanted: Wanted, session: Path, keeping: Keeping, ear: Ear) -> PartMade:
    """The part of a review that is made now, both kept with what they rest on."""
    part, seen = _part_seen(wanted, session, ear)
    if seen is not None:
        keep_seen(wanted, session, keeping, part, seen)
    return part


def keep_seen(wanted: Wanted, session: Path, keeping: Keeping, part: PartMade, seen: Seen) -> None:
    """Keep a review and its part."""
    from mixlint.runs.recall import keep_part, keep_review

    keep_review(keeping, wanted, session, part, seen.result, seen.passed, seen.leaves, seen.span)
    keep_part(keeping, wanted, session, part, seen.leaves, seen.span)


def _part_seen(wanted: Wanted, session: Path, ear: Ear) -> tuple[PartMade, Seen | None]:
    """The part of a review that is made now, and the review with what it rests on where that can be told."""
    from mixlint.media.cache_folder import cache_folder
    from mixlint.runs.witness import Witness

    day = wanted.day or date.today()
    with Witness() as seen:
        standard = _standard_seen(wanted.standard, session, seen)
        made = _reviewed(wanted, session, standard, ear, day)
        span = _span(session, day)
    part = written(wanted, session, standard, made, ear.unread)
    cache = cache_folder()
    leaves = None if cache is None else seen.leaves(cache)
    if leaves is None or not _of_what_was_read(session, made, leaves):
        return part, None
    return part, Seen(made.result, made.passed, leaves, span)


def _of_what_was_read(session: Path, made: Review, leaves: tuple[Leaf, ...]) -> bool:
    """Whether a session's file holds what the review read: some systems tell two changes in two seconds by one time."""
    place = os.path.abspath(session)
    return all(leaf.what == made.result.digest for leaf in leaves if leaf.kind == "file" and leaf.path == place)


_SEEN: Final[dict[Path, Witness]] = {}
"""What was read when a standard was, which is done once for all sessions that share it."""


def _standard_seen(named: str | None, session: Path, seen: Witness) -> Standard:
    from mixlint.rulebook import find_standard
    from mixlint.runs.each_apart import standard_of
    from mixlint.runs.witness import Witness

    with Witness() as finding:
        place = find_standard(named, session)
    if place in _SEEN:
        standard: Standard = standard_of(named, session)
    else:
        with Witness() as own:
            standard = standard_of(named, session)
        for one in finding.looked:  # on the way to it from this session; others come another way
            own.looked.pop(one, None)
        _SEEN[place] = own
    seen.also(_SEEN[place])
    return standard


def _span(session: Path, day: date) -> Span:
    """The days around this one on which the sign-offs of a session say the same."""
    from mixlint.runs.kept import Span
    from mixlint.signoffs.paths import signoff_files

    files = signoff_files(session)
    if not files:
        return Span()
    from mixlint.signoffs.file import signoffs_in
    from mixlint.signoffs.lapse import days_of_change

    days = sorted({when for one in signoffs_in(files) for when in days_of_change(one.item)})
    first = max((one for one in days if one <= day), default=None)
    until = min((one for one in days if one > day), default=None)
    return Span(first.isoformat() if first else "", until.isoformat() if until else "")


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
        kept=made.kept,
        stored=None if made.kept is None else made.result,
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
