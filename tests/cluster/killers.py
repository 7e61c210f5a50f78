"""Sessions that bring the worker of a cluster down, as the process that reviews them may meet them."""

from __future__ import annotations

import os
import signal
import time
from pathlib import Path

from mixlint.runs.each_apart import Made, Task
from mixlint.runs.listening import Watch


def parent_of(process: int) -> int:
    """The process that started another."""
    return int(Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[1])


def task(asked: Task, watch: Watch) -> Made:
    """Do what the session's name says; each start is written down beside it."""
    with asked.path.with_suffix(".starts").open("a") as file:
        file.write(f"{os.getpid()}\n")
    if asked.path.stem == "killer":  # this process, its guard, the worker
        os.kill(parent_of(parent_of(os.getpid())), signal.SIGKILL)
        time.sleep(600)
    if asked.path.stem == "hang":
        time.sleep(600)
    if asked.path.stem.startswith("slow"):
        time.sleep(2)
    return Made(unfitted=(asked.path.stem,))
