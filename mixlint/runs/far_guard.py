"""The process beside a worker of a cluster in which its sessions are reviewed, each behind the usual guard.

A worker's own process may have no children of ``multiprocessing``, and lives for days, while a standard is edited and
mixlint is mended. So each of its threads starts one of these for a run; it ends with the worker, with the run, or when
nobody asks any more.
"""

from __future__ import annotations

import os
import pickle
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final, NamedTuple

from mixlint.errors import InputError, MixlintError
from mixlint.runs.alike import SHARE, Mark, check_alike
from mixlint.runs.each_apart import EachApart, Made, Task, own_fault
from mixlint.runs.listening import Unwanted, Watch
from mixlint.runs.made_by import MadeBy, made_by, unlike
from mixlint.runs.wire import Wire

IDLE_S: Final = 120.0
"""When a process that nobody asks anything ends, seconds."""


class Asked(NamedTuple):
    """What crosses to a worker: plain, small, and the same for whoever takes it.

    Args:
        task: the session and what is asked about it.
        work: what is run on it.
        made_by: by what the one who asks is made.
        near: the folder that relative paths start from; empty where there are none.
        marks: what has to be alike there.
        minutes: when it is stopped.
        memory: how much address space it may take, bytes.
        watched: somebody looks on.
    """

    task: Task
    work: Callable[[Task, Watch], Made]
    made_by: MadeBy
    near: str
    marks: tuple[Mark, ...]
    minutes: float
    memory: int
    watched: bool


class Answer(NamedTuple):
    """What comes back.

    Args:
        made: what became of it, or the fault that it met.
        read: the notes of the session, where something in it could not be read.
    """

    made: Made
    read: Any = None


class _Telling(Watch):
    """Passes on what is told while a session is reviewed, and tells when nobody waits any more."""

    def __init__(self, wire: Wire, watched: bool) -> None:
        self._wire, self.watched = wire, watched
        self.read: Any = None

    def was_read(self, session: Any, path: Path) -> None:  # noqa: ARG002 - who asked knows the path
        self.read = session

    def doing(self, what: str) -> None:
        self._wire.send("doing", what)

    def ahead(self, made: Any) -> None:
        self._wire.send("ahead", made.model_dump_json())

    def unwanted(self) -> bool:
        return self._wire.ended


def main() -> None:
    """Review what is asked for until nobody asks any more."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # a worker that is stopped from the keyboard ends this by going away
    gives = os.fdopen(os.dup(1), "wb")
    quiet = os.open(os.devnull, os.O_RDWR)
    os.dup2(quiet, 1)
    wire = Wire(sys.stdin.buffer, gives)
    machine, threads = sys.argv[1], int(sys.argv[2])
    theirs, apart = made_by(), None
    try:
        while came := wire.get(IDLE_S):
            asked: Asked = pickle.loads(came[0])
            if apart is None:
                apart = EachApart(asked.minutes, asked.memory, asked.work)
            wire.send("told", pickle.dumps(_answer(asked, apart, wire, f"the worker at {machine}", threads, theirs)))
    except OSError:
        pass
    finally:
        if apart is not None:
            apart.stop()


def _answer(asked: Asked, apart: EachApart, wire: Wire, machine: str, threads: int, theirs: MadeBy) -> Answer:
    watch = _Telling(wire, asked.watched)
    path = asked.task.path
    try:
        if differs := unlike(asked.made_by, theirs):
            raise InputError(f"{machine} has {differs}", where=str(path), do="install the same on all machines")
        if asked.near:
            if not os.path.isdir(asked.near):
                told = f"{machine} does not see {asked.near}, from which the paths of this run start"
                raise InputError(told, where=str(path), do=SHARE)
            os.chdir(asked.near)
        check_alike(asked.marks, path, machine)
        return Answer(apart.review(_with_workers(asked.task, threads), watch), watch.read)
    except MixlintError as fault:
        return Answer(Made(fault=fault), watch.read)
    except Unwanted:
        return Answer(Made())
    except Exception as fault:  # noqa: BLE001 - a fault of mixlint's own, which may not cost the other sessions
        return Answer(Made(fault=own_fault(fault, path)))


def _with_workers(task: Task, threads: int) -> Task:
    """The task with no more processes that measure audio than this machine has cores for each of its threads."""
    from mixlint.media.workers import cores

    number = max(1, cores() // max(1, threads))
    wanted = task.arguments.get("wanted")
    if wanted is None:
        return task._replace(arguments={**task.arguments, "workers": number})
    return task._replace(arguments={"wanted": wanted._replace(check={**wanted.check, "workers": number})})


if __name__ == "__main__":
    main()
