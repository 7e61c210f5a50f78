"""Many sessions, each reviewed behind a guard: one that cannot be reviewed costs none of the others.

One process beside this one reviews them in turn. It is bounded in memory; what takes too long, or brings the process
down, is stopped and told, and a fresh process goes on with the next session.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, Final, NamedTuple, Self

from mixlint.errors import InputError, MixlintError
from mixlint.runs.listening import Unwanted, Watch

if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.process import BaseProcess

    from mixlint.review.findings import SessionReview
    from mixlint.runs.check import Review
    from mixlint.session import Session

MOST_MEMORY: Final = 6 << 30
"""How much address space the review of one session may take, bytes, where the system can bound it."""
DEFAULT_MINUTES: Final = 30.0
"""When a session of several is stopped."""
_GLANCE_S: Final = 0.1
"""How often the watch is asked whether anybody still waits, seconds."""
_PATIENCE_S: Final = 2.0
"""How long a process that is to end may take to put down what it holds, seconds."""


class Task(NamedTuple):
    """One session, and what is asked about it.

    Args:
        path: the session.
        arguments: those of :func:`mixlint.runs.check.check`, but for the standard and the watch.
        standard: the standard as it was named; None for the one beside the session.
    """

    path: Path
    arguments: dict[str, Any]
    standard: str | None


@dataclass(frozen=True, slots=True)
class Made:
    """What the other process made of a session, or the fault that it met."""

    result: SessionReview | None = None
    pictures: Any = None
    unfitted: tuple[str, ...] = ()
    fault: MixlintError | None = None
    kept: Any = None


class EachApart:
    """Reviews sessions one after the other in a process of their own.

    Args:
        minutes: when a session is stopped.
        memory: how much address space the process may take, bytes.
        task: what is run there on each; another one only in tests.
    """

    def __init__(
        self,
        minutes: float = DEFAULT_MINUTES,
        memory: int = MOST_MEMORY,
        task: Callable[[Task, Watch], Made] | None = None,
    ) -> None:
        self._minutes, self._memory = minutes, memory
        self._task = task or review_here
        self._process: BaseProcess | None = None
        self._pipe: Connection | None = None

    def __enter__(self) -> Self:
        """Nothing is started before the first session."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """End the process."""
        self.stop()

    def review(self, task: Task, watch: Watch) -> Made:
        """Review one session.

        Args:
            task: the session.
            watch: is told what is being done, in this process.

        Raises:
            InputError: it took too long, or more memory than it may, or brought its process down.
            Unwanted: the watch says that nobody waits for it any more.
            MixlintError: as :func:`mixlint.runs.check.check` raises.
        """
        if self._process is None or not self._process.is_alive():
            self._start()
        assert self._pipe is not None
        made: Made | None = None
        try:
            self._pipe.send((task, watch.watched))
            made = self._told(task, watch)
        except (EOFError, OSError):
            raise self._died(task.path) from None
        finally:
            if made is None:
                self.stop()
        if made.fault is not None:
            raise made.fault
        return made

    def _told(self, task: Task, watch: Watch) -> Made:
        """Pass on what is heard until the session is done."""
        from time import monotonic

        assert self._pipe is not None
        until = monotonic() + self._minutes * 60.0
        while (left := until - monotonic()) > 0.0:
            if watch.unwanted():
                raise Unwanted
            if not self._pipe.poll(min(left, _GLANCE_S)):
                continue
            kind, what = self._pipe.recv()
            if kind == "told":
                assert isinstance(what, Made)
                return what
            if kind == "read":
                watch.was_read(what, task.path)
            elif kind == "ahead":
                watch.ahead(what)
            else:
                watch.doing(what)
        raise InputError(
            f"it was stopped after {self._minutes:g} minutes",
            where=str(task.path),
            do="review it alone, or give it more time with --minutes",
        )

    def _died(self, path: Path) -> InputError:
        code = None
        if self._process is not None:
            self._process.join(1.0)
            code = self._process.exitcode
        how = "" if code is None else f" (status {code})"
        return InputError(
            f"the process that reviewed it ended before it was done{how}; it may have taken too much memory",
            where=str(path),
            do="review it alone, or without its audio (--no-audio)",
        )

    def _start(self) -> None:
        from multiprocessing import get_context

        from mixlint.media.workers import deaf

        self.stop()
        context = get_context("spawn")  # as everywhere else here: nothing of this process's state is carried over
        self._pipe, theirs = context.Pipe()
        self._process = context.Process(target=_serve, args=(theirs, self._task, self._memory), daemon=False)
        with deaf():
            self._process.start()
        theirs.close()

    def stop(self) -> None:
        """End the process, and those that it started; the next review begins in a fresh one."""
        if self._pipe is not None:
            self._pipe.close()
        process, self._process, self._pipe = self._process, None, None
        if process is None:
            return
        process.terminate()  # it puts down what it holds, the processes that measure audio among it
        process.join(_PATIENCE_S)
        process.kill()
        process.join()


# --- in the other process


class _Telling(Watch):
    """Passes on what a review tells."""

    def __init__(self, pipe: Connection, watched: bool) -> None:
        self._pipe = pipe
        self.watched = watched

    def was_read(self, session: Session, path: Path) -> None:  # noqa: ARG002 - who asked knows the path
        """Pass on the notes; nobody asks for more of it there."""
        if any(note.unread for note in session.notes):
            self._pipe.send(("read", type(session)(notes=session.notes)))

    def doing(self, what: str) -> None:
        if self.watched:
            self._pipe.send(("doing", what))

    def ahead(self, made: SessionReview) -> None:
        self._pipe.send(("ahead", made))


def _serve(pipe: Connection, task: Callable[[Task, Watch], Made], memory: int) -> None:
    """Review what is asked for until nobody asks any more."""
    from mixlint.media.apart import limit_memory
    from mixlint.media.workers import begin_beside

    begin_beside()
    signal.signal(signal.SIGTERM, _end)
    limit_memory(memory)
    while True:
        try:
            asked, watched = pipe.recv()
        except (EOFError, OSError):
            return
        pipe.send(("told", _one(asked, _Telling(pipe, watched), task)))


def _end(*_: object) -> None:
    """End by way of all that is under way, so that nothing of it is left."""
    raise SystemExit


def _one(asked: Task, watch: Watch, task: Callable[[Task, Watch], Made]) -> Made:
    """Review one; whatever is raised is its fault alone."""
    try:
        return task(asked, watch)
    except MixlintError as fault:
        return Made(fault=fault)
    except OSError as fault:
        place = os.fsdecode(fault.filename) if fault.filename else str(asked.path)
        told = InputError(f"{fault.strerror or fault}", where=place, do="check the path and its permissions")
        return Made(fault=told)
    except MemoryError:
        return Made(fault=InputError("it takes more memory than one session may", where=str(asked.path), do="split it"))
    except Exception as fault:  # noqa: BLE001 - a fault of mixlint's own, which may not cost the other sessions
        return Made(fault=own_fault(fault, asked.path))


def own_fault(fault: Exception, path: Path) -> InputError:
    """A fault that nobody foresaw, told as a message: what was raised and where."""
    last = fault.__traceback__
    while last is not None and last.tb_next is not None:
        last = last.tb_next
    place = "" if last is None else f" in {Path(last.tb_frame.f_code.co_filename).name}, line {last.tb_lineno}"
    text = " ".join(str(fault).split())[:200]
    return InputError(
        f"a fault of mixlint itself: {type(fault).__name__}{place}{f' ({text})' if text else ''}",
        where=str(path),
        do="review it alone to see all of it, and report it; the other sessions are not touched by it",
    )


def review_here(asked: Task, watch: Watch) -> Made:
    """Review a session under its standard."""
    from mixlint.runs.check import check

    made = check(asked.path, standard=standard_of(asked.standard, asked.path), watch=watch, **asked.arguments)
    return Made(made.result, made.pictures, made.unfitted, kept=made.kept)


_LOADED: Final[dict[Path, Any]] = {}


def standard_of(named: str | None, path: Path) -> Any:
    """The standard in force, loaded once for all sessions that share it."""
    from mixlint.rulebook import find_standard, load_standard

    place = find_standard(named, path)
    if place not in _LOADED:
        _LOADED[place] = load_standard(named, path)
    return _LOADED[place]


def with_standard(made: Made, asked: Task, standard: Any) -> Review:
    """The review as :func:`mixlint.runs.check.check` gives it in this process."""
    from mixlint.runs.check import Review

    assert made.result is not None
    hold_on, everything = asked.arguments.get("hold_on", "hold"), bool(asked.arguments.get("everything"))
    return Review(made.result, standard.rules, hold_on, everything, made.pictures, made.unfitted, kept=made.kept)
