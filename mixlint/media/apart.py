"""Work that a library does on a stranger's file, done in a process of its own with a bound on time, memory and answer.

What hangs is stopped, what takes too much memory fails, what prints says nothing to the user, and what is raised there
ends there. Started as a module of its own, not through a pool: a pool would run the caller's main module again, which
a script that reads one session does not guard.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from threading import Thread, Timer
from typing import Final, NamedTuple

MOST_SECONDS: Final = 120.0
"""How long such a process may take, seconds."""
MOST_MEMORY: Final = 2 << 30
"""How much address space it may have, bytes."""
MOST_ANSWER: Final = 128 << 20
"""How much it may answer, bytes."""


class Apart(NamedTuple):
    """What became of it.

    Args:
        answer: what it wrote to its standard output, empty unless ``ended`` is ``well``.
        ended: ``well``; ``late`` where it was stopped for its time; ``large`` where its answer was too long; ``badly``
            for any other end.
    """

    answer: bytes
    ended: str


def run_apart(
    module: str,
    arguments: Sequence[str],
    *,
    seconds: float = MOST_SECONDS,
    most_answer: int = MOST_ANSWER,
) -> Apart:
    """Run a module with this interpreter, and take what it writes to standard output.

    Args:
        module: its full name; its ``main`` runs as ``python -m`` runs it, and calls :func:`limit_memory` and
            :func:`end_with_caller` first.
        arguments: its arguments.
        seconds: when it is stopped.
        most_answer: how many bytes it may write.

    Raises:
        OSError: no process can be started.
    """
    # The folder it is called from is no place to import from (-P), and where this program lies has to be.
    home = str(Path(__file__).resolve().parents[2])
    places = os.pathsep.join(dict.fromkeys(place for place in (*sys.path, home) if place))
    process = subprocess.Popen(
        [sys.executable, "-P", "-m", module, *arguments],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": places},
    )
    late: list[bool] = []

    def stop() -> None:
        late.append(True)
        process.kill()

    timer = Timer(seconds, stop)
    timer.start()
    try:
        assert process.stdout is not None
        answer = process.stdout.read(most_answer + 1)
        if len(answer) > most_answer:
            return Apart(b"", "large")
        process.stdout.close()
        process.wait()
    finally:
        timer.cancel()
        if process.poll() is None:
            process.kill()
        process.wait()
        for stream in (process.stdin, process.stdout):
            if stream is not None:
                stream.close()
    if late:
        return Apart(b"", "late")
    return Apart(answer, "well") if process.returncode == 0 else Apart(b"", "badly")


def end_with_caller() -> None:
    """End when whoever started this process is gone, however he went: his end of its standard input is closed then."""

    def watch() -> None:
        with suppress(OSError):
            while os.read(0, 1):
                pass
        os._exit(1)

    Thread(target=watch, daemon=True).start()


def limit_memory(most: int = MOST_MEMORY) -> None:
    """Bound what this process may take, where the system can; elsewhere the time alone bounds it."""
    with suppress(ImportError, ValueError, OSError):
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (most, most))
