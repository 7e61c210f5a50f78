"""One run of the checklist over several sessions: one that cannot be used does not stop the others."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from mixlint.cli.progress import Progress

if TYPE_CHECKING:
    from mixlint.errors import Fault
    from mixlint.rulebook import Standard
    from mixlint.runs.check import Review


def sessions_of(paths: list[Path]) -> tuple[list[Path], bool]:
    """The sessions of all paths, each once; true when a path could not be used, which is said on stderr."""
    from mixlint.cli.guard import complain
    from mixlint.errors import InputError
    from mixlint.importers.choosing import sessions_at

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


class Standards:
    """The standard of each session: loaded once for all that share it, with its notices said once.

    Args:
        named: the standard as it was named, or None for the one beside each session.
    """

    def __init__(self, named: str | None) -> None:
        self._named = named
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

        place = find_standard(self._named, session)
        if place not in self._loaded:
            self._loaded[place] = standard_for(session, self._named, self._told)
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


def over(paths: list[Path], one: Callable[[Path, Progress], Review]) -> tuple[list[Review], bool]:
    """Review every session; one that cannot be used is told on stderr and the rest are still reviewed.

    Args:
        paths: the sessions.
        one: reviews one of them.

    Returns:
        The reviews, and whether a session could not be used.
    """
    from mixlint.cli.guard import complain, say
    from mixlint.errors import MixlintError

    reviews: list[Review] = []
    failed = False
    with Progress(len(paths)) as progress:
        for path in paths:
            progress.step(path.name)
            try:
                reviews.append(one(path, progress))
            except MixlintError as fault:
                progress.clear()
                complain(fault)
                failed = True
            except OSError as fault:
                progress.clear()
                say(f"{path}: {fault.strerror or fault}.")
                failed = True
    return reviews, failed
