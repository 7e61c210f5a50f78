"""Whole commands on sessions of many sizes against a bare XML pass over the same file, in one run.

``python -m tests.benchmarks.bench_scale`` writes sessions of 10 to 3,000 tracks (20 groups, 20 returns, two sends and
four inserts a track, 200 points on each fader, 5 to 50 clips), edited bands of 500 to 5,001 clips a track, ridden
faders of up to 16,000 points, and tangles in which nearly all strips feed each other. For each it prints what
``convert`` and ``review`` take as ratios to a bare ``lxml`` ``iterparse`` of the file: processor time of the process
tree (``os.wait4``), and the peak of memory above the start over the size of the file. Then it prints with which
exponent both grow from one size to the next, the start taken off.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from collections.abc import Callable, Sequence
from math import log
from pathlib import Path
from typing import NamedTuple

from tests.benchmarks.scale_sessions import edited, ridden, studio, tangled

BARE = "import sys\nfrom lxml import etree\nfor _, one in etree.iterparse(sys.argv[1]): one.clear()"

SERIES: dict[str, tuple[Callable[[int], str], tuple[int, ...]]] = {
    "tracks": (studio, (10, 30, 100, 300, 1_000, 3_000)),
    "clips": (edited, (500, 1_000, 2_000, 5_001)),
    "points": (ridden, (1_000, 4_000, 16_000)),
    "tangle": (tangled, (100, 300, 999)),
}


class Used(NamedTuple):
    """What a command used: seconds of processor time, and the peak of its memory, MB."""

    cpu_s: float
    mb: float


def used(command: Sequence[str]) -> Used:
    """Run a command in silence and tell what its process tree used."""
    process = os.fork()
    if not process:
        silent = os.open(os.devnull, os.O_WRONLY)
        os.dup2(silent, 1)
        os.dup2(silent, 2)
        os.execv(command[0], list(command))
    _, _, usage = os.wait4(process, 0)
    return Used(usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024.0)


def commands(path: Path) -> dict[str, list[str]]:
    """The commands that are held against each other on one file."""
    mixlint = [sys.executable, "-m", "mixlint"]
    return {
        "bare": [sys.executable, "-c", BARE, str(path)],
        "convert": [*mixlint, "convert", str(path), "--out", str(path.with_suffix(".session.json")), "--force"],
        "review": [*mixlint, "review", "--no-audio", "--as", "json", str(path)],
    }


def main() -> None:
    """Print the ratios of each series and its exponents."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--most", type=int, default=20_000, help="the largest size of a series")
    parser.add_argument("--series", choices=[*SERIES], action="append")
    parser.add_argument("--rounds", type=int, default=1, help="the least of so many alternating runs counts")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        smallest = Path(folder) / "start.xml"
        smallest.write_text(studio(1, (1, 1), 1), encoding="utf-8")
        start = {what: used(command) for what, command in commands(smallest).items()}
        for series in options.series or SERIES:
            make, sizes = SERIES[series]
            print(f"{series:>8}      MB  bare s  convert  review   MB above start over the file's   exponents")
            before: dict[str, tuple[int, float]] = {}
            for size in (one for one in sizes if one <= options.most):
                path = Path(folder) / f"{series}-{size}.xml"
                path.write_text(make(size), encoding="utf-8")
                runs = [
                    {what: used(command) for what, command in commands(path).items()} for _ in range(options.rounds)
                ]
                found = {what: min(run[what] for run in runs) for what in runs[0]}
                mb, bare = path.stat().st_size / 1e6, found["bare"].cpu_s
                ratios = [found[what].cpu_s / bare for what in ("convert", "review")]
                memory = [(found[what].mb - start[what].mb) / mb for what in ("convert", "review")]
                grown = []
                for what in ("convert", "review"):
                    work = max(found[what].cpu_s - start[what].cpu_s, 1e-3)
                    if what in before:
                        last, then = before[what]
                        grown.append(f"{log(work / then) / log(size / last):.2f}")
                    before[what] = size, work
                print(
                    f"{size:8d} {mb:7.1f} {bare:7.2f} {ratios[0]:7.1f}x {ratios[1]:6.1f}x "
                    f"{memory[0]:14.1f} {memory[1]:6.1f} {' ' * 14} {' '.join(grown)}"
                )


if __name__ == "__main__":
    main()
