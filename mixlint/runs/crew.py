"""Several sessions reviewed at a time, each behind a guard of its own.

What hands tasks out has the shape of ``concurrent.futures.Executor``: a task goes in, and what comes of it is asked of
a future. So whoever works on many sessions need not know where they are reviewed.
"""

from __future__ import annotations

from concurrent.futures import Future, ThreadPoolExecutor
from threading import local
from types import TracebackType
from typing import TYPE_CHECKING, Protocol, Self

from mixlint.errors import MixlintError
from mixlint.runs.each_apart import DEFAULT_MINUTES, MOST_MEMORY, EachApart, Made, Task
from mixlint.runs.listening import Watch

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from mixlint.review.findings import SessionReview
    from mixlint.session import Session


class HandsGone(MixlintError):
    """Nobody takes tasks any more: no fault of the session that was waited for, so that the run ends."""


class Hands(Protocol):
    """What tasks can be handed to."""

    def submit(self, task: Task, watch: Watch) -> Future[Made]:
        """Hand a task out; what it raises is raised where its result is asked for."""
        ...


class Crew:
    """Workers in processes beside this one. Each takes the next task when it is free; none is started before its first.

    Args:
        jobs: how many there are at most.
        minutes: when a session is stopped.
        memory: how much address space each may take, bytes.
        task: what is run there on each session.
    """

    def __init__(
        self,
        jobs: int,
        minutes: float = DEFAULT_MINUTES,
        memory: int = MOST_MEMORY,
        task: Callable[[Task, Watch], Made] | None = None,
    ) -> None:
        self.jobs = max(1, jobs)
        self._minutes, self._memory, self._task = minutes, memory, task
        self._own = local()
        self._all: list[EachApart] = []
        self._ending = False
        # Threads only wait here: each for its own process, which does the work.
        self._threads = ThreadPoolExecutor(self.jobs, thread_name_prefix="mixlint-waits")

    def __enter__(self) -> Self:
        """Nothing is started before the first session."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """End the processes; what is under way is broken off."""
        self._ending = True
        self._threads.shutdown(wait=True, cancel_futures=True)
        for one in self._all:
            one.stop()

    def submit(self, task: Task, watch: Watch) -> Future[Made]:
        """Hand a session out.

        Args:
            task: the session.
            watch: is told what is being done, by a thread of its own.

        Returns:
            What comes of it; it raises as :meth:`mixlint.runs.each_apart.EachApart.review` does.
        """
        return self._threads.submit(self._review, task, watch)

    def _review(self, task: Task, watch: Watch) -> Made:
        apart: EachApart | None = getattr(self._own, "apart", None)
        if apart is None:
            apart = self._own.apart = EachApart(self._minutes, self._memory, self._task)
            self._all.append(apart)
        return apart.review(task, _Until(watch, lambda: self._ending))


class _Until(Watch):
    """Passes on what is told, and tells when nobody waits for any session any more."""

    def __init__(self, to: Watch, ending: Callable[[], bool]) -> None:
        self._to, self._ending = to, ending
        self.watched = to.watched

    def was_read(self, session: Session, path: Path) -> None:
        self._to.was_read(session, path)

    def doing(self, what: str) -> None:
        self._to.doing(what)

    def ahead(self, made: SessionReview) -> None:
        self._to.ahead(made)

    def unwanted(self) -> bool:
        return self._ending() or self._to.unwanted()
