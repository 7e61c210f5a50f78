"""One run of the checklist over several sessions: one that cannot be used does not stop the others."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mixlint.cli.progress import Progress
from mixlint.errors import MixlintError, RulebookError
from mixlint.runs.each_apart import EachApart, Task, own_fault, with_standard

if TYPE_CHECKING:
    from mixlint.errors import Fault
    from mixlint.rulebook import Standard
    from mixlint.runs.check import Review
    from mixlint.runs.pages import Pages
    from mixlint.runs.storing import Storing


def sessions_of(paths: list[Path]) -> tuple[list[Path], list[tuple[Path, str]]]:
    """The sessions of all paths, each once, and the paths that could not be used, each with why; stderr says so too."""
    from mixlint.cli.guard import complain
    from mixlint.errors import InputError
    from mixlint.importers.choosing import sessions_at

    found: dict[Path, Path] = {}
    missing: list[tuple[Path, str]] = []
    for path in paths:
        try:
            for one in sessions_at(path):
                found.setdefault(one.resolve(), one)
        except InputError as fault:
            complain(fault)
            missing.append((path, str(fault).removeprefix(f"{path}: ")))
    return list(found.values()), missing


class Standards:
    """The standard of each session: loaded once for all that share it, with its notices said once.

    Args:
        named: the standard as it was named, or None for the one beside each session.
    """

    def __init__(self, named: str | None) -> None:
        self.named = named
        self._loaded: dict[Path, Standard] = {}
        self._told: set[Fault] = set()
        self._unfitted: dict[Path, list[tuple[str, ...]]] = {}

    def of(self, session: Path | None) -> Standard:
        """The standard in force for a session.

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

    def say_unfitted(self) -> None:
        """Tell of each standard, once, which of its patterns fit nothing in any session looked at."""
        from mixlint.analysis.house_patterns import nowhere
        from mixlint.cli.guard import say

        for path, each in self._unfitted.items():
            if found := nowhere(each):
                where = "the session" if len(each) == 1 else f"any of the {len(each)} sessions"
                say(f"{path}: these fit no name in {where} looked at: {', '.join(found)}.")


def stored(store: Path | None, arguments: dict[str, Any], engineer: str | None, client: str | None) -> Storing | None:
    """The store that the reviews are kept in; None where none is asked for.

    Args:
        store: its folder.
        arguments: those of :func:`mixlint.runs.check.check`.
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
        audio=arguments["audio"],
        areas=tuple(arguments["areas"]),
        only=tuple(arguments["only"]),
        leave_out=tuple(arguments["leave_out"]),
        hold_on=arguments["hold_on"],
        engineer=" ".join((typed(engineer) or "").split()),
        client=" ".join((typed(client) or "").split()),
    )
    return Storing(store, asked)


def over(
    paths: list[Path],
    standards: Standards,
    arguments: dict[str, Any],
    minutes: float,
    keep: Callable[[Path, Review], None],
    lose: Callable[[Path, str], None],
) -> None:
    """Review every session; one that cannot be used is told on stderr and the rest are still reviewed.

    Several sessions are reviewed each behind a guard (:mod:`mixlint.runs.each_apart`); a single one in this process,
    where a fault of mixlint's own shows its traceback.

    Args:
        paths: the sessions.
        standards: the standard of each.
        arguments: those of :func:`mixlint.runs.check.check` beside standard and watch.
        minutes: when one of several sessions is stopped.
        keep: takes each review as it is done.
        lose: takes each session that could not be reviewed, and why.
    """
    from mixlint.cli.guard import say
    from mixlint.reports.words import counts_of

    failed = 0
    with Progress(len(paths)) as progress, EachApart(minutes) as apart:
        for path in paths:
            progress.step(path.name)
            try:
                keep(path, _one(path, standards, arguments, progress, apart if len(paths) > 1 else None))
            except (MixlintError, OSError) as fault:
                progress.clear()
                failed += 1
                lose(path, _tell(fault, path))
    if failed and len(paths) > 1:
        say(f"{failed} of {counts_of(len(paths), 'session')} could not be reviewed.")


def end(pages: Pages, lost: Iterable[tuple[Path, str]]) -> None:
    """Write the index of a folder of pages, and say which pages in it are of no session that was looked at.

    Args:
        pages: the folder.
        lost: the sessions that could not be reviewed, each with why.
    """
    from mixlint.cli.guard import say
    from mixlint.units import few_text

    for session, why in lost:
        pages.lose(session, why)
    if left := pages.end():
        is_one = len(left) == 1
        stay = "page stays, of a session" if is_one else "pages stay, of sessions"
        say(f"{len(left)} earlier {stay} that {'was' if is_one else 'were'} not reviewed now: {few_text(left)}.")


def _one(
    path: Path, standards: Standards, arguments: dict[str, Any], progress: Progress, apart: EachApart | None
) -> Review:
    """Review one session, in this process where it is the only one."""
    from mixlint.runs.check import check

    if apart is None:
        made = check(path, standard=standards.of(path), watch=progress, **arguments)
        return standards.looked_at(path, made)
    task = Task(path, arguments, standards.named)
    try:
        return standards.looked_at(path, with_standard(apart.review(task, progress), task, standards.of(path)))
    except (MixlintError, OSError):
        raise
    except Exception as fault:  # a fault of mixlint's own, which may not cost the other sessions
        raise own_fault(fault, path) from fault


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
