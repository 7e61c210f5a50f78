"""Many inputs, in processes that are watched: what dies or hangs is told with its seed."""

from __future__ import annotations

import gc
import multiprocessing
import multiprocessing.sharedctypes
import os
import resource
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from ctypes import c_longlong
from multiprocessing.connection import Connection, wait
from pathlib import Path
from typing import Any, Final

from tests.importers.fuzz.forms import chosen_form
from tests.importers.fuzz.trying import Outcome, attempt, prepare

BATCH: Final = 100
"""Inputs between two words of a process that reads them."""

SILENT_S: Final = 120.0
"""A process that is at one input for so long is ended: what hangs in a C library meets no clock of Python's."""

MOST_ADDRESSED: Final = 6 << 30
"""A net below all others: no input may take down the machine."""


class Tally:
    """What came of many inputs, by form."""

    def __init__(self) -> None:
        self.inputs: Counter[str] = Counter()
        self.outcomes: dict[str, Counter[str]] = {}
        self.seconds: Counter[str] = Counter()
        self.reviewed = 0
        self.faults: dict[str, list[tuple[str, int]]] = {}

    def add(self, form: str, seed: int, outcome: Outcome) -> str:
        """Count one; returns what is to be printed of a fault that is the first of its kind."""
        self.inputs[form] += 1
        self.outcomes.setdefault(form, Counter())[outcome.said] += 1
        self.seconds[form] += outcome.seconds  # type: ignore[assignment]
        self.reviewed += outcome.reviewed
        if not outcome.fault:
            return ""
        alike = self.faults.setdefault(f"{form}: {outcome.where}", [])
        alike.append((form, seed))
        if len(alike) > 1:
            return ""
        return f"FAULT --form {form} --seed {seed} --runs 1\n{outcome.fault}\n"

    @property
    def total(self) -> int:
        """How many inputs there were."""
        return sum(self.inputs.values())

    def said(self) -> Counter[str]:
        """What came of all of them."""
        return sum(self.outcomes.values(), Counter())

    def table(self) -> str:
        """A line a form: how many, how many of them for each second of processor time, and what came of them."""
        lines = [
            f"{form:10} {count:8} {count / max(self.seconds[form], 1e-9):7.0f}/s  {dict(self.outcomes[form])}"
            for form, count in sorted(self.inputs.items())
        ]
        lines += [f"{len(alike)} × {kind}, first by --form {alike[0][0]} --seed {alike[0][1]}"
                  for kind, alike in self.faults.items()]  # fmt: skip
        return "\n".join(lines)


def _work(seeds: range, form: str, at: Any, out: Connection) -> None:
    """What one process does."""
    resource.setrlimit(resource.RLIMIT_AS, (MOST_ADDRESSED, MOST_ADDRESSED))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    os.dup2(os.open(os.devnull, os.O_WRONLY), 2)  # libraries of C speak there
    with tempfile.TemporaryDirectory() as kept, tempfile.TemporaryDirectory() as folder:
        prepare(Path(kept))
        gc.freeze()
        found = []
        for number, seed in enumerate(seeds, 1):
            at.value = seed
            one = form or chosen_form(seed)
            found.append((one, seed, attempt(one, seed, Path(folder))))
            if len(found) == BATCH or number == len(seeds) or found[-1][2].fault:
                out.send(found)
                found = []
    out.close()


class _Worker:
    """A process that reads every so manyth seed."""

    def __init__(self, seeds: range, form: str) -> None:
        forking = multiprocessing.get_context("fork")
        self.seeds = seeds
        self.form = form
        self.at = multiprocessing.sharedctypes.RawValue(c_longlong, seeds.start)
        self.heard, out = forking.Pipe(duplex=False)
        self.process = forking.Process(target=_work, args=(seeds, form, self.at, out))
        self.process.start()
        out.close()
        self.seen, self.since = seeds.start, time.monotonic()

    def silent(self) -> bool:
        """Whether it has been at one input for too long."""
        if self.at.value != self.seen:
            self.seen, self.since = self.at.value, time.monotonic()
        return time.monotonic() - self.since > SILENT_S

    def held_mb(self) -> float:
        """The memory that it holds now; 0 when it has ended."""
        try:
            status = Path(f"/proc/{self.process.pid}/status").read_text(encoding="ascii")
        except OSError:
            return 0.0
        return int(status.partition("VmRSS:")[2].split()[0]) / 1024.0 if "VmRSS:" in status else 0.0

    def rest(self) -> range:
        """The seeds after the one that it died of."""
        return range(self.at.value + self.seeds.step, self.seeds.stop, self.seeds.step)


def _batches(workers: list[_Worker]) -> Iterator[list[tuple[str, int, Outcome]]]:
    """What all processes say, until the last has ended; one that dies is told and replaced."""
    while workers:
        ready = wait([one.heard for one in workers], timeout=5.0)
        for worker in list(workers):
            if worker.heard in ready:
                try:
                    yield worker.heard.recv()
                    continue
                except EOFError:
                    worker.process.join()
            elif worker.silent():
                worker.process.kill()
                worker.process.join()
            else:
                continue
            workers.remove(worker)
            if worker.process.exitcode:
                seed = worker.at.value
                form = worker.form or chosen_form(seed)
                why = f"the process ended with {worker.process.exitcode} (hung, or died in a library)"
                yield [(form, seed, Outcome("died", why, f"exit {worker.process.exitcode}"))]
                if worker.rest():
                    workers.append(_Worker(worker.rest(), worker.form))


def run_apart(runs: int, first: int, form: str = "", jobs: int = 1, every: int = 10_000) -> Tally:
    """Try many inputs in processes that are watched, and print how it goes."""
    tally, start, shown = Tally(), time.monotonic(), 0
    workers = [_Worker(range(first + job, first + runs, jobs), form) for job in range(min(jobs, runs))]
    for batch in _batches(workers):
        for one, seed, outcome in batch:
            if told := tally.add(one, seed, outcome):
                print(told, flush=True)
        if tally.total // every > shown:
            shown = tally.total // every
            rate = tally.total / (time.monotonic() - start)
            kinds = f"{len(tally.faults)} kinds of faults"
            print(
                f"{tally.total} inputs, {rate:.0f}/s, {dict(tally.said())}, {tally.reviewed} reviewed, {kinds}, "
                f"holding {max((one.held_mb() for one in workers), default=0.0):.0f} MB",
                flush=True,
            )
    return tally
