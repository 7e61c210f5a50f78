"""The process beside a worker of a cluster that has its sessions reviewed, each behind the usual guard.

A worker's own process may have no children of ``multiprocessing``, and lives for days, while a standard is edited and
mixlint is mended. So each of its threads starts one of these for a run; it ends with the worker, with the run, or when
nobody asks any more. It unpacks nothing that crosses, and so imports next to nothing: its child does both.
"""

from __future__ import annotations

import os
import pickle
import signal
import sys
from pathlib import Path
from typing import Final

from mixlint.errors import MixlintError
from mixlint.runs.each_apart import EachApart, Made, Task, own_fault
from mixlint.runs.far_work import Answer, Asked, far_work
from mixlint.runs.listening import Unwanted, Watch
from mixlint.runs.wire import Wire

IDLE_S: Final = 120.0
"""When a process that nobody asks anything ends, seconds."""


class _Telling(Watch):
    """Passes on what is told while a session is reviewed, and tells when nobody waits any more."""

    def __init__(self, wire: Wire, watched: bool) -> None:
        self._wire, self.watched = wire, watched

    def doing(self, what: str) -> None:
        self._wire.send("doing", what)

    def ahead(self, made: object) -> None:
        self._wire.send("ahead", made.model_dump_json())  # type: ignore[attr-defined]  # a SessionReview

    def unwanted(self) -> bool:
        return self._wire.ended


def main() -> None:
    """Have reviewed what is asked for until nobody asks any more."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # a worker that is stopped from the keyboard ends this by going away
    gives = os.fdopen(os.dup(1), "wb")
    os.dup2(os.open(os.devnull, os.O_RDWR), 1)
    wire = Wire(sys.stdin.buffer, gives)
    machine, threads = sys.argv[1], int(sys.argv[2])
    apart = None
    try:
        while came := wire.get(IDLE_S):
            asked = Asked(*came)
            if apart is None:
                apart = EachApart(asked.minutes, asked.memory, far_work)
            arguments = {"packed": asked.packed, "machine": f"the worker at {machine}", "threads": threads}
            task = Task(Path(asked.path), arguments, None)
            wire.send("told", _answer(task, apart, _Telling(wire, asked.watched)))
    except OSError:
        pass
    finally:
        if apart is not None:
            apart.stop()


def _answer(task: Task, apart: EachApart, watch: Watch) -> bytes:
    try:
        packed: bytes = apart.review(task, watch).pictures
    except MixlintError as fault:
        return pickle.dumps(Answer(Made(fault=fault)))
    except Unwanted:
        return b""
    except Exception as fault:  # noqa: BLE001 - a fault of mixlint's own, which may not cost the other sessions
        return pickle.dumps(Answer(Made(fault=own_fault(fault, task.path))))
    return packed


if __name__ == "__main__":
    main()
