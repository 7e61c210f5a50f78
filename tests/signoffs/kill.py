"""Signers killed at random moments: ``python -m tests.signoffs.kill --runs 200``.

Each run begins with a file that holds two lines, starts a process that signs without end, kills it with SIGKILL after a
random time, and looks at what is left: every line that was there and every one that was reported as signed, in a file
that can be read; and after one more signature nothing else beside it. ``--at-once 200`` lets so many sign at the same
moment instead, and kills nobody.
"""

from __future__ import annotations

import argparse
import os
import random
import signal
import sys
import tempfile
import time
from itertools import count
from pathlib import Path
from typing import NamedTuple

from mixlint.runs.locks import Lock
from mixlint.runs.signing import add_signoff
from mixlint.signoffs.file import AREAS, read_signoffs
from tests.signoffs.signers import line, start_forks

AREA = {"return-fully-wet": AREAS[0]}


class Kills(NamedTuple):
    """What came of some runs.

    Args:
        runs: how many there were.
        signed: lines that were signed before the kills.
        inside: runs in which something in the making, or a lock, was left by the one that was killed.
        faults: what was lost or left for good, in words.
    """

    runs: int
    signed: int
    inside: int
    faults: tuple[str, ...]


def kills(folder: Path, runs: int, seed: int) -> Kills:
    """Kill signers at random moments.

    Args:
        folder: an empty folder.
        runs: how many to kill.
        seed: for the moments.
    """
    chance = random.Random(seed)
    signed = inside = 0
    faults: list[str] = []
    for run in range(runs):
        file = folder / f"run{run}.signed.txt"
        for who in ("RM", "TK"):
            add_signoff(file, lambda _, by=who: line(by), AREA)
        reads, writes = os.pipe()
        child = os.fork()
        if not child:
            try:
                for number in count():
                    add_signoff(file, lambda _, by=f"A{number}": line(by), AREA)
                    os.write(writes, b"x")
            finally:
                os._exit(1)
        os.close(writes)
        time.sleep(chance.uniform(0.0, 0.03))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        with os.fdopen(reads, "rb") as said:
            told = len(said.read())
        signed += told
        inside += any(name.startswith(".mixlint-") for name in os.listdir(folder))
        before = time.monotonic()
        add_signoff(file, lambda _: line("ZZ"), AREA)
        if time.monotonic() - before > 5.0:
            faults.append(f"run {run}: the next one waited for {time.monotonic() - before:.1f} s")
        there = {item.by for item in read_signoffs(file)}
        missing = {"RM", "TK", "ZZ", *(f"A{number}" for number in range(told))} - there
        if missing:
            faults.append(f"run {run}: lost {', '.join(sorted(missing))}")
        left = [name for name in os.listdir(folder) if name.startswith(".mixlint-")]
        if left:
            faults.append(f"run {run}: left {', '.join(left)}; the lock is {Lock(file).path.name}")
        file.unlink()
    return Kills(runs, signed, inside, tuple(faults))


def _at_once(people: int) -> int:
    """So many people sign at the same moment; says how many lines are there then, and how long it took."""
    with tempfile.TemporaryDirectory() as folder:
        file, gate = Path(folder) / "song.signed.txt", Path(folder) / "go"
        children = start_forks(file, people, gate)
        began = time.monotonic()
        gate.touch()
        failed = sum(os.waitpid(child, 0)[1] != 0 for child in children)
        took = time.monotonic() - began
        there = len(read_signoffs(file))
        left = [name for name in os.listdir(folder) if name.startswith(".mixlint-")]
    print(f"{people} signed in {took:.1f} s: {there} lines, {failed} failed, {len(left)} files left in the making.")
    return int(there != people or bool(failed) or bool(left))


def main() -> int:
    """The command."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--runs", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--at-once", type=int, default=0, help="so many sign at the same moment; nobody is killed")
    given = parser.parse_args()
    if given.at_once:
        return _at_once(given.at_once)
    with tempfile.TemporaryDirectory() as folder:
        found = kills(Path(folder), given.runs, given.seed)
    print(f"{found.runs} killed, {found.signed} lines signed before, {found.inside} left something in the making.")
    print(*(found.faults or ("Nothing was lost, and nothing was left.",)), sep="\n")
    return int(bool(found.faults))


if __name__ == "__main__":
    sys.exit(main())
