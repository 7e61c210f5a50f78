"""What is asked of a worker of a cluster, and what its guarded process does: see that all is alike, then review."""

from __future__ import annotations

import os
import pickle
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

from mixlint.errors import InputError
from mixlint.runs.each_apart import Made, Task
from mixlint.runs.listening import Watch


class Asked(NamedTuple):
    """What crosses to a worker: plain and small.

    Args:
        path: the session, as it was named.
        minutes: when it is stopped.
        memory: how much address space it may take, bytes.
        watched: somebody looks on.
        packed: an :class:`Order`, which only the process that reviews unpacks.
    """

    path: str
    minutes: float
    memory: int
    watched: bool
    packed: bytes


class Order(NamedTuple):
    """What is to be done, and what was decided by the one who asks.

    Args:
        task: the session and what is asked about it.
        work: what is run on it.
        made_by: by what the one who asks is made.
        near: the folder that relative paths start from; empty where there are none.
        marks: what has to be alike there.
    """

    task: Task
    work: Callable[[Task, Watch], Made]
    made_by: dict[str, str]
    near: str
    marks: tuple[Any, ...]


class Answer(NamedTuple):
    """What comes back.

    Args:
        made: what became of it, or the fault that it met.
        read: the session with nothing but its notes, where something in it could not be read.
    """

    made: Made
    read: Any = None


class _Ear(Watch):
    """Passes on what is told, and keeps what could not be read."""

    def __init__(self, to: Watch) -> None:
        self._to, self.watched = to, to.watched
        self.read: Any = None

    def was_read(self, session: Any, path: Path) -> None:  # noqa: ARG002 - who asked knows the path
        if any(note.unread for note in session.notes):
            self.read = type(session)(notes=session.notes)

    def doing(self, what: str) -> None:
        self._to.doing(what)

    def ahead(self, made: Any) -> None:
        self._to.ahead(made)


def far_work(asked: Task, watch: Watch) -> Made:
    """Unpack an order and do it.

    Returns:
        An :class:`Answer`, packed, under ``pictures``.

    Raises:
        InputError: this machine is made by something else, or sees something else, than the one who asks.
        MixlintError: as the work raises.
    """
    from mixlint.runs.alike import SHARE, check_alike
    from mixlint.runs.made_by import made_by, unlike

    machine = asked.arguments["machine"]
    order: Order = pickle.loads(asked.arguments["packed"])
    if differs := unlike(order.made_by, made_by()):
        raise InputError(f"{machine} has {differs}", where=str(asked.path), do="install the same on all machines")
    if order.near:
        if not os.path.isdir(order.near):
            told = f"{machine} does not see {order.near}, from which the paths of this run start"
            raise InputError(told, where=str(asked.path), do=SHARE)
        os.chdir(order.near)
    check_alike(order.marks, order.task.path, machine)
    ear = _Ear(watch)
    made = order.work(_with_workers(order.task, asked.arguments["threads"]), ear)
    return Made(pictures=pickle.dumps(Answer(made, ear.read)))


def _with_workers(task: Task, threads: int) -> Task:
    """The task with no more processes that measure audio than this machine has cores for each of its threads."""
    from mixlint.media.workers import cores

    number = max(1, cores() // max(1, threads))
    wanted = task.arguments.get("wanted")
    if wanted is None:
        return task._replace(arguments={**task.arguments, "workers": number})
    return task._replace(arguments={"wanted": wanted._replace(check={**wanted.check, "workers": number})})
