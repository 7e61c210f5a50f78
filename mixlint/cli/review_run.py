"""One run of the checklist over several sessions: one that cannot be used does not stop the others."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache, partial
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, Final, NamedTuple, Self

from mixlint.cli.progress import Progress
from mixlint.errors import MixlintError, RulebookError
from mixlint.notices import notice
from mixlint.runs.crew import Crew
from mixlint.runs.each_apart import Task, with_standard
from mixlint.runs.in_order import InOrder
from mixlint.runs.listening import Watch
from mixlint.runs.part_review import PartMade, Wanted, keep_seen, part_far, part_here, since_of, written
from mixlint.runs.recall import Recalled

if TYPE_CHECKING:
    from mixlint.errors import Fault
    from mixlint.review.findings import SessionReview
    from mixlint.rulebook import Standard
    from mixlint.runs.check import Review
    from mixlint.runs.cluster import Cluster
    from mixlint.runs.each_apart import Made
    from mixlint.runs.pages import Pages
    from mixlint.runs.storing import Storing
    from mixlint.session import Session
    from mixlint.store.kept import Kept


WORTH_A_PROCESS: Final = 6
"""From how many sessions on one more process is started unasked: it takes as long to start as six small sessions."""


def sessions_of(paths: list[Path]) -> tuple[list[Path], list[tuple[Path, str]]]:
    """The sessions of all paths, each once, and the paths that could not be used, each with why; stderr says so too."""
    from mixlint.cli.guard import complain
    from mixlint.errors import InputError
    from mixlint.importers.choosing import sessions_at
    from mixlint.runs.paths import address_of

    found: dict[Path, Path] = {}
    missing: list[tuple[Path, str]] = []
    for typed in paths:
        path = typed
        try:
            if address_of(path) is not None:
                from mixlint.runs.storage import here

                path = here(path)
            for one in sessions_at(path):
                found.setdefault(one.resolve(), one)
        except InputError as fault:
            complain(fault)
            missing.append((path, str(fault).removeprefix(f"{path}: ")))
    return list(found.values()), missing


def of_changed(revision: str, sessions: list[Path], standard: str | None) -> list[Path]:
    """The sessions of which git says that something changed; stderr says how many are left out.

    Raises:
        InputError: git cannot tell.
    """
    from mixlint.cli.guard import say
    from mixlint.reports.few_words import counts_of
    from mixlint.runs.changed import changed_since

    found = changed_since(revision, sessions, standard)
    if left := len(sessions) - len(found):
        say(f"{left} of {counts_of(len(sessions), 'session')} left out: git tells of no change since {revision}.")
    return found


class Standards:
    """The standard of each session, with its notices said once.

    Args:
        named: the standard as it was named, or None for the one beside each session.
    """

    def __init__(self, named: str | None) -> None:
        self.named = named
        self._loaded: dict[Path, Standard] = {}
        self._told: set[Fault] = set()
        self._unfitted: dict[Path, list[tuple[str, ...]]] = {}

    def of(self, session: Path | None) -> Standard:
        """The standard in force for a session, loaded once for all that share it.

        Raises:
            RulebookError: it cannot be used.
        """
        from mixlint.cli.inputs import standard_for
        from mixlint.rulebook import find_standard

        place = find_standard(self.named, session)
        if place not in self._loaded:
            self._loaded[place] = standard_for(session, self.named, self._told)
        return self._loaded[place]

    def looked_at(self, session: Path, made: Review) -> Review:
        """Keep which patterns of the standard fit nothing in a session that was reviewed."""
        self._unfitted.setdefault(self.of(session).path, []).append(made.unfitted)
        return made

    def heard(self, made: PartMade) -> None:
        """The same of a session that was reviewed in another process, and what that was told of the standard."""
        from mixlint.cli.inputs import say_notices

        say_notices(made.notices, self._told)
        self._unfitted.setdefault(Path(made.standard), []).append(made.unfitted)

    def say_unfitted(self) -> None:
        """Tell of each standard, once, which of its patterns fit nothing in any session looked at."""
        from mixlint.cli.guard import say

        for path, each in self._unfitted.items():
            if not all(each):  # nothing to tell, and nothing to import for it
                continue
            from mixlint.analysis.house_patterns import nowhere

            if found := nowhere(each):
                where = "the session" if len(each) == 1 else f"any of the {len(each)} sessions"
                say(f"{path}: these fit no name in {where} looked at: {', '.join(found)}.")


@dataclass(slots=True)
class Run:
    """What a run over sessions came to; at its end, or where it is stopped, what was reviewed is in the store.

    Args:
        lost: the sessions that could not be reviewed, each with why.
        outcomes: how many sessions came to what.
        storing: the store that reviews are kept in; None without one.
    """

    lost: list[tuple[Path, str]] = field(default_factory=list)
    outcomes: Counter[str] = field(default_factory=Counter)
    storing: Storing | None = None

    def store(self, session: Path, made: SessionReview | None, kept: Kept | None, standards: Standards) -> None:
        """Keep the review of a session where there is a store."""
        if self.storing is not None and made is not None and kept is not None:
            self.storing.add(session, made, kept, standards.of(session))

    def __enter__(self) -> Self:
        """Nothing is written before the first session."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Write what is not in the store yet, and say where that cannot be done."""
        if self.storing is not None:
            from mixlint.cli.guard import say
            from mixlint.runs.storing import could_not

            self.storing.write()
            if self.storing.fault is not None:
                say(could_not(self.storing.fault))

    def end_unstored(self) -> None:
        """Leave with a status of its own where something that was reviewed is not in the store."""
        if self.storing is not None and self.storing.fault is not None:
            from typer import Exit

            from mixlint.cli.guard import NOT_STORED

            raise Exit(NOT_STORED)


def storing_in(store: Path | None, check: dict[str, Any], engineer: str | None, client: str | None) -> Storing | None:
    """The store that the reviews are kept in; None where none is asked for.

    Args:
        store: its folder.
        check: the arguments of :func:`mixlint.runs.check.check`.
        engineer, client: as they were typed.

    Raises:
        MixlintError: it cannot be used, or engineer and client are given without one.
    """
    from mixlint.cli.options import typed

    if store is None:
        if engineer is not None or client is not None:
            what = "--engineer and --client are kept in a store"
            raise MixlintError(what, do="name it with --store FOLDER")
        return None
    from mixlint.runs.storing import Asked, Storing

    asked = Asked(
        audio=check["audio"],
        areas=tuple(check["areas"]),
        only=tuple(check["only"]),
        leave_out=tuple(check["leave_out"]),
        hold_on=check["hold_on"],
        engineer=" ".join((typed(engineer) or "").split()),
        client=" ".join((typed(client) or "").split()),
    )
    return Storing(store, asked)


def alone(
    sessions: list[Path], standards: Standards, wanted: Wanted, run: Run
) -> tuple[list[Review], Iterator[tuple[Path, PartMade]]]:
    """Review the only session in this process, where a fault of mixlint's own shows its traceback.

    Returns:
        The review and, for a folder of pages, its page; nothing where the session cannot be used.
    """
    from mixlint.runs.check import check

    if not sessions:
        return [], iter(())
    (session,) = sessions
    with Progress(1) as progress:
        progress.step(session.name)
        try:
            standard = standards.of(session)
            since = since_of(wanted.baseline)
            made = check(session, standard=standard, baseline=since, watch=progress, **wanted.check)
        except (MixlintError, OSError) as fault:
            progress.clear()
            run.lost.append((session, _tell(fault, session)))
            return [], iter(())
    standards.looked_at(session, made)
    run.outcomes[made.outcome] += 1
    run.store(session, made.result, made.kept, standards)
    page = () if wanted.folder is None else ((session, written(wanted, session, standard, made, ())),)
    return [made], iter(page)


class Workforce(NamedTuple):
    """Who reviews several sessions.

    Args:
        jobs: how many at a time, as it was asked for; None for as many as are worth it.
        minutes: when a session is stopped.
        ready: called before the first session is handed out; what it raises ends the run.
        on: the address of a cluster whose workers review them; None for processes beside this one.
    """

    jobs: int | None
    minutes: float
    ready: Callable[[], object]
    on: str | None = None

    def number(self, due: int) -> int:
        """How many processes work on a number of sessions."""
        from mixlint.media.workers import cores

        if self.jobs is not None:
            return max(1, min(self.jobs, due))
        return max(1, min(cores(), -(-due // WORTH_A_PROCESS)))

    def crew(self, number: int, wanted: Wanted | None, *, due: bool) -> Crew | Cluster:
        """Who takes the tasks.

        Args:
            number: how many processes work beside this one.
            wanted: what is asked about each, where its part of the document is written there; None for its review.
            due: there is anything to be done.
        """
        if self.on is None or not due:
            return Crew(number, self.minutes, task=part_here if wanted is not None else None)
        from mixlint.runs.cluster import Cluster

        if wanted is None:
            return Cluster(self.on, self.minutes)
        return Cluster(self.on, self.minutes, task=part_far, came=partial(_keep, wanted))

    def wanted(self, wanted: Wanted, number: int) -> Wanted:
        """What is asked of each, with no more processes that measure audio than there are cores."""
        from mixlint.media.workers import cores

        return wanted._replace(check={**wanted.check, "workers": max(1, cores() // number)})


def together(
    sessions: list[Path], standards: Standards, wanted: Wanted, workforce: Workforce, run: Run
) -> Iterator[tuple[Path, PartMade]]:
    """Review several sessions beside this process, and tell each in its order as soon as it is ready.

    A session that cannot be used is told on stderr, and the rest are still reviewed.

    Args:
        sessions: the sessions.
        standards: is told which standard each was reviewed under.
        wanted: what is asked about each.
        workforce: who reviews them.
        run: is told what came of each.
    """
    recalled = Recalled(wanted.keeping, wanted, sessions)
    number = workforce.number(len(sessions) - len(recalled.known))
    asked = workforce.wanted(wanted, number)
    ready = cache(workforce.ready)

    def task(path: Path) -> Task:
        ready()
        return asked.task(path)

    due = len(recalled.known) < len(sessions)
    with Progress(len(sessions)) as progress, workforce.crew(number, wanted, due=due) as crew:
        in_order: InOrder[PartMade] = InOrder(
            sessions,
            task,
            crew,
            crew.jobs,
            lambda path: _One(progress, path),
            progress.step_to,
            recalled.known,
            recalled.part,
        )
        for session, came in in_order:
            if isinstance(came, MixlintError | OSError):
                progress.clear()
                run.lost.append((session, _tell(came, session)))
                continue
            progress.clear_for(came.notices or came.unread)
            standards.heard(came)
            _tell_heard(came, session)
            run.outcomes[came.part[0].outcome] += 1
            run.store(session, came.stored, came.kept, standards)
            yield session, came
    recalled.end()
    _say_lost(run, sessions)


def all_at_once(
    sessions: list[Path], standards: Standards, wanted: Wanted, workforce: Workforce, run: Run
) -> list[Review]:
    """Review several sessions for a form of an installed package, which is written of all of them at once."""
    workforce.ready()
    number = workforce.number(len(sessions))
    arguments = {**workforce.wanted(wanted, number).check, "baseline": since_of(wanted.baseline), "day": wanted.day}
    reviews = []
    with Progress(len(sessions)) as progress, workforce.crew(number, None, due=bool(sessions)) as crew:
        in_order: InOrder[Any] = InOrder(
            sessions,
            lambda path: Task(path, arguments, wanted.standard),
            crew,
            crew.jobs,
            lambda path: _One(progress, path),
            progress.step_to,
        )
        for session, came in in_order:
            try:
                if isinstance(came, MixlintError | OSError):
                    raise came
                made = with_standard(came, Task(session, arguments, wanted.standard), standards.of(session))
            except (MixlintError, OSError) as fault:
                progress.clear()
                run.lost.append((session, _tell(fault, session)))
                continue
            reviews.append(standards.looked_at(session, made))
            run.outcomes[made.outcome] += 1
            run.store(session, made.result, made.kept, standards)
    _say_lost(run, sessions)
    return reviews


def _keep(wanted: Wanted, task: Task, made: Made) -> None:
    """Keep what a worker of a cluster made, in this machine's own folder."""
    from mixlint.runs.alike import ours

    if isinstance(made, PartMade) and made.seen is not None and wanted.keeping is not None:
        keep_seen(wanted, task.path, wanted.keeping, made, made.seen._replace(leaves=ours(made.seen.leaves)))


def put_pages(pages: Pages, parts: Iterable[tuple[Path, PartMade]], run: Run) -> None:
    """Write a page for each session as it is done, then the index of all.

    Which pages in the folder are of no session that was looked at is said on stderr.

    Args:
        pages: the folder.
        parts: each session with its page.
        run: is told which pages could not be written.
    """
    from mixlint.cli.guard import say
    from mixlint.units import few_text

    for session, made in parts:
        try:
            pages.add(session, *made.part)
        except (MixlintError, OSError) as fault:
            run.lost.append((session, _tell(fault, session)))
            run.outcomes[made.part[0].outcome] -= 1
    for session, why in run.lost:
        pages.lose(session, why)
    if left := pages.end():
        is_one = len(left) == 1
        stay = "page stays, of a session" if is_one else "pages stay, of sessions"
        say(f"{len(left)} earlier {stay} that {'was' if is_one else 'were'} not reviewed now: {few_text(left)}.")


class _One(Watch):
    """What is being done to one session of several, told while it is the one that is waited for."""

    def __init__(self, to: Progress, path: Path) -> None:
        self._to, self._path = to, path
        self.watched = to.watched

    def was_read(self, session: Session, path: Path) -> None:
        self._to.was_read(session, path)

    def doing(self, what: str) -> None:
        if self._to.path == self._path:
            self._to.doing(what)

    def ahead(self, made: SessionReview) -> None:
        if self._to.path == self._path:
            self._to.ahead(made)


def _tell_heard(made: PartMade, session: Path) -> None:
    """Say what stands in a session and could not be read, and keep what is said once, at the end of the run."""
    if made.unread:
        from mixlint.cli.inputs import say_unread

        say_unread(made.unread, session)
    for text in made.passing:
        notice(text)


def _say_lost(run: Run, sessions: list[Path]) -> None:
    from mixlint.cli.guard import say
    from mixlint.reports.few_words import counts_of

    looked = set(sessions)
    failed = sum(path in looked for path, _ in run.lost)
    if failed and len(sessions) > 1:
        say(f"{failed} of {counts_of(len(sessions), 'session')} could not be reviewed.")


def _tell(fault: MixlintError | OSError, path: Path) -> str:
    """Say what was wrong with a session, with its whole path: a name alone finds none among thousands.

    Returns:
        what was wrong.
    """
    from mixlint.cli.guard import complain, say

    if isinstance(fault, OSError):
        told = f"{fault.strerror or fault}."
        say(f"{path}: {told}")
        return told
    if isinstance(fault, RulebookError) or str(path) in str(fault):
        complain(fault)
    else:
        say(f"{path}: {fault}")
    return str(fault).removeprefix(f"{path}: ")
