"""What a worker of a cluster runs: it hands a session on to the process beside it, and its answer back.

Nothing that crosses is unpacked here, so that a worker needs no more of mixlint than this file.
"""

from __future__ import annotations

import os
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from threading import Lock, Thread, local
from typing import Any, Final

from mixlint.runs.made_by import MadeBy, made_by
from mixlint.runs.wire import Wire

_GLANCE_S: Final = 0.3
"""How often it is asked whether the task is still wanted, seconds."""
_PATIENCE_S: Final = 5.0
"""How long a process that is to end may take, seconds."""

_OWN: Final = local()
_ALL: Final[set[_Guard]] = set()
_LOCK: Final = Lock()


def far_versions() -> MadeBy:
    """By what a worker is made."""
    return made_by()


def far_review(run: str, topic: str, number: int, asked: tuple[Any, ...]) -> bytes:
    """Review a session in the process beside this one.

    Args:
        run: which run it belongs to.
        topic: where to tell what is being done; empty where nobody looks on.
        number: the task, as it is called there.
        asked: what makes a :class:`mixlint.runs.far_work.Asked`.

    Returns:
        A :class:`mixlint.runs.far_work.Answer`, packed.

    Raises:
        RuntimeError: the process ended, or nobody waits any more.
    """
    from distributed import get_worker

    worker: Any = get_worker()
    key = worker.get_current_task()
    guard = _guard(run, worker)
    try:
        guard.wire.send(*asked)
    except OSError:  # it had just ended, since nobody had asked
        guard.stop()
        guard = _guard(run, worker)
        guard.wire.send(*asked)
    while True:
        came = guard.wire.get(_GLANCE_S)
        if came is None:
            guard.stop()
            raise RuntimeError("the process beside the worker ended")
        if came and came[0] == "told":
            answer: bytes = came[1]
            return answer
        if came and topic:
            worker.log_event(topic, {"number": number, "kind": came[0], "what": came[1]})
        task = worker.state.tasks.get(key)
        if not came and (task is None or task.state == "cancelled"):
            guard.stop()
            raise RuntimeError("nobody waits for it any more")


def far_end(run: str) -> None:
    """End the processes of a run."""
    with _LOCK:
        due = [one for one in _ALL if one.run == run]
    for one in due:
        one.stop()


def _guard(run: str, worker: Any) -> _Guard:
    found: _Guard | None = getattr(_OWN, "guard", None)
    if found is None or found.run != run or found.wire.ended:
        if found is not None:
            found.stop()
        found = _OWN.guard = _Guard(run, str(worker.address), int(worker.state.nthreads))
    return found


class _Guard:
    """The process beside a thread of the worker, in one run."""

    def __init__(self, run: str, address: str, threads: int) -> None:
        self.run = run
        # The folder it is called from is no place to import from (-P), and where this program lies has to be.
        home = str(Path(__file__).resolve().parents[2])
        places = os.pathsep.join(dict.fromkeys(place for place in (*sys.path, home) if place))
        self._process = subprocess.Popen(
            [sys.executable, "-P", "-m", "mixlint.runs.far_guard", address, str(threads)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env={**os.environ, "PYTHONPATH": places, "PYTHONSAFEPATH": "1"},
        )
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self.wire = Wire(self._process.stdout, self._process.stdin)  # type: ignore[arg-type]  # both are binary
        with _LOCK:
            _ALL.add(self)

    def stop(self) -> None:
        """End it, without waiting here: a worker answers its scheduler meanwhile."""
        with _LOCK:
            _ALL.discard(self)
        with suppress(OSError):
            assert self._process.stdin is not None
            self._process.stdin.close()
        Thread(target=self._put_away, daemon=True).start()

    def _put_away(self) -> None:
        try:
            self._process.wait(_PATIENCE_S)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()
