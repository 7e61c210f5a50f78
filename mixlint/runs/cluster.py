"""Sessions handed to the workers of an existing Dask cluster; nothing of the scheduling is made here.

At most as many tasks are handed to the scheduler as it has threads, and the rest wait here: what lies in a queue of a
worker that dies is blamed along with what killed it. A task whose workers died as often as the scheduler lets it
(``distributed.scheduler.allowed-failures``) is tried once more while no other such task is; when that ends alike, it is
told as that session's fault.
"""

from __future__ import annotations

import os
import pickle
import re
import time
from collections import deque
from collections.abc import Callable
from concurrent.futures import Future
from contextlib import suppress
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from threading import Event, RLock, Thread
from types import TracebackType
from typing import TYPE_CHECKING, Any, Final, Self
from uuid import uuid4

from mixlint.errors import InputError, MixlintError
from mixlint.runs.alike import SHARE, Marks, seen_otherwise
from mixlint.runs.crew import HandsGone
from mixlint.runs.each_apart import DEFAULT_MINUTES, MOST_MEMORY, Made, Task, own_fault
from mixlint.runs.listening import Watch

if TYPE_CHECKING:
    from mixlint.runs.far_work import Answer

CONNECT_S: Final = 10.0
"""How long a scheduler may take to answer at first, seconds."""
SILENCE_S: Final = 30.0
"""How long it may be silent, seconds."""
NO_WORKER_S: Final = 60.0
"""How long there may be no worker while something waits for one, seconds: some clusters start them when asked."""
_BEAT_S: Final = 1.0
_CLOSE_S: Final = 1.0
"""How long putting away may take at each step, seconds: the command line ends 1.5 s after Ctrl-C."""
_RETRIES: Final = 2
"""How often a task is tried again that a worker could not so much as hand on."""

_LOGIN: Final = re.compile(r"(?<=://)[^/@]*@")


@dataclass(eq=False, slots=True)
class _Due:
    """A task, and what is to come of it."""

    number: int
    task: Task
    watch: Watch
    future: Future[Made] = field(default_factory=Future)
    there: Any = None
    killed: bool = False


class Cluster:
    """The workers of a cluster, as hands.

    Args:
        address: of the scheduler, as ``tcp://studio:8786``.
        minutes: when a session is stopped.
        memory: how much address space each may take, bytes.
        task: what is run there on each session.
        came: is told what came of each, as soon as it is there.
        no_worker_s: how long there may be no worker, seconds.
    """

    def __init__(
        self,
        address: str,
        minutes: float = DEFAULT_MINUTES,
        memory: int = MOST_MEMORY,
        task: Callable[[Task, Watch], Made] | None = None,
        came: Callable[[Task, Made], object] = lambda _task, _made: None,
        no_worker_s: float = NO_WORKER_S,
    ) -> None:
        from mixlint.runs.each_apart import review_here

        self.address = _LOGIN.sub("", address)
        self._to, self._minutes, self._memory, self._work = address, minutes, memory, task or review_here
        self._came, self._no_worker_s = came, no_worker_s
        self._run = uuid4().hex
        self._topic = f"mixlint-{self._run}"
        self._lock = RLock()
        self._waiting: deque[_Due] = deque()
        self._suspects: deque[_Due] = deque()
        self._out: dict[int, _Due] = {}
        self._numbers = 0
        self._gone: HandsGone | None = None
        self._over = Event()
        self._marks = Marks()
        self._client: Any = None
        self._pulse = Thread(target=self._beat, daemon=True, name="mixlint-pulse")
        self.jobs = 1
        """How many sessions are reviewed at a time."""

    # --- its beginning and its end

    def __enter__(self) -> Self:
        """Meet the scheduler, and see that its workers are made by the same.

        Raises:
            HandsGone: it does not answer, or they are not.
            MixlintError: the extra is not installed.
        """
        self._client = self._met()
        try:
            self._check_versions()
            self.jobs = max(1, sum(self._threads().values()))
        except BaseException:
            self._close()
            raise
        self._pulse.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Take back what was not done, and leave the cluster as it was."""
        self._over.set()
        with self._lock:
            out = [one.there for one in self._out.values() if one.there is not None]
        for one in (*self._waiting, *self._suspects):
            one.future.cancel()
        if self._gone is None and self._client.status == "running":
            from mixlint.runs.far import far_end

            with suppress(Exception):
                self._client.sync(self._client._cancel, out, callback_timeout=_CLOSE_S)
            with suppress(Exception):
                self._client.sync(self._client._run, far_end, self._run, on_error="ignore", callback_timeout=_CLOSE_S)
        self._close()

    def _met(self) -> Any:
        if self.address != self._to:
            raise HandsGone(
                "the address of a scheduler bears no name and no password",
                where=f"--on {self.address}",
                do="leave them out: a cluster is kept to its own by TLS, in Dask's configuration",
            )
        try:
            import distributed
        except ImportError:
            raise MixlintError(
                "a cluster needs a package that is not installed",
                where=f"--on {self.address}",
                do="install the extra: pip install 'mixlint[cluster]'",
            ) from None
        import warnings

        _quiet()
        # What differs is told by _check_versions, with what to do.
        warnings.filterwarnings("ignore", category=distributed.versions.VersionMismatchWarning)
        try:
            client: Any = distributed.Client
            return client(self._to, timeout=CONNECT_S, set_as_default=False, name="mixlint")
        except Exception as fault:  # noqa: BLE001 - each transport raises what it likes where nobody answers
            told = " ".join(f"{type(fault).__name__}: {fault}".split())[:200]
            raise HandsGone(
                f"no scheduler of a Dask cluster can be reached there ({told})",
                where=f"--on {self.address}",
                do="start one with: dask scheduler; and workers with: dask worker ADDRESS",
            ) from None

    def _check_versions(self) -> None:
        from mixlint.runs.far import far_versions
        from mixlint.runs.made_by import made_by, unlike

        self._made_by = made_by()
        try:
            told = self._client.sync(self._client._run, far_versions, on_error="return", callback_timeout=SILENCE_S)
        except Exception as fault:  # noqa: BLE001 - as above
            raise self._silent(fault) from None
        for machine, theirs in sorted(told.items()):
            if isinstance(theirs, dict):
                differs = unlike(self._made_by, theirs)
            else:  # it cannot import what it is asked to run
                differs = "no mixlint, or one that knows of no cluster"
            if differs:
                raise HandsGone(
                    f"the worker at {machine} has {differs}",
                    where=f"--on {self.address}",
                    do="install the same mixlint, Python and packages on all machines",
                )

    def _close(self) -> None:
        with suppress(Exception):
            self._client.close(timeout=_CLOSE_S)

    # --- handing out

    def submit(self, task: Task, watch: Watch) -> Future[Made]:
        """Hand a session out.

        Args:
            task: the session.
            watch: is told what is being done, by a thread of its own.

        Returns:
            What comes of it; it raises as :meth:`mixlint.runs.each_apart.EachApart.review` does, and
            :class:`~mixlint.runs.crew.HandsGone` where the cluster is not there any more.
        """
        with self._lock:
            self._numbers += 1
            due = _Due(self._numbers, task, watch)
            if self._numbers == 1 and watch.watched:
                self._client.subscribe_topic(self._topic, self._heard)
            self._waiting.append(due)
        self._hand_out()
        return due.future

    def _hand_out(self) -> None:
        while (due := self._next()) is not None:
            try:
                asked = self._asked(due)
            except Exception as fault:  # noqa: BLE001 - of this session alone
                self._done_with(
                    due, fault=fault if isinstance(fault, MixlintError) else own_fault(fault, due.task.path)
                )
                continue
            from mixlint.runs.far import far_review

            try:
                due.there = self._client.submit(
                    far_review,
                    self._run,
                    self._topic if due.watch.watched else "",
                    due.number,
                    asked,
                    key=f"mixlint-review-{self._run}-{due.number}-{int(due.killed)}",
                    pure=False,
                    retries=_RETRIES,
                )
                due.there.add_done_callback(partial(self._told, due))
            except Exception as fault:  # noqa: BLE001 - the client has been closed, or is being
                self._all_gone(self._silent(fault))

    def _next(self) -> _Due | None:
        with self._lock:
            if self._gone is not None:
                return None
            if self._suspects and not any(one.killed for one in self._out.values()):
                due = self._suspects.popleft()
            elif self._waiting and len(self._out) < self.jobs and not self._over.is_set():
                due = self._waiting.popleft()
            else:
                return None
            self._out[due.number] = due
            return due

    def _asked(self, due: _Due) -> tuple[Any, ...]:
        from mixlint.runs.far_work import Asked, Order

        task = due.task
        wanted = task.arguments.get("wanted")
        about = task.arguments if wanted is None else wanted.check
        printed = about.get("printed")
        named = [task.path, printed, None if wanted is None else wanted.baseline]
        if task.standard is not None and os.path.exists(task.standard):
            named.append(Path(task.standard))
        near = any(one is not None and not os.path.isabs(one) for one in named)
        marks = self._marks.of(task.path, task.standard, None if wanted is None else wanted.baseline, printed)
        if wanted is not None and wanted.folder is not None:
            folder = Path(os.path.abspath(wanted.folder))
            task = task._replace(arguments={"wanted": wanted._replace(folder=folder)})
        order = Order(task, self._work, self._made_by, os.getcwd() if near else "", marks)
        return tuple(Asked(str(task.path), self._minutes, self._memory, due.watch.watched, pickle.dumps(order)))

    # --- what comes back

    def _heard(self, event: tuple[float, dict[str, Any]]) -> None:
        told = event[1]
        with self._lock:
            due = self._out.get(told.get("number", 0))
        if due is None:
            return
        if told.get("kind") == "doing":
            due.watch.doing(str(told.get("what")))
        elif told.get("kind") == "ahead":
            from mixlint.review.findings import SessionReview

            due.watch.ahead(SessionReview.model_validate_json(told["what"]))

    def _told(self, due: _Due, there: Any) -> None:
        """Take what came of a task; called by a thread of the client's."""
        from distributed import KilledWorker

        if self._over.is_set():
            return
        try:
            answer: Answer = pickle.loads(there.result(timeout=SILENCE_S))
        except KilledWorker as fault:
            self._killed(due, fault)
        except Exception as fault:  # noqa: BLE001 - told below
            if there.status in ("cancelled", "lost") or self._client.status != "running":
                self._all_gone(self._silent(fault))
            else:
                told = f"its workers could not review it: {type(fault).__name__} ({' '.join(str(fault).split())[:200]})"
                self._done_with(due, fault=InputError(told, where=str(due.task.path), do="look at the workers' logs"))
        else:
            if answer.read is not None:
                due.watch.was_read(answer.read, due.task.path)
            self._made(due, answer.made)
        self._hand_out()

    def _made(self, due: _Due, made: Made) -> None:
        if made.fault is not None:
            self._done_with(due, fault=made.fault)
            return
        seen = getattr(made, "seen", None)
        if seen is not None and (place := seen_otherwise(seen.leaves, due.task.path)):
            told = f"a worker saw {place} otherwise than this machine does"
            do = f"{SHARE}; where it was changed just now, run it again"
            self._done_with(due, fault=InputError(told, where=str(due.task.path), do=do))
            return
        self._came(due.task, made)
        self._done_with(due, made)

    def _killed(self, due: _Due, fault: Any) -> None:
        if due.killed:
            often = 2 * (int(fault.allowed_failures) + 1)
            told = f"{often} workers of the cluster ended while they reviewed it, and it was given up"
            do = "review it alone on a machine that you can look at, or without its audio (--no-audio)"
            self._done_with(due, fault=InputError(told, where=str(due.task.path), do=do))
            return
        with self._lock:
            self._out.pop(due.number, None)
            due.killed, due.there = True, None
            self._suspects.append(due)

    def _done_with(self, due: _Due, made: Made | None = None, fault: BaseException | None = None) -> None:
        with self._lock:
            self._out.pop(due.number, None)
            due.there = None
        if not due.future.set_running_or_notify_cancel():
            return
        if fault is not None:
            due.future.set_exception(fault)
        elif made is not None:
            due.future.set_result(made)

    # --- whether it is still there

    def _threads(self) -> dict[str, int]:
        found: dict[str, int] = self._client.sync(self._client.scheduler.ncores_running, callback_timeout=SILENCE_S)
        return found

    def _beat(self) -> None:
        """Look after the scheduler once a second, and after how many workers there are."""
        lonely_since: float | None = None
        while not self._over.wait(_BEAT_S):
            try:
                threads = sum(self._threads().values())
            except Exception as fault:  # noqa: BLE001 - whatever it is, nobody answers
                self._all_gone(self._silent(fault))
                return
            now = time.monotonic()
            lonely_since = None if threads or not self._out else lonely_since or now
            if lonely_since is not None and now - lonely_since > self._no_worker_s:
                told = f"no worker has been there for {self._no_worker_s:g} s"
                self._all_gone(
                    HandsGone(told, where=f"--on {self.address}", do="start workers with: dask worker ADDRESS")
                )
                return
            if threads:
                self.jobs = threads
            self._hand_out()

    def _silent(self, fault: Exception) -> HandsGone:
        return HandsGone(
            f"the scheduler does not answer any more ({type(fault).__name__})",
            where=f"--on {self.address}",
            do="what was done is kept, and is not done again when you run it again",
        )

    def _all_gone(self, why: HandsGone) -> None:
        if self._over.is_set():
            return
        with self._lock:
            self._gone = self._gone or why
            due = [*self._out.values(), *self._suspects, *self._waiting]
            self._out.clear()
            self._suspects.clear()
            self._waiting.clear()
        for one in due:
            self._done_with(one, fault=self._gone)


def _quiet() -> None:
    """What goes wrong is told as a message; the library's own log on stderr would stand between them."""
    import logging

    for name in ("distributed", *(one for one in logging.root.manager.loggerDict if one.startswith("distributed."))):
        logging.getLogger(name).setLevel(logging.CRITICAL + 1)
