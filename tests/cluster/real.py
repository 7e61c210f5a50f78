"""A real cluster on this machine: a scheduler and four workers, each a process of its own."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


@contextmanager
def cluster_of(folder: Path, workers: int, **env: str) -> Iterator[str]:
    """A scheduler and its workers; gives the address.

    Args:
        folder: where the workers put what they put down.
        workers: how many.
        env: what else stands in their environment.
    """
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    address = f"tcp://127.0.0.1:{port}"
    surroundings = {**os.environ, "PYTHONPATH": str(ROOT), "MIXLINT_CACHE": str(folder / "cache"), **env}
    dask = [sys.executable, "-m", "dask"]
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, "env": surroundings, "cwd": folder}
    started = [
        subprocess.Popen(
            [*dask, "scheduler", "--host", "127.0.0.1", "--port", str(port), "--no-dashboard", "--no-show"], **quiet
        )
    ]
    if workers:
        started.append(
            subprocess.Popen(
                [*dask, "worker", address, "--nworkers", str(workers), "--nthreads", "1", "--no-dashboard",
                 "--memory-limit", "0", "--local-directory", str(folder / "workers")], **quiet
            )
        )  # fmt: skip
    try:
        wait_for(address, workers)
        yield address
    finally:
        for one in reversed(started):
            one.terminate()
        for one in started:
            try:
                one.wait(30)
            except subprocess.TimeoutExpired:
                one.kill()
                one.wait()


def wait_for(address: str, workers: int) -> None:
    """Wait until a scheduler has its workers."""
    from distributed import Client

    with Client(address, timeout=120, set_as_default=False) as client:
        if workers:
            client.wait_for_workers(workers, timeout=120)
